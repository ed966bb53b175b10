package flow

import (
	"fmt"
	"strings"
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"
	"github.com/google/go-cmp/cmp/cmpopts"
	"pgregory.net/rapid"

	"linetender/calc"
	"linetender/flow/wording"
)

// shelf is a log that lives as long as a test.
type shelf map[string][][]byte

func (l shelf) Commit(t Turn) ([]uint64, error) {
	var last []uint64
	for _, w := range t.Writes {
		if uint64(len(l[w.Stream])) != w.After {
			return nil, fmt.Errorf("%s stands at %d, not %d", w.Stream, len(l[w.Stream]), w.After)
		}
	}
	for _, w := range t.Writes {
		l[w.Stream] = append(l[w.Stream], w.Entries...)
		last = append(last, uint64(len(l[w.Stream])))
	}
	return last, nil
}

func (l shelf) Replay(stream string, after uint64, visit func(uint64, []byte) error) error {
	for i := int(after); i < len(l[stream]); i++ {
		if err := visit(uint64(i+1), l[stream][i]); err != nil {
			return err
		}
	}
	return nil
}

// things are what people may say at any time, in any order.
var things = []string{
	"/start", "hi", "how", "why", "skip", "dunno", "back", "so far", "leave", "go on", "words", "checks", "plan", "that's all",
	"change weight", "change ground", "change anchor", "change rope", "change nothing much", "kit", "save kit barn", "kit barn", "same as before",
	"note the dog is tied up", "none", "yes", "no", "wires overhead", "none of those", "2.4 t", "bout 2.4 ton w/ the trailer", "5,200 lb off the plate",
	"14 degrees", "1 in 4", "level", "board", "1 m", "20 cm", "level 48 in, gap 9 in", "by eye, steep", "wet clover, hub deep, wheels locked", "mud",
	"uphill", "downhill", "4x4 tractor 3.1 t on level gravel, drawbar, towing eye", "tow ball", "top link", "winch 9500 lb five layers", "six people",
	"oak 20 inch, alive and sound", "nothing", "stakes 3-2-1 wet", "metric", "3 t working", "unmarked", "12 m", "40 m", "60 m, 24 mm polyester, WLL 2.2 t",
	"two blocks WLL 3 t", "two shackles WLL 3.25 t", "two slings WLL 3 t", "4 of us", "Ada, Bo, Cy, Di", "good", "polyester", "straight", "6 degrees",
	"10,000,000 t", "-3 t", "NaN kg", "0 kg", "1e308 t", "\x00\x1b[31m", "\u202eevil", "🚜🚜", "", " ", strings.Repeat("x", 5000), "[uphill]", "/", "//", "/so_far",
	"the rope has a reef knot", "damaged", "a bolt", "cab deep", "35 cm kerb, wheel middle 38 cm", "200 t", "45 degrees", "1", "4", "100", "%", "50 %", "sum side pull 838 N at 7 degrees", "sum", "sum the moon",
}

func testEngine() *Engine {
	n := 0
	return &Engine{Reckon: calc.Reckon, Words: wording.English(), Anyone: true, Random: func(k int) int { n++; return (n * 7919) % k }}
}

