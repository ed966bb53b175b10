package flow

import (
	"slices"
	"strings"

	"linetender/calc"
	"linetender/calc/job"
	"linetender/flow/wording"
)

// How a job is rigged must not turn under the hands of those who rig it. From
// the first item of the list on the arrangement stands: line parts, and which
// piece and which anchor is for what. A new plan keeps it as long as it is still
// a go; a plan that can't says what is another now, takes back what was looked
// at, and gives out cards that say which they replace.

// arrangement lists how a plan is rigged: the tackle first, then what each
// piece and each anchor is for.
func arrangement(p *calc.Plan) []string {
	if p == nil || p.Tackle == nil {
		return nil
	}
	out := []string{rove(p)}
	for _, m := range p.Gear {
		if !slices.Contains(notPieces, m.Use) {
			out = append(out, strings.Join([]string{"gear", m.Kind, m.Name, m.Use}, "|"))
		}
	}
	for _, m := range p.Anchors {
		out = append(out, strings.Join([]string{"anchor", m.Kind, m.Name, m.Use}, "|"))
	}
	slices.Sort(out[1:])
	return slices.Compact(out)
}

// notPieces are uses that are no choice.
var notPieces = []string{"tow-point", "holding-point", "hitch"}

// keeping is the sheet with the arrangement set down; false where the sheet
// sets another down, or it can't be.
func keeping(s job.Sheet, rig []string) (job.Sheet, bool) {
	var parts int
	f := strings.Fields(rig[0])
	if len(f) != 2 { // a compound is not set down
		return s, false
	}
	for _, c := range f[0] {
		parts = parts*10 + int(c-'0')
	}
	tackle := job.TackleSheet{}
	if s.Tackle != nil {
		tackle = *s.Tackle
	}
	if tackle.Parts != nil && *tackle.Parts != parts || tackle.HaulFrom != "" && tackle.HaulFrom != f[1] {
		return s, false
	}
	tackle.Parts, tackle.HaulFrom = &parts, f[1]
	s.Tackle = &tackle
	s.Gear, s.Anchors = slices.Clone(s.Gear), slices.Clone(s.Anchors)
	uses := map[string][]string{}
	for _, line := range rig[1:] {
		i := strings.LastIndexByte(line, '|')
		uses[line[:i]] = append(uses[line[:i]], line[i+1:])
	}
	for i := range s.Gear {
		g := &s.Gear[i]
		if u := uses["gear|"+g.Kind+"|"+g.Name]; len(u) == 1 && g.Use == "" && piecesOf(*g) == 1 {
			g.Use = u[0]
		}
	}
	for i := range s.Anchors {
		a := &s.Anchors[i]
		if u := uses["anchor|"+a.Kind+"|"+a.Name]; len(u) == 1 && a.Use == "" {
			a.Use = u[0]
		}
	}
	return s, true
}

// kept is the plan that keeps the arrangement as it is rigged, where that is
// still a go and another was found.
func (t *turn) keptRig(now job.Sheet, found planned) planned {
	if len(t.s.Rig) == 0 || slices.Equal(arrangement(found.plan), t.s.Rig) {
		return found
	}
	sheet, ok := keeping(now, t.s.Rig)
	if !ok {
		return found
	}
	p, ok := t.e.reckon(sheet)
	if !ok || p.plan.Decision != calc.Go || p.plan.Conditional && !found.plan.Conditional || !slices.Equal(arrangement(p.plan), t.s.Rig) {
		return found
	}
	return p
}

// rigs sets the arrangement down when the list on the spot is begun.
func (t *turn) rigs(p *calc.Plan) {
	if p != nil && p.Decision == calc.Go && p.Tackle != nil && len(t.s.Rig) == 0 {
		t.act(Act{Do: DoRig, Names: arrangement(p)})
	}
}

// rearranged ends a turn that has led to a plan which is rigged another way.
func (t *turn) rearranged() {
	if t.err != nil || t.s == nil || len(t.s.Rig) == 0 || !slices.ContainsFunc(t.entry.Acts, func(a Act) bool { return a.Do == DoSet || a.Do == DoSign }) {
		return
	}
	decided := t.entry.Decided
	p := t.plan()
	now := arrangement(p)
	if p == nil || p.Decision != calc.Go || p.Tackle == nil || slices.Equal(now, t.s.Rig) {
		t.entry.Decided = decided
		return
	}
	names := t.otherwise(t.s.Rig, now)
	t.act(Act{Do: DoRig, Names: now})
	say := func() {
		t.say(wording.PlanRigAnew, wording.Args{"Names": names})
		if t.s.Stage.Lies() {
			t.say(wording.PlanRigLies, nil)
		}
	}
	if t.s.Stage.Lies() {
		t.holdNow()
	}
	t.tellAll(false, say)
	t.mail = t.mails[0]
	again := t.stale()
	if t.checking() || t.s.State == Checks || t.s.State == Signing || t.s.State == Verdict && again {
		t.act(Act{Do: DoHold, Path: "checking", Value: "yes"})
	}
	if t.main() || t.in.Tick != "" {
		t.replies = slices.DeleteFunc(t.replies, func(r reply) bool { return r.asks })
		say()
		if again {
			t.next()
			return
		}
		t.ask()
		return
	}
	say()
	if again {
		t.inChat(t.s.leadChat(), t.next)
	}
	t.ask()
}

// otherwise lists what is rigged another way: the tackle, and what is in the
// place of what.
func (t *turn) otherwise(was, now []string) wording.Names {
	var out wording.Names
	if was[0] != now[0] {
		out = append(out, t.instead(t.roveName(now[0]), t.roveName(was[0])))
	}
	for _, line := range now[1:] {
		if slices.Contains(was, line) {
			continue
		}
		f := strings.Split(line, "|")
		name := t.memberName(f[1], f[2], f[3], f[0] == "anchor")
		for _, old := range was[1:] {
			o := strings.Split(old, "|")
			if o[0] == f[0] && o[3] == f[3] && !slices.Contains(now, old) {
				name = t.instead(name, t.memberName(o[1], o[2], "", o[0] == "anchor"))
				break
			}
		}
		if !slices.Contains(out, name) {
			out = append(out, name)
		}
	}
	if len(out) == 0 {
		out = append(out, t.roveName(now[0]))
	}
	return out
}

func (t *turn) roveName(rig string) string {
	f := strings.Fields(rig)
	k := wording.PlanRigMoving
	if f[1] == "standing" {
		k = wording.PlanRigStanding
	}
	return t.sayingWith(k, wording.Args{"Text": f[0]})
}

// otherRig reports whether a plan asks for another rig than is laid out.
func (t *turn) otherRig(p *calc.Plan) bool {
	return rove(p) != t.s.Rove || t.s.Roved != "" && t.s.Roved != itoa(t.s.RigNo)
}

// piecesOf returns how many of a piece there are.
func piecesOf(g job.GearSheet) int {
	if g.Count == nil {
		return 1
	}
	return *g.Count
}
