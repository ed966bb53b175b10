package calc

import (
	"slices"

	"linetender/calc/bound"
	"linetender/calc/handbook"
	"linetender/calc/job"
	"linetender/calc/unit"
)

// What was seen is true of the load and the puller that it was seen with. Each
// is reckoned again as it was then, and what that says is carried over to what
// is there now:
//
//   - against the load (it stood, a cell read much) in the share that the most
//     it needs now has of the most that it needed then, and never as more than
//     it was: a lighter load or a wheel dug free needs less of it;
//   - in its favour (it moved, a cell read little) only to a load that lies
//     alike and was never told to weigh otherwise since. Whether one told
//     otherwise was unloaded, laden or only weighed again nobody says, what it
//     weighed then is not known any more where a wrong figure was put right, and a
//     figure that is the same again is no proof of the same load;
//   - against the puller to the same one on the same ground. Whatever else stands
//     on such ground is held by it no better, in share, than what slipped there.
//
// Source: derived, resistance is a share of the weight; which way each errs is
// judgment.

// moment is what something was seen with.
type moment struct {
	load   job.Load
	laden  bool         // or unloaded since, so it may be another of the same figure
	by     []job.Puller // what it may have been pulled by
	places []int        // of these among the case's, -1 for one that is none of them
	n      need
	powers []power
	eta    Ratio
	sheave string
	leads  int
}

// pinned is the case with everything seen holding what it was seen with, so
// that what is changed from here on changes nothing of that.
func pinned(c job.Case) job.Case {
	seen := slices.Clone(c.Seen)
	for i := range seen {
		s := &seen[i]
		if s.Load == nil {
			s.Load = &c.Load
		}
		if s.Puller == nil && len(c.Pullers) == 1 {
			s.Puller = new(int)
		}
		switch {
		case len(s.By) > 0:
		case s.Puller != nil && *s.Puller < len(c.Pullers):
			s.By = c.Pullers[*s.Puller : *s.Puller+1]
		default:
			s.By = c.Pullers
		}
		if s.Leads == nil {
			s.Leads = new(leads(c))
		}
		if s.Sheave == "" {
			s.Sheave = c.Tackle.Sheave
		}
	}
	for i := range seen { // what was told otherwise in between was unloaded or laden and may be so again
		seen[i].Reloaded = seen[i].Reloaded || slices.ContainsFunc(seen[i+1:], func(s job.Seen) bool { return s.Load.Mass != seen[i].Load.Mass })
	}
	c.Pullers, c.Seen = slices.Clone(c.Pullers), seen // those of the moments stay as they are
	return c
}

// momentOf reckons what a thing of a pinned case was seen with.
func momentOf(c job.Case, s job.Seen) *moment {
	m := &moment{load: *s.Load, laden: s.Reloaded, by: s.By, sheave: s.Sheave, leads: *s.Leads}
	then := c
	then.Load, then.Pullers, then.Learnt, then.Seen = m.load, m.by, nil, nil
	m.n = reckonNeed(then, view{})
	for i := range m.by {
		m.powers = append(m.powers, reckonPower(then, i, view{}))
		switch {
		case s.Puller != nil:
			m.places = append(m.places, *s.Puller)
		case len(m.by) > 1:
			m.places = append(m.places, i)
		default:
			m.places = append(m.places, -1)
		}
	}
	m.eta = sheavesThen(m.sheave)
	return m
}

// same reports whether the load was the same at another moment.
func (m *moment) same(o *moment) bool {
	return m.load == o.load || m.load.Mass == o.load.Mass && lies(m.load, o.load)
}

// lies reports whether two loads lie alike: on such ground, as steep and as
// deep, as free, with no step, and pulled the same way.
func lies(a, b job.Load) bool {
	return a.Ground == b.Ground && a.Slope == b.Slope && a.Pull == b.Pull && a.Sunk == b.Sunk && !stepped(a) && !stepped(b) &&
		bothTold(a.Locked, b.Locked) && bothTold(a.Belly, b.Belly) && bothTold(a.OffLine, b.OffLine)
}

func stepped(l job.Load) bool { return l.Lip != nil && !l.Lip.None }

