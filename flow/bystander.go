package flow

import (
	"regexp"
	"slices"
	"strings"

	"linetender/calc"
	"linetender/flow/hear"
	"linetender/flow/wording"
)

// Somebody at the rope is what the whole list is there to prevent, and it is told
// at any moment, whatever is asked then: in a hold, in a question that is asked
// again, in the middle of a yes. So these words are read before any question is
// answered. Once something is rigged they are a stop. Before that they are a no to
// the item of the list that they are about, and so is that somebody is not fit to
// take part; that it rains opens what rain could have changed. A stop too many
// costs a minute.

// strangers are people and animals, as they are called who are none of the crew.
const strangers = `somebody|someone|some ?body|people|persons?|folk|child|children|kids?|kiddies?|boys?|girls?|lads?|lass(?:es)?|toddlers?|baby|babies|teenagers?|youths?|` +
	`man|men|woman|women|lady|ladies|blokes?|guys?|dudes?|chaps?|fellas?|fellows?|neighbou?rs?|farmers?|owners?|strangers?|passers?-?by|onlookers?|gawpers?|walkers?|hikers?|joggers?|bystanders?|spectators?|cyclists?|bikers?|riders?|` +
	`dogs?|cats?|cows?|calf|calves|bulls?|sheep|lambs?|horses?|pony|ponies|goats?|pigs?|cattle|animals?`

const (
	// rigged are what nobody stands at: what is on the line, and both ends of it.
	rigged = `(?:haul(?:ing)?|pull(?:ing)?|tow(?:ing)?|steel|winch|wire|tight|taut)?[ -]?(?:ropes?|lines?|cables?|wires?|winch|load|blocks?|pulleys?|tackle|shackles?|chains?|straps?|slings?|hooks?|rig|(?:lorry|lorrie|truck|wagon|tractor|trailer|digger|van|vehicle|machine|wheel)s?)`

	// comesIn are the ways in which somebody gets there.
	comesIn = `(?:walk|wander|stroll|step|climb|crawl|jump|duck|cross|rac|com|runn|sneak|cycl|rid)(?:e|s|es|ed|ped|ing|ning|ping)?|ran|run|runs|came|went|goes|got|gets|crept|rode|snuck`

	// whither are where they get to, and near where they are.
	whither = `in|into|up|over|past|through|across|under|between|towards?|onto|inside|closer|near`
	nearTo  = `by|near|next to|nxt to|beside|close to|alongside|at|on|over|under|underneath|across|along|between|behind|in front of|front of|touching|around|round|in line with|up to|towards?|from|in|inside`

	// nearer are those of them that none of the crew is at for their work.
	nearer = `by|near|next to|nxt to|beside|close to|alongside|over|under|underneath|across|between|behind|in front of|touching|in line with|standing on|stood on|sat on|sitting on|leaning on`
)

var (
	strangerNear = expression(`\b(?:` + strangers + `)\b[^.,;!?]{0,40}?\b(?:` + nearTo + `) (?:the |this |that |our |your |my |a |its |both )?` + rigged + `\b`)
	oneOfThem    = expression(`\b(?:he|she|they|he'?s|she'?s|they'?re)\b[^.,;!?]{0,20}?\b(?:` + nearer + `) (?:the |this |that |our |my |a |its )?` + rigged + `\b`)
	strangerIn   = expression(`\b(?:` + strangers + `)\b[^.,;!?]{0,25}?\b(?:` + comesIn + `) (?:right |straight |just |back |up )?(?:` + whither + `)\b`)
	crewNear     = `\b(?:%s)\b[^.,;!?]{0,30}?\b(?:` + nearer + `) (?:the |this |that |our |my |a |its )?` + rigged + `\b`
	holdingLine  = expression(`\b(?:holding|safety|back|tag) ?-?(?:line|rope)s?\b`)

	// standsBy are those who are certainly none of the crew and stand about.
	standsBy = expression(`\b(?:child|children|kids?|kiddies?|boys?|girls?|toddlers?|teenagers?|dudes?|neighbou?rs?|passers?-?by|onlookers?|gawpers?|walkers?|hikers?|joggers?|bystanders?|spectators?|cyclists?)\b[^.,;!?]{0,25}?\b(?:standing|stands?|stood|watching|sitting|playing|filming|gathering|hanging (?:about|around|round))\b`)

	// strangerOnly is somebody named and no more, by who has no time for more.
	strangerOnly = expression(`^(?:there'?s |there is |careful |look |oi |hey )*(?:an? |the |some |that )?(?:kids?|child|children|toddlers?|someone|somebody|dogs?|cows?|sheep|horses?|animals?|walkers?|hikers?|cyclists?|people)(?: there| here| now| again)*$`)

	// nobodyNear are words that nobody is there, and gone that they are no more.
	nobodyNear = expression(`\b(?:nobody|no ?body|no ?one|none|no (?:` + strangers + `))\b`)
	goneAgain  = expression(`\b(?:gone|left|away|sent (?:off|home)|(?:moved|ran|run|went|walked|stepped) (?:off|back|on|out)|out of the way|well (?:clear|back|off)|clear of|far (?:off|from))\b`)
	notGone    = expression(`\b(?:not|never|refuses?|isn'?t|wont|won'?t|wouldn'?t|hasn'?t|hasnt|didn'?t)\b`)

	// supposed are words for what is not so, or is only asked.
	supposed = expression(`^(?:(?:so|and|but|ok|okay|hey|well|please|er|um)[ ,]+)*(?:is|are|am|do|does|did|can|could|shall|should|may|would|what|whats|who|where|when|why|how|which|if|note|change)\b|\b(?:if|in case|make sure|keep|should|must|whenever|as soon as|before)\b`)

	// aSide and below tell which item of the list it is about.
	aSide = expression(`\bbetween\b`)
	below = expression(`\b(?:under|underneath|behind|in front of|front of|downhill|below)\b`)
)

