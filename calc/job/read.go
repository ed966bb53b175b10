package job

import (
	"fmt"
	"slices"
	"strings"

	"linetender/calc/bound"
	"linetender/calc/handbook"
	"linetender/calc/unit"
)

// reader reads a sheet field by field and keeps the first refusal, so that
// the reading below is one line a field.
type reader struct {
	err      error
	supplied []Supplied
	partly   bool // what must be there may still be missing
}

func (r *reader) fail(err error) {
	if r.err == nil {
		r.err = err
	}
}

func (r *reader) supply(field, value, why string) {
	r.supplied = append(r.supplied, Supplied{Field: field, Value: value, Why: why})
}

// Case reads the sheet's quantities and words.
//
// Errors: *FieldError for a quantity or word that can't be read, a quantity
// outside what a recovery can have, or a missing one of load.mass,
// load.slope, load.pull and load.ground.
func (s Sheet) Case() (Case, error) {
	c, err := s.read(&reader{})
	if err != nil {
		return Case{}, err
	}
	c.Odd = s.odds(c)
	return c, nil
}

// Check returns the error that [Sheet.Case] would, and makes no case.
func (s Sheet) Check() error {
	_, err := s.read(&reader{})
	return err
}

// CheckPartly is [Sheet.Check] of a sheet that is not told to its end: what must be
// there may be missing, and what is there must be right.
func (s Sheet) CheckPartly() error {
	_, err := s.read(&reader{partly: true})
	return err
}

// read is Case without what is doubtful of it.
func (s Sheet) read(r *reader) (Case, error) {
	c := Case{
		Load:     r.load("load", s.Load),
		Distance: r.length("distance", s.Distance),
		Lead:     r.length("lead", s.Lead),
		Reach:    r.length("reach", s.Reach),

		HoldReach: r.length("holding_reach", s.HoldReach),
		Crew:      s.Crew,
		Signed:    s.Signed,
	}
	if s.Puller != nil && len(s.Pullers) > 0 {
		r.fail(refuse("pullers", "give either puller or pullers, not both"))
	}
	if s.Puller != nil {
		c.Pullers = append(c.Pullers, r.puller("puller", *s.Puller))
	}
	for i, p := range s.Pullers {
		at := fmt.Sprintf("pullers[%d]", i)
		c.Pullers = append(c.Pullers, r.puller(at, p))
		for j, q := range s.Pullers[:i] {
			if name := strings.TrimSpace(p.Name); name != "" && strings.EqualFold(name, strings.TrimSpace(q.Name)) {
				r.fail(refuse(at+".name", "pullers[%d] is called %q too, and a plan says by name which one pulls; give each a name of its own", j, clip(name)))
			}
		}
	}
	if s.Tackle != nil {
		c.Tackle = r.tackle(*s.Tackle)
	}
	for i, a := range s.Anchors {
		c.Anchors = append(c.Anchors, r.anchor(fmt.Sprintf("anchors[%d]", i), a))
	}
	if s.Gear != nil { // an empty list says that there is none
		c.Gear = make([]Gear, 0, len(s.Gear))
	}
	for i, g := range s.Gear {
		c.Gear = append(c.Gear, r.gear(fmt.Sprintf("gear[%d]", i), g))
	}
	if s.Crew != nil && *s.Crew < 0 {
		r.fail(refuse("crew", "%d people can't be; write how many are there", *s.Crew))
	}
	if s.Hazards != nil {
		c.Asked = true
		for i, h := range *s.Hazards {
			h = r.word(fmt.Sprintf("hazards[%d]", i), h, HazardKinds)
			if !slices.Contains(c.Hazards, h) {
				c.Hazards = append(c.Hazards, h)
			}
		}
		slices.SortFunc(c.Hazards, func(a, b string) int {
			return slices.Index(HazardKinds, a) - slices.Index(HazardKinds, b)
		})
	}
	c.GearMore = s.GearMore != nil && *s.GearMore
	c.HoldingMore = s.HoldingMore != nil && *s.HoldingMore
	if s.Site != nil {
		c.Site = Site{SiteSheet: *s.Site}
		c.Site.Chock = r.length("site.chock_height", s.Site.ChockHeight)
		if s.Site.HoldingSlack != "" {
			c.Site.Slack = zeroable(r, "site.holding_slack", s.Site.HoldingSlack, bound.ReadLength)
		}
	}
	for i, w := range s.Seen {
		c.Seen = append(c.Seen, r.seen(fmt.Sprintf("seen[%d]", i), w, len(c.Pullers)))
	}
	for i, g := range s.Signed {
		r.signature(fmt.Sprintf("signed[%d]", i), g)
	}
	if r.err != nil {
		return Case{}, r.err
	}
	c.Supplied = r.supplied
	return c, nil
}

