package flow

import (
	"cmp"
	"slices"
)

// The list is shared out among those who can see what it asks for, so that nobody
// answers so much of it that they answer without looking. Who sees it best comes
// first where two have as much to do. It goes by the crew and the list alone, so
// that an answer moves no other item to somebody else.

// A share is who looks at an item, and who else where two have to.
type share struct {
	first, second Seat
	twice         bool // there is somebody for the second look
}

// anyEyes are the duties whose people can look as well, where nobody sees it from
// their own place: the driver last, whose place is the furthest from the load.
var anyEyes = []string{"leader", "rigger", "signal", "holder", "chocks", "lookout", "recorder", "driver"}

// shares gives each item of the list to somebody, by its path.
func (t *turn) shares() map[string]share {
	out := map[string]share{}
	load := map[string]int{}
	list := t.listed()
	for _, c := range list {
		s := share{first: t.leadSeat()}
		if best, ok := t.leastOf(t.seatsFor(c.eyes), load, ""); ok {
			s.first = best
		}
		load[s.first.Name]++
		out[c.path()] = s
	}
	for _, c := range list {
		if !c.two {
			continue
		}
		s := out[c.path()]
		if s.second, s.twice = t.elseOf(c, s.first.Name, load); s.twice {
			load[s.second.Name]++
		}
		out[c.path()] = s
	}
	return out
}

// elseOf returns who else looks: somebody other than the first, one with a phone
// before one without, and of these who has least to look at and sees it best.
func (t *turn) elseOf(c siteCheck, first string, load map[string]int) (Seat, bool) {
	all := t.seatsFor(slices.Concat(c.eyes, anyEyes))
	phones := slices.DeleteFunc(slices.Clone(all), func(s Seat) bool { return t.s.phone(s) == nil })
	if s, ok := t.leastOf(phones, load, first); ok {
		return s, true
	}
	return t.leastOf(all, load, first)
}

// seatsFor are the seats of those with some duties, each person once.
func (t *turn) seatsFor(duties []string) []Seat {
	var out []Seat
	for _, duty := range duties {
		s := t.s.doer(duty)
		if s != nil && s.Name != "" && !slices.ContainsFunc(out, func(o Seat) bool { return sameName(o.Name, s.Name) }) {
			out = append(out, *s)
		}
	}
	return out
}

// leastOf returns who of some people, but for one, has least to look at; of equals
// the first.
func (t *turn) leastOf(seats []Seat, load map[string]int, but string) (Seat, bool) {
	seats = slices.DeleteFunc(slices.Clone(seats), func(s Seat) bool { return but != "" && sameName(s.Name, but) })
	if len(seats) == 0 {
		return Seat{}, false
	}
	return slices.MinFunc(seats, func(a, b Seat) int { return cmp.Compare(load[a.Name], load[b.Name]) }), true
}
