package flow_test

import (
	"strings"
	"testing"

	"linetender/flow"
)

// TestAHazardTakenBack: a hazard told by mistake is taken back by somebody else who
// looked and is named, in the words that the program gives for it and in the short ones
// that people write; and who names nobody reads what to write.
func TestAHazardTakenBack(t *testing.T) {
	flow.Lone(t)
	for _, r := range []struct {
		told, back, want, said string
	}{
		{"wires overhead", "none, Gary checked it", "none", ""},
		{"in the pond", "no, only near a pond", "water", "change hazards none, Gary checked it"},
		{"in the pond", "no, only near a pond, Gary checked it", "none", ""},
		{"wires overhead", "no wires, Gary checked it", "none", ""},
		{"wires overhead", "sorry no wires, Gary checked it", "none", ""},
		{"wires overhead", "Gary looked, no wires, none of the others", "none", ""},
		{"wires overhead", "Bo looked, nobody in it, no leak, none of the others.", "none", ""},
		{"wires overhead", "change hazards none, Gary checked it", "none", ""},
		{"wires overhead and a diesel smell", "no wires, Gary checked it", "fuel", ""},
		{"wires overhead", "sorry no wires, that was a mistake", "overhead-line", "change hazards none, Gary checked it"},
		{"wires overhead", "that was a mistake", "overhead-line", "change hazards none, Gary checked it"},
		{"wires overhead", "oops wrong button", "overhead-line", "change hazards none, Gary checked it"},
		{"wires overhead", "none", "overhead-line", "change hazards none, Gary checked it"},
		{"wires overhead", "i checked it, no wires", "overhead-line", "change hazards none, Gary checked it"},
		{"wires overhead", "no leak, Gary checked it", "overhead-line", ""},
		{"wires overhead and a diesel smell", "sorry no wires, that was a mistake", "overhead-line, fuel", "change hazards fuel or gas smell, Gary checked it"},
		{"wires overhead and a diesel smell", "change hazards fuel or gas smell, Gary checked it", "fuel", ""},
		{"gas bottles in the back", "hazards none, Gary checked too, its only the camping gas for the cooker", "none", ""},
		{"somebody is in the car", "nobody is hurt or inside, i meant the block lies in our hilux. Gary checked", "none", ""},
		{"somebody is in the car", "nobody is hurt or inside, i meant Tom is in our hilux. Gary checked", "people-inside", ""},
		{"gas bottles in the back", "hazards none, its only the gas leaking. Gary checked", "fuel", ""},
		{"gas bottles in the back", "hazards none, its only the camping gas", "hazmat", "change hazards none, Gary checked it"},
		{"diesel smell", "change hazards none", "fuel", "change hazards none, Gary checked it"},
	} {
		c := newChair(t)
		c.say("/start")
		c.say(r.told)
		sent := c.say(r.back)
		got := flat(t, c.session().Sheet)["hazards"]
		if got != r.want || !strings.Contains(textOf(sent), r.said) {
			t.Errorf("%q, then %q: hazards %s, want %s\n%s", r.told, r.back, got, r.want, textOf(sent))
		}
	}
}
