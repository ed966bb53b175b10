package handbook

import (
	"fmt"
	"slices"
	"testing"
)

// TestPosts: one more person is one more part and takes none away, nobody holds
// a line that is not there, and who holds one is there from four on.
//
// Source: common practice.
func TestPosts(t *testing.T) {
	for _, holds := range []bool{true, false} {
		for n := 2; n <= 12; n++ {
			list := Posts(n, holds)
			if want := min(n, MostPosts(holds)); len(list) != want {
				t.Errorf("%d people, holding line %v: %d parts, want %d", n, holds, len(list), want)
			}
			for job, post := range map[string]Post{"holding line": holder, "road": lookout, "split signals": signal} {
				least, _, _ := CrewFor(job)
				want := n >= least && (holds || job != "holding line")
				if got := slices.Contains(list, post); got != want && (holds || n >= least) {
					t.Errorf("%d people, holding line %v: %s is there %v, want %v as the least crew for it has it", n, holds, post.Role, got, want)
				}
			}
			for _, p := range Posts(n-1, holds) {
				if !slices.ContainsFunc(list, func(q Post) bool { return q.Does == p.Does }) {
					t.Errorf("%d people, holding line %v: nobody does what %s did before", n, holds, p.Role)
				}
			}
		}
		if Posts(1, holds) != nil || Posts(0, holds) != nil {
			t.Error("one person has a part in a crew")
		}
	}
}

func ExamplePosts() {
	for _, p := range Posts(4, false) {
		fmt.Println(p.Role)
	}
	fmt.Println(MostPosts(true), MostPosts(false))
	// Output:
	// leader_signal
	// driver
	// rigger
	// chocks
	// 8 7
}
