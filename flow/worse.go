package flow

import (
	"slices"
	"strconv"
	"strings"

	"linetender/calc"
	"linetender/calc/bound"
	"linetender/calc/unit"
	"linetender/flow/hear"
)

// Of two answers to one question the job goes by the worse. Which it is, the words
// themselves say where they have a rank, else what the plan comes to with each, else
// the end of a figure that counts. Where none of that tells them apart neither is the
// worse, and nobody is told that one is.

// ranks list what a field may be from the worst to the best, whatever hangs on it:
// what is damaged or not known makes no plan that is reckoned better. What stands in
// one line may be either. A word that is in none has no rank: the plan decides.
//
// Source: common practice.
var ranks = map[string][]string{
	"condition":         {"damaged", "unknown", "good"},
	"rating_kind":       {"unmarked", "breaking", "working"},
	"hitch_rating_kind": {"unmarked", "breaking", "working"},
	"load.sunk":         {"cab", "fender", "hub", "none"},
	"load.belly":        yesIsWorse,
	"alive":             noIsWorse,
	"lean":              yesIsWorse,
	"tied_back":         noIsWorse,
	"strap_held":        noIsWorse,
	"chocked":           noIsWorse,
	"braked":            noIsWorse,
	"in_line":           noIsWorse,
	"improvised":        yesIsWorse,
	"sling_hitch":       {"choked", "basket"},
	"shared":            yesIsWorse,
	"equalised":         noIsWorse,
	"rollover_frame":    noIsWorse,
	"sheave":            {"plain", "roller"},
}

var yesIsWorse, noIsWorse = []string{"true", "false"}, []string{"false", "true"}

// rankOf returns the place of a value of a field, the worst lowest, and whether it
// has any. Of a condition what nobody has told is what nobody knows.
func rankOf(path, value string) (int, bool) {
	last := path[strings.LastIndexByte(path, '.')+1:]
	list, ok := ranks[path]
	if !ok {
		list = ranks[last]
	}
	if value == "" && last == "condition" {
		value = "unknown"
	}
	at := slices.Index(list, value)
	return at, at >= 0
}

// worse reports whether a job with another value, taken to be as well known as
// the one that stands, is worse off than it is.
func (t *turn) worse(path, value string) bool {
	was, _ := t.s.Sheet.Get(path)
	return t.heldAgainst(path, value, was) > 0
}

// heldAgainst holds two values of a field against each other: above 0 the first is the
// worse, below 0 the second, and at 0 nothing tells.
func (t *turn) heldAgainst(path, value, was string) int {
	switch {
	case path == "hazards" && adds(was, value):
		return 1
	case path == "hazards" && adds(value, was):
		return -1
	}
	a, okA := rankOf(path, value)
	if b, okB := rankOf(path, was); okA && okB && a != b {
		return b - a
	}
	would, wellThen := t.with(path, value)
	is, wellNow := t.with(path, was)
	if wellNow && wellThen {
		if c := slices.Compare(t.illness(would), t.illness(is)); c != 0 {
			return c
		}
	}
	switch {
	case worseEnd(path, value, was):
		return 1
	case worseEnd(path, was, value):
		return -1
	}
	return 0
}

// with reckons the job with a value, which makes sense there or it is left as it is.
func (t *turn) with(path, value string) (*calc.Plan, bool) {
	trial := t.s.Sheet
	if trial.Set(path, value) != nil {
		return nil, false // put would refuse it too
	}
	out, ok := t.e.reckon(trial)
	return out.plan, ok
}

// illness lists how badly off a plan is, what counts most first.
func (t *turn) illness(p *calc.Plan) []float64 {
	out := []float64{float64(gravity(p.Decision)), 0, 0, 0}
	if p.Force != nil {
		out[1] = p.Force.High.Newtons()
	}
	if p.Puller != nil && p.Puller.Available != nil {
		out[2] = -p.Puller.Available.Low.Newtons()
	}
	_, out[3] = t.nearest(p)
	return out
}

// worseEnd reports whether a figure is worse than the one that stands, by what
// kind of figure it is: of a weight or a slope more, of a tree's thickness or a
// rating less.
func worseEnd(path, value, was string) bool {
	end := hear.WorseEnd(path)
	a, okA := figureOf(path, value, end)
	b, okB := figureOf(path, was, end)
	return okA && okB && float64(end)*(a-b) > 0
}

// figureOf reads a figure at the end of its range that counts.
func figureOf(path, value string, end int) (float64, bool) {
	field := path[strings.LastIndexByte(path, '.')+1:]
	switch {
	case end == 0 || value == "":
		return 0, false
	case field == "winch_layer":
		n, err := strconv.Atoi(value)
		return float64(n), err == nil
	case field == "mass":
		r, err := bound.ReadMass(value)
		return endOf(r.Value, end, unit.Mass.Kilograms), err == nil
	case field == "rating" || field == "hitch_rating":
		r, err := bound.ReadForce(value)
		return endOf(r.Value, end, unit.Force.Newtons), err == nil
	case strings.Contains(field, "slope") || field == "off_line":
		r, err := bound.ReadSlope(value)
		return endOf(r.Value, end, unit.Angle.Degrees), err == nil
	}
	r, err := bound.ReadLength(value)
	return endOf(r.Value, end, unit.Length.Metres), err == nil
}

func endOf[Q bound.Quantity](r bound.Of[Q], end int, in func(Q) float64) float64 {
	if end < 0 {
		return in(r.Low)
	}
	return in(r.High)
}
