package flow

import (
	"regexp"
	"strings"

	"linetender/calc"
	"linetender/calc/job"
	"linetender/flow/wording"
)

// What of load and puller decides what a thing seen says. The first few of the
// load say how it lies: where one of them is told otherwise, nobody has said
// that the way left is like the way that was passed.
var (
	lieFields    = []string{"slope", "slope_from", "pull", "ground", "locked", "sunk", "lip", "lip.height", "lip.wheel_radius", "lip.axle_share", "off_line", "off_line_from", "belly"}
	loadThen     = append([]string{"mass", "mass_from"}, lieFields...)
	pullerThen   = []string{"name", "kind", "mass", "driven", "slope", "slope_from", "pull", "ground", "rating", "rating_kind", "winch_layer", "capstan", "people"}
	wayWord      = `(?:the )?(?:way|rest|road|track|ground|slope)(?: (?:that is |that's )?(?:left|ahead|on|of it|of the way))?`
	alikeWords   = regexp.MustCompile(`^` + wayWord + `(?: is|'s| looks)? (?:alike|the same|no (?:steeper|worse|harder))(?: all the way)?$`)
	unalikeWords = regexp.MustCompile(`^` + wayWord + `(?: is|'s| looks|isn't| gets)? ?(?:not (?:alike|the same)|otherwise|steeper|softer|deeper|worse|harder)$`)
)

// nowSeen lays beside a thing seen what it was seen with, so that a puller or a
// load told otherwise later changes nothing of it.
func (t *turn) nowSeen(w *job.SeenSheet, p *calc.Plan) {
	s := t.s.Sheet
	w.Load, w.By = &s.Load, s.Puller
	if i := p.Puller; i != nil && i.Place < len(s.Pullers) {
		w.By = &s.Pullers[i.Place]
	}
	if s.Tackle != nil {
		w.Sheave = s.Tackle.Sheave
	}
	w.Leads = &p.Tackle.LeadBlocks
}

// addThen writes what a thing was seen with.
func addThen(w job.SeenSheet, put func(field, value string)) {
	put("sheave", w.Sheave)
	add := func(to, from string, s job.Sheet, fields []string) {
		for _, f := range fields {
			if text, told := s.Get(from + f); told {
				put(to+f, text)
			}
		}
	}
	if w.Load != nil {
		add("load.", "load.", job.Sheet{Load: *w.Load}, loadThen)
	}
	if w.By != nil {
		add("by.", "puller.", job.Sheet{Puller: w.By}, pullerThen)
	}
	if w.Alike != nil && *w.Alike {
		put("alike", "true")
	}
	if w.Reloaded != nil && *w.Reloaded {
		put("reloaded", "true")
	}
}

// lieTold takes back that the way left is alike once the load is told to lie
// otherwise. One that is told to weigh otherwise may have been unloaded or laden,
// and told once more as before it is not the one that was seen to move.
func (s *Session) lieTold(path, was string) {
	field, ofLoad := strings.CutPrefix(path, "load.")
	if now, _ := s.Sheet.Get(path); !ofLoad || now == was || len(s.Sheet.Seen) == 0 {
		return
	}
	if field == "mass" {
		for i := range s.Sheet.Seen {
			_ = s.Sheet.Set("seen["+itoa(i)+"].reloaded", "true") // there is such a place
		}
	}
	for _, f := range lieFields {
		if f == field {
			s.unalike()
			return
		}
	}
}

func (s *Session) unalike() {
	for i, w := range s.Sheet.Seen {
		if w.Alike != nil {
			_ = s.Sheet.Set("seen["+itoa(i)+"].alike", "") // there is such a place
		}
	}
}

// askAlike says how to tell that the way left is alike, where that would lessen
// what the load is reckoned to need.
func (t *turn) askAlike(n int) {
	if p := t.plan(); p == nil || n >= len(p.Seen) || !strings.HasSuffix(p.Seen[n].Did, "-here") || t.s.Sheet.Seen[n].Alike != nil {
		return
	}
	t.say(wording.PullAlike, nil)
}

// alikeSaid takes that the way left is as easy as where the load last moved, or
// that it is not. Only who is on the spot can see that.
func (t *turn) alikeSaid(text, low string) bool {
	low = strings.Trim(low, " .")
	not := unalikeWords.MatchString(low)
	if !not && !alikeWords.MatchString(low) {
		return false
	}
	last := -1
	for i, w := range t.s.Sheet.Seen {
		if w.What == "move" || w.What == "reading" {
			last = i
		}
	}
	if last < 0 {
		return false
	}
	t.act(Act{Do: DoReport, Path: "alike", Value: wording.Plain(text)})
	if not {
		for i, w := range t.s.Sheet.Seen {
			if w.Alike != nil {
				t.act(Act{Do: DoSet, Path: "seen[" + itoa(i) + "].alike", How: Told})
			}
		}
		t.say(wording.PullUnalike, nil)
	} else {
		t.act(Act{Do: DoSet, Path: "seen[" + itoa(last) + "].alike", Value: "true", How: Told})
		if p := t.plan(); p != nil && last < len(p.Seen) {
			t.say(wording.PullLearnt, wording.Args{"Text": p.Seen[last].Text})
		}
	}
	t.judged()
	return true
}
