package calc

import (
	"fmt"
	"math"
	"slices"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"linetender/calc/handbook"
	"linetender/calc/unit"
)

func checkOf(p Plan, id, words string) (out []Check) {
	for _, c := range p.Checks {
		if c.ID == id && strings.Contains(c.Text, words) {
			out = append(out, c)
		}
	}
	return out
}

// The wraps that stay on the drum are rope that nobody pulls with. Two parts
// over a reach of 20 m and a lead of 10 m take (2 × 20 + 10) × 1.1 + 3 = 58 m,
// and the drum keeps, by a hand's sum of wraps × π × thickness, so much more.
func TestWrapsThatStayAreNoRopeToPullWith(t *testing.T) {
	for _, row := range []struct {
		about, with string
		kept        float64
	}{
		{"fibre keeps 10 wraps, of a drum taken as 25 cm", "", 10 * math.Pi * 0.25},
		{"wire keeps 5", "gear[0].material=wire", 5 * math.Pi * 0.25},
		{"what nobody told of keeps the more", "gear[0].material=", 10 * math.Pi * 0.25},
		{"the drum was measured", "puller.drum=10 cm", 10 * math.Pi * 0.1},
		{"a hand winch's drum is taken as 10 cm", "puller.kind=hand-winch", 10 * math.Pi * 0.1},
	} {
		p := Reckon(read(t, changed(t, winch, row.with)))
		if got := p.Travel.Rope.High.Metres(); math.Abs(got-58-row.kept) > 1e-9 {
			t.Errorf("%s: rope of %v m, want %v", row.about, got, 58+row.kept)
		}
		for _, length := range []struct {
			rope string
			want Result
		}{
			{inMetres(p.Travel.Rope.High + 0.01), Pass},
			{inMetres(p.Travel.Rope.High - 0.01), Fail},
		} {
			q := Reckon(read(t, changed(t, winch, row.with, "gear[0].length="+length.rope)))
			if c := checkOf(q, "T3", "The rope is"); len(c) != 1 || c[0].Result != length.want {
				t.Errorf("%s: with %s the rope comes out %v", row.about, length.rope, c)
			}
		}
	}
	if p := Reckon(read(t, changed(t))); math.Abs(p.Travel.Rope.High.Metres()-58) > 1e-9 {
		t.Errorf("a machine without a drum takes %v m", p.Travel.Rope.High.Metres())
	}
}

// A drum fills as its rope comes in. By the table's small drum the layers take
// 1, 1.25, 1.5, 1.75 and 2 of rope, 7.5 in all; so a third of the rope, 2.5 of
// it, lies in three layers, and half of it in three as well.
func TestDrumFills(t *testing.T) {
	for _, row := range []struct {
		share float64
		full  int
		want  int
	}{{0, 5, 1}, {1 / 7.5, 5, 1}, {1.01 / 7.5, 5, 2}, {1. / 3, 5, 3}, {0.5, 5, 3}, {0.51, 5, 4}, {0.75, 5, 5}, {1, 5, 5}, {1, 8, 8}} {
		if got := layerOf(row.share, row.full); got != row.want {
			t.Errorf("%.3f of a drum of %d layers lies in %d, want %d", row.share, row.full, got, row.want)
		}
	}
	// Of 80 m, with 2 × (20 − 8) + 10 = 34 m out at the end, 46 m are on it.
	o := weighedBest(t, changed(t, winch))
	if got := fillsTo(read(t, changed(t, winch)), o); got != layerOf(46./80, 5) {
		t.Errorf("fills to %d, want %d", got, layerOf(46./80, 5))
	}
	if got := fillsTo(read(t, changed(t, winch, "puller.winch_layer=5")), weighedBest(t, changed(t, winch, "puller.winch_layer=5"))); got != 5 {
		t.Errorf("five layers at the start are %d at the end", got)
	}
	if c := checkOf(Reckon(read(t, changed(t, winch, "puller.capstan=true; distance=19 m; puller.rating=0.5 t"))), "U6", "fills"); len(c) > 0 {
		t.Errorf("a capstan fills: %v", c)
	}
}

// A load that goes farther brings more rope in, and never leaves the winch
// stronger for it.
func TestMoreRopeInIsNeverBetter(t *testing.T) {
	for _, layer := range []string{"1", "2", "3", "5", "7"} {
		for _, rope := range []string{"66 m", "80 m", "200 m"} {
			was := 1
			for far := 1; far < 19; far++ {
				s := changed(t, winch, "puller.winch_layer="+layer, "gear[0].length="+rope, fmt.Sprintf("distance=%d m", far))
				got := fillsTo(read(t, s), weighedBest(t, s))
				if got < was {
					t.Errorf("layer %s, rope %s: %d m fill the drum to %d, less far to %d", layer, rope, far, got, was)
				}
				was = got
			}
		}
	}
}

