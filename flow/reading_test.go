package flow_test

import (
	"encoding/json"
	"fmt"
	"maps"
	"os"
	"slices"
	"strings"
	"testing"

	"linetender/calc/bound"
	"linetender/flow"
)

// knownJob is what is known in the texts that are sent in the middle of a job.
var knownJob = [][2]string{
	{"hazards", "none"}, {"load.mass", "2.4 t"}, {"load.mass_from", "weighed"}, {"load.slope", "14 deg"}, {"load.slope_from", "level"},
	{"load.ground", "grass"}, {"load.sunk", "none"}, {"load.locked", "0"}, {"load.pull", "uphill"},
	{"puller.kind", "wheeled"}, {"puller.name", "tractor"}, {"puller.mass", "3.1 t"}, {"puller.driven", "1"}, {"puller.ground", "grass"},
	{"puller.slope", "0 to 2 deg"}, {"puller.pull", "level"}, {"puller.hitch", "drawbar"},
	{"load.tow_point.kind", "rated-eye"}, {"load.tow_point.rating", "3 t"}, {"load.tow_point.rating_kind", "working"}, {"load.tow_point.condition", "good"},
	{"anchors[0].kind", "tree"}, {"anchors[0].name", "oak"}, {"anchors[0].diameter", "50 cm"}, {"anchors[0].alive", "true"}, {"anchors[0].lean", "false"},
	{"distance", "12 m"}, {"reach", "20 m"}, {"lead", "15 m"},
	{"gear[0].kind", "rope"}, {"gear[0].length", "60 m"}, {"gear[0].diameter", "24 mm"}, {"gear[0].material", "polyester"},
	{"gear[0].rating", "2.2 t"}, {"gear[0].rating_kind", "working"},
	{"gear[1].kind", "block"}, {"gear[1].rating", "3 t"}, {"gear[1].rating_kind", "working"},
	{"gear[2].kind", "shackle"}, {"gear[2].count", "2"}, {"gear[2].rating", "3.25 t"}, {"gear[2].rating_kind", "working"},
	{"crew", "4"},
}

// winchJob is the same job with the winch of a truck to pull, and its tow point by
// the name of a towing eye.
var winchJob = slices.Concat(slices.DeleteFunc(slices.Clone(knownJob), func(kv [2]string) bool { return strings.HasPrefix(kv[0], "puller.") }), [][2]string{
	{"puller.kind", "winch"}, {"puller.name", "winch"}, {"puller.rating", "9500 lb"}, {"puller.rating_kind", "working"}, {"puller.winch_layer", "4"},
	{"puller.hitch", "frame"}, {"puller.hitch_rating", "5 t"}, {"puller.hitch_rating_kind", "working"},
})

// firstTold are the first answers of a plain job, each with the question that it
// is the answer to.
var firstTold = [][3]string{
	{"hazards", "none", "people"}, {"load.mass", "2.6 t", "mass"}, {"load.slope", "11 deg", "slope"}, {"load.ground", "firm soil", "ground"},
	{"load.pull", "uphill", "pull"}, {"puller.kind", "wheeled", "puller"}, {"anchors[0].kind", "rock", "anchor"},
}

// A texted is one message of testdata/texted.txt and what it may mean.
type texted struct {
	base, topic, text string
	readings          []reading
	line              int
}

type reading struct {
	must, may map[string]string
	said, key []string
}