func (r *reader) load(path string, s LoadSheet) Load {
	mass := r.loadMass(path, s)
	for _, must := range []struct{ name, value, like string }{
		{"mass", s.Mass, "2400 kg"}, {"slope", s.Slope, "14 deg"},
		{"pull", s.Pull, "uphill"}, {"ground", s.Ground, "wet grass"},
	} {
		if must.value == "" && !r.partly {
			r.fail(refuse(path+"."+must.name, "this must be there; write it, such as %q", must.like))
		}
	}
	l := Load{
		Pull:   r.word(path+".pull", s.Pull, Pulls),
		Ground: handbook.Ground(r.word(path+".ground", s.Ground, grounds())),
		Sunk:   r.word(path+".sunk", s.Sunk, Depths),
		Locked: r.share(path+".locked", s.Locked),
		Belly:  s.Belly,
	}
	l.Mass = mass
	l.Guessed = s.MassFrom == "guess" || slices.ContainsFunc(r.supplied, func(v Supplied) bool { return v.Field == path+".mass_from" })
	if slope, in := r.slopeTold(path+".slope", s.Slope, path+".slope_from", s.SlopeFrom); slope != nil {
		l.Slope = *slope
		if in == "level" || in == "board" {
			l.SlopeTold = in
		}
	}
	l.OffLine = r.offLine(path+".off_line", s.OffLine, s.OffLineFrom)
	l.SideSlope = r.slope(path+".side_slope", s.SideSlope, path+".side_slope_from", s.SideSlopeFrom)
	l.Lip = r.lip(path+".lip", s.Lip)
	l.WheelRadius = r.length(path+".wheel_radius", s.WheelRadius)
	l.TowPoint = r.towPoint(path+".tow_point", s.TowPoint)
	l.HoldingPoint = r.towPoint(path+".holding_point", s.HoldingPoint)
	return l
}

func (r *reader) loadMass(path string, s LoadSheet) Mass {
	from := r.word(path+".mass_from", s.MassFrom, MassFroms)
	if s.Mass == "" {
		return Mass{}
	}
	read, err := bound.ReadMass(s.Mass)
	if err != nil {
		r.refused(path+".mass", err)
		return Mass{}
	}
	r.mass(path+".mass", s.Mass, read.Value)
	if from == "" {
		from = "guess"
		r.supply(path+".mass_from", "guess", "nobody said how the weight was found")
	}
	if read.Ends {
		from = "weighed"
	}
	spread, _, _ := handbook.MassSpread(from)
	return atLeast(read, spread)
}

func (r *reader) lip(path string, s LipSheet) *Lip {
	if s.None {
		return &Lip{None: true}
	}
	if s == (LipSheet{}) {
		return nil
	}
	h := r.length(path+".height", s.Height)
	radius := r.length(path+".wheel_radius", s.WheelRadius)
	if h == nil || radius == nil {
		r.fail(refuse(path, "a step needs both its height and the wheel's radius, such as 20 cm and 38 cm; write null for no step"))
		return nil
	}
	if s.AxleShare != nil && *s.AxleShare == 0 {
		r.fail(refuse(path+".axle_share", "0 can't be, since some axle meets the step; write its share of the weight, such as 0.5, leave it out while nobody knows, or write null for no step"))
	}
	if h.Low == h.High { // nobody told how well it was measured
		spread, _ := handbook.StepSpread()
		*h = Length{Low: max(0, h.Low-spread), Best: h.Best, High: h.High + spread}
	}
	return &Lip{Height: *h, Radius: *radius, AxleShare: r.share(path+".axle_share", s.AxleShare)}
}

func (r *reader) towPoint(path string, s *TowPointSheet) *TowPoint {
	if s == nil {
		return nil
	}
	t := &TowPoint{
		Kind:       r.word(path+".kind", s.Kind, TowPoints),
		Rating:     r.rating(path, s.Rating, s.RatingKind),
		Condition:  r.word(path+".condition", s.Condition, Conditions),
		Count:      count(s.Count),
		Equalised:  s.Equalised != nil && *s.Equalised,
		SlingAngle: r.slingAngle(path, s.SlingAngle),
		Shared:     s.Shared != nil && *s.Shared,
	}
	if t.Shared && path != "load.holding_point" {
		r.fail(refuse(path+".shared", "only a holding point can be shared; write it under load.holding_point"))
	}
	if t.SlingAngle != nil && t.Count == 1 {
		r.fail(refuse(path+".sling_angle", "one point has no legs that lean; write how many the bridle spans as count, or leave it out"))
	}
	if t.Count < 1 {
		r.fail(refuse(path+".count", "%d can't be; write a whole number from 1", t.Count))
	}
	return t
}

