package flow

import (
	"fmt"
	"slices"
	"strconv"
	"strings"

	"linetender/calc/bound"
	"linetender/calc/job"
	"linetender/calc/unit"
	"linetender/flow/wording"
)

// readback gathers what was understood into as few lines as it takes.
type readback struct {
	t      *turn
	words  []string
	pieces []string          // as gear[2], to be said whole
	was    map[string]string // what values of pieces replaced, by path
}

func (t *turn) reader() *readback { return &readback{t: t, was: map[string]string{}} }

func (r *readback) add(c change, was string) {
	t := r.t
	if c.value == "" || t.err != nil {
		return
	}
	switch {
	case c.quiet || strings.HasSuffix(c.path, "_from"):
	case c.path == "load.mass":
		t.readMass(c, was)
	case c.path == "load.slope":
		t.readSlope(c, was)
	case c.path == "hazards" && (was == "" || was == c.value):
	case c.how == FromKit || strings.HasPrefix(c.path, "site.") || strings.HasSuffix(c.path, ".name"):
	case strings.HasPrefix(c.path, "gear[") || strings.HasPrefix(c.path, "anchors["):
		at, _, _ := strings.Cut(c.path, ".")
		if was != c.value {
			r.was[c.path] = was
		}
		if !slices.Contains(r.pieces, at) {
			r.pieces = append(r.pieces, at)
		}
	default:
		if c.taken != "" {
			k := wording.ReadDepth
			if c.value == "none" {
				k = wording.ReadShallow
			}
			t.say(k, wording.Args{"Text": c.taken, "What": t.word(c.path, c.value)})
		}
		r.words = append(r.words, t.across(c, t.plainWas(c.path, c.value, was)))
	}
}

// across is what a slope across, or a line to the side, is reckoned with, so
// that it shows what the eye alone is worth.
func (t *turn) across(c change, said string) string {
	from, _ := t.s.Sheet.Get(c.path + "_from")
	probe := job.Sheet{Load: job.LoadSheet{Mass: "1 t", Slope: "1 deg", Pull: "level", Ground: "gravel"}}
	l := &probe.Load
	switch {
	case strings.HasSuffix(c.path, ".side_slope"):
		l.SideSlope, l.SideSlopeFrom = c.value, from
	case c.path == "load.off_line" && choiceWord(c.path, c.value) == "":
		l.OffLine, l.OffLineFrom = c.value, from
	default:
		return said
	}
	read, err := probe.Case()
	if err != nil {
		return said
	}
	if off := read.Load.OffLine; off != nil {
		return t.sayingWith(wording.ReadAside, wording.Args{"Text": said, "Was": fmt.Sprintf("%.3g to %.3g deg", off.Low.Degrees(), off.High.Degrees())})
	}
	return t.sayingWith(wording.ReadAcross, wording.Args{"Text": said, "Slope": *read.Load.SideSlope})
}

func (r *readback) say() {
	for _, at := range r.pieces {
		list, rest, _ := strings.Cut(at, "[")
		n, err := strconv.Atoi(strings.TrimSuffix(rest, "]"))
		if err != nil {
			continue
		}
		fields := gearFields
		if list == "anchors" {
			fields = anchorFields
		}
		r.words = append(r.words, r.t.pieceLine(list, n, fields, r.was))
	}
	if len(r.words) == 0 {
		return
	}
	r.t.say(wording.ReadAll, wording.Args{"Names": wording.Names(r.words)})
}

// readMass reads a weight back in both systems, with the spread it is
// reckoned with, so that a slip shows.
func (t *turn) readMass(c change, was string) {
	probe := job.Sheet{Load: job.LoadSheet{Mass: c.value, MassFrom: t.s.Sheet.Load.MassFrom, Slope: "1 deg", Pull: "level", Ground: "gravel"}}
	read, err := probe.Case()
	if err != nil {
		return
	}
	args := wording.Args{"Text": c.value, "Mass": read.Load.Mass}
	switch {
	case c.how == Skipped:
		t.say(wording.ReadMassSkipped, wording.Args{"Mass": read.Load.Mass})
	case c.vague && inHundredweight(c.value):
		t.say(wording.ReadCwt, args)
	case c.vague:
		t.say(wording.ReadTon, args)
	case was != "" && was != c.value:
		args["Was"] = t.spoken(c.path, was)
		t.say(wording.ReadMassWas, args)
	default:
		t.say(wording.ReadMass, args)
	}
}

