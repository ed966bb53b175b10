package flow_test

import (
	"slices"

	"pgregory.net/rapid"

	"linetender/flow"
)

// unreadHeld holds a step to this: who left words unread that were not put back to them
// has confirmed no hold, settled no item as it should be and released nothing by it.
func unreadHeld(r *rapid.T, in flow.Input, what string, before, s *flow.Session) {
	if in.Tick != "" || before.Code != s.Code {
		return
	}
	for _, u := range before.Unread {
		if u.To == in.Person.ID {
			continue // it was put to them
		}
		mine, leads := u.By.ID == in.Person.ID, in.Person.ID == before.Lead.ID
		switch {
		case u.Place == "pull" && (mine || leads):
			for i, h := range s.Holds {
				was := flow.Hold{}
				if i < len(before.Holds) {
					was = before.Holds[i]
				}
				if mine && len(h.Sure) > len(was.Sure) && slices.ContainsFunc(h.Sure[len(was.Sure):], func(y flow.Sure) bool { return y.By.ID == in.Person.ID && y.Duty != "easing" }) {
					r.Fatalf("%q of %s confirms hold %d over %q, which was not put to them", what, in.Chat, h.Number, u.Text)
				}
				if leads && h.Released != "" && was.Released == "" && h.Released.Moves() {
					r.Fatalf("%q of %s releases hold %d over %q, which was not put to them", what, in.Chat, h.Number, u.Text)
				}
			}
		case u.Place == "list" && mine:
			for _, marks := range []struct{ was, is map[string]flow.Mark }{{before.Marks, s.Marks}, {before.Seconds, s.Seconds}} {
				for path, m := range marks.is {
					if m.By.ID == in.Person.ID && marks.was[path] != m && !flow.ItemFails(path, m.Value) {
						r.Fatalf("%q of %s makes %s %q over %q, which was not put to them", what, in.Chat, path, m.Value, u.Text)
					}
				}
			}
		}
	}
}