func (r *reader) slingAngle(path, text string) *Angle {
	if text == "" {
		return nil
	}
	a := zeroable(r, path+".sling_angle", text, bound.ReadAngle)
	if a != nil && a.High > unit.Degrees(90) {
		r.fail(refuse(path+".sling_angle", "%q can't be; write the angle from the line of pull to a leg, from 0 to 90 deg", text))
	}
	return a
}

func (r *reader) puller(path string, s PullerSheet) Puller {
	p := Puller{
		Name:        s.Name,
		Kind:        r.word(path+".kind", s.Kind, PullerKinds),
		Driven:      r.share(path+".driven", s.Driven),
		Pull:        r.word(path+".pull", s.Pull, Pulls),
		Ground:      handbook.Ground(r.word(path+".ground", s.Ground, grounds())),
		Rating:      r.rating(path, s.Rating, s.RatingKind),
		Drum:        r.length(path+".drum", s.Drum),
		Capstan:     s.Capstan != nil && *s.Capstan,
		HitchRating: r.rated(path+".hitch_rating", s.HitchRating, s.HitchRatingKind),
		People:      s.People,
		Run:         r.length(path+".run", s.Run),
		Hitch:       r.word(path+".hitch", s.Hitch, Hitches),
		HitchHeight: r.length(path+".hitch_height", s.HitchHeight),
		AxleHeight:  r.length(path+".axle_height", s.AxleHeight),
		FrontShare:  r.share(path+".front_share", s.FrontShare),
		Wheelbase:   r.length(path+".wheelbase", s.Wheelbase),
		CGHeight:    r.length(path+".cg_height", s.CGHeight),
		Rollover:    s.Rollover,
		Slope:       r.slope(path+".slope", s.Slope, path+".slope_from", s.SlopeFrom),
		SideSlope:   r.slope(path+".side_slope", s.SideSlope, path+".side_slope_from", s.SideSlopeFrom),
	}
	p.Mass = r.machineMass(path+".mass", s.Mass)
	if s.WinchLayer != nil {
		p.Layer = *s.WinchLayer
	} else if p.Kind == "winch" || p.Kind == "hand-winch" && !p.Capstan {
		p.Layer, _ = handbook.LastLayer()
		p.LayerUntold = true
		r.supply(path+".winch_layer", fmt.Sprint(p.Layer), "nobody said how many layers are on the drum")
	}
	if s.WinchLayer != nil && *s.WinchLayer < 1 {
		r.fail(refuse(path+".winch_layer", "%d can't be; write a whole number from 1", *s.WinchLayer))
	}
	if s.People != nil && *s.People < 1 {
		r.fail(refuse(path+".people", "%d can't be; write a whole number from 1", *s.People))
	}
	return p
}

// machineMass reads the mass of a puller or of a machine that is an anchor,
// which people add up from its plate, and lays the spread of that about it.
func (r *reader) machineMass(path, text string) *Mass {
	if text == "" {
		return nil
	}
	read, err := bound.ReadMass(text)
	if err != nil {
		r.refused(path, err)
		return nil
	}
	r.mass(path, text, read.Value)
	spread, _ := handbook.MachineMassSpread()
	if read.Ends {
		spread, _, _ = handbook.MassSpread("weighed")
	}
	m := atLeast(read, spread)
	return &m
}

func (r *reader) tackle(s TackleSheet) Tackle {
	t := Tackle{
		HaulFrom: r.word("tackle.haul_from", s.HaulFrom, HaulFroms),
		Sheave:   r.word("tackle.sheave", s.Sheave, Sheaves),
	}
	if s.Parts != nil {
		if t.Parts = *s.Parts; t.Parts < 1 || t.Parts > MaxParts {
			r.fail(refuse("tackle.parts", "%d parts can't be rove; write a whole number from 1 to %d", t.Parts, MaxParts))
		}
	}
	if s.LeadBlocks != nil {
		if t.LeadBlocks = s.LeadBlocks; *t.LeadBlocks < 0 || *t.LeadBlocks > MaxParts {
			r.fail(refuse("tackle.lead_blocks", "%d lead blocks can't be; write a whole number from 0 to %d", *t.LeadBlocks, MaxParts))
		}
	}
	if s.LeadAngle != "" {
		t.LeadAngle = zeroable(r, "tackle.lead_angle", s.LeadAngle, bound.ReadAngle)
		if t.LeadAngle != nil && t.LeadAngle.High > unit.Degrees(180) {
			r.fail(refuse("tackle.lead_angle", "%q can't be; write the inside angle between the two lines, from 0 to 180 deg", s.LeadAngle))
		}
	}
	return t
}

// MaxParts is the largest number of parts, and of lead blocks, that a case
// takes. With the smoothest sheaves known the gain is long flat by then.
const MaxParts = 30

