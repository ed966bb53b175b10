package calc

import (
	"math"
	"slices"
	"testing"

	"linetender/calc/job"
)

// seenThen is a sheet's load and puller as they are, laid beside a thing seen.
func seenThen(t *testing.T, s job.Sheet, w job.SeenSheet) job.SeenSheet {
	t.Helper()
	c, err := s.Clone()
	if err != nil {
		t.Fatal(err)
	}
	w.Load, w.By, w.Sheave, w.Leads = &c.Load, c.Puller, "plain", ptr(0)
	return w
}

// What was seen counts for what it was seen with. The plain job needs 3741.9,
// 5156.7 and 6898.5 N; its puller of 1,600 kg gives 4509.1, 7374.6 and 12477.3 N.
// The load weighs 2 t on a scale, so 1,940 to 2,060 kg.
func TestWhatWasSeenIsOfItsMoment(t *testing.T) {
	move, slip := saw("move", 1, "alike=true"), saw("slip", 2)
	laden := saw("move", 1, "alike=true")
	laden.Reloaded = ptr(true)
	light := func(s *job.Sheet) { s.Puller.Mass = byEnds(700) }
	heavy := func(s *job.Sheet) { s.Puller.Mass = byEnds(4000) }
	for _, r := range []struct {
		name, by     string
		then, now    func(s *job.Sheet)
		seen         job.SeenSheet
		did          string
		high, left   float64 // the most that it needs, and the share left to the puller
		grip         float64 // of what the ground holds of it
		stands       bool    // as few parts stand again
		misfit, less bool    // less: than was told
	}{
		{"moved by a light puller, a light one now", "12477.3 × 700 ÷ 1600 = 5458.8", light, nil, move, "moved", 5458.8, 1, 1, false, false, true},
		{"moved by a heavy puller, a light one now", "4 t give up to 31193 N", heavy, light, move, "moved-fits", 6898.5, 1, 1, false, false, false},
		{"moved by a light puller, a heavy one now", "it may be the same, better weighed", light, heavy, move, "moved-fits", 6898.5, 1, 1, false, false, false},
		{"moved while it was light", "it was another load", func(s *job.Sheet) { light(s); s.Load.Mass = "1.7 t" }, light, move, "moved-other", 6898.5, 1, 1, false, false, false},
		{"moved while it was heavier", "unloaded, or told wrong and put right: it lessens nothing", func(s *job.Sheet) { light(s); s.Load.Mass = "2.4 t" }, light, move, "moved-other", 6898.5, 1, 1, false, false, false},
		{"moved, and half of it unloaded", "5458.8 is more than the 0.6 × 6898.5 that the lighter is told to need", light, func(s *job.Sheet) { light(s); s.Load.Mass = "1.2 t" }, move, "moved-other", 4139.1, 1, 1, false, false, false},
		{"moved, then unloaded and laden to the same figure", "it may be another load of that figure", light, light, laden, "moved-other", 6898.5, 1, 1, false, false, false},
		{"moved where it was flatter", "nothing of the steeper way", func(s *job.Sheet) { light(s); s.Load.Slope = "6 deg" }, light, move, "moved-here", 6898.5, 1, 1, false, false, false},
		{"moved on firmer ground", "nothing of this one", func(s *job.Sheet) { light(s); s.Load.Ground = "gravel" }, light, move, "moved-here", 6898.5, 1, 1, false, false, false},
		{"moved up to a step", "nothing of the step", light, func(s *job.Sheet) { light(s); s.Load.Lip = job.LipSheet{Height: "5 cm", WheelRadius: "40 cm"} }, move, "moved-here", math.NaN(), 1, 1, false, false, false},
		{"a light puller slipped, a heavy one now", "4509.1 × 700 ÷ 1600 × 1.85 = 3649.6 on it at least, 6898.5 ÷ 1.85 = 3728.9 of 5458.8 N", func(s *job.Sheet) { light(s); s.Puller.Name = "small" }, func(s *job.Sheet) { heavy(s); s.Puller.Name = "big" }, slip, "slip-other", 6898.5, 1, 0.6831, false, false, false},
		{"a heavy puller slipped, a light one now", "4509.1 × 2.5 × 1.85 = 20854.5 N were to move it; 31193.2 × 1.94 at most, and 6898.5 ÷ 1.85 of 31193.2 is left of such ground", func(s *job.Sheet) { heavy(s); s.Puller.Name = "big" }, func(s *job.Sheet) { light(s); s.Puller.Name = "small" }, slip, "raises-other", 60514.9, 1, 0.11954, true, false, false},
		{"slipped on wet grass, on gravel now", "its grip there is another", func(s *job.Sheet) { light(s); s.Puller.Ground = "wet grass" }, light, slip, "slip-other", 6898.5, 1, 1, false, false, false},
		{"slipped where it was to go, on other ground now", "4509.1 × 1.85 = 8341.8 was over 6898.5: what was told of the machine may be wrong; 12477.3 × 1.94, and 6898.5 ÷ 1.85 ÷ 12477.3", nil, func(s *job.Sheet) { s.Puller.Ground = "wet grass" }, slip, "raises", 24206, 0.29886, 1, false, false, false},
		{"another machine slipped where it was to go, on other ground now", "of this one it tells nothing, and the load may need all that the first may have given", func(s *job.Sheet) { s.Puller.Name = "small" }, func(s *job.Sheet) { s.Puller.Name, s.Puller.Ground = "big", "wet grass" }, slip, "raises-other", 24206, 1, 1, false, false, false},
		{"a puller that slipped, better weighed", "the share stays with it", light, func(s *job.Sheet) { s.Puller.Mass = byEnds(720) }, slip, "lowers", 6898.5, 0.6831, 1, false, false, false},
		{"slipped with a heavy load, half of it unloaded", "24206 × 0.6: the lighter needs as much more than was told", nil, func(s *job.Sheet) { s.Load.Mass = "1.2 t" }, slip, "raises", 24206 * 0.6, 0.29886, 1, false, false, false},
		{"stuck while deep, dug free now", "1.2 × what it needed is under its most, and the free one needs its share", func(s *job.Sheet) { s.Load.Sunk = "hub" }, nil, saw("stuck", 2), "stuck", 6898.5, 1, 1, false, false, false},
	} {
		s := plainGo()
		then, err := s.Clone()
		if err != nil {
			t.Fatal(err)
		}
		if r.then != nil {
			r.then(&then)
		}
		if r.now != nil {
			r.now(&s)
		} else if r.then != nil && r.seen.What != "stuck" {
			r.then(&s)
		}
		s.Seen = []job.SeenSheet{seenThen(t, then, r.seen)}
		l, said := learn(read(t, s))
		if said[0].Did != r.did {
			t.Errorf("%s: %s, want %s: %s", r.name, said[0].Did, r.did, said[0].Text)
		}
		if want := r.high; math.Abs(l.Need.High.Newtons()-want) > 0.2 || math.IsNaN(want) && l.Need.High != l.Told.High {
			t.Errorf("%s (%s): needs %v at most, told %v, want %v", r.name, r.by, l.Need.High, l.Told.High, want)
		}
		if math.Abs(float64(l.Left[0])-r.left) > 1e-4 || math.Abs(float64(l.Grip[0])-r.grip) > 1e-4 {
			t.Errorf("%s (%s): left %v, grip %v, want %v and %v", r.name, r.by, l.Left, l.Grip, r.left, r.grip)
		}
		if less := l.Need.High < l.Told.High; less != r.less || (len(l.Misfits) > 0) != r.misfit {
			t.Errorf("%s: less %v, misfits %v", r.name, less, l.Misfits)
		}
		if len(l.Stood) > 0 && l.Stood[0].Pullers[0] != r.stands && r.did != "lowers" && r.did != "raises" && r.did != "stuck" {
			t.Errorf("%s: as few parts stand again: %v", r.name, l.Stood)
		}
	}
}

