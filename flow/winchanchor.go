package flow

import (
	"regexp"
	"slices"
	"strings"

	"linetender/flow/hear"
	"linetender/flow/wording"
)

// What a winch sits on may slide before the load moves, and the way out that the plan
// names is an anchor of the winch's own: the vehicle is tied back, and it is the anchor
// that holds. It is told in as many ways as there are names for the vehicle.

const (
	fastBack = `(?:tied|chained|strapped|roped|lashed|anchored|shackled|cabled|made fast|fastened|hooked)`
	winchOn  = `(?:the |our |my |his |her |their )?((?:front |rear )?[\pL'-]+)`
)

var (
	// pullerFast are words that the puller is made fast to something behind it: what, and to
	// what.
	pullerFast = []*regexp.Regexp{
		regexp.MustCompile(`(?i)\b` + fastBack + `\s+` + winchOn + `(?:\s+back)?\s+to\s+(.+)$`),
		regexp.MustCompile(`(?i)\b` + winchOn + `(?:'s|\s+is|\s+are|\s+now|\s+has been)*\s+` + fastBack + `(?:\s+back)?\s+to\s+(.+)$`),
		regexp.MustCompile(`(?i)^\W*()(?:winch(?:'?s)? anchor|anchor (?:of|for) the winch)\s*(?::|=|is|to)?\s*(.+)$`),
	}
	// ownAnchor asks for one in the words of the plan.
	ownAnchor = regexp.MustCompile(`(?i)\banchor of its own\b`)
)

// winchAnchored takes that a winch, or the vehicle that bears it, has an anchor of its own,
// and reports whether the message says so.
func (t *turn) winchAnchored(text string) bool {
	kind, _ := t.s.Sheet.Get("puller.kind")
	low := hear.Lowered(text)
	if kind != "winch" || !t.main() || !t.mayChange() && t.s.State != Amend || isQuestion(low) || hear.ToCome(text) || denied.MatchString(low) {
		return false
	}
	if ownAnchor.MatchString(low) && len(t.whoIsWho().Listen(text, hear.TopicAnchor).Facts) == 0 {
		t.remark(wording.ReadWinchAnchor, nil)
		return true
	}
	for _, said := range pullerFast {
		m := said.FindStringSubmatch(text)
		if m == nil || m[1] != "" && t.ownerNamed(m[1]) == "load" {
			continue
		}
		if m[1] != "" && t.ownerNamed(m[1]) != "puller" && !strings.HasSuffix(strings.ToLower(m[1]), "winch") {
			if !hear.Vehicle(strings.ToLower(m[1])) {
				continue
			}
			t.remark(wording.ReadWinchAnchor, nil) // it may be the stuck one that is held so
			return true
		}
		return t.anchorsPuller(m[2])
	}
	return false
}

// anchorsPuller makes an anchor, one that is told by its name or a new one, the puller's.
func (t *turn) anchorsPuller(words string) bool {
	at := ""
	h := t.whoIsWho().Listen(words, hear.TopicAnchor)
	for i := range t.s.Sheet.Anchors {
		if _, named := wordsAt(words, t.label("anchors", i)); named {
			at = "anchors[" + itoa(i) + "]"
		}
	}
	new := slices.ContainsFunc(h.Facts, func(f hear.Fact) bool { return strings.HasPrefix(f.Field, "anchors[+") })
	if at == "" && !new {
		return false
	}
	if t.s.State == Verdict {
		t.fire(Reopens)
		t.act(Act{Do: DoAsk})
	}
	n := len(t.s.Sheet.Anchors)
	t.inWords(words, func() {
		t.adding = at == ""
		t.hearFacts(h, false)
		t.adding = false
		t.rest(h)
	})
	if at == "" && len(t.s.Sheet.Anchors) > n {
		at = "anchors[" + itoa(n) + "]"
	}
	if at != "" {
		t.put([]change{{set: set{at + ".use", "puller"}, how: Told}})
	}
	t.amended("")
	t.next()
	return true
}
