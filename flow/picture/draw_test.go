package picture

import (
	"bytes"
	"encoding/xml"
	"errors"
	"flag"
	"image/png"
	"io"
	"math"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"unicode/utf8"

	"linetender/calc"
	"linetender/calc/job"
	"linetender/calc/unit"
)

var update = flag.Bool("update", false, "rewrite the golden pictures")

const caseFolder = "../../testdata/cases/scenarios/"

func planOf(t testing.TB, s job.Sheet) (calc.Plan, job.Case) {
	t.Helper()
	c, err := s.Case()
	if err != nil {
		t.Fatal(err)
	}
	return calc.Reckon(c), c
}

func caseFile(t testing.TB, name string) (calc.Plan, job.Case) {
	t.Helper()
	text, err := os.ReadFile(caseFolder + name + ".json")
	if err != nil {
		t.Fatal(err)
	}
	sheet, err := job.Decode(text)
	if err != nil {
		t.Fatal(err)
	}
	return planOf(t, sheet)
}

func parts(d Drawing, name string) (out []Op) {
	for _, o := range d.Ops {
		if o.Part == name {
			out = append(out, o)
		}
	}
	return out
}

// legible holds a drawing to its labels: inside, apart and large enough.
func legible(t *testing.T, who any, d Drawing) {
	t.Helper()
	texts := d.Texts()
	for i, o := range texts {
		b := o.Bounds()
		if b.Left < 0 || b.Top < 0 || b.Right > d.Width || b.Bottom > d.Height {
			t.Errorf("%v %s: %q lies outside the picture: %v in %g × %g", who, d.Name, o.Text, b, d.Width, d.Height)
		}
		if px := o.Size * phone / d.Width; px < 11 {
			t.Errorf("%v %s: %q is %.1f px on a phone", who, d.Name, o.Text, px)
		}
		if strings.TrimSpace(o.Text) == "" || strings.Contains(o.Text, "%!") {
			t.Errorf("%v %s: a label says %q", who, d.Name, o.Text)
		}
		for _, p := range texts[:i] {
			if b.Meets(p.Bounds()) {
				t.Errorf("%v %s: %q and %q overlap", who, d.Name, o.Text, p.Text)
			}
		}
		// A number has its own ground, over the lines.
		if o.Part == "number" || o.Text == say("joins_second") {
			continue
		}
		for _, l := range d.Ops {
			if l.Kind == Line && crosses(l.At, b) {
				t.Errorf("%v %s: a line (%s) runs through %q", who, d.Name, l.Part, o.Text)
			}
			if l.Kind == Circle && (l.Part == "number" || l.Part == "post") && b.Meets(Box{l.At[0].X - l.Radius, l.At[0].Y - l.Radius, l.At[0].X + l.Radius, l.At[0].Y + l.Radius}) {
				t.Errorf("%v %s: a number lies over %q", who, d.Name, o.Text)
			}
		}
	}
	var rings []Op
	for _, o := range parts(d, "number") {
		if o.Kind == Circle {
			rings = append(rings, o)
		}
	}
	for i, a := range rings {
		for _, b := range rings[:i] {
			if math.Hypot(a.At[0].X-b.At[0].X, a.At[0].Y-b.At[0].Y) < a.Radius+b.Radius {
				t.Errorf("%v %s: two numbers overlap at %v and %v", who, d.Name, a.At[0], b.At[0])
			}
		}
	}
	for _, o := range d.Ops {
		for _, p := range o.At {
			if !(p.X >= 0 && p.X <= d.Width && p.Y >= 0 && p.Y <= d.Height) {
				t.Errorf("%v %s: a %s (%s) at %v lies outside %g × %g", who, d.Name, o.Kind, o.Part, p, d.Width, d.Height)
			}
		}
	}
}

// crosses walks a line and reports whether it comes inside a box.
func crosses(at []Point, b Box) bool {
	for i := 1; i < len(at); i++ {
		for k := range 401 {
			p := at[i-1].along(Point{at[i].X - at[i-1].X, at[i].Y - at[i-1].Y}, float64(k)/400)
			if p.X > b.Left && p.X < b.Right && p.Y > b.Top+4 && p.Y < b.Bottom-4 {
				return true
			}
		}
	}
	return false
}

