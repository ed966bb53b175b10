package calc

import (
	"fmt"
	"math"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"linetender/calc/job"
	"linetender/calc/unit"
)

// calculator keys in a sum as it is written in a step: numbers with their
// units, + − × ÷ ^, brackets, √ sin cos max.
type calculator struct {
	rest string
	err  error
}

func keyIn(sum string) (float64, error) {
	k := &calculator{rest: sum}
	v := k.sum()
	if k.skip(); k.err == nil && k.rest != "" {
		k.err = fmt.Errorf("left over: %q", k.rest)
	}
	return v, k.err
}

func (k *calculator) skip() { k.rest = strings.TrimLeft(k.rest, " ") }

func (k *calculator) take(words ...string) string {
	k.skip()
	for _, w := range words {
		if after, ok := strings.CutPrefix(k.rest, w); ok {
			k.rest = after
			return w
		}
	}
	return ""
}

func (k *calculator) sum() float64 {
	v := k.product()
	for {
		switch k.take("+", "−") {
		case "+":
			v += k.product()
		case "−":
			v -= k.product()
		default:
			return v
		}
	}
}

func (k *calculator) product() float64 {
	v := k.power()
	for {
		switch k.take("×", "÷") {
		case "×":
			v *= k.power()
		case "÷":
			v /= k.power()
		default:
			return v
		}
	}
}

func (k *calculator) power() float64 {
	v := k.value()
	if k.take("^") != "" {
		return math.Pow(v, k.value())
	}
	return v
}

func (k *calculator) value() float64 {
	kind := k.take("√(", "sin(", "cos(", "tan(", "up(", "max(", "min(", "(", "−", "-")
	switch kind {
	case "√(":
		return math.Sqrt(k.closed())
	case "sin(":
		return math.Sin(k.closed() * math.Pi / 180)
	case "cos(":
		return math.Cos(k.closed() * math.Pi / 180)
	case "tan(":
		return math.Tan(k.closed() * math.Pi / 180)
	case "up(":
		return math.Ceil(k.closed() - 1e-9)
	case "max(", "min(":
		v, few := k.sum(), kind == "max("
		for k.take(",") != "" {
			few = false
			if w := k.sum(); kind == "max(" {
				v = max(v, w)
			} else {
				v = min(v, w)
			}
		}
		if k.take(")") == "" || few {
			k.err = fmt.Errorf("no comma or bracket at %q", k.rest)
		}
		return v
	case "(":
		return k.closed()
	case "−", "-":
		return -k.value()
	}
	end := strings.IndexFunc(k.rest, func(c rune) bool { return (c < '0' || '9' < c) && c != '.' })
	if end < 0 {
		end = len(k.rest)
	}
	v, err := strconv.ParseFloat(k.rest[:end], 64)
	if err != nil && k.err == nil {
		k.err = fmt.Errorf("no number at %q", k.rest)
		k.rest = ""
		return 0
	}
	k.rest = k.rest[end:]
	k.take("kg", "N", "m ", "°")
	if k.rest == "m" || strings.HasPrefix(k.rest, "m)") || strings.HasPrefix(k.rest, "m,") {
		k.rest = k.rest[1:]
	}
	return v
}

func (k *calculator) closed() float64 {
	v := k.sum()
	if k.take(")") == "" && k.err == nil {
		k.err = fmt.Errorf("no bracket at %q", k.rest)
		k.rest = ""
	}
	return v
}

func TestCalculator(t *testing.T) {
	for sum, want := range map[string]float64{
		"2060 kg × 9.80665": 20201.699, "1 + 2 × 3": 7, "(1 + 2) × 3 m": 9, "max(2 N, 3 N) ÷ 2": 1.5, "2 × sin(30°)": 1,
		"√(3^2 + 16)": 5, "max(0, −cos(60°))": 0, "1 − 2 − 3": -4, "-0.5 N + 1": 0.5,
	} {
		got, err := keyIn(sum)
		if err != nil || math.Abs(got-want) > 1e-9*max(1, math.Abs(want)) {
			t.Errorf("%s gives %v, %v", sum, got, err)
		}
	}
	for _, bad := range []string{"", "1 +", "(1", "1 2", "max(1)", "as above"} {
		if _, err := keyIn(bad); err == nil {
			t.Errorf("%q is a sum", bad)
		}
	}
}

// reciprocal is a gain that a share of the force is reckoned with.
var reciprocal = regexp.MustCompile(`1 [+−] 1 ÷ ([0-9.]+)\)`)

