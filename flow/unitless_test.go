package flow_test

import (
	"strings"
	"testing"

	"linetender/flow"
)

// asksAt puts a question in a job where what is asked is blank, and says what follows.
func asksAt(t *testing.T, topic string, texts ...string) (*chair, []flow.Message) {
	t.Helper()
	c := newChair(t)
	c.say("/start")
	r := texted{base: "job", topic: topic}
	if topic == "mass" || topic == "slope" {
		r.base = ""
	}
	c.standAt(r)
	var sent []flow.Message
	for _, text := range texts {
		sent = c.say(text)
	}
	return c, sent
}

// A figure without a unit is asked for its unit and nothing else, and what comes next
// completes it.
func TestUnitWanted(t *testing.T) {
	flow.Lone(t)
	for _, w := range []struct{ topic, figure, unit, path, value string }{
		{"mass", "12", "tonnes", "load.mass", "12 tonnes"},
		{"mass", "oh sorry 2,4", "t, weighed", "load.mass", "2,4 t"},
		{"mass", "about 2.5", "in metric tons", "load.mass", "2.5 metric tons"},
		{"slope", "12", "percent", "load.slope", "12 percent"},
		{"slope", "1", "in 8", "load.slope", "1 in 8"},
		{"reach", "12", "metres", "reach", "12 metres"},
		{"holding_reach", "12", "metres", "holding_reach", "12 metres"},
		{"off_line", "15", "yes", "load.off_line", "15 deg"},
		{"off_line", "15", "degrees", "load.off_line", "15 degrees"},
		{"tow_point.rating", "3", "tonnes working", "load.tow_point.rating", "3 tonnes"},
		{"anchors[0].diameter", "20", "inches", "anchors[0].diameter", "20 inches"},
		{"gear[0].diameter", "24", "mm", "gear[0].diameter", "24 mm"},
	} {
		c, sent := asksAt(t, w.topic, w.figure)
		if len(sent) != 1 || len(sent[0].Parts) != 1 || !strings.HasPrefix(sent[0].Parts[0].Key, "bare.") || strings.Count(sent[0].Text(), "?") != 1 {
			t.Errorf("at %s, %q: %q", w.topic, w.figure, textOf(sent))
		}
		if _, told := c.session().Sheet.Get(w.path); told {
			t.Errorf("at %s, %q is taken", w.topic, w.figure)
		}
		c.say(w.unit)
		if got, _ := c.session().Sheet.Get(w.path); got != w.value {
			t.Errorf("at %s, %q and %q: %s is %q", w.topic, w.figure, w.unit, w.path, got)
		}
	}
	// A walk with level or board.
	c, _ := asksAt(t, "slope", "level", "48", "in", "9", "inches")
	if got, _ := c.session().Sheet.Get("load.slope"); got != "level 48 in, gap 9 inches" {
		t.Errorf("the slope is %q", got)
	}
}

// The figure waits for its unit alone: any other answer, another question and what is
// said of something else end that.
func TestUnitWantedNoMore(t *testing.T) {
	flow.Lone(t)
	for _, w := range []struct {
		topic string
		texts []string
		path  string
		want  string
	}{
		{"mass", []string{"2.4", "5200 lb"}, "load.mass", "5200 lb"},
		{"mass", []string{"2.4", "oh no 2.6", "tonnes"}, "load.mass", "2.6 tonnes"},
		{"mass", []string{"2.4", "how", "tonnes"}, "load.mass", "2.4 tonnes"},
		{"mass", []string{"2.4", "hm let me see", "tonnes"}, "load.mass", ""},
		{"mass", []string{"2.4", "tonnes is what the tractor has"}, "load.mass", ""},
		{"mass", []string{"2.4", "kn"}, "load.mass", ""},
		{"mass", []string{"12", "back", "none", "tonnes"}, "load.mass", ""},
		{"mass", []string{"2.4", "don't know", "tonnes"}, "load.mass", "1 to 30 t"},
		{"off_line", []string{"15", "no"}, "load.off_line", ""},
	} {
		c, _ := asksAt(t, w.topic, w.texts...)
		if got, _ := c.session().Sheet.Get(w.path); got != w.want {
			t.Errorf("at %s, %q: %s is %q, want %q", w.topic, w.texts, w.path, got, w.want)
		}
	}
	// Over and over, the buttons come all the same.
	if _, sent := asksAt(t, "mass", "12", "12", "12"); len(sent[0].Choices) < 4 {
		t.Errorf("after three: %q", textOf(sent))
	}
	if _, sent := asksAt(t, "crew", "4"); strings.Contains(textOf(sent), "what:") {
		t.Errorf("a count wants a unit: %q", textOf(sent))
	}
}
