package flow

import (
	"slices"
	"strings"

	"linetender/flow/hear"
	"linetender/flow/wording"
)

// lowering tells plainly, up to the plan, that a load which is let down on a line by what
// stands above it is no haul: what can be planned of it, and what can't. The way and the
// puller that such a message tells are not taken, since a plan that hauls would be made of
// them; what else it tells is. It reports whether nothing is left to be heard.
func (t *turn) lowering(h *hear.Heard) bool {
	if t.s.State == Pulling || t.s.State == Debrief || !hear.Lowers(t.in.Text) {
		return false
	}
	h.Facts = slices.DeleteFunc(slices.Clone(h.Facts), func(f hear.Fact) bool {
		return f.Field == "load.pull" || strings.HasPrefix(f.Field, "puller.")
	})
	h.Rest, h.Named = "", false
	t.say(wording.RefuseLowering, nil)
	return len(h.Facts) == 0 && len(h.Cleared) == 0
}
