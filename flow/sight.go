package flow

import (
	"strings"

	"linetender/calc"
	"linetender/flow/wording"
)

// What people see, hear or feel during a pull, and what it asks for: one table
// for what they report and for what a stop was for, so that the same thing is
// looked at whichever way it was told. It errs towards a report: one too many
// costs a minute.

// A sight is one kind of thing that can be seen. Its label is saw. and its
// kind, as the reason of a stop cause. and its kind; look. says what to look
// at, and from where.
type sight struct {
	kind   string
	stops  bool // it is a stop by itself; else everybody holds
	learns string
	causes []calc.Cause // what it makes doubtful, beside the stop
	jerks  bool         // the rig may be another than the one that was walked
	reads  *pattern
}

// anchorWords are what people call what the tackle is made fast to.
const anchorWords = `anchors?|stakes?|pickets?|deadman|trees?|stump|roots?|holdfast|mark|log|post|bollard|boulder|rock|ring|oak|ash|beech|birch|pine|spruce|fir|larch|maple|elm|willow|poplar|alder|sycamore|chestnut|lime|hawthorn`

// sights are read in this order: the first that fits is meant.
//
// Source: common practice.
var sights = []sight{
	{kind: "hurt", stops: true, reads: expression(`\b(hurts?|injur\w*|bleed\w*|unconscious|passed out|collapsed|crushed|trapped)\b` +
		`|\b(need|call|get|send|fetch)\b.*\b(ambulance|paramedics?|medics?|doctor)\b|^(an )?ambulance\b` +
		`|\b(hands?|fingers?|foot|feet|legs?|arms?|hair|sleeve|glove|he|she|him|her|me|i|somebody|someone|man|woman|boy|girl|kid)('s|'m)?( is| are| was| got| gets| has| been)* (caught|pinned|hit|struck|down|stuck|run over)\b`)},
	{kind: "inside", stops: true, causes: []calc.Cause{calc.Inside},
		reads: expression(`\b(hands?|fingers?|foot|feet|legs?|arms?|hair|sleeves?|gloves?)\b.{0,12}\b(in|under|between|inside|near)\b|\b(somebody|someone|people|persons?|child|children|kids?|boys?|girls?|man|woman|walkers?|hikers?|bystanders?|spectators?|dogs?|cows?|sheep|horses?|cattle|animals?|cyclists?)\b.*\b(in|inside|under|underneath|near|close|came|comes|coming|ran|runs|running|walk\w*|cross\w*|approach\w*|behind|between|on the road)\b` +
			`|\b(stood|stands|standing|sat|sits|sitting|crouch\w*|kneel\w*|knelt|lying|lay|lies|working|leaning|reaching)\b.{0,15}\b(in front|under\w*|below|downhill|between|in the (bight|bend|way)|in line|over the (line|rope))\b` +
			`|\b(a|another) (car|van|truck|lorry|tractor|bike|vehicle|bus)\b.*\b(coming|comes|came|approach\w*|passing|on the road)\b` +
			`|\b(traffic|cars|vans|trucks|lorries|tractors|bikes|vehicles|buses)\b.*\b(coming|comes?|came|approach\w*|pass\w*|through|on the road)\b|^(car|van|lorry|bike|bus)( is|s)? (coming|comes|approaching|passing)\b|\b(coming through|oncoming)\b`)},
	{kind: "lifts", stops: true, causes: []calc.Cause{calc.Lifted},
		reads: expression(`\bfront\b.*\b(lift|lifts|lifted|lifting|rises?|rising|comes? up|came up|light)\b|\b(wheels?|axle)\b.*\b(lift|lifts|lifted|lifting|off the ground|in the air)\b|\b(rears?|rearing|wheelies?)\b`)},
	{kind: "anchor", stops: true, causes: []calc.Cause{calc.AnchorOut}, jerks: true,
		reads: expression(`\b(` + anchorWords + `)\b.*\b(moves?|moved|moving|gives?|gave|giving|leans?|leaning|tilt\w*|lifts?|lifted|lifting|pulls? out|com(?:es?|ing) (?:out|up|loose)|came (?:out|up|loose)|` +
			`shifts?|shifted|shifting|loose|loosen\w*|uproot\w*|settl\w*|bends?|bending|going|gone|creep\w*)\b`)},
	{kind: "sound", stops: true, causes: []calc.Cause{calc.Sound}, jerks: true,
		reads: expression(`\b(crack\w*|pops?|popped|popping|ping\w*|creak\w*|groan\w*|squeal\w*|screech\w*|grind\w*|twang\w*|sings?|singing|sang|hums?|humming|hiss\w*|snap\w*|bangs?|banged|thuds?|clunk\w*|smok\w*|smell\w*|strands?|fray\w*|part(ed|ing)|tears|tearing|tore|torn|rips|ripped|ripping|breaks|breaking|broke|broken|bent|bends|bending|nick(s|ed)?|kink(s|ed)?|chaf\w*|bird ?cag\w*|deform\w*|dented|frayed|damage[ds]?|(cuts?|flat|worn|gash\w*) (in|on|through|into) (the|a|this|that|our|its) (rope|line|sling|strop|strap|wire|cable|web\w*)|(rope|line|sling|strop|strap|wire|cable|shackle|block|pin|hook|eye) (is|looks|has|was|seems) (cut|nicked|worn|a cut|flattened|crushed|stretched)|glaz\w*|melt\w*|burn\w*|sounds?|nois\w*)\b`)},
	{kind: "jerked", stops: true, causes: []calc.Cause{calc.Jerked}, jerks: true,
		reads: expression(`\b(jerk(s|ed|ing|y)?|snatch(es|ed|ing)?|shock[- ]?load\w*|shock(ed|s)?|jolt\w*|lurch\w*|whipp?(s|ed|ing)?|slamm\w*)\b`)},
	{kind: "tips", stops: true, causes: []calc.Cause{calc.Tipped}, jerks: true,
		reads: expression(`\b(tips?|tipping|tipped|toppl\w*|overturn\w*|roll(s|ing|ed)? over|going over|(falls?|falling|fell) over|on (its|her) side)\b` +
			`|\b(it|its|she|load|truck|van|car|vehicle|trailer|wagon)\b.*\b(tilt\w*|leans?|leaning|swings?|swinging|slew\w*|turns? (sideways|round|around)|twist\w*)\b|\b(load|truck|van|car|vehicle|trailer)\b.*\bdig(s|ging)? in\b`)},
	{kind: "creeps", causes: []calc.Cause{calc.Creep}, jerks: true,
		reads: expression(`\b(creeps?|crept|creeping)\b|\b(strop|strap|sling|line|rope)\b.*\b(slides?|slid|sliding|slips?|slipped|slipping|climbs?|rides? up)\b`)},
	{kind: "wheel", causes: []calc.Cause{calc.Rerig}, jerks: true,
		reads: expression(`\b(rope|line|cable)\b.*\b(over|under|round|around|on|in)\b.*\b(wheels?|tyres?|tires?|tracks?)\b|\bout of (its|the) plane\b`)},
	{kind: "stuck", learns: "stuck", causes: []calc.Cause{calc.PullSlip}, jerks: true,
		reads: expression(`\bstuck\b|\bstall\w*\b|\bnothing (moves|moved|is moving|happens|happening)\b|\b(does not|doesn'?t|won'?t|will not|not|no|didn'?t|did not)\s+(move|moving|moved|budge|movement)\b`)},
	{kind: "slips", learns: "slip", causes: []calc.Cause{calc.PullSlip}, jerks: true,
		reads: expression(`\b(slip|slips|slipped|slipping|spin|spins|spun|spinning|wheelspin|digs? in)\b`)},
	{kind: "runs", stops: true, causes: []calc.Cause{calc.PullSlip, calc.Ran, calc.Jerked}, jerks: true,
		reads: expression(`\b(runs?|ran|running|rolls?|rolled|rolling|runaway|slides?|slid|sliding|(gets|got|getting) away)\b|\bmoves? by itself\b`)},
	{kind: "signal", stops: true, causes: []calc.Cause{calc.SignalLost},
		reads: expression(`\b(lost|lose|losing|no|bad|dead|without)\b.{0,20}\b(signals?|sight|radios?|contact|touch|reception|walkie\w*|comms)\b` +
			`|\b(radios?|walkie\w*|phone|comms|signals?)\b.{0,20}\b(dead|died|dies|dying|gone|lost|out|off|fail\w*|cut|flat)\b` +
			`|\b(can'?t|cannot|can not|couldn'?t|could not|don'?t|do not|didn'?t)\b.{0,12}\b(see|hear)\b|\bout of sight\b|\blost (him|her|them|you)\b`)},
	{kind: "unsure", stops: true, causes: []calc.Cause{calc.Unsure},
		reads: expression(`\b(not|isn'?t|ain'?t|never|less)( \w+)? (sure|happy|comfortable|right|safe|convinced)\b|\b(unsure|uneasy|worried|worrying|worries|scared|afraid|nervous|unsafe|dangerous|dodgy|sketchy|risky)\b` +
			`|\b(don'?t|didn'?t|do not|did not|doesn'?t|not)( \w+)? like\b|\b(pins?|shackles?|hooks?)\b.*\b(turn(s|ed|ing)?|unscrew\w*|open(s|ed|ing)?|work(s|ed|ing)? (out|loose)|back(s|ed|ing) out|loose|twist\w*)\b|\b(feels?|felt|looks?|looked|seems?|seemed|goes|went|going|something'?s?|something is)\b( \w+)? (wrong|odd|bad|off|funny|weird|strange)\b|\bbad (feeling|idea)\b`)},
	{kind: "weather", stops: true, causes: []calc.Cause{calc.Rain},
		reads: expression(`\b(weather|lightning|thunder\w*|storm\w*|fog\w*|dark|hail\w*|gale|gust\w*|windy)\b`)},
	{kind: "moves", learns: "move", reads: expression(`^(?:(?:ok|okay|yes|yep|and|now|there)[ ,]+)*` +
		`(?:(?:it|its|she|(?:the )?(?:load|truck|trailer|car|van|vehicle|wagon))(?:'s| is| has)? )?(?:just |now |slowly )*(?:moves?|moved|moving)` +
		`(?:[ ,]+(?:a bit|a little|slowly|steadily|well|nicely|fine|now|again|up|on|along|forward|forwards|ok|good|as planned|about|abt|a (?:hand|foot|metre|meter)(?:'?s breadth)?|` +
		`and|held|holds?|stands?|standing|stopped|some|just|\d\S*|mm|cm|m|ft|feet|in|inch(?:es)?))*$`)},
}

