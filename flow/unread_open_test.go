package flow_test

import (
	"slices"
	"strconv"
	"strings"
	"testing"

	"linetender/flow"
)

// unreadAtHold are what people wrote at a hold point of which nothing was read.
var unreadAtHold = []string{
	"the wheel nuts look queer to me but we keep going", "we already started pulling, bus moved half a meter", "toni walks behind the trailer to push", "driver doesnt wear belt now",
	"chocks are out", "we add my brothers jeep in front of the tractor", "a car wants to pass on the lane",
}

func lastHold(s *flow.Session) flow.Hold { return s.Holds[len(s.Holds)-1] }

// TestUnreadAtAHold: words at a hold point that nobody could read keep the next "so it
// is" of who wrote them from counting, once, with the words; nothing wrong lets it
// count and is told, something wrong withholds the release with the words as the reason.
func TestUnreadAtAHold(t *testing.T) {
	flow.Lone(t)
	at := readyToPull(t, "Bo", "Cy", "Di", "Eve")
	at.to(flow.AllPlaced)
	for _, words := range unreadAtHold {
		p := at.copied(t)
		p.say("Cy", words)
		if s := p.job(); s.State != flow.Pulling {
			continue // it was read as more
		}
		got := textOf(p.say("Cy", "so it is")["test/Cy"])
		if s := p.job(); len(lastHold(s).Sure) > 0 || !strings.Contains(got, "“"+words+"”") {
			t.Errorf("after %q so it is counts, or is answered %q", words, got)
			continue
		}
		q := p.copied(t)
		out := p.say("Cy", "nothing wrong")
		if s := p.job(); len(lastHold(s).Sure) > 0 || len(s.Unread) > 0 {
			t.Errorf("after %q nothing wrong confirms %v: %s", words, lastHold(s).Sure, textOf(out["test/Cy"]))
		}
		if p.say("Cy", "so it is"); len(lastHold(p.job()).Sure) == 0 {
			t.Errorf("so it is, given anew after %q, does not count", words)
		}
		for _, who := range []string{"Ada", "Eve"} {
			if !strings.Contains(textOf(out["test/"+who]), words) {
				t.Errorf("%s is told %q of %q", who, textOf(out["test/"+who]), words)
			}
		}
		q.press("Cy", "something_wrong")
		if h := lastHold(q.job()); len(h.Sure) > 0 || len(h.Withheld) != 1 || h.Reasons["test/Cy"] != words {
			t.Errorf("something wrong with %q leads to %+v", words, h)
		}
		if !q.has("Cy", "lift") {
			t.Errorf("who withholds for %q has no way to lift it: %v", words, q.last["test/Cy"].Choices)
		}
		if q.press("Cy", "lift"); len(lastHold(q.job()).Withheld) > 0 {
			t.Errorf("what was withheld for %q is not lifted", words)
		}
	}
}

