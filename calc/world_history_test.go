package calc

import (
	"encoding/json"
	"flag"
	"fmt"
	"math"
	"os"
	"slices"
	"testing"

	"pgregory.net/rapid"

	"linetender/calc/handbook"
	"linetender/calc/job"
	"linetender/calc/tackle"
)

// What was seen may only ever make a plan more careful than what is true allows.
// So a world is drawn as in [TestAGoHoldsInEveryWorld] and a crew tries in it:
// the world decides what moves and what slips, the crew tells it, and between
// the tries the load is unloaded or laden, comes to other ground or a steeper
// way, another puller is brought, or a figure that was told wrong from the
// beginning is put right. Whenever the plan is a go, it must hold in that world.
func TestAGoHoldsInEveryWorldAfterWhatWasSeen(t *testing.T) {
	lone(t)
	checks := map[string]string{"": "300", "short": "1000", "full": "20000"}[os.Getenv("LINETENDER_LONG")]
	if f := flag.Lookup("rapid.checks"); checks != "" && f.Value.String() == f.DefValue {
		if err := flag.Set("rapid.checks", checks); err != nil {
			t.Fatal(err)
		}
		defer func() { _ = flag.Set("rapid.checks", f.DefValue) }()
	}
	h := history{saw: map[string]int{}}
	checkMeeting(t, func() bool {
		all := !slices.ContainsFunc(job.SeenWhats, func(what string) bool { return h.saw[what] == 0 })
		return all && h.won > 0 && h.goes*20 >= h.plans
	}, h.run)
	t.Logf("%d of %d plans after something was seen are a go, %d of them by what was seen; seen %v, done between %v", h.goes, h.plans, h.won, h.saw, h.did)
	t.Logf("in %d plans it is judged whether what was seen fits, in %d it does not", h.judged, h.misfits)
	if h.misfits == 0 && h.judged > 3000 || h.misfits*2 > h.judged {
		t.Errorf("of %d plans with something seen %d do not fit, so the test says little", h.judged, h.misfits)
	}
}

// history counts over all draws what came up.
type history struct {
	plans, goes, won int
	judged, misfits  int // whether what was seen fits, and where it doesn't
	saw, did         map[string]int
}

// trial is one job in its world. Truth is what a crew would tell that tells
// everything right; told is what it does tell.
type trial struct {
	told, truth job.Sheet
	wrong       bool // something told is wrong, and not put right yet
	erred       bool // something was
	elsewhere   bool // the load has come further, where the way is another
	apart       bool // and something was seen there
	w           world
	least       *world // the way left was said to be no worse than there
}

func (h *history) run(t *rapid.T) {
	if h.did == nil {
		h.did = map[string]int{}
	}
	s := likely(t)
	s.Load.MassFrom = rapid.SampledFrom(job.MassFroms).Draw(t, "mass from")
	s.Load.Slope, s.Load.SlopeFrom = fmt.Sprintf("%.4f deg", rapid.Float64Range(1, 14).Draw(t, "history slope")), "level"
	for i := range s.Gear { // strong, so that mostly the pull decides
		if g := &s.Gear[i]; g.Use == "haul" {
			g.Rating, g.Diameter = "7 t", "48 mm"
		} else if g.Use != "holding" {
			g.Rating = "14 t"
		}
	}
	s.Load.TowPoint.Rating, s.Puller.HitchRating, s.Puller.Pull = "14 t", "12 t", rapid.SampledFrom([]string{"level", "downhill"}).Draw(t, "puller heads")
	s.Gear[1].Rating, s.Gear[1].Diameter, s.Anchors[1].Rating, s.Load.HoldingPoint.Rating = "20 t", "80 mm", "40 t", "40 t"
	s.Anchors[0] = job.AnchorSheet{Kind: "rated", Use: "standing", Rating: "20 t", RatingKind: "working"}
	if rapid.Bool().Draw(t, "sheaves told") {
		s.Tackle = &job.TackleSheet{Sheave: "plain"}
	}
	if rapid.Bool().Draw(t, "parts told") {
		if s.Tackle == nil {
			s.Tackle = &job.TackleSheet{}
		}
		s.Tackle.Parts, s.Tackle.HaulFrom = ptr(rapid.IntRange(1, 3).Draw(t, "of them")), "moving"
	}
	if rapid.Bool().Draw(t, "a light puller") { // so that what was seen decides
		s.Puller.Mass = fmt.Sprintf("%.4f kg", number(t, s.Load.Mass)*rapid.Float64Range(0.25, 1.2).Draw(t, "share"))
	}
	tr := &trial{told: s, truth: copied(t, s), w: drawWorld(t, s)}
	tr.mistold(t)
	tr.erred = tr.wrong
	for range rapid.IntRange(1, 6).Draw(t, "tries") {
		for range max(0, rapid.IntRange(-3, 2).Draw(t, "changes")) {
			h.did[tr.change(t)]++
		}
		h.saw[tr.try(t)]++
		if rapid.IntRange(0, 3).Draw(t, "changed after") == 0 {
			h.did[tr.change(t)]++
		}
		h.look(t, tr)
	}
	if tr.wrong {
		tr.correct(t)
		h.look(t, tr)
	}
}

