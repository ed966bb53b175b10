package calc

import (
	"slices"
	"strings"
)

// Deciding returns the steps of the working that lead to what a pull stands or falls
// by, in order: what the load takes, what comes of it at the puller, what that gives,
// and what the weakest piece carries of what it may. It is empty for a plan without
// working.
func (p Plan) Deciding() []Step {
	weakest := ""
	for _, s := range p.Working {
		if of, ok := strings.CutPrefix(s.Topic, "use of "); ok && weakest == "" {
			weakest = of
		}
	}
	main := []string{"resistance", "force along the line", "force by what was seen", "advantage", "haul", "puller gives", "margin"}
	if weakest != "" {
		main = append(main, "load on "+weakest, "may carry: "+weakest, "use of "+weakest)
	}
	var out []Step
	for _, s := range p.Working {
		if slices.Contains(main, s.Topic) {
			out = append(out, s)
		}
	}
	return out
}
