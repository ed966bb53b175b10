package calc

import (
	"cmp"
	"math"
	"slices"

	"linetender/calc/bound"
	"linetender/calc/handbook"
	"linetender/calc/job"
	"linetender/calc/motion"
	"linetender/calc/tackle"
	"linetender/calc/unit"
)

// rig is one way to rope the job: a tackle, perhaps a second one that hauls
// its haul line, and lead blocks.
type rig struct {
	first  tackle.Reeving
	second tackle.Reeving // no parts: there is none
	leads  int
}

// compound reports whether one tackle hauls another.
func (r rig) compound() bool { return r.second.Parts > 0 }

// parts is how far the haul line comes out for each length the load moves.
func (r rig) parts() int {
	if r.compound() {
		return r.first.Parts * r.second.Parts
	}
	return r.first.Parts
}

// straight reports whether there is no block at all.
func (r rig) straight() bool { return r.first.Straight() && !r.compound() && r.leads == 0 }

// strain is what a rig puts on each thing.
type strain struct {
	eta       Ratio
	advantage Ratio // of the tackles, lead blocks not counted
	tensions  []unit.Force
	haul      Force
	manual    unit.Force
	anchor    Force
	lead      Force
	places    []place
	travel    *Length
	rope      *Length
	rope2     unit.Length // of a second tackle
	compound  *Compound
}

// place is one thing that the load path must have.
type place struct {
	use     string
	kinds   []string // of gear that may serve; nil for an anchor
	tension unit.Force
	perHaul float64     // highest tension for a unit of haul at the puller
	sheaves int         // that a block must have in all
	rope    unit.Length // that a rope must have
	whole   bool        // the rope may be made of several joined end to end
	wrap    unit.Length // one wrap of a rope that a drum takes in; 0 where none does
	more    unit.Force  // on it besides what the haul puts there at the puller's most
	hold    bool        // of the holding line: not hauled
	joint   bool        // it joins two lengths of a straight line
	winch   bool        // it makes the winch fast that pulls
	single  bool        // of a fixed place, that one line alone is on it

	compound bool // of one of two tackles
}

// peak is what a place takes at the puller's most. The holding line takes none
// where the puller does not pull against it.
func (pl place) peak(most *unit.Force) *unit.Force {
	if most == nil || pl.hold && pl.perHaul == 0 {
		return nil
	}
	v := most.Scale(pl.perHaul) + pl.more
	return &v
}

// onLoad is what the load takes for a unit of haul.
func (s strain) onLoad() float64 {
	for _, pl := range s.places {
		if pl.use == "moving-block" {
			return pl.perHaul
		}
	}
	return 1
}

// What may serve: as a haul line over sheaves, as a straight one, as a block.
var (
	roped  = []string{"rope"}
	lines  = []string{"rope", "chain", "strap"}
	blocks = []string{"block"}
)

var joiners = []string{"shackle", "sling", "strap", "chain", "hook", "link"}

// Round a trunk, a stump, a log or stakes goes a strop; no shackle, hook or link closes
// round one.
var (
	rounders   = []string{"sling", "strap", "chain"}
	roundKinds = []string{"tree", "stump", "deadman", "picket"}
)

// ties are what may make a block fast to an anchor of this use. Where several may
// serve, and one of them has no eye, it is what goes round that one.
func ties(c job.Case, use string) []string {
	pinned := slices.ContainsFunc(c.Anchors, func(a job.Anchor) bool { return a.Use == use })
	for _, a := range c.Anchors {
		if (a.Use == use || a.Use == "" && !pinned) && slices.Contains(roundKinds, a.Kind) {
			return rounders
		}
	}
	return joiners
}

// goesRound reports whether kinds are those that go round an anchor.
func goesRound(kinds []string) bool { return slices.Equal(kinds, rounders) }

