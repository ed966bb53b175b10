package job

import (
	"cmp"
	"fmt"
	"math"
	"regexp"
	"slices"
	"strings"

	"linetender/calc/bound"
	"linetender/calc/handbook"
	"linetender/calc/unit"
)

// An Odd is a figure that can be and hardly is: a slip of unit or of a decimal
// point, as a rule. It is kept as it was told and never put right; a plan waits
// until somebody says that it is so.
type Odd struct {
	Field string
	Told  string
	Text  string // what it is, what would be likely, and what was perhaps meant
	Meant string // the same figure in a likely unit; "" where none is
	never bool   // it can't be, however sure somebody is
}

// A size is what a thing of the trade measures, by the handbook's likely ones.
type size struct {
	what        string
	low, high   float64 // SI
	least, most string  // the same in words
	read        func(text string) (low, high float64, err error)
	units       []string // that a figure may have been meant in, likeliest first
}

func sizeIn[Q bound.Quantity](what string, likely bound.Of[Q], say func(Q) string, read func(string) (bound.Reading[Q], error), units ...string) size {
	return size{what, float64(likely.Low), float64(likely.High), say(likely.Low), say(likely.High), func(text string) (float64, float64, error) {
		r, err := read(text)
		return float64(r.Value.Low), float64(r.Value.High), err
	}, units}
}

// theSize is the size of a thing that the handbook has a likely one of.
func theSize(what string) size {
	if m, _, ok := handbook.LikelyMass(what); ok {
		return sizeIn(what, m, sayMass, bound.ReadMass, "t", "kg", "lb")
	}
	if f, _, ok := handbook.LikelyForce(what); ok {
		return sizeIn(what, f, sayForce, bound.ReadForce, "t", "kN", "kg", "lb")
	}
	if l, _, ok := handbook.LikelyLength(what); ok {
		return sizeIn(what, l, sayLength, bound.ReadLength, "m", "cm", "mm", "ft", "in")
	}
	panic("job: the handbook has no likely size of " + what)
}

func sayMass(m unit.Mass) string {
	if m < unit.Tonnes(1) {
		return plain(m.Kilograms()) + " kg"
	}
	return plain(m.Tonnes()) + " t"
}

func sayForce(f unit.Force) string { return plain(f.Kilonewtons()) + " kN" }

func sayLength(l unit.Length) string {
	switch {
	case l < unit.Centimetres(1):
		return plain(l.Millimetres()) + " mm"
	case l < unit.Metres(1):
		return plain(l.Centimetres()) + " cm"
	case l < unit.Kilometres(1):
		return plain(l.Metres()) + " m"
	}
	return plain(l.Kilometres()) + " km"
}

// plain writes a figure as a person would.
func plain(v float64) string {
	return unit.Thousands(unit.Short(unit.Figures(v, 3, math.Round)))
}

// sizes are by field, without places in a list.
var sizes = func() map[string]size {
	out := map[string]size{}
	for field, what := range map[string]string{
		"load.mass":                 "a stuck vehicle",
		"puller.mass":               "a machine that pulls",
		"anchors.mass":              "a machine as an anchor",
		"puller.rating":             "the rating of a winch",
		"puller.hitch_rating":       "the rating of a hitch",
		"load.tow_point.rating":     "the rating of a tow point",
		"load.holding_point.rating": "the rating of a tow point",
		"anchors.rating":            "the rating of an anchor",
		"gear.rating":               "the rating of a piece of gear",
		"gear.diameter":             "the thickness of a rope or the width of a sheave",
		"gear.length":               "the length of a piece of gear",
		"anchors.diameter":          "the thickness of a trunk, log or post",
		"distance":                  "the way of a load",
		"reach":                     "the way to an anchor",
		"holding_reach":             "the way to an anchor",
		"lead":                      "the way from block to puller",
		"puller.run":                "the room of a puller",
		"puller.drum":               "the thickness of a drum",
		"load.wheel_radius":         "the radius of a wheel",
		"load.lip.wheel_radius":     "the radius of a wheel",
		"load.lip.height":           "the height of a step",
		"puller.wheelbase":          "the wheelbase of a machine",
		"puller.hitch_height":       "the height of a hitch",
		"puller.axle_height":        "the height of an axle",
		"puller.cg_height":          "the height of a centre of gravity",
	} {
		out[field] = theSize(what)
	}
	return out
}()