// calm are words that would be read as a sight and say that nothing is wrong.
var calm = expression(`\b(in (place|position)|(sounds?|looks?|seems?|feels?) (good|fine|ok|okay|right|great|well)|(can'?t|cannot|don'?t|do not|didn'?t) (see|hear) (any\w*|movement|it mov\w*|a problem)\b.*|` +
	`(nobody|noone|no one|none|not|no|isn'?t|wasn'?t|aren'?t)( \w+){0,2} (hurt|injured|trapped|inside)|(nobody|noone|no one|no ?body|none of us|no (person|people|man))\b.{0,20}\b(stood|stands|standing|sat|sits|sitting|lies|lying|working)|no (sounds?|noises?|cracks?|creaks?|smoke|smell|jerks?|shocks?|snatch\w*|nicks?|cuts?|damage)|(?:don'?t|do not|never|without( a| any)?|not) (jerk|snatch|shock)\w*|whip (line|plate))\b`)

// unheld are words that what holds the load does not: that is told before it
// runs, and is no slip of the puller.
var unheld = expression(`\b(brakes?|handbrake|chocks?|wedges?|clutch|holding[ -]line|holding rope)\b.*\b(fail\w*|gone|went|slip\w*|slid\w*|jump\w*|roll\w*|crush\w*|pop\w*|los\w*|giv\w*|gave|mov(es|ed|ing)|(not|n't|won't) hold\w*)\b` +
	`|\b(can'?t|cannot|can not|couldn'?t|could not) (hold|keep)\b|\b(losing|lost) (it|the load|hold|grip on)\b`)

