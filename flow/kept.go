package flow

import (
	"crypto/sha256"
	"encoding/hex"
	"encoding/json"
	"regexp"
	"slices"
	"strings"

	"linetender/calc/job"
	"linetender/flow/hear"
	"linetender/flow/wording"
)

// What people saw and signed for on the spot was seen and signed for what was told
// then. Told otherwise, it is asked again. Where that is taken back, so that all that
// was told is again what it was, those answers count again: they are kept under the
// digest of what they were given for. Nothing of it is kept over anything that happens
// meanwhile or that hands may have done: a stop, a report, rain, a person who comes or
// goes, another rig, a release, earth that was dug. Then all of it is looked at anew.

// Kept are the answers that were given for what was told under a digest.
type Kept struct {
	Digest string
	Items  []KeptItem
	Signed []job.SignatureSheet
	Fresh  string // how old what time could have changed was then
}

// A KeptItem is one answer on the spot.
type KeptItem struct {
	Path, Value  string
	How, Settled How
	Mark, Second Mark
}

// mostKept bounds how many of them are kept.
const mostKept = 3

// keptOnly is the reason of an act that takes an answer back and nothing else.
const keptOnly = "kept"

// bodily are fields that hands change, or time: what is told of them otherwise and
// back may have been done and undone.
var bodily = regexp.MustCompile(`^(?:crew|hazards|seen|seen\[.*|load\.(?:sunk|belly|locked|ground)|load\.lip.*|puller\.(?:kind|name|hitch|ground)|.*\.(?:condition|knots|sling_hitch|improvised|use|chocked|braked|tied_back|strap_held|soil|depth))$`)

// standsOn is the digest of all that was told, without what was seen and signed for it;
// empty where that is no case yet.
func (t *turn) standsOn() string {
	sheet, err := t.s.Sheet.Clone()
	if err != nil {
		return ""
	}
	sheet.Site, sheet.Signed = nil, nil
	c, err := sheet.Case()
	if err != nil {
		return ""
	}
	body, err := json.Marshal(c)
	if err != nil {
		return ""
	}
	sum := sha256.Sum256(body)
	return hex.EncodeToString(sum[:8])
}

// keepsFor keeps what was seen and signed before changes take it back, unless one of
// them may be another thing on the ground.
func (t *turn) keepsFor(changes []change) {
	differs, done := false, hear.TellsDone(t.in.Text)
	for _, c := range changes {
		was, _ := t.s.Sheet.Get(c.path)
		if was == c.value || strings.HasPrefix(c.path, "site.") {
			continue
		}
		differs, done = true, done || bodily.MatchString(c.path)
	}
	switch answered := len(t.s.Sheet.Signed) > 0 || slices.ContainsFunc(siteChecks, func(c siteCheck) bool {
		return t.s.Settled[c.path()] != "" || t.s.Marks[c.path()].Value != ""
	}); {
	case !differs:
	case done && len(t.s.Kept) > 0:
		t.act(Act{Do: DoKeep})
	case done || !answered:
	default:
		if digest := t.standsOn(); digest != "" {
			t.act(Act{Do: DoKeep, Value: digest})
		}
	}
}

// keptAgain has what was kept count again where all that was told is what it was.
func (t *turn) keptAgain() {
	if len(t.s.Kept) == 0 || len(t.s.Differs) > 0 {
		return
	}
	digest := t.standsOn()
	if !slices.ContainsFunc(t.s.Kept, func(k Kept) bool { return k.Digest == digest }) {
		return
	}
	t.act(Act{Do: DoAsWas, Value: digest})
	t.mail.drop(wording.ChecksAgain)
	t.say(wording.ChecksBack, nil)
}

// keep does DoKeep.
func (s *Session) keep(digest string) {
	if digest == "" {
		s.Kept = nil
		return
	}
	s.Stands = ""
	k := Kept{Digest: digest, Fresh: s.Fresh, Signed: slices.Clone(s.Sheet.Signed)}
	for _, c := range siteChecks {
		path := c.path()
		value, _ := s.Sheet.Get(path)
		it := KeptItem{Path: path, Value: value, How: s.How[path], Settled: s.Settled[path], Mark: s.Marks[path], Second: s.Seconds[path]}
		if it.Settled != "" || it.Mark.Value != "" {
			k.Items = append(k.Items, it)
		}
	}
	s.Kept = append(slices.DeleteFunc(s.Kept, func(o Kept) bool { return o.Digest == digest }), k)
	if n := len(s.Kept) - mostKept; n > 0 {
		s.Kept = slices.Delete(s.Kept, 0, n)
	}
}

// keptBack does DoAsWas. What was answered anew meanwhile stands.
func (s *Session) keptBack(digest string) error {
	at := slices.IndexFunc(s.Kept, func(k Kept) bool { return k.Digest == digest })
	if at < 0 {
		return nil
	}
	k := s.Kept[at]
	s.Kept = slices.Delete(s.Kept, at, at+1)
	s.Stands = k.Fresh // it is no younger for counting again
	if k.Fresh != "" && s.Fresh > k.Fresh {
		s.Fresh = k.Fresh
	}
	for _, it := range k.Items {
		now, _ := s.Sheet.Get(it.Path)
		if s.Settled[it.Path] != "" || s.Marks[it.Path].Value != "" || now != "" && now != it.Value {
			continue
		}
		if err := s.Sheet.Set(it.Path, it.Value); err != nil {
			return err
		}
		if it.How != "" {
			s.How[it.Path] = it.How
		}
		if it.Mark.Value != "" {
			s.Marks[it.Path] = it.Mark
		}
		if it.Second.Value != "" {
			s.Seconds[it.Path] = it.Second
		}
		if it.Settled != "" {
			s.Settled[it.Path] = it.Settled
			s.answered(it.Path)
		}
	}
	if len(s.Sheet.Signed) == 0 {
		s.Sheet.Signed = k.Signed
	}
	return nil
}

// idle are acts that keep what is kept: words, questions and answers, and that
// everything stands.
var idle = []Do{DoMove, DoAsk, DoSet, DoSettle, DoReopen, DoMiss, DoUnits, DoNote, DoFigure, DoTold, DoHold, DoCheck, DoSecond, DoPart, DoQuick, DoQuery, DoReply,
	DoRemind, DoDiffer, DoAgree, DoCard, DoWant, DoKeep, DoAsWas, DoPut, DoWord, DoRefuse, DoSign, DoCode, DoRevoke, DoSure, DoDoubt, DoQuiet, DoAnew, DoWithhold, DoLift, DoHere, DoUnread, DoQuote, DoUnquote}

// unkeep drops what an act says can't count again.
func (s *Session) unkeep(a Act) {
	if len(s.Kept) == 0 {
		return
	}
	switch {
	case a.Do == DoStage && (a.Cue == Backs || a.Cue == Holds):
	case a.Do == DoReopen && strings.HasPrefix(a.Topic, "site.") && a.Reason != keptOnly:
		for i := range s.Kept {
			s.Kept[i].Items = slices.DeleteFunc(s.Kept[i].Items, func(it KeptItem) bool { return it.Path == a.Topic })
		}
	case a.Do == DoSet && a.Path == "signed" && a.Reason != keptOnly:
		for i := range s.Kept {
			s.Kept[i].Signed = nil
		}
	case a.Do == DoSet && !strings.HasPrefix(a.Path, "site.") && bodily.MatchString(a.Path), !slices.Contains(idle, a.Do):
		s.Kept = nil
	}
}
