package flow_test

import (
	"slices"
	"strings"
	"testing"

	"linetender/flow"
)

// away has the terminal of somebody close.
func (p *puller) away(who string) map[string][]flow.Message {
	p.t.Helper()
	in := p.input(who)
	in.Away = true
	return p.run(in)
}

// tightStages are those in which the line carries something.
var tightStages = []flow.Stage{
	flow.SlackOut, flow.SlackIsOut, flow.Tightening, flow.LightTension, flow.FirstMove, flow.Held, flow.Bite, flow.Crest, flow.Proving, flow.HoldProved, flow.LineSlack,
	flow.Rerig, flow.Securing, flow.SlackOff, flow.SlackIsOff, flow.Unrig,
}

// TestLosingAPost: whoever is lost from a post while the line is tight, however
// it comes about, everything holds, everybody reads so at once and ahead of all
// else, the driver first, and who must take the post; nobody else is moved from
// theirs, and nothing moves before it is taken.
func TestLosingAPost(t *testing.T) {
	flow.Lone(t)
	t.Parallel()
	at := standing(t, "Bo", "Cy", "Di", "Eve")
	ways := map[string]func(p *puller, who string) map[string][]flow.Message{
		"leaves":       func(p *puller, who string) map[string][]flow.Message { return p.say(who, "leave") },
		"is taken off": func(p *puller, who string) map[string][]flow.Message { return p.say("Ada", who+" has gone home") },
		"window":       func(p *puller, who string) map[string][]flow.Message { return p.away(who) },
	}
	for _, stage := range tightStages {
		for who, post := range map[string]string{"Bo": "driver", "Cy": "rigger", "Di": "holder"} {
			for way, lose := range ways {
				p := at[stage].copied(t)
				before := p.job()
				out := lose(p, who)
				s := p.job()
				what := who + " " + way + " at " + string(stage)
				if s.Stage.Moves() {
					t.Errorf("%s: it goes on at %s", what, s.Stage)
				}
				want := "pull.lost"
				if way == "leaves" { // they are there until they are relieved
					want = "pull.lost_relief"
				}
				if stage.Moves() { // whoever drives it reads first of all that it stops
					want = "pull.hold_now " + want + "_moving"
				}
				for _, chat := range []string{"Ada", "Bo", "Cy", "Di", "Eve"} {
					m := out["test/"+chat]
					if chat == who {
						if stage.Moves() && way == "leaves" && !strings.HasPrefix(said(m), "pull.hold_now ") {
							t.Errorf("%s: %s is told %s", what, who, said(m))
						}
						if again := text(p.copied(t).say(who, "so it is")["test/"+who]); way == "leaves" && !strings.Contains(again, "Stay at this until Ada") {
							t.Errorf("%s: later on %s is told %q", what, who, again)
						}
						continue
					}
					if way == "leaves" && strings.Contains(said(m), "join.gone") {
						t.Errorf("%s: %s is told that %s is gone: %s", what, chat, who, said(m))
					}
					if len(m) == 0 || !m[0].Urgent || !strings.HasPrefix(said(m)+" ", want+" ") || !strings.Contains(said(m), "pull.lost_next") && !strings.Contains(said(m), "pull.lost_few") {
						t.Errorf("%s: %s is told %s", what, chat, said(m))
					}
				}
				for _, seat := range s.Seats {
					if was := before.Seats[slices.IndexFunc(before.Seats, func(x flow.Seat) bool { return x.Post == seat.Post })]; was.Name != who && seat != was {
						t.Errorf("%s: %+v was %+v", what, seat, was)
					}
				}
				for _, press := range []string{"release", "crest", "rerig"} {
					q := p.copied(t)
					if q.has("Ada", press) && q.press("Ada", press) != nil && q.job().Stage.Moves() {
						t.Errorf("%s: %s moves it to %s without %s", what, press, q.job().Stage, post)
					}
				}
			}
		}
	}
}

// TestDriverIsToldFirst: of a stop, and of a post that is lost, the driver's
// phone is told before all others.
func TestDriverIsToldFirst(t *testing.T) {
	for _, text := range []string{"stop", "leave"} {
		p := readyToPull(t, "Bo", "Cy", "Di", "Eve")
		p.to(flow.Bite)
		in := p.input("Di")
		in.Text = text
		turn, err := p.engine.Turn(p.log, in)
		if err != nil {
			t.Fatal(err)
		}
		if got := turn.Outbox[0].Chat; got != "test/Bo" {
			t.Errorf("%q is told to %s first", text, got)
		}
	}
}