func textedRows(t testing.TB) []texted {
	t.Helper()
	body, err := os.ReadFile("testdata/texted.txt")
	if err != nil {
		t.Fatal(err)
	}
	var out []texted
	fresh := func() reading { return reading{must: map[string]string{}, may: map[string]string{}} }
	for n, l := range strings.Split(string(body), "\n") {
		head, isHead := strings.CutPrefix(l, "> ")
		switch {
		case isHead:
			at, text, ok := strings.Cut(head, " | ")
			if !ok {
				t.Fatalf("line %d: no question before the message", n+1)
			}
			base, topic, two := strings.Cut(at, " ")
			if !two {
				base, topic = "", at
			}
			out = append(out, texted{base: base, topic: topic, text: text, readings: []reading{fresh()}, line: n + 1})
			continue
		case l == "" || strings.HasPrefix(l, "#") || l == "-":
			continue
		case len(out) == 0:
			t.Fatalf("line %d stands before the first message", n+1)
		}
		last := &out[len(out)-1].readings
		r := &(*last)[len(*last)-1]
		switch {
		case l == "or":
			*last = append(*last, fresh())
		case strings.HasPrefix(l, "said: "):
			r.said = append(r.said, l[6:])
		case strings.HasPrefix(l, "key: "):
			r.key = append(r.key, l[5:])
		default:
			l, may := strings.CutPrefix(l, "? ")
			path, value, ok := strings.Cut(l, " = ")
			if !ok {
				t.Fatalf("line %d: %q", n+1, l)
			}
			if may {
				r.may[path] = value
			} else {
				r.must[path] = value
			}
		}
	}
	if len(out) < 150 {
		t.Fatalf("only %d messages", len(out))
	}
	return out
}

// flat lists what a sheet says by path.
func flat(t testing.TB, sheet any) map[string]string {
	t.Helper()
	body, err := json.Marshal(sheet)
	if err != nil {
		t.Fatal(err)
	}
	var tree any
	if err := json.Unmarshal(body, &tree); err != nil {
		t.Fatal(err)
	}
	out := map[string]string{}
	var walk func(at string, v any)
	walk = func(at string, v any) {
		switch v := v.(type) {
		case map[string]any:
			for k, w := range v {
				walk(strings.TrimPrefix(at+"."+k, "."), w)
			}
		case []any:
			words := len(v) == 0
			for i, w := range v {
				if _, ok := w.(string); ok {
					words = true
					continue
				}
				walk(fmt.Sprintf("%s[%d]", at, i), w)
			}
			if words {
				var list []string
				for _, w := range v {
					list = append(list, fmt.Sprint(w))
				}
				if out[at] = strings.Join(list, ", "); len(list) == 0 {
					out[at] = "none"
				}
			}
		case nil:
			out[at] = "none"
		default:
			out[at] = fmt.Sprint(v)
		}
	}
	walk("", tree)
	return out
}

// alike reports whether two values say the same.
func alike(got, want string) bool {
	even := func(s string) string { return strings.ToLower(strings.ReplaceAll(s, " ", "")) }
	if even(got) == even(want) || want == "*" && got != "" {
		return true
	}
	near := func(a, b float64) bool { return a-b < 0.01*b && b-a < 0.01*b }
	span := strings.Contains(want, " to ")
	if g, err := bound.ReadMass(got); err == nil {
		w, err := bound.ReadMass(want)
		return err == nil && g.Vague == w.Vague && near(g.Value.Best.Kilograms(), w.Value.Best.Kilograms()) && (!span || near(g.Value.High.Kilograms(), w.Value.High.Kilograms()))
	}
	if g, err := bound.ReadSlope(got); err == nil {
		w, err := bound.ReadSlope(want)
		return err == nil && near(g.Value.Best.Degrees(), w.Value.Best.Degrees()) && (!span || near(g.Value.High.Degrees(), w.Value.High.Degrees()))
	}
	if g, err := bound.ReadLength(got); err == nil {
		w, err := bound.ReadLength(want)
		return err == nil && near(g.Value.Best.Metres(), w.Value.Best.Metres())
	}
	if g, err := bound.ReadForce(got); err == nil {
		w, err := bound.ReadForce(want)
		return err == nil && near(g.Value.Best.Newtons(), w.Value.Best.Newtons())
	}
	return false
}

