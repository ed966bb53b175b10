package flow

import (
	"strings"
	"testing"

	"linetender/flow/wording"
)

// TestReeving holds the words to rig from against counting: the parts are the
// runs of rope that pull on the stuck vehicle.
func TestReeving(t *testing.T) {
	x := newTurn(&Engine{Words: wording.English()}, Input{Chat: "c"})
	onVehicle := func(where string) bool { return strings.Contains(where, "vehicle") }
	for parts := 1; parts <= 8; parts++ {
		for _, fromMoving := range []bool{true, false} {
			if parts == 1 && fromMoving {
				continue // a straight rope
			}
			end, through := x.reeve(parts, fromMoving)
			pulls := 0
			if onVehicle(end) {
				pulls++
			}
			for _, b := range through {
				if onVehicle(b) {
					pulls += 2 // both runs at a block on the vehicle pull on it
				}
			}
			if pulls != parts {
				t.Errorf("%d parts, from the moving side %v: %d runs pull on the vehicle (end at %s, through %v)", parts, fromMoving, pulls, end, through)
			}
			where := append([]string{end}, through...)
			for i := range where[1:] {
				if onVehicle(where[i]) == onVehicle(where[i+1]) {
					t.Errorf("%d parts: the rope goes from %s to %s", parts, where[i], where[i+1])
				}
			}
			if last := through[len(through)-1]; onVehicle(last) != fromMoving {
				t.Errorf("%d parts, from the moving side %v: the haul line leaves %s", parts, fromMoving, last)
			}
		}
	}
}
