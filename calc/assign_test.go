package calc

import (
	"math"
	"slices"
	"testing"

	"pgregory.net/rapid"
)

// Every assignment of a small table is tried by hand; assign must serve as
// many rows, those that yield last, with as small a worst cost.
func TestAssignHasTheLeastWorst(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		rows, cols := rapid.IntRange(1, 4).Draw(t, "rows"), rapid.IntRange(0, 5).Draw(t, "cols")
		cost := make([][]float64, rows)
		for i := range cost {
			cost[i] = make([]float64, cols)
			for j := range cost[i] {
				cost[i][j] = float64(rapid.IntRange(0, 6).Draw(t, "cost"))
				if cost[i][j] == 0 {
					cost[i][j] = math.Inf(1)
				}
			}
		}
		yields := rapid.IntRange(0, 1).Draw(t, "yields")
		row := assign(cost, yields)
		got := weightsOf(t, cost, row)
		want, left := []float64(nil), 0
		kept := func(row []int) (n int) { // of the rows that do not yield
			for _, j := range row[:rows-yields] {
				if j >= 0 {
					n++
				}
			}
			return n
		}
		var walk func(i int, taken []bool, row []int)
		walk = func(i int, taken []bool, row []int) {
			if i == rows {
				w, k := weightsOf(t, cost, row), kept(row)
				if want == nil || len(w) > len(want) || len(w) == len(want) && (k > left || k == left && slices.Compare(w, want) < 0) {
					want, left = w, k
				}
				return
			}
			walk(i+1, taken, append(slices.Clone(row), -1))
			for j := range cols {
				if !taken[j] && !math.IsInf(cost[i][j], 1) {
					taken[j] = true
					walk(i+1, taken, append(slices.Clone(row), j))
					taken[j] = false
				}
			}
		}
		walk(0, make([]bool, cols), nil)
		if len(got) != len(want) || len(got) > 0 && got[0] != want[0] || kept(row) != left {
			t.Fatalf("got %v, want %v for %v", got, want, cost)
		}
	})
}

// weightsOf returns the costs of the rows served, worst first, and checks that
// no column is used twice.
func weightsOf(t *rapid.T, cost [][]float64, row []int) []float64 {
	w := []float64{}
	used := map[int]bool{}
	for i, j := range row {
		if j < 0 {
			continue
		}
		if used[j] {
			t.Fatalf("column %d twice in %v", j, row)
		}
		used[j] = true
		w = append(w, cost[i][j])
	}
	slices.SortFunc(w, func(a, b float64) int { return int(b - a) })
	return w
}
