package flow

import (
	"cmp"
	"slices"
	"strings"

	"linetender/calc"
	"linetender/calc/bound"
	"linetender/calc/job"
)

// Which gear the job has spoilt is kept as it is told, since by the debrief a piece may
// have been taken off the list, and another plan may have another one in its place.

// A Worn is a piece that was told to be damaged or overloaded, or that was there at a shock.
type Worn struct {
	Piece   string // its name, else its kind or use
	Told    string // the event that was told of it; empty where the line was shocked
	Working string // what is stamped on it, where that is a working limit
}

// shocking are the sights at which all that is in the line may take a shock, and what
// that counts for.
var shocking = map[string]string{
	"runs": "ran", "slips": "jerked", "creeps": "jerked", "anchor": "jerked", "wheel": "jerked", "jerked": "jerked",
}

// pieceOf is what a piece of the sheet goes by; empty for what lies ready and is not rigged.
func pieceOf(g job.GearSheet) string {
	if g.Use == "spare" {
		return ""
	}
	return cmp.Or(g.Name, g.Kind)
}

func (s *Session) wears(w Worn) {
	if w.Piece != "" && !slices.Contains(s.Worn, w) {
		s.Worn = append(slices.Clone(s.Worn), w)
	}
}

// toldOfIt are the events that words on a piece's condition count for: that it is not
// known any more was said of a piece that had borne more than it may.
var toldOfIt = map[string]string{"damaged": "told", "unknown": "doubted"}

// spoilt keeps that what a field of the sheet is about was told to be damaged, or in a
// pull to be no longer what it was.
func (s *Session) spoilt(path, value string) {
	if told := toldOfIt[value]; told != "" && (value == "damaged" || s.Stage.Rigged()) {
		s.wears(Worn{Piece: s.pieceAt(path), Told: told})
	}
}

// whole takes back what was told of a piece: others have looked, and it did not stand.
func (s *Session) whole(path, value string) {
	if at := s.pieceAt(path); at != "" && value == "good" {
		s.Worn = slices.DeleteFunc(slices.Clone(s.Worn), func(w Worn) bool { return w.Piece == at && w.Told != "" })
	}
}

// pieceAt is the piece that a field has the condition of; empty for no such field.
func (s *Session) pieceAt(path string) string {
	base, ok := strings.CutSuffix(path, ".condition")
	switch {
	case !ok:
	case base == "load.tow_point":
		return "tow-point"
	case base == "load.holding_point":
		return "holding-point"
	}
	for i, g := range s.Sheet.Gear {
		if ok && base == "gear["+itoa(i)+"]" {
			return cmp.Or(g.Name, g.Kind)
		}
	}
	return ""
}

// shaken keeps all that was there when the line took a shock.
func (s *Session) shaken(kinds ...string) {
	s.opensMark(kinds...)
	if !s.Stage.Rigged() || !slices.ContainsFunc(kinds, func(k string) bool { return shocking[k] != "" }) {
		return
	}
	for _, g := range s.Sheet.Gear {
		s.wears(stamped(g))
	}
}

// stamped is a piece of the sheet with what is stamped on it.
func stamped(g job.GearSheet) Worn {
	w := Worn{Piece: pieceOf(g)}
	if g.RatingKind == "working" {
		w.Working = g.Rating
	}
	return w
}

// Wear lists what happened to the gear, as it was told: a load that ran or a line that
// jumped shocks all of it, and so does what a stop was for; the debrief names pieces,
// and so did whoever told that one was damaged.
func (s *Session) Wear() []calc.Event {
	var out []calc.Event
	add := func(kind, words string) {
		if s.shocks(kind, words) {
			out = append(out, calc.Event{What: shocking[kind]})
		}
	}
	for _, r := range s.Reports {
		if add(r.Kind, r.Words); r.Kind == "reading" {
			if f, err := bound.ReadForce(r.Force); err == nil {
				out = append(out, calc.Event{What: calc.EventReading, Reading: job.CellShows(f), At: r.Where})
			}
		}
	}
	for _, stop := range s.Stops {
		if stop.Drill || !stop.Stage.Rigged() {
			continue
		}
		for _, cause := range stop.causes() {
			add(cause, stop.Words)
		}
	}
	all := slices.Clone(s.Worn)
	for _, g := range s.Sheet.Gear {
		if w := stamped(g); w.Piece != "" && !slices.Contains(all, w) {
			all = append(all, w)
		}
	}
	for i, w := range all {
		if w.Told != "" {
			out = append(out, calc.Event{What: w.Told, Piece: w.Piece})
			continue
		}
		e := calc.Event{What: calc.EventListed, Piece: w.Piece, Shaken: i < len(s.Worn)}
		if f, err := bound.ReadForce(w.Working); err == nil {
			e.Working = &f.Value.Low
		}
		out = append(out, e)
	}
	return append(out, s.shownAll()...)
}
