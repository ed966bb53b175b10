package flow

import (
	"fmt"
	"regexp"
	"slices"
	"strconv"
	"strings"

	"linetender/flow/hear"
	"linetender/flow/wording"
)

// change is one value that an answer gives to the sheet.
type change struct {
	set
	how   How
	vague bool   // a ton that is not said which
	quiet bool   // it has been read back
	taken string // the words of a figure that stands for a class, whose reading is to be told
	guess bool   // it was said in doubt
	had   bool   // of the kind of a piece: it was said to be there
}

// choose does what a button says.
func (t *turn) choose(o offer) {
	if t.betterChoice(o.choice) {
		t.said = t.saying(wording.Key("choice." + o.choice))
		return
	}
	tp, _ := topicByName(t.s.Topic)
	answer, how := o.choice, Pressed
	if t.looker != "" && t.lookText != "" {
		answer, how = t.lookTold(""), Told
	}
	if soundTopic(tp.name) && goodChoice(tp, o) && t.putBack(tp.name, answer, how, false) {
		return
	}
	if t.special(tp, o.choice) {
		return
	}
	var changes []change
	for _, s := range o.sets {
		changes = append(changes, change{set: s, how: Pressed})
	}
	t.answer(tp, changes)
}

// hearFacts puts what a message says on the sheet, read back. It reports
// whether any of it was an answer to tp.
func (t *turn) hearFacts(h hear.Heard, amend bool) []string {
	t.heardApart(h)
	t.overRoad(h)
	h.Facts = t.liesBelow(t.aboutByEye(h.Facts))
	done := t.put(t.noBetter(t.number(t.ofPieces(t.besides(h)), amend)))
	if t.relisted {
		t.say(wording.ReadRelisted, nil)
	}
	if len(t.passing) > 0 {
		t.say(wording.ReadPassing, wording.Args{"Names": t.passing})
	}
	return done
}

// aboutByEye adds that a slope that is only about so much was found by eye, where a
// better way stands from what was told before.
func (t *turn) aboutByEye(facts []hear.Fact) []hear.Fact {
	out := slices.Clone(facts)
	for _, f := range facts {
		from := f.Field + "_from"
		was, told := t.s.Sheet.Get(from)
		if f.Guess && told && was != "eye" && (strings.HasSuffix(f.Field, ".slope") || strings.HasSuffix(f.Field, "side_slope")) &&
			!slices.ContainsFunc(facts, func(o hear.Fact) bool { return o.Field == from }) {
			out = append(out, hear.Fact{Field: from, Value: "eye", Said: f.Said})
		}
	}
	return out
}

// besides marks as said in passing what a message tells of the stuck vehicle where
// something else was asked and a part of it was not read, or it is a question: it may
// be about a vehicle whose name nobody knows here.
func (t *turn) besides(h hear.Heard) []hear.Fact {
	tp, _ := topicByName(t.s.Topic)
	if strings.HasPrefix(tp.fills0(), "load.") || h.Unread() == "" && !isQuestion(strings.ToLower(t.in.Text)) {
		return h.Facts
	}
	out := slices.Clone(h.Facts)
	for i, f := range out {
		_, told := t.s.Sheet.Get(f.Field)
		out[i].Guess = f.Guess || told && strings.HasPrefix(f.Field, "load.") && !t.changedSince(f)
	}
	return out
}

// number gives new pieces of gear and new anchors their places in the lists
// of the sheet.
func (t *turn) number(facts []hear.Fact, amend bool) []change {
	anchors, gear := len(t.s.Sheet.Anchors), len(t.s.Sheet.Gear)
	if amend {
		// A list that is read again takes the place of the old one.
		for _, f := range facts {
			if strings.HasPrefix(f.Field, "gear[+") && gear > 0 && t.s.Topic == "gear" && t.s.Held[heldPiece] == "" {
				t.clearGear()
				gear = 0
			}
		}
	}
	piece := t.s.Held[heldPiece]
	out := make([]change, 0, len(facts))
	for _, f := range facts {
		path := f.Field
		if was, told := t.s.Sheet.Get(path); told && was != f.Value && anyPoint.MatchString(f.Said) {
			continue // that it is a tow point does not say which
		}
		if t.s.Topic == twinOf(topicFilling(path)) && t.s.Topic != "" && t.amending(t.s.Topic) {
			if tp, ok := topicByName(t.s.Topic); ok && !slices.ContainsFunc(facts, func(f hear.Fact) bool { return f.Field == tp.fills0() }) {
				path = tp.fills0() // whose it is was decided before
			}
		}
		if points := []string{"tow_point", "holding_point"}; strings.HasPrefix(path, "puller.hitch") && slices.ContainsFunc(points, t.amending) && slices.Contains(points, t.s.Topic) {
			continue // whose point is changed was said
		}
		if strings.HasPrefix(t.s.Topic, "holding_point") {
			path = strings.Replace(path, "load.tow_point.", "load.holding_point.", 1)
		}
		if rest, side := strings.CutPrefix(path, "load.side_slope"); side && t.s.Topic == "puller.side_slope" {
			path = "puller.side_slope" + rest
		}
		for list, base := range map[string]int{"anchors": anchors, "gear": gear} {
			rest, ok := strings.CutPrefix(path, list+"[+")
			if !ok {
				continue
			}
			n, field, _ := strings.Cut(rest, "]")
			i, err := strconv.Atoi(n)
			switch {
			case err != nil:
			case !strings.HasPrefix(piece, list):
				path = fmt.Sprintf("%s[%d]%s", list, base+i-1, field)
			case i == 1: // it takes the place of the one that is changed
				path = piece + field
			default:
				path = fmt.Sprintf("%s[%d]%s", list, base+i-2, field)
			}
		}
		// Who stands level pulls level: one of the two is enough to read back.
		known := f.Field == "puller.pull" && f.Value == "level" && len(out) > 0 && out[len(out)-1].path == "puller.slope"
		out = append(out, change{set: set{path, f.Value}, how: Told, vague: f.Vague, quiet: known, guess: f.Guess, had: f.Had})
		if f.Taken {
			out[len(out)-1].taken = f.Said
		}
		if f.Guess && path == "load.mass" && !slices.ContainsFunc(facts, func(o hear.Fact) bool { return o.Field == "load.mass_from" }) {
			out = append(out, change{set: set{"load.mass_from", "guess"}, how: Told})
		}
	}
	return t.named(out)
}

