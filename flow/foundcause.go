package flow

import (
	"regexp"
	"slices"
	"strconv"
	"strings"

	"linetender/flow/hear"
	"linetender/flow/wording"
)

// A load that did not move is looked at, and something is found: the handbrake was on. That
// is kept as what likely held it, and whether its wheels turn is asked again. What the try
// taught counts all the same: how much of it was the handbrake nobody knows. It is laid
// aside only by whoever leads and a second one, each in their own words.

const (
	heldFound = "found:"      // before the place of a report that it was stuck: what was found to have held it
	heldAside = "laid_aside:" // before that and who wants it laid aside
)

// laidAside is the Topic of a DoUnreport of something that was so: what it did to the rig
// stays, and only what was learnt from it counts no more.
const laidAside = "laid-aside"

// stuckAt returns the last report that the load was stuck, of those that taught something.
func (t *turn) stuckAt() (int, bool) {
	for i := range slices.Backward(t.s.Reports) {
		if t.s.Reports[i].Kind == "stuck" && t.s.Held[learntHeld+itoa(i)] != "" {
			return i, true
		}
	}
	return 0, false
}

// findsIn reports whether somebody on the spot speaks in a pull that stands.
func (t *turn) findsIn() bool {
	m := t.me()
	if t.in.Press != nil || m == nil || m.afar() || !t.s.Stage.Lies() || t.s.Stage.Moves() {
		return false
	}
	switch t.s.State {
	case Halted, Debrief, Closed, Away:
		return false
	}
	return !t.main() || t.s.Topic != "wheels" && t.s.Topic != "ground"
}

// foundTold takes what was found to have held a load that was stuck.
func (t *turn) foundTold(text string) bool {
	if !t.findsIn() || !hear.Found(text) {
		return false
	}
	at, ok := t.stuckAt()
	if s, seen := t.sight(text); !ok || seen && s.stops {
		return false
	}
	t.note(text)
	t.act(Act{Do: DoHold, Path: heldFound + itoa(at), Value: wording.Plain(text)})
	t.act(Act{Do: DoAgain, Topic: "wheels", Reason: t.saying(wording.StaleFound)})
	who := t.whoName()
	t.tellAllAndHere(false, func() {
		t.say(wording.PullFound, wording.Args{"Name": who, "Text": wording.Plain(text)})
		t.say(wording.PullFoundCounts, nil)
	})
	t.inChat(t.s.leadChat(), t.replan)
	if t.in.Chat != t.s.leadChat() {
		t.ask()
	}
	return true
}

// layAside are words that a try is laid aside, with who agrees.
var layAside = regexp.MustCompile(`^(?:please |ok |okay |yes |we |i )*lay (?:that|the|this|the last) (?:try|pull) aside(?:[, ]+(?:and )?(\pL[\pL'-]*) (?:agrees|agreed|saw it|looked|says so)(?: too| as well)?)?$`)

// laysAside takes them. Two have to say so, one of whom leads; of somebody without a phone
// whoever leads says it.
func (t *turn) laysAside(text string) bool {
	m := layAside.FindStringSubmatch(hear.Lowered(strings.Trim(text, " .!")))
	if m == nil || !t.findsIn() {
		return false
	}
	t.note(text)
	at, ok := t.stuckAt()
	found := t.s.Held[heldFound+itoa(at)]
	if !ok || found == "" {
		t.remark(wording.PullLayNone, nil)
		return true
	}
	t.act(Act{Do: DoHold, Path: heldAside + itoa(at) + ":" + t.in.Person.ID, Value: t.whoName()})
	var names wording.Names
	lead := false
	for _, p := range t.s.present(AsLead, AsCrew) {
		if name := t.s.Held[heldAside+itoa(at)+":"+p.ID]; name != "" {
			names, lead = append(names, name), lead || p.ID == t.s.Lead.ID
		}
	}
	if m[1] != "" && t.isLead() {
		if name, ok := t.phonelessNamed(m[1]); ok && !slices.Contains(names, name) {
			names = append(names, name)
		}
	}
	if len(names) < 2 || !lead {
		t.remark(wording.PullLayOne, wording.Args{"Name": t.whoName()})
		return true
	}
	t.act(Act{Do: DoUnreport, Path: strconv.Itoa(at), Value: wording.Plain(text), Topic: laidAside})
	t.tellAllAndHere(false, func() { t.say(wording.PullLaidAside, wording.Args{"Names": names, "Text": found}) })
	if t.s.State == Referred {
		t.fire(Reopens)
	}
	t.inChat(t.s.leadChat(), t.replan)
	if t.in.Chat != t.s.leadChat() {
		t.ask()
	}
	return true
}

// phonelessNamed returns who of the crew, without a phone, is called so.
func (t *turn) phonelessNamed(word string) (string, bool) {
	seat := t.seatNamed(word)
	if seat == nil || seat.Name == "" || t.s.phone(*seat) != nil || sameName(seat.Name, t.s.Lead.Name) {
		return "", false
	}
	return seat.Name, true
}
