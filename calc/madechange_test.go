package calc

import (
	"fmt"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"linetender/calc/job"
)

// doing is how a crew that does what a change says tells so, by the words of the change
// alone: what it fills in of the sheet, with what the words have in brackets.
type doing struct {
	says *regexp.Regexp
	sets string
}

var doings = []doing{
	{regexp.MustCompile(`^Unload it until it weighs (.+?) \(.* at most, where`), "load.mass=$1"},
	{regexp.MustCompile(`^Ramp it, or choose a flatter way: (\S+ deg) at most`), "load.slope=$1"},
	{regexp.MustCompile(`^(?:Free the wheels|See that all its wheels turn), the load held first`), "load.locked=0"},
	{regexp.MustCompile(`^Dig the wheels free until the mud reaches no higher than their hubs`), "load.sunk=hub"},
	{regexp.MustCompile(`^Dig it out till daylight`), "load.sunk=none; load.belly=false"},
	{regexp.MustCompile(`^Haul it out downhill`), "load.pull=downhill"},
	{regexp.MustCompile(`^Rig (\d+) parts, hauled from the (moving|standing) block`), "tackle.parts=$1; tackle.haul_from=$2"},
	{regexp.MustCompile(`^Pull straight`), "tackle.parts=1; tackle.haul_from=moving"},
	{regexp.MustCompile(`^Put a good rope, at least (.+?) \(.* long in one piece, with a working limit of at least (.+?) \(.* in place of the (.+)\.$`), "gear[$3].length=$1; gear[$3].rating=$2; gear[$3].diameter=60 mm"},
	{regexp.MustCompile(`^Put a good rope with a working limit of at least (.+?) \(.* in place of the (.+), no thicker than (\S+ mm) \(.*\.$`), "gear[$2].rating=$1; gear[$2].diameter=$3"},
	{regexp.MustCompile(`^Put a good rope with a working limit of at least (.+?) \(.* in place of the (.+)\.$`), "gear[$2].rating=$1; gear[$2].diameter=60 mm"},
	{regexp.MustCompile(`^Put a good shackle with a working limit of at least (.+?) \(.* in place of the (.+), pulled in line from bow to pin\.$`), "gear[$2].rating=$1; gear[$2].side_angle=0 deg"},
	{regexp.MustCompile(`^Put a good \w+ with a working limit of at least (.+?) \(.* in place of the (.+)\.$`), "gear[$2].rating=$1; gear[$2].rating_kind=working; gear[$2].condition=good; gear[$2].improvised=false"},
	{regexp.MustCompile(`^Use an anchor in place of the (.+?) that may be counted for at least (.+?) \(`), "anchors[$1].rating=$2"},
	{regexp.MustCompile(`^Make fast to a rated point on the frame of at least (.+?) \(`), "load.tow_point.kind=frame; load.tow_point.rating=$1"},
	{regexp.MustCompile(`^Give the holding line a rated point of its own of at least (.+?) \(`), "load.holding_point.kind=frame; load.holding_point.rating=$1"},
	{regexp.MustCompile(`^Use a puller with a drawbar rated at least (.+?) \(`), "puller.hitch_rating=$1"},
	{regexp.MustCompile(`^Stand the puller on firm gravel`), "puller.ground=gravel"},
	{regexp.MustCompile(`^Stand the puller on level ground`), "puller.slope=0 to 0 deg; puller.pull=level"},
	{regexp.MustCompile(`^Bring a puller of the same kind of at least (.+?) \(`), "puller.mass=$1"},
	{regexp.MustCompile(`^Clear the puller's way, .* at least (.+?) \(`), "puller.run=$1"},
	{regexp.MustCompile(`^Set the anchor of the holding line farther off, at least (.+?) \(`), "holding_reach=$1"},
	{regexp.MustCompile(`^Set the anchor of the holding line (.+?) \(.* and no farther`), "holding_reach=$1"},
	{regexp.MustCompile(`^Bring one whole rope of at least (.+?) \(.*, with a working limit of at least (.+?) \(`), "gear[piece 0].length=$1; gear[piece 0].rating=$2; gear[piece 0].diameter=60 mm"},
	{regexp.MustCompile(`^Be at least (\d+) people`), "crew=$1"},
}