// sheaves returns what share of its tension a rope keeps over each. What nobody knows
// spans both kinds: plain ones ask more of the puller, rollers pass on more to the
// anchor and to every part.
func sheaves(t job.Tackle, see view) (Ratio, handbook.Row) {
	kind := cmp.Or(t.Sheave, "plain")
	eta, row, _ := handbook.SheaveEfficiency(kind)
	if t.Sheave == "" {
		smooth, _, _ := handbook.SheaveEfficiency("roller")
		eta.High = max(eta.High, smooth.High)
	}
	return see.ratio("tackle.sheave", eta), row
}

func reckonStrain(c job.Case, n need, r rig, see view) strain { return strainIn(nil, c, n, r, see) }

// strainIn is reckonStrain with its places in memory that may be used anew.
func strainIn(places []place, c job.Case, n need, r rig, see view) strain {
	s := strain{places: places}
	s.eta, _ = sheaves(c.Tackle, see)
	pull := n.pull()
	a1 := must(tackle.Advantage(r.first, s.eta))
	s.advantage = a1
	line := firstLine(pull, r, a1)
	s.tensions = must(tackle.Tensions(r.first, pull.High, s.eta.Low))
	s.anchor = must(tackle.Anchor(r.first, pull, s.eta))
	count := r.first.Sheaves()
	haul := line
	a2 := bound.Exactly(bound.Ratio(1))
	if r.compound() {
		a2 = must(tackle.Advantage(r.second, s.eta))
		haul = split(line, a2)
		s.advantage = Ratio{Low: a1.Low * a2.Low, Best: a1.Best * a2.Best, High: a1.High * a2.High}
		count += r.second.Sheaves()
	}
	s.haul = must(tackle.Lead(haul, r.leads, s.eta))
	s.manual = manualHaul(pull.High, r.parts(), count+r.leads)
	s.haul.High = max(s.haul.High, s.manual)
	if r.compound() {
		s.compound = &Compound{Parts: r.second.Parts, Advantage: s.advantage, Haul: s.haul}
	}
	angle := bound.Exactly(unit.Angle(0))
	if c.Tackle.LeadAngle != nil {
		angle = *c.Tackle.LeadAngle
	}
	if r.leads > 0 { // the wider the angle, the less is on the block
		s.lead = Force{
			Low:  must(tackle.BlockLoad(s.haul.Low, angle.High)),
			Best: must(tackle.BlockLoad(s.haul.Best, angle.Best)),
			High: must(tackle.BlockLoad(s.haul.High, angle.Low)),
		}
	}
	s.way(c, r)
	s.list(c, n, r, a1, a2)
	return s
}

// manualHaul is what the manuals' rule has a tackle take.
func manualHaul(pull unit.Force, parts, sheaves int) unit.Force {
	share, _ := handbook.ManualRulePerSheave()
	haul, _, err := tackle.Manual(pull, parts, sheaves, share)
	return must(haul, err)
}

// firstLine is the haul line of the first tackle, which of a compound the second one
// hauls: as the haul at the puller it is the worse of friction and of the manuals' rule.
func firstLine(pull Force, r rig, a1 Ratio) Force {
	line := split(pull, a1)
	if r.compound() {
		line.High = max(line.High, manualHaul(pull.High, r.first.Parts, r.first.Sheaves()))
	}
	return line
}

// closes is how far the second tackle of a compound has to close: by all that the first
// one's haul line travels. Its blocks then stand apart. The distance must be known.
func closes(c job.Case, r rig) unit.Length {
	apart, _ := handbook.BlocksApart()
	return must(motion.Travel(*c.Distance, r.first.Parts)).High + apart
}

// split divides a force by an advantage: most where the force is most and the
// sheaves are poorest.
func split(f Force, a Ratio) Force {
	return Force{Low: f.Low.Scale(1 / float64(a.High)), Best: f.Best.Scale(1 / float64(a.Best)), High: f.High.Scale(1 / float64(a.Low))}
}

