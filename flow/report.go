package flow

import (
	"fmt"
	"math"
	"regexp"
	"slices"
	"strings"

	"linetender/calc"
	"linetender/flow/hear"
	"linetender/flow/wording"
)

// The plan meets the ground: what happens during the pull is told by anyone on
// the spot, in a press or a few words. Everybody holds first, then there is
// something to look at, and the plan is reckoned again with what was learnt.

// A Report is one thing that was seen during the pull.
type Report struct {
	Kind   string // of sights, or reading, slack, rain
	Words  string
	By     Person
	At     string
	Stage  Stage
	Hold   int
	Moved  string // by the load
	TookIn string // of rope
	Force  string // what a load cell showed
	Where  string // it hung: haul or load
	Pull   int    // how many pulls had been released
}

// report keeps one. What was told of a bite belongs to the last one.
func (s *Session) report(a Act, e Entry) {
	r := Report{Kind: a.Path, Words: a.Value, By: e.Who, At: e.At, Stage: s.Stage, Hold: s.Hold, Moved: a.Second, TookIn: a.Was, Force: a.Reason, Where: a.Topic, Pull: s.Pulls}
	s.Reports = append(s.Reports, r)
	if n := len(s.Bites); n > 0 && r.Kind == "moves" {
		if r.Moved != "" {
			s.Bites[n-1].went(Gone{By: r.By, Moved: r.Moved, Going: s.Stage.Moves()})
		}
		if r.TookIn != "" {
			s.Bites[n-1].TookIn = r.TookIn
		}
	}
}

// offerReports shows the buttons for what can be seen.
func (t *turn) offerReports() {
	if t.s.State != Pulling || t.me() == nil {
		t.notice = true
		t.say(wording.RefuseStaleShort, nil)
		return
	}
	t.say(wording.PullWhatSeen, nil)
	t.offers = nil
	for i := len(sights) - 1; i >= 0; i-- {
		t.offers = append(t.offers, offer{choice: "saw." + sights[i].kind, label: t.saying(wording.Key("saw." + sights[i].kind))})
	}
	t.offers = append(t.offers, offer{choice: choiceStop})
}

// reportWords takes words about what was seen, and figures.
func (t *turn) reportWords(text, low string) bool {
	m := t.me()
	if m == nil || strings.HasPrefix(low, "note ") || strings.HasPrefix(low, "change ") {
		return false
	}
	afar := m.afar()
	s, ok := t.sight(text)
	evidence := ok && s.kind == "moves"
	switch { // a danger in the same breath as a figure comes first
	case ok && s.kind == "sound" && t.s.Stage == GearCheck: // which piece shows what is asked for there
		return false
	case ok && !evidence && (s.stops || !afar): // of what is on the spot only a stop is theirs who are afar
		t.saw(s.kind, wording.Plain(text))
		t.countUntaken(low)
		if s.stops && s.kind != "hurt" { // whoever smells fuel has named a hazard too
			t.factsNow(hazardsOf(t.factsIn(text)))
			t.damageNow(text)
		}
		return true
	case afar:
		return t.farReading(text, low)
	}
	low = t.asCount(low)
	if t.countsIn(text, low) || t.wheelRadius(low) || t.slackWords(text, low) || t.readingWords(text, low) || t.alikeSaid(text, low) || t.arrives(text, low) {
		return true
	}
	moved, tookIn := travelled(low)
	if !counted(low) {
		moved, tookIn = "", ""
	}
	if moved == "" && tookIn == "" && !evidence {
		return false
	}
	t.moved(text, low, moved, tookIn)
	return true
}

// saw does what a thing that was seen asks for: everybody holds, or stops.
func (t *turn) saw(kind, words string) {
	s, ok := sightOf(kind)
	m := t.me()
	if !ok || m == nil || t.s.State != Pulling {
		t.notice = true
		t.say(wording.RefuseStaleShort, nil)
		return
	}
	if kind == "moves" {
		t.moved(words, strings.ToLower(words), "", "")
		return
	}
	report := Act{Do: DoReport, Path: kind, Value: words}
	if s.stops {
		t.act(report)
		t.haltFor(kind, wording.Key("look."+kind))
		return
	}
	stage, p := t.s.Stage, t.plan()
	t.act(report)
	who := t.whoName()
	t.allHold(func() {
		t.say(wording.PullSaw, wording.Args{"Name": who, "Text": t.saying(wording.Key("saw." + kind))})
		t.say(wording.Key("look."+kind), nil)
	}, nil)
	if p != nil && p.Tackle != nil {
		if what, more := t.teaches(s, stage, p, words); what != "" {
			t.learn(p, what, more)
		}
		if slips, _ := sightOf("slips"); s.learns != "slip" && hear.PullerSlips(t.told(words)) {
			if what, more := t.teaches(slips, stage, p, words); what != "" {
				t.learn(p, what, more)
			}
		}
	}
	t.reopenFor(s.causes...)
	t.replan()
}