// someoneNear returns which item of the list somebody who is told to be near
// the rig is a no to; empty for nobody.
func (t *turn) someoneNear(text string) string {
	low := lowered(text)
	low = strings.Trim(low, " .!")
	if notThere(low) {
		return ""
	}
	low = calm.ReplaceAllString(low, " ")
	switch apart := holdingLine.ReplaceAllString(low, " "); {
	case strangerTold(low), standsBy.MatchString(low), oneOfThem.MatchString(low), t.s.Stage.Rigged() && strangerOnly.MatchString(low):
	case t.crewNear(apart):
	default:
		return ""
	}
	switch {
	case aSide.MatchString(low):
		return "between"
	case below.MatchString(low):
		return "under"
	}
	return "clear"
}

// strangerTold reports whether somebody is told to be near the rig who is none of
// the crew.
func strangerTold(low string) bool {
	return !notThere(low) && (strangerNear.MatchString(low) || strangerIn.MatchString(low))
}

// notThere reports whether words say that nobody is there, or is there no more, or
// only suppose it.
func notThere(low string) bool {
	return supposed.MatchString(low) || nobodyNear.MatchString(low) || goneAgain.MatchString(low) && !notGone.MatchString(low)
}

// crewNear reports whether one of the crew is told to be by the line, who has no
// hands on the gear now.
func (t *turn) crewNear(low string) bool {
	if t.s.Stage.Hands() || t.s.Stage == GearCheck {
		return false
	}
	var names []string
	for _, n := range t.crewNames() {
		if first, _, _ := strings.Cut(strings.ToLower(n), " "); len(first) > 1 && strings.Contains(low, first) {
			names = append(names, regexp.QuoteMeta(first)+`(?:'?s)?`)
		}
	}
	if len(names) == 0 {
		return false
	}
	return regexp.MustCompile(strings.Replace(crewNear, "%s", strings.Join(names, "|"), 1)).MatchString(low)
}

// crewNames are all names by which people of the crew go.
func (t *turn) crewNames() []string {
	out := slices.Clone(t.s.Crew)
	for _, s := range t.s.Seats {
		out = append(out, s.Name)
	}
	for _, m := range t.s.present(AsLead, AsCrew) {
		out = append(out, m.Name)
	}
	return slices.DeleteFunc(out, func(n string) bool { return n == "" })
}

// dangers takes what must be heard whatever is asked, from anybody of the job
// who sees it, and reports whether there was any of it.
func (t *turn) dangers(text string) bool {
	m := t.me()
	switch t.s.State {
	case Halted, Away, Closed, Debrief, Referred, People:
		return false
	}
	if m == nil {
		return false
	}
	near, rain := t.someoneNear(text), t.rainsNow(text)
	if near == "" && t.unfitTold(text) {
		return true
	}
	lies := t.s.Stage.Rigged()
	switch {
	case near != "" && lies:
		if rain {
			t.reopenFor(calc.Rain)
		}
		t.act(Act{Do: DoReport, Path: "inside", Value: wording.Plain(text)})
		t.haltFor("inside", wording.LookInside)
	case near != "" && t.listBegun():
		if rain {
			t.reopenFor(calc.Rain)
		}
		t.failsNow(near, text)
	case rain:
		if t.main() && !lies && t.tells(text) { // what is told with it counts, and is asked again as well
			t.hearFacts(t.whoIsWho().Listen(text, hear.TopicNone), false)
		}
		t.rains()
	case near != "" && !t.tells(text):
		t.note(text)
		t.remark(wording.StopNear, nil)
	case t.smoker(text):
		t.note(text)
		t.remark(wording.StopSmoker, nil)
	case strangerOnly.MatchString(strings.ToLower(strings.Trim(text, " .!?"))) && !t.tells(text):
		t.note(text)
		t.remark(wording.StopHint, nil)
	default:
		return false
	}
	return true
}

// smokes are words that somebody does, and machine what does it and is nobody.
var (
	smokes   = expression(`^(?:the |a |an |some )?(\pL+)\b.*\b(?:smoking|smokes|vaping|vapes|cigarettes?|ciggies|ciggy|fags?|roll-?up)\b`)
	machine1 = expression(`^(?:it|its|engine|engines|battery|batteries|tractor|truck|lorry|van|car|digger|winch|motor|machine|brakes?|clutch|exhaust|wheels?|tyres?|tires?|rope|line|block|bonnet|hood|wiring|wires?|load|something|theres|there|no|nobody|not|puller|bearing|hub|axle|belt|is|are)$`)
)

// smoker reports whether words tell of somebody who smokes, and of no machine that does.
func (t *turn) smoker(text string) bool {
	low := lowered(text)
	m := smokes.FindStringSubmatch(low)
	return m != nil && !machine1.MatchString(m[1]) && !isQuestion(low)
}

// tells reports whether words answer what is asked, or tell something else of
// the job.
func (t *turn) tells(text string) bool {
	topic := hear.TopicNone
	if tp, ok := topicByName(t.s.Topic); ok && t.main() {
		topic = tp.heard()
	}
	return len(t.whoIsWho().Listen(text, topic).Facts) > 0
}

// listBegun reports whether anything of the list on the spot has been answered,
// or is asked now.
func (t *turn) listBegun() bool {
	if t.checking() && t.s.State == Checks {
		return true
	}
	return slices.ContainsFunc(siteChecks, func(c siteCheck) bool {
		return t.s.Settled[c.path()] != "" || t.s.Marks[c.path()].Value != ""
	})
}
