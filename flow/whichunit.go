package flow

import (
	"strings"

	"linetender/calc/unit"
)

// vague keeps a weight whose ton is not said, to be asked about.
func (t *turn) vague(c change) {
	if c.path != "load.mass" && c.path != "puller.mass" {
		return
	}
	if c.vague {
		t.act(Act{Do: DoHold, Path: heldTon + c.path, Value: c.value})
		t.act(Act{Do: DoReopen, Topic: "ton"})
	} else if t.s.Held[heldTon+c.path] != "" {
		t.act(Act{Do: DoHold, Path: heldTon + c.path})
	}
}

// heldTon stands before the path of a weight whose ton is not said.
const heldTon = "ton:"

// system notes the units that the person writes in, by the first that tells.
func (t *turn) system(path, value string) {
	if strings.HasSuffix(path, "slope") && !strings.Contains(value, "gap") && !strings.Contains(value, "rise") {
		return // 3 in 10 is no inch
	}
	s, ok := systemOf(value)
	if !ok || !t.s.Unsure && s == t.s.Units {
		return
	}
	if !t.s.Unsure {
		return
	}
	t.act(Act{Do: DoUnits, Value: s.String()})
}

// systemOf tells which units a quantity is written in.
func systemOf(value string) (unit.System, bool) {
	for _, w := range strings.FieldsFunc(strings.ToLower(value), func(r rune) bool {
		return !('a' <= r && r <= 'z') && r != '"' && r != '\''
	}) {
		switch w {
		case "lb", "lbs", "pound", "pounds", "lbf", "ft", "foot", "feet", "in", "inch", "inches", "\"", "'", "st", "stone", "yd", "yards", "cwt":
			return unit.Customary, true
		case "kg", "kgs", "kilo", "kilos", "t", "tonne", "tonnes", "kn", "n", "m", "cm", "mm", "metre", "metres", "meter", "meters":
			return unit.Metric, true
		}
	}
	return unit.Metric, false
}
