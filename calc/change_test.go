package calc

import (
	"reflect"
	"regexp"
	"strconv"
	"strings"
	"testing"

	"pgregory.net/rapid"
)

// Digging is offered where depth decides, and no deeper than it must be: what
// is offered has been planned with, and the depth above it does not do.
func TestTheLeastDiggingThatDoesIt(t *testing.T) {
	const strong = "gear[0].rating=60 t; gear[2].rating=90 t; gear[3].rating=90 t; load.tow_point.rating=90 t; anchors[0].rating=90 t; puller.hitch_rating=60 t"
	for _, row := range []struct{ with, says, not string }{
		{"load.sunk=cab; puller.mass=11.7 t; " + strong,
			"Dig the wheels free until the mud reaches no higher than their guards", "daylight"},
		{"load.sunk=fender; puller.mass=6.4 t; " + strong,
			"Dig the wheels free until the mud reaches no higher than their hubs", "daylight"},
		{"load.sunk=hub; puller.mass=2 t", "Dig it out till daylight shows under it", "no higher"},
	} {
		p := Reckon(read(t, changed(t, row.with)))
		if p.Decision != NoGo {
			t.Errorf("%s: %s", row.with, p.Decision)
		}
		found := 0
		for _, c := range p.Changes {
			if strings.Contains(c.Do, row.not) {
				t.Errorf("%s: more digging than it takes: %s", row.with, c.Do)
			}
			if strings.Contains(c.Do, row.says) && strings.Contains(c.Do, "the force falls to at most") {
				found++
			}
		}
		if found != 1 {
			t.Errorf("%s: %q is offered %d times: %v", row.with, row.says, found, p.Changes)
		}
	}
}

var offeredSlope = regexp.MustCompile(`a flatter way: ([0-9.]+) deg at most, where ([0-9.]+) deg`)
var offeredMass = regexp.MustCompile(`until it weighs ([0-9.,]+) (t|kg) .* at most, where ([0-9.,]+) (t|kg)`)

// What is so already is no change: each one that is offered makes another case,
// and its figure differs from the one that was told.
func TestNoChangeIsTheCaseAlready(t *testing.T) {
	lone(t)
	slopes, masses := 0, 0
	checkMeeting(t, func() bool { return slopes > 0 && masses > 0 }, func(t *rapid.T) {
		s := drawn(t)
		if rapid.Bool().Draw(t, "weak") {
			s.Puller.Mass = rapid.SampledFrom([]string{"300 kg", "900 kg", "1.5 t"}).Draw(t, "puller")
		}
		c := read(t, s)
		p := Reckon(c)
		found := newSearch(c, view{})
		o := found.run()[0]
		if p.Decision != NoGo {
			return
		}
		for _, r := range remedies(c, &found, o) {
			k, d := least(c, r, new(room))
			if d == NoGo {
				continue
			}
			after := clone(c)
			r.set(&after, k)
			if reflect.DeepEqual(after, c) {
				t.Fatalf("%q changes nothing", r.do(c, k))
			}
		}
		for _, ch := range p.Changes {
			if m := offeredSlope.FindStringSubmatch(ch.Do); m != nil {
				slopes++
				if valueOf(m[1]) >= valueOf(m[2]) {
					t.Fatalf("it is so already: %s", ch.Do)
				}
			}
			if m := offeredMass.FindStringSubmatch(ch.Do); m != nil {
				masses++
				if valueOf(m[1]) >= valueOf(m[3]) && m[2] == m[4] {
					t.Fatalf("it weighs that already: %s", ch.Do)
				}
			}
		}
	})
}

func valueOf(text string) float64 {
	v, err := strconv.ParseFloat(strings.ReplaceAll(text, ",", ""), 64)
	if err != nil {
		panic(err)
	}
	return v
}
