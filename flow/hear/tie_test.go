package hear

import "testing"

// TestWhoseAFigureIs: the reading tells how plainly a figure of a vehicle is
// said of that vehicle; what stands with something else is never said of it.
func TestWhoseAFigureIs(t *testing.T) {
	known := Known{Puller: "tractor", Kind: "wheeled", Called: func(word string) string {
		return map[string]string{"tractor": "puller", "puller": "puller", "tipper": "load", "load": "load"}[word]
	}}
	for _, row := range []struct {
		text, field string
		want        Tie
	}{
		{"the tipper weighs 9 t", "load.mass", Tied},
		{"it weighs 9 t", "load.mass", Tied},
		{"9 t", "load.mass", Loose},
		{"a loader of 14 t", "load.mass", Beside},
		{"another van 2 t", "load.mass", Beside},
		{"the ring is 8 t and the tipper 9 t", "load.mass", Tied},
		{"the ground is mud", "load.ground", Tied},
		{"ring in concrete, 10 t working", "load.ground", Loose},
		{"tractor on sand", "puller.ground", Tied},
		{"slope 1 in 5", "load.slope", Tied},
		{"2 degrees", "load.slope", Loose},
		{"the puller weighs 3 t", "puller.mass", Tied},
	} {
		topic := TopicTowPoint
		if row.field == "puller.mass" {
			topic = TopicHitch
		}
		for _, f := range known.Listen(row.text, topic).Facts {
			if f.Field == row.field && f.Tie != row.want {
				t.Errorf("%q: the tie of %s is %d, want %d", row.text, f.Field, f.Tie, row.want)
			}
		}
	}
	if facts := known.Listen("the tipper weighs 9 t", TopicTowPoint).Facts; len(facts) == 0 {
		t.Error("a weight that is said of the tipper is not read")
	}
}
