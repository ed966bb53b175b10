package flow

import (
	"regexp"
	"slices"
	"strings"

	"linetender/flow/hear"
	"linetender/flow/wording"
)

// A yes to an item of the list may come with more: what the job has to know is taken
// first and the item is asked again, and what nobody could read is put back before the
// yes counts. Who writes "yes, and the rope smokes" has not said that all is well.

var (
	// wordsIn are the words of a message.
	wordsIn = regexp.MustCompile(`[\pL'’]+`)
)

// behindIt is where whoever works the winch stands, which is what their item asks.
var behindIt = regexp.MustCompile(`\b(?:stand|stands|standing|stood) (?:well |right )?behind (?:the|my|his|her|our) (?:tractor|truck|lorry|car|van|pickup|loader|digger)\b`)

// moreThanYes reports whether a yes to items tells more than that they are so.
func (t *turn) moreThanYes(text string, items []siteCheck) bool {
	low := hear.Lowered(text)
	var known []string
	for _, name := range t.crewNames() {
		known = append(known, wordsIn.FindAllString(strings.ToLower(name), -1)...)
	}
	for _, c := range items {
		known = append(known, wordsIn.FindAllString(strings.ToLower(t.fits(c.claim())+" "+t.fits(c.short())), -1)...)
		if re := hear.ItemSubject(c.field); re != nil {
			low = re.ReplaceAllString(low, " ")
		}
	}
	if len(items) == 1 && items[0].field == "driver_shielded" {
		low = behindIt.ReplaceAllString(low, " ")
	}
	return slices.ContainsFunc(wordsIn.FindAllString(low, -1), func(w string) bool {
		return !hear.BesideYes(w) && !slices.ContainsFunc(known, func(k string) bool {
			n := min(len(k), len(w))
			return k == w || n >= 5 && k[:5] == w[:5] || n >= 3 && (k == w+"s" || w == k+"s")
		})
	})
}

// keepBeside keeps a yes to items with more behind it from counting before that was put
// back to who gave it.
func (t *turn) keepBeside(text string, items ...siteCheck) {
	if t.regiven || t.in.Press != nil || !t.moreThanYes(text, items) {
		return
	}
	t.act(Act{Do: DoUnread, Topic: placeList, Value: wording.Plain(text)})
	if u := t.unreadHere(placeList, false); u != nil && u.To != "" { // what was put to them before had less
		t.act(Act{Do: DoUnquote, Topic: u.Place, Path: itoa(u.Number), Value: "more"})
	}
}

// ownMatter are fields of the sheet that words of an item itself tell of.
var ownMatter = map[string][]string{
	"hold_stays": {"load.locked", "puller.brakes"}, "chocks": {"load.locked"}, "light": {"night"}, "public": {"near_road"},
}

// tellsBeside reports whether words to items tell what the job has to know, and what
// is not on the sheet so.
func (t *turn) tellsBeside(h hear.Heard, items ...siteCheck) bool {
	items = append(items, t.itemsToldIn(t.in.Text)...)
	return slices.ContainsFunc(h.Facts, func(f hear.Fact) bool {
		if strings.HasPrefix(f.Field, "site.") || strings.Contains(f.Field, "[+") || f.Field == "crew" {
			return false
		}
		if slices.ContainsFunc(items, func(c siteCheck) bool { return slices.Contains(ownMatter[c.field], f.Field) }) {
			return false
		}
		was, _ := t.s.Sheet.Get(f.Field)
		return !sameText(was, f.Value)
	})
}

// checksOf are the items of several askings.
func checksOf(group []asking) []siteCheck {
	out := make([]siteCheck, len(group))
	for i, a := range group {
		out[i] = a.check
	}
	return out
}
