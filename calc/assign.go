package calc

import (
	"math"
	"slices"
)

// assign gives each row (a place) a column (a piece) of its own so that the
// worst cost is the least that any such choice has: the bottleneck assignment.
// It is exact, because a matching of a given size exists under a threshold or
// it does not, and the least threshold is found among the costs themselves.
// cost is math.Inf(1) where a piece can't serve. A row for which nothing is
// left gets -1; as few rows as possible are left without.
//
// With the worst settled the others are brought down in turn. Where several
// rows could each do better but not all at once, the first stays behind, so
// below the worst the choice is good and not always the least.
func assign(cost [][]float64) []int {
	limit := make([]float64, len(cost))
	open := make([]int, len(cost))
	for i := range cost {
		limit[i], open[i] = math.MaxFloat64, i
	}
	levels := thresholds(cost)
	best := match(cost, limit)
	full := best.size()
	for len(open) > 0 && full > 0 {
		// The least level under which the open rows can all still be served.
		at, _ := slices.BinarySearchFunc(levels, 0, func(level float64, _ int) int {
			if match(cost, capped(limit, open, level)).size() >= full {
				return 1
			}
			return -1
		})
		limit = capped(limit, open, levels[at])
		best = match(cost, limit)
		// A row that can't do better is settled. Where each could but not all at
		// once, the first that costs this much is.
		var rest []int
		first := -1
		for _, i := range open {
			c := slices.Clone(limit)
			c[i] = below(levels, at)
			switch {
			case best.row[i] < 0:
			case match(cost, c).size() < full:
			default:
				if first < 0 && cost[i][best.row[i]] == levels[at] {
					first = i
				}
				rest = append(rest, i)
			}
		}
		if len(rest) == len(open) {
			if first < 0 {
				break
			}
			rest = slices.DeleteFunc(rest, func(i int) bool { return i == first })
		}
		open = rest
	}
	return best.row
}

// capped returns limit with the rows of open held to level.
func capped(limit []float64, open []int, level float64) []float64 {
	c := slices.Clone(limit)
	for _, i := range open {
		c[i] = min(c[i], level)
	}
	return c
}

func below(levels []float64, at int) float64 {
	if at == 0 {
		return math.Inf(-1)
	}
	return levels[at-1]
}

func thresholds(cost [][]float64) []float64 {
	var all []float64
	for _, row := range cost {
		for _, c := range row {
			if !math.IsInf(c, 1) {
				all = append(all, c)
			}
		}
	}
	slices.Sort(all)
	return slices.Compact(all)
}

// matching pairs rows and columns; -1 is nobody.
type matching struct{ row, col []int }

func (m matching) size() int {
	n := 0
	for _, c := range m.row {
		if c >= 0 {
			n++
		}
	}
	return n
}

// match finds a largest matching with every cost within its row's limit, by
// augmenting paths: rows are few, so each path is short.
func match(cost [][]float64, limit []float64) matching {
	m := matching{row: make([]int, len(cost))}
	cols := 0
	for i := range cost {
		m.row[i] = -1
		cols = max(cols, len(cost[i]))
	}
	m.col = make([]int, cols)
	for j := range m.col {
		m.col[j] = -1
	}
	seen := make([]bool, cols)
	var serve func(i int) bool
	serve = func(i int) bool {
		for j, c := range cost[i] {
			if c > limit[i] || seen[j] || math.IsInf(c, 1) {
				continue
			}
			seen[j] = true
			if m.col[j] < 0 || serve(m.col[j]) {
				m.row[i], m.col[j] = j, i
				return true
			}
		}
		return false
	}
	for i := range cost {
		clear(seen)
		serve(i)
	}
	return m
}