// TestWindowCloses: the lead is told when the terminal of somebody with a part
// closes, and when they are back; what they had is taken on again by the lead's
// word for them or by themselves, and the pull goes on.
func TestWindowCloses(t *testing.T) {
	flow.Lone(t)
	t.Parallel()
	for _, stage := range []flow.Stage{flow.NotBegun, flow.Held, flow.Securing} {
		for _, way := range []string{"back", "no phone", "another"} {
			p := readyToPull(t, "Bo", "Cy", "Di", "Eve")
			p.to(stage)
			out := p.away("Bo")
			if got := said(out["test/Ada"]); !strings.Contains(got, "join.away") {
				t.Errorf("%s: that Bo's window closes is told to the lead as %s", stage, got)
			}
			if why, barred := flow.Barred(p.engine, p.job(), p.input("Ada")); !barred {
				t.Errorf("%s: it keeps nothing: %s", stage, why)
			}
			switch way {
			case "back":
				out = p.say("Bo", "/start")
				if got := said(out["test/Ada"]); !strings.Contains(got, "join.here") {
					t.Errorf("%s: that Bo is back is told as %s", stage, got)
				}
				if got := said(out["test/Bo"]); !strings.HasPrefix(got, "join.back") {
					t.Errorf("%s: back Bo is told %s", stage, got)
				}
			case "no phone":
				p.say("Ada", "Bo has no phone")
				p.crew = []string{"Ada", "Cy", "Di", "Eve"}
			case "another":
				p.say("Ada", "Bo has gone home")
				p.join("Ada", "crew code", "Fay")
				p.crew = []string{"Ada", "Cy", "Di", "Eve", "Fay"}
			}
			p.until(string(stage)+" "+way, func() bool {
				s := p.job()
				return stage == flow.NotBegun && p.has("Ada", "begin_pull") || s.State == flow.Pulling && p.has("Ada", "release") || p.has("Ada", "begin_pull")
			})
		}
	}
	p := readyToPull(t, "Bo", "Cy", "Di", "Eve")
	p.to(flow.Held)
	out := p.away("Ada")
	for _, who := range []string{"Bo", "Cy", "Di", "Eve"} {
		if got := said(out["test/"+who]); !strings.Contains(got, "join.away_lead") {
			t.Errorf("that the lead's window closes is told to %s as %s", who, got)
		}
	}
	p.say("Cy", "take the lead")
	if s := p.job(); s.Lead.ID != "test/Cy" {
		t.Errorf("while the lead's window is closed %s leads", s.Lead.ID)
	}
}

// TestItemsUnderATightLine: what is asked again while the line is tight is
// looked at from outside.
func TestItemsUnderATightLine(t *testing.T) {
	p := readyToPull(t, "Bo", "Cy", "Di", "Eve")
	p.to(flow.Held)
	p.say("Ada", "hand over to Cy")
	p.press("Cy", "take")
	p.say("Cy", "as before")
	p.willing()
	for range 10 {
		for _, who := range []string{"Ada", "Bo", "Cy", "Di"} {
			m := p.last["test/"+who]
			if got := m.Text(); strings.Contains(got, "go and look:") && !strings.Contains(got, "The line is tight: look from outside") {
				t.Errorf("%s is asked %s", who, got)
			}
		}
		p.willing()
	}
}

// TestPostsChangeHands: a post that goes from one person to another at a tight
// line is held, and said to be changing hands and not to be lost: whoever had it
// stays until the other takes it on.
func TestPostsChangeHands(t *testing.T) {
	flow.Lone(t)
	at := standing(t, "Bo", "Cy", "Di", "Eve")
	for _, stage := range []flow.Stage{flow.LightTension, flow.Held, flow.Bite, flow.Rerig, flow.Securing} {
		for _, words := range []string{"Di is driver", "hand over to Cy"} {
			p := at[stage].copied(t)
			out := p.say("Ada", words)
			if p.stage().Moves() {
				t.Errorf("%s, %q: it goes on", stage, words)
			}
			for _, chat := range []string{"Ada", "Bo", "Cy", "Di", "Eve"} {
				m := out["test/"+chat]
				want := "pull.passed"
				if stage.Moves() {
					want = "pull.hold_now pull.passed_moving"
				}
				if len(m) == 0 || !m[0].Urgent || !strings.HasPrefix(said(m)+" ", want+" ") || strings.Contains(said(m), "pull.lost") {
					t.Errorf("%s, %q: %s is told %s", stage, words, chat, said(m))
				}
			}
		}
	}
}