// wrong says what an answer is not of a reading.
func (r reading) wrong(before, after map[string]string, sent []flow.Message) []string {
	var out []string
	for _, path := range slices.Sorted(maps.Keys(after)) {
		want, ok := r.must[path]
		if !ok {
			want, ok = r.may[path]
		}
		switch {
		case ok && alike(after[path], want), after[path] == before[path] && r.must[path] == "":
		case !ok && strings.HasSuffix(path, ".name"):
		default:
			out = append(out, fmt.Sprintf("%s = %s", path, after[path]))
		}
	}
	for _, path := range slices.Sorted(maps.Keys(before)) {
		if _, still := after[path]; !still {
			if of := path[:strings.LastIndexByte(path, '.')+1]; !changedUnder(r.must, of) {
				out = append(out, path+" is gone")
			}
		}
	}
	for _, path := range slices.Sorted(maps.Keys(r.must)) {
		if _, ok := after[path]; !ok {
			out = append(out, path+" is not read")
		}
	}
	text := strings.ToLower(textOf(sent))
	for _, s := range r.said {
		if !strings.Contains(text, strings.ToLower(s)) {
			out = append(out, fmt.Sprintf("%q is not said", s))
		}
	}
	for _, k := range r.key {
		if !slices.ContainsFunc(sent, func(m flow.Message) bool {
			return slices.ContainsFunc(m.Parts, func(p flow.Said) bool { return strings.HasPrefix(string(p.Key), k) })
		}) {
			out = append(out, "no "+k)
		}
	}
	if len(sent) == 0 {
		out = append(out, "no answer")
	}
	return out
}

// changedUnder reports whether something of a thing is to change, so that what
// goes with it may go.
func changedUnder(must map[string]string, of string) bool {
	for path := range must {
		if strings.HasPrefix(path, of) {
			return true
		}
	}
	return false
}

// TestTexted: what people text is read as a careful human reads it, or asked
// about; never otherwise.
func TestTexted(t *testing.T) {
	flow.Lone(t)
	t.Parallel()
	right, all := 0, textedRows(t)
	for _, r := range all {
		c := newChair(t)
		var before map[string]string
		if r.topic != "first" {
			c.say("/start")
			c.standAt(r)
			before = flat(t, c.session().Sheet)
		}
		sent := c.say(r.text)
		after := flat(t, c.session().Sheet)
		var best []string
		for i, reading := range r.readings {
			if wrong := reading.wrong(before, after, sent); i == 0 || len(wrong) == 0 {
				best = wrong
				if len(wrong) == 0 {
					break
				}
			}
		}
		if len(best) == 0 {
			right++
			continue
		}
		t.Errorf("texted.txt:%d: at %s, %q\n\t%s\nand they are told\n%s", r.line, r.topic, r.text, strings.Join(best, "\n\t"), textOf(sent))
	}
	t.Logf("%d of %d read right", right, len(all))
}

// standAt has the job ask what a message answers.
func (c *chair) standAt(r texted) {
	c.t.Helper()
	told := map[string][][2]string{"job": knownJob, "winch": winchJob}[r.base]
	if told == nil {
		for _, kv := range firstTold {
			if kv[2] == r.topic {
				break
			}
			told = append(told, [2]string{kv[0], kv[1]})
		}
	}
	c.stand(r.topic, told, r.line)
}

// standOn has the job that is known throughout ask a topic, with other values.
func (c *chair) standOn(topic string, other ...[2]string) {
	c.t.Helper()
	c.stand(topic, slices.Concat(knownJob, other), 0)
}

func (c *chair) stand(topic string, told [][2]string, line int) {
	c.t.Helper()
	turn, err := flow.StandAt(c.engine, c.log, c.input(), c.session().Code, topic, told)
	if err != nil {
		c.t.Fatalf("texted.txt:%d: %v", line, err)
	}
	if _, err := c.log.Commit(turn); err != nil {
		c.t.Fatal(err)
	}
	c.log.sent()
}

// session is the job that the chair's chat has, as its log says.
func (c *chair) session() *flow.Session {
	c.t.Helper()
	for stream := range c.log.heads {
		if code, ok := strings.CutPrefix(stream, "job/"); ok {
			s, err := flow.Load(c.log, code)
			if err != nil {
				c.t.Fatal(err)
			}
			return s
		}
	}
	c.t.Fatal("there is no job")
	return nil
}

// TestAboutIsByEye: a slope that is told as about so much is one by eye, whatever
// stands of how it was found.
func TestAboutIsByEye(t *testing.T) {
	flow.Lone(t)
	c := newChair(t)
	c.say("/start")
	c.standAt(texted{topic: "slope"})
	c.say("about 12 ish degres, pete phone app says 11")
	c.say("about 12 degrees")
	if got := flat(t, c.session().Sheet); got["load.slope_from"] != "eye" || !alike(got["load.slope"], "12 deg") {
		t.Errorf("the slope is %s by %s", got["load.slope"], got["load.slope_from"])
	}
}
