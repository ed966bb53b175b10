package hear

import (
	"strings"
	"testing"
)

// TestHowFarItMovedIsNoMeasure: how far an anchor moved is not how thick it is.
func TestHowFarItMovedIsNoMeasure(t *testing.T) {
	for _, text := range []string{"root plate of the oak moved 2 inch", "tree moved 2 in", "anchor tree moved 5 cm", "the oak has come up 3 cm, lifted 3 cm", "oak leans 5 cm"} {
		for _, topic := range []Topic{TopicNone, "anchors[0].diameter"} {
			for _, f := range Listen(text, topic).Facts {
				if strings.HasSuffix(f.Field, "diameter") {
					t.Errorf("%q at %q is read as %+v", text, topic, f)
				}
			}
		}
	}
	for _, text := range []string{"oak 50 cm", "tree is 20 inch", "moved to the oak, 60 cm thick"} {
		found := false
		for _, f := range Listen(text, TopicNone).Facts {
			found = found || strings.HasSuffix(f.Field, "diameter")
		}
		if !found {
			t.Errorf("%q has no thickness", text)
		}
	}
}