func (r *reader) anchor(path string, s AnchorSheet) Anchor {
	a := Anchor{
		Name: s.Name, Alive: s.Alive, Lean: s.Lean, TiedBack: s.TiedBack, StrapHeld: s.StrapHeld,
		Chocked: s.Chocked, Braked: s.Braked, InLine: s.InLine,
		Ground:    handbook.Ground(r.word(path+".ground", s.Ground, grounds())),
		Slope:     r.slope(path+".slope", s.Slope, path+".slope_from", s.SlopeFrom),
		Kind:      r.word(path+".kind", s.Kind, AnchorKinds),
		Use:       r.word(path+".use", s.Use, AnchorUses),
		Pattern:   r.word(path+".pattern", s.Pattern, Patterns),
		Soil:      r.word(path+".soil", s.Soil, Soils),
		Diameter:  r.length(path+".diameter", s.Diameter),
		Length:    r.length(path+".length", s.Length),
		Depth:     r.length(path+".depth", s.Depth),
		Rating:    r.rating(path, s.Rating, s.RatingKind),
		Equalised: s.Equalised != nil && *s.Equalised,
	}
	if s.Kind == "" {
		r.fail(refuse(path+".kind", "say what it is: %s", strings.Join(AnchorKinds, ", ")))
	}
	if s.StrapHeld != nil && s.Kind != "tree" && s.Kind != "stump" {
		r.fail(refuse(path+".strap_held", "a strap slides up a tree or a stump; write it with one of these kinds, or leave it out"))
	}
	a.Mass = r.machineMass(path+".mass", s.Mass)
	a.SlingAngle = r.slingAngle(path, s.SlingAngle)
	return a
}

func (r *reader) gear(path string, s GearSheet) Gear {
	g := Gear{
		Kind:      r.word(path+".kind", s.Kind, GearKinds),
		Use:       r.word(path+".use", s.Use, GearUses),
		Name:      s.Name,
		Count:     count(s.Count),
		Rating:    r.rating(path, s.Rating, s.RatingKind),
		Material:  r.word(path+".material", s.Material, Materials),
		Diameter:  r.length(path+".diameter", s.Diameter),
		Length:    r.length(path+".length", s.Length),
		Sheaves:   count(s.Sheaves),
		Equalised: s.Equalised != nil && *s.Equalised,
		Condition: r.word(path+".condition", s.Condition, Conditions),

		Improvised: s.Improvised,
	}
	if s.Kind == "" {
		r.fail(refuse(path+".kind", "say what it is: %s", strings.Join(GearKinds, ", ")))
	}
	if g.Count < 1 || g.Sheaves < 1 {
		r.fail(refuse(path, "count and sheaves are whole numbers from 1"))
	}
	if improvised := true; makeshift(s.Name) && (g.Improvised == nil || !*g.Improvised) {
		g.Improvised = &improvised
		r.supply(path+".improvised", "true", fmt.Sprintf("what is called %q was not made to pull with", clip(s.Name)))
	}
	g.SlingAngle = r.slingAngle(path, s.SlingAngle)
	if g.SlingAngle != nil && !Slung(g.Kind) {
		r.fail(refuse(path+".sling_angle", "only a sling, a strap or a chain has legs that lean; write it with one of these kinds, or leave it out"))
	}
	g.SlingHitch = r.word(path+".sling_hitch", s.SlingHitch, SlingHitches)
	if g.SlingHitch != "" && !Slung(g.Kind) {
		r.fail(refuse(path+".sling_hitch", "only a sling, a strap or a chain is put on so; write it with one of these kinds, or leave it out"))
	}
	if s.SideAngle != "" {
		g.SideAngle = zeroable(r, path+".side_angle", s.SideAngle, bound.ReadAngle)
		switch {
		case g.Kind != "shackle":
			r.fail(refuse(path+".side_angle", "only a shackle is pulled aside; write it with kind shackle, or leave it out"))
		case g.SideAngle != nil && g.SideAngle.High > unit.Degrees(90):
			r.fail(refuse(path+".side_angle", "%q can't be; write the angle of the pull out of the line from bow to pin, from 0 to 90 deg", clip(s.SideAngle)))
		}
	}
	if s.Knots != nil {
		if len(*s.Knots) > 0 && g.Kind != "rope" && !Slung(g.Kind) {
			r.fail(refuse(path+".knots", "there is no knot in a %s; write it with the rope, or leave the list empty", g.Kind))
		}
		g.KnotsTold = true
		for i, k := range *s.Knots {
			if strings.TrimSpace(k) == "" {
				r.fail(refuse(fmt.Sprintf("%s.knots[%d]", path, i), "name the knot, such as bowline, or leave the list empty"))
			}
			g.Knots = append(g.Knots, k)
		}
	}
	return g
}
