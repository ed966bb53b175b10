package flow_test

import (
	"slices"
	"strings"
	"testing"

	"linetender/flow"
)

// jobsBegun counts the jobs in the log.
func (p *phones) jobsBegun() int {
	n := 0
	for s := range p.log.streams {
		if strings.HasPrefix(s, "job/") {
			n++
		}
	}
	return n
}

// TestWhoLeftBeginsNothing: what is written in a chat that has left a job on
// which others work, or that was taken out of it, begins no other job, however it
// is written; a stop there reaches all who are in it, and says so; the way back
// leads back, and new begins one of its own.
func TestWhoLeftBeginsNothing(t *testing.T) {
	for how, leave := range map[string]func(p *puller){
		"leaves":       func(p *puller) { p.say("Bo", "leave") },
		"is taken off": func(p *puller) { p.say("Ada", "Bo has to go") },
	} {
		t.Run(how, func(t *testing.T) {
			p := readyToPull(t, "Bo", "Cy", "Di", "Eve")
			p.to(flow.SlackOut)
			code := p.head().Code
			leave(p)
			n := p.jobsBegun()
			for _, text := range []string{"/start", "start", "hello", "the truck is 3 t", "none", "yes", "plan", "card", "leave", "release 1"} {
				out := p.say("Bo", text)
				if got := told(out["test/Bo"]); !strings.HasPrefix(got, "join.outside") || p.jobsBegun() != n {
					t.Errorf("%q says %s, jobs %d of %d", text, got, p.jobsBegun(), n)
				}
				for chat := range out {
					if chat != "test/Bo" {
						t.Errorf("%q is told to %s: %s", text, chat, said(out[chat]))
					}
				}
			}
			in := p.input("Bo")
			in.Other = flow.OtherPhoto
			if got := told(p.run(in)["test/Bo"]); !strings.HasPrefix(got, "join.outside") || p.jobsBegun() != n {
				t.Errorf("a picture says %s", got)
			}
			out := p.say("Bo", "stop, he is under it")
			for _, who := range []string{"Ada", "Cy", "Di", "Eve"} {
				if m := out["test/"+who]; len(m) == 0 || !m[0].Urgent || m[0].Parts[0].Key != "stop.called" {
					t.Errorf("the stop of who left is told to %s as %s", who, said(m))
				}
			}
			if got := told(out["test/Bo"]); !strings.Contains(got, "stop.outside") || p.job().State != flow.Halted {
				t.Errorf("Bo is told %s of it, and the job is %s", got, p.job().State)
			}
			for _, way := range []string{"back", "open " + code, "[come back]"} {
				q := p.copied(t)
				if got := told(q.say("Bo", way)["test/Bo"]); !strings.HasPrefix(got, "stop.called stop.words welcome.crew") {
					t.Errorf("%q says %s", way, got)
				}
				if s := q.job(); s.State != flow.Halted || !slices.ContainsFunc(s.Party, func(m flow.Member) bool { return m.Name == "Bo" && !m.Gone }) {
					t.Errorf("after %q Bo is not in", way)
				}
			}
			in = p.input("Bo") // a chat that was invited may have a job of its own
			in.Text, in.Local = "new", true
			if got := told(p.run(in)["test/Bo"]); !strings.HasPrefix(got, "open.hello") {
				t.Errorf("new says %s", got)
			}
			if got := text(p.say("Bo", "stop")["test/Bo"]); !strings.Contains(got, "NOBODY") || !strings.Contains(got, code) {
				t.Errorf("a stop in the job of one's own does not say that it reaches nobody in %s: %s", code, got)
			}
		})
	}
}

// TestStopReachesNobody: a stop where nobody else is says so, and how to make
// it heard.
func TestStopReachesNobody(t *testing.T) {
	p := newPhones(t)
	if got := text(p.say("Bo", "stop")["test/Bo"]); !strings.Contains(got, "NOBODY") {
		t.Errorf("a stop in no job says %s", got)
	}
}

// TestBoundToARiggedLine: who has a part in a job whose line is rigged goes to no
// other, by a code or by new: their stop would go there.
func TestBoundToARiggedLine(t *testing.T) {
	p := readyToPull(t, "Bo", "Cy", "Di", "Eve")
	p.to(flow.SlackOut)
	p.say("Zoe", "/start")
	p.say("Zoe", "none")
	out := p.join("Zoe", "crew code", "Bo")
	if got := told(out["test/Bo"]); !strings.HasPrefix(got, "join.bound") {
		t.Errorf("the code of another job says %s", got)
	}
	n := p.jobsBegun()
	if got := told(p.say("Ada", "new")["test/Ada"]); !strings.Contains(got, "join.bound") || p.jobsBegun() != n {
		t.Errorf("new says %s", got)
	}
}

// TestInNeedsNoCode: who is in and sends a code that is good no more is told
// where they are.
func TestInNeedsNoCode(t *testing.T) {
	p := newPhones(t)
	p.say("Ada", "/start")
	code := ""
	for _, word := range strings.Fields(p.say("Ada", "crew code")["test/Ada"][0].Text()) {
		if strings.Count(word, "-") == 4 {
			code = strings.Trim(word, ".,")
		}
	}
	p.say("Bo", code)
	p.say("Ada", "revoke")
	if got := told(p.say("Bo", code)["test/Bo"]); !strings.HasPrefix(got, "join.back") {
		t.Errorf("with a code that is over Bo, who is in, is told %s", got)
	}
	p.say("Bo", "leave")
	if got := told(p.say("Bo", "/start "+code)["test/Bo"]); !strings.HasPrefix(got, "door.wrong") {
		t.Errorf("once Bo has left it says %s", got)
	}
	if got := told(p.say("Bo", "hello")["test/Bo"]); !strings.HasPrefix(got, "join.outside") {
		t.Errorf("and what follows says %s", got)
	}
}