// anyPoint is how people name a tow point of whatever kind.
var anyPoint = regexp.MustCompile(`(?i)^tow(?:ing)? point$`)

// named drops pieces of gear that are only named in passing, such as the rope
// that is made fast somewhere, where gear is not what is talked about. What is said to
// be there to be used is taken; of what is counted and dropped it is said.
func (t *turn) named(changes []change) []change {
	if tp, ok := topicByName(t.s.Topic); ok && tp.state == AtGear {
		return changes
	}
	more := map[string]bool{}
	for _, c := range changes {
		at, field, _ := strings.Cut(c.path, ".")
		_, there := t.s.Sheet.Get(at + ".kind")
		if strings.HasPrefix(at, "gear[") && (field != "kind" && field != "name" && (there || field != "count") || c.had && t.furtherOne(c.value)) {
			more[at] = true
		}
	}
	for _, c := range changes {
		at, field, _ := strings.Cut(c.path, ".")
		counted := slices.ContainsFunc(changes, func(o change) bool { return o.path == at+".count" })
		if strings.HasPrefix(at, "gear[") && field == "kind" && !more[at] && (counted || c.had) {
			t.passing = append(t.passing, t.spoken(c.path, c.value))
		}
	}
	return t.closeUp(slices.DeleteFunc(changes, func(c change) bool {
		at, _, _ := strings.Cut(c.path, ".")
		return strings.HasPrefix(at, "gear[") && !more[at]
	}))
}

// addedOne are words that call a piece one more than those there are.
var addedOne = regexp.MustCompile(`(?i)\b(?:another|more|second|third|fourth|2nd|3rd|4th|extra|spare|new|found|also|too|as well)\b`)

// furtherOne reports whether gear that is said to be there is none of what was told
// before: "I have a block" is as soon that one.
func (t *turn) furtherOne(kind string) bool {
	return addedOne.MatchString(t.in.Text) || len(t.alikes(newPiece{list: "gear", kind: kind})) == 0
}

// closeUp moves new pieces of gear up to where those stood that were dropped: the list
// has no gaps, and a piece behind one would be turned down.
func (t *turn) closeUp(changes []change) []change {
	to := map[string]string{}
	for i, c := range changes {
		at, field, ok := strings.Cut(c.path, ".")
		n, err := strconv.Atoi(strings.TrimSuffix(strings.TrimPrefix(at, "gear["), "]"))
		if !ok || !strings.HasPrefix(at, "gear[") || err != nil || n < len(t.s.Sheet.Gear) {
			continue
		}
		if to[at] == "" {
			to[at] = fmt.Sprintf("gear[%d]", len(t.s.Sheet.Gear)+len(to))
		}
		changes[i].path = to[at] + "." + field
	}
	return changes
}

