package flow

import (
	"slices"
	"strings"

	"linetender/flow/hear"
	"linetender/flow/wording"
)

// What ends a stop. The lead's words do it when they name what the stop was
// for, or say that it was looked at and put right. A question, a word that
// wants time, a bare ok, a figure or something that is seen now ends nothing:
// it is asked once more what it was. This errs towards asking, which costs a
// sentence; a stop that ends by a remark may cost a hand.

// question are the ways in which people ask without the sign for it.
var question = hear.Expression(`\?\s*$|^(?:(?:so|and|but|ok|okay|hey|well|please|er|um|then|now)[ ,]+)*` +
	`(?:is|are|am|do|does|did|can|could|shall|should|may|would|what|whats|what's|who|whos|who's|where|when|why|how|which|whose|everybody ok|everyone ok|all ok|anyone|anybody)\b`)

// isQuestion reports whether words ask something.
func isQuestion(low string) bool { return question.MatchString(strings.TrimSpace(low)) }

var (
	// wantsTime are words of somebody who has not settled it yet.
	wantsTime = hear.Expression(`\b(wait\w*|hold (on|it|up)|hang on|whoa|not yet|yet|still|think|thinks|maybe|perhaps|probably|hopefully|might|should|will|would|gonna|going to|need|needs|must|let me|lets|let's|dunno|no idea|` +
		`don'?t know|looking|(have|take|to|and) (a )?look|check|checking|i'll|we'll|he'll|she'll|later|soon)\b`)

	// lookedAt are words that it was looked at or put right.
	lookedAt = hear.Expression(`\b(looked|checked|walked (it|the|round|over|all)|inspected|fixed|repaired|replaced|mended|sorted|solved|settled|cleared|secured|tied (up|off|down|back)|put right|set right|laid right|made right|` +
		`sent (away|off|back|home)|moved (away|off|out)|(taken|brought|led|driven|carried|escorted|shooed) (right |straight |safely )?(away|off|home|indoors|(back )?to (the |his |her |its |their )?(mum|mam|mom|mother|dad|father|parents?|gran|granny|nan|family|owners?|teacher|house|home|car|school|barn|stable|kennel|field|pen|yard))|talked (it )?over|swapped|changed|exchanged|renewed|is (another|a new)( one)?|(another|a new|new) one|false alarm|by mistake|by accident|a mistake|nothing( was| is)? (wrong|there|found|broken|damaged))\b`)

	// setRight are words that signals were agreed and tried, that somebody stands where they
	// see, and that chocks and lines hold: what was not so when the stop was called.
	setRight = hear.Expression(`\b(agreed( on)?|(tried|tested|drilled|practi[sc]ed)( it| them| that| the \w+)?( once| twice| all)?( again| anew| together)?|(drill|test)( was)? (tried|done|run|repeated)|(stands?|standing|moved|placed|put) (him|her|me)?(self)? ?(by the \w+ )?(now )?(where|so that?|so)\b.*\b(sees?|hears?)|` +
		`(can|could) (all )?(see|hear) (each other|one another|me|him|her|them|everyone|everybody|both)( again| now)|(all|both|they|we) (see|hear) (each other|one another)|` +
		`held( fast| tight| firm| now)* by|(holds?|sits?|set|knocked|driven|pushed|kicked|wedged|hammered|pulled|stands?)( (it|them|back|in|home|right|now|all|both))* (tight|fast|firm|snug|solid|home))\b`)

	// setWrong turns that into its opposite.
	setWrong = hear.Expression(`\b(do ?n[o']?t|does ?n[o']?t|did ?n[o']?t (agree|try|set|sit|hold)|nothing|nobody|no one|none|neither|only just|barely|almost|nearly|failed|fails|still)\b`)

	// mistaken are words that nothing was wrong, and the stop was none.
	mistaken = hear.Expression(`\b(by mistake|by accident|(?:was|is) ?(?:not|n'?t) (?:a )?(?:real|proper|meant) ?(?:stop|one)?|(a|my|was|just a)? ?mistake|accidental\w*|false alarm|typo|no reason|did ?n'?o?t mean (to|it|that|stop)|wrong button|(?:that|it|this) (?:was|is) no(?:t a|t any)? stop|(only|just) (?:said|read|repeated|saying|reading|repeating) (?:it|that|them|my (?:part|words)) (?:back|out|again)|(only|just) (writing|typing|answering|quoting)( (the|a|my|it|what|that)\b)?|(was|is|it's|its|that's) (only|just) (the|my|a|part of the) (rule|answer|sentence|wording|reason)|(was|were) nothing|nothin[g']? (was wrong|broke|creaked|cracked|snapped|moved|happened)|(you|u|it|that|program) (mis ?read|mis ?heard|misunderstood|got (me|it|that) wrong|read (me|it|that) wrong))\b|^mistake$`)

	// aboutStop are words about the word stop, which call none.
	aboutStop = hear.Expression(`\b(?:typed|wrote|said|meant|wanted)(?: to (?:say|write|type))? (?:don'?t|do not|not to|never|no) stop\b|\b(typed|wrote|said|pressed|hit|sent|meant|called|no|the word|that was (a|no)|it was (a|no)|(?:(?:that|it|this) )?was ?(?:not|n'?t) (?:a )?(?:real|proper)|a) (the )?(word )?stop(ped)?\b|^(the |my |that )?stop (was|is) (a|my|by|just)\b`)

	// asItWas are words that all is well; beside what it was they say that it is over.
	asItWas = hear.Expression(`\b(all|everything|everybody|everyone|it|they|line|rope|load|he|she)( is|'?s| are|'?re)? (good|ok|okay|fine|well|right|clear|safe|in order|out|away|gone|up|off)\b|\b(good|ok|okay|fine|safe) (again|now)\b`)

	// now are words for what is so at this moment.
	now = hear.Expression(`\b(is|are|am|keeps?|again|now|its|theres|\w{3,}ing)\b|\w'(s|re|m)\b`)

	// past are words for what was.
	past = hear.Expression(`\b(was|were|had|did|didn'?t|wasn'?t|came|ran|fell|broke|cut|hit|got|gave|let|went|stood|sat|took|shook|\w*heard|saw|felt|thought|lost|tore|slid|swung|blew|flew|crept|threw|caught|made|put|forgot|tied|died|shut|` +
		`\w{2,}[^\We]ed)\b`)

	// onSide is where something lies, in which "its" says nothing of when.
	onSide = hear.Expression(`\bon(to)? (its|her|the|one) (side|roof|back|lid)\b`)

	// denied are words that turn what was put right into its opposite.
	denied = hear.Expression(`\b(not|never|nor|hardly|cannot|can'?t|isn'?t|aren'?t|won'?t|wasn'?t|weren'?t|hasn'?t|haven'?t|no longer|unsafe)\b`)

	// harmless are denials of harm.
	harmless = hear.Expression(`\b(no (damage|harm|problem|fault|danger|injur\w+)|(nobody|no one|noone)( is| was)? (hurt|injured)|not (hurt|damaged|injured))\b`)

	// orders are words for the pull, which stands.
	orders = hear.Expression(`^(release|crest|withhold|lift|secure|begin|start|pull|tighten|hold|sure|so it is|not so|as before)\b`)

	// nounOnly are what stops are for, named and no more.
	nounOnly = hear.Expression(`^(just )?(a|an|the|some|his|her|my)? ?(dog|child|kid|animal|cow|sheep|horse|walker|bystander|cyclist|radio|signals?|sight|rain|lightning|thunder|storm|fog|weather|light|kite|bird|wasps?)( again)?$`)
)

