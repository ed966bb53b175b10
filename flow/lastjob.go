package flow

import (
	"regexp"
	"slices"
	"strings"

	"linetender/flow/wording"
)

// Who begins another job with the same people and the same gear need not write them
// all again: what the chat's last job says of them is offered. It is read from that
// job each time, so that what was taken out there is kept nowhere else. The parts are
// given out and taken on anew, and the gear is looked over as a kit's is; what the last
// job left to be laid apart is not offered.

// lastKit is what the gear of the last job goes by.
const lastKit = "last job"

// lastJob is the job that the chat was in before, led by whoever leads now; nil for none.
func (t *turn) lastJob() *Session {
	if t.lastRead || t.log == nil || t.s == nil || t.s.Stage.Lies() {
		return t.last
	}
	t.lastRead = true
	for _, code := range slices.Backward(t.chat.jobs) {
		if code == t.s.Code {
			continue
		}
		if s, err := t.e.load(t.log, code); err == nil && s.Lead.ID == t.s.Lead.ID && s.State == Closed {
			t.last = s // one that can't be read, or was not ended, offers nothing
		}
		break
	}
	return t.last
}

// crewAgain are the people of the last job, where as many are here now.
func (t *turn) crewAgain() []string {
	last := t.lastJob()
	if last == nil || len(last.Crew) < 2 || len(last.Crew) != t.people() || slices.ContainsFunc(last.Crew, t.unfit) {
		return nil
	}
	return last.Crew
}

// lastGear is what is stamped on the gear of the last job, without what it left to be
// laid apart.
func (t *turn) lastGear() []Fact {
	last := t.lastJob()
	if last == nil {
		return nil
	}
	var out []Fact
	n := 0
	for i, g := range last.Sheet.Gear {
		if last.laidOne(g) {
			continue
		}
		for _, f := range stampedOn(last, i) {
			out = append(out, Fact{Path: "gear[" + itoa(n) + "]." + f.Path, Value: f.Value})
		}
		n++
	}
	return out
}

// kitOf is a kept kit, or the gear of the last job.
func (t *turn) kitOf(name string) []Fact {
	if name == lastKit {
		return t.lastGear()
	}
	return t.chat.kits[name]
}

// againOffers are the buttons of a question that what the last job says can answer.
func (t *turn) againOffers(tp topic) []offer {
	switch {
	case tp.name == "names" && len(t.crewAgain()) > 0:
		return []offer{{choice: "same_crew"}}
	case tp.name == "gear" && len(t.s.Sheet.Gear) == 0 && t.s.Figured && len(t.lastGear()) > 0:
		return []offer{{choice: "same_gear"}}
	}
	return nil
}

// takesAgain takes one of them.
func (t *turn) takesAgain(choice string) {
	if choice == "same_gear" {
		t.useKit(lastKit)
		return
	}
	names := t.crewAgain()
	t.say(wording.CrewAgain, wording.Args{"Names": wording.Names(names)})
	t.names(strings.Join(names, ", "))
}

// sameCrew are words that they are the people of the last job.
var sameCrew = regexp.MustCompile(`(?i)^\W*(?:the )?(?:same|usual)(?: (?:crew|people|lot|names|team|ones|as (?:before|last time|last job|yesterday)|again))*\W*$`)
