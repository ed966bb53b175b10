package flow

import (
	"regexp"
	"strings"

	"linetender/calc"
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
}

// report keeps one. What was told of a bite belongs to the last one.
func (s *Session) report(a Act, e Entry) {
	r := Report{Kind: a.Path, Words: a.Value, By: e.Who, At: e.At, Stage: s.Stage, Hold: s.Hold, Moved: a.Second, TookIn: a.Was, Force: a.Reason, Where: a.Topic}
	s.Reports = append(s.Reports, r)
	if n := len(s.Bites); n > 0 && r.Kind == "moves" {
		if r.Moved != "" {
			s.Bites[n-1].Moved = r.Moved
		}
		if r.TookIn != "" {
			s.Bites[n-1].TookIn = r.TookIn
		}
	}
}

// A sight is one kind of thing that can be seen. Its label is saw. and its
// kind; look. says what to look at, and from where.
type sight struct {
	kind   string
	stops  bool // it is a stop by itself
	learns string
	causes []calc.Cause // what it makes doubtful
	reads  *regexp.Regexp
}

// sights are read in this order: the first that fits is meant.
var sights = []sight{
	{kind: "lifts", stops: true, causes: []calc.Cause{calc.Stopped},
		reads: regexp.MustCompile(`\bfront\b.*\b(lift|lifts|lifted|lifting|rises?|rising|comes? up|came up|light)\b|\b(rears?|rearing|wheelies?)\b`)},
	{kind: "sound", stops: true, causes: []calc.Cause{calc.Stopped},
		reads: regexp.MustCompile(`\b(cracks?|cracked|cracking|ping|pinged|creaks?|creaking|snapped|bang|smoke|smokes|smoking|sounds?|noises?|strands?|glaz\w*|melt\w*|burn\w*)\b`)},
	{kind: "anchor", stops: true, causes: []calc.Cause{calc.AnchorOut},
		reads: regexp.MustCompile(`\b(anchor|stakes?|picket|pickets|deadman|tree|stump|holdfast|mark)\b.*\b(moves?|moved|moving|gives?|gave|giving|leans?|leaning|lifts?|lifting|pulls? out|comes? out|came out|shifts?|shifted)\b`)},
	{kind: "creeps", causes: []calc.Cause{calc.Creep},
		reads: regexp.MustCompile(`\b(creeps?|crept|creeping)\b|\b(strop|strap|sling|line|rope)\b.*\b(slides?|slid|sliding|slips?|slipped|slipping|climbs?|rides? up)\b`)},
	{kind: "wheel", causes: []calc.Cause{calc.Rerig},
		reads: regexp.MustCompile(`\b(rope|line|cable)\b.*\b(over|under|round|around|on|in)\b.*\b(wheels?|tyres?|tires?|tracks?)\b|\bout of (its|the) plane\b`)},
	{kind: "stuck", learns: "stuck", causes: []calc.Cause{calc.PullSlip},
		reads: regexp.MustCompile(`\bstuck\b|\b(does not|doesn'?t|won'?t|will not|not|no|didn'?t|did not)\s+(move|moving|moved|budge|movement)\b`)},
	{kind: "slips", learns: "slip", causes: []calc.Cause{calc.PullSlip},
		reads: regexp.MustCompile(`\b(slip|slips|slipped|slipping|spin|spins|spun|spinning|wheelspin|digs? in)\b`)},
	{kind: "runs", stops: true, causes: []calc.Cause{calc.Stopped},
		reads: regexp.MustCompile(`\b(runs?|ran|running|rolls?|rolled|rolling|runaway|slides?|slid|sliding)\b|\bmoves? by itself\b`)},
	{kind: "moves", learns: "move",
		reads: regexp.MustCompile(`\b(it|load|truck|vehicle|car|tractor)('?s)?( is)?\b.*\b(moves?|moved|moving|coming)\b|^(moves?|moved|moving)\b`)},
}

func sightOf(kind string) (sight, bool) {
	for _, s := range sights {
		if s.kind == kind {
			return s, true
		}
	}
	return sight{}, false
}

// sightIn returns what words say was seen. A question is no report.
func sightIn(low string) (sight, bool) {
	if strings.HasSuffix(strings.TrimSpace(low), "?") {
		return sight{}, false
	}
	for _, s := range sights {
		if s.reads.MatchString(low) {
			return s, true
		}
	}
	return sight{}, false
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
	if m == nil || m.As == AsObserver || m.As == AsCoordinator {
		return false
	}
	if t.wheelRadius(low) || t.slackWords(text, low) || t.readingWords(text, low) {
		return true
	}
	moved, tookIn := travelled(low)
	s, ok := sightIn(low)
	if moved != "" || tookIn != "" {
		s, ok = sightOf("moves")
	}
	if !ok || strings.HasPrefix(low, "note") || strings.HasPrefix(low, "change") {
		return false
	}
	if s.kind == "moves" {
		t.moved(text, low, moved, tookIn)
		return true
	}
	t.saw(s.kind, wording.Plain(text))
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
	if !t.holdNow() && t.s.hold() != nil {
		t.act(Act{Do: DoAnew})
	}
	who := t.whoName()
	say := func() {
		t.say(wording.PullSaw, wording.Args{"Name": who, "Text": t.saying(wording.Key("saw." + kind))})
		t.say(wording.Key("look."+kind), nil)
	}
	t.tellAll(false, say)
	say()
	if s.learns != "" && tight(stage, t.s) && p != nil && p.Tackle != nil {
		t.learn(p, s.learns, nil)
	}
	t.reopenFor(s.causes...)
	t.replan()
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
	past := moved != "" || tookIn != "" || strings.Contains(low, "moved")
	if stage.Holds() && !(past && stage == Held) || stage == Proving || stage == SlackOff || stage == Rerig || stage == Unrig {
		t.act(Act{Do: DoReport, Path: "runs", Value: wording.Plain(text)})
		t.haltFor("runs", wording.LookRuns)
		return
	}
	t.act(Act{Do: DoReport, Path: "moves", Value: wording.Plain(text), Second: moved, Was: tookIn})
	t.say(wording.PullMoves, nil)
	if p == nil || p.Tackle == nil {
		t.ask()
		return
	}
	if moved != "" && tookIn != "" {
		t.advance(p, tookIn, moved)
	}
	if tight(stage, t.s) {
		t.learn(p, "move", map[string]string{"took_in": tookIn, "moved": moved})
	}
	if stage.Moves() { // it goes on as it was released
		t.learnt()
		t.ask()
		return
	}
	t.replan()
}

// advance holds a counted advance against the parts.
func (t *turn) advance(p *calc.Plan, tookIn, moved string) {
	in, ok1 := readLength(tookIn)
	by, ok2 := readLength(moved)
	if !ok1 || !ok2 {
		return
	}
	a := calc.Advance(*p, in, by)
	args := wording.Args{"Length": by, "Rope": in, "Parts": a.Parts}
	switch a.Verdict {
	case calc.AdvanceSame:
		t.say(wording.AdvanceSame, args)
	case calc.AdvanceGives:
		t.say(wording.AdvanceGives, args)
	case calc.AdvanceCannot:
		t.say(wording.AdvanceCannot, args)
	}
}
