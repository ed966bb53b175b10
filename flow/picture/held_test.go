package picture

import (
	"path/filepath"
	"strings"
	"testing"

	"linetender/calc"
	"linetender/calc/job"
)

// The figure on the holding line is the one that the table has for it, whatever
// else hangs on the point that it is on; where the table has none the label says
// that it is another one.
func TestTheHoldingLinesFigureIsTheTables(t *testing.T) {
	files, _ := filepath.Glob(caseFolder + "*.json")
	if len(files) == 0 {
		t.Fatal("no cases")
	}
	met, rest := 0, 0
	for _, file := range files {
		for _, change := range []func(*job.Case){
			func(*job.Case) {},
			func(c *job.Case) { c.Load.HoldingPoint = &job.TowPoint{Kind: "frame", Count: 1, Shared: true} },
			func(c *job.Case) { c.Gear, c.Anchors = nil, nil },
		} {
			_, c := caseFile(t, strings.TrimSuffix(filepath.Base(file), ".json"))
			change(&c)
			p := calc.Reckon(c)
			label, rows, points := "", []string{}, []string{}
			for _, g := range p.Gear {
				switch g.Use {
				case "holding":
					rows = append(rows, load(g.Tension))
				case "holding-point":
					points = append(points, load(g.Tension))
				}
			}
			for _, a := range p.Anchors {
				if a.Use == "holding" {
					rows = append(rows, load(a.Force))
				}
			}
			for _, o := range Rig(p, c).Ops {
				if o.Kind == Text && strings.HasPrefix(o.Text, "holding line") && o.Part == "" {
					label = o.Text
				}
			}
			figure, told := strings.CutPrefix(label, "holding line ")
			switch {
			case strings.HasPrefix(label, "holding line, at rest "):
				rest++
				if len(rows) > 0 {
					t.Errorf("%s: %q, and the table has %v", file, label, rows)
				}
			case !told:
			case len(rows) > 0:
				met++
				if figure != rows[0] {
					t.Errorf("%s: %q, and the table has %v", file, label, rows)
				}
			case len(points) == 0 || figure != points[0] || c.Load.HoldingPoint != nil && c.Load.HoldingPoint.Shared:
				t.Errorf("%s: %q, and no row of the table has it", file, label)
			}
		}
	}
	if met < 10 || rest == 0 {
		t.Errorf("only %d figures, %d at rest", met, rest)
	}
}
