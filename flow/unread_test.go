package flow_test

import (
	"strings"
	"testing"
)

// TestUnreadDepthIsAskedAgain: an answer given again that can't be read leaves
// no better old one in its place.
func TestUnreadDepthIsAskedAgain(t *testing.T) {
	c := newChair(t)
	for _, text := range []string{"/start", "none", "2.4 t weighed", "10 deg", "grass, not sunk, all wheels turn", "uphill"} {
		c.say(text)
	}
	c.say("change ground")
	c.say("grass, some way deep at the back 10 cm, all wheels turn")
	sent := c.say("so far")
	var all []string
	for _, m := range sent {
		all = append(all, m.Text())
	}
	if text := strings.Join(all, "\n"); strings.Contains(text, "not sunk") {
		t.Errorf("the old depth stands: %s", text)
	}
}
