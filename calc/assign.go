package calc

import (
	"math"
	"slices"
	"sort"
)

// assign gives each row (a place) a column (a piece) of its own so that the
// worst cost is the least that any such choice has: the bottleneck assignment.
// It is exact, because a matching of a given size exists under a threshold or
// it does not, and the least threshold is found among the costs themselves.
// cost is math.Inf(1) where a piece can't serve. A row for which nothing is
// left gets -1; as few rows as possible are left without. The last yields rows
// are what the others leave: none of them is served where that takes away what
// another row needs, however little it would cost there, or what all others could
// pass with: a rope that hauls holds nothing, though a chain too short to haul is left.
//
// What costs tierFails or more fails, and where not all can pass the worst cost
// is no measure: one that fails anyhow takes from no other what that would pass
// with. Row after row is then held to what passes, or to the least that it can
// fail by, where all are served all the same; so what is said to fail is the best
// that there is for it.
//
// With the worst settled the others are brought down in turn. Where several
// rows could each do better but not all at once, the first stays behind, so
// below the worst the choice is good and not always the least.
func assign(cost [][]float64, yields int) []int {
	limit := make([]float64, len(cost))
	open := make([]int, len(cost))
	for i := range cost {
		limit[i], open[i] = math.MaxFloat64, i
	}
	levels := thresholds(cost)
	if len(levels) == 0 { // nothing serves anywhere
		for i := range open {
			open[i] = -1
		}
		return open
	}
	best, trial := newMatching(cost), newMatching(cost)
	best.fill(limit) // row after row, and one that is served stays so
	full := best.size()
	for i := len(cost) - yields; i < len(cost); i++ {
		if best.row[i] < 0 {
			limit[i] = math.Inf(-1)
			open = slices.DeleteFunc(open, func(k int) bool { return k == i })
		}
	}
	lower := make([]float64, len(cost))
	capped := func(level float64) []float64 {
		copy(lower, limit)
		for _, i := range open {
			lower[i] = min(lower[i], level)
		}
		return lower
	}
	passes := math.Nextafter(tierFails, 0)
	trial.fill(capped(passes))
	if yields > 0 && trial.size() < full {
		copy(lower, limit)
		for i := range len(cost) - yields {
			lower[i] = min(lower[i], passes)
		}
		trial.fill(lower) // row after row, so the last take what the others leave
		for i := len(cost) - yields; i < len(cost); i++ {
			if best.row[i] >= 0 && trial.row[i] < 0 {
				limit[i] = math.Inf(-1)
				open = slices.DeleteFunc(open, func(k int) bool { return k == i })
			}
		}
		best.fill(limit)
		full = best.size()
	}
	if trial.fill(capped(passes)); trial.size() < full && full == len(open) {
		holds := func(i int, most float64) bool {
			was := limit[i]
			limit[i] = most
			trial.fill(limit)
			limit[i] = was
			return trial.size() >= full
		}
		for _, i := range open {
			if holds(i, passes) {
				limit[i] = passes
			}
		}
		from, _ := slices.BinarySearch(levels, tierFails)
		for _, i := range open {
			if limit[i] > passes {
				limit[i] = levels[from+sort.Search(len(levels)-from-1, func(k int) bool { return holds(i, levels[from+k]) })]
			}
		}
		best.fill(limit)
	}
	at := len(levels)
	for len(open) > 0 && full > 0 {
		// The least level under which the open rows can all still be served. It
		// never rises: they are served under the last one.
		at, _ = slices.BinarySearchFunc(levels[:min(at+1, len(levels))], 0, func(level float64, _ int) int {
			trial.fill(capped(level))
			if trial.size() >= full {
				return 1
			}
			return -1
		})
		copy(limit, capped(levels[at]))
		best.fill(limit)
		// A row that can't do better is settled. Where each could but not all at
		// once, the first that costs this much is.
		rest := open[:0]
		first, were := -1, len(open)
		for _, i := range open {
			if best.row[i] < 0 || !trial.serves(best, limit, i, below(levels, at)) {
				continue
			}
			if first < 0 && cost[i][best.row[i]] == levels[at] {
				first = i
			}
			rest = append(rest, i)
		}
		if len(rest) == were {
			if first < 0 {
				break
			}
			rest = slices.DeleteFunc(rest, func(i int) bool { return i == first })
		}
		open = rest
	}
	return best.row
}

func below(levels []float64, at int) float64 {
	if at == 0 {
		return math.Inf(-1)
	}
	return levels[at-1]
}

func thresholds(cost [][]float64) []float64 {
	n := 0
	for _, row := range cost {
		n += len(row)
	}
	all := make([]float64, 0, n)
	for _, row := range cost {
		for j, c := range row {
			if !math.IsInf(c, 1) && (j == 0 || c != row[j-1]) {
				all = append(all, c)
			}
		}
	}
	slices.Sort(all)
	return slices.Compact(all)
}

// matching pairs rows and columns; -1 is nobody.
type matching struct {
	cost     [][]float64
	row, col []int
	seen     []bool
}

func newMatching(cost [][]float64) *matching {
	cols := 0
	for i := range cost {
		cols = max(cols, len(cost[i]))
	}
	return &matching{cost: cost, row: make([]int, len(cost)), col: make([]int, cols), seen: make([]bool, cols)}
}

func (m *matching) size() int {
	n := 0
	for _, c := range m.row {
		if c >= 0 {
			n++
		}
	}
	return n
}

// fill finds a largest matching with every cost within its row's limit, by
// augmenting paths: rows are few, so each path is short.
func (m *matching) fill(limit []float64) {
	for i := range m.row {
		m.row[i] = -1
	}
	for j := range m.col {
		m.col[j] = -1
	}
	for i := range m.row {
		clear(m.seen)
		m.serve(limit, i)
	}
}

func (m *matching) serve(limit []float64, i int) bool {
	most := limit[i]
	for j, c := range m.cost[i] {
		if c > most || m.seen[j] || math.IsInf(c, 1) {
			continue
		}
		m.seen[j] = true
		if m.col[j] < 0 || m.serve(limit, m.col[j]) {
			m.row[i], m.col[j] = j, i
			return true
		}
	}
	return false
}

// serves reports whether as many rows as in of, a largest matching within
// limit, could be served with row i held to a lower one. Only the pair of row
// i can break; without it the matching is largest unless a path leads from a
// row that is not served.
func (m *matching) serves(of *matching, limit []float64, i int, lower float64) bool {
	j := of.row[i]
	if m.cost[i][j] <= lower {
		return true
	}
	copy(m.row, of.row)
	copy(m.col, of.col)
	m.row[i], m.col[j] = -1, -1
	was := limit[i]
	limit[i] = lower
	defer func() { limit[i] = was }()
	for k := range m.row {
		if m.row[k] >= 0 {
			continue
		}
		clear(m.seen)
		if m.serve(limit, k) {
			return true
		}
	}
	return false
}
