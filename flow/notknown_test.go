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
