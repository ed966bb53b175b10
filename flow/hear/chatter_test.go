package hear

import "testing"

// TestChatter: what is said beside a yes and tells nothing is told from what may tell.
func TestChatter(t *testing.T) {
	for text, rest := range map[string]string{
		"ok done, bit muddy here": "ok done", "so it is, nice and steady": "so it is", "so it is, thanks Ada": "so it is", "done. the sun is out": "done", "ok, waiting": "ok",
		"foot off, brake on, nice view": "foot off, brake on", "so it is, slow but ok": "so it is, ok", "so it is. went really well": "so it is", "yes, cold hands": "yes",
		"good, my boots are full of mud": "good", "standing, engine running": "standing", "so it is, sorry was on the phone": "so it is", "yes, need a coffee": "yes",
		"brake's on, all fine, ready when you are": "brake's on, all fine", "so it is, what next": "so it is",
	} {
		if got, is := Chatter(text, []string{"Ada"}); !is || got != rest {
			t.Errorf("%q leaves %q, want %q", text, got, rest)
		}
	}
	for _, text := range []string{
		"so it is, brake squeaks", "so it is, puller dug in a bit", "so it is, wheel turned a bit", "so it is, i think", "it is muddy", "so it is, the way is muddy", "so it is, it is windy",
		"yes but the pedal feels soft", "so it is, cold rope", "so it is, slowly creeping", "engine stalled", "so it is, waiting for the sling to hold", "so it is, hands are stuck", "it's getting dark", "so it is, tired",
	} {
		if rest, is := Chatter(text, nil); is {
			t.Errorf("%q is read as %q and chatter", text, rest)
		}
	}
}
