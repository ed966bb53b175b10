package flow_test

import (
	"strings"
	"testing"

	"linetender/flow"
)

// TestStopIsOverLast: the reason for a stop in the pull is noted first; that it
// is over is told when what it asks for was looked at, by the lead's release of a
// hold, to everybody, and never before. Under light tension the line is eased
// before anything else is asked.
func TestStopIsOverLast(t *testing.T) {
	flow.Lone(t)
	t.Parallel()
	at := standing(t, "Bo", "Cy", "Di", "Eve")
	for _, stage := range []flow.Stage{flow.SlackIsOut, flow.LightTension, flow.Held, flow.Bite, flow.HoldProved, flow.Securing} {
		p := at[stage].copied(t)
		p.say("Cy", "stop, something cracked")
		for _, who := range []string{"Bo", "Di"} {
			p.pressed(who, "still")
		}
		out := p.say("Ada", "Cy looked, it was a branch, put right")
		for _, who := range []string{"Ada", "Bo", "Cy", "Di", "Eve"} {
			got := said(out["test/"+who])
			if !strings.Contains(got, "stop.noted") || strings.Contains(got, "stop.over") || strings.Contains(got, "stop.put_right") {
				t.Errorf("%s: with the reason %s is told %s", stage, who, got)
			}
		}
		if got := said(out["test/Bo"]); stage == flow.LightTension && (!strings.Contains(got, "pull.taut") || !p.has("Bo", "sure")) {
			t.Errorf("under light tension the driver is told %s", got)
		}
		told := false
		left := map[string]bool{} // who was told what is missing
		for range 80 {
			if p.has("Ada", "release") {
				open := len(p.job().Again) > 0 // what is looked at once the line is slack
				for _, item := range []string{"anchor_marked", "line_free", "edges_padded"} {
					open = open || p.job().Settled["site."+item] == "" && p.job().Stage.Lies()
				}
				out = p.press("Ada", "release")
				if open {
					if got := said(out["test/Ada"]); strings.Contains(got, "stop.put_right") {
						t.Errorf("%s: with questions open the release says %s", stage, got)
					}
					continue
				}
				for _, who := range []string{"Ada", "Bo", "Cy", "Di", "Eve"} {
					if got := said(out["test/"+who]); !strings.HasPrefix(got, "stop.put_right") {
						t.Errorf("%s: with the release %s is told %s", stage, who, got)
					}
				}
				told = true
				break
			}
			if p.has("Ada", "stands_*") || p.has("Ada", "done_*") {
				p.press("Ada", p.choice("Ada", "stands_*")+p.choice("Ada", "done_*"))
				continue
			}
			if !p.willing() {
				p.tick(61e9)
				if p.has("Ada", "begin_pull") {
					p.press("Ada", "begin_pull")
				}
			}
			for _, who := range []string{"Ada", "Bo", "Cy", "Di", "Eve"} {
				got := p.last["test/"+who].Text()
				if strings.Contains(got, "For the stop to be over still missing: ") || strings.Contains(got, "The stop is over when Ada releases hold ") {
					left[who] = true
				}
				if strings.Contains(got, "The stop is over,") {
					t.Errorf("%s: before the release %s is told %s", stage, who, got)
				}
			}
		}
		if stage != flow.Securing && (!left["Ada"] || stage == flow.Held && len(left) < 4) {
			t.Errorf("%s: what is missing is told to %v", stage, left)
		}
		if !told {
			t.Errorf("%s: no release comes, the lead has %s", stage, p.last["test/Ada"].Text())
		}
	}
}

// TestLookingEndsNothing: at a signature, and in a stop, words that only look are
// answered; they are nobody's name and no reason, and the stop stays on.
func TestLookingEndsNothing(t *testing.T) {
	flow.Lone(t)
	t.Parallel()
	look := map[string]string{"board": "Job ", "show board": "Job ", "so far": "weight 2.4 t", "checks": ""}
	p := toSign(t, "", "", "Bo", "Cy", "Di", "Eve")
	for word, want := range look {
		got := text(p.say("Ada", word)["test/Ada"])
		if p.job().State != flow.Signing || p.job().Topic != "sign_name" || p.job().Held["sign_name"] != "" || !strings.Contains(got, want) {
			t.Errorf("at a signature %q leads to %s %s, signed by %q: %q", word, p.job().State, p.job().Topic, p.job().Held["sign_name"], got)
		}
	}
	look["checks"] = "Checks that pass: "
	pulling := readyToPull(t, "Bo", "Cy", "Di", "Eve")
	pulling.to(flow.LightTension)
	before := readyToPull(t, "Bo", "Cy", "Di", "Eve")
	alone := &puller{phonesAt: planned(t)}
	alone.say("Ada", "Ada, Bo, Cy, Di")
	for name, p := range map[string]*puller{"in the pull": pulling, "before it": before, "alone": alone} {
		p.say("Ada", "stop")
		for _, who := range []string{"Bo", "Cy", "Di"} {
			if name != "alone" {
				p.say(who, "[I stand still]")
			}
		}
		for word, want := range look {
			got := text(p.say("Ada", word)["test/Ada"])
			if p.job().State != flow.Halted || p.job().Held["stop_reason"] != "" || !strings.Contains(got, want) {
				t.Errorf("%s, in a stop, %q leads to %s: %q", name, word, p.job().State, got)
			}
		}
	}
}
