package calc

import "testing"

// Two checks wait for a signature, and a third makes it work for a professional
// crew: whether the puller has a frame is not left out to keep it at two.
func TestAFrameLeftOutHidesNoThirdSignature(t *testing.T) {
	const two = "site.light=false; site.aid=false; "
	for frame, want := range map[string]Decision{"true": Go, "false": Refer, "": Open} {
		if p := Reckon(read(t, changed(t, two+"puller.rollover_frame="+frame))); p.Decision != want {
			t.Errorf("rollover_frame %q: %s, want %s: %v", frame, p.Decision, want, p.Why)
		}
	}
}
