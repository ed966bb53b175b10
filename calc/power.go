package calc

import (
	"fmt"
	"slices"

	"linetender/calc/bound"
	"linetender/calc/handbook"
	"linetender/calc/job"
	"linetender/calc/puller"
	"linetender/calc/unit"
)

// power is what one puller can give.
type power struct {
	see       view
	p         job.Puller
	path      string
	limits    []limit
	available *Force
	limit     string
	most      *unit.Force
	mostSum   func() string
	missing   []string // fields that available needs
	unmarked  bool     // a winch with no legible rating
	rating    []string // fields that a winch's rating needs
	loose     []string // fields that tell whether what bears a winch stays put
	tip       *Force
	tipSum    func() string
	tipNeeds  []string
	spanSlope unit.Angle // the steepest it may stand on when nobody told
	assumed   []Assumed
	left      bound.Ratio // of its pull, by where it slipped
	grip      bound.Ratio // of what the ground holds, by where another slipped
	anchored  bool        // an anchor is set down to hold it
	rope      *Length     // how thick what may be on its drum is; nil: not known
}

// limit is one thing that bounds what a puller gives.
type limit struct {
	name string
	f    Force
	rule string
	row  handbook.Row
	in   func() string // the sum for its least, as a person would key it in; nil when it was told
}

func (l limit) sum() string {
	if l.in == nil {
		return inNewtons(l.f.Low)
	}
	return l.in()
}

// machine reports whether the puller hauls by its own wheels or tracks.
func (w power) machine() bool { return w.p.Kind == "wheeled" || w.p.Kind == "tracked" }

// layered reports whether its rope is wound in layers that make it weaker: a
// winch's always, and a hand winch's until somebody says that rope or chain only
// runs through it, as in many a hoist.
func (w power) layered() bool { return drummed(w.p) && w.p.Layer > 0 }

// hitched reports whether its hitch is to be judged: a machine's always, and what
// carries a winch, which may tear off or tip as well. What an anchor holds needs
// no other bearer, and a hand winch hangs on one always; of these it is judged as
// soon as something is told.
func (w power) hitched() bool {
	return w.machine() || w.borne() || w.drums() && (w.p.Hitch != "" || w.p.HitchRating.Force != nil || w.p.HitchRating.Kind != "" || w.p.HitchHeight != nil)
}

// borne reports whether a vehicle alone keeps a winch where it is.
func (w power) borne() bool { return w.p.Kind == "winch" && !w.anchored }

func (w power) drums() bool { return w.p.Kind == "winch" || w.p.Kind == "hand-winch" }

func pullerPath(c job.Case, i int) string {
	if len(c.Pullers) == 1 {
		return "puller"
	}
	return fmt.Sprintf("pullers[%d]", i)
}

func reckonPower(c job.Case, i int, see view) power {
	w := power{see: see, left: 1, grip: 1, anchored: anchored(c), p: c.Pullers[i], path: pullerPath(c, i), spanSlope: way(c.Load.Slope, "").High}
	switch w.p.Kind {
	case "":
		w.missing = append(w.missing, w.path+".kind")
	case "people":
		w.people()
	case "winch", "hand-winch":
		w.winch(c)
	default:
		w.traction(c)
	}
	if r := w.p.HitchRating; w.hitched() && r.Force != nil && r.Kind != "unmarked" { // one that is unmarked counts nothing, and is refused by itself
		l := limit{name: "hitch", f: *r.Force, rule: "the hitch point's rating"} // of whatever kind the figure is, it bears no more than that
		if r.Kind == "breaking" {
			factor, row, _ := handbook.DesignFactor("hitch")
			l = limit{"hitch", r.Force.Scale(1 / float64(factor)), "what the hitch point breaks at ÷ design factor", row,
				func() string { return fmt.Sprintf("%s ÷ %s", inNewtons(r.Force.Low), in(float64(factor))) }}
		}
		w.limits = append(w.limits, l)
	}
	if c.Learnt != nil {
		w.lower(c.Learnt.Left[i], c.Learnt.Grip[i])
	}
	w.tipping(c)
	if w.tip != nil {
		w.limits = append(w.limits, limit{name: "tipping", f: *w.tip, in: w.tipSum, rule: "weight × (front share × wheelbase − height of its centre × climb) ÷ hitch height"})
	}
	if len(w.missing) > 0 || len(w.limits) == 0 {
		return w
	}
	least := w.limits[0]
	a := least.f
	for _, l := range w.limits[1:] {
		if l.f.Low < least.f.Low {
			least = l
		}
		a = Force{Low: min(a.Low, l.f.Low), Best: min(a.Best, l.f.Best), High: min(a.High, l.f.High)}
	}
	w.available, w.limit = &a, least.name
	return w
}

