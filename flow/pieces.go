package flow

import (
	"math"
	"regexp"
	"slices"
	"strings"

	"linetender/flow/hear"
	"linetender/flow/wording"
)

// A remark about a piece that is there adds none. Only where the pieces are
// laid out, or in words that add ("another rope", "a second one as well"), is
// one more put on the list: a piece that is not there would carry the plan.

// listing reports whether what is asked is what pieces there are.
func (t *turn) listing(list string) bool {
	if t.adding {
		return true
	}
	if list == "anchors" {
		return t.s.Topic == "anchor" || t.s.Topic == "holding"
	}
	return slices.Contains([]string{"gear", "rope", "block", "shackle", "sling", "holding"}, t.s.Topic)
}

// identity are the fields by which one piece is told from its like.
var identity = []string{"length", "diameter", "material", "rating", "mass"}

// newPiece is what a message tells of a piece that has no place yet.
type newPiece struct {
	list, kind, name string
	count            string
	told             map[string]string // by field, without kind, name, count and use
	adds, counted    bool
	same             bool   // as one that is there
	part             string // the place of those that it is one of
	all              bool   // of the kind that are there
	other            bool   // than the one that is there, in its place
	only             bool   // as many as that and no more
}

// remark reports whether nothing is told of the piece by which it could be
// rigged: only in what state it is.
func (p newPiece) remark() bool {
	for f := range p.told {
		if slices.Contains(identity, f) || f == "rating_kind" || f == "sheaves" || f == "pattern" || f == "soil" || f == "depth" {
			return false
		}
	}
	return true
}

// piecesIn gathers the pieces without a place that facts tell of, by the part
// of the path that they share.
func piecesIn(facts []hear.Fact) (at []string, pieces map[string]newPiece) {
	pieces = map[string]newPiece{}
	for _, f := range facts {
		path, field, ok := strings.Cut(f.Field, "].")
		if !ok || !strings.Contains(path, "[+") {
			continue
		}
		p, seen := pieces[path]
		if !seen {
			at = append(at, path)
			p = newPiece{list: path[:strings.IndexByte(path, '[')], told: map[string]string{}}
		}
		switch field {
		case "kind":
			p.part, p.only = f.Part, f.Only
			p.kind, p.adds, p.counted, p.same, p.all, p.other = f.Value, f.New, f.Count, f.Same, f.All, f.Other && f.Field[:4] == "gear"
		case "name":
			p.name = f.Value
		case "count":
			p.only, p.count = p.only || f.Only, f.Value
		case "use":
		default:
			p.told[field] = f.Value
		}
		pieces[path] = p
	}
	return at, pieces
}

// alikes are the places of the pieces that a new one may be: those of its kind
// and, where both have one, of its name.
func (t *turn) alikes(p newPiece) []string {
	var out []string
	for _, at := range t.pieces(p.list, p.kind, "", "") {
		if !strings.HasSuffix(at, "]") {
			continue
		}
		if name, ok := t.s.Sheet.Get(at + ".name"); ok && p.name != "" && !strings.EqualFold(name, p.name) && !(p.list == "anchors" && t.sameTree(at, name, p)) {
			continue
		}
		out = append(out, at)
	}
	return out
}

// sameTree reports whether two names of what grows or stands say no more one than the
// other, "the oak" and "big oak tree", or one of them only what it is: told of one size it
// is one thing, whatever it is called the second time.
func (t *turn) sameTree(at, name string, p newPiece) bool {
	a, b := treeName(name), treeName(p.name)
	if a == "" || b == "" {
		un, like := t.unlike(at, p)
		return un == 0 && like > 0
	}
	return a == b
}

// treeName is the word of a tree's name that says which kind it is; empty where none does.
func treeName(name string) string {
	left := slices.DeleteFunc(strings.Fields(strings.ToLower(name)), func(w string) bool { return hear.Listed(w, "treeword") })
	if len(left) == 0 {
		return ""
	}
	return left[len(left)-1]
}

