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

// A size is what a thing of the trade measures. All are judgment: an odd job
// lies outside, and is then asked about once more than it would have to be.
type size struct {
	what        string
	low, high   float64 // SI
	least, most string  // the same in words
	read        func(text string) (low, high float64, err error)
	units       []string // that a figure may have been meant in, likeliest first
}

func reads[Q bound.Quantity](read func(string) (bound.Reading[Q], error)) func(string) (float64, float64, error) {
	return func(text string) (float64, float64, error) {
		r, err := read(text)
		return float64(r.Value.Low), float64(r.Value.High), err
	}
}

var (
	readMass   = reads(bound.ReadMass)
	readLength = reads(bound.ReadLength)
	readForce  = reads(bound.ReadForce)

	masses  = []string{"t", "kg", "lb"}
	lengths = []string{"m", "cm", "mm", "ft", "in"}
	pulls   = []string{"t", "kN", "kg", "lb"}
)

func aLength(what string, low, high float64, least, most string) size {
	return size{what, low, high, least, most, readLength, lengths}
}

// sizes are by field, without places in a list.
var sizes = map[string]size{
	"load.mass":                 {"a stuck vehicle", 100, 60e3, "100 kg", "60 t", readMass, masses},
	"puller.mass":               {"a machine that pulls", 150, 80e3, "150 kg", "80 t", readMass, masses},
	"anchors.mass":              {"a machine as an anchor", 150, 80e3, "150 kg", "80 t", readMass, masses},
	"puller.rating":             {"the rating of a winch", 900, 500e3, "0.9 kN", "500 kN", readForce, pulls},
	"puller.hitch_rating":       {"the rating of a hitch", 900, 1e6, "0.9 kN", "1,000 kN", readForce, pulls},
	"load.tow_point.rating":     {"the rating of a tow point", 900, 2e6, "0.9 kN", "2,000 kN", readForce, pulls},
	"load.holding_point.rating": {"the rating of a tow point", 900, 2e6, "0.9 kN", "2,000 kN", readForce, pulls},
	"anchors.rating":            {"the rating of an anchor", 900, 2e6, "0.9 kN", "2,000 kN", readForce, pulls},
	"gear.rating":               {"the rating of a piece of gear", 200, 2e6, "0.2 kN", "2,000 kN", readForce, pulls},
	"gear.diameter":             aLength("the thickness of a rope or the width of a sheave", 0.003, 1.5, "3 mm", "1.5 m"),
	"gear.length":               aLength("the length of a piece of gear", 0.2, 2000, "20 cm", "2 km"),
	"anchors.diameter":          aLength("the thickness of a trunk, log or post", 0.02, 4, "2 cm", "4 m"),
	"distance":                  aLength("the way of a load", 0.05, 1000, "5 cm", "1 km"),
	"reach":                     aLength("the way to an anchor", 0.5, 1000, "50 cm", "1 km"),
	"lead":                      aLength("the way from block to puller", 0.1, 1000, "10 cm", "1 km"),
	"puller.run":                aLength("the room of a puller", 0.1, 5000, "10 cm", "5 km"),
	"puller.drum":               aLength("the thickness of a drum", 0.02, 2, "2 cm", "2 m"),
	"load.wheel_radius":         aLength("the radius of a wheel", 0.1, 2, "10 cm", "2 m"),
	"load.lip.wheel_radius":     aLength("the radius of a wheel", 0.1, 2, "10 cm", "2 m"),
	"load.lip.height":           aLength("the height of a step", 0.005, 3, "5 mm", "3 m"),
	"puller.wheelbase":          aLength("the wheelbase of a machine", 0.4, 15, "40 cm", "15 m"),
	"puller.hitch_height":       aLength("the height of a hitch", 0.02, 4, "2 cm", "4 m"),
	"puller.axle_height":        aLength("the height of an axle", 0.05, 2, "5 cm", "2 m"),
	"puller.cg_height":          aLength("the height of a centre of gravity", 0.05, 5, "5 cm", "5 m"),
}

// aRope is the thickness of a rope alone; a sheave may be wider.
var aRope = aLength("the thickness of a rope", 0.003, 0.15, "3 mm", "15 cm")

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
	add("lead", s.Lead)
	puller := func(path string, p PullerSheet) {
		for _, f := range [][2]string{{"mass", p.Mass}, {"rating", p.Rating}, {"hitch_rating", p.HitchRating}, {"run", p.Run}, {"drum", p.Drum},
			{"wheelbase", p.Wheelbase}, {"hitch_height", p.HitchHeight}, {"axle_height", p.AxleHeight}, {"cg_height", p.CGHeight}} {
			add(path+"."+f[0], f[1])
		}
	}
	if s.Puller != nil {
		puller("puller", *s.Puller)
	}
	for i, p := range s.Pullers {
		puller(fmt.Sprintf("pullers[%d]", i), p)
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

// tooStrong doubts a rope or a shackle that is stamped over what any of its
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
