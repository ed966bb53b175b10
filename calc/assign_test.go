package calc

import (
	"math"
	"slices"
	"testing"

	"pgregory.net/rapid"
)

// Every assignment of a small table is tried by hand; assign must serve as
// many rows with as small a worst cost.
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
		got := weightsOf(t, cost, assign(cost))
		want := []float64(nil)
		var walk func(i int, taken []bool, row []int)
		walk = func(i int, taken []bool, row []int) {
			if i == rows {
				if w := weightsOf(t, cost, row); want == nil || len(w) > len(want) || len(w) == len(want) && slices.Compare(w, want) < 0 {
					want = w
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
		if len(got) != len(want) || len(got) > 0 && got[0] != want[0] {
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
