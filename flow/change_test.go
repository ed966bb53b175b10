package flow_test

import (
	"fmt"
	"maps"
	"slices"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"linetender/flow"
	"linetender/flow/hear"
	"linetender/flow/wording"
)

// textOf joins what was answered.
func textOf(sent []flow.Message) string {
	var parts []string
	for _, m := range sent {
		parts = append(parts, m.Text())
	}
	return strings.Join(parts, "\n")
}

// after is a job to which some lines were told.
func after(t *testing.T, lines ...string) *chair {
	t.Helper()
	c := newChair(t)
	c.say("/start")
	for _, l := range lines {
		c.say(l)
	}
	return c
}

// basics are the first answers of a plain job.
var basics = []string{"none", "2.4 t", "1 in 5", "wet grass, to the hubs, all turn", "uphill"}

// withGear is a job that was told all of the line.
var withGear = append(append([]string{}, basics...), "4x4 tractor 3.1 t on gravel, rope to the drawbar, towing eye on the pickup", "change hitch rating 3 t working", "change hitch height 45 cm",
	"oak 50 cm, alive and sound, stands straight", "rope 60 m 24 mm polyester WLL 2.2 t, block 3 t WLL, two shackles 3.25 t WLL")

// TestChangeInOneLine: the new value is taken with the name, read back with
// what it stands in for, and the old one stands no more.
func TestChangeInOneLine(t *testing.T) {
	flow.Lone(t)
	for _, tc := range []struct {
		before []string
		say    string
		reads  string   // in the answer
		known  string   // afterwards
		gone   []string // what is not known any more
	}{
		{basics, "change ground: firm grass", "ground grass instead of wet grass", "ground grass", []string{"wet grass"}},
		{basics, "change ground to gravel", "ground gravel instead of wet grass", "ground gravel", []string{"wet grass"}},
		{basics, "change the depth to the guards please", "depth to the guards instead of to the hubs", "depth to the guards", nil},
		{basics, "change slope from 1 in 5 to 1 in 6", "1 in 6 instead of 1 in 5", "slope 1 in 6", []string{"1 in 5"}},
		{basics, "change weight 5,000 lb", "5,000 lb instead of 2.4 t = 5,290 lb", "weight 5,000 lb", []string{"2.4 t"}},
		{basics, "change depth: not sunk", "depth not sunk instead of to the hubs", "depth not sunk", []string{"to the hubs"}},
		{basics, "change direction to downhill", "pulled downhill instead of uphill", "pulled downhill", []string{"uphill"}},
		{withGear, "change block: WLL 5 t", "block (5 t = 11,000 lbf instead of 3 t = 6,610 lbf", "block (5 t", []string{"3 t = 6,610 lbf, working"}},
		{withGear, "change rope rating 3 t working limit", "instead of 2.2 t = 4,850 lbf", "3 t = 6,610 lbf", []string{"2.2 t"}},
		{withGear, "change anchor to a stump", "stump instead of tree", "stump", []string{"tree", "50 cm", "alive"}},
		{withGear, "change anchor: an ash 60 cm", "60 cm = 23.6 in instead of 50 cm", "60 cm", []string{"alive", "upright"}},
		{withGear, "change tow point to the frame", "tow point the frame instead of towing eye", "tow point the frame", []string{"towing eye"}},
		{withGear, "change hitch to the top link", "hitch top link instead of drawbar", "hitch top link", []string{"hitch rating", "hitch height"}},
		{withGear, "change hitch rating to 8 t", "hitch rating 8 t = 17,600 lbf instead of 3 t", "hitch rating 8 t", []string{"kind of hitch rating"}}, // of this figure nobody told it
		{withGear, "change kind of hitch rating to breaking", "kind of hitch rating breaking strength instead of working limit", "kind of hitch rating breaking", nil},
		{withGear, "change anchor thickness to 40 cm", "40 cm", "40 cm", []string{"50 cm"}},
	} {
		c := after(t, tc.before...)
		if got := textOf(c.say(tc.say)); !strings.Contains(got, tc.reads) {
			t.Errorf("%q is answered\n%s\nwithout %q", tc.say, got, tc.reads)
		}
		known := textOf(c.say("so far"))
		known, _, _ = strings.Cut(known, "?")
		if !strings.Contains(known, tc.known) {
			t.Errorf("after %q it is known\n%s\nwithout %q", tc.say, known, tc.known)
		}
		for _, g := range tc.gone {
			if strings.Contains(known, g) {
				t.Errorf("after %q it is known\n%s\nstill with %q", tc.say, known, g)
			}
		}
	}
}