// teaches is what a sight at a stage says of need and pull. Under a pull it is
// what the sight stands for. While the line is taken up no more than the light
// load was asked for, and the load is to stand: that it does teaches nothing,
// but a puller that slips or stalls there can't give even that.
func (t *turn) teaches(s sight, stage Stage, p *calc.Plan, words string) (what string, more map[string]string) {
	switch {
	case s.learns == "":
	case tight(stage, t.s), s.learns == "slip" && (stage == AllPlaced || stage == StopDrill):
		// Where the line was to lie slack and it slipped, it was pulled on: with what
		// force nobody knows, so that it counts as a pull by the rig.
		return s.learns, nil
	case slices.Contains(takenUp, stage) && (s.learns == "slip" || stalls.MatchString(words)):
		if l, ok := calc.LightLoad(*p); ok {
			return "slip", map[string]string{"at": calc.AtHaul, "force": fmt.Sprintf("1 to %.0f N", math.Ceil(l.Haul.High.Newtons()))}
		}
	}
	return "", nil
}

// takenUp are the stages where the line is brought to its light tension, and
// stands under it.
var takenUp = []Stage{SlackOut, SlackIsOut, Tightening, LightTension}

// stalls are words that it is the puller which gave up, where the load stands.
var stalls = regexp.MustCompile(`(?i)\bstall`)

// allHold has everybody hold and tells them why; here is what is said to whoever
// told it, nil for the same.
func (t *turn) allHold(say, here func()) {
	t.holdAnew()
	t.tellAll(false, say)
	if here == nil {
		here = say
	}
	here()
}

// tight reports whether what was seen at a stage was seen under a pull.
func tight(stage Stage, s *Session) bool {
	switch stage {
	case FirstMove, Bite, Crest:
		return true
	case Held:
		return len(s.Bites) > 0
	}
	return false
}

// moved takes that the load moved: as it was meant to, or where everything was
// to stand.
func (t *turn) moved(text, low, moved, tookIn string) {
	stage, p := t.s.Stage, t.plan()
	was := moved != "" || tookIn != "" || strings.Contains(low, "moved")
	if stage.Holds() && !(was && stage == Held) || stage == Proving || stage == SlackOff || stage.Hands() {
		t.act(Act{Do: DoReport, Path: "runs", Value: wording.Plain(text)})
		t.haltFor("runs", wording.LookRuns)
		return
	}
	read, alone := t.readAlone()
	both := t.bothOf(count{tookIn: tookIn, moved: moved})
	t.act(Act{Do: DoReport, Path: "moves", Value: wording.Plain(text), Second: moved, Was: tookIn})
	if !t.isThere {
		t.say(wording.PullMoves, nil)
	}
	if p == nil || p.Tackle == nil {
		t.ask()
		return
	}
	t.goneTwice(moved)
	fits, counted := t.advance(p, both.tookIn, both.moved)
	if counted != nil {
		counted()
	}
	fits = fits || t.stretched(p, both)
	t.oddCount = !fits
	if alone && moved != "" {
		t.movedAt(read, moved, tookIn)
	} else if tight(stage, t.s) {
		t.learn(p, "move", map[string]string{"took_in": tookIn, "moved": moved})
	}
	past := t.pastMost(moved)
	if !fits {
		t.strays(text, both, counted)
		return
	}
	if past && stage.Moves() {
		t.holdNow()
		t.replan()
		return
	}
	if stage.Moves() { // it goes on as it was released
		t.learnt()
		if cameToStand.MatchString(low) {
			t.stood()
			return
		}
		t.ask()
		return
	}
	t.replan()
}

// strays holds everything where rope and load did not go as the parts say:
// something gives between puller and anchor, or a mark moved, as when the line
// is seen to creep. That a rope may stretch as much shows nobody that it did.
func (t *turn) strays(text string, c count, say func()) {
	creep, _ := sightOf("creeps")
	t.act(Act{Do: DoReport, Path: creep.kind, Value: wording.Plain(text), Second: c.moved, Was: c.tookIn})
	look := func() { t.say(wording.Key("look."+creep.kind), nil) }
	t.allHold(func() { say(); look() }, look)
	t.reopenFor(creep.causes...)
	t.replan()
}

// advance holds a counted advance against the parts: whether it fits them, and
// what is said of it, nil where there is nothing to hold against them.
func (t *turn) advance(p *calc.Plan, tookIn, moved string) (fits bool, say func()) {
	in, ok1 := readLength(tookIn)
	by, ok2 := readLength(moved)
	if !ok1 || !ok2 {
		return true, nil
	}
	a := calc.Advance(*p, in, by)
	k, ok := map[string]wording.Key{
		calc.AdvanceSame: wording.AdvanceSame, calc.AdvanceGives: wording.AdvanceGives, calc.AdvanceCannot: wording.AdvanceCannot,
	}[a.Verdict]
	if !ok {
		return true, nil
	}
	return a.Verdict == calc.AdvanceSame, func() { t.say(k, wording.Args{"Length": by, "Rope": in, "Count": a.Parts}) }
}