// look holds the plan as it is now against the world.
func (h *history) look(t *rapid.T, tr *trial) {
	p := planned(t, tr.told)
	h.fits(t, tr, p)
	if tr.wrong {
		return // the crew tells what is not so
	}
	h.plans++
	if p.Decision != Go || p.Tackle.Compound != nil {
		return
	}
	h.goes++
	unseen := copied(t, tr.told)
	unseen.Seen = nil
	if decision(t, unseen) != Go {
		h.won++
	}
	tr.w.hold(t, tr.told, p)
}

// fits holds a plan to what E1 says: that what was seen fits what was told is judged
// as soon as anything was seen and never before; where it doesn't there is no go; and
// a crew that has told everything right and stays at one place is never told that it
// doesn't, whatever it saw, in whatever order. (Where the load has come further, what
// was seen here bears on what is seen there, on the careful side.)
func (h *history) fits(t *rapid.T, tr *trial, p Plan) {
	at := slices.IndexFunc(p.Checks, func(k Check) bool { return k.ID == "E1" })
	if p.Decision == Refer {
		return
	}
	if judged := at >= 0; judged != (len(tr.told.Seen) > 0) {
		t.Fatalf("with %d things seen it is judged whether they fit: %v", len(tr.told.Seen), judged)
	}
	if at < 0 {
		return
	}
	h.judged++
	if p.Checks[at].Result != Fail {
		return
	}
	h.misfits++
	if p.Decision == Go {
		t.Fatalf("a go against what was seen: %+v", p.Checks[at])
	}
	if !tr.erred && !tr.apart {
		t.Fatalf("all was told right, and what was seen is said not to fit: %s; seen %s", p.Checks[at].Text, asJSON(tr.told.Seen))
	}
}

func asJSON(v any) string {
	b, err := json.Marshal(v)
	if err != nil {
		return err.Error()
	}
	return string(b)
}

// planned is the plan without what would be worth finding out or changing.
func planned(t *rapid.T, s job.Sheet) Plan {
	found := newSearch(read(t, s), view{})
	return found.plan(found.run())
}

// mistold tells one weight wrong.
func (tr *trial) mistold(t *rapid.T) {
	off := func(m string) string {
		return fmt.Sprintf("%.4f kg", number(t, m)*rapid.Float64Range(0.6, 1.5).Draw(t, "told wrong by"))
	}
	switch rapid.IntRange(0, 11).Draw(t, "wrong") {
	case 0:
		tr.told.Load.Mass, tr.wrong = off(tr.truth.Load.Mass), true
	case 1:
		tr.told.Puller.Mass, tr.wrong = off(tr.truth.Puller.Mass), true
	case 2:
		tr.told.Load.Mass, tr.told.Puller.Mass, tr.wrong = off(tr.truth.Load.Mass), off(tr.truth.Puller.Mass), true
	}
}