// checkWorking keys every step in and holds it to the figure that stands
// there, to half of its last digit.
func checkWorking(t interface {
	Helper()
	Errorf(string, ...any)
}, about string, p Plan) {
	t.Helper()
	var gains []float64
	for _, s := range p.Working {
		if v, err := keyIn(s.In); err == nil && (strings.HasPrefix(s.Topic, "advantage") || strings.HasPrefix(s.Topic, "gain")) {
			gains = append(gains, v)
		}
		for _, m := range reciprocal.FindAllStringSubmatch(s.In, -1) {
			v, err := strconv.ParseFloat(m[1], 64)
			if err != nil || !slices.ContainsFunc(gains, func(g float64) bool { return math.Abs(g-v) <= 1e-6*g }) {
				t.Errorf("%s: %s: no step comes to the gain of %s that stands in %s", about, s.Topic, m[1], s.In)
			}
		}
	}
	for _, s := range p.Working {
		got, err := keyIn(s.In)
		if err != nil {
			t.Errorf("%s: %s: %q can't be keyed in: %v", about, s.Topic, s.In, err)
			continue
		}
		figure, _, _ := strings.Cut(s.Out, " ")
		want, err := strconv.ParseFloat(figure, 64)
		if err != nil {
			t.Errorf("%s: %s: %q is no figure", about, s.Topic, s.Out)
			continue
		}
		_, places, _ := strings.Cut(figure, ".")
		half := 0.5 * math.Pow(10, -float64(len(places)))
		if math.Abs(got-want) > half*1.001+2e-7*math.Abs(want) {
			t.Errorf("%s: %s: %s gives %v, and %s stands there", about, s.Topic, s.In, got, s.Out)
		}
		if s.Source == "" || s.Formula == "" {
			t.Errorf("%s: %s has no formula or no source", about, s.Topic)
		}
	}
}

func TestWorkingCanBeKeyedIn(t *testing.T) {
	lone(t)
	steps := 0
	for _, file := range caseFiles(t) {
		p := planFile(t, file)
		steps += len(p.Working)
		checkWorking(t, file, p)
	}
	for k, row := range checkRows {
		for _, sets := range []string{"", row.fail, row.unknown} {
			c := read(t, changed(t, row.with, sets))
			s := newSearch(c, view{})
			checkWorking(t, k+" "+sets, s.plan(s.run()))
		}
	}
	if steps < 100 {
		t.Errorf("only %d steps", steps)
	}
}

// The steps' last figures are the plan's own.
func TestWorkingEndsAtThePlan(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s := drawn(t)
		s.Load.Pull = rapid.SampledFrom(job.Pulls).Draw(t, "pull")
		if parts := rapid.IntRange(0, 6).Draw(t, "parts"); parts > 0 || rapid.Bool().Draw(t, "turned") {
			s.Tackle = &job.TackleSheet{Parts: ptr(max(1, parts)), HaulFrom: rapid.SampledFrom([]string{"", "moving", "standing"}).Draw(t, "from"),
				LeadBlocks: ptr(rapid.IntRange(0, 2).Draw(t, "leads")), LeadAngle: rapid.SampledFrom([]string{"", "60 deg", "80 to 100 deg"}).Draw(t, "lead angle"),
				Sheave: rapid.SampledFrom([]string{"", "plain", "roller"}).Draw(t, "sheave")}
		}
		switch rapid.IntRange(0, 3).Draw(t, "anchors") {
		case 0:
			one := s.Anchors[0]
			s.Anchors[0].Equalised, one.Equalised, s.Anchors[0].SlingAngle = ptr(true), ptr(true), "20 deg"
			one.SlingAngle = rapid.SampledFrom([]string{"", "30 deg", "0 deg"}).Draw(t, "leg")
			s.Anchors = append(s.Anchors, one)
		case 1:
			for i := range s.Anchors {
				s.Anchors[i].Name = "ring"
			}
		case 2:
			for i := range s.Anchors {
				s.Anchors[i].Use = ""
			}
		}
		if rapid.IntRange(0, 3).Draw(t, "winch") == 0 {
			s.Puller.Kind, s.Puller.Rating, s.Puller.RatingKind, s.Puller.WinchLayer = "winch", "30 kN", rapid.SampledFrom([]string{"working", "breaking"}).Draw(t, "marked"), ptr(3)
		}
		if s.Load.HoldingPoint != nil && rapid.IntRange(0, 3).Draw(t, "shared") == 0 {
			s.Load.HoldingPoint = nil
			s.Load.HoldingPoint = &job.TowPointSheet{Shared: ptr(true)}
		}
		c := read(t, s)
		q := newSearch(c, view{})
		p := q.plan(q.run())
		if p.Decision == Refer {
			return
		}
		checkWorking(t, "drawn", p)
		checkFigures(t, "drawn", p)
		out := map[string]string{}
		for _, s := range p.Working {
			out[s.Topic] = s.Out
		}
		for topic, want := range map[string]string{
			"resistance": newtons(p.Resistance.Total.High), "force along the line": newtons(p.Force.High), "haul": newtons(p.Tackle.Haul.High),
		} {
			if out[topic] != want {
				t.Errorf("%s: the steps end at %s, the plan has %s", topic, out[topic], want)
			}
		}
	})
}

