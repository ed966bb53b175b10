package flow_test

import (
	"strconv"
	"strings"
	"testing"

	"linetender/flow"
)

// TestTautLineIsEasedFirst: after back to slack, a hold or a stop at a line that
// was taken up the easing comes before all else, and nobody is asked to read gear
// before the driver has said that it lies slack.
func TestTautLineIsEasedFirst(t *testing.T) {
	flow.Lone(t)
	t.Parallel()
	for _, stage := range []flow.Stage{flow.SlackOut, flow.SlackIsOut, flow.Tightening, flow.LightTension} {
		for _, how := range []string{"slacken", "stop", "it creaked", "wait", "it slips"} {
			for _, crew := range [][]string{nil, {"Bo", "Cy", "Di", "Eve"}} {
				if how == "slacken" && stage.Moves() || how == "wait" && !stage.Moves() || how == "it slips" && !stage.Moves() {
					continue
				}
				p := readyToPull(t, crew...)
				p.to(stage)
				switch how {
				case "slacken":
					p.confirm()
					p.press("Ada", "slacken")
				default:
					p.say("Ada", how)
				}
				if p.job().State == flow.Halted {
					for _, who := range []string{"Bo", "Cy", "Di"} {
						if len(crew) > 0 {
							p.pressed(who, "still")
						}
					}
					p.say("Ada", "false alarm")
				}
				driver := "Ada"
				if len(crew) > 0 {
					driver = "Bo"
				}
				s := p.job()
				if s.State != flow.Pulling || s.Stage != flow.AllPlaced || !p.has(driver, "sure."+strconv.Itoa(s.Hold)+".easing") {
					t.Errorf("%s, %s, %d phones: it goes on at %s, %s; the driver is asked %q %v, hold %d", stage, how, len(crew)+1, s.State, s.Stage, p.last["test/"+driver].Text(), p.last["test/"+driver].Choices, s.Hold)
					continue
				}
				if len(crew) > 0 && p.has("Cy", "sure") {
					t.Errorf("%s, %s: at a tight line the rigger is asked %q", stage, how, p.last["test/Cy"].Text())
				}
				if text := p.last["test/"+driver].Text(); strings.Contains(text, "piece by piece") {
					t.Errorf("%s, %s: the driver is told %q", stage, how, text)
				}
				if p.press(driver, "sure"); p.has(driver, "sure."+strconv.Itoa(s.Hold)+".easing") {
					t.Errorf("%s, %s: eased, it is asked again", stage, how)
				}
				if how == "it slips" { // it gives less than the light load: the plan is asked anew, not gone on with
					p.until("told anew", func() bool { return p.job().State == flow.Verdict })
					if text := p.last["test/Ada"].Text(); !strings.Contains(text, "What now?") || p.has("Ada", "begin_pull") {
						t.Errorf("%s, %s: after a slip under so little Ada is told %q %v", stage, how, text, p.last["test/Ada"].Choices)
					}
					continue
				}
				p.until("back", func() bool { return p.job().State == flow.Pulling && p.has("Ada", "release") })
				if p.stage() != flow.AllPlaced {
					t.Errorf("%s, %s: eased it stands at %s", stage, how, p.stage())
				}
			}
		}
	}
}