// standsStill is a still that is no not yet.
var standsStill = hear.Expression(`\b(?:stands?|standing|stood|stay(?:s|ing|ed)?|keep(?:s|ing)?) (?:all )?still\b`)

// A stopSays is what the lead's words say while a stop is on.
type stopSays int

const (
	saysNothing stopSays = iota // that ends it
	saysOver                    // what it was, or that it was looked at
	saysSeen                    // what is seen now
)

// stopSaid reads the lead's words in a stop.
func (t *turn) stopSaid(text string) (stopSays, sight) {
	low := hear.Lowered(strings.Trim(wording.Plain(text), " .!"))
	seen, ok := sightOf(string(hear.SeenIn(t.dangersIn(low, nil))))
	if ok && seen.kind == "moves" {
		seen, _ = sightOf("runs")
	}
	switch {
	case isQuestion(low), orders.MatchString(low):
		return saysNothing, sight{}
	case nounOnly.MatchString(low):
		return saysOver, seen
	}
	mild := harmless.ReplaceAllString(low, " ")
	looked, not := lookedAt.MatchString(mild), denied.MatchString(mild)
	right, well := (looked || setRight.MatchString(mild) && !setWrong.MatchString(mild) && !t.otherNow(low)) && !not, asItWas.MatchString(mild) && !not
	was := past.MatchString(mild)
	moved, tookIn := travelled(low)
	switch {
	case wantsTime.MatchString(lookedAt.ReplaceAllString(standsStill.ReplaceAllString(mild, " "), " ")):
		if ok && !was {
			return saysSeen, seen
		}
	case ok && !was && !right, ok && now.MatchString(onSide.ReplaceAllString(mild, " ")) && !right && !(was && well):
		return saysSeen, seen
	case moved != "" || tookIn != "", looked && not:
	case right, was && len(strings.Fields(mild)) > 1, mistaken.MatchString(mild) && !ok:
		return saysOver, seen
	}
	return saysNothing, sight{}
}

