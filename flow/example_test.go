package flow

import (
	"strings"
	"testing"
	"time"

	"linetender/calc"
	"linetender/calc/job"
	"linetender/flow/wording"
)

// seated returns a turn in a job that stands at tp, with a plan that is open
// and asks for nothing more.
func seated(t *testing.T, tp topic, text string) *turn {
	t.Helper()
	e := &Engine{
		Reckon: func(job.Case) calc.Plan { return calc.Plan{Decision: calc.Open} },
		Words:  wording.English(), Random: func(int) int { return 0 }, Anyone: true,
	}
	in := Input{Update: "u", Chat: "c", Text: text, At: time.Date(2026, 5, 4, 9, 0, 0, 0, time.UTC), Direct: true}
	x := newTurn(e, in)
	x.chat, x.s = newChat("c"), newSession()
	x.s.Code = "larch-42"
	for path, value := range map[string]string{
		"load.mass": "2.4 t", "load.slope": "10 deg", "load.ground": "grass", "load.pull": "uphill",
		"puller.kind": "wheeled", "anchors[0].kind": "tree", "gear[0].kind": "rope",
	} {
		if err := x.s.Sheet.Set(path, value); err != nil {
			t.Fatal(err)
		}
	}
	switch {
	case strings.HasPrefix(tp.name, "anchors["):
		kind := map[string]string{"pattern": "picket", "soil": "picket", "mass": "vehicle", "rating": "rated", "rating_kind": "rated", "length": "deadman", "depth": "deadman"}
		if k := kind[tp.name[strings.LastIndexByte(tp.name, '.')+1:]]; k != "" {
			if err := x.s.Sheet.Set("anchors[0].kind", k); err != nil {
				t.Fatal(err)
			}
		}
	case strings.HasPrefix(tp.name, "puller.winch") || strings.HasPrefix(tp.name, "puller.rating"):
		if err := x.s.Sheet.Set("puller.kind", "winch"); err != nil {
			t.Fatal(err)
		}
	case tp.name == "gear[0].side_angle":
		if err := x.s.Sheet.Set("gear[0].kind", "shackle"); err != nil {
			t.Fatal(err)
		}
	case tp.name == "gear[0].sling_hitch" || tp.name == "gear[0].sling_angle":
		if err := x.s.Sheet.Set("gear[0].kind", "sling"); err != nil {
			t.Fatal(err)
		}
	case tp.name == "puller.people":
		if err := x.s.Sheet.Set("puller.kind", "people"); err != nil {
			t.Fatal(err)
		}
	}
	for _, f := range firstTopics {
		x.s.Settled[f.name] = Told
	}
	delete(x.s.Settled, tp.name)
	x.s.Figured = true
	x.s.State, x.s.Topic = tp.state, tp.name
	x.s.Held["load.lip.height"] = "15 cm"
	if tp.name != "wheel_radius" {
		delete(x.s.Held, "load.lip.height")
	}
	x.s.Held[heldTon+"load.mass"] = "2.4 ton"
	if tp.name != "ton" {
		delete(x.s.Held, heldTon+"load.mass")
	}
	x.s.Held["slope.level"], x.s.Held["slope.board"] = "1 m", "2 m"
	x.s.Held["sign"], x.s.Held["sign_name"], x.s.Held["sign_second"] = "R4", "Cy", "Di"
	return x
}

// TestExamplesAreRead: what the program gives as an example of an answer is
// an answer, each alternative of it.
func TestExamplesAreRead(t *testing.T) {
	Lone(t)
	t.Parallel()
	words := wording.English()
	for _, list := range [][]topic{firstTopics, laterTopics} {
		for _, tp := range list {
			if strings.Contains(tp.name, "[]") {
				tp = tp.of("0")
			}
			like, err := words.Say(0, tp.key("like"), nil)
			if err != nil {
				t.Fatal(err)
			}
			like = strings.ReplaceAll(like, ", or: ", ", or ")
			for _, text := range strings.Split(like, ", or ") {
				x := seated(t, tp, text)
				x.take()
				if x.err != nil {
					t.Errorf("topic %s: %q: %v", tp.name, text, x.err)
					continue
				}
				if x.s.Misses > 0 || x.s.Settled[tp.name] == "" && x.s.State == tp.state && x.s.Topic == tp.name {
					t.Errorf("topic %s: its own example %q is not taken as an answer (it said %v)", tp.name, text, keysOf(x))
				}
			}
		}
	}
}

func keysOf(x *turn) []string {
	var out []string
	for _, r := range x.replies {
		out = append(out, string(r.key))
	}
	return out
}

// TestButtonsAreAnswers: every button of every question does something, by a
// press and by its label typed.
func TestButtonsAreAnswers(t *testing.T) {
	Lone(t)
	t.Parallel()
	words := wording.English()
	for _, list := range [][]topic{firstTopics, laterTopics} {
		for _, tp := range list {
			if strings.Contains(tp.name, "[]") {
				tp = tp.of("0")
			}
			for _, o := range tp.offers {
				x := seated(t, tp, "")
				if tp.name == "puller.hitch" && o.choice == "frame" { // a button for what carries a winch
					if err := x.s.Sheet.Set("puller.kind", "winch"); err != nil {
						t.Fatal(err)
					}
				}
				x.s.Misses = missesForButtons // those that come late are up then
				x.s.Shown["c"] = 7
				x.in.Press = &Press{Session: x.s.Code, Revision: 7, Choice: o.choice}
				x.take()
				if x.err != nil || x.notice || len(x.replies) == 0 || x.replies[0].key == wording.RefuseMiss {
					t.Errorf("topic %s: pressing %s: %v, said %v", tp.name, o.choice, x.err, keysOf(x))
				}
				label, err := words.Say(0, wording.Key("choice."+o.choice), nil)
				if err != nil {
					t.Fatal(err)
				}
				y := seated(t, tp, label)
				y.take()
				if y.err != nil || len(y.replies) == 0 || y.replies[0].key == wording.RefuseMiss {
					t.Errorf("topic %s: typing %q: %v, said %v", tp.name, label, y.err, keysOf(y))
				}
			}
		}
	}
}

// TestSkipIsCareful: at every question that can be skipped, skip leaves it,
// and what was taken is kept as not told.
func TestSkipIsCareful(t *testing.T) {
	Lone(t)
	for _, list := range [][]topic{firstTopics, laterTopics} {
		for _, tp := range list {
			if strings.Contains(tp.name, "[]") {
				tp = tp.of("0")
			}
			if tp.noskip || tp.state == Signing {
				continue
			}
			x := seated(t, tp, "dunno")
			x.take()
			if x.err != nil {
				t.Errorf("topic %s: skip: %v", tp.name, x.err)
				continue
			}
			if strings.HasPrefix(tp.name, "level_") || strings.HasPrefix(tp.name, "board_") {
				continue // leads back to the slope
			}
			if x.s.Settled[tp.name] != Skipped {
				t.Errorf("topic %s: skip settles it as %q, said %v", tp.name, x.s.Settled[tp.name], keysOf(x))
			}
			for _, s := range tp.skip {
				if v, _ := x.s.Sheet.Get(s.path); v != s.value || x.s.How[s.path] != Skipped {
					t.Errorf("topic %s: skip leaves %s at %q (%s), want %q taken", tp.name, s.path, v, x.s.How[s.path], s.value)
				}
			}
		}
	}
}