// faithful holds the rig to its plan.
func faithful(t *testing.T, who any, d Drawing, p calc.Plan, c job.Case) {
	t.Helper()
	count := func(name string, want int) {
		t.Helper()
		if got := len(parts(d, name)); got != want {
			t.Errorf("%v: %d of %s drawn, the plan has %d", who, got, name, want)
		}
	}
	r := p.Tackle
	straight := r.Parts == 1 && r.HaulFrom == "moving" && r.Compound == nil
	count("part", r.Parts)
	count("tension", tensionsShown(p))
	count("lead-block", r.LeadBlocks)
	count("lead-anchor", r.LeadBlocks)
	count("sheave", r.Sheaves)
	count("puller", 1)
	if straight {
		count("part-side", 0)
		count("anchor", 0)
	} else {
		count("part-side", r.Parts)
		count("dead-end", 1)
	}
	if r.Compound != nil {
		count("second-part", r.Compound.Parts)
	}
	// The haul line's turn beyond the last part is at the standing block only
	// where it leaves from there.
	turns := 0
	for _, o := range parts(d, "sheave") {
		if o.Radius > rowGap {
			turns++
			if o.At[0].X != fixedAt {
				t.Errorf("%v: the haul line turns at %v, not at the standing block", who, o.At[0])
			}
		}
	}
	if want := map[string]int{"standing": 1, "moving": 0}[r.HaulFrom]; turns != want {
		t.Errorf("%v: the haul line turns %d times at the tackle, want %d when it leaves the %s block", who, turns, want, r.HaulFrom)
	}
	for _, o := range parts(d, "dead-end") {
		if stands := o.At[0].X >= fixedAt; stands != (r.Parts%2 == 0) {
			t.Errorf("%v: dead end at the standing side is %v with %d parts", who, stands, r.Parts)
		}
	}
	trueAngle(t, who, parts(d, "slope"), slopeOf(c.Load.Slope.Best, c.Load.Pull))
	if q, ok := (&sketch{p: p, c: c}).puller(); ok && q.Slope != nil {
		trueAngle(t, who, parts(d, "puller-slope"), slopeOf(q.Slope.Best, q.Pull))
	}
	if lines := parts(d, "lead-angle"); c.Tackle.LeadAngle != nil && r.LeadBlocks > 0 {
		if len(lines) != 2 {
			t.Fatalf("%v: %d lines at the lead block", who, len(lines))
		}
		got := math.Abs(angleOf(lines[0]) - angleOf(lines[1]))
		if got > math.Pi {
			got = 2*math.Pi - got
		}
		if want := c.Tackle.LeadAngle.Best.Radians(); math.Abs(got-want) > math.Pi/180 {
			t.Errorf("%v: %.1f° drawn at the lead block, %.1f° told", who, got*180/math.Pi, want*180/math.Pi)
		}
	}
	if got := strings.Count(textOf(d), say("weakest")); got > 1+3*len(p.Gear) {
		t.Errorf("%v: %d things are the weakest", who, got)
	}
	for _, g := range p.Gear {
		if g.Ratio != nil && *g.Ratio <= 9 && !strings.Contains(textOf(d), percent(*g.Ratio)) {
			t.Errorf("%v: the use of %s %s is not shown", who, g.Kind, g.Use)
		}
	}
	if len(parts(d, "member")) != len(p.Gear)+len(p.Anchors) {
		t.Errorf("%v: %d members shown of %d", who, len(parts(d, "member")), len(p.Gear)+len(p.Anchors))
	}
}

// tensionsShown is a figure a tension of the plan, and one for the haul beyond
// lead blocks or a second tackle.
func tensionsShown(p calc.Plan) int {
	n := len(p.Tackle.Tensions)
	if p.Tackle.Compound != nil {
		n++
	}
	if p.Tackle.LeadBlocks > 0 {
		n++
	}
	return n
}

func angleOf(o Op) float64 {
	a, b := o.At[0], o.At[len(o.At)-1]
	return math.Atan2(a.Y-b.Y, b.X-a.X)
}

func trueAngle(t *testing.T, who any, ops []Op, want float64) {
	t.Helper()
	if len(ops) != 1 {
		t.Errorf("%v: %d slopes drawn, want one", who, len(ops))
		return
	}
	if got := angleOf(ops[0]); math.Abs(got-want) > math.Pi/180 {
		t.Errorf("%v: slope drawn at %.1f°, measured %.1f°", who, got*180/math.Pi, want*180/math.Pi)
	}
}

func textOf(d Drawing) string {
	var b strings.Builder
	for _, o := range d.Texts() {
		b.WriteString(o.Text + "\n")
	}
	return b.String()
}

