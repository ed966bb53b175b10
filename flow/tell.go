package flow

import (
	"errors"
	"maps"
	"math"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"unicode/utf8"

	"linetender/calc"
	"linetender/calc/bound"
	"linetender/calc/unit"
	"linetender/flow/wording"
)

// errNoPlan says that all was answered and still no case could be read: our bug.
var errNoPlan = errors.New("the answers make no case that can be reckoned")

// figure says the first figure: a block that is known by now first, then the
// force and the parts, headed as no go yet, then what was taken for granted.
func (t *turn) figure(p *calc.Plan) {
	turns := p.Decision == calc.NoGo && len(t.spans()) > 0
	if p.Decision == calc.NoGo && !turns {
		for _, why := range p.Why {
			t.say(wording.FigureBlock, wording.Args{"Why": why})
		}
	}
	t.sayApart(wording.FigureHead, nil)
	if turns {
		t.say(wording.FigureShort, nil)
	}
	t.force(p, wording.FigureForce, wording.FigureAlone)
	if _, told := t.s.Sheet.Get(sunk); p.Force != nil && !told {
		t.say(wording.FigureNoDepth, nil)
	}
	t.parts(p)
	t.given(p, wording.FigurePuller, wording.FigurePullerUnknown)
	t.assumed(p, wording.FigureAssumed)
}

func (t *turn) force(p *calc.Plan, force, alone wording.Key) {
	if p.Force == nil {
		t.say(wording.FigureNoFigure, nil)
		return
	}
	need := *p.Force
	need.Low, need.Best, need.High = max(0, need.Low), max(0, need.Best), max(0, need.High)
	if need.High > 0 {
		t.say(force, wording.Args{"Need": need, "Weighs": weighs(need)})
	}
	if p.RunsAlone {
		t.say(alone, nil)
	}
}

// weighs returns the masses whose weight a force is: what people can picture.
func weighs(f calc.Force) bound.Of[unit.Mass] {
	m := func(n unit.Force) unit.Mass { return unit.Kilograms(n.KilogramsForce()) }
	return bound.Of[unit.Mass]{Low: m(f.Low), Best: m(f.Best), High: m(f.High)}
}

func (t *turn) parts(p *calc.Plan) {
	r := p.Tackle
	if r == nil {
		return
	}
	args := wording.Args{"Parts": r.Parts, "Count": r.Parts, "Haul": r.Haul}
	switch {
	case r.Parts == 1 && r.HaulFrom == "moving":
		t.say(wording.FigurePartsStraight, wording.Args{"Haul": r.Haul})
	case r.HaulFrom == "moving":
		t.say(wording.FigureParts, args)
	default:
		t.say(wording.FigurePartsStanding, args)
	}
}

func (t *turn) given(p *calc.Plan, known, unknown wording.Key) {
	if p.Puller == nil || p.Puller.Available == nil {
		t.say(unknown, nil)
		return
	}
	t.say(known, wording.Args{"Avail": atLeastNothing(*p.Puller.Available)})
}

func atLeastNothing(f calc.Force) calc.Force {
	return calc.Force{Low: max(0, f.Low), Best: max(0, f.Best), High: max(0, f.High)}
}

// mostAssumed is how much of what was not told is said with a plan.
const mostAssumed = 5

// assumed says what the person did not say, what could turn the plan first, and where the
// rest is, if there is more of it.
func (t *turn) assumed(p *calc.Plan, head wording.Key) {
	lines := t.assumedLines(p)
	if len(lines) == 0 {
		return
	}
	t.say(head, nil)
	t.list(lines[:min(len(lines), mostAssumed)])
	if len(lines) > mostAssumed {
		t.say(wording.PlanAssumedMore, wording.Args{"Number": len(lines)})
	}
}