// TestChangeNotUnderstood: nothing is changed and it is said, whatever is wrong.
func TestChangeNotUnderstood(t *testing.T) {
	for _, tc := range []struct{ say, reads string }{
		{"change ground: purple", "Until then it stays: ground wet grass, to the hubs, all turn"},
		{"change weight to loads", "Until then it stays: weight 2.4 t"},
		{"change slope 200 degrees", "Until then it stays: slope 1 in 5"},
		{"change the moon", "nothing is changed"},
		{"change the moon to 3 t", "nothing is changed"},
		{"change", "Which do you mean"},
	} {
		c := after(t, basics...)
		before := textOf(c.say("so far"))
		before, _, _ = strings.Cut(before, "What will pull")
		if got := textOf(c.say(tc.say)); !strings.Contains(got, tc.reads) {
			t.Errorf("%q is answered\n%s\nwithout %q", tc.say, got, tc.reads)
		}
		back := textOf(c.say("back"))
		if !strings.Contains(back, "Nothing is changed") || !strings.Contains(back, "What will pull it") {
			t.Errorf("back after %q says\n%s", tc.say, back)
		}
		now := textOf(c.say("so far"))
		if now, _, _ = strings.Cut(now, "What will pull"); now != before {
			t.Errorf("%q changed\n%sinto\n%s", tc.say, before, now)
		}
	}
}

// TestRatingAskedAnew: what was stamped on the old piece is asked of the new.
func TestRatingAskedAnew(t *testing.T) {
	c := after(t, basics...)
	c.say("change tow point: towing eye")
	c.say("change tow point rating 8 t working limit")
	got := textOf(c.say("change tow point to the frame"))
	if !strings.Contains(got, "With the old one (towing eye) goes what was told of it: tow point rating 8 t") {
		t.Errorf("the old rating is not said to go:\n%s", got)
	}
	for range 12 {
		if strings.Contains(got, "What is the tow point on the stuck vehicle rated for") {
			return
		}
		got = textOf(c.say("skip"))
	}
	t.Errorf("the new point's rating is never asked; last asked:\n%s", got)
}

// TestWhichPiece: of two pieces alike it is asked which, and the value waits.
func TestWhichPiece(t *testing.T) {
	gear := append(append([]string{}, basics...), "4x4 tractor 3.1 t on gravel", "nothing", "rope 60 m 24 mm polyester WLL 2.2 t, round sling WLL 2 t, rope 30 m 16 mm polyester WLL 1 t")
	for _, answer := range []string{"the 30 m one", "2", "30 m"} {
		c := after(t, gear...)
		if got := textOf(c.say("change rope rating 3 t working")); !strings.Contains(got, "Which do you mean: rope 1 (60 m = 197 ft, 24 mm") {
			t.Fatalf("it is not asked which rope:\n%s", got)
		}
		got := textOf(c.say(answer))
		if !strings.Contains(got, "3 t = 6,610 lbf instead of 1 t = 2,200 lbf") {
			t.Errorf("%q says\n%s", answer, got)
		}
	}
}

// TestEveryAnswerHasItsName: whatever name the program uses for an answer,
// change finds it by that name.
func TestEveryAnswerHasItsName(t *testing.T) {
	apart := map[string]bool{"sign_name": true, "sign_second": true, "sign_reason": true, "sign_word": true, "kit_name": true, "kit_check": true, "second_look": true,
		"names": true, "check": true, "which": true, "ton": true, "gear_sound": true, "board_length": true, "board_rise": true, "level_length": true, "level_gap": true}
	words := wording.English()
	for _, k := range words.Keys() {
		name, ok := strings.CutPrefix(string(k), "name.")
		if !ok || apart[name] || strings.ContainsAny(name, " ") {
			continue
		}
		said, err := words.Say(0, k, nil)
		if err != nil || !words.Has(wording.Key("ask."+name)) {
			continue // a piece of gear
		}
		if h := hear.Listen("change "+said, hear.TopicNone); h.Act != hear.Change || h.Object == "" {
			t.Errorf("change %s (%s): %v %q", said, name, h.Act, h.Object)
		}
	}
}