// unlike counts what is told of a piece otherwise than it stands, and like
// what is told as it stands.
func (t *turn) unlike(at string, p newPiece) (unlike, like int) {
	for _, f := range identity {
		now, said := p.told[f]
		was, stands := t.s.Sheet.Get(at + "." + f)
		switch {
		case !said || !stands:
		case sameFigure(at+"."+f, was, now):
			like++
		default:
			unlike++
		}
	}
	return unlike, like
}

// sameFigure reports whether two values of a field are written alike, or come to the
// same in two units as far as anybody measures: 18 inch and 46 cm.
func sameFigure(path, a, b string) bool {
	if sameText(a, b) {
		return true
	}
	of, ok := figureOf(path, a, 1)
	and, okAnd := figureOf(path, b, 1)
	return ok && okAnd && math.Abs(of-and) <= sameFigureWithin*math.Max(of, and)
}

// sameFigureWithin is how far apart two readings of one tape are, by what people round.
//
// Source: judgment.
const sameFigureWithin = 0.02

// toldAgain reports whether an anchor like one that is there is told where anchors
// are asked for, in no word that adds. One tree that is told twice and counted as
// two would hold the block and the holding line, each as if it were alone. What is
// driven in, dug in or brought is there as often as it is told.
func (t *turn) toldAgain(p newPiece) bool {
	stands := slices.Contains([]string{"tree", "stump", "rock", "vehicle"}, p.kind)
	return stands && !p.adds && !t.adding && t.listing(p.list) && (len(p.told) > 0 || p.counted)
}

// wordForWord reports whether gear is told as a piece stands that is there, in no word
// that adds, and nothing of it otherwise. A rope is then that one; of shackles and the
// like people have several, so it is asked.
func (t *turn) wordForWord(p newPiece, like []string) bool {
	if p.adds || t.adding || t.s.Held[heldPiece] != "" {
		return false
	}
	return slices.ContainsFunc(like, func(at string) bool {
		un, same := t.unlike(at, p)
		count, several := t.s.Sheet.Get(at + ".count")
		return un == 0 && same > 0 && !t.tellsMore(at, p) && (!p.counted || several && count == p.count)
	})
}

// tellsMore reports whether something of identity is told of a piece that was not
// told of the one at a place.
func (t *turn) tellsMore(at string, p newPiece) bool {
	return slices.ContainsFunc(identity, func(f string) bool {
		_, stands := t.s.Sheet.Get(at + "." + f)
		return p.told[f] != "" && !stands
	})
}

// theOther may say of an anchor that it is another one.
var theOther = regexp.MustCompile(`(?i)\bother\b|\b(?:next to|beside|behind) it\b`)