// assumedLines lists it, in the order of what is worth finding out: what could turn the
// decision, what narrows the figures, and then the rest as the plan has it. What the
// trade's tables give is left to the working.
func (t *turn) assumedLines(p *calc.Plan) wording.Lines {
	type taken struct {
		rank int
		line string
	}
	var all []taken
	add := func(field, line string) {
		if !slices.ContainsFunc(all, func(o taken) bool { return o.line == line }) {
			all = append(all, taken{worth(p, field), line})
		}
	}
	for _, a := range p.Assumed {
		if strings.HasPrefix(a.Field, "handbook ") || t.s.How[a.Field] == Skipped {
			continue
		}
		value := t.word(a.Field, a.Value)
		if k := wording.Key("span." + strings.ReplaceAll(a.Field, ".", "_")); t.e.Words.Has(k) {
			value = t.saying(k)
		}
		add(a.Field, t.sayingWith(wording.PlanTaken, wording.Args{"What": t.fieldOf(a.Field), "Text": value, "Why": a.Why}))
	}
	for _, path := range slices.Sorted(maps.Keys(t.s.How)) {
		if t.s.How[path] == Skipped {
			v, _ := t.s.Sheet.Get(path)
			add(path, t.sayingWith(wording.SoFarTaken, wording.Args{"Text": t.plain(path, v)}))
		}
	}
	slices.SortStableFunc(all, func(a, b taken) int { return a.rank - b.rank })
	var out wording.Lines
	for _, a := range all {
		out = append(out, a.line)
	}
	return out
}

// worth is the place of a field among what is worth finding out for a plan, what could
// turn the decision first; behind all of it for any other.
func worth(p *calc.Plan, field string) int {
	for i, m := range p.Measure {
		switch {
		case m.Field != field:
		case m.CouldFlip:
			return i
		default:
			return i + len(p.Measure)
		}
	}
	return 2 * len(p.Measure)
}

// list says lines, as many to a paragraph as fit a message.
func (t *turn) list(lines wording.Lines) {
	var part wording.Lines
	size := 0
	for _, l := range lines {
		if n := utf8.RuneCountInString(l); len(part) > 0 && size+n > longest*3/4 {
			t.say(wording.PlanList, wording.Args{"List": part})
			part, size = nil, 0
		}
		part = append(part, l)
		size += utf8.RuneCountInString(l)
	}
	if len(part) > 0 {
		t.say(wording.PlanList, wording.Args{"List": part})
	}
}

// decidedAs is a decision with what it still hangs on: no go is one before it is signed
// for and the list is answered.
func (t *turn) decidedAs(p *calc.Plan) wording.Key {
	switch {
	case p.Decision == calc.Go && p.Conditional:
		return wording.DecisionGoSigned
	case p.Decision == calc.Go && len(t.openItems()) > 0:
		return wording.DecisionGoListed
	}
	return decisionKey(p.Decision)
}

// conclude says the plan, if it is another than the one last said, and stands
// at the verdict.
func (t *turn) conclude(p *calc.Plan) {
	t.fire(Decided)
	t.act(Act{Do: DoAsk})
	switch {
	case finding(*p).Digest == t.s.Toldof:
		if slices.ContainsFunc(t.entry.Acts, func(a Act) bool { return a.Do == DoSet }) {
			t.say(wording.PlanSame, wording.Args{"Text": t.saying(t.decidedAs(p))})
		}
	case p.Decision != calc.Go && string(p.Decision) == t.s.ToldAs:
		t.tellAgain(p)
		t.toldOf(p)
	case p.Decision == calc.Open && !t.handedOver(p):
		t.tellOpen(p)
		t.showPlan(p)
		t.toldOf(p)
	default:
		t.tell(p)
		t.showPlan(p)
		t.toldOf(p)
	}
	switch p.Decision {
	case calc.NoGo:
		t.say(wording.VerdictNextNo, nil)
	case calc.Open:
		t.say(wording.VerdictNextOpen, nil)
	}
	t.backToPull()
	t.ask()
}

