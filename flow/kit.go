package flow

import (
	"slices"
	"strings"

	"linetender/flow/wording"
)

// kit is what this turn keeps, as the chat's stream has it.
func (t *turn) kit() []Fact {
	for _, a := range t.kept {
		if a.Do == DoKit {
			return t.gearFacts()
		}
	}
	return nil
}

// ofThisJob are the fields of a piece that no kit keeps.
var ofThisJob = []string{"use", "condition", "knots", "sling_angle", "sling_hitch", "side_angle", "improvised"}

// gearFacts is what is stamped on the crew's gear. How it was used in this
// job, and in what state it was, is of this job only.
func (t *turn) gearFacts() []Fact {
	var out []Fact
	for i := range t.s.Sheet.Gear {
		for _, f := range stampedOn(t.s, i) {
			out = append(out, Fact{Path: "gear[" + itoa(i) + "]." + f.Path, Value: f.Value})
		}
	}
	return out
}

// stampedOn is that of one piece, by the names of its fields.
func stampedOn(s *Session, i int) []Fact {
	var out []Fact
	for _, f := range gearFields {
		if slices.Contains(ofThisJob, f) {
			continue
		}
		if v, ok := s.Sheet.Get("gear[" + itoa(i) + "]." + f); ok {
			out = append(out, Fact{Path: f, Value: v})
		}
	}
	return out
}

// saveKit keeps the gear of this job under a name.
func (t *turn) saveKit(name string) {
	name = strings.ToLower(wording.Plain(name))
	if len(t.s.Sheet.Gear) == 0 {
		t.remark(wording.ReadKitNone, nil)
		return
	}
	if name == "" || len(name) > 30 {
		t.act(Act{Do: DoHold, Path: "kit_from", Value: string(t.s.State) + " " + t.s.Topic})
		if t.s.State != AtGear {
			t.fire(NeedGear)
		}
		t.act(Act{Do: DoAsk, Topic: "kit_name"})
		t.ask()
		return
	}
	t.kept = append(t.kept, Act{Do: DoKit, Value: name})
	t.say(wording.ReadKitKept, wording.Args{"Name": name})
	if t.s.Topic != "kit_name" {
		t.ask()
		return
	}
	t.settle("kit_name", Told)
	t.next()
}

// kitWord takes up a kept kit by its name.
func (t *turn) kitWord(name string) {
	name = strings.ToLower(wording.Plain(name))
	if len(t.chat.order) == 0 {
		t.remark(wording.ReadKitNone, nil)
		return
	}
	if name == "" && len(t.chat.order) == 1 {
		name = t.chat.order[0]
	}
	if _, ok := t.chat.kits[name]; !ok {
		t.remark(wording.ReadKitUnknown, wording.Args{"Name": name, "Names": wording.Names(t.chat.order)})
		return
	}
	t.useKit(name)
}

// same takes the gear of the kit that was kept last.
func (t *turn) same() {
	if len(t.chat.order) == 0 && len(t.lastGear()) > 0 && t.s.State == AtGear {
		t.useKit(lastKit)
		return
	}
	if len(t.chat.order) == 0 || t.s.State != AtGear && t.s.State != Amend {
		t.remark(wording.ReadSameNone, nil)
		return
	}
	t.useKit(t.chat.order[len(t.chat.order)-1])
}

// useKit shows a kit and asks whether it is still so: what was stamped does
// not change, but pieces go missing and are overloaded.
func (t *turn) useKit(name string) {
	if t.hub() || t.s.State == Signing || t.s.State == Checks || !t.s.Figured {
		t.remark(wording.RefuseNotHere, nil)
		return
	}
	var pieces wording.Names
	last := ""
	for _, f := range t.kitOf(name) {
		piece, field, _ := strings.Cut(f.Path, ".")
		if piece != last {
			pieces, last = append(pieces, ""), piece
		}
		at := len(pieces) - 1
		word := t.detail(f.Path, f.Value)
		if field == "kind" || pieces[at] == "" {
			pieces[at] = word
		} else {
			pieces[at] += " " + word
		}
	}
	t.say(wording.ReadKit, wording.Args{"Name": name, "Names": pieces})
	t.act(Act{Do: DoHold, Path: "kit", Value: name})
	t.to("kit_check", AtGear)
}

// kitLooked takes the gear of the kit, looked over, or has it read anew.
func (t *turn) kitLooked(yes bool) {
	name := t.s.Held["kit"]
	t.act(Act{Do: DoHold, Path: "kit"})
	t.act(Act{Do: DoReopen, Topic: "kit_check"})
	if !yes {
		t.to("gear", AtGear)
		return
	}
	if len(t.s.Sheet.Gear) > 0 {
		t.thinsBad("gear", func(int) bool { return false })
		t.act(Act{Do: DoSet, Path: "gear", How: FromKit})
	}
	var changes []change
	for _, f := range t.kitOf(name) {
		changes = append(changes, change{set: set{f.Path, f.Value}, how: FromKit})
	}
	t.put(changes)
	for _, tp := range []string{"gear", "rope", "block", "shackle", "sling"} {
		if t.s.Settled[tp] == "" && (tp == "gear" || t.hasKind(tp)) {
			t.settle(tp, FromKit)
		}
	}
	t.next()
}

func (t *turn) hasKind(kind string) bool {
	for _, g := range t.s.Sheet.Gear {
		if g.Kind == kind {
			return true
		}
	}
	return false
}