// correct puts right what was told wrong.
func (tr *trial) correct(t *rapid.T) {
	tr.told.Load.Mass, tr.told.Puller.Mass, tr.wrong = tr.truth.Load.Mass, tr.truth.Puller.Mass, false
}

// change lets something be otherwise, in the world and in what is told, or what
// was told wrong be put right.
func (tr *trial) change(t *rapid.T) string {
	what := rapid.SampledFrom([]string{"load", "puller", "puller", "puller", "its ground", "way", "its place", "better known", "put right"}).Draw(t, "change")
	if tr.wrong && (what == "load" || what == "puller" || what == "better known") {
		what = "put right"
	}
	both := func(set func(s *job.Sheet)) world {
		set(&tr.told)
		set(&tr.truth)
		return drawWorld(t, tr.truth)
	}
	kg := func(m string, lo, hi float64) string {
		return fmt.Sprintf("%.4f kg", min(9000, max(300, number(t, m)*rapid.Float64Range(lo, hi).Draw(t, "times")))) // what crews meet
	}
	ground := func(name string) string {
		return rapid.SampledFrom([]string{"gravel", "grass", "firm soil", "wet grass", "asphalt"}).Draw(t, name)
	}
	switch what {
	case "load":
		to := kg(tr.truth.Load.Mass, 0.5, 1.6)
		if n := len(tr.told.Seen); n > 0 && rapid.Bool().Draw(t, "as it was told before") {
			to = tr.told.Seen[rapid.IntRange(0, n-1).Draw(t, "in which try")].Load.Mass
		}
		tr.w.weight = both(func(s *job.Sheet) { s.Load.Mass = to }).weight
		for i := range tr.told.Seen {
			tr.told.Seen[i].Reloaded = ptr(true)
		}
	case "puller":
		to, name := kg(tr.truth.Puller.Mass, 0.3, 3), rapid.SampledFrom([]string{"", "truck", "tractor"}).Draw(t, "its name")
		tr.w.pullerWeight = both(func(s *job.Sheet) { p := *s.Puller; p.Mass, p.Name = to, name; s.Puller = &p }).pullerWeight
	case "its ground":
		to := ground("puller's ground")
		w := both(func(s *job.Sheet) { p := *s.Puller; p.Ground = to; s.Puller = &p })
		tr.w.grip, tr.w.pullerRolling = w.grip, w.pullerRolling
	case "way":
		to, slope := ground("load's ground"), fmt.Sprintf("%.4f deg", rapid.Float64Range(1, 14).Draw(t, "slope left"))
		depth := rapid.SampledFrom([]string{"none", "none", "hub"}).Draw(t, "depth left")
		locked := float64(rapid.IntRange(0, 1).Draw(t, "locked left")) * 0.25
		w := both(func(s *job.Sheet) {
			s.Load.Ground, s.Load.Slope, s.Load.Sunk, s.Load.Locked = to, slope, depth, &locked
		})
		tr.w.rolling, tr.w.sliding, tr.w.mire, tr.w.slope, tr.w.locked = w.rolling, w.sliding, w.mire, w.slope, w.locked
		tr.least, tr.elsewhere = nil, true // it was not alike
		for i := range tr.told.Seen {
			tr.told.Seen[i].Alike = ptr(false)
		}
	case "its place": // on such ground, but steeper or with less grip
		w := drawWorld(t, tr.truth)
		tr.w.grip, tr.w.pullerRolling, tr.w.pullerSlope = w.grip, w.pullerRolling, w.pullerSlope
	case "better known": // the same weights, told anew
		k, _ := handbook.MachineMassSpread()
		m, _, _ := handbook.MassSpread(tr.truth.Load.MassFrom)
		in := func(share float64) float64 { return 1 + share*rapid.Float64Range(-1, 1).Draw(t, "told by") }
		load, puller := fmt.Sprintf("%.4f kg", tr.w.weight/g0/in(0.99*float64(m))), fmt.Sprintf("%.4f kg", tr.w.pullerWeight/g0/in(0.99*float64(k)))
		both(func(s *job.Sheet) { p := *s.Puller; p.Mass, s.Load.Mass = puller, load; s.Puller = &p })
	case "put right":
		tr.correct(t)
	}
	return what
}