// tell says the whole plan in parts, the decision first. A no-go leaves out
// how to rig: nobody is to begin.
func (t *turn) tell(p *calc.Plan) {
	if t.handedOver(p) {
		t.refer(p, hazards(t.s.Sheet))
		return
	}
	t.headline(p)
	if rest := t.sayWhy(p); rest != nil { // no other rig mends it
		t.say(wording.PlanSeenBad, nil)
		p = asNoGo(rest)
	} else {
		t.changes(p)
		t.holdUnasked(p)
		t.worthMeasuring(p)
	}
	if p.Force != nil {
		t.sayApart(wording.PlanSums, nil)
	}
	t.force(p, wording.PlanForce, wording.PlanAlone)
	if p.Decision == calc.NoGo {
		t.parts(p)
	}
	t.given2(p)
	if p.Decision == calc.NoGo {
		t.members(p, true)
		t.assumed(p, wording.PlanAssumed)
		t.say(wording.PlanLaw, nil)
		return
	}
	t.rigging(p)
	t.members(p, false)
	t.way(p)
	t.holding(p)
	t.assumed(p, wording.PlanAssumed)
	t.sayApart(wording.PlanCautions, nil)
	for _, c := range slices.Concat(p.Cautions, p.Notes) { // local codes and licensed practice first
		t.say(wording.PlanCaution, wording.Args{"Text": c})
	}
}

// asNoGo is a plan as it stands where it is no go for what was seen on the spot.
func asNoGo(p *calc.Plan) *calc.Plan {
	q := *p
	q.Decision = calc.NoGo
	return &q
}

// tellOpen says of a plan that is open what is missing and what it comes to so
// far: how it would be rigged is said once it may be, or on asking.
func (t *turn) tellOpen(p *calc.Plan) {
	t.headline(p)
	for _, w := range p.Why {
		t.say(wording.PlanWhy, wording.Args{"Why": w})
	}
	t.worthMeasuring(p)
	if p.Force != nil {
		t.sayApart(wording.PlanSums, nil)
	}
	t.force(p, wording.PlanForce, wording.PlanAlone)
	t.given2(p)
	t.say(wording.PlanWhole, nil)
}

// handedOver reports whether a job is one for others: that is the worst there is
// to decide, and stands before whatever its figures say.
func (t *turn) handedOver(p *calc.Plan) bool {
	return p.Decision == calc.Refer || len(hazards(t.s.Sheet)) > 0 || t.s.State == Referred
}

func (t *turn) headline(p *calc.Plan) {
	switch {
	case t.handedOver(p):
		t.sayApart(wording.PlanRefer, nil) // what others take over is no plan, whatever its figures say
	case p.Decision == calc.Go && p.Conditional:
		t.sayApart(wording.PlanGoSigned, nil)
	case p.Decision == calc.Go:
		t.sayApart(wording.PlanGo, nil)
	case p.Decision == calc.NoGo:
		t.sayApart(wording.PlanNoGo, nil)
	default:
		t.sayApart(wording.PlanOpen, nil)
	}
}

func (t *turn) changes(p *calc.Plan) {
	var spare []string
	if p.Decision == calc.NoGo {
		spare = t.spareBad()
	}
	if len(p.Changes)+len(spare) == 0 {
		if p.Decision == calc.NoGo && slices.ContainsFunc(p.Checks, func(c calc.Check) bool { return c.ID == pullerGives && c.Result == calc.Fail }) {
			t.say(wording.PlanNoChanges, nil)
		}
		return
	}
	t.sayApart(wording.PlanChanges, nil)
	for _, name := range spare {
		t.say(wording.PlanWithout, wording.Args{"Name": name})
	}
	for _, c := range p.Changes {
		t.change1(c)
	}
}

// pullerGives is the check of what the puller gives against what is needed.
const pullerGives = "U1"

func (t *turn) change1(c calc.Change) {
	k := wording.PlanChangeOpen
	switch {
	case c.Then == calc.Go && len(c.SignOffs) > 0:
		k = wording.PlanChangeSigned
	case c.Then == calc.Go:
		k = wording.PlanChangeGo
	}
	t.say(k, wording.Args{"Text": strings.TrimRight(c.Do, ".")})
}

// fieldOf names a field of the sheet, a piece's with the piece: of five ratings
// "rating" says nothing.
func (t *turn) fieldOf(path string) string {
	at, _, ok := strings.Cut(path, "].")
	if !ok || strings.HasPrefix(at, "puller") {
		return t.nameOf(path)
	}
	list, n := pieceAt(at + "]")
	return t.sayingWith(wording.PlanOfPiece, wording.Args{"Name": t.label(list, n), "What": t.nameOf(path)})
}