// atMost is what the puller can give at most by what was told, where that does not
// tell what it gives: what else bounds it only takes away.
func (w power) atMost() (Force, bool) {
	if w.available != nil || len(w.limits) == 0 {
		return Force{}, false
	}
	a := w.limits[0].f
	for _, l := range w.limits[1:] {
		a = Force{Low: min(a.Low, l.f.Low), Best: min(a.Best, l.f.Best), High: min(a.High, l.f.High)}
	}
	return a, true
}

// people pull no more than their feet hold. The figures of a steady pull are
// of level ground that holds; on ice or up a slope the feet slide first, by the
// grip of tyres where no table has that of boots.
//
// Source: derived, equilibrium of weight, friction and grade.
func (w *power) people() {
	for _, f := range []struct {
		name string
		told bool
	}{{"people", w.p.People != nil}, {"ground", w.p.Ground != ""}, {"slope", w.p.Slope != nil}} {
		if !f.told {
			w.missing = append(w.missing, w.path+"."+f.name)
		}
	}
	if w.p.People == nil {
		return
	}
	one, row := handbook.PersonPull()
	one = see(w.see, "puller.people", one)
	w.limits = append(w.limits, limit{"people", must(puller.People(*w.p.People, one)), "people × one person's steady pull", row,
		func() string { return fmt.Sprintf("%d × %s", *w.p.People, inNewtons(one.Low)) }})
	if w.p.Ground != "" && w.p.Slope != nil {
		mass, _ := handbook.PersonMass()
		s := puller.Stand{Mass: mass.Scale(float64(*w.p.People)), Way: way(*w.p.Slope, w.p.Pull), Driven: bound.Exactly(bound.Ratio(1))}
		s.Grip, _, _ = grip(w.p)
		s.Grip = w.see.ratio("puller.ground", s.Grip)
		w.limits = append(w.limits, limit{name: "traction", f: must(puller.Traction(s)), rule: "grip × people × one person's weight ± their grade", row: gripRow(w.p),
			in: func() string { return gripSum(s, false) }})
	}
	each, _ := handbook.PersonMost()
	most := each.Scale(float64(*w.p.People))
	w.most, w.mostSum = &most, func() string { return fmt.Sprintf("%d × %s", *w.p.People, inNewtons(each)) }
}

func (w *power) winch(c job.Case) {
	r := w.p.Rating
	switch {
	case r.Kind == "unmarked":
		w.unmarked = true
		w.missing = append(w.missing, w.path+".rating")
	case r.Force == nil || r.Kind == "":
		if r.Force == nil {
			w.rating = append(w.rating, w.path+".rating")
		}
		if r.Kind == "" {
			w.rating = append(w.rating, w.path+".rating_kind")
		}
		w.missing = append(w.missing, w.rating...)
		if r.Force != nil { // of whatever kind the figure is, it gives no more than that
			w.limits = append(w.limits, limit{name: "rating", f: *r.Force, rule: "the winch's rating"})
		}
	default:
		f := *r.Force
		if r.Kind == "breaking" {
			factor, _, _ := handbook.DesignFactor("hook")
			f = f.Scale(1 / float64(factor))
		}
		if w.p.Drum == nil {
			across, _ := handbook.DrumAcross(w.p.Kind == "hand-winch")
			w.assumed = append(w.assumed, Assumed{w.path + ".drum", num(across.Metres()) + " m", "nobody measured it; wraps of rope stay on it"})
		}
		left, row := bound.Exactly(bound.Ratio(1)), handbook.Row{}
		rule := "the winch's rating"
		if w.layered() {
			var ok bool
			w.rope = drumRope(c)
			if left, row, ok = leftOn(w.p, w.rope, w.p.Layer); !ok {
				w.rating = append(w.rating, w.path+".winch_layer")
				w.missing = append(w.missing, w.path+".winch_layer")
				break
			}
			left = w.see.ratio("puller.winch_layer", left)
			rule = fmt.Sprintf("the winch's rating × what is left at layer %d", w.p.Layer)
		}
		w.limits = append(w.limits, limit{"rating", must(puller.Winch(f, left)), rule, row,
			func() string { return fmt.Sprintf("%s × %s", inNewtons(f.Low), in(float64(left.Low))) }})
	}
	// What it sits on may be chocked, or dig in: no grip bounds what the winch gives.
	if r.Force != nil {
		stall, _ := handbook.StallOverRating()
		most := r.Force.High.Scale(float64(stall))
		w.most, w.mostSum = &most, func() string { return fmt.Sprintf("%s × %s", inNewtons(r.Force.High), in(float64(stall))) }
	}
	if w.p.Kind != "winch" || anchored(c) {
		return // the place of its anchor holds it
	}
	if w.p.Mass == nil {
		w.loose = append(w.loose, w.path+".mass")
	}
	if w.p.Ground == "" {
		w.loose = append(w.loose, w.path+".ground")
	}
	if w.p.Slope == nil {
		w.loose = append(w.loose, w.path+".slope")
	}
	if s, ok := w.stand(c); ok {
		s.Driven = bound.Exactly(bound.Ratio(1))
		w.limits = append(w.limits, limit{name: "traction", f: must(puller.Braked(s)), rule: "grip × weight of the braked winch vehicle ± its grade", row: gripRow(w.p),
			in: func() string { return gripSum(s, false) }})
	}
}