func sound(t *testing.T, who any, d Drawing) {
	t.Helper()
	dec := xml.NewDecoder(bytes.NewReader(d.SVG()))
	shapes := 0
	for {
		tok, err := dec.Token()
		if errors.Is(err, io.EOF) {
			break
		}
		if err != nil {
			t.Fatalf("%v %s: the SVG is no XML: %v", who, d.Name, err)
		}
		if e, ok := tok.(xml.StartElement); ok {
			switch e.Name.Local {
			case "polyline", "polygon", "circle", "path", "text":
				shapes++
			}
		}
	}
	if shapes != len(d.Ops) {
		t.Errorf("%v %s: %d shapes in the SVG of %d ops", who, d.Name, shapes, len(d.Ops))
	}
}

func TestRandomPlans(t *testing.T) {
	draws := 130
	if os.Getenv("LINETENDER_LONG") != "" {
		draws = 210
	}
	seen := map[string]int{}
	for seed := uint64(0); seen["drawn"] < draws && seed < 900; seed++ {
		sheet := randomSheet(seed)
		if seed%12 == 0 {
			sheet = weakSheet(seed)
		}
		p, c := planOf(t, sheet)
		rig, force := Rig(p, c), Force(p)
		if p.Force == nil || p.Decision == calc.Refer {
			if !Card(p, c).Empty() || !rig.Empty() || !force.Empty() || rig.SVG() != nil || rig.Alt() != "" {
				t.Errorf("seed %d: a plan without force is drawn", seed)
			}
			seen["refer"]++
			continue
		}
		for _, d := range []Drawing{rig, force} {
			legible(t, seed, d)
			sound(t, seed, d)
			if !strings.HasPrefix(d.Alt(), verdict(p)) || !strings.HasPrefix(d.Gist(), verdict(p)) {
				t.Errorf("seed %d: the words for %s do not begin with the decision", seed, d.Name)
			}
			if n := utf8.RuneCountInString(d.Gist()); n > longestGist || !strings.Contains(d.Gist(), "kN") {
				t.Errorf("seed %d: %d characters stand for %s on a phone: %s", seed, n, d.Name, d.Gist())
			}
		}
		legible(t, seed, Card(p, c))
		faithful(t, seed, rig, p, c)
		seen["drawn"]++
		seen[string(p.Decision)]++
		seen[c.Load.Pull]++
		seen["from "+p.Tackle.HaulFrom]++
		if p.Tackle.Compound != nil {
			seen["compound"]++
		}
		if p.Tackle.LeadBlocks == 2 {
			seen["two leads"]++
		}
		if p.Tackle.Parts == 12 {
			seen["twelve"]++
		}
		if t.Failed() && seed > 40 {
			break
		}
	}
	t.Log(seen)
	for _, k := range []string{"refer", "open", "no-go", "uphill", "downhill", "level", "from standing", "from moving", "compound", "two leads", "twelve"} {
		if seen[k] == 0 {
			t.Errorf("no plan drawn was %s", k)
		}
	}
	if seen["drawn"] < draws {
		t.Errorf("only %d plans were drawn", seen["drawn"])
	}
}

func TestScenarioPictures(t *testing.T) {
	files, err := filepath.Glob(caseFolder + "*.json")
	if err != nil || len(files) == 0 {
		t.Fatal("no cases", err)
	}
	gos := 0
	for _, f := range files {
		name := strings.TrimSuffix(filepath.Base(f), ".json")
		p, c := caseFile(t, name)
		if p.Decision == calc.Refer {
			continue
		}
		if p.Decision == calc.Go {
			gos++
		}
		for _, d := range []Drawing{Rig(p, c), Force(p)} {
			legible(t, name, d)
		}
		faithful(t, name, Rig(p, c), p, c)
	}
	if gos == 0 {
		t.Error("no case is a go")
	}
}

var goldens = []string{"s01-pickup-and-trailer", "s14-lead-block", "x2-runs-by-itself", "s21-four-parts"}

func TestGoldenPictures(t *testing.T) {
	for _, name := range goldens {
		p, c := caseFile(t, name)
		for _, d := range []Drawing{Rig(p, c), Card(p, c), Force(p)} {
			file := filepath.Join("testdata", name+"."+d.Name+".svg")
			got := d.SVG()
			if *update {
				if err := os.WriteFile(file, got, 0o644); err != nil {
					t.Fatal(err)
				}
			}
			want, err := os.ReadFile(file)
			if err != nil {
				t.Fatal(err)
			}
			if !bytes.Equal(got, want) {
				t.Errorf("%s differs; look at it and run with -update", file)
			}
		}
	}
}

