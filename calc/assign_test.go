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

// The last row fails with any piece: it takes from the first no piece that
// passes there, though so the worst cost is greater. What else would serve fewer
// rows is no better.
func TestWhatFailsAnyhowYields(t *testing.T) {
	fails := float64(tierFails)
	for _, c := range []struct {
		cost [][]float64
		want []int
	}{
		{[][]float64{{0.6, fails + 1.2}, {fails + 2.7, fails + 5.5}}, []int{0, 1}},
		{[][]float64{{0.6, fails + 1.2}, {fails + 2.7, 0.9}}, []int{0, 1}},
		{[][]float64{{0.6, fails + 1.2}, {fails + 2.7, math.Inf(1)}}, []int{1, 0}},
		{[][]float64{{fails + 2, fails + 1}, {0.4, 0.5}}, []int{1, 0}},
	} {
		if got := assign(c.cost, 0); !slices.Equal(got, c.want) {
			t.Errorf("%v: %v, want %v", c.cost, got, c.want)
		}
	}
}

// No pinning of anchors that count for something is better than the choice:
// it has no fewer that fail, and the reasons name what is left of the best.
func TestEveryAnchorIsTried(t *testing.T) {
	trees := "anchors[0].use=; anchors[1].use=; anchors[0].rating=; anchors[0].rating_kind=; anchors[0].kind=tree; anchors[0].alive=true; anchors[0].lean=false; " +
		"anchors[1].rating=; anchors[1].rating_kind=; anchors[1].kind=vehicle; anchors[1].chocked=true; anchors[1].braked=true; anchors[1].in_line=true; anchors[1].ground=grass; anchors[1].slope=0 deg; "
	for _, beech := range []string{"40 cm", "55 cm", "70 cm"} {
		for _, digger := range []string{"4 t", "8 t", "20 t"} {
			for _, mass := range []string{"1 t", "3 t", "7 t"} {
				sets := trees + "anchors[0].diameter=" + beech + "; anchors[1].mass=" + digger + "; load.mass=" + mass
				free := weighedBest(t, changed(t, sets))
				for _, pins := range []string{"anchors[0].use=standing; anchors[1].use=holding", "anchors[1].use=standing; anchors[0].use=holding"} {
					if o := weighedBest(t, changed(t, sets, pins)); o.v.blocks < free.v.blocks || rank[o.v.decision] > rank[free.v.decision] {
						t.Errorf("%s, %s and %s: %s with %d failing, and with %s %s with %d", mass, beech, digger, free.v.decision, free.v.blocks, pins, o.v.decision, o.v.blocks)
					}
				}
			}
		}
	}
}

// The last row takes nothing that the others could pass with, though each would be
// served by something that fails.
func TestWhatYieldsTakesNothingThatPasses(t *testing.T) {
	never, fails := math.Inf(1), float64(tierFails)
	haulAndHold := [][]float64{{0.5, fails + 1}, {0.2, never}}
	if got, want := assign(haulAndHold, 1), []int{0, -1}; !slices.Equal(got, want) {
		t.Errorf("got %v, want %v", got, want)
	}
	haulAndHold[0][0] = fails + 2 // it fails with either: then each is served
	if got, want := assign(haulAndHold, 1), []int{1, 0}; !slices.Equal(got, want) {
		t.Errorf("got %v, want %v", got, want)
	}
}