// try pulls in the world and tells what was seen there.
func (tr *trial) try(t *rapid.T) string {
	p := planned(t, tr.told)
	tr.apart = tr.apart || tr.elsewhere
	from, parts, leads := tackle.Moving, rapid.SampledFrom([]int{1, 1, 1, 2, 3, 4}).Draw(t, "parts tried"), 0
	if p.Tackle != nil && p.Tackle.Compound == nil && rapid.Bool().Draw(t, "as planned") {
		parts, leads = p.Tackle.Parts, p.Tackle.LeadBlocks
		if p.Tackle.HaulFrom == tackle.Standing.String() {
			from = tackle.Standing
		}
	} else if parts > 1 && rapid.Bool().Draw(t, "from the standing block") {
		from = tackle.Standing
	}
	need := tr.w.need()
	runs := solveRig(t, tackle.Reeving{Parts: parts, From: from}, leads, need, func(i int) float64 { return tr.w.eta[i] })
	per := runs[0] / need
	gives := tr.w.gives()
	w := job.SeenSheet{What: "move", Parts: &parts, HaulFrom: from.String(), Leads: &leads, Puller: nil}
	now := copied(t, tr.told)
	w.Load, w.By = &now.Load, now.Puller
	if now.Tackle != nil {
		w.Sheave = now.Tackle.Sheave
	}
	var on float64 // the haul line
	effort, _ := handbook.EffortStop()
	stopped := math.Inf(1)
	if p.Tackle != nil && p.Force != nil { // where a pull stops that moves nothing
		stopped = float64(effort) * reckonNeed(read(t, tr.told), view{}).force.Best.Newtons() * per
	}
	switch {
	case gives >= runs[0] && need > 0:
		over, _ := handbook.StartOverMoving()
		on = runs[0] / rapid.Float64Range(1, float64(over)).Draw(t, "eases by")
		if rapid.IntRange(0, 2).Draw(t, "a cell") == 0 {
			w.What, w.Moved = "reading", "30 cm"
		}
	case gives > stopped && stopped < runs[0] && stopped > 0:
		w.What, on = "stuck", stopped
	default:
		w.What, on = "slip", max(1, gives)
	}
	if w.What == "reading" || w.What == "slip" && gives > 1 && rapid.IntRange(0, 3).Draw(t, "a cell at the slip") == 0 {
		spread, _ := handbook.CellSpread()
		read := on / (1 + float64(spread)*rapid.Float64Range(-1, 1).Draw(t, "the cell is off"))
		if w.At = rapid.SampledFrom(job.SeenAts).Draw(t, "cell at"); w.At == AtLoad {
			read /= per
		}
		w.Force = fmt.Sprintf("%.6f N", read)
	}
	tr.told.Seen = append(tr.told.Seen, w)
	tr.further(t, w.What == "move" || w.What == "reading")
	return w.What
}

// further lets the load come to the way left: no worse than here where that is
// told, else anything that was told of it.
func (tr *trial) further(t *rapid.T, moved bool) {
	if !moved {
		return
	}
	tr.elsewhere = true
	w := drawWorld(t, tr.truth)
	last := &tr.told.Seen[len(tr.told.Seen)-1]
	if rapid.IntRange(0, 3).Draw(t, "alike") > 0 {
		last.Alike, tr.least = ptr(true), ptr(tr.w)
	}
	if a := tr.least; a != nil {
		w.rolling, w.sliding, w.mire, w.slope = min(w.rolling, a.rolling), min(w.sliding, a.sliding), min(w.mire, a.mire), min(w.slope, a.slope)
		if rapid.Bool().Draw(t, "just as bad") {
			w.rolling, w.sliding, w.mire, w.slope = a.rolling, a.sliding, a.mire, a.slope
		}
	}
	tr.w.rolling, tr.w.sliding, tr.w.mire, tr.w.slope = w.rolling, w.sliding, w.mire, w.slope
}