// TestUnreadBeforeARelease: the lead's release is put back once for what was written at
// the hold by anybody, the lead themselves or who follows from afar; it is void by that,
// and given anew by its number.
func TestUnreadBeforeARelease(t *testing.T) {
	flow.Lone(t)
	t.Parallel()
	at := readyToPull(t, "Bo", "Cy", "Di", "Eve")
	at.to(flow.SlackIsOut)
	at.confirm()
	for _, who := range []string{"Ada", "Eve"} {
		for _, words := range unreadAtHold {
			p := at.copied(t)
			p.say(who, words)
			if s := p.job(); s.State != flow.Pulling || len(s.Unread) == 0 {
				if who == "Ada" {
					t.Errorf("%q of %s leaves nothing open", words, who)
				}
				continue
			}
			p.confirm()
			for _, given := range []string{"press", "words"} {
				q := p.copied(t)
				got := ""
				if given == "press" {
					got = textOf(q.press("Ada", "release")["test/Ada"])
				} else {
					got = textOf(q.say("Ada", "release "+strconv.Itoa(q.job().Hold))["test/Ada"])
				}
				if q.stage() != flow.SlackIsOut || !strings.Contains(got, words) || who != "Ada" && !strings.Contains(got, who+" also wrote") {
					t.Errorf("after %q of %s a release leads to %s: %q", words, who, q.stage(), got)
					continue
				}
				r := q.copied(t)
				if !strings.Contains(got, "give it anew: release "+strconv.Itoa(q.job().Hold)) {
					t.Errorf("the question to %q of %s does not say that the release is void: %q", words, who, got)
				}
				if q.press("Ada", "nothing_wrong"); q.stage() != flow.SlackIsOut || len(q.job().Unread) > 0 {
					t.Errorf("nothing wrong with %q of %s leads to %s", words, who, q.stage())
				}
				if q.say("Ada", "release "+strconv.Itoa(q.job().Hold)); q.stage() != flow.Tightening {
					t.Errorf("a release given anew after %q of %s leads to %s", words, who, q.stage())
				}
				if r.say("Ada", "no"); r.stage() != flow.SlackIsOut || len(lastHold(r.job()).Withheld) == 0 {
					t.Errorf("something wrong with %q of %s leads to %s", words, who, r.stage())
				}
			}
		}
	}
}

// TestUnreadIsPutBackOnce: the answer given again counts; other words that can't be read
// are put with the first, and the same ones change nothing.
func TestUnreadIsPutBackOnce(t *testing.T) {
	flow.Lone(t)
	p := readyToPull(t, "Bo", "Cy", "Di", "Eve")
	p.to(flow.AllPlaced)
	p.say("Cy", "driver doesnt wear belt now")
	p.say("Cy", "so it is")
	q := p.copied(t)
	if p.say("Cy", "so it is"); len(lastHold(p.job()).Sure) > 0 {
		t.Error("so it is counts by itself where something else is asked")
	}
	if p.say("Cy", "so it is "+strconv.Itoa(p.job().Hold)); len(lastHold(p.job()).Sure) == 0 {
		t.Error("so it is given again by its number does not count")
	}
	n := strconv.Itoa(q.job().Hold)
	q.say("Cy", "the wheel nuts look queer to me but we keep going")
	if s := q.job(); len(s.Unread) != 1 || !strings.Contains(s.Unread[0].Text, "belt") || !strings.Contains(s.Unread[0].Text, "nuts") {
		t.Errorf("two remarks are kept as %+v", s.Unread)
	}
	if got := textOf(q.say("Cy", "so it is "+strconv.Itoa(q.job().Hold))["test/Cy"]); n != strconv.Itoa(q.job().Hold) && len(lastHold(q.job()).Sure) == 0 && !strings.Contains(got, "nuts") {
		t.Errorf("the question does not quote what was written last: %q", got)
	}
	for _, words := range []string{"how", "why", "so far", "dunno", "12", "all good", "ok"} {
		r := readyToPull(t, "Bo", "Cy", "Di", "Eve")
		r.to(flow.AllPlaced)
		if r.say("Cy", words); len(r.job().Unread) > 0 {
			t.Errorf("%q is kept as unread", words)
		}
	}
	r := readyToPull(t, "Bo", "Cy", "Di", "Eve")
	r.to(flow.AllPlaced)
	r.say("Cy", "driver doesnt wear belt now")
	if r.say("Di", "stop"); len(r.job().Unread) > 0 {
		t.Error("a stop leaves it open")
	}
}