// stays is the pull at which what a winch sits on slides; not counted where an
// anchor holds it.
func (w power) stays() (Force, bool) {
	for _, l := range w.limits {
		if l.name == "traction" {
			return l.f.Scale(float64(min(w.left, w.grip))), true
		}
	}
	return Force{}, false
}

// anchored reports whether an anchor is set down to hold the puller.
func anchored(c job.Case) bool {
	return slices.ContainsFunc(c.Anchors, func(a job.Anchor) bool { return a.Use == "puller" })
}

func gripRow(p job.Puller) handbook.Row {
	_, row, _ := grip(p)
	return row
}

func grip(p job.Puller) (bound.Of[bound.Ratio], handbook.Row, bool) {
	if p.Kind == "tracked" {
		return handbook.GripTracked(p.Ground)
	}
	return handbook.Grip(p.Ground)
}

// stand places the puller on its ground; ok is false when mass or ground is
// not known.
func (w *power) stand(c job.Case) (s puller.Stand, ok bool) {
	if w.p.Mass == nil || w.p.Ground == "" {
		return s, false
	}
	s.Mass = *w.p.Mass
	if w.p.Slope != nil {
		s.Way = way(*w.p.Slope, w.p.Pull)
	} else {
		s.Way = way(c.Load.Slope, "")
		w.assumed = append(w.assumed, Assumed{w.path + ".slope", "± " + degrees(s.Way.High).String(), "nobody said what slope the puller stands on"})
	}
	s.Grip, _, _ = grip(w.p)
	s.Grip = w.see.ratio("puller.ground", s.Grip)
	s.Rolling, _, _ = handbook.Rolling(w.p.Ground)
	// Little grip goes with much rolling: the same soft ground does both.
	s.Rolling = w.see.against("puller.ground", s.Rolling)
	return s, true
}

func (w *power) traction(c job.Case) {
	s, ok := w.stand(c)
	if !ok {
		if w.p.Mass == nil {
			w.missing = append(w.missing, w.path+".mass")
		}
		if w.p.Ground == "" {
			w.missing = append(w.missing, w.path+".ground")
		}
	}
	switch {
	case w.p.Driven != nil:
		s.Driven = *w.p.Driven
	case w.p.Kind == "tracked":
		s.Driven = bound.Exactly(bound.Ratio(1))
		w.assumed = append(w.assumed, Assumed{w.path + ".driven", "1", "a tracked machine drives on its whole weight"})
	default:
		w.missing = append(w.missing, w.path+".driven")
	}
	if !ok {
		return
	}
	most := must(puller.Most(s))
	w.most, w.mostSum = &most, func() string { return mostGripSum(s) }
	if len(w.missing) == 0 {
		w.limits = append(w.limits, limit{"traction", must(puller.Traction(s)), "grip × driven weight − its own rolling ∓ its own grade", gripRow(w.p),
			func() string { return gripSum(s, true) }})
	}
}

func (w *power) tipping(c job.Case) {
	if w.p.Kind != "wheeled" {
		return
	}
	need := func(name string, known bool) {
		if !known {
			w.tipNeeds = append(w.tipNeeds, w.path+"."+name)
		}
	}
	p := w.p
	need("hitch_height", p.HitchHeight != nil)
	need("front_share", p.FrontShare != nil)
	need("wheelbase", p.Wheelbase != nil)
	need("cg_height", p.CGHeight != nil)
	need("mass", p.Mass != nil)
	if len(w.tipNeeds) > 0 {
		return
	}
	lean := way(c.Load.Slope, "")
	if p.Slope != nil {
		lean = way(*p.Slope, p.Pull)
	}
	t := must(puller.Tipping(puller.Frame{
		Mass: *p.Mass, Way: lean, FrontShare: *p.FrontShare,
		Wheelbase: *p.Wheelbase, CGHeight: *p.CGHeight, Hitch: *p.HitchHeight,
	}))
	w.tip = &t
	w.tipSum = func() string {
		weakest := func(way unit.Angle) float64 {
			return float64(p.FrontShare.Low)*p.Wheelbase.Low.Metres()*way.Cos() - p.CGHeight.High.Metres()*max(0, way.Sin())
		}
		way := lean.High
		if weakest(lean.Low) < weakest(way) {
			way = lean.Low
		}
		return fmt.Sprintf("max(0, %s × (%s × %s × cos(%s) − %s × max(0, sin(%s))) ÷ %s)", inNewtons(unit.Weight(p.Mass.Low)), in(float64(p.FrontShare.Low)),
			inMetres(p.Wheelbase.Low), inDeg(way), inMetres(p.CGHeight.High), inDeg(way), inMetres(p.HitchHeight.High))
	}
}

