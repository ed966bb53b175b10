package flow

import (
	"slices"
	"strings"

	"linetender/flow/hear"
)

// speltLike returns the answers that are there and spelt most like what nobody knows,
// the words for it, and what the one that is meant becomes.
func (t *turn) speltLike(unknown string) (names []string, said, value string) {
	called := map[string]string{}
	for _, p := range t.whoIsWho().Pieces {
		called[p.Label] = p.At
	}
	for _, n := range hear.Nearest(unknown, called) {
		of := []string{n.Object}
		if !strings.HasSuffix(n.Object, "]") {
			of = t.changeable(n.Object)
		}
		for _, name := range of {
			if tp, ok := topicByName(name); (ok && t.valueOf(tp) != "" || strings.HasSuffix(name, "]") || name == "gear" && len(t.s.Sheet.Gear) > 0) && !slices.Contains(names, name) {
				names, said, value = append(names, name), n.Said, n.Value
			}
		}
	}
	if len(names) > mostNear {
		return nil, "", ""
	}
	return names, said, value
}

// mostNear is how many answers are offered for a name that nobody knows.
const mostNear = 6
