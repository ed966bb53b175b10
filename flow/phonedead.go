package flow

import (
	"regexp"

	"linetender/flow/hear"
	"linetender/flow/wording"
)

// A phone that is flat or silent, told where everything stands, is no signal that is lost in
// a pull: it stays held, and whoever leads reads how others answer for who had it. While the
// puller moves it is a signal lost, as ever.

// phoneDead are words that somebody's phone is of no use, or that they don't answer; the
// first group that holds is who.
var phoneDead = regexp.MustCompile(`^(?:(?:hey|ok|okay|and|but|now|sorry|oh|well)[ ,]+)*(?:(\pL[\pL-]*?)'?s? (?:phone|mobile|cell|battery|telephone)(?: battery)?(?:'s|(?: (?:is|has|was|went|just|now|gone|seems|looks))*) ?(?:dead|flat|empty|died|off|out|broken|silent|gone|run out|ran out|out of (?:battery|charge|juice)|not working)` +
	`|(\pL[\pL-]*) (?:is|does|has|did|doesn't|isn't|hasn't|didn't|won't)(?: not)? (?:answer|answered|answering|reply|replied|replying|respond|responding))(?: (?:now|any more|anymore|at all|on (?:his|her|the) phone))*$`)

// phoneIsDead takes such words at a hold point.
func (t *turn) phoneIsDead(text, low string) bool {
	m := t.me()
	if m == nil || m.afar() || t.s.State != Pulling || t.s.hold() == nil {
		return false
	}
	f := phoneDead.FindStringSubmatch(low)
	if f == nil {
		return false
	}
	seat := t.seatNamed(hear.Lowered(f[1] + f[2]))
	if seat == nil || t.s.phone(*seat) == nil || sameName(seat.Name, t.s.Lead.Name) {
		return false
	}
	t.note(text)
	t.holdsOn()
	names := wording.Names{seat.Name}
	if !t.isLead() {
		t.toLead(func() { t.say(wording.JoinSays, wording.Args{"Name": t.whoName(), "Text": wording.Plain(text)}) })
	}
	t.inChat(t.s.leadChat(), func() { t.sayWays(names) })
	t.ask()
	return true
}
