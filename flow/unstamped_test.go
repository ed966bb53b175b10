package flow_test

import "testing"

// TestUnreadableStampTakesTheRatingAway: whoever tells that the winch's plate can't be read
// takes its rating away, at whatever question; a figure of another piece beside it doesn't.
func TestUnreadableStampTakesTheRatingAway(t *testing.T) {
	for words, gone := range map[string]bool{
		"wait i looked again at the hoist, the tag you cant read at all, its faded": true,
		"the hoist's plate is rusted away":                                          true,
		"can't see any stamp on the winch":                                          true,
		"hoist isnt marked after all":                                               true,
		"the 3 t on the hoist is painted over":                                      true,
		"couldnt make out what the hoist is rated, its plate is unreadable":         true,
		"the plate on the hoist isnt faded":                                         false,
		"can you read the plate on the hoist?":                                      false,
	} {
		c := newChair(t)
		for _, said := range []string{"/start", "none", "4.1 t off the plate", "5 degrees uphill by level", "wet grass, not sunk, all wheels turn", "uphill", "hand chain hoist stamped 3 t working, on gravel, level"} {
			c.say(said)
		}
		if p := c.session().Sheet.Puller; p == nil || p.Rating == "" {
			t.Fatal("the hoist has no rating before")
		}
		out := said(c.say(words))
		p := c.session().Sheet.Puller
		if kind := p.RatingKind; gone != (kind == "unmarked" && p.Rating == "") {
			t.Errorf("after %q the rating is %v: %s", words, p.Rating, out)
		}
	}
}
