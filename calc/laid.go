package calc

import (
	"fmt"
	"slices"

	"linetender/calc/bound"
	"linetender/calc/handbook"
	"linetender/calc/job"
)

// A sling, a strap or a chain is stamped for a straight pull. Choked, round a
// thing and back through its own eye, it keeps a share of that; in a basket,
// both eyes to the shackle, it would carry more, and no more than its stamp is
// counted, because the two legs seldom share. What nobody told counts as choked
// where it goes round something, and is asked for wherever a choke would come
// out otherwise; one that goes round an anchor can't go straight, whatever
// was told, so that counts as choked as well.
//
// Source: 29 CFR 1918 App. II Table 2; NAVEDTRA 14081, p. 13-20. That a basket
// counts once is judgment, and errs to the safe side.

// The words of how a sling is put on.
const (
	hitchStraight = "straight"
	hitchBasket   = "basket"
	hitchChoked   = "choked"
)

// chokedShare is read once, because a search asks for it of every piece.
var chokedShare = func() bound.Ratio { share, _ := handbook.SlingChoked(); return share.Low }()

// slung reports whether a piece is of those that go round a thing.
func (p *piece) slung() bool { return job.Slung(p.g.Kind) }

// goesRound reports whether what joins a place goes round something there: an
// anchor without an eye, or whatever of the load is no eye made for it.
func (s *shelf) goesRound(pl place) bool {
	switch pl.use {
	case "load":
		return s.c.Load.TowPoint == nil || s.c.Load.TowPoint.Kind != "rated-eye"
	case "anchor":
		return goesRound(pl.kinds) || pl.kinds == nil && goesRound(ties(s.c, "standing"))
	case "holding":
		return goesRound(ties(s.c, "holding"))
	}
	return goesRound(pl.kinds)
}

// hitch takes off the figures of a seat what a choke takes, where nobody told
// that its piece is put on otherwise. Where that would decide something it
// leaves them, and what decides is not known. It comes after bends, which begin
// with the piece's own figures.
func (t *seat) hitch() {
	if t.piece == nil || !t.piece.slung() || t.working == nil || t.choked || t.hitchOpen {
		return
	}
	choked := *t
	choked.choked = true
	choked.working, choked.breaks = times(t.working, float64(chokedShare)), times(t.breaks, float64(chokedShare))
	switch {
	case t.piece.g.SlingHitch == hitchStraight && t.round && t.use != "load":
		*t = choked
	case t.piece.g.SlingHitch != "":
	case t.comesOutOtherThan(&choked):
		t.hitchOpen = true
	case t.round:
		*t = choked
	}
}

// butForTheChoke reports whether a piece would carry its share if it were not
// choked.
func (t *seat) butForTheChoke(most bound.Ratio) bool {
	return t.choked && t.working != nil && *t.working > 0 && within(t.tension, t.working.Scale(float64(most/chokedShare)))
}

// judgeHitches makes the finding on what is put round a thing.
func (s *search) judgeHitches(fs *findings, o weighed) {
	most, _ := handbook.UseMost()
	good, any := true, false
	var asked []*piece
	for i := range o.path.seats {
		t := &o.path.seats[i]
		if t.piece == nil || !t.piece.slung() {
			continue
		}
		any = true
		r, known := t.ratio()
		switch {
		case t.hitchOpen:
			if good = false; !slices.Contains(asked, t.piece) {
				asked = append(asked, t.piece)
				fs.ask("R3/choked", fs.of(t.piece.path, ".sling_hitch"), "", "", t.label, percent(float64(chokedShare)))
			}
		case known && r > float64(most) && t.butForTheChoke(most):
			fs.add("R3/choked", Fail, needed(t.tension), allowed(*t.working), t.label, percent(float64(chokedShare)))
			good = false
		}
	}
	if good && any {
		fs.add("R3/choked", Pass)
	}
}

// baskets puts round as a basket what a choke keeps from carrying its share.
func baskets(o weighed) []remedy {
	var out []remedy
	var done []*piece
	for i := range o.path.seats {
		t := &o.path.seats[i]
		if t.piece == nil || !t.choked || !t.fails() || slices.Contains(done, t.piece) {
			continue
		}
		done = append(done, t.piece)
		path := t.piece.path
		out = append(out, plain(fmt.Sprintf("Put the %s round as a basket, both eyes to the shackle.", t.label), func(c *job.Case) {
			if g := gearAt(c, path); g != nil {
				g.SlingHitch = hitchBasket
			}
		}))
	}
	return out
}
