package calc

import (
	"math"
	"slices"
)

// assign gives each row (a place) a column (a piece) of its own so that the
// worst cost is the least that any such choice has, which is the bottleneck
// assignment, and then, with that one settled, the next worst, and so on.
// cost is math.Inf(1) where a piece can't serve. A row for which nothing is
// left gets -1; as few rows as possible are left without.
//
// It is exact: a matching of a given size exists under a threshold or it does
// not, and the least threshold is found among the costs themselves.
func assign(cost [][]float64) []int {
	rows := len(cost)
	settled := make([]int, rows)
	for i := range settled {
		settled[i] = -1
	}
	open := make([]int, 0, rows)
	for i := range cost {
		open = append(open, i)
	}
	most := make([]float64, rows) // the most that each row may cost from here on
	for i := range most {
		most[i] = math.MaxFloat64
	}
	levels := thresholds(cost)
	full := match(cost, most).size()
	for len(open) > 0 && full > 0 {
		limit := func(at float64) []float64 {
			c := slices.Clone(most)
			for _, i := range open {
				c[i] = min(c[i], at)
			}
			return c
		}
		at, _ := slices.BinarySearchFunc(levels, 0, func(level float64, _ int) int {
			if match(cost, limit(level)).size() >= full {
				return 1
			}
			return -1
		})
		if at == len(levels) {
			break
		}
		best := match(cost, limit(levels[at]))
		copy(settled, best.row)
		// The rows that must cost this much are settled at it; the rest go on.
		var rest []int
		for _, i := range open {
			c := limit(levels[at])
			c[i] = below(levels, at)
			if best.row[i] < 0 || match(cost, c).size() >= full {
				rest = append(rest, i)
				continue
			}
			most[i] = levels[at]
		}
		if len(rest) == len(open) || at == 0 {
			// Several rows can each do better, but not all at once.
			if at == 0 {
				break
			}
			most[rest[0]] = levels[at]
			rest = rest[1:]
		}
		for _, i := range rest {
			most[i] = levels[at]
		}
		open = rest
	}
	return settled
}

// bottleneck is the least worst cost with the most rows served, and how many
// are left without.
func bottleneck(cost [][]float64) (worst float64, without int) {
	levels := thresholds(cost)
	limit := make([]float64, len(cost))
	at := func(level float64) int {
		for i := range limit {
			limit[i] = level
		}
		return match(cost, limit).size()
	}
	full := at(math.MaxFloat64)
	if full == 0 {
		return 0, len(cost)
	}
	i, _ := slices.BinarySearchFunc(levels, 0, func(level float64, _ int) int {
		if at(level) >= full {
			return 1
		}
		return -1
	})
	return levels[i], len(cost) - full
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