// worthMeasuring names what was said already and could turn the decision if
// it were known better.
func (t *turn) worthMeasuring(p *calc.Plan) {
	var names wording.Names
	for _, f := range flips(p) {
		if n := t.fieldOf(f); len(names) < 3 && !slices.Contains(names, n) {
			names = append(names, n)
		}
	}
	if len(names) > 0 {
		t.say(wording.PlanMeasure, wording.Args{"Names": names})
	}
}

// given2 sets what the haul takes against what the puller gives.
func (t *turn) given2(p *calc.Plan) {
	if p.Tackle == nil {
		return
	}
	if p.Puller == nil || p.Puller.Available == nil {
		if names := t.untold(p, "U1", "U6"); len(names) > 0 {
			t.say(wording.PlanHaulUntold, wording.Args{"Haul": p.Tackle.Haul, "Names": names})
			return
		}
		t.say(wording.PlanHaulUnknown, wording.Args{"Haul": p.Tackle.Haul})
		return
	}
	t.say(wording.PlanHaul, wording.Args{"Haul": p.Tackle.Haul, "Avail": atLeastNothing(*p.Puller.Available)})
}

// untold names what checks still wait for.
func (t *turn) untold(p *calc.Plan, ids ...string) (names wording.Names) {
	for _, c := range p.Checks {
		if c.Result != calc.Unknown || !slices.Contains(ids, c.ID) {
			continue
		}
		for _, f := range c.Fields {
			if n := t.nameOf(f); !slices.Contains(names, n) {
				names = append(names, n)
			}
		}
	}
	return names
}

// refer ends the asking: what to do now for each hazard, and the card for
// those who take over. No figure is given, because a number invites a pull.
func (t *turn) refer(p *calc.Plan, told []string) {
	t.sayApart(wording.PlanRefer, nil)
	for _, h := range told {
		t.say(wording.Key("hazard."+strings.ReplaceAll(h, "-", "_")), nil)
	}
	if p != nil && p.Decision == calc.Refer && len(told) == 0 {
		for _, w := range p.Why {
			t.say(wording.PlanWhy, wording.Args{"Why": w})
		}
		t.signedFor(p)
	}
	if t.s.Code == "" {
		t.sayApart(wording.CardHeadAlone, nil) // a case from a file
	} else {
		t.sayApart(wording.CardHead, wording.Args{"Code": t.s.Code})
	}
	lines := t.knownLines()
	if p != nil && len(p.Handover) > 0 {
		lines = p.Handover
	}
	for _, l := range lines {
		t.say(wording.CardLine, wording.Args{"Text": l})
	}
	if p == nil || len(p.Handover) == 0 {
		t.say(wording.CardStill, nil)
	}
	t.say(wording.CardTail, nil)
}

// whyHeld is the plan whose causes were said last when somebody asked why.
const whyHeld = "why"

// reasons answers why at a verdict: what decides it is a few sentences and
// comes first; asked again, the steps of the reckoning follow, a page at a time.
func (t *turn) reasons() {
	p := t.plan()
	if p == nil || p.Decision == calc.Refer || t.s.Held[whyHeld] == finding(*p).Digest {
		t.working()
		return
	}
	t.act(Act{Do: DoHold, Path: whyHeld, Value: finding(*p).Digest})
	t.act(Act{Do: DoHold, Path: whyPage})
	t.because(p)
	t.sayApart(wording.PlanMoreWhy, nil)
	t.ask()
}

// because says what decides a plan: of a go what it has to spare and what it is
// nearest to failing by, of any other what keeps it from being one.
func (t *turn) because(p *calc.Plan) {
	if p.Decision != calc.Go {
		k := wording.PlanCauses
		if p.Decision == calc.Open {
			k = wording.PlanCausesOpen
		}
		t.sayApart(k, nil)
		if t.sayWhy(p) != nil {
			t.say(wording.PlanSeenBad, nil)
			return
		}
		t.changes(p)
		return
	}
	t.sayApart(wording.PlanCausesGo, nil)
	if p.Tackle != nil && p.Puller != nil && p.Puller.Available != nil {
		if need, there := p.Tackle.Haul.High, p.Puller.Available.Low; there > 0 {
			t.say(wording.PlanSpare, wording.Args{
				"Force": wording.Load{Force: max(0, need)}, "Limit": wording.Limit{Force: there}, "Percent": percent(max(0, need.Newtons()) / there.Newtons()),
			})
		}
	}
	t.weakest(p)
	passed, eyes := 0, 0
	for _, c := range p.Checks {
		switch {
		case c.Result == calc.Pass:
			passed++
		case c.Result == calc.Unknown && c.OnSite:
			eyes++
		}
	}
	t.say(wording.PlanPassed, wording.Args{"Number": passed, "Total": eyes})
	if p.Conditional {
		t.say(wording.PlanToSign, nil)
		for _, w := range p.Why {
			t.say(wording.PlanWhy, wording.Args{"Why": w})
		}
	}
}