// gripSum is the sum for the least that a machine pulls, or that a braked one
// withstands. Of its ways the one that leaves it least is at an end.
func gripSum(s puller.Stand, rolls bool) string {
	k := float64(s.Grip.Low * s.Driven.Low)
	share := fmt.Sprintf("%s × %s", in(float64(s.Grip.Low)), in(float64(s.Driven.Low)))
	if rolls {
		k -= float64(s.Rolling.High)
		share = fmt.Sprintf("(%s − %s)", share, in(float64(s.Rolling.High)))
	}
	left := func(way unit.Angle) float64 { return k*way.Cos() - way.Sin() }
	way := s.Way.High
	if left(s.Way.Low) < left(way) {
		way = s.Way.Low
	}
	return fmt.Sprintf("max(0, %s × (%s × cos(%s) − sin(%s)))", inNewtons(unit.Weight(s.Mass.Low)), share, inDeg(way), inDeg(way))
}

// mostGripSum is the sum for the most that grip can ever give.
func mostGripSum(s puller.Stand) string {
	flattest := min(max(0, s.Way.Low), s.Way.High)
	return fmt.Sprintf("%s × (%s × cos(%s) + max(0, −sin(%s)))", inNewtons(unit.Weight(s.Mass.High)), in(float64(s.Grip.High)), inDeg(flattest), inDeg(s.Way.Low))
}

// hitchRefused says why a kind of hitch point may not pull, or not carry a
// winch, "" when it may. These are blocks by kind: the sums may pass and people
// have died.
func hitchRefused(kind string, winch bool) string {
	if slices.Contains([]string{"drawbar", "rated-point", ""}, kind) || winch && kind == "frame" {
		return ""
	}
	why, ok := map[string]string{
		"top-link":    "a hitch above the axle tips the machine over backward",
		"three-point": "its arms can lift the line above the axle and tip the machine over backward",
		"axle":        "an axle is no hitch: a line on it climbs and tips the machine over backward",
		"ball":        "a ball breaks off and flies along the line",
		"bumper":      "a bumper is no tow point",
		"loader":      "a loader is no pulling point: raised, it tips the machine",
		"roll-bar":    "a roll bar is above the axle and tips the machine over backward",
	}[kind]
	switch {
	case winch && ok:
		return why + "; make the winch fast to a rated point on the frame, or to an anchor"
	case winch:
		return "only the frame or a rated point on it, or an anchor, may carry it"
	case ok && (kind == "ball" || kind == "bumper"):
		return why + "; use the drawbar or a rated point"
	case ok:
		return why + "; use the drawbar"
	}
	return "only a drawbar or a rated point at or below the axle may pull"
}

// HitchRefused reports whether a kind of hitch point may not pull at all.
func HitchRefused(kind string) bool { return hitchRefused(kind, false) != "" }

// TowPointRefused reports whether nothing may be made fast to a kind of point on
// the stuck vehicle.
func TowPointRefused(kind string) bool { return towPointRefused(kind) != "" }

// towPointRefused is hitchRefused for the stuck vehicle.
func towPointRefused(kind string) string {
	switch kind {
	case "rated-eye", "frame", "":
		return ""
	case "hitch-ball":
		return "a ball breaks off and flies along the line"
	case "bumper":
		return "it is made to crumple, and comes off with the line"
	case "tie-down":
		return "it is made for the force of a lashing, not of a pull"
	case "suspension":
		return "steering and suspension bend or tear out"
	}
	return "only a rated point or the frame may be pulled on"
}

// spoken is a kind of tow point as a sentence has it.
func spoken(kind string) string {
	if s, ok := map[string]string{"hitch-ball": "hitch ball", "suspension": "suspension part", "other": "point of another kind"}[kind]; ok {
		return s
	}
	return kind
}

// spokenHitch is a kind of hitch point as a sentence has it.
func spokenHitch(kind string) string {
	if s, ok := map[string]string{"top-link": "top link", "three-point": "three-point arms", "roll-bar": "roll bar", "other": "hitch of another kind"}[kind]; ok {
		return s
	}
	return kind
}