// which1 decides what a new piece is: one more (more), one that is there
// already (at), nothing but its name in passing (all empty), or one of several
// that may be meant.
func (t *turn) which1(p newPiece) (at string, more bool, several []string) {
	like := t.alikes(p)
	listing := t.listing(p.list)
	if t.allMeant(p, like) {
		return like[0], false, nil
	}
	switch {
	case len(like) == 0, t.s.Held[heldPiece] != "", t.isMore, p.part != "":
		return "", true, nil
	case t.relisted && p.list == "gear":
		at := t.standsAs(p)
		return at, at == "", nil
	case p.only && len(like) == 1:
		return like[0], false, nil
	case p.only && len(like) > 1:
		return "", false, like
	case p.counted && p.count != "1" && ofThose.MatchString(t.in.Text):
		if len(like) == 1 && ofThoseHad.MatchString(t.in.Text) {
			if un, same := t.unlike(like[0], p); un == 0 && same > 0 {
				return like[0], false, nil // so many are there of the one that was told
			}
		}
		return "", false, like
	case p.same && len(p.told) > 0:
		if len(like) == 1 {
			if un, _ := t.unlike(like[0], p); un == 0 {
				return like[0], false, nil
			}
		}
		return "", false, like
	case listing && p.list == "gear" && t.wordForWord(p, like):
		if p.kind == "rope" && len(like) == 1 {
			return like[0], false, nil
		}
		return "", false, like
	case t.toldAgain(p):
		if len(like) == 1 {
			if un, _ := t.unlike(like[0], p); un == 0 && !theOther.MatchString(t.in.Text) {
				return like[0], false, nil
			}
		}
		return "", false, like
	case p.other && !p.adds && !listing && len(p.told) > 0 && len(like) == 1:
		return like[0], false, nil
	case p.other && !p.adds && !listing && len(p.told) > 0:
		return "", false, like
	case len(p.told) == 0:
		return "", p.adds && !t.alsoSound(p) || listing && p.counted, nil
	case p.adds && !p.remark():
		return "", true, nil
	case listing && !p.remark() && p.list == "gear" && len(like) == 1 && t.toldBare(like[0]) && p.name == "" && t.s.Topic != "gear":
		return "", false, like // the figures of those that were only named, or others
	case listing && !p.remark():
		return "", true, nil
	}
	if those := t.asMany(p, like); those != "" {
		return those, false, nil
	}
	if len(like) > 1 {
		same := slices.DeleteFunc(slices.Clone(like), func(at string) bool {
			un, same := t.unlike(at, p)
			return un > 0 || same == 0
		})
		if len(same) != 1 {
			return "", false, like
		}
		like = same
	}
	if t.otherCount(like[0], p) {
		return "", false, like // three shackles are not the two that were told
	}
	if length := p.told["length"]; p.kind == "rope" && length != "" && !thatOne.MatchString(t.in.Text) && t.s.Topic != like[0]+".length" {
		if was, told := t.s.Sheet.Get(like[0] + ".length"); told && !sameFigure(like[0]+".length", was, length) {
			return "", false, like // another rope, or the first one's length put right
		}
	}
	if un, _ := t.unlike(like[0], p); un > 0 && p.list == "anchors" && theOther.MatchString(t.in.Text) {
		return "", false, like
	} else if un > 1 || un > 0 && p.list == "anchors" && t.stouter(like[0], p) && !thatOne.MatchString(t.in.Text) {
		return "", false, like // a bigger tree may be another tree
	}
	return like[0], false, nil
}

// toldBare reports whether nothing is told of a piece by which it is told from its like.
func (t *turn) toldBare(at string) bool {
	return !slices.ContainsFunc(append([]string{"rating_kind"}, identity...), func(f string) bool {
		_, told := t.s.Sheet.Get(at + "." + f)
		return told
	})
}

// theseMany may say of so many that they are those of the list.
var theseMany = regexp.MustCompile(`(?i)\b(?:the|those|these|them|all|our)\s+(?:\d+|two|three|four|five|six|seven|eight|nine|ten)\b`)

// ofThose are words by which so many of those that were told are meant, and none more, and
// ofThoseHad those that tell how many of them there are: "there are two of the 4t blocks".
var (
	ofThose    = regexp.MustCompile(`(?i)\b(?:\d+|two|three|four|five|six|seven|eight|nine|ten)\s+of\s+(?:the|those|these|our)\b`)
	ofThoseHad = regexp.MustCompile(`(?i)(?:\bthere(?:'?s| is| are)|\b(?:we|i)(?:'?ve)?(?: have| got| had)?|\bits|it's|\bu got)\s+(?:only |just )?(?:\d+|two|three|four|five|six|seven|eight|nine|ten)\s+of\s+(?:the|those|these|our)\b`)
)

// asMany returns the only ones of some pieces that are there as often as it is said: "the 4
// shackles".
func (t *turn) asMany(p newPiece, like []string) string {
	if !p.counted || p.count == "1" || p.adds || p.other || !theseMany.MatchString(t.in.Text) {
		return ""
	}
	at := ""
	for _, l := range like {
		if n, _ := t.s.Sheet.Get(l + ".count"); n == p.count {
			if at != "" {
				return ""
			}
			at = l
		}
	}
	return at
}

