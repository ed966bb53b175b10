package job

import (
	"fmt"
	"strings"

	"linetender/calc/bound"
	"linetender/calc/handbook"
	"linetender/calc/unit"
)

// seen reads one thing that the crew saw. What does not go with its kind is
// refused: a figure in the wrong place would be learnt from the wrong way.
func (r *reader) seen(path string, s SeenSheet, pullers int) Seen {
	out := Seen{
		What:     r.word(path+".what", s.What, SeenWhats),
		HaulFrom: r.word(path+".haul_from", s.HaulFrom, HaulFroms),
		At:       r.word(path+".at", s.At, SeenAts),
		Leads:    s.Leads,
		Puller:   s.Puller,
		Try:      s.Try,
		Force:    r.reading(path+".force", s.Force),
		TookIn:   r.length(path+".took_in", s.TookIn),
		Moved:    r.length(path+".moved", s.Moved),
		Alike:    s.Alike != nil && *s.Alike,
		Reloaded: s.Reloaded != nil && *s.Reloaded,
	}
	r.moment(path, s, &out)
	if s.What == "" {
		r.fail(refuse(path+".what", "say what was seen: %s", strings.Join(SeenWhats, ", ")))
	}
	r.seenRig(path, s, &out)
	stood := s.What == "slip" || s.What == "stuck"
	switch {
	case s.What == "reading" && s.Force == "":
		r.fail(refuse(path+".force", "a reading needs what the load cell showed; write it, such as 12 kN"))
	case s.Force != "" && s.At == "":
		r.fail(refuse(path+".at", "say where the load cell hung: %s", strings.Join(SeenAts, ", ")))
	case s.Force == "" && s.At != "":
		r.fail(refuse(path+".at", "a place without a reading tells nothing; write the force too, or leave the place out"))
	case stood && s.Moved != "":
		r.fail(refuse(path+".moved", "in a slip or a stuck pull the load stands; write move for one that moved, or leave this out"))
	}
	if s.Try != nil && *s.Try < 0 {
		r.fail(refuse(path+".try", "there is no pull %d; write which pull it was, a whole number from 0", *s.Try))
	}
	if s.Puller != nil && (*s.Puller < 0 || *s.Puller >= max(1, pullers)) {
		r.fail(refuse(path+".puller", "there is no puller %d; write its place among the pullers, the first is 0", *s.Puller))
	}
	return out
}

// moment reads what it was seen with. What is supplied there is what was
// supplied then, and no news.
func (r *reader) moment(path string, s SeenSheet, out *Seen) {
	supplied := r.supplied
	out.Sheave = r.word(path+".sheave", s.Sheave, Sheaves)
	if s.Load != nil {
		l := r.load(path+".load", *s.Load)
		out.Load = &l
	}
	if s.By != nil {
		out.By = []Puller{r.puller(path+".by", *s.By)}
	}
	r.supplied = supplied
}

func (r *reader) seenRig(path string, s SeenSheet, out *Seen) {
	if s.Parts == nil {
		r.fail(refuse(path+".parts", "say with how many parts it was seen; write a whole number from 1 to %d", MaxParts))
		return
	}
	out.Parts = *s.Parts
	if out.Parts < 1 || out.Parts > MaxParts {
		r.fail(refuse(path+".parts", "%d parts can't be rove; write a whole number from 1 to %d", out.Parts, MaxParts))
	}
	switch {
	case s.HaulFrom == "" && out.Parts == 1:
		out.HaulFrom = "moving" // a line straight to the load
	case s.HaulFrom == "":
		r.fail(refuse(path+".haul_from", "say which block the haul line left: %s", strings.Join(HaulFroms, " or ")))
	}
	if s.HauledBy != nil {
		if out.HauledBy = *s.HauledBy; out.HauledBy < 2 || out.HauledBy > MaxParts {
			r.fail(refuse(path+".hauled_by", "a second tackle has from 2 to %d parts; leave this out when there was none", MaxParts))
		}
	}
	if s.Leads != nil && (*s.Leads < 0 || *s.Leads > MaxParts) {
		r.fail(refuse(path+".lead_blocks", "%d lead blocks can't be; write a whole number from 0 to %d", *s.Leads, MaxParts))
	}
}

// reading reads what a load cell showed.
func (r *reader) reading(path, text string) *Force {
	if r.force(path, text) == nil {
		return nil
	}
	told, err := bound.ReadForce(text)
	if err != nil {
		return nil // and it was refused
	}
	if !told.Ranged {
		share, _ := handbook.CellSpread()
		r.supply(path, fmt.Sprintf("%s +/- %g %%", text, 100*float64(share)), "nobody said how true the load cell reads")
	}
	f := CellShows(told)
	return &f
}

// CellShows returns the force that a load cell's reading stands for: the spread
// of such a cell is laid about it or, where one was told, that, and no less
// than any cell has.
func CellShows(told bound.Reading[unit.Force]) Force {
	share, _ := handbook.CellSpread()
	if told.Ranged {
		share, _ = handbook.CellLeast()
	}
	return atLeast(told, share)
}
