package flow

import (
	"regexp"
	"slices"
	"strconv"
	"strings"

	"linetender/calc/handbook"
	"linetender/flow/hear"
	"linetender/flow/wording"
)

// What is told beside the question that stands may be told of something else, or be read
// of something else than it was told of: "no step, just a soft edge" is no word on the
// ground in which the wheels sit. It may make a job harder than it was told. What would
// make it easier stays as it was told, and who means it is told how to change it, or is
// asked for it again. This is the one place by which all that is heard on the way goes.
//
// Source: common practice.

// noBetter drops from what was heard all that would make easier what was told before and
// is not asked, and says that the old one stays, or asks for it again.
func (t *turn) noBetter(changes []change) []change {
	tp, _ := topicByName(t.s.Topic)
	var of []string // what goes with them
	left := slices.DeleteFunc(slices.Clone(changes), func(c change) bool {
		was, told := t.s.Sheet.Get(c.path)
		_, against := t.spokenAgainst(c.path) // what was bad needs another who has looked
		switch {
		case against || !told || sameText(was, c.value) || c.value == "" || t.isAsked(tp, c.path):
			return false
		case t.stampAgain(c, was, changes):
		case !remarkable(c.path) || !c.guess && (t.began.State == Referred || t.happened(tp) || t.sinceAt(c.path) || t.ofAnother(c, changes)) || !t.easier(c.path, was, c.value):
			return false
		case tp.name == "" && !c.guess && chosen(c.path):
			return false // at a verdict it is decided so
		case tp.name == "" && !c.guess && topicFilling(c.path) != "":
			t.stamps = true
			t.act(Act{Do: DoAgain, Topic: topicFilling(c.path), Reason: t.sayingWith(wording.StaleBetter, wording.Args{"Text": t.word(c.path, c.value), "Was": t.word(c.path, was)})})
		default:
			t.doubts = true // it was read
			t.say(wording.RefuseToldBefore, wording.Args{"What": t.whatOf(c.path), "Text": t.word(c.path, was)})
		}
		of = append(of, c.path+"_kind", c.path+"_from")
		return true
	})
	return slices.DeleteFunc(left, func(c change) bool { return slices.Contains(of, c.path) })
}

// isAsked reports whether an answer is the one that is asked or being changed.
func (t *turn) isAsked(tp topic, path string) bool {
	if t.meant1 {
		return false // which it is was asked, and not what it is
	}
	if piece := t.s.Held[heldPiece]; piece != "" && strings.HasPrefix(path, piece+".") {
		return true
	}
	of := func(tp topic) bool { return slices.Contains(tp.fills, path) || slices.Contains(tp.fills, path+"_kind") }
	if of(tp) {
		return true
	}
	for _, a := range strings.Fields(t.s.Held[heldAmend]) {
		name, _, _ := strings.Cut(a, "=")
		if name == "gear" && strings.HasPrefix(path, "gear[") || name == "anchor" && strings.HasPrefix(path, "anchors[") || name == "puller" && strings.HasPrefix(path, "puller.") {
			return true
		}
		if tp, ok := topicByName(name); ok && (of(tp) || belongsTo(path, tp.fills)) {
			return true
		}
	}
	return false
}

// remarkable reports whether a field is a thing's state or figure, which a remark must not
// make easier: not what it is, how many there are, or how a figure was found, each of which
// has rules of its own, nor what is asked on the spot.
func remarkable(path string) bool {
	field := path[strings.LastIndexByte(path, '.')+1:]
	switch {
	case strings.HasSuffix(path, "_from"), strings.HasPrefix(path, "site."), strings.HasPrefix(path, "tackle."), path == "hazards", path == "signed", path == "crew":
		return false
	case slices.Contains([]string{"kind", "name", "use", "count"}, field):
		return path == "load.tow_point.kind" || path == "load.holding_point.kind"
	}
	return true
}

// chosen reports whether an answer is what a crew decides, and nothing that they find.
func chosen(path string) bool { return path == "load.pull" || path == "puller.pull" }

// doneTo are words that something was done, or turned out, and orNow such as say it only at a
// verdict, where no question stands that they could belong to.
var (
	doneTo = regexp.MustCompile(`(?i)\b(?:now|dug|shovel\w*|unload\w*|off ?load\w*|moved|rolled|pumped|drained|freed|released|jacked|levelled|chocked|swapped|changed|replaced|turns out|after all)\b`)
	orNow  = regexp.MustCompile(`(?i)\b(?:took|taken|put|laid|boards?|free|fitted|tied|instead)\b`)
)

// happened reports whether a message takes back what was told, or says that things have
// become otherwise.
func (t *turn) happened(tp topic) bool {
	return t.takesBackHere(tp) || doneTo.MatchString(t.in.Text) || tp.name == "" && orNow.MatchString(t.in.Text)
}

// takesBackHere reports whether a message takes back what was told. A no that answers the
// question that stands takes back nothing.
func (t *turn) takesBackHere(tp topic) bool {
	_, as := hear.Correction(t.in.Text)
	answers := t.takesNothing(tp) || slices.ContainsFunc(tp.offers, func(o offer) bool { return slices.Contains(plainNo, o.choice) })
	return as != hear.NoCorrection || !answers && hear.TakesBack(t.in.Text)
}

// easier reports whether a job is better off with another value, taken to be as well known
// as the one that stands.
func (t *turn) easier(path, was, value string) bool {
	switch path {
	case "load.ground":
		old, _, okOld := handbook.Rolling(handbook.Ground(was))
		now, _, okNow := handbook.Rolling(handbook.Ground(value))
		if !okOld || !okNow || now.High < old.High || now.Low < old.Low {
			return true
		}
	case "puller.ground":
		old, _, okOld := handbook.Grip(handbook.Ground(was))
		now, _, okNow := handbook.Grip(handbook.Ground(value))
		if !okOld || !okNow || now.High > old.High || now.Low > old.Low {
			return true
		}
	case "load.locked":
		old, errOld := strconv.ParseFloat(was, 64)
		now, errNow := strconv.ParseFloat(value, 64)
		return errOld != nil || errNow != nil || now < old
	}
	return worseEnd(path, was, value) || t.heldAgainst(path, value, was) < 0
}