// otherCount reports whether gear is told as so many, and not as many as there are at a
// place, where no word takes that number back.
func (t *turn) otherCount(at string, p newPiece) bool {
	if p.list != "gear" || !p.counted || p.count == "1" || hear.TakesBack(t.in.Text) {
		return false // one is as soon one of them
	}
	was, several := t.s.Sheet.Get(at + ".count")
	return !several || was != p.count
}

// thatOne are words by which one that was told already is spoken of.
var thatOne = regexp.MustCompile(`(?i)\b(?:the|that|this|our|is|was|it'?s)\b`)

// stouter reports whether what is told of an anchor by the way would make it hold more.
func (t *turn) stouter(at string, p newPiece) bool {
	return slices.ContainsFunc(identity, func(f string) bool {
		was, told := t.s.Sheet.Get(at + "." + f)
		return told && p.told[f] != "" && worseEnd(at+"."+f, was, p.told[f])
	})
}

// allOfThem may say that something is told of each that is there.
var allOfThem = regexp.MustCompile(`(?i)\b(both|all|each)(?: of)?(?: the| them)?\s+(\pL+)`)

// allMeant reports whether something is told of all of some pieces that are there.
func (t *turn) allMeant(p newPiece, like []string) bool {
	if p.all && !p.adds && !p.other && !p.counted && len(like) > 1 && len(p.told) > 0 && p.remark() && t.s.Held[heldPiece] == "" && !t.adding &&
		(len(like) == 2 || !bothOfThem.MatchString(t.in.Text)) {
		return true
	}
	m := allOfThem.FindStringSubmatch(t.in.Text)
	if m == nil || p.adds || p.other || p.list != "anchors" || len(like) < 2 || strings.EqualFold(m[1], "both") && len(like) != 2 {
		return false
	}
	named := strings.TrimSuffix(strings.ToLower(m[2]), "s")
	return named == strings.ToLower(p.name) || named == p.kind
}

// alsoSound reports whether a piece is only named beside one that is looked over, as one of
// which the same is so: "all good, shackles too". One more is counted, or called another.
func (t *turn) alsoSound(p newPiece) bool {
	asked := t.s.Topic[strings.LastIndexByte(t.s.Topic, '.')+1:]
	return (asked == "condition" || asked == "gear_sound" || asked == "kit_check") && !p.counted && !oneMore.MatchString(t.in.Text)
}

// oneMore are words that call a piece one more than those there are.
var oneMore = regexp.MustCompile(`(?i)\b(?:another|more|second|third|fourth|2nd|3rd|4th|extra|spare|new|found|also (?:have|got)|(?:have|got|there'?s|theres) (?:also |an? |one ))`)

// ofPieces gives what is told of pieces that are there their places, and drops
// what only names one in passing and what it can't be told of.
func (t *turn) ofPieces(facts []hear.Fact) []hear.Fact {
	at, pieces := piecesIn(facts)
	t.passing = nil
	to, taken, many := map[string]string{}, map[string]bool{}, map[string]bool{}
	next := map[string]int{}
	for _, path := range at {
		p := pieces[path]
		many[path] = p.counted && p.count != "1" && ofThoseHad.MatchString(t.in.Text)
		place, more, _ := t.which1(p)
		if like := t.alikes(p); place == "" && !more && len(like) == 1 && len(p.told) == 0 && t.otherCount(like[0], p) {
			t.passing = append(t.passing, t.spoken(like[0]+".kind", p.kind))
		}
		more = more || place != "" && taken[place] // two that are told apart are not one
		taken[place] = true
		if more {
			next[p.list]++
			place = p.list + "[+" + itoa(next[p.list]) + "]"
		}
		if p.other && place != "" && !more {
			if t.others == nil {
				t.others = map[string]bool{}
			}
			t.others[place+"."] = true
		}
		to[path] = place
	}
	var out []hear.Fact
	for _, path := range at {
		if p := pieces[path]; p.part != "" {
			out = append(out, t.asThose(p, to[path])...)
		}
	}
	for _, f := range facts {
		path, field, ok := strings.Cut(f.Field, "].")
		if place, moved := to[path]; ok && moved {
			if place == "" || !t.others[place+"."] && !strings.Contains(place, "+") && (field == "kind" || field == "name" || field == "count" && !f.Only && !many[path]) {
				continue
			}
			if was, told := t.s.Sheet.Get(place + "." + field); told && many[path] && slices.Contains(identity, field) && sameFigure(place+"."+field, was, f.Value) {
				continue // what they are known by
			}
			f.Field = place + "." + field
			if like := t.alikes(pieces[path]); t.allMeant(pieces[path], like) {
				for _, at := range like[1:] {
					each := f
					each.Field = at + "." + field
					out = append(out, each)
				}
			}
		}
		out = append(out, f)
	}
	return out
}