// loadCreeps are words that the load moves however little where it should stand;
// it is the line that creeps on an anchor.
var loadCreeps = expression(`\b(it|its|it's|she|load|truck|van|car|lorry|vehicle|trailer|wagon)\b.{0,15}\b(creep\w*|crept)\b`)

// rainy are words that it rains, or that the ground gets wet; dry that it does
// not, or did and is over, or may.
var (
	rainy = expression(`\b(rain|rains|rainin|raining|rained|drizzl\w*|pouring|sleet\w*|snows|snowing|(chuck|bucket|tipp|piss|lash|pelt|teem|hammer)(s|in|ing)( it)? (it )?down|(is|its|it's|was|started|begun|began) (pissing|lashing|tipping|bucketing|spitting|pelting)|heavens (have )?opened|(getting|gets|got|gone|going) (all |very |really |so )?(wet|soaked|soggy))\b`)
	dry   = expression(`\b(no|not|isn'?t|ain'?t|never|without|hardly)( any)?( more)? (rain\w*|drizzl\w*|pouring|sleet\w*|snow\w*)\b|\b(over|gone off|last night|last week|yesterday|earlier|if|might|may|could|forecast|supposed|before it|in case|no more|not any more)\b`)
)

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
	low = lowered(low)
	if strings.HasSuffix(strings.TrimSpace(low), "?") {
		return sight{}, false
	}
	low = calm.ReplaceAllString(low, " ")
	if unheld.MatchString(low) || loadCreeps.MatchString(low) && !strings.Contains(low, "anchor") {
		return sightOf("runs")
	}
	for _, s := range sights {
		if s.reads.MatchString(low) || s.kind == "inside" && strangerTold(low) {
			return s, true
		}
	}
	return sight{}, false
}

