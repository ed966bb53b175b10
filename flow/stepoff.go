package flow

import (
	"regexp"
	"slices"
	"strings"

	"linetender/flow/wording"
)

// Who is off to fetch something has not left the crew, and is at no post
// either. Until they take it on again it is open, and an open post holds the
// pull; nobody else is put there for it.

const (
	offWays = `(?:just |quickly |now )*(?:off|away|out|nipping|popping|heading|going|running|driving|walking|gone|nipped|popped|went|headed)(?: off| over| back| down| up| out| round| quickly| away)*`
	offGet  = `(?:to|and) (?:get|fetch|grab|find|look for|pick up|bring|borrow|collect|buy)\b`
	offWhy  = `(?:(?:to|and) (?:get|fetch|grab|find|look for|pick|bring|borrow|collect|buy|call|ring|have|the \w+|his|her|their|my)|for (?:a|an|the|some|more|two|five|ten|\d+))\b`
)

var (
	stepOff  = regexp.MustCompile(`^(?:(?:ok|right|sorry|hang on|just|now|so)[ ,]+)*(?:(?:i ?'?m|i am|i'll be|i) ` + offWays + ` ` + offWhy + `|` + offWays + ` ` + offGet + `|(?:nipping|popping) (?:back|over|to|out)\b)`)
	steppedO = regexp.MustCompile(`^(?:(?:ok|right|sorry|now|so)[ ,]+)*([^,;.]+?)(?: is| has|'s)? ` + offWays + ` ` + offWhy)
	backNow  = regexp.MustCompile(`^(?:(?:ok|right|so)[ ,]+)*(?:(?:i ?'?m|i am) back|back (?:now|here|again|with)|i have returned)\b`)
)

// stepsOff takes that somebody with a part is off for a while, told by them or
// of them by another of the crew.
func (t *turn) stepsOff(low string) bool {
	if me := t.me(); me == nil || me.afar() || t.s.State == Halted || t.s.State == Away || t.s.State == Closed || t.s.Stage == PullOver || len(t.s.Seats) == 0 {
		return false
	}
	var seat *Seat
	if stepOff.MatchString(low) {
		if t.s.State == Pulling && t.s.tight() {
			return false // they are told to stay
		}
		seat = t.s.seatOf(t.in.Person.ID)
		if seat == nil && t.s.alone() {
			seat = t.seatNamed(t.s.Lead.Name)
		}
	} else if m := steppedO.FindStringSubmatch(low); m != nil {
		if seat = t.seatNamed(m[1]); seat == nil {
			seat = t.seatNamed(strings.TrimSuffix(m[1], "s")) // bos off to get it
		}
	}
	if seat == nil {
		return false
	}
	gone := *seat
	t.note(t.in.Text)
	if t.s.alone() {
		t.personChanged()
		t.say(wording.SeatOffAlone, wording.Args{"Name": gone.Name})
		t.goOn()
		return true
	}
	var parts wording.Names
	for _, s := range slices.Clone(t.s.Seats) {
		if s.Name == gone.Name {
			parts = append(parts, t.role(s))
			t.act(Act{Do: DoSeat, Topic: s.Post.Does, Path: s.Post.Role, Value: s.Name, Second: s.Member})
		}
	}
	say := func() { t.say(wording.SeatOff, wording.Args{"Name": gone.Name, "Names": parts}) }
	say()
	t.toLead(say)
	t.goOn()
	return true
}