// doneAs fills in a sheet what a change has said; ok is false where the words are not
// among those that this knows.
func doneAs(t *rapid.T, s job.Sheet, do string) (job.Sheet, bool) {
	s = copied(t, s)
	for _, one := range strings.Split(do, " And: ") {
		at := slices.IndexFunc(doings, func(d doing) bool { return d.says.MatchString(one) })
		if at < 0 {
			return s, false
		}
		w := doings[at]
		m := w.says.FindStringSubmatchIndex(one)
		for _, set := range strings.Split(string(w.says.ExpandString(nil, w.sets, one, m)), "; ") {
			path, text, _ := strings.Cut(set, "=")
			if list, rest, ok := strings.Cut(path, "["); ok {
				name, field, _ := strings.Cut(rest, "]")
				place := slices.IndexFunc(s.Gear, func(g job.GearSheet) bool { return list == "gear" && g.Name == name })
				if list == "anchors" {
					place = slices.IndexFunc(s.Anchors, func(a job.AnchorSheet) bool { return a.Name == name })
				}
				if place < 0 {
					return s, false
				}
				if list == "anchors" {
					s.Anchors[place] = job.AnchorSheet{Kind: "rated", Use: s.Anchors[place].Use, RatingKind: "working"}
				}
				path = fmt.Sprintf("%s[%d]%s", list, place, field)
			}
			if err := s.Set(path, text); err != nil {
				t.Fatalf("%q: %s: %v", do, set, err)
			}
		}
	}
	return s, true
}

// A crew that does what a change says, and tells so, gets the plan that was promised, to
// be signed for no more than was said: figures in words are rounded to the safe side.
func TestWhoDoesWhatAChangeSaysGetsWhatItSays(t *testing.T) {
	lone(t)
	met := map[string]bool{}
	checkMeeting(t, func() bool { return len(met) >= 8 }, func(t *rapid.T) {
		s := drawn(t)
		if rapid.Bool().Draw(t, "weak") {
			s.Puller.Mass = rapid.SampledFrom([]string{"300 kg", "900 kg", "1.5 t"}).Draw(t, "puller")
		}
		if rapid.Bool().Draw(t, "doubted") {
			s.Sure = nil
		}
		for i := range s.Gear {
			s.Gear[i].Name = "piece " + strconv.Itoa(i)
		}
		for i := range s.Anchors {
			s.Anchors[i].Name = "anchor " + strconv.Itoa(i)
		}
		c := read(t, s)
		for _, ch := range Reckon(c).Changes {
			after, ok := doneAs(t, s, ch.Do)
			if !ok {
				continue
			}
			met[ch.Do[:12]] = true
			if p := Reckon(read(t, after)); p.Decision != ch.Then || slices.ContainsFunc(p.SignOffs, func(id string) bool { return !slices.Contains(ch.SignOffs, id) }) {
				t.Fatalf("%q: %s signed for %q, and told it is %s signed for %q: %v", ch.Do, ch.Then, ch.SignOffs, p.Decision, p.SignOffs, p.Why)
			}
		}
	})
}

// What is brought in the place of a thing has a figure of its own: nobody is asked
// whether the one that was there is truly so. What a change takes for granted of what is
// brought is among its words.
func TestAChangeSaysAllThatItTakes(t *testing.T) {
	for _, w := range []struct{ sets, says string }{
		{"sure=gear[1].rating; gear[0].rating=10 kg", "Put a good rope with a working limit of at least "},
		{"sure=gear[1].rating; gear[0].rating=10 kg; gear[0].length=30 m", "Put a good rope, at least 58.0 m (191 ft) long in one piece, with a working limit of at least "},
		{"gear[3].kind=shackle; gear[3].rating=0.4 t; gear[3].knots=", "in place of the strop, pulled in line from bow to pin."},
		{"gear[3].rating=10 kg; gear[3].sling_hitch=", "in place of the strop, put round as a basket."},
	} {
		p := Reckon(read(t, changed(t, w.sets)))
		i := slices.IndexFunc(p.Changes, func(c Change) bool { return strings.Contains(c.Do, w.says) })
		if i < 0 || p.Changes[i].Then != Go {
			t.Errorf("%q: %s %+v", w.sets, p.Decision, p.Changes)
		}
	}
}