// otherNow reports whether words tell of a danger that is there now and that the stop is
// not for.
func (t *turn) otherNow(low string) bool {
	stop := t.s.stop()
	told := func(low string, was bool) []hear.Danger {
		return slices.DeleteFunc(t.dangersIn(low, nil), func(d hear.Danger) bool {
			seen, ok := sightOf(string(d.Kind))
			return d.Stands != hear.Now || ok && stop != nil && slices.Contains(stop.causes(), seen.kind) || was && d.Kind != hear.Hurt
		})
	}
	if len(told(low, false)) == 0 {
		return false
	}
	// What was so, and is told beside what was put right, is so no more: it is looked at
	// a breath at a time.
	return slices.ContainsFunc(clauseEnd.Split(low, -1), func(c string) bool {
		return len(told(c, past.MatchString(c) && !now.MatchString(c))) > 0
	})
}

// inStop takes the lead's words while a stop is on, and reports whether they
// end nothing: a fact goes on the sheet and is judged when the job goes on,
// what is seen now is one thing more that the stop is for.
func (t *turn) inStop(text string) bool {
	if t.saidBefore() || !t.isLead() {
		return false
	}
	worse := slices.DeleteFunc(t.saidBad(text), func(c change) bool { return !strings.HasSuffix(c.path, ".alive") })
	if len(worse) > 0 {
		// What is not sound is out of the plan; that it is ends no stop by itself.
		t.note(text)
		t.goBy(worse)
		t.act(Act{Do: DoReport, Path: "unsure", Value: wording.Plain(text)})
		t.remark(wording.StopFact, nil)
		return true
	}
	facts := t.factsIn(text)
	says, seen := t.stopSaid(text)
	if says == saysSeen && t.explainsHurt(text) {
		says = saysOver
	} else if says == saysOver && seen.kind == "hurt" && t.anotherHurt(text) {
		says = saysSeen
	}
	if says == saysOver && len(facts) > 0 && len(facts) == len(hazardsOf(facts)) && (!t.s.Stage.Rigged() || seen.kind == "tips") {
		// Where nothing is rigged what was put right ends the stop, and so does that the
		// load has gone over, which it was for. The hazard itself goes on the sheet, which
		// hands the job over until it is told as it is now.
		t.factsNow(facts)
		return false
	}
	switch {
	case says == saysOver && len(facts) == 0 && (seen.kind == "" || saysStill(text)) && t.saysButton(text): // it crossed the stop
	case says == saysOver && (len(facts) == 0 || seen.kind == "hurt"):
		return false
	case says == saysSeen:
		t.act(Act{Do: DoReport, Path: seen.kind, Value: wording.Plain(text)})
		t.haltFor(seen.kind, wording.Key("look."+seen.kind))
		t.factsNow(facts)
		return true
	case len(facts) > 0:
		t.note(text)
		t.factsNow(facts)
		t.remark(wording.StopFact, nil)
		return true
	}
	low := strings.ToLower(text)
	if moved, tookIn := travelled(low); moved != "" || tookIn != "" {
		t.act(Act{Do: DoReport, Path: "moves", Value: wording.Plain(text), Second: moved, Was: tookIn})
	}
	t.note(text)
	t.endsHow()
	return true
}

