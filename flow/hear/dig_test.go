package hear

import "testing"

func TestDug(t *testing.T) {
	for _, tc := range []struct {
		text   string
		topic  Topic
		sunk   string
		act    Act
		locked string
	}{
		{"dug out", TopicAnchor, "none", None, ""},
		{"dug the wheels free", TopicPullerSlope, "none", None, ""},
		{"we've dug it all out now", TopicNone, "none", None, ""},
		{"dug her out, wheels all turn", TopicGround, "none", None, "0"},
		{"its dug out", TopicMass, "none", None, ""},
		{"wheels are dug free", TopicNone, "none", None, ""},
		{"cleared the mud from the wheels", TopicNone, "none", None, ""},
		{"shovelled it clear", TopicGear, "none", None, ""},
		{"dug it down to 10 cm", TopicNone, "none", None, ""},
		{"dug it down to 40 cm", TopicNone, "fender", None, ""},
		{"dug down to 8 inches", TopicRope, "hub", None, ""},
		{"dug it down to the hubs", TopicNone, "hub", None, ""},
		{"dug the front wheels free", TopicNone, "", Change, ""},
		{"dug two of the wheels free", TopicNone, "", Change, ""},
		{"half dug out", TopicNone, "", Change, ""},
		{"dug out one wheel", TopicNone, "", Change, ""},
		// What was not done, or is another digging, changes nothing.
		{"not dug out yet", TopicNone, "", None, ""},
		{"we'll dig it out", TopicNone, "", None, ""},
		{"it needs to be dug out", TopicNone, "", None, ""},
		{"can it be dug out?", TopicNone, "", None, ""},
		{"once dug out it should roll", TopicNone, "", None, ""},
		{"dug out a hole for the log", TopicAnchor, "", None, ""},
		{"we dug the puller out", TopicPuller, "", None, ""},
		{"dug him out", TopicPeople, "", None, ""},
	} {
		h := Listen(tc.text, tc.topic)
		got := map[string]string{}
		for _, f := range h.Facts {
			got[f.Field] = f.Value
		}
		act := h.Act
		if act != Change {
			act = None
		}
		if got["load.sunk"] != tc.sunk || act != tc.act || got["load.locked"] != tc.locked {
			t.Errorf("%q at %q is %v with %v, want %v, sunk %q and locked %q", tc.text, tc.topic, h.Act, got, tc.act, tc.sunk, tc.locked)
		}
		if tc.act == Change && h.Object != string(TopicSunk) {
			t.Errorf("%q asks for %q", tc.text, h.Object)
		}
	}
}

// A machine that goes by the puller's name is not the one that is stuck.
func TestDugPuller(t *testing.T) {
	for _, f := range (Known{Puller: "tractor"}).Listen("dug the tractor out", TopicGround).Facts {
		if f.Field == "load.sunk" {
			t.Errorf("the puller dug out is the load at depth %s", f.Value)
		}
	}
}
