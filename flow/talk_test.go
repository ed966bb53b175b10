package flow_test

import (
	"strings"
	"testing"

	"linetender/flow"
)

// sheetOf is what the job has been told, as text.
func sheetOf(s *flow.Session) int { return len(s.Sheet.Gear)*100 + len(s.Sheet.Anchors) }

// TestWordsToSomebody: what is said to a person by name goes to that person and
// changes no answer; what tells the job something worse stands side by side.
func TestWordsToSomebody(t *testing.T) {
	flow.Lone(t)
	for _, tc := range []struct{ who, words, to, want string }{
		{"Ada", "Eve, what do you think of the 3.25 t shackle?", "Eve", "Ada asks you: what do you think of the 3.25 t shackle?"},
		{"Ada", "Eve: theres a beech 40 cm and a 5 t shackle in the van", "Eve", "Ada to you: theres a beech 40 cm"},
		{"Ada", "what do you think of a second rope 60 m?", "Eve", "Ada asks you: what do you think"},
		{"Eve", "Cy, is the oak alive?", "Cy", "Eve asks you: is the oak alive?"},
		{"Eve", "hey Cy, can you send a photo of the 2 t block", "Cy", "Eve asks you: can you send"},
		{"Bo", "Cy can you bring the 5 t block", "Cy", "Bo asks you: can you bring"},
		{"Eve", "how thick is the oak really?", "Ada", "Eve asks you: how thick is the oak really?"},
		{"Cy", "Eve, i think its ok", "Eve", "Cy to you: i think its ok"},
	} {
		p := readyToPull(t, "Bo", "Cy", "Di", "Eve")
		before := p.job()
		out := p.say(tc.who, tc.words)
		if got := text(out["test/"+tc.to]); !strings.Contains(got, tc.want) {
			t.Errorf("of %q %s is told %q", tc.words, tc.to, got)
		}
		if now := p.job(); sheetOf(now) != sheetOf(before) || now.State != before.State || len(now.Differs) != 0 {
			t.Errorf("%q changes the job: %s, %v", tc.words, now.State, now.Differs)
		}
	}
	p := readyToPull(t, "Bo", "Cy", "Di", "Eve")
	p.say("Cy", "Ada, the shackle is only 2 t")
	if len(p.job().Differs) != 1 {
		t.Error("what Cy tells Ada of a shackle is lost")
	}
	p = readyToPull(t, "Bo", "Cy", "Di", "Eve")
	if out := p.say("Cy", "Ada, i smell gas"); p.job().State != flow.Referred {
		t.Errorf("a danger told to somebody by name is talk: %q", text(out["test/Ada"]))
	}
	p.to2(t)
}

// to2 has somebody name a danger to somebody while the pull holds, and moves.
func (p *puller) to2(t *testing.T) {
	for _, stage := range []flow.Stage{flow.AllPlaced, flow.FirstMove} {
		p := readyToPull(t, "Bo", "Cy", "Di", "Eve")
		p.to(stage)
		p.say("Cy", "Bo, the strop is sliding up")
		if s := p.job(); s.Stage.Moves() || len(s.Reports) == 0 {
			t.Errorf("at %s a danger told by name is talk: %s", stage, s.Stage)
		}
	}
}

// TestQuestionAndAnswer: a question goes to who is asked, and the answer back to
// who asked and into the log; it answers nothing else, and confirms nothing.
func TestQuestionAndAnswer(t *testing.T) {
	flow.Lone(t)
	for _, answer := range []string{"yes", "yes four bolts", "i think so", "dunno, will look", "ok"} {
		p := readyToPull(t, "Bo", "Cy", "Di", "Eve")
		p.to(flow.AllPlaced)
		p.say("Eve", "Bo, is the drawbar bolted?")
		sure := len(p.job().Holds[0].Sure)
		out := p.say("Bo", answer)
		if got := text(out["test/Eve"]); !strings.Contains(got, "Bo answers you: "+answer) {
			t.Errorf("of %q Eve is told %q", answer, got)
		}
		if got := text(out["test/Ada"]); !strings.Contains(got, "Bo answers Eve: "+answer) {
			t.Errorf("of %q the lead is told %q", answer, got)
		}
		if s := p.job(); len(s.Holds[0].Sure) != sure || s.Queries[0].Over == "" {
			t.Errorf("%q confirms something, or answers nothing: %+v", answer, s.Queries)
		}
		if got := told(p.say("Bo", "yes")["test/Bo"]); !strings.HasPrefix(got, "pull.bare") {
			t.Errorf("a yes after the answer is told %s", got)
		}
	}
	// How something on the spot is, is asked of who stands there and not of the program; that
	// it is as it is to be there is an answer all the same.
	for _, stage := range []flow.Stage{flow.AllPlaced, flow.LightTension} {
		p := readyToPull(t, "Bo", "Cy", "Di", "Eve")
		p.join("Ada", "coordinator code", "Dag")
		p.to(stage)
		if got := text(p.say("Dag", "how does the anchor look")["test/Ada"]); !strings.Contains(got, "how does the anchor look") {
			t.Errorf("%s: of Dag's question the lead reads %q", stage, got)
		}
		if got := text(p.say("Ada", "mark has not moved, Cy looks at it")["test/Dag"]); !strings.Contains(got, "Ada answers you: mark has not moved") || p.job().State != flow.Pulling {
			t.Errorf("%s: Dag is answered %q, it stands at %s", stage, got, p.job().State)
		}
		if got := told(p.say("Dag", "how do i amend something")["test/Dag"]); !strings.HasPrefix(got, "afar.how") {
			t.Errorf("%s: how to amend is answered %s", stage, got)
		}
	}
	// What was asked before the pull went on is not answered by what is said of it now.
	gone := readyToPull(t, "Bo", "Cy", "Di", "Eve")
	gone.to(flow.AllPlaced)
	gone.say("Eve", "Ada, is it far to the gate?")
	gone.to(flow.LightTension)
	if got := text(gone.say("Ada", "tension is on, braked")["test/Eve"]); strings.Contains(got, "answers you") {
		t.Errorf("an old question is answered: %q", got)
	}
	// A yes that answers a question answers no item of the list.
	p := briefed(t, "Bo", "Cy", "Eve")
	p.say("Eve", "Cy, is the oak alive?")
	out := p.say("Cy", "yes")
	if got := text(out["test/Eve"]); !strings.Contains(got, "Cy answers you: yes") || p.job().Marks["site.under"].Value != "" {
		t.Errorf("the yes goes elsewhere: %q, %+v", got, p.job().Marks)
	}
	if p.say("Cy", "yes"); p.job().Marks["site.under"].Value == "" {
		t.Error("the next yes is not to the item that stands there again")
	}
	// The lead answers, by name or without; who has no phone is asked through them.
	p = briefed(t, "Bo", "Cy", "Eve")
	p.say("Eve", "Ada, has the farmer been asked?")
	if got := text(p.say("Ada", "Eve, yes he has")["test/Eve"]); !strings.Contains(got, "Ada answers you: yes he has") {
		t.Errorf("the lead's answer comes as %q", got)
	}
	if got := text(p.say("Eve", "Di, is the holding line on?")["test/Ada"]); !strings.Contains(got, "Eve asks Di, who has no phone here") {
		t.Errorf("for Di the lead is asked %q", got)
	}
	if got := text(p.say("Ada", "nearly, one turn is on")["test/Eve"]); !strings.Contains(got, "Ada, for Di, answers you: nearly, one turn is on") {
		t.Errorf("for Di the answer is %q", got)
	}
}