// alarmWords takes what was seen where the pull does not stand at a question
// of its own: in a stop, while something is asked again, and, where somebody is
// hurt, at any time. The lead's words are answers there, and a stop if they
// say so.
func (t *turn) alarmWords(text, low string) bool {
	m := t.me()
	if m == nil || t.main() && t.isLead() || t.s.State == Pulling || t.s.State == Debrief || t.s.State == Closed {
		return false
	}
	if strings.HasPrefix(low, "note ") || strings.HasPrefix(low, "change ") {
		return false
	}
	s, ok := sightIn(low)
	if !ok || s.kind != "hurt" && !t.s.Stage.Lies() {
		return false
	}
	if s.kind == "moves" { // everything stands
		s, _ = sightOf("runs")
	}
	if !s.stops && t.s.State != Halted {
		return false
	}
	t.act(Act{Do: DoReport, Path: s.kind, Value: wording.Plain(text)})
	t.haltFor(s.kind, wording.Key("look."+s.kind))
	return true
}

// holdWords are what people say who want it to hold and don't find the word
// for it.
var (
	holdWords = expression(`^(hold|holdd|stay|no+|(no[ ,]*)+|not so|not yet|slow|slow down|too fast|easy|easy now|help|careful|enough|that'?s enough|pause|freeze|foot off|brake|brakes)$`)
	holdAlso  = expression(`\b(wa+it|hold on|hold it|hold up|hang on|hang about|w+h?oa+h*|woah|watch (it|out)|look out|careful|one (sec|second|moment|minute)|time ?out)\b`)
)

// holds takes such words: while something may move everybody holds, and where
// it stands it stays so, under a number that nobody has released.
func (t *turn) holds(text, low string) bool {
	if !holdWords.MatchString(low) && !(holdAlso.MatchString(low) && len(strings.Fields(low)) <= 8) {
		return false
	}
	m := t.me()
	if m == nil || m.As != AsLead && m.As != AsCrew || t.s.hold() == nil && !t.s.Stage.Moves() && !t.s.Stage.Hands() {
		return false
	}
	if s, ok := sightIn(low); ok && s.stops && !holdWords.MatchString(low) {
		return false // it is more than a hold
	}
	if low == "hold" && t.s.hold() != nil {
		return false // it holds
	}
	t.holdFor(text)
	t.ask()
	return true
}

// leaving are words of somebody who is about to go and has not gone.
var leaving = expression(`^(sorry )?(i|we)\b.{0,25}\b(have to|must|need to|got to|gotta|should|will|am|'m|'ll)\b.{0,6}\b(go|leave|leaving|going|off)\b( now| soon| home| away| early| in \w+ min\w*)*(?:\s*[,.;:-]+\s*.*|,? bye\b.*| (?:my |the )?(?:wife|husband|mum|boss|kids?|son|daughter|doctor)\b.*)?$` +
	`|^(sorry )?(im|i'm|i am|we're|we are) (just )?(off|nipping|popping|heading|going) (to (get|fetch)|home|away|back to|for a)\b`)

// goes holds everything when somebody with a part says that they must go: a
// post that is about to be empty is one that nobody can rely on.
func (t *turn) goes(text, low string) bool {
	m := t.me()
	if m == nil || m.As != AsCrew && m.As != AsLead || !leaving.MatchString(strings.ReplaceAll(low, "’", "'")) && !stepOff.MatchString(strings.ReplaceAll(low, "’", "'")) {
		return false
	}
	t.act(Act{Do: DoReport, Path: "leaving", Value: wording.Plain(text)})
	t.holdsOn()
	say := func() { t.say(wording.PullLeaving, wording.Args{"Name": t.whoName()}) }
	t.tellAll(false, say)
	say()
	t.ask()
	return true
}

// rainsNow reports whether words say that it rains, where that could make another
// thing of what was answered: once the ground was told, and not as the answer to
// what the ground is.
func (t *turn) rainsNow(text string) bool {
	low := lowered(text)
	if !rainy.MatchString(low) || dry.MatchString(low) || isQuestion(low) || strings.HasPrefix(low, "note ") || strings.HasPrefix(low, "change ") {
		return false
	}
	if m := t.me(); m == nil || m.As == AsCoordinator || t.s.Settled["ground"] == "" {
		return false
	}
	return !strings.HasSuffix(t.s.Topic, "ground") || !t.main() || !t.tells(text)
}
