package flow

import "fmt"

// How the first wrong entry is told. Two things say where an entry belongs:
// the number that it states, and its prev, which is the out of the one before
// it. An entry is in its place when both fit; where they don't, the
// neighbours that still fit each other say what was done.

// fault finds the first entry that is not as it was written. Loose ones at the
// beginning are held only by the first that carries a link.
func (c *chain) fault(loose int, w Witness) *Fault {
	for i := range c.links {
		if !c.inPlace(i) {
			return c.diagnose(i, loose, w)
		}
	}
	return c.atEnd(w)
}

// before is what the prev of position i must be.
func (c *chain) before(i int) string {
	if i == 0 {
		return ""
	}
	return c.links[i-1].out
}

func (c *chain) inPlace(i int) bool {
	l := c.links[i]
	if l.loose() {
		return i == 0 || c.links[i-1].loose()
	}
	return !l.noise && l.n == uint64(i+1) && l.prev == c.before(i)
}

// holdsNext reports whether what follows position i, an entry or the end that
// is known, follows the entry there as it is.
func (c *chain) holdsNext(i int, w Witness) bool {
	if i+1 < len(c.links) {
		return c.links[i+1].prev == c.links[i].out
	}
	return w.Chain != "" && w.Chain == c.links[i].out
}

// diagnose says what was done where position i is the first that does not fit.
func (c *chain) diagnose(i, loose int, w Witness) *Fault {
	l, at := c.links[i], uint64(i+1)
	if j, is := c.copyOf(i); is {
		return &Fault{Entry: at, Is: Repeated, Note: fmt.Sprintf("it is event %d again", j+1)}
	}
	if j, is := c.elsewhere(i); is {
		return &Fault{Entry: at, Is: Shifted, Note: fmt.Sprintf("it stands as event %d", j+1)}
	}
	switch {
	case i > 0 && !l.noise && l.prev == c.before(i-1) && l.n == at-1:
		// It follows the one before the last: what stands between was put in.
		return &Fault{Entry: at - 1, Is: Added}
	case i+1 < len(c.links) && c.links[i+1].prev == c.before(i) && c.links[i+1].n == at:
		return &Fault{Entry: at, Is: Added}
	case !l.noise && l.n > at && l.prev != c.before(i):
		return &Fault{Entry: at, Is: Dropped, Note: fmt.Sprintf("event %d follows event %d", l.n, at-1)}
	case !l.noise && l.n == at && i > 0 && c.holdsNext(i, w):
		// The entry is sound; the one before it is not what it was.
		f := &Fault{Entry: at - 1, Is: Changed}
		if i == loose && loose > 1 {
			f.Note = "or one before it, as events of an early release carry no links of their own"
		}
		return f
	case i+1 == len(c.links) && i > 0 && w.Chain == "" && !l.noise && l.n == at:
		return &Fault{Entry: at - 1, Is: Changed, Note: fmt.Sprintf("or the link of event %d was, which nothing follows", at)}
	}
	return &Fault{Entry: at, Is: Changed}
}

// copyOf finds another position with the same entry.
func (c *chain) copyOf(i int) (int, bool) {
	for j, l := range c.links {
		if j != i && l.raw == c.links[i].raw {
			return j, true
		}
	}
	return 0, false
}

// elsewhere finds the entry that belongs at position i at another one.
func (c *chain) elsewhere(i int) (int, bool) {
	for j := i + 1; j < len(c.links); j++ {
		l := c.links[j]
		if l.prev != c.before(i) || l.n != uint64(i+1) {
			continue
		}
		// What stands here instead must be an entry of the job itself, or it
		// was put in.
		here := c.links[i]
		for k, o := range c.links {
			if k != i && o.out == here.prev && !here.noise {
				return j, true
			}
		}
	}
	return 0, false
}

// atEnd holds the last entry against the summary.
func (c *chain) atEnd(w Witness) *Fault {
	n := uint64(len(c.links))
	last := ""
	if n > 0 {
		last = c.links[n-1].out
	}
	switch {
	case w.Chain == "" || w.Chain == last:
		return nil
	case w.Last > n:
		return &Fault{Entry: n + 1, Is: Dropped, Note: fmt.Sprintf("the summary counts %d", w.Last)}
	case w.Last > 0 && w.Last < n:
		return &Fault{Entry: w.Last + 1, Is: Added, Note: fmt.Sprintf("the summary counts %d", w.Last)}
	}
	return &Fault{Entry: n, Is: Changed, Note: "or the summary was, which it does not fit"}
}
