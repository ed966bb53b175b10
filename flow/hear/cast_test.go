package hear

import "testing"

// Who is who among the vehicles of a message, where the words beside them say so.
func TestCast(t *testing.T) {
	for _, c := range []struct {
		known   string
		topic   Topic
		text    string
		has     map[string]string
		without []string
	}{
		{"", TopicPuller, "tractor 4.5t 4wd on gravel, level. eye on the van 5t wll", map[string]string{"puller.mass": "4.5t", "puller.driven": "1"}, nil},
		{"", TopicPuller, "tractor 4.5t, van 5t", nil, []string{"puller.mass", "load.mass"}}, // which is which is not said
		{"", TopicAnchor, "oak 60 cm alive and sound, 30 m up from the van", map[string]string{"anchors[+1].kind": "tree"}, []string{"anchors[+2].kind", "puller.kind"}},
		{"", TopicAnchor, "a 6 t truck parked behind the van", map[string]string{"anchors[+1].kind": "vehicle", "anchors[+1].mass": "6 t"}, []string{"anchors[+2].kind"}},
		{"tractor", "holding", "16mm polyester round the oak, held by hand with 3 turns, 4 of us", map[string]string{"crew": "4"}, []string{"puller.kind"}},
		{"", TopicPuller, "4 of us pulling by hand", map[string]string{"puller.kind": "people"}, nil},
	} {
		got := map[string]string{}
		for _, f := range (Known{Puller: c.known}).Listen(c.text, c.topic).Facts {
			got[f.Field] = f.Value
		}
		for field, want := range c.has {
			if got[field] != want {
				t.Errorf("%q: %s is %q, want %q", c.text, field, got[field], want)
			}
		}
		for _, field := range c.without {
			if v, ok := got[field]; ok {
				t.Errorf("%q: %s is %q, and nobody said so", c.text, field, v)
			}
		}
	}
}
