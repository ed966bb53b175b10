package calc

import (
	"slices"

	"linetender/calc/bound"
	"linetender/calc/handbook"
)

// A shackle's stamp is its maker's figure in line from bow to pin; pulled aside
// it carries less. How it will lie is seen where it is rigged: until somebody
// says, it is reckoned in line, that stands among what was assumed, and where a
// pull square to its line would come out otherwise the plan is open.
//
// Source: WAC 296-155-33905, fig. 17; the shares from memory.

// pulledAside is what a pull out of its line leaves a piece of its rating, and
// whether anybody said how far it is.
func (p *piece) pulledAside() (share bound.Ratio, told bool) {
	if p.g.Kind != "shackle" || p.g.SideAngle == nil {
		return 1, p.g.Kind != "shackle"
	}
	share, _, _ = handbook.ShackleSide(p.g.SideAngle.High)
	return share, true
}

// inLine reports whether a piece that was told to be pulled aside would carry
// its share in line.
func (t *seat) inLine(most bound.Ratio) bool {
	share, _ := t.piece.pulledAside()
	return share < 1 && t.working != nil && within(t.tension, t.working.Scale(float64(most/share)))
}

// sideDecides reports whether a pull square to its line would make a shackle
// carry too little of what it carries in line.
func (t *seat) sideDecides() bool {
	square := *t
	least := handbook.ShackleSideLeast()
	square.working, square.breaks = times(t.working, float64(least)), times(t.breaks, float64(least))
	return t.comesOutOtherThan(&square)
}

// comesOutOtherThan reports whether a seat that may carry more or less fails, or
// takes a signature, where the other does not.
func (t *seat) comesOutOtherThan(other *seat) bool {
	for _, s := range []func(*seat) bool{
		func(s *seat) bool { r, known := s.ratio(); return known && r <= 1 },
		func(s *seat) bool { return s.holdsPeak(handbook.PeakSigned) },
		(*seat).peakAllowed,
	} {
		if s(t) != s(other) {
			return true
		}
	}
	return false
}

// holdsPeak reports whether a seat stands the puller's most within a share of
// what it breaks at.
func (t *seat) holdsPeak(of func() (bound.Ratio, handbook.Row)) bool {
	share, _ := of()
	return t.peak == nil || t.breaks == nil || within(*t.peak, t.breaks.Scale(float64(share)))
}

// judgeAside makes the finding on shackles that carry less for being pulled
// out of their line.
func (s *search) judgeAside(fs *findings, o weighed) {
	most, _ := handbook.UseMost()
	good, any := true, false
	var asked []*piece
	for i := range o.path.seats {
		t := &o.path.seats[i]
		if t.piece == nil || t.kind != "shackle" || t.working == nil {
			continue
		}
		any = true
		r, _ := t.ratio()
		share, told := t.piece.pulledAside()
		switch {
		case !told && !slices.Contains(asked, t.piece) && t.sideDecides():
			asked = append(asked, t.piece)
			fs.ask("R3/aside", fs.of(t.piece.path, ".side_angle"), "", "", t.label)
			good = false
		case told && r > float64(most) && t.inLine(most):
			fs.add("R3/aside", Fail, needed(t.tension), allowed(*t.working), t.label, percent(float64(share)))
			good = false
		}
	}
	if good && any {
		fs.add("R3/aside", Pass)
	}
}
