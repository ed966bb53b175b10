package flow

import (
	"errors"
	"strings"

	"linetender/calc/job"
	"linetender/flow/wording"
)

// complete keeps the sheet whole: a step needs both its measures, and an
// unmarked piece has no figure.
func (t *turn) complete(changes []change) []change {
	var out []change
	told := func(path string) (string, bool) {
		for _, c := range changes {
			if c.path == path {
				return c.value, true
			}
		}
		return t.s.Sheet.Get(path)
	}
	for _, c := range changes {
		if radius, told := told("load.lip.wheel_radius"); c.path == "load.lip" && c.value == "none" && told && radius != "" {
			if _, own := t.s.Sheet.Get("load.wheel_radius"); !own { // the step is gone, and the wheel is still so big
				out = append(out, change{set: set{"load.wheel_radius", radius}, how: c.how, quiet: true})
			}
		}
		switch {
		case c.path == "load.lip" && t.s.Held["load.lip.height"] != "":
			t.act(Act{Do: DoHold, Path: "load.lip.height"}) // there is none after all
		case c.path == "load.lip.height":
			if _, ok := told("load.lip.wheel_radius"); !ok {
				t.holdStep(c.value)
				continue
			}
		case c.path == "load.lip.wheel_radius":
			if h := t.s.Held["load.lip.height"]; h != "" {
				out = append(out, change{set: set{"load.lip.height", h}, how: c.how})
				t.act(Act{Do: DoHold, Path: "load.lip.height"})
			} else if _, ok := told("load.lip.height"); !ok {
				c.path = "load.wheel_radius" // no step, and the chocks follow a wheel all the same
			}
		case strings.HasSuffix(c.path, "rating_kind") && c.value == "unmarked":
			out = append(out, change{set: set{strings.TrimSuffix(c.path, "_kind"), ""}, how: c.how})
		case strings.HasSuffix(c.path, "rating"):
			if kind, _ := t.s.Sheet.Get(c.path + "_kind"); kind == "unmarked" {
				out = append(out, change{set: set{c.path + "_kind", ""}, how: c.how})
			}
		}
		out = append(out, c)
	}
	return out
}

// holdStep keeps how high a step is until the wheel that meets it is known, and reads it
// back, so that a figure of something else shows.
func (t *turn) holdStep(height string) {
	t.act(Act{Do: DoHold, Path: "load.lip.height", Value: height})
	if was, told := t.s.Sheet.Get("load.lip"); told { // that there was none stands no more
		t.act(Act{Do: DoSet, Path: "load.lip", Was: was, How: Told})
	}
	if t.s.Settled["wheel_radius"] != "" {
		t.act(Act{Do: DoReopen, Topic: "wheel_radius"})
	}
	t.say(wording.ReadAll, wording.Args{"Names": wording.Names{t.plain("load.lip.height", height)}})
}

// try reads the sheet as it would be, with what must be there filled in, and
// returns which change can't stay, or -1.
func (t *turn) try(changes []change) int {
	trial := t.s.Sheet
	for i, c := range changes {
		if err := trial.Set(c.path, c.value); err != nil {
			return i
		}
	}
	for path, value := range map[string]string{"load.mass": "1 t", "load.slope": "1 deg", "load.pull": "uphill", "load.ground": "gravel"} {
		if _, ok := trial.Get(path); !ok {
			if err := trial.Set(path, value); err != nil {
				t.err = err
				return -1
			}
		}
	}
	err := trial.Check()
	var bad *job.FieldError
	if !errors.As(err, &bad) {
		return -1
	}
	for i, c := range changes {
		if c.path == bad.Path {
			return i
		}
	}
	for i, c := range changes {
		if strings.HasPrefix(c.path, bad.Path) || strings.HasPrefix(bad.Path, c.path) {
			return i
		}
	}
	return 0
}