// The layers on a hand winch's drum take from its pull as they do from any
// winch's, and while nobody counted them the last counts; only one whose rope
// runs through gives its rating.
func TestLayersOfAHandWinchCount(t *testing.T) {
	hand := func(told string) float64 {
		c := read(t, changed(t, "puller=; puller.kind=hand-winch; puller.rating=20 kN; puller.rating_kind=working"+told))
		return reckonPower(c, 0, view{}).available.Low.Newtons()
	}
	for told, want := range map[string]float64{"": 10000, "; puller.capstan=true": 20000, "; puller.capstan=false": 10000,
		"; puller.capstan=true; puller.winch_layer=2": 16000, "; puller.winch_layer=1": 20000, "; puller.winch_layer=2": 16000, "; puller.winch_layer=5": 10000} {
		if got := hand(told); math.Abs(got-want) > 1 {
			t.Errorf("%q: %.0f N, want %.0f", told, got, want)
		}
	}
	told := changed(t, "puller=; puller.kind=hand-winch; puller.rating=20 kN; puller.rating_kind=working; puller.winch_layer=2")
	if got := fillsTo(read(t, told), weighedBest(t, told)); got < 2 {
		t.Errorf("its drum comes to layer %d, and began at 2", got)
	}
}

// What a winch gives at its most is its stall: what it sits on may be chocked or dig in,
// so a light truck on ground that grips little pulls no less at a snag than a heavy one.
func TestAWinchStallsWhateverItSitsOn(t *testing.T) {
	most := func(sets string) unit.Force {
		return *Reckon(read(t, changed(t, winch, sets))).Puller.Most
	}
	stall, _ := handbook.StallOverRating()
	want := unit.TonnesForce(3).Scale(float64(stall))
	for _, sets := range []string{"", "puller.mass=800 kg", "puller.ground=ice"} {
		if got := most(sets); math.Abs(float64(got-want)) > 1e-6*float64(want) {
			t.Errorf("%q: the winch gives at most %v, want %v", sets, got, want)
		}
	}
}

// A measured drum tells what its layers leave: one of 20 cm over a first layer of rope of
// 20 mm pulls at 9 cm on it and at 9 + 4 × 2 = 17 cm on the fifth, so the fifth leaves 9 ÷
// 17. More than the table has at the most it never leaves, and as long as the drum or a
// rope that may be on it is not measured the table counts.
//
// Source: derived, moments on the drum; by pocket calculator.
func TestWhatAMeasuredDrumLeaves(t *testing.T) {
	for _, row := range []struct {
		sets string
		want float64 // least share left
	}{
		{"puller.winch_layer=5; puller.drum=20 cm; gear[0].diameter=20 mm", 9. / 17},
		{"puller.winch_layer=3; puller.drum=20 cm; gear[0].diameter=20 mm", 9. / 13},
		{"puller.winch_layer=1; puller.drum=20 cm; gear[0].diameter=20 mm", 1},
		{"puller.winch_layer=5; puller.drum=18 to 22 cm; gear[0].diameter=18 to 20 mm", 8. / 16},
		{"puller.winch_layer=5; puller.drum=12 cm; gear[0].diameter=20 mm", 5. / 13},
		{"puller.winch_layer=5; puller.drum=2 cm; gear[0].diameter=20 mm", 1. / 9}, // one layer round nothing is 4 cm
		{"puller.winch_layer=5; puller.drum=60 cm; gear[0].diameter=12 mm", 0.714286},
		{"puller.winch_layer=5; puller.drum=; gear[0].diameter=20 mm", 0.5},
		{"puller.winch_layer=5; puller.drum=12 cm; gear[0].diameter=", 0.5},
	} {
		c := read(t, changed(t, winch, row.sets))
		w := reckonPower(c, 0, view{})
		i := slices.IndexFunc(w.limits, func(l limit) bool { return l.name == "rating" })
		if got := w.limits[i].f.Low.Newtons() / unit.TonnesForce(3).Newtons(); math.Abs(got-row.want) > 1e-6 {
			t.Errorf("%s: %.4f is left, want %.4f", row.sets, got, row.want)
		}
	}
}

// Nobody having measured a drum is never better than a drum that is built, as thin as
// six times its rope.
func TestAnUnmeasuredDrumIsNeverBetter(t *testing.T) {
	lone(t)
	asked := 0
	checkMeeting(t, func() bool { return asked > 0 }, func(r *rapid.T) {
		rating := rapid.Float64Range(0.2, 2).Draw(r, "rating")
		thick := rapid.Float64Range(6, 28).Draw(r, "thick")
		over := rapid.Float64Range(6.01, 30).Draw(r, "over")
		with := fmt.Sprintf("puller.winch_layer=%d; puller.rating=%.3f t; gear[0].length=%d m; gear[0].diameter=%.2f mm; sure=gear[0].rating", rapid.IntRange(1, 6).Draw(r, "layer"),
			rating, rapid.IntRange(90, 200).Draw(r, "rope"), thick)
		left := Reckon(read(r, changed(t, winch, with)))
		told := Reckon(read(r, changed(t, winch, with, fmt.Sprintf("puller.drum=%.2f mm", over*thick))))
		if left.Decision == Go && told.Decision != Go {
			r.Fatalf("%s, %.1f times: %s %v, and untold a go", with, over, told.Decision, told.Why)
		}
		if slices.ContainsFunc(left.Measure, func(m Measure) bool { return m.Field == "puller.drum" }) {
			asked++
		}
	})
}