// TestUnreadAtAnItem: the same at an item of the list, for the first and for the second
// who looks; something wrong is a no.
func TestUnreadAtAnItem(t *testing.T) {
	flow.Lone(t)
	words := "toni wants to push from behind, is strong"
	p := briefed(t, "Bo", "Cy", "Eve")
	p.say("Cy", words)
	out := p.say("Cy", "yes")
	if s := p.job(); s.Marks["site.under"].Value != "" || !strings.Contains(text(out["test/Cy"]), words) {
		t.Fatalf("after %q a yes counts as %q: %s", words, s.Marks["site.under"].Value, text(out["test/Cy"]))
	}
	q := &phonesAt{phones: p.copied(t, p.engine)}
	p.say("Cy", "yes")
	if s := p.job(); s.Marks["site.under"].Value == "" {
		t.Errorf("nothing wrong does not count: %s", p.asked("Cy"))
	}
	q.say("Cy", "something is wrong")
	if v := q.job().Marks["site.under"].Value; v != "" { // it is asked which item is meant
		t.Errorf("something wrong makes the item that was asked %q", v)
	}
	q.say("Cy", "[not so: nobody under, in front or downhill]")
	if v := q.job().Marks["site.under"].Value; v == "" || v == p.job().Marks["site.under"].Value {
		t.Errorf("something wrong makes the item %q", v)
	}
}

// TestUnreadAtAQuestion: at a question whose good answer lets something count as sound,
// clear or none, words that nobody could read keep it from counting once.
func TestUnreadAtAQuestion(t *testing.T) {
	flow.Lone(t)
	for _, words := range []string{"nope all good, two horses in the trailer", "none. its tipped half over against the bank", "no dangers, the driver bumped his head but is ok"} {
		c := newChair(t)
		c.say("/start")
		c.say(words)
		if v, _ := c.session().Sheet.Get("hazards"); c.session().Topic != "people" || v != "" {
			continue
		}
		got := textOf(c.say("none"))
		if c.session().Topic != "people" || !strings.Contains(got, words) {
			t.Errorf("after %q none leads to %s: %q", words, c.session().Topic, got)
			continue
		}
		if c.say("nothing wrong"); c.session().Topic != "mass" {
			t.Errorf("nothing wrong with %q leads to %s", words, c.session().Topic)
		}
	}
	for _, at := range []struct{ topic, words, good, path string }{
		{"anchors[0].alive", "roots are a bit washed out on the ditch side", "yes", "anchors[0].alive"},
		{"load.tow_point.condition", "qwxyz around the weld", "good", "load.tow_point.condition"},
		{"anchors[0].tied_back", "qwxyz over there somewhere", "yes", "anchors[0].tied_back"},
		{"gear[0].condition", "qwxyz at the end a little", "good", "gear[0].condition"},
	} {
		topic := strings.TrimPrefix(at.topic, "load.")
		c := standing1(t, topic)
		c.say(at.words)
		if c.session().Topic != topic {
			t.Errorf("%q at %s leads to %s", at.words, topic, c.session().Topic)
			continue
		}
		got := textOf(c.say(at.good))
		if c.session().Topic != topic || !strings.Contains(got, at.words) {
			t.Errorf("after %q at %s %q leads to %s: %s", at.words, topic, at.good, c.session().Topic, got)
			continue
		}
		c.say("something is wrong")
		if v, _ := c.session().Sheet.Get(at.path); slices.Contains([]string{"true", "good"}, v) || c.session().Topic == topic {
			t.Errorf("something wrong at %s makes it %q, at %s", topic, v, c.session().Topic)
		}
		d := standing1(t, topic)
		d.say(at.words)
		d.say(at.good)
		d.say("yes")
		if v, _ := d.session().Sheet.Get(at.path); !slices.Contains([]string{"true", "good"}, v) {
			t.Errorf("nothing wrong at %s makes it %q", topic, v)
		}
	}
	c := newChair(t)
	c.say("/start")
	c.say("none. its tipped half over against the bank")
	c.say("none")
	if c.say("something is wrong"); c.session().Topic != "people" {
		t.Errorf("something wrong at the first question leads to %s", c.session().Topic)
	}
	if c.say("none"); c.session().Topic != "people" {
		t.Errorf("and none after it to %s", c.session().Topic)
	}
}