// bothTold reports whether the same was told, or nothing both times.
func bothTold[T comparable](a, b *T) bool {
	return a == nil && b == nil || a != nil && b != nil && *a == *b
}

// against carries a force that the load stood under, or more, to the load that
// is there now.
func (m *moment) against(f unit.Force, now Force) unit.Force {
	if now.High >= m.n.force.High || m.n.force.High <= 0 {
		return f
	}
	return f.Scale(max(0, float64(now.High/m.n.force.High)))
}

// still reports whether the load that is there now lies as it did and is the one
// of then, so that what moved it says something in its favour.
func (m *moment) still(now job.Load) bool { return !m.other(now) && lies(m.load, now) }

// other reports whether the load may weigh otherwise than then.
func (m *moment) other(now job.Load) bool { return m.laden || m.load.Mass != now.Mass }

// is reports whether puller j of the case is the one that something was seen
// with: in its place, of its name and kind, on its ground.
func (m *moment) is(j int, now []job.Puller) bool {
	for k, p := range m.by {
		if m.places[k] == j && calledAlike(p, now[j]) && alikePullers(p, now[j]) {
			return true
		}
	}
	return false
}

// elsewhere reports whether a puller is the one at place k of a moment, of its name and
// kind, and stands on other ground.
func (m *moment) elsewhere(k int, now job.Puller) bool {
	p := m.by[k]
	return calledAlike(p, now) && p.Kind == now.Kind && p.Ground != now.Ground
}

// calledAlike reports whether two go by one name, or one of them by none.
func calledAlike(a, b job.Puller) bool { return a.Name == b.Name || a.Name == "" || b.Name == "" }

// alikePullers reports whether two are of a kind and stand on such ground, so that
// the one may be the other.
func alikePullers(a, b job.Puller) bool { return a.Kind == b.Kind && a.Ground == b.Ground }

// top is the most that can have been on the haul line. A puller whose figures
// were told otherwise since may be another or the same known better, so of
// all that were told of its place, now and with what was seen later, the
// strongest counts.
func (m *moment) top(now []power, later []*moment) (unit.Force, bool) {
	most, all := unit.Force(0), len(m.powers) > 0
	add := func(w power) {
		f, ok := w.could()
		most, all = max(most, f), all && ok
	}
	for k, w := range m.powers {
		add(w)
		j := m.places[k]
		if j < 0 {
			continue
		}
		if j < len(now) {
			add(now[j])
		}
		for _, o := range later {
			for q, v := range o.powers {
				if o.places[q] == j {
					add(v)
				}
			}
		}
	}
	return most, all
}

// again is the share of the gain with which the load stood that will not do for
// the one that is there now: as much less as that needs less, but for what a pull
// may be over the planned effort before it stops. So a load that is a trifle
// lighter undoes nothing (judgment: errs high).
func (m *moment) again(now Force) bound.Ratio {
	then := m.n.force
	if then.High <= 0 || now.High >= then.High {
		return 1
	}
	effort, _ := handbook.EffortStop()
	return min(1, effort*bound.Ratio(max(0, now.High/then.High)))
}

// noBetter reports whether puller j now gives no more than what was there then,
// so that as few parts stand again.
func (m *moment) noBetter(j int, now []power) bool {
	for k, p := range m.by {
		if m.places[k] != j || !alikePullers(p, now[j].p) {
			continue
		}
		then, ok := m.powers[k].bare()
		gives, also := now[j].bare()
		if !ok || !also || within(gives.Low, then.Low) && within(gives.Best, then.Best) && within(gives.High, then.High) {
			return true
		}
	}
	return false
}

// sheavesThen are those of a moment. What nobody told of them is taken as bad for
// the tackle, as everywhere, at their low end and as good at their high one: what
// moved the load may have been more.
func sheavesThen(sheave string) Ratio {
	eta, _ := sheaves(job.Tackle{Sheave: sheave}, view{})
	if sheave == "" {
		roller, _ := sheaves(job.Tackle{Sheave: "roller"}, view{})
		eta.High = max(eta.High, roller.High)
	}
	return eta
}