// TestConversationProperties plays random people. Whatever they do, they are
// left with a question or a result, replay gives what was live, leaving
// works, and a stop halts.
func TestConversationProperties(t *testing.T) {
	Lone(t)
	reached := map[State]int{}
	defer func() { t.Logf("turns that ended in each state: %v", reached) }()
	rapid.Check(t, func(r *rapid.T) {
		e, log := testEngine(), shelf{}
		at := time.Date(2026, 5, 4, 9, 0, 0, 0, time.UTC)
		var up Message // with the buttons that are up
		n := 0
		do := func(in Input) *turn {
			n++
			in.Update, in.Chat, in.At = fmt.Sprint(n), "c", at.Add(time.Duration(n)*time.Minute)
			in.Person, in.Direct = Person{ID: "1", Name: "Ada"}, true
			x, out, err := e.work(log, in)
			if err != nil {
				r.Fatalf("turn on %q %v: %v", in.Text, in.Press, err)
			}
			if _, err := log.Commit(out); err != nil {
				r.Fatalf("commit on %q: %v", in.Text, err)
			}
			if len(out.Outbox) == 0 {
				r.Fatalf("nothing is said to %q", in.Text)
			}
			for i, p := range out.Outbox {
				m, err := DecodeMessage(p.Body)
				if err != nil {
					r.Fatal(err)
				}
				if m.Text() == "" || len(m.Text()) > 4000 {
					r.Fatalf("to %q a message of %d bytes is sent", in.Text, len(m.Text()))
				}
				if i == len(out.Outbox)-1 && !m.Notice {
					up = m
				}
			}
			if x.notice {
				return x
			}
			if x.s == nil {
				return x
			}
			if last := string(x.replies[len(x.replies)-1].key); !strings.HasPrefix(last, "ask.") && !strings.HasPrefix(last, "bare.") && !strings.HasPrefix(last, "unread.") && last != "help.more" && x.s.State != Pulling && x.s.State != Debrief {
				r.Fatalf("at %s after %q the last word is %s, no question", x.s.State, in.Text, last)
			}
			same(r, log, x)
			return x
		}
		var last *turn
		// Most people want to get on: they answer what was asked.
		willing := rapid.IntRange(0, 100).Draw(r, "willing")
		for range rapid.IntRange(1, 30).Draw(r, "turns") {
			in := Input{}
			if last != nil && last.s != nil && rapid.IntRange(0, 99).Draw(r, "wants") < willing {
				like, err := e.Words.Say(0, last.example(), nil)
				if err != nil {
					r.Fatal(err)
				}
				in.Text = strings.Split(like, ", or")[0]
				if last.s.State == Checks {
					in.Text = "yes"
				}
				if last.s.State == Verdict {
					in.Text = "checks"
				}
				last = do(in)
				reached[last.where()]++
				continue
			}
			switch rapid.IntRange(0, 9).Draw(r, "kind") {
			case 0:
				in.Press = &Press{Session: rapid.SampledFrom([]string{"", up.Session, "larch-99"}).Draw(r, "session"),
					Revision: uint64(rapid.IntRange(0, 30).Draw(r, "revision")), Choice: rapid.SampledFrom([]string{"yes", "none", "skip", "uphill", "checks", "x"}).Draw(r, "choice")}
			case 1, 2, 3:
				if len(up.Choices) > 0 {
					c := rapid.SampledFrom(up.Choices).Draw(r, "button")
					in.Press = &Press{Session: up.Session, Revision: up.Revision, Choice: c.Choice}
				}
			case 4:
				in.Other = rapid.SampledFrom([]string{OtherVoice, OtherSticker, OtherPhoto, OtherLocation, OtherFile}).Draw(r, "other")
			default:
				in.Text = rapid.SampledFrom(things).Draw(r, "text")
			}
			last = do(in)
			reached[last.where()]++
		}
		if x := do(Input{Text: "stop"}); x.s != nil && x.s.State != Halted {
			r.Fatalf("after stop the job stands at %s", x.s.State)
		}
		if x := do(Input{Text: "leave"}); x.s != nil && x.s.State != Away {
			r.Fatalf("after leave the job stands at %s", x.s.State)
		}
	})
}

// where is the state a turn ended in, if there was a job.
func (t *turn) where() State {
	if t.s == nil {
		return ""
	}
	return t.s.State
}

// same holds a live session to the replay of its log.
func same(r *rapid.T, log shelf, x *turn) {
	replayed, err := load(log, x.s.Code)
	if err != nil {
		r.Fatalf("replay: %v", err)
	}
	live := x.s
	live.Last++
	live.Update = x.entry.Update
	live.close(x.entry, live.Last)
	if d := cmp.Diff(live, replayed, cmpopts.EquateEmpty()); d != "" {
		r.Fatalf("replay is not live (-live +replayed):\n%s", d)
	}
}