// resultFigures are the figures of a plan that it works out and decides by, by
// their names in its JSON. The ends that decide nothing (the low and best of a
// demand, the best and high of what the puller gives) are those of the same sums
// with those ends put in, and not written out.
func resultFigures(p Plan) map[string]string {
	out := map[string]string{}
	force := func(name string, f unit.Force) { out[name] = newtons(f) }
	r := p.Resistance
	force("resistance.grade_n", r.Grade.High)
	force("resistance.rolling_n", r.Rolling.High)
	if r.Drag.High > 0 {
		force("resistance.drag_n", r.Drag.High)
	}
	if r.Mire.High > 0 {
		force("resistance.mire_n", r.Mire.High)
	}
	if r.Lip.High > 0 {
		force("resistance.lip_n", r.Lip.High)
	}
	force("resistance.total_n", r.Total.High)
	force("force_n", p.Force.High)
	force("side_load_n", p.SideLoad.High)
	k := p.Tackle
	if k.Sheaves > 0 || k.Compound != nil {
		out["tackle.advantage"] = num(float64(k.Advantage.Low))
		force("tackle.standing_anchor_n", k.StandingAnchor.High)
		for i, f := range k.Tensions {
			force(fmt.Sprintf("tackle.tensions_n[%d]", i), f)
		}
	}
	force("tackle.haul_n", k.Haul.High)
	force("tackle.handbook_haul_n", k.HandbookHaul)
	if k.LeadBlocks > 0 {
		force("tackle.lead_anchor_n", k.LeadAnchor.High)
	}
	if p.Puller != nil && p.Puller.Available != nil {
		force("puller.available_n", p.Puller.Available.Low)
		if p.Puller.Most != nil {
			force("puller.most_n", *p.Puller.Most)
		}
	}
	if t := p.Travel; t.Haul != nil {
		out["travel.haul_m"] = num(t.Haul.High.Metres()) + " m"
	}
	if t := p.Travel; t.Rope != nil {
		out["travel.rope_m"] = num(t.Rope.High.Metres()) + " m"
	}
	if t := p.Travel; t.Bites != nil && *t.Bites > 0 {
		out["travel.bites"] = fmt.Sprint(*t.Bites)
	}
	force("holding.static_n", p.Holding.Static.High)
	for i, a := range p.Holding.Arrest {
		force(fmt.Sprintf("holding.arrest[%d].arrest_n", i), a.Force.High)
	}
	member := func(at string, carries unit.Force, may, peak *unit.Force, ratio *float64) {
		force(at+" carries", carries)
		if may != nil {
			force(at+" may carry", *may)
		}
		if peak != nil {
			force(at+".peak_n", *peak)
		}
		if ratio != nil {
			out[at+".use_ratio"] = num(*ratio)
		}
	}
	for i, m := range p.Gear {
		member(fmt.Sprintf("gear[%d] %s %s", i, m.Name, m.Use), m.Tension, m.Working, m.Peak, m.Ratio)
	}
	for i, a := range p.Anchors {
		member(fmt.Sprintf("anchors[%d] %s %s", i, a.Name, a.Use), a.Force, a.Capacity, a.Peak, a.Ratio)
	}
	for i, e := range p.Ends {
		force(fmt.Sprintf("ends[%d].working_n", i), e.Working)
		if e.Without > 0 {
			force(fmt.Sprintf("ends[%d].without_rule_n", i), e.Without)
		}
	}
	out["energy.clear_m"] = num(p.Energy.Clear.Metres()) + " m"
	if p.Energy.Stored != nil {
		out["energy.stored_j"] = num(p.Energy.Stored.High.Joules()) + " J"
	}
	return out
}

func checkFigures(t interface {
	Helper()
	Errorf(string, ...any)
}, about string, p Plan) {
	t.Helper()
	outs := map[string]bool{}
	for _, s := range p.Working {
		outs[s.Out] = true
	}
	for name, want := range resultFigures(p) {
		if !outs[want] {
			t.Errorf("%s: no step ends at %s, which is %s", about, want, name)
		}
	}
}

// Every figure that a plan decides by is what some step of its working comes to.
func TestEveryFigureHasItsStep(t *testing.T) {
	lone(t)
	for _, file := range caseFiles(t) {
		if p := planFile(t, file); p.Decision != Refer {
			checkFigures(t, file, p)
		}
	}
	for k, row := range checkRows {
		for _, sets := range []string{"", row.fail, row.unknown} {
			c := read(t, changed(t, row.with, sets))
			s := newSearch(c, view{})
			if p := s.plan(s.run()); p.Decision != Refer {
				checkFigures(t, k+" "+sets, p)
			}
		}
	}
}