// TestChangesKeepOneValue: whatever is changed, in whatever order and words, the
// job knows the last value that was understood and none before it.
func TestChangesKeepOneValue(t *testing.T) {
	flow.Lone(t)
	flow.Fewer(t, "25") // each begins a job anew
	values := map[string][]string{
		"weight": {"2 t", "2.6 t", "6,000 lb"}, "slope": {"1 in 4", "1 in 7", "12 deg"}, "ground": {"gravel", "mud", "wet grass"},
		"depth": {"to the hubs", "to the guards", "not sunk"}, "pulled": {"uphill", "downhill"}, "puller weight": {"4 t", "9,000 lb"},
		"puller's slope": {"1 in 11", "1 in 19"}, "puller's ground": {"sand", "asphalt"}, "tow point": {"frame", "tow ball"},
		"distance": {"11 m", "50 ft"}, "tow point rating": {"5 t", "7 t"},
	}
	names := slices.Sorted(maps.Keys(values))
	words := []string{"change %s to %s", "change %s: %s", "correction, %s is %s", "sorry the %s is %s", "no wait %s should be %s", "change %s %s"}
	rapid.Check(t, func(t2 *rapid.T) {
		c := after(t, toPullersSlope[:6]...) // before the first figure: no plan is reckoned
		now := map[string]string{}
		for range rapid.IntRange(1, 6).Draw(t2, "changes") {
			name := rapid.SampledFrom(names).Draw(t2, "name")
			if rapid.IntRange(0, 4).Draw(t2, "nonsense") == 0 {
				c.say("change " + name + " to banana split")
				c.say("back")
				continue
			}
			value := rapid.SampledFrom(values[name]).Draw(t2, "value")
			if saysKey(c.say(fmt.Sprintf(rapid.SampledFrom(words).Draw(t2, "words"), name, value)), "ask.better") {
				c.say("yes") // not the tow ball
			}
			if name == "tow point" && now[name] != value { // its rating went with the old one
				delete(now, "tow point rating")
			}
			if name == "pulled" { // how far it is was told of the other way
				delete(now, "distance")
			}
			now[name] = value
			lines := strings.Split(known(c), "\n")
			for _, n := range slices.Sorted(maps.Keys(now)) {
				at := slices.IndexFunc(lines, func(l string) bool { return strings.HasPrefix(strings.TrimSpace(l), n+" ") })
				if at < 0 || !strings.Contains(lines[at], strings.TrimPrefix(now[n], "the ")) {
					t2.Fatalf("%s was changed to %s; known is\n%s", n, now[n], strings.Join(lines, "\n"))
				}
			}
		}
	})
}

// TestToldAgainAndNotRead: after the plan, what is told anew of the wheels in words
// that were not read lets the better old answer not stand; a question does.
func TestToldAgainAndNotRead(t *testing.T) {
	flow.Lone(t)
	for text, stands := range map[string]bool{"its sinking": false, "is it sinking": true, "ok thanks": true} {
		c := newChair(t)
		c.say("/start")
		c.standAt(texted{base: "job", topic: "verdict"})
		c.say(text)
		if _, told := c.session().Sheet.Get("load.sunk"); told != stands {
			t.Errorf("after %q the old depth stands: %v", text, told)
		}
	}
}

// A misspelt name in a change is asked about by what there is that is spelt like it, and
// yes is enough; nothing is changed by itself.
func TestChangeMisspelt(t *testing.T) {
	flow.Lone(t)
	for _, w := range []struct{ text, offered, then, path, value string }{
		{"change wieght to 2.6 t", "weight 2.4 t, weighed", "yes", "load.mass", "2.6 t"},
		{"change wieght to 2.6 t", "weight 2.4 t, weighed", "no", "load.mass", "2.4 t"},
		{"change grund to mud", "ground grass, not sunk, all turn", "ground", "load.ground", "mud"},
		{"change anker", "oak (50 cm = 19.7 in, alive and sound, upright)", "back", "anchors[0].kind", "tree"},
	} {
		c, sent := asksAt(t, "crew", w.text)
		last := sent[len(sent)-1]
		if len(last.Choices) != 2 || last.Choices[0].Label != w.offered || strings.Contains(textOf(sent), "2.6") {
			t.Errorf("%q: %q %v", w.text, textOf(sent), last.Choices)
		}
		c.say(w.then)
		if got, _ := c.session().Sheet.Get(w.path); got != w.value {
			t.Errorf("%q and %q: %s is %q, want %q", w.text, w.then, w.path, got, w.value)
		}
	}
}
