package calc

import (
	"math"
	"testing"
)

// Where the holding line is made fast on the load is for people to say. A tow
// point that would carry it is no answer: nobody said that it does.
func TestWhereTheHoldingLineIsFastIsNotTakenForGranted(t *testing.T) {
	p := Reckon(read(t, changed(t, "load.holding_point=")))
	if p.Decision != Open {
		t.Errorf("%s where nobody said what the holding line is on", p.Decision)
	}
	asked := false
	for _, m := range p.Measure {
		asked = asked || m.Field == "load.holding_point.rating" && m.CouldFlip
	}
	if !asked {
		t.Errorf("nobody is asked for it: %v", p.Measure)
	}
	if p := Reckon(read(t, changed(t, "load.holding_point=; load.slope=0 to 0.1 deg; load.ground=mud"))); p.Decision != Go {
		t.Errorf("%s for want of a point that no line is made fast to: %v", p.Decision, p.Why)
	}
}

// A point that both lines share carries both, because both are tight while one
// takes over from the other.
func TestASharedPointCarriesBoth(t *testing.T) {
	const shared = "load.holding_point=; load.holding_point.shared=true; "
	own := Reckon(read(t, changed(t)))
	want := own.Force.High.Newtons()
	for _, m := range own.Gear {
		if m.Use == "holding-point" {
			want += m.Tension.Newtons()
		}
	}
	p := Reckon(read(t, changed(t, shared)))
	found := 0
	for _, m := range p.Gear {
		if m.Use != "tow-point" && m.Use != "holding-point" {
			continue
		}
		found++
		if got := m.Tension.Newtons(); math.Abs(got-want) > 1e-6 {
			t.Errorf("%s carries %v N, and both are %v N", m.Use, got, want)
		}
	}
	if found != 2 || p.Decision != Go {
		t.Errorf("%d points, %s: %v", found, p.Decision, p.Why)
	}
	// Rated for the greater of the two, but not for both.
	between := "load.tow_point.rating=" + inNewtons(own.Force.High.Scale(1.1))
	if p := Reckon(read(t, changed(t, shared, between))); p.Decision != NoGo {
		t.Errorf("%s with a shared point rated for one line", p.Decision)
	}
}

func TestOnlyAHoldingPointIsShared(t *testing.T) {
	s := changed(t, "load.tow_point.shared=true")
	if _, err := s.Case(); err == nil {
		t.Error("a tow point that is shared with itself is read")
	}
}
