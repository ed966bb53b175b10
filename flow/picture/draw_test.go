package picture

import (
	"os"
	"path/filepath"
	"testing"

	"linetender/calc"
	"linetender/calc/job"
)

const caseFolder = "../../testdata/cases"

func caseFile(t testing.TB, file string) (calc.Plan, job.Case) {
	t.Helper()
	text, err := os.ReadFile(file)
	if err != nil {
		t.Fatal(err)
	}
	sheet, err := job.Decode(text)
	if err != nil {
		t.Fatal(err)
	}
	c, err := sheet.Case()
	if err != nil {
		t.Fatal(err)
	}
	return calc.Reckon(c), c
}

func TestLook(t *testing.T) {
	dir := os.Getenv("LOOK")
	files, _ := filepath.Glob(caseFolder + "/*/*.json")
	for _, f := range files {
		p, c := caseFile(t, f)
		for _, d := range []Drawing{Rig(p, c), Force(p)} {
			if d.Empty() { continue }
			b, err := d.PNG()
			if err != nil { t.Fatal(err) }
			name := filepath.Join(dir, filepath.Base(f)+"."+d.Name)
			os.WriteFile(name+".png", b, 0o644)
			os.WriteFile(name+".svg", d.SVG(), 0o644)
		}
	}
}