// written are the facts that are told by their name and not in passing.
var written = hear.Expression(`(?i)^\W*(?:the )?(?:load |truck |trailer |vehicle |it )?(?:weight|weighs|mass|slope|grade|gradient|side slope)\b`)

// factsIn are the facts of a message that count while nobody is asked for any.
func (t *turn) factsIn(text string) []hear.Fact {
	if isQuestion(strings.ToLower(text)) {
		return nil
	}
	facts := inPulls(text, t.whoIsWho().Listen(text, hear.TopicNone).Facts)
	if t.s.Stage.GearOff() { // nothing else is reckoned any more
		return hazardsOf(facts)
	}
	return facts
}

// inPulls are those of some facts that are taken from words in a pull: hazards,
// whoever names them and however, how many are there, how far it is, and a
// weight or a slope that is told by its name. All else said in passing is a
// remark: the rope that touches a post makes no anchor of it. It is changed by
// the word for that.
func inPulls(text string, facts []hear.Fact) []hear.Fact {
	var out []hear.Fact
	for _, f := range facts {
		switch {
		case strings.Contains(f.Field, "[+"): // no piece of the list is damaged by it
			continue
		case strings.HasSuffix(f.Field, ".condition") && f.Value != "good" && f.Value != "unknown", strings.HasSuffix(f.Field, ".alive") && f.Value == "false":
		case f.Field == "hazards" && f.Value != "none", f.Field == "crew", f.Field == "reach", f.Field == "holding_reach", f.Field == "distance", f.Field == "load.wheel_radius", strings.HasSuffix(f.Field, ".run"):
		case written.MatchString(text) && (f.Field == "load.mass" || f.Field == "load.slope" || f.Field == "load.side_slope"):
		default:
			continue
		}
		out = append(out, f)
	}
	return out
}

// hazardsOf are the hazards among some facts.
func hazardsOf(facts []hear.Fact) []hear.Fact {
	return slices.DeleteFunc(slices.Clone(facts), func(f hear.Fact) bool { return f.Field != "hazards" })
}

// factsNow puts facts on the sheet where the job stands still, and tells
// everybody what to do about a hazard.
func (t *turn) factsNow(facts []hear.Fact) {
	if len(facts) == 0 {
		return
	}
	t.hearFacts(hear.Heard{Facts: facts}, false)
	for _, f := range facts {
		if f.Field != "hazards" {
			continue
		}
		for _, h := range strings.Split(f.Value, ",") {
			say := func() { t.say(wording.Key("hazard."+word(strings.TrimSpace(h))), nil) }
			t.tellAllAndHere(true, say)
		}
	}
}
