package calc

import (
	"fmt"
	"math"

	"linetender/calc/bound"
	"linetender/calc/handbook"
	"linetender/calc/job"
	"linetender/calc/unit"
)

// How a drum bears on a pull: rope that must stay on it is no rope to pull
// with, and rope that comes in makes it thicker and the winch weaker.

// drummed reports whether the puller winds its rope on a drum.
func drummed(p job.Puller) bool { return p.Kind == "winch" || p.Kind == "hand-winch" }

// wrapOf is the rope in one wrap on the bare drum, 0 where there is no drum.
func wrapOf(p job.Puller) unit.Length {
	if !drummed(p) {
		return 0
	}
	if p.Drum != nil {
		return p.Drum.High.Scale(math.Pi)
	}
	across, _ := handbook.DrumAcross(p.Kind == "hand-winch")
	return across.Scale(math.Pi)
}

// onDrum is places with the drum at the end of the haul line: of a compound
// the second tackle's, which stands last.
func onDrum(places []place, w *power) {
	if w == nil || !drummed(w.p) {
		return
	}
	for i := len(places) - 1; i >= 0; i-- {
		if places[i].use == "haul" {
			places[i].wrap = wrapOf(w.p)
			break
		}
	}
}

// stays is the rope of a piece in this place that must stay on the drum. What
// it is made of decides the wraps; while nobody said, the more of them stay.
func (pl place) stays(p *piece) unit.Length {
	if pl.wrap == 0 || p != nil && p.g.Kind == "chain" {
		return 0
	}
	material := ""
	if p != nil {
		material = p.g.Material
	}
	wraps, _, ok := handbook.WrapsLeft(material)
	if !ok {
		for _, m := range handbook.Materials() {
			n, _, _ := handbook.WrapsLeft(m)
			wraps = max(wraps, n)
		}
	}
	return pl.wrap.Scale(float64(wraps))
}

// takes is the rope that the place needs of piece p.
func (pl place) takes(p *piece) unit.Length { return pl.rope + pl.stays(p) }

// kept is what stays on the drum of the haul line that the tackle is rove
// with. Of a compound that is another rope than the tackle's.
func (o weighed) kept() unit.Length {
	if o.power == nil || o.rig.compound() {
		return 0
	}
	most, at := unit.Length(0), place{wrap: wrapOf(o.power.p)}
	for i, r := range o.path.ropes {
		most = max(most, o.path.lines[i].stays(r))
	}
	if len(o.path.ropes) == 0 {
		most = at.stays(nil)
	}
	return most
}

// leftOn is the share of its rating that a winch has left on layer n of its drum. Where
// the drum was measured and so were all ropes that may be on it, they tell it, but no
// more of it than the table has at the most: what was measured may be the rim.
//
// Source: derived, moments on the drum: the rope's middle lies half a thickness in from
// the outside of the first layer, and a whole one farther out with each layer more.
func leftOn(p job.Puller, rope *Length, n int) (Ratio, handbook.Row, bool) {
	left, row, ok := handbook.DrumLayer(n)
	if !ok || p.Drum == nil || rope == nil {
		return left, row, ok
	}
	share := func(across, thick unit.Length) bound.Ratio {
		return min(left.High, layerShare(float64(across)/float64(thick), n))
	}
	return Ratio{Low: share(p.Drum.Low, rope.High), Best: share(p.Drum.Best, rope.Best), High: share(p.Drum.High, rope.Low)}, row, true
}

// layerShare is leftOn for a drum so many times as thick, over one layer, as its rope.
// One layer round nothing at all is twice as thick as the rope, and no drum is thinner.
func layerShare(over float64, n int) bound.Ratio {
	if n == 1 {
		return 1
	}
	first := max(2, over) - 1
	return bound.Ratio(first / (first + 2*float64(n-1)))
}

// drumRope is how thick the rope on a drum may be: any that may be the haul line.
// It is not known while one of them was not measured.
func drumRope(c job.Case) *Length {
	var out *Length
	for _, g := range c.Gear {
		switch {
		case !mayWind(g):
		case g.Diameter == nil:
			return nil
		case out == nil:
			out = new(*g.Diameter)
		default:
			*out = Length{Low: min(out.Low, g.Diameter.Low), Best: max(out.Best, g.Diameter.Best), High: max(out.High, g.Diameter.High)}
		}
	}
	return out
}

