package calc

import (
	"math"

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
// layer that the drum has come to by the end.
func judgeDrum(fs *findings, c job.Case, o weighed) {
	n, w := fillsTo(c, o), o.power
	if n == 0 || w.p.Rating.Force == nil || w.available == nil {
		return
	}
	left, _, ok := handbook.DrumLayer(n)
	was, _, known := handbook.DrumLayer(w.p.Layer)
	if !ok || !known {
		return
	}
	left, was = w.see.ratio("puller.winch_layer", left), w.see.ratio("puller.winch_layer", was)
	pull := *w.available
	for _, l := range w.limits {
		if l.name == "rating" {
			pull.Low = min(pull.Low, l.f.Low.Scale(float64(left.Low/was.Low)))
			pull.Best = min(pull.Best, l.f.Best.Scale(float64(left.Best/was.Best)))
		}
	}
	worst, _ := handbook.MarginWorst()
	best, _ := handbook.MarginBest()
	enough := within(o.s.haul.High.Scale(float64(worst)), pull.Low) && within(o.s.haul.Best.Scale(float64(best)), pull.Best)
	fs.judge("U6/fills", enough, n, allowed(pull.Low), needed(o.s.haul.High))
}
