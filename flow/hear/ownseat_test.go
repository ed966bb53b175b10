package hear

import (
	"slices"
	"testing"
)

// TestTheDriverSitsInTheirSeat: whoever drives the puller and says that they sit in it
// is nobody inside the stuck vehicle; anybody else is, and so is whom they tell of.
func TestTheDriverSitsInTheirSeat(t *testing.T) {
	inside := func(k Known, text string) bool {
		return slices.ContainsFunc(k.Listen(text, TopicNone).Facts, func(f Fact) bool { return f.Field == "hazards" })
	}
	for text, want := range map[string]bool{
		"im in the seat behind glass window": false, "i am sat in the cab": false,
		"he is in the seat": true, "my lad is still in the cab": true, "im in the truck": true,
	} {
		if got := inside(Known{Drives: true}, text); got != want {
			t.Errorf("from the driver %q is somebody inside: %v, want %v", text, got, want)
		}
	}
	if !inside(Known{}, "im in the seat behind glass window") {
		t.Error("from anybody else it is somebody inside")
	}
}