// put writes changes on the sheet as far as they make sense there, reads them
// back, and returns the paths that were written. What can't be is said.
func (t *turn) put(changes []change) []string {
	if t.supposed { // nobody says that it is so, and nobody is asked
		changes = t.untying(t.complete(t.ownPoint(changes)))
	} else {
		changes = t.untying(t.lookedOver(t.complete(t.doubted(t.hearsayOnly(t.unseen(t.ownPoint(t.sameSpot(changes))))))))
	}
	var done []string
	for len(changes) > 0 {
		bad := t.try(changes)
		if bad < 0 {
			break
		}
		t.say(wording.RefuseRange, wording.Args{"Text": changes[bad].value, "Example": t.example()})
		changes = slices.Delete(slices.Clone(changes), bad, bad+1)
	}
	read := t.reader()
	gone, of := t.outdated(changes)
	if t.replaces(changes) {
		t.stand()
	}
	t.keepsFor(changes)
	called := t.rigNames()
	before := make([]string, len(changes))
	var unfound []change
	for i, c := range changes {
		was, _ := t.s.Sheet.Get(c.path)
		before[i] = was
		if t.unfound(c.path, was, changes) {
			unfound = append(unfound, c)
		}
		t.act(Act{Do: DoSet, Path: c.path, Value: c.value, Was: was, How: c.how})
		t.settledBy(c.path)
		t.otherPlace(c.path, was, changes)
		t.vague(c)
		if strings.HasPrefix(c.path, "gear[") && strings.HasSuffix(c.path, ".kind") && t.s.Settled["gear_sound"] != "" {
			// A piece that came later has not been looked over with the rest.
			t.act(Act{Do: DoReopen, Topic: "gear_sound"})
		}
		t.system(c.path, c.value)
		done = append(done, c.path)
	}
	for _, c := range changes {
		if at, is := strings.CutSuffix(c.path, ".kind"); is && strings.Contains(at, "[") && t.otherOne(c.path, changes) && before[slices.IndexFunc(changes, func(o change) bool { return o.path == c.path })] != "" {
			t.renumber(at)
		}
	}
	t.renamesRig(called, func(at string) string {
		if t.otherThing(at, called[at], changes) {
			return ""
		}
		return at
	})
	say := t.dropped(gone, of)
	for i, c := range changes {
		read.add(c, before[i])
		t.changed(c, before[i])
	}
	read.say()
	t.saysUntied(changes, before)
	for _, c := range unfound {
		t.say(wording.ReadUnfound, wording.Args{"Text": "change " + t.nameOf(c.path) + " " + c.value + " " + foundAs(c.path)})
	}
	say()
	t.saysWayGone()
	t.dug(changes)
	t.likeLaid(changes)
	t.tieTold(changes)
	t.tieFreed(changes)
	t.tieMayBe(changes)
	t.keptAgain()
	t.hold(done)
	return done
}

// unfound takes back how a figure was found when another takes its place and
// does not say: a slope by eye must not pass for the one that was measured. It
// reports whether that widens what is reckoned with, which is to be said.
func (t *turn) unfound(path, was string, changes []change) bool {
	from := path + "_from"
	if _, told := t.s.Sheet.Get(from); !told || was == "" || t.s.Topic == "ton" { // which ton it was is no new figure
		return false
	}
	i := slices.IndexFunc(changes, func(c change) bool { return c.path == path })
	if sameText(was, changes[i].value) {
		return false // nor is the same
	}
	if slices.ContainsFunc(changes, func(c change) bool { return c.path == from }) {
		return false
	}
	old, _ := t.s.Sheet.Get(from)
	t.act(Act{Do: DoSet, Path: from, Was: old, How: Told})
	byBoard := strings.Contains(changes[i].value, "gap") || strings.Contains(changes[i].value, "rise") // says how it was found
	return old != "guess" && old != "eye" && changes[i].value != "" && !byBoard
}

// foundAs is how a figure is found best, in the words for it.
func foundAs(path string) string {
	switch {
	case strings.HasSuffix(path, "mass"):
		return "weighed"
	case strings.HasSuffix(path, "off_line"):
		return "measured"
	}
	return "by level"
}

// hold settles every topic that has its answer now.
func (t *turn) hold(paths []string) {
	for _, list := range [][]topic{firstTopics, laterTopics} {
		for i := range list {
			tp := &list[i]
			if len(tp.fills) == 0 || strings.Contains(tp.name, "[]") || t.s.Settled[tp.name] != "" || tp.name == t.s.Topic {
				continue
			}
			if slices.Contains(paths, tp.fills[0]) || tp.name == "lip" && slices.Contains(paths, "load.lip.height") {
				t.settle(tp.name, Told)
			}
		}
	}
}

// settle marks a question as answered. One of the four that no plan is made
// without stays open while only how it was found was told ("by eye").
func (t *turn) settle(name string, how How) {
	must := map[string]string{"mass": "load.mass", "slope": "load.slope", "ground": "load.ground", "pull": "load.pull"}
	if field, ok := must[name]; ok && how != Skipped {
		if _, told := t.s.Sheet.Get(field); !told {
			return
		}
	}
	t.act(Act{Do: DoSettle, Topic: name, How: how})
	t.amended(name)
}

// answer takes changes as the answer to tp and goes on.
func (t *turn) answer(tp topic, changes []change) {
	how := Pressed
	for _, c := range changes {
		how = c.how
	}
	done := t.put(changes)
	if len(done) == 0 && t.unmoved {
		t.staysBad(tp)
		return
	}
	if len(done) == 0 && len(changes) > 0 && t.s.Held["load.lip.height"] == "" {
		t.miss("")
		return
	}
	if tp.name != "" {
		t.settle(tp.name, how)
	}
	t.next()
}