// aRope is the thickness of a rope alone; a sheave may be wider.
var aRope = theSize("the thickness of a rope")

var listPlace = regexp.MustCompile(`s?\[\d+\]`)

// sizeOf is the size that a field's figure is held to.
func sizeOf(field string) (size, bool) {
	general := field
	if strings.Contains(field, "[") { // most fields are in no list
		general = listPlace.ReplaceAllString(field, "")
	}
	switch {
	case strings.HasPrefix(field, "anchors["):
		general = strings.Replace(general, "anchor.", "anchors.", 1)
	}
	z, ok := sizes[general]
	return z, ok
}

var bareFigure = regexp.MustCompile(`^[0-9][0-9.,]*`)

// Unlikely returns the doubt about a field's figure alone, and false where
// there is none or it can't be read.
func Unlikely(field, text string) (Odd, bool) {
	z, ok := sizeOf(field)
	if !ok {
		return Odd{}, false
	}
	return z.doubt(field, text)
}

func (z size) doubt(field, text string) (Odd, bool) {
	if text == "" {
		return Odd{}, false
	}
	low, high, err := z.read(text)
	if err != nil || z.low <= low && high <= z.high {
		return Odd{}, false
	}
	if low < z.low && high > z.high { // told as not known
		return Odd{}, false
	}
	o := Odd{Field: field, Told: text}
	o.Text = fmt.Sprintf("Is it %s? For %s anything from %s to %s would be likely.", clip(text), z.what, z.least, z.most)
	for _, u := range z.units {
		meant := bareFigure.FindString(text) + " " + u
		if l, h, err := z.read(meant); err == nil && z.low <= l && h <= z.high {
			o.Meant = meant
			o.Text = fmt.Sprintf("Is it %s, or did you mean %s? For %s anything from %s to %s would be likely.", clip(text), meant, z.what, z.least, z.most)
			break
		}
	}
	return o, true
}

// sure reports whether somebody has said that a field's figure is so.
func (s Sheet) sure(field string) bool { return s.Sure != nil && slices.Contains(*s.Sure, field) }

// odds lists the doubtful figures of a sheet that nobody has said to be so.
func (s Sheet) odds(c Case) []Odd {
	var out []Odd
	note := func(o Odd, odd bool) {
		if odd && (o.never || !s.sure(o.Field)) {
			out = append(out, o)
		}
	}
	add := func(field, text string) { note(Unlikely(field, text)) }
	l := s.Load
	add("load.mass", l.Mass)
	add("load.wheel_radius", l.WheelRadius)
	add("load.lip.height", l.Lip.Height)
	add("load.lip.wheel_radius", l.Lip.WheelRadius)
	for _, p := range []struct {
		path string
		t    *TowPointSheet
	}{{"load.tow_point", l.TowPoint}, {"load.holding_point", l.HoldingPoint}} {
		if p.t != nil {
			add(p.path+".rating", p.t.Rating)
		}
	}
	add("distance", s.Distance)
	add("reach", s.Reach)
	add("holding_reach", s.HoldReach)
	add("lead", s.Lead)
	puller := func(path string, p PullerSheet, drum *Length) {
		for _, f := range [][2]string{{"mass", p.Mass}, {"rating", p.Rating}, {"hitch_rating", p.HitchRating}, {"run", p.Run}, {"drum", p.Drum},
			{"wheelbase", p.Wheelbase}, {"hitch_height", p.HitchHeight}, {"axle_height", p.AxleHeight}, {"cg_height", p.CGHeight}} {
			add(path+"."+f[0], f[1])
		}
		note(thinDrum(path+".drum", p.Drum, drum, c.Gear))
	}
	if s.Puller != nil {
		puller("puller", *s.Puller, c.Pullers[0].Drum)
	}
	for i, p := range s.Pullers {
		puller(fmt.Sprintf("pullers[%d]", i), p, c.Pullers[i].Drum)
	}
	for i, a := range s.Anchors {
		at := fmt.Sprintf("anchors[%d]", i)
		add(at+".mass", a.Mass)
		add(at+".rating", a.Rating)
		add(at+".diameter", a.Diameter)
	}
	for i, g := range s.Gear {
		at := fmt.Sprintf("gear[%d]", i)
		add(at+".rating", g.Rating)
		if g.Kind == "rope" {
			note(aRope.doubt(at+".diameter", g.Diameter))
		} else {
			add(at+".diameter", g.Diameter)
		}
		add(at+".length", g.Length)
		note(tooStrong(at, g, c.Gear[i]))
	}
	return out
}