// readSlope reads a slope back as degrees, as rise in run and as the share of
// the weight that wants to roll.
func (t *turn) readSlope(c change, was string) {
	probe := job.Sheet{Load: job.LoadSheet{Mass: "1 t", Slope: c.value, SlopeFrom: t.s.Sheet.Load.SlopeFrom, Pull: "level", Ground: "gravel"}}
	read, err := probe.Case()
	if err != nil {
		return
	}
	a := read.Load.Slope
	share := int(a.Best.Sin()*100 + 0.5)
	args := wording.Args{"Text": c.value, "Slope": a, "Per": share}
	if was != "" && was != c.value {
		args["Was"] = was
		t.say(wording.ReadSlopeWas, args)
		return
	}
	if t.s.Sheet.Load.SlopeFrom == "eye" && c.how == Told {
		t.say(wording.ReadSlopeEye, args)
		return
	}
	t.say(wording.ReadSlope, args)
}

// plain returns a value in words, quantities in both systems.
func (t *turn) plain(path, value string) string {
	what := t.nameOf(path)
	if path == "hazards" && value != "none" {
		var names wording.Names
		for _, h := range strings.Split(value, ", ") {
			names = append(names, t.word(path, h))
		}
		return t.sayingWith(wording.ReadItemList, wording.Args{"What": what, "Names": names})
	}
	return t.sayingWith(wording.ReadItem, wording.Args{"What": what, "Text": t.spoken(path, value)})
}

// plainWas returns a value in words with what it stands in for.
func (t *turn) plainWas(path, value, was string) string {
	if was == "" || was == value {
		return t.plain(path, value)
	}
	return t.sayingWith(wording.ReadItem, wording.Args{"What": t.nameOf(path), "Text": t.instead(t.spoken(path, value), t.spoken(path, was))})
}

func (t *turn) instead(value, was string) string {
	return t.sayingWith(wording.ReadInstead, wording.Args{"Text": value, "Was": was})
}

// spoken returns a value without what it is of, quantities in both systems.
func (t *turn) spoken(path, value string) string {
	if path == "hazards" && value != "none" {
		var words []string
		for _, h := range strings.Split(value, ", ") {
			words = append(words, t.word(path, h))
		}
		return strings.Join(words, ", ")
	}
	if value == "none" && path != "load.sunk" {
		return t.saying(wording.ListNone)
	}
	if k := choiceWord(path, value); k != "" && t.e.Words.Has(k) {
		return t.saying(k)
	}
	if both := t.inBoth(path, value); both != "" {
		return both
	}
	if k, is := shareOf[path]; is {
		if share, err := strconv.ParseFloat(value, 64); err == nil && 0 < share && share < 1 {
			return t.sayingWith(k, wording.Args{"Percent": percent(share)})
		}
	}
	return value
}

// shareOf are the answers that stand on the sheet as a share of a weight.
var shareOf = map[string]wording.Key{"load.locked": wording.ReadShareLocked, "puller.driven": wording.ReadShareDriven}

// inBoth writes a length or a force as it was given and in the other system.
func (t *turn) inBoth(path, value string) string {
	field := path[strings.LastIndexByte(path, '.')+1:]
	system, known := systemOf(value)
	if !known {
		return ""
	}
	other := unit.Customary
	if system == unit.Customary {
		other = unit.Metric
	}
	switch field {
	case "mass":
		if r, err := bound.ReadMass(value); err == nil {
			return value + " = " + t.e.Words.Mass(other, r.Value)
		}
	case "rating", "hitch_rating":
		if r, err := bound.ReadForce(value); err == nil {
			return value + " = " + t.e.Words.Limit(other, r.Value.Low)
		}
	default:
		if r, err := bound.ReadLength(value); err == nil {
			return value + " = " + t.e.Words.Length(other, r.Value)
		}
	}
	return ""
}