// Both back ends draw the same ops: where a filled op lies, the PNG is not page.
func TestPNG(t *testing.T) {
	p, c := caseFile(t, "s01-pickup-and-trailer")
	for _, d := range []Drawing{Rig(p, c), Force(p)} {
		text, err := d.PNG()
		if err != nil {
			t.Fatal(err)
		}
		img, err := png.Decode(bytes.NewReader(text))
		if err != nil {
			t.Fatal(err)
		}
		if got := img.Bounds().Size(); got.X != Width || got.Y != int(d.Height) {
			t.Errorf("%s is %v", d.Name, got)
		}
		dark := func(x, y float64) bool {
			r, g, b, _ := img.At(int(x), int(y)).RGBA()
			return r+g+b < 3*0x9000
		}
		for _, o := range d.Ops {
			switch {
			case o.Kind == Text:
				found, b := false, o.Bounds()
				for y := b.Top; y < b.Bottom; y++ {
					for x := b.Left; x < b.Right; x++ {
						found = found || dark(x, y)
					}
				}
				if !found {
					t.Errorf("%s: %q is not in the PNG", d.Name, o.Text)
				}
			case o.Part == "part":
				if !dark((o.At[0].X+o.At[1].X)/2, o.At[0].Y) {
					t.Errorf("%s: a part of line is not in the PNG", d.Name)
				}
			}
		}
	}
}

func TestNamesAreEscaped(t *testing.T) {
	s := weakSheet(3)
	s.Gear[0].Name = `<script>"&'`
	p, c := planOf(t, s)
	d := Rig(p, c)
	if d.Empty() {
		t.Fatal("nothing drawn")
	}
	sound(t, "script", d)
	if bytes.Contains(d.SVG(), []byte("<script>")) {
		t.Error("a name went into the SVG as it is")
	}
}

// Every pen that carries text stands out from its ground by 4.5, day and night.
func TestContrast(t *testing.T) {
	value := func(hex string) float64 {
		sum := 0.0
		for i, k := range []float64{0.2126, 0.7152, 0.0722} {
			var v float64
			for _, r := range strings.ToLower(hex[1+2*i : 3+2*i]) {
				v = v*16 + float64(strings.IndexRune("0123456789abcdef", r))
			}
			v /= 255
			if v <= 0.03928 {
				v /= 12.92
			} else {
				v = math.Pow((v+0.055)/1.055, 2.4)
			}
			sum += k * v
		}
		return sum
	}
	by := map[Pen][2]string{}
	for _, i := range inks {
		by[i.pen] = [2]string{i.day, i.night}
	}
	for _, pen := range []Pen{Ink, Rope, Hold, Warn} {
		for _, ground := range []Pen{Page, Zone} {
			for k := range 2 {
				a, b := value(by[pen][k]), value(by[ground][k])
				if c := (max(a, b) + 0.05) / (min(a, b) + 0.05); c < 4.5 {
					t.Errorf("%s on %s: %.1f to 1", pen, ground, c)
				}
			}
		}
	}
}

func BenchmarkRigPNG(b *testing.B) {
	p, c := caseFile(b, "s21-four-parts")
	d := Rig(p, c)
	for b.Loop() {
		if _, err := d.PNG(); err != nil {
			b.Fatal(err)
		}
	}
}

// A range reads as it does in the chat, its ends outward; a share of nothing is
// said in words, and two ends that read alike are not said.
func TestFiguresReadAsInTheChat(t *testing.T) {
	low, best, high := span(calc.Force{Low: unit.Newtons(5741), Best: unit.Newtons(9004), High: unit.Newtons(19361)})
	if low != "5.74" || best != "9.01" || high != "19.4" {
		t.Errorf("%s, %s, %s; want 5.74, 9.01, 19.4", low, best, high)
	}
	if _, best, _ := spanGiven(calc.Force{Low: unit.Newtons(5741), Best: unit.Newtons(9006), High: unit.Newtons(19361)}); best != "9" {
		t.Errorf("what is there is likely %s, want 9", best)
	}
	if got := percent(0); strings.Contains(got, "%") {
		t.Errorf("a share of nothing is %q", got)
	}
	s := &sketch{}
	if got := s.swing(scale{0, 1.2, 0, 100}, calc.Measure{Field: "load.sunk", CouldFlip: true, Swing: &calc.Swing{AtLow: calc.Go, AtHigh: calc.NoGo}}); strings.Contains(textOf(s.Drawing), "%") {
		t.Errorf("%q: %s", got, textOf(s.Drawing))
	}
}