// thinDrum doubts a drum that is thinner than any is built for the thinnest rope that may
// be on it: the core may have been measured, or another thing.
func thinDrum(at, told string, drum *Length, gear []Gear) (Odd, bool) {
	var thinnest *Length
	for _, g := range gear {
		if g.Kind == "rope" && (g.Use == "" || g.Use == "spare" || g.Use == "haul") && g.Diameter != nil && (thinnest == nil || g.Diameter.Low < thinnest.Low) {
			thinnest = g.Diameter
		}
	}
	over, _ := handbook.DrumOverRope()
	if drum == nil || thinnest == nil || drum.High >= thinnest.Low.Scale(float64(over)) {
		return Odd{}, false
	}
	return Odd{Field: at, Told: told,
		Text: fmt.Sprintf("Is the drum truly %s thick over its first layer, with rope of %s? The thinnest that is built is about %s times its rope.", clip(told), sayLength(thinnest.Low), plain(float64(over)))}, true
}

// tooStrong doubts a rope, a chain or a shackle that is stamped over what any of its
// thickness and material can be: breaking held against breaking, and working
// against what the trade's design factor leaves of that, since rope is also sold
// by a limit with as little as two in hand, and such a figure is no working limit. A thickness may only ever speak against a
// stamp. Over what the strongest fibre sold breaks at, or half of it for what a
// rope may carry, it can't be: nobody's word makes a rope of it.
func tooStrong(at string, s GearSheet, g Gear) (Odd, bool) {
	if g.Diameter == nil || g.Rating.Force == nil {
		return Odd{}, false
	}
	var most unit.Force // that it breaks at
	what, hard := g.Kind, unit.Force(0)
	factor, _, _ := handbook.DesignFactor(g.Kind)
	switch g.Kind {
	case "rope":
		of := g.Material
		if of == "" && g.Rating.Kind == "working" {
			of = "manila" // not to know the fibre is no better than the weakest
		}
		most, _, _ = handbook.StrongestRope(of, g.Diameter.High)
		hard, _, _ = handbook.StrongestRope("", g.Diameter.High)
		what = cmp.Or(of, what)
	case "shackle":
		rule, _ := handbook.ShackleRule(g.Diameter.High)
		over, _ := handbook.StrongestShackle()
		most = rule.Scale(float64(over) * float64(factor))
		hard = most
	case "chain":
		most, _ = handbook.StrongestChain(g.Diameter.High)
		hard = most
	default:
		return Odd{}, false
	}
	does := "breaks at"
	if g.Rating.Kind == "working" {
		over, _ := handbook.BreaksOverWorking()
		hard = hard.Scale(1 / float64(over))
		does, most = "may carry", most.Scale(1/float64(factor))
	}
	doubted, _ := handbook.DoubtOver()
	if g.Rating.Force.Low <= most.Scale(float64(doubted)) {
		return Odd{}, false
	}
	if got := g.Rating.Force.Low; got > hard.Scale(float64(doubted)) {
		thick := math.Ceil(g.Diameter.High.Scale(math.Sqrt(float64(got)/float64(hard))).Millimetres() - 1e-9)
		return Odd{Field: at + ".rating", Told: s.Rating, never: true,
			Text: fmt.Sprintf("A %s %s thick can't be stamped %s: the strongest that is sold of that thickness %s %.3g kN at most. One that is stamped so is at least %.0f mm thick: measure its thickness and read its tag again, and write both.",
				g.Kind, clip(s.Diameter), clip(s.Rating), does, hard.Kilonewtons(), thick)}, true
	}
	return Odd{Field: at + ".rating", Told: s.Rating,
		Text: fmt.Sprintf("Is the %s truly %s thick and stamped %s? The strongest %s of that thickness %s about %.3g kN.", g.Kind, clip(s.Diameter), clip(s.Rating), what, does, most.Kilonewtons())}, true
}
