package flow_test

import (
	"strings"
	"testing"

	"linetender/flow"
)

// Words about something else never move a vehicle to another ground or slope;
// words about where it stands do.
func TestWhatIsSaidOfSomethingElse(t *testing.T) {
	flow.Lone(t)
	for _, said := range []struct{ text, stands string }{
		{"ring in concrete, rated 10 t working", "ground wet grass"},
		{"2 degrees to the side", "slope 1 in 6"},
		{"a ring set in asphalt", "puller's ground gravel"},
		{"the tractor stands on sand", "puller's ground sand"},
		{"tractor is on wet grass", "puller's ground wet grass"},
		{"the ground is mud", "ground mud"},
		{"slope is 1 in 5", "slope 1 in 5"},
		{"one block WLL 8t, green one 2t, tree strap 5t", "weight 2.4 t = 5,290 lb"},
		{"eds coming w the loading shovel 14 t for an anchor", "weight 2.4 t = 5,290 lb"},
		{"anchor: another vehicle, loading shovel 14t, brakes on, on concrete", "weight 2.4 t = 5,290 lb"},
		{"anchor: another vehicle, loading shovel 14t, brakes on, on concrete", "ground wet grass"},
		{"anchor: another vehicle, loading shovel 14t, brakes on, on concrete", "wheels all turn"},
		{"it weighs 4 t", "weight 4 t = 8,820 lb"},
		{"the van is 4 t", "weight 4 t = 8,820 lb"},
	} {
		c := after(t, toPullersSlope[:7]...)
		c.say(said.text)
		if now := known(c); !strings.Contains(now, "\n"+said.stands+"\n") {
			t.Errorf("after %q not %q but\n%s", said.text, said.stands, now)
		}
	}
}