// percent is a share in whole percents, rounded up as every load is.
func percent(share float64) int { return int(math.Ceil(share*100 - 1e-9)) }

// pageSteps is how many steps one why tells: what a phone shows without a long way up.
const pageSteps = 6

// whyPage is how many pages of the steps were told of that plan.
const whyPage = "why_page"

// steps are those of a plan in the order in which they are told, each with what it is
// about: which rope, which shackle, which tree. What decides comes first. One that only
// hands a figure on, from a stamp or an earlier step, is left to the report.
func steps(p *calc.Plan) (out []calc.Step, deciding int) {
	keyed := func(s calc.Step) bool { return strings.ContainsAny(s.In, "×÷+√,") }
	for _, s := range p.Deciding() {
		if keyed(s) {
			out = append(out, s)
		}
	}
	deciding = len(out)
	for _, s := range p.Working {
		if keyed(s) && !slices.Contains(out, s) {
			out = append(out, s)
		}
	}
	return out, deciding
}

// working says the next page of the steps, the ones that decide first; after the last
// it begins anew.
func (t *turn) working() {
	p := t.plan()
	if p == nil || len(p.Working) == 0 {
		t.remark(wording.PlanNoWorking, nil)
		return
	}
	all, first := steps(p)
	page, _ := strconv.Atoi(t.s.Held[whyPage])
	from, to := 0, first
	if page > 0 {
		from = first + (page-1)*pageSteps
		to = from + pageSteps
	}
	to = min(to, len(all))
	for i, s := range all[from:to] {
		args := wording.Args{"Name": s.Topic, "What": s.Formula, "Text": s.In, "Result": s.Out, "Source": s.Source}
		if i == 0 {
			t.sayApart(wording.PlanStep, args)
			continue
		}
		t.say(wording.PlanStep, args)
	}
	next := ""
	if left := len(all) - to; left > 0 {
		next = itoa(page + 1)
		t.say(wording.PlanMoreSteps, wording.Args{"Number": min(pageSteps, left), "Total": len(all)})
	}
	t.act(Act{Do: DoHold, Path: whyPage, Value: next})
	t.ask()
}

// moreSaid asks for the rest of what a why began to tell.
var moreSaid = regexp.MustCompile(`(?i)^\W*(?:(?:and|show|tell|give|me|us|the|all|see)\s+)*(?:more(?: steps| of (?:it|them|that))?|rest(?: of (?:it|them|the steps))?|next(?: steps)?|why\s*\d)(?:\s+please)?\W*$`)

// moreOf tells the next steps where a why was answered and nothing else is asked, and
// reports whether it did.
func (t *turn) moreOf(text string) bool {
	if t.s.State != Verdict || t.s.Held[whyHeld] == "" || !moreSaid.MatchString(text) {
		return false
	}
	t.why()
	return true
}

// soFar says all that is known.
func (t *turn) soFar() {
	lines := t.knownLines()
	if len(lines) == 0 {
		t.say(wording.SoFarNothing, wording.Args{"Code": t.s.Code})
		return
	}
	t.say(wording.SoFarHead, wording.Args{"Code": t.s.Code})
	t.list(lines)
	if p := t.plan(); p != nil && p.Decision != calc.Refer && t.s.Figured {
		if taken := t.assumedLines(p); len(taken) > mostAssumed { // the plan said no more than these
			t.say(wording.PlanAssumed, nil)
			t.list(taken)
		}
	}
}
