package flow

import (
	"math"
	"regexp"
	"strconv"
	"strings"

	"linetender/calc/bound"
	"linetender/flow/wording"
)

// Who releases or watches has three numbers read back: the force, the weakest
// piece, the next bite. They come in one go, and are held against the plan. A
// figure without its unit is none.

var (
	readsBack = regexp.MustCompile(`^(?:i )?(?:read(?:ing)?(?: it)?[ -]?back|readback|numbers)\b`)
	backForce = regexp.MustCompile(`(\d[\d.,]*) ?(kn|dan|kgf|tonnes?|kg|t|lbf|lbs?|pounds?)\b`)
	backShare = regexp.MustCompile(`(\d[\d.,]*) ?(?:%|per ?cent\b)`)
	backWay   = regexp.MustCompile(`(\d[\d.,]*) ?(?:millimet\w+|centimet\w+|met\w+|mm|cm|m|feet|foot|ft|inches|inch|in)\b`)
	backNames = regexp.MustCompile(`(?:\d[\d.,]* ?(?:[a-z]+\b|%)|\b(?:i|read|reading|back|it|numbers|force|haul|pull|line|weakest|piece|bite|next|at|most|max|and|is|the|of|in|rope|\d)\b|[^a-z])+`)
)

// readBack takes numbers that somebody reads back at a hold point, and says of
// each whether the plan has it so.
func (t *turn) readBack(low string) bool {
	h := t.s.hold()
	said := readsBack.MatchString(low)
	force, share, way := backForce.FindString(low), backShare.FindStringSubmatch(low), backWay.FindString(low)
	given := 0
	for _, is := range []bool{force != "", share != nil, way != ""} {
		if is {
			given++
		}
	}
	if h == nil || !said && (given < 2 || share == nil || strings.TrimSpace(backNames.ReplaceAllString(low, "")) != "") {
		return false
	}
	p := t.plan()
	if p == nil || p.Tackle == nil {
		return false
	}
	what, ratio := t.nearest(p)
	args := wording.Args{"Force": wording.Load{Force: max(0, p.Tackle.Haul.High)}, "What": what, "Percent": percent(ratio)}
	k := wording.PullBackPlan
	bite, ok := t.bite(p)
	if ok && bite.Load != nil && *bite.Load > 0 {
		k, args["Length"] = wording.PullBackPlanBite, atMost(*bite.Load)
	}
	if given < 3 {
		t.say(wording.PullBackUnits, nil)
	}
	var other wording.Names
	if r, err := bound.ReadForce(force); force != "" && (err != nil || !near(r.Value.Best.Newtons(), p.Tackle.Haul.High.Newtons(), 0.05)) {
		other = append(other, force)
	}
	if share != nil {
		if n, err := strconv.ParseFloat(strings.ReplaceAll(share[1], ",", "."), 64); err != nil || math.Abs(n-float64(percent(ratio))) > 1 {
			other = append(other, share[0])
		}
	}
	if l, ok := readLength(way); way != "" && k == wording.PullBackPlanBite && (!ok || !near(l.Best.Metres(), bite.Load.Metres(), 0.05)) {
		other = append(other, way)
	}
	switch {
	case len(other) > 0:
		tell := func() { t.say(wording.PullBackOther, wording.Args{"Name": t.whoName(), "Names": other}) }
		tell()
		t.toLead(tell)
	case given == 3:
		t.say(wording.PullBackSame, nil)
	}
	t.note(t.in.Text)
	t.remark(k, args)
	return true
}

func near(a, b, share float64) bool { return math.Abs(a-b) <= share*math.Max(math.Abs(b), 1e-9) }

// unitless are lengths of a count that came without their unit.
var unitless = regexp.MustCompile(`\b(?:took(?: in)?|taken in|moved|came in|came up|came|advanced|slack)\s+(?:about |ca |~)?\d+(?:[.,]\d+)?(?:\s*(?:[,;](?:\D|$)|and\b|$))`)

// countsIn takes several counts at once: rope in, load on, slack. Of one without
// its unit nothing is taken, of the others neither: which is which must be plain. While
// it moves all hold where one of them can't be read, or more is told with them.
func (t *turn) countsIn(text, low string) bool {
	moving := t.s.Stage.Moves()
	if t.s.hold() == nil && !moving {
		return false
	}
	if !moving && unitless.MatchString(low) {
		t.remark(wording.PullUnits, nil)
		return true
	}
	said, slack := slackIn(low)
	if said == "" {
		return false
	}
	rest := strings.Replace(low, said, " ", 1)
	moved, tookIn := travelled(rest)
	switch {
	case moved == "" && tookIn == "":
		return false
	case moving && (!counted(rest) || slack == "" || unitless.MatchString(low)):
		t.holdFor(text)
		t.ask()
		return true
	case !counted(rest):
		return false
	case slack == "":
		t.remark(wording.PullSlackUnread, nil)
	case moving:
		t.slackKept(text, slack)
	default:
		t.slackTold(text, slack)
	}
	t.moved(text, rest, moved, tookIn)
	return true
}

// countUntaken names the counts that stand beside a danger, of which none is taken, behind
// the danger and ahead of what is asked.
func (t *turn) countUntaken(low string) {
	said, slack := slackIn(low)
	moved, tookIn := travelled(strings.Replace(low, said, " ", 1))
	var names wording.Names
	for _, n := range []string{tookIn, moved, slack} {
		if n != "" {
			names = append(names, n)
		}
	}
	if len(names) > 0 {
		t.mail.beforeAsking(reply{key: wording.PullCountUntaken, args: wording.Args{"Names": names}})
	}
}
