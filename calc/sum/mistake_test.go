package sum

import (
	"strings"
	"testing"
)

// TestMistakes: each of the field's common mistakes is told where what was written
// shows it, by how much it would be off, and not where it does not.
func TestMistakes(t *testing.T) {
	for _, c := range []struct{ mistake, name, args, says, unlike string }{
		{"one rope's tension counted twice, at its middle", "side-pull", "force=838 N; angle=7 deg", "their sum, 6876.2 N, is nowhere", ""},
		{"one rope's tension counted twice, at a sheave", "tackle", "load=10 kN; advantage=6; sheaves=3", "one rope through 3 sheaves has at most 4 parts", "load=10 kN; advantage=4; sheaves=3"},
		{"pulley friction left out", "tackle", "load=10 kN; advantage=4; sheaves=4", "10000 ÷ 4 = 2500 N, 29 % too little", "load=10 kN; advantage=1; sheaves=0"},
		{"no sheave counted", "tackle", "load=10 kN; advantage=4; sheaves=0", "a tackle that gains 4 has at least 2 sheaves", "load=10 kN; advantage=1; sheaves=0"},
		{"pulley friction left out", "tackle", "load=10 kN; parts=4; efficiency=0.9; haul_from=standing", "10000 ÷ 4 = 2500 N, 23 % too little", "load=10 kN; parts=4; efficiency=1; haul_from=standing"},
		{"more parts to do it", "tackle", "load=10 kN; parts=4; efficiency=0.85; haul_from=standing", "no number of parts gains more than 5.6667", "load=10 kN; parts=4; efficiency=1; haul_from=standing"},
		{"weight taken for pull", "tackle", "load=2400 kg; advantage=4; sheaves=4", "2400 kg was taken as a load of 23536 N", "load=23.5 kN; advantage=4; sheaves=4"},
		{"weight taken for pull", "side-pull", "force=2 t; angle=7 deg", "2 t was taken as a force", "force=20 kN; angle=7 deg"},
		{"weight taken for pull, on a slope", "grade", "mass=2400 kg; of=14 deg", "24 % of it", "mass=2400 kg; of=0 deg"},
		{"breaking load taken for working load", "rope-rule", "material=manila; circumference=3 in", "may be used of a new rope", ""},
		{"breaking load taken for working load", "tackle-limit", "rope_working=5 kN; advantage=4; sheaves=4", "as a breaking strength would leave 2857.1 N", ""},
		{"breaking load taken for working load", "energy", "tension=12 kN; length=30 m; material=nylon; breaking=50 kN", "12000 N is over 50000 N ÷ 5 = 10000 N", "tension=9 kN; length=30 m; material=nylon; breaking=50 kN"},
		{"breaking load reached", "energy", "tension=60 kN; length=30 m; material=nylon; breaking=50 kN", "60000 N against a breaking strength of 50000 N", "tension=9 kN; length=30 m; material=nylon; breaking=50 kN"},
		{"tangent for sine", "slope", "of=40 %", "0.4 taken as the share would be 7.7 % more than 0.37139", "of=20 deg"},
		{"tangent for sine", "grade", "mass=1 t; of=1 in 2", "0.5 taken as the share would be 12 % more", "mass=1 t; of=20 deg"},
		{"sine for tangent", "slope", "of=board 48 in, rise 9 in", "rise over board is 0.1875, rise over level run 0.19089", "of=level 48 in, gap 9 in"},
		{"a ton that may be three", "winch", "rating=4 tons; layer=1", "4 tons counts as 35586 N, its low end", "rating=4 short tons; layer=1"},
		{"a rating held on every layer", "winch", "rating=40 kN; layer=5", "29 % of it is gone here", "rating=40 kN; layer=1"},
		{"legs counted that need not carry", "sling-leg", "mass=2 t; legs=4; length=3 m; height=2 m", "2 of 4 legs count", "mass=2 t; legs=2; length=3 m; height=2 m"},
		{"legs that lean too far", "sling-leg", "mass=2 t; legs=2; length=3 m; height=1 m", "70.529° from the line of pull", "mass=2 t; legs=2; length=3 m; height=2 m"},
		{"a strop that carries one line", "block-load", "tension=10 kN; angle=60 deg", "1.7321 times it", "tension=10 kN; angle=130 deg"},
		{"parts added up that multiply", "compound", "advantages=4,3", "side by side on the load they add, to 7 at most", ""},
		{"a slick rope on a post", "post", "turns=2; friction=0.3; tension=3 kN", "the hand must hold", "turns=2; friction=0.2; tension=3 kN"},
		{"a step too high", "lip", "mass=1 t; height=25 cm; radius=40 cm", "dig or ramp the step down", "mass=1 t; height=15 cm; radius=40 cm"},
		{"an anchor's figure with no factor", "pickets", "pattern=1-1-1; soil=loam", "a plan uses ÷ 2 = 4003.4 N", ""},
		{"broken rock taken for whole", "deadman", "breaking=100 kN; depth=5 ft; slope=1:1; face=40 cm; soil=rock", "on broken stone count as in loam", "breaking=100 kN; depth=5 ft; slope=1:1; face=40 cm; soil=loam"},
		{"printed so", "chain", "size=5/16 in; grade=80", "grade 70 at this size, 4700 lbf", "size=3/8 in; grade=80"},
		{"slack forgotten", "arrest", "mass=2400 kg; of=14 deg; slack=0 m; length=20 m; material=polyester; breaking=80 kN", "2 times 5693.9 N here", "mass=2400 kg; of=0 deg; slack=0 m; length=20 m; material=polyester; breaking=80 kN"},
		{"a rule that says yes", "shackle-rule", "diameter=5/8 in", "only a stamp says", ""},
		{"a rule of two", "rope-rule", "diameter=14 mm; rule=navy", "the lower of the two says no", ""},
	} {
		r := run1(t, c.name, c.args)
		if _, ok := says(r, c.says); !ok {
			t.Errorf("%s: sum %s %s does not say %q:\n%s", c.mistake, c.name, c.args, c.says, encode(t, r))
		}
		if c.unlike == "" {
			continue
		}
		unlike := run1(t, c.name, c.unlike)
		if _, ok := says(unlike, c.says); ok {
			t.Errorf("%s: sum %s %s says %q as well", c.mistake, c.name, c.unlike, c.says)
		}
		for _, s := range unlike.Working {
			for _, w := range r.Working {
				if strings.HasPrefix(s.Step, "Mind: ") && s == w && strings.Contains(w.Value, c.says) {
					t.Errorf("%s is told in both cases", c.mistake)
				}
			}
		}
	}
}
