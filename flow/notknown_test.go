package flow_test

import "testing"

// Whoever takes an answer back with "don't know" has none: the old one does not stand.
func TestNotKnownAnyMoreIsNotKnown(t *testing.T) {
	for change, path := range map[string]string{
		"distance": "distance", "lead": "lead", "hitch": "puller.hitch", "puller weight": "puller.mass", "reach": "reach",
	} {
		c := newChair(t)
		c.say("hello")
		c.standAt(texted{base: "job", topic: "puller.run"})
		if _, told := c.session().Sheet.Get(path); !told {
			t.Fatalf("%s is not told in the known job", path)
		}
		c.say("change " + change)
		c.say("don't know")
		if v, told := c.session().Sheet.Get(path); told {
			t.Errorf("%s taken back is still %q", path, v)
		}
	}
}

// A puller that is told anew as a whole, with another weight and not by its name, takes
// nothing of the old one along.
func TestPullerToldAnewIsAnother(t *testing.T) {
	for words, stays := range map[string]bool{
		"gizmo 2.1 t, 4wd, on level gravel":          false,
		"the tractor is 2.9 t, 4wd, on level gravel": true,
	} {
		c := newChair(t)
		c.say("hello")
		c.standAt(texted{base: "job", topic: "puller.run"})
		c.say("change puller")
		c.say(words)
		sheet := c.session().Sheet
		if _, told := sheet.Get("puller.hitch"); told != stays {
			t.Errorf("%q: the old one's hitch stands: %v, want %v", words, told, stays)
		}
		if v, _ := sheet.Get("puller.mass"); v == "3.1 t" {
			t.Errorf("%q: it still weighs %s", words, v)
		}
	}
}
