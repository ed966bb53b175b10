package hear

import "testing"

// TestDepth: a depth is read in any unit of length, on the side of more pull,
// and from nothing that is no depth of the wheels.
func TestDepth(t *testing.T) {
	for _, tc := range []struct {
		topic Topic
		text  string
		want  string // of load.sunk
	}{
		{TopicSunk, "sunk 30 cm", "fender"},
		{TopicSunk, "about a foot deep", "fender"},
		{TopicSunk, "12 inches", "fender"},
		{TopicSunk, "20cm", "hub"},
		{TopicSunk, "about 22 cm", "fender"}, // a quarter more
		{TopicSunk, "0,2 m", "hub"},
		{TopicSunk, "half a foot", "hub"},
		{TopicSunk, "8-10 inches", "fender"}, // over a quarter of a metre
		{TopicSunk, "2 ft", "cab"},
		{TopicSunk, "up to 25 cm", "hub"},
		{TopicSunk, "front 10 cm, back 40 cm", "fender"},
		{TopicSunk, "hubs at the front, over the wheels at the back", "fender"},
		{TopicSunk, "half the wheel", "hub"},
		{TopicSunk, "three quarters of the wheel", "fender"},
		{TopicSunk, "up to the axle", "hub"},
		{TopicSunk, "over the axle", "fender"},
		{TopicSunk, "in to the hubs", "hub"},
		{TopicSunk, "mud over the rims", "fender"},
		{TopicSunk, "down to the chassis", "fender"},
		{TopicSunk, "knee deep", "fender"},
		{TopicSunk, "0 cm", "none"},
		{TopicSunk, "sunk 5 cm", "none"},
		{TopicSunk, "about 8 cm", "none"},
		{TopicSunk, "about 9 cm", "hub"}, // a quarter more
		{TopicSunk, "2 inches, 5 inches at the back", "hub"},
		{TopicGround, "mud about a foot deep", "fender"},
		{TopicGround, "mud, 20cm, wheels turn", "hub"},
		{TopicGround, "wet grass, sunk in 4 inches", "hub"},
		{TopicGround, "ruts a foot deep, wet grass", "fender"},
		{TopicNone, "2.4 t van in mud sunk 40cm on a 5 degree slope", "fender"},
		{TopicMass, "2.4 t and sunk 1 foot", "fender"},

		{TopicSunk, "30", ""},
		{TopicSunk, "over a foot", ""},
		{TopicSunk, "not 30 cm", ""},
		{TopicGround, "it's in a ditch 1 m deep", ""},
		{TopicGround, "snow 30 cm deep", ""},
		{TopicGround, "gravel, 10 m from the road", ""},
		{TopicPuller, "tractor 5t on mud, the mud is 10 cm deep there", ""},
		{TopicAnchor, "log buried 1 m deep, 2 m long", ""},
		{TopicLip, "20 cm", ""},
		{TopicDistance, "2 m", ""},
		{TopicHitchHeight, "40 cm", ""},
	} {
		got := ""
		for _, f := range Listen(tc.text, tc.topic).Facts {
			if f.Field == "load.sunk" {
				got = f.Value
				if said := f.Taken; said && got == "hub" {
					t.Errorf("%q: the careful depth is told though it is the least", tc.text)
				}
			}
		}
		if got != tc.want {
			t.Errorf("after %q, %q is sunk %q, want %q", tc.topic, tc.text, got, tc.want)
		}
	}
}