func (s *strain) way(c job.Case, r rig) {
	if c.Distance != nil {
		t := must(motion.Travel(*c.Distance, r.parts()))
		s.travel = &t
	}
	if c.Reach != nil && c.Lead != nil {
		more, tail, _ := handbook.RopeAllowance()
		rope := must(motion.Rope(r.first.Parts, *c.Reach, *c.Lead, more, tail))
		s.rope = &rope
		if r.compound() {
			// It stands open by as much as it closes at least, and may span the reach too.
			span := *c.Reach
			if c.Distance != nil {
				span.High = max(span.High, closes(c, r))
			}
			s.rope2 = must(motion.Rope(r.second.Parts, span, *c.Lead, more, tail)).High
		}
	}
}

// list names every place of the load path between load and puller.
func (s *strain) list(c job.Case, n need, r rig, a1, a2 Ratio) {
	pull := n.pullHigh()
	lose := math.Pow(float64(s.eta.High), float64(r.leads))
	onLoad := float64(a1.High*a2.High) * lose // force on the load for a unit of haul
	dead := must(tackle.HeldDeadEnd(r.first, pull, s.eta.Low))
	rope := max(slices.Max(s.tensions), dead)
	ropePer := math.Max(float64(a2.High)*lose, 1)
	if r.compound() {
		rope = max(rope, firstLine(n.pull(), r, a1).High)
	} else {
		rope, ropePer = max(rope, s.haul.High), 1
	}
	var need, second unit.Length
	if s.rope != nil {
		need, second = s.rope.High, s.rope2
	}
	s.places = slices.Grow(s.places, 12)
	kinds := roped
	if r.straight() {
		kinds = lines
	}
	add := func(p place) { s.places = append(s.places, p) }
	add(place{use: "haul", kinds: kinds, tension: rope, perHaul: ropePer, rope: need, whole: r.straight(), compound: r.compound()})
	round := ties(c, "standing")
	s.blocks(r.first, round, pull, onLoad, s.anchor.High)
	if r.compound() {
		line := firstLine(n.pull(), r, a1)
		add(place{use: "haul", kinds: roped, tension: s.haul.High, perHaul: 1, rope: second, compound: true})
		s.blocks(r.second, round, line.High, float64(a2.High)*lose, must(tackle.Anchor(r.second, line, s.eta)).High)
	}
	for range r.leads {
		per := 0.0
		if s.haul.High > 0 {
			per = float64(s.lead.High) / float64(s.haul.High)
		}
		add(place{use: "lead-block", kinds: blocks, tension: s.lead.High, perHaul: per, sheaves: 1})
		add(place{use: "lead-block", kinds: ties(c, "lead"), tension: s.lead.High, perHaul: per})
		add(place{use: "lead", tension: s.lead.High, perHaul: per})
	}
}

// blocks lists one tackle's blocks, what joins them and its anchor. The
// moving side carries the whole force; the fixed side the sum of its lines.
func (s *strain) blocks(r tackle.Reeving, round []string, pull unit.Force, onLoad float64, anchor unit.Force) {
	fixedPer := onLoad
	if a := float64(must(tackle.Advantage(r, s.eta)).High); r.From == tackle.Moving {
		fixedPer *= 1 - 1/a
	} else {
		fixedPer *= 1 + 1/a
	}
	if k := r.MovingSheaves(); k > 0 {
		s.places = append(s.places,
			place{use: "moving-block", kinds: blocks, tension: pull, perHaul: onLoad, sheaves: k},
			place{use: "load", kinds: joiners, tension: pull, perHaul: onLoad})
	}
	k := r.StandingSheaves()
	if k > 0 {
		s.places = append(s.places, place{use: "standing-block", kinds: blocks, tension: anchor, perHaul: fixedPer, sheaves: k})
	}
	// The dead end alone needs a strop too where its anchor has no eye; on one that
	// has, what joins it is asked on the spot.
	if k > 0 || !r.Straight() && goesRound(round) {
		s.places = append(s.places, place{use: "anchor", kinds: round, tension: anchor, perHaul: fixedPer, single: k == 0})
	}
	if !r.Straight() {
		s.places = append(s.places, place{use: "standing", tension: anchor, perHaul: fixedPer, single: k == 0})
	}
}
