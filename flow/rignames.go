package flow

import (
	"slices"
	"strings"
)

// The arrangement is kept by what its pieces and anchors are called, and that can change
// while they stay where they are: another oak is told, and what was "the oak" is "oak 20
// inch" from then; two diameters were told the wrong way round. What is rigged is renamed
// with them, so that the plan never takes one for the other.

// rigRenamed is the path of an act that sets the same arrangement down in other names.
const rigRenamed = "renamed"

// rigNames are what the pieces and anchors of the list are called in an arrangement, by
// their places.
func (t *turn) rigNames() map[string]string {
	if len(t.s.Rig) == 0 {
		return nil
	}
	out := map[string]string{}
	for list, class := range map[string]string{"gear": "gear", "anchors": "anchor"} {
		for i := 0; ; i++ {
			told := t.namedBy(list, i)
			if told.kind == "" {
				break
			}
			name := told.name
			if l := t.label(list, i); l != t.plainLabel(list, i) {
				name = l
			}
			out[list+"["+itoa(i)+"]"] = strings.Join([]string{class, told.kind, name}, "|")
		}
	}
	return out
}

// renamesRig sets the arrangement down in the names that its pieces and anchors have now:
// was are those from before, stays where each of them has its place, empty for what is
// no more, or is another thing.
func (t *turn) renamesRig(was map[string]string, stays func(at string) string) {
	now, called := t.rigNames(), map[string]string{}
	for at, old := range was {
		if to := stays(at); to != "" && now[to] != "" {
			called[old] = now[to]
		}
	}
	rig := slices.Clone(t.s.Rig)
	for i, line := range rig {
		end := strings.LastIndexByte(line, '|')
		if end < 0 {
			continue
		}
		if to := called[line[:end]]; to != "" {
			rig[i] = to + line[end:]
		}
	}
	if len(rig) > 1 {
		slices.Sort(rig[1:])
	}
	if !slices.Equal(rig, t.s.Rig) {
		t.act(Act{Do: DoRig, Path: rigRenamed, Names: rig})
	}
}

// otherThing reports whether changes put another thing in a place of the list, where one
// was that an arrangement called was.
func (t *turn) otherThing(at, was string, changes []change) bool {
	f := strings.Split(was, "|")
	return slices.ContainsFunc(changes, func(c change) bool {
		switch c.path {
		case at + ".kind":
			return c.value != f[1] || t.otherOne(c.path, changes)
		case at + ".name":
			return f[2] != "" && !strings.HasPrefix(f[2], c.value)
		}
		return false
	})
}