// A load at a guess of 2,467 kg, so 1,850 to 3,084, is read at its lightest on the
// steepest of its slope, with the worst of rolling on grass and the least of drag,
// 0.75 × 0.143 + 0.25 × 0.35 = 0.19475: 4747.3 N, so 5981 N at most to start it.
// Unloaded and laden again to its heaviest, with the same guess, it needs 6867 N at
// the least slope told, and the reading is not to say that it does not. That holds
// whether it was told or something was seen in between with another figure.
func TestTheSameFigureIsNotTheSameLoad(t *testing.T) {
	const needs = 6867
	s := plainGo()
	l := &s.Load
	l.Mass, l.MassFrom, l.Slope, l.SlopeFrom, l.Ground, l.Sunk = "2467.0031 kg", "guess", "2.8552 deg", "level", "grass", "none"
	l.Locked, l.OffLine = ptr(0.25), "1.5175 deg"
	reading := seenThen(t, s, saw("reading", 1, "moved=30 cm", "alike=true", "force=4747.3313 N", "at=haul"))
	high := func(did string, seen ...job.SeenSheet) float64 {
		t.Helper()
		s.Seen = seen
		l, said := learn(read(t, s))
		if said[0].Did != did {
			t.Errorf("%s, want %s: %s", said[0].Did, did, said[0].Text)
		}
		return l.Need.High.Newtons()
	}
	if f := high("read", reading); f >= needs {
		t.Errorf("the reading lessens nothing while the load is the same: %.1f N", f)
	}
	laden := reading
	laden.Reloaded = ptr(true)
	if f := high("read-other", laden); f < needs {
		t.Errorf("laden since to the same figure it needs %.1f N", f)
	}
	lighter := s
	lighter.Load.Mass, lighter.Seen = "1.5 t", nil
	if f := high("read-other", reading, seenThen(t, lighter, saw("move", 1))); f < needs {
		t.Errorf("with a lighter load seen in between it needs %.1f N", f)
	}
}