// relists reports whether gear is read out anew, as it is after a no-go: several pieces,
// each with what is stamped on it, in no word that puts an old one right. What stands as
// it was told is that piece, all else is one more.
func (t *turn) relists(h hear.Heard) bool {
	at, pieces := piecesIn(h.Facts)
	if t.s.State == Pulling || t.listing("gear") || hear.TakesBack(t.in.Text) || isQuestion(hear.Lowered(t.in.Text)) {
		return false
	}
	told, unlike := 0, false
	for _, path := range at {
		p := pieces[path]
		if p.list != "gear" {
			continue
		}
		if p.remark() || p.only || p.same || p.other {
			return false
		}
		told++
		for _, like := range t.alikes(p) {
			un, same := t.unlike(like, p)
			if un == 0 && same > 0 && t.otherCount(like, p) {
				return false // more of them, or the count put right
			}
			unlike = unlike || un > 0
		}
	}
	return told > 1 && unlike
}

// standsAs returns the place of the piece that stands as one is told anew.
func (t *turn) standsAs(p newPiece) string {
	for _, at := range t.alikes(p) {
		if un, same := t.unlike(at, p); un == 0 && same > 0 {
			return at
		}
	}
	return ""
}

// asThose returns what was told of some pieces as told of one of them that is told apart,
// where nothing else is told of that.
func (t *turn) asThose(p newPiece, place string) (out []hear.Fact) {
	for _, f := range slices.Concat(identity, []string{"rating_kind", "sheaves", "name", "improvised"}) {
		if value, told := t.s.Sheet.Get(p.part + "." + f); told && p.told[f] == "" && !(strings.HasPrefix(f, "rating") && (p.told["rating"] != "" || p.told["rating_kind"] != "")) {
			out = append(out, hear.Fact{Field: place + "." + f, Value: value})
		}
	}
	return out
}

// onePieceMore is how people say that it is none of those named.
var onePieceMore = regexp.MustCompile(`(?i)^\W*(?:it'?s |that'?s )?(?:one more|another(?: one)?|a new one|new|neither|none of (?:them|those|these)|an? (?:second|third) one)\W*$`)

// mayBeMore reports whether what is asked may be none of the pieces named.
func (t *turn) mayBeMore() bool {
	names := strings.Fields(t.s.Held[heldWhich])
	return len(names) > 0 && t.s.Held[heldValue] != "" && t.s.Held[heldOld] == "" && t.s.Held[heldRemove] == "" &&
		!slices.ContainsFunc(names, func(n string) bool { return !strings.HasSuffix(n, "]") })
}

// oneMorePiece takes what was told as of a piece more.
func (t *turn) oneMorePiece() {
	text := t.s.Held[heldValue]
	of, others := t.doubtful(t.s.Held[heldDoubtOf])
	doubt := t.s.Held[heldDoubtOf] != ""
	t.unwhich()
	t.inWords(text, func() {
		h := hear.Heard{Facts: of}
		if t.isMore = doubt; doubt {
			t.act(Act{Do: DoHold, Path: heldDoubt, Value: doubtLines(others)})
		} else {
			h = t.whoIsWho().Listen(text, hear.TopicNone)
		}
		t.adding = true
		t.hearFacts(h, false)
		t.adding, t.isMore = false, false
	})
	t.say(wording.ReadOneMore, nil)
	t.next()
}
