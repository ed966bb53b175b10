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

// What nobody told counts for no signature, so it makes no refer of a no-go. It is named
// as what could turn it, and told to be bad the job is one for professionals, whatever
// fails besides.
func TestANoGoNamesTheThirdSignature(t *testing.T) {
	const two = "site.light=false; site.aid=false; load.tow_point.kind=hitch-ball; puller.rollover_frame="
	for frame, want := range map[string]Decision{"true": NoGo, "": NoGo, "false": Refer} {
		p := Reckon(read(t, changed(t, two+frame)))
		if p.Decision != want {
			t.Errorf("rollover_frame %q: %s, want %s: %v", frame, p.Decision, want, p.Why)
		}
		named := false
		for _, m := range p.Measure {
			named = named || m.Field == "puller.rollover_frame" && m.CouldFlip
		}
		if named != (frame == "") {
			t.Errorf("rollover_frame %q: it is named as what could turn it: %v", frame, named)
		}
	}
}