// A weighed load told at 2,903 kg is read where it moves, put right at 2,244 kg and
// moves again, and laden to 3,591 kg. What the wrong figure made of the reading
// says nothing of that load.
func TestAFigurePutRightIsNoMeasureOfTheNext(t *testing.T) {
	s := plainGo()
	l := &s.Load
	l.Slope, l.SlopeFrom, l.Ground, l.OffLine = "1.6406 deg", "level", "wet grass", "3.5331 deg"
	at := func(mass string, w job.SeenSheet) job.SeenSheet {
		then := s
		then.Load.Mass, then.Seen = mass, nil
		return seenThen(t, then, w)
	}
	s.Seen = []job.SeenSheet{
		at("2903.4016 kg", saw("reading", 3, "moved=30 cm", "alike=true", "force=1825.46775 N", "at=load")), at("2244.1738 kg", saw("move", 3, "alike=true")),
	}
	l.Mass = "3590.6781 kg"
	if got, _ := learn(read(t, s)); got.Need.High < got.Told.High {
		t.Errorf("it needs %v, told %v", got.Need, got.Told)
	}
	s.Seen = s.Seen[:1] // and where nothing was seen between
	if got, _ := learn(read(t, s)); got.Need.High < got.Told.High {
		t.Errorf("with the reading alone it needs %v, told %v", got.Need, got.Told)
	}
}

// A puller told at 700 kg moves the load. Then it is put right: 4 t,
// and something is seen with it. Another of 700 kg comes in its place:
// what was moved by 4 t is not reckoned as moved by 700 kg.
func TestAPullerPutRightStaysSo(t *testing.T) {
	s := plainGo()
	s.Puller.Mass = byEnds(700)
	wrong := seenThen(t, s, saw("move", 1, "alike=true"))
	right := plainGo()
	right.Puller.Mass = byEnds(4000)
	for _, later := range []job.SeenSheet{seenThen(t, right, saw("move", 1)), seenThen(t, right, saw("reading", 1, "force=5 kN", "at=haul"))} {
		s.Seen = []job.SeenSheet{wrong, later}
		l, said := learn(read(t, s))
		if said[0].Did != "moved-fits" || l.Need.High < l.Told.High {
			t.Errorf("%s: the need is %v, told %v", said[0].Did, l.Need, l.Told)
		}
	}
}

// A heavier puller that is brought goes where a lighter one slipped, with as
// many parts, and the one that slipped does not.
func TestAHeavierPullerMayTryAsFewParts(t *testing.T) {
	s := inLine(plainGo())
	s.Puller.Mass = byEnds(700)
	s.Seen = []job.SeenSheet{seenThen(t, s, saw("slip", 2))}
	s.Tackle = &job.TackleSheet{Parts: ptr(2), HaulFrom: "moving"}
	fails := func(p Plan) bool {
		return slices.ContainsFunc(p.Checks, func(k Check) bool { return k.ID == "E2" && k.Result == Fail })
	}
	if p := Reckon(read(t, s)); !fails(p) {
		t.Errorf("%s: as few parts are tried again", p.Decision)
	}
	s.Puller.Mass = byEnds(4000)
	if p := Reckon(read(t, s)); fails(p) || p.Decision != Go {
		t.Errorf("%s with a puller of 4 t: %v", p.Decision, p.Why)
	}
}
