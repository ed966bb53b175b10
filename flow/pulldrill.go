package flow

import (
	"regexp"
	"slices"
	"strings"
	"unicode"

	"linetender/flow/hear"
	"linetender/flow/wording"
)

// The stop drill is the last check before the line gets tight: the lead calls
// it, any phone's stop goes the way that every stop goes, everybody answers,
// and the lead says that the driver's foot came off and all stood. Only then
// does it go on.

// wantDrill asks for the drill.
func (t *turn) wantDrill(chat string) want {
	stop := offer{choice: choiceStop}
	if chat != t.s.leadChat() {
		return want{id: "drill", say: func() {
			t.say(wording.DrillWait, wording.Args{"Name": t.s.Lead.Name})
			t.offers = []offer{stop}
		}}
	}
	switch {
	case t.s.single():
		return want{id: "drill-shout", say: func() {
			t.say(t.forPuller(wording.DrillShout), nil)
			t.offers = []offer{{choice: "drill_ok"}, {choice: "drill_again"}, stop}
		}}
	case t.s.Called && t.s.Held[heldDrill] != "":
		return want{id: "drill-failed", say: func() {
			t.say(wording.DrillAnew, nil)
			t.offers = []offer{{choice: "drill_again"}, stop}
		}}
	case t.s.Called:
		return want{id: "drill-called", say: func() {
			t.say(wording.DrillCalled, nil)
			t.offers = []offer{{choice: "drill_shouted"}, {choice: "drill_again"}, stop}
		}}
	}
	return want{id: "drill-call", say: func() {
		t.say(t.forPuller(wording.DrillCall), nil)
		t.offers = []offer{{choice: "drill"}, stop}
	}}
}

// askDrilled asks the lead how the drill went, once a stop was called for it.
func (t *turn) askDrilled(stop *Stop) {
	if t.s.Held[heldDrill] != "" { // no button passes it any more
		t.say(wording.DrillAnew, nil)
		t.offers = append([]offer{t.drillButton("drill_again", stop)}, t.offers...)
		return
	}
	t.say(t.forPuller(wording.DrillDone), nil)
	t.offers = append([]offer{t.drillButton("drill_ok", stop), t.drillButton("drill_again", stop)}, t.offers...)
}

func (t *turn) drillButton(name string, stop *Stop) offer {
	return offer{choice: name + "." + stop.call(), label: t.saying(wording.Key("choice." + name))}
}

func (t *turn) drillPress(name, of string) {
	t.said = t.saying(wording.Key("choice." + name))
	stop := t.s.stop()
	over := t.s.State == Halted && stop != nil && stop.Drill && of == stop.call()
	here := t.s.State == Pulling && t.s.Stage == StopDrill
	switch {
	case !over && !here:
		t.notice = true
		t.say(wording.RefuseStaleShort, nil)
		return
	case !t.leads():
		return
	}
	switch {
	case name == "drill" && here:
		if t.s.Held[heldDrill] != "" {
			t.act(Act{Do: DoHold, Path: heldDrill})
		}
		t.act(Act{Do: DoDrill})
		t.tellAll(false, func() { t.say(wording.DrillComes, nil) })
		t.ask()
	case over:
		t.drilled(name != "drill_again")
	case name != "drill" && (t.s.single() || t.s.Called && of == ""): // it was shouted: no button of a stop
		t.drillOver(name != "drill_again")
	default:
		t.remark(wording.RefuseNotHere, nil)
	}
}

// drilled ends the stop of a drill.
func (t *turn) drilled(good bool) {
	if len(t.movers()) > 0 {
		t.ask()
		return
	}
	t.drillOver(good)
}

// drillWords takes what the buttons of a drill say, in words; how it went is
// asked with a yes or a no as well.
func (t *turn) drillWords(low string) bool {
	if t.s.Stage != StopDrill {
		return false
	}
	of, asked := "", false
	if stop := t.s.stop(); stop != nil {
		if !stop.Drill || !t.isLead() || t.saidBefore() {
			return false
		}
		of, asked = stop.call(), len(t.movers()) == 0
		if strings.HasSuffix(low, "drill") {
			return false
		}
	}
	switch low {
	case "drill", "call the drill", "the drill":
		t.drillPress("drill", of)
	case "all stood", "foot off", "the foot came off", "everybody stood", "all stood, foot off", "foot off, all stood":
		t.drillPress("drill_ok", of)
	case "shouted: all stood", "shouted, all stood", "shouted all stood", "shouted":
		t.drillPress("drill_shouted", of)
	case "not all stood", "not so", "again":
		t.drillPress("drill_again", of)
	case "yes", "yep", "yeah", "yes it did", "yes they did":
		if asked {
			t.drillPress("drill_ok", of)
		}
		return asked
	default:
		if !t.answersDrill() {
			return false
		}
		t.drillPress("drill_ok", of)
	}
	return true
}

// answersDrill reports whether words that have the letters of a stop in them are the
// answer to how the drill went, which asks for them.
func (t *turn) answersDrill() bool {
	if t.in.Press != nil || t.s == nil || t.s.Stage != StopDrill || !t.isLead() {
		return false
	}
	stop := t.s.stop()
	asked := stop != nil && stop.Drill && len(t.movers()) == 0 || stop == nil && t.s.State == Pulling && (t.s.single() || t.s.Called)
	low := hear.Lowered(t.in.Text)
	if stop == nil && !t.s.single() && !drillWasCalled.MatchString(low) {
		return false // who stands has not yet heard a stop
	}
	return asked && !calledOut.MatchString(low) && hear.Drilled(t.in.Text, t.crewNames()) == hear.DrillStood && (!hear.Stops(low) || drillPast.MatchString(low) || t.crewNamed(low))
}

// drillWasCalled are words by which a stop that nobody pressed was called aloud and obeyed.
var drillWasCalled = regexp.MustCompile(`\b(?:foot|feet|shout\w*|yell\w*|called|stopp?ed|stood|halted|let go|hands? off|pawl|cranking|hauling|drill\w*)\b`)

// crewNamed reports whether words have the name of one of the crew in them.
func (t *turn) crewNamed(low string) bool {
	words := strings.FieldsFunc(low, func(r rune) bool { return !unicode.IsLetter(r) })
	return slices.ContainsFunc(t.crewNames(), func(name string) bool {
		first, _, _ := strings.Cut(strings.ToLower(name), " ")
		return slices.Contains(words, first)
	})
}

// drillPast is who has stopped: a bare "stopped" is a stop.
var drillPast = regexp.MustCompile(`\b(?:he|she|they|we|driver|all|everybody|everyone)\b.*\b(?:stopped|stood)\b`)

// stoodInDrill is the Path of a DoStop by words that somebody has stopped, while the drill
// is on: it was shouted, and they obey it. A word that is no more than a stop needs none.
const stoodInDrill = "stood"

// drillsBy returns that Path for the words of this turn; empty for all else.
func (t *turn) drillsBy(cause string) string {
	m := t.me()
	if t.s.Called && cause == "" && t.in.Press == nil && m != nil && !m.afar() && saysStood(t.in.Text) {
		return stoodInDrill
	}
	return ""
}
