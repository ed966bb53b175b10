package calc

import (
	"regexp"
	"strings"
	"testing"

	"linetender/calc/unit"
)

var unloaded = regexp.MustCompile(`until it weighs ([0-9.]+) t .* where ([0-9.]+) t .* so much, ([0-9.]+) t .* must come off`)

// A vehicle is unloaded to no less than it weighs empty, and what must come off
// is told. Of a car or pickup that is two thirds of its gross weight.
func TestUnloadedToNoLessThanEmpty(t *testing.T) {
	for mass, empty := range map[string]float64{"1.5 t": 0.97, "3.4 t": 2.2, "4.9 t": 1.95, "20 t": 7.9} {
		met := false
		for _, r := range reduce(read(t, changed(t, "load.mass="+mass+"; load.mass_from=plate"))) {
			c := read(t, changed(t, "load.mass="+mass+"; load.mass_from=plate"))
			m := unloaded.FindStringSubmatch(r.do(c, 1))
			if m == nil {
				continue
			}
			met = true
			to, from, off := valueOf(m[1]), valueOf(m[2]), valueOf(m[3])
			r.set(&c, 1)
			if to < empty || from-off > to+0.02*from || from-off < to-0.02*from || c.Load.Mass.Best < unit.Tonnes(empty) {
				t.Errorf("%s: %s", mass, r.do(c, 1))
			}
		}
		if !met {
			t.Errorf("%s is not unloaded", mass)
		}
	}
}

// To go nowhere is no way out, and no anchor is farther off than a rope reaches.
func TestNoWayThatIsNone(t *testing.T) {
	offers := func(sets string) (near, far bool) {
		c := read(t, changed(t, sets))
		s := newSearch(c, view{})
		for _, r := range remedies(c, &s, s.run()[0]) {
			do := r.do(c, 1)
			near = near || strings.HasPrefix(do, "Go ")
			far = far || strings.HasPrefix(do, "Rig from an anchor at least")
			if strings.HasPrefix(do, "Go 0") {
				t.Errorf("%s: %s", sets, do)
			}
		}
		return near, far
	}
	for _, row := range []struct {
		sets      string
		near, far bool
	}{
		{"distance=8 m; reach=6 m", true, true},
		{"distance=8 m; reach=1 m", false, true},
		{"distance=8 m; reach=1.2 m", false, true},
		{"distance=400 m; reach=60 m", true, false},
	} {
		if near, far := offers(row.sets); near != row.near || far != row.far {
			t.Errorf("%s: going as far as it can %v, another anchor %v", row.sets, near, far)
		}
	}
	for _, sets := range []string{"distance=400 m; gear[0].length=100 m", "distance=8 m; reach=200 m; tackle.parts=3; gear[0].length=100 m"} {
		c := read(t, changed(t, sets))
		s := newSearch(c, view{})
		for _, r := range remedies(c, &s, s.run()[0]) {
			if do := r.do(c, 1); strings.Contains(do, "one whole rope of at least") || strings.Contains(do, "second rope of at least") {
				if strings.Contains(do, "at least 6") || strings.Contains(do, "at least 4") {
					t.Errorf("%s: a rope that nobody carries: %s", sets, do)
				}
			}
		}
	}
}