// fillsTo is the layer that a winch's drum has come to when the load is there:
// the one that was told for the start, or a higher one where the rope that
// came in by then makes it so; 0 while too little is known, and for a
// capstan, which stores none. A whole rope fills
// the drum to its last layer, and each layer takes more than the one under it
// by as much as it makes the winch weaker.
//
// Source: derived, rope paid out is not on the drum; that a whole rope fills it
// is judgment, and errs to the weaker pull.
func fillsTo(c job.Case, o weighed) int {
	w := o.power
	if w == nil || !w.layered() || w.p.Capstan || c.Reach == nil || c.Lead == nil || c.Distance == nil || len(o.path.ropes) == 0 {
		return 0
	}
	full, _ := handbook.LastLayer()
	full = max(full, w.p.Layer)
	if o.rig.compound() { // how much of the second tackle's rope is out nobody says
		return full
	}
	var whole, longest unit.Length
	for _, r := range o.path.ropes {
		if r.g.Length == nil {
			return 0
		}
		whole += r.g.Length.High.Scale(float64(r.g.Count))
		longest = max(longest, r.g.Length.High)
	}
	if !o.rig.straight() { // what runs through sheaves is one rope
		whole = longest
	}
	out := max(0, c.Reach.Low-c.Distance.High).Scale(float64(o.rig.first.Parts)) + c.Lead.Low
	on := max(0, float64(whole-out)/float64(whole))
	return max(w.p.Layer, layerOf(on, full))
}

// layerOf is the layer on a drum that holds a share of the rope that fills it
// to layer full.
func layerOf(share float64, full int) int {
	takes := func(n int) (sum float64) {
		for i := 1; i <= n; i++ {
			if left, _, ok := handbook.DrumLayer(i); ok {
				sum += 1 / float64(left.Low)
			}
		}
		return sum
	}
	for n := 1; n < full; n++ {
		if takes(n) >= share*takes(full) {
			return n
		}
	}
	return full
}

// judgeDrum finds whether the winch still gives what the haul needs on the
// layer that the drum has come to by the end, and whether it would on the thinnest drum,
// where nobody measured it.
func judgeDrum(fs *findings, c job.Case, o weighed) {
	w := o.power
	if w == nil || !w.layered() || w.p.Rating.Force == nil || w.available == nil {
		return
	}
	was, _, known := leftOn(w.p, w.rope, w.p.Layer)
	n := fillsTo(c, o)
	ends := max(n, w.p.Layer)
	left, _, ok := leftOn(w.p, w.rope, ends)
	if !ok || !known {
		return
	}
	left, was = w.see.ratio("puller.winch_layer", left), w.see.ratio("puller.winch_layer", was)
	enough, low := w.windsIn(o.s.haul, left, was)
	if n > 0 {
		fs.judge("U6/fills", enough, n, allowed(low), needed(o.s.haul.High))
	}
	table, _, _ := handbook.DrumLayer(ends)
	if w.p.Drum != nil && w.rope != nil {
		usual, _ := w.windsIn(o.s.haul, w.see.ratio("puller.winch_layer", table), was)
		fs.judge("U6/drum", enough || !usual, ends, allowed(low), needed(o.s.haul.High))
		return
	}
	over, _ := handbook.DrumOverRope()
	least := layerShare(float64(over), ends)
	thin := Ratio{Low: min(left.Low, least), Best: min(left.Best, least), High: left.High}
	if still, low := w.windsIn(o.s.haul, thin, was); enough && !still {
		fs.ask("U6/drum", fs.drumFields(w, c), ends, allowed(low), needed(o.s.haul.High))
		return
	}
	fs.add("U6/drum", Pass)
}

// drumFields are those that tell how thick a drum is for its rope and that nobody told.
func (fs *findings) drumFields(w *power, c job.Case) (fields []string) {
	if w.p.Drum == nil {
		fields = fs.of(w.path, ".drum")
	}
	for i, g := range c.Gear {
		if mayWind(g) && g.Diameter == nil {
			fields = append(fields, fs.of(fmt.Sprintf("gear[%d]", i), ".diameter")...)
		}
	}
	return fields
}

// mayWind reports whether a piece may be the rope on a drum.
func mayWind(g job.Gear) bool {
	return g.Kind == "rope" && (g.Use == "" || g.Use == "spare" || g.Use == "haul")
}

// windsIn reports whether a winch gives what the haul needs with so much of its rating
// left, where it was reckoned with as much as it had left before, and the least it gives.
func (w *power) windsIn(haul Force, left, was Ratio) (enough bool, low unit.Force) {
	low, best := unit.Newtons(math.Inf(1)), unit.Newtons(math.Inf(1))
	for _, l := range w.limits {
		if l.name == "rating" && was.Low > 0 { // else it has nothing left as it is
			l.f.Low, l.f.Best = l.f.Low.Scale(float64(left.Low/was.Low)), l.f.Best.Scale(float64(left.Best/was.Best))
		}
		low, best = min(low, l.f.Low), min(best, l.f.Best)
	}
	worst, _ := handbook.MarginWorst()
	margin, _ := handbook.MarginBest()
	return within(haul.High.Scale(float64(worst)), low) && within(haul.Best.Scale(float64(margin)), best), low
}
