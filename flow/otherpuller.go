package flow

import (
	"encoding/json"
	"regexp"
	"slices"
	"strings"

	"linetender/flow/hear"
	"linetender/flow/wording"
)

// Another puller is another plan. Whoever brings one, at the plan or in the middle of a
// pull, tells it piece by piece, and until it is told nothing of the one before stands for
// it: its grip, its hitch and the ground under it are all asked anew, and nothing pulls.

const pullerNouns = `(?:tractor|puller|pulling (?:machine|vehicle)|winch|hoist|4x4|4wd|land ?rover|jeep|quad|loader|digger|excavator|dozer|bulldozer|telehandler|forwarder|skidder|machine)`

var (
	anotherPuller = regexp.MustCompile(`\b(?:another|(?:a |an )?other|(?:a )?different|second|2nd|new|replacement|spare|bigger|stronger|heavier)\s+(?:[\w.]+\s+){0,2}?` + pullerNouns + `\b|\b(?:swapp?ed|changed|replaced|switched|exchanged)(?: over)?(?: the| our)? ` + pullerNouns + `\b`)
	notInstead    = regexp.MustCompile(`\b(?:no|not|n't|without|if|could|can|may|might|maybe|perhaps|should|would|anchor\w*|hold\w*|behind it|as well|too|also|to help|past|through|by on|nearby|neighbou?r'?s yard|passes|passed|passing|drives? by|went by|road)\b`)
	pullsIt       = regexp.MustCompile(`\b(?:to pull|pull(?:s|ing)? (?:with|now|instead|it)|us(?:e|es|ing)|tak(?:e|es|ing)|have|got|borrowed|hired|fetched|brought|put|swapp?ed|changed|replaced|switched|exchanged|instead|now|is here|here now|arrived|change puller)\b|^(?:ok |so |with |it'?s )?(?:another|a |the |an |different|other|new|bigger)`)
)

// otherPuller takes that another machine pulls from now on.
func (t *turn) otherPuller(text string) bool {
	m := t.me()
	low := hear.Lowered(text)
	planned := t.s.Stage == NotBegun && t.s.State == Verdict && t.main() // nothing is rigged yet
	switch {
	case m == nil || m.As != AsLead && m.As != AsCrew || !planned && (!t.s.Stage.Lies() || !t.s.Stage.needsPlan()) || t.s.Sheet.Puller == nil || len(t.s.Sheet.Pullers) > 1,
		slices.Contains([]State{Halted, Away, Closed, Debrief, Referred}, t.s.State),
		!anotherPuller.MatchString(low) || !pullsIt.MatchString(low) || notInstead.MatchString(low) || isQuestion(low) || hear.ToCome(text),
		strings.HasPrefix(low, "note ") || strings.HasPrefix(low, "change ") && !strings.HasPrefix(low, "change puller "):
		return false
	}
	if s, ok := t.sight(text); ok && s.stops {
		return false
	}
	if planned {
		t.forgetPuller()
		t.say(wording.PlanOtherPuller, nil)
		t.amendPuller(low)
		return true
	}
	t.holdAnew()
	if !t.isLead() {
		who := t.whoName()
		t.act(Act{Do: DoAgain, Topic: "puller", Reason: t.sayingWith(wording.StaleOtherPuller, wording.Args{"Name": who, "Text": wording.Plain(text)})})
		say := func() { t.say(wording.PullSays, wording.Args{"Name": who, "Text": wording.Plain(text)}) }
		t.tellAllAndHere(true, say)
		t.inChat(t.s.leadChat(), t.replan)
		t.ask()
		return true
	}
	t.forgetPuller()
	say := func() { t.say(wording.PullOtherPuller, nil) }
	t.tellAllAndHere(true, say)
	t.stale()
	t.amendPuller(low)
	return true
}

// amendPuller takes what words tell of another puller, and asks for the rest.
func (t *turn) amendPuller(low string) {
	told := anotherPuller.ReplaceAllStringFunc(low, func(s string) string { return s[strings.LastIndexByte(s, ' ')+1:] })
	told = strings.TrimPrefix(told, "change puller ")
	if tp, _ := topicByName("puller"); len(t.whoIsWho().Listen(told, tp.heard()).Facts) == 0 {
		told = ""
	}
	t.amend("puller", told, "")
}

// inPassing leaves out of some facts another kind of puller that words name and tell
// nothing else of, once the rig stands for the pull: "the winch is fine" makes no winch of
// a tractor. What pulls then changes where it is asked, or by a change that is asked for.
func (t *turn) inPassing(facts []hear.Fact) []hear.Fact {
	was, told := t.s.Sheet.Get("puller.kind")
	if !told || !t.s.Stage.Rigged() || t.s.Topic == "puller" || t.amending("puller") {
		return facts
	}
	another := false
	for _, f := range facts {
		switch {
		case f.Field == "puller.kind":
			another = another || f.Value != was
		case f.Field == "puller.name":
			another = another || t.s.Sheet.Puller.Name != "" && !strings.EqualFold(f.Value, t.s.Sheet.Puller.Name)
		case strings.HasPrefix(f.Field, "puller."):
			return facts // more is told of it
		}
	}
	if !another {
		return facts
	}
	return slices.DeleteFunc(slices.Clone(facts), func(f hear.Fact) bool { return f.Field == "puller.kind" || f.Field == "puller.name" })
}

// forgetPuller takes off the sheet all that was told of the puller, and opens the
// questions that it was the answers to.
func (t *turn) forgetPuller() {
	body, err := json.Marshal(t.s.Sheet.Puller)
	var fields map[string]any
	if err == nil {
		err = json.Unmarshal(body, &fields)
	}
	if err != nil {
		t.err = err
		return
	}
	var names []string
	for f := range fields {
		names = append(names, f)
	}
	slices.Sort(names)
	for _, f := range names {
		path := "puller." + f
		if _, told := t.s.Sheet.Get(path); told {
			t.takeOff(path)
		}
	}
}
