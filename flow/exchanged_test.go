package flow_test

import (
	"testing"

	"linetender/flow"
)

// A piece that is exchanged keeps nothing of the old one, and one that is thrown out is
// off the list, however it is named; of one of several nothing better is taken for all.
func TestExchanged(t *testing.T) {
	flow.Lone(t)
	for _, w := range []struct {
		topic, text, then string
		want              map[string]string
	}{
		{"gear_sound", "the block is cracked. chuck that one", "", map[string]string{"gear[1].kind": "shackle", "gear[2].kind": ""}},
		{"gear[1].condition", "chuck that one", "", map[string]string{"gear[1].kind": "shackle", "gear[2].kind": ""}},
		{"gear", "ditch that one", "block", map[string]string{"gear[1].kind": "shackle", "gear[2].kind": ""}},
		{"gear_sound", "swapped the block for a spare 3.25t one", "", map[string]string{"gear[1].rating": "3.25t", "gear[1].rating_kind": ""}},
		{"gear", "swapped it for a spare 3.25t one", "the block", map[string]string{"gear[1].rating": "3.25t", "gear[1].rating_kind": "", "gear[2].rating": "3.25 t"}},
		{"gear[1].rating", "swapped it for a spare 3.25t one", "", map[string]string{"gear[1].rating": "3.25t", "gear[1].rating_kind": ""}},
		{"gear_sound", "one shackle is bent, swapped it for a spare 4.75t one", "", map[string]string{"gear[2].rating": "3.25 t", "gear[2].condition": "damaged"}},
		{"gear_sound", "the hose is cracked so chuck it", "", map[string]string{"gear[0].kind": "rope", "gear[1].kind": "block", "gear[2].kind": "shackle"}},
		{"gear_sound", "should i chuck that one?", "", map[string]string{"gear[0].kind": "rope", "gear[1].kind": "block", "gear[2].kind": "shackle"}},
	} {
		c, _ := asksAt(t, w.topic, w.text)
		if w.then != "" {
			c.say(w.then)
		}
		for path, want := range w.want {
			if got, _ := c.session().Sheet.Get(path); got != want {
				t.Errorf("at %s, %q: %s is %q, want %q", w.topic, w.text, path, got, want)
			}
		}
	}
}
