package flow

import (
	"cmp"
	"regexp"
	"slices"
	"strings"

	"linetender/flow/hear"
	"linetender/flow/wording"
)

// What two people tell of one piece of gear or of one anchor differs like any
// other answer. Which piece is meant is not asked of who tells it: where it may
// be several it is the one with which the job is worst off, until the lead has
// said how it is.

// worstPieces gives what is told of pieces that are there their places. One more
// piece is for the lead to put on the list.
func (t *turn) worstPieces(facts []hear.Fact) []hear.Fact {
	at, pieces := piecesIn(facts)
	to := map[string]string{}
	for _, path := range at {
		p := pieces[path]
		place, more, several := t.which1(p)
		if more && (!t.main() || t.s.State == Halted || t.s.State == Pulling) && !p.adds { // with a stop on, or in a pull, nobody adds a piece
			several = t.alikes(p)
		}
		switch {
		case len(several) > 0:
			place = t.worstOf(several, path, facts)
		case more:
			place = ""
		}
		to[path] = place
	}
	var out []hear.Fact
	for _, f := range facts {
		path, field, ok := strings.Cut(f.Field, "].")
		if place, isPiece := to[path]; ok && isPiece {
			if place == "" || field == "kind" || field == "name" || field == "count" || field == "use" {
				continue
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

// worstOf returns the place at which what is told of a piece makes the job worst
// off.
func (t *turn) worstOf(places []string, path string, facts []hear.Fact) string {
	worst := ""
	var most []float64
	for _, place := range places {
		trial, err := t.s.Sheet.Clone()
		if err != nil {
			t.err = err
			return ""
		}
		for _, f := range facts {
			at, field, _ := strings.Cut(f.Field, "].")
			if at == path && field != "kind" && field != "name" && field != "count" && field != "use" {
				err = cmp.Or(err, trial.Set(place+"."+field, f.Value))
			}
		}
		p, ok := t.e.reckon(trial)
		if err != nil || !ok {
			continue
		}
		if ill := t.illness(p.plan); worst == "" || slices.Compare(ill, most) > 0 {
			worst, most = place, ill
		}
	}
	if worst == "" && len(places) > 0 { // nothing can be reckoned yet
		worst = places[0]
	}
	return worst
}

// badNews reports whether a fact tells of something that nobody has told yet what
// makes the job worse off than not knowing it did.
func (t *turn) badNews(f hear.Fact) bool {
	if strings.Contains(f.Field, "[+") {
		return false
	}
	return t.worse(f.Field, f.Value)
}

// memberDiffers takes what somebody of a group tells otherwise than it was told,
// where all of the group speak in the chat in which the job is asked about: who
// speaks last does not win there either.
func (t *turn) memberDiffers(text string, topic hear.Topic) bool {
	m := t.me()
	if m == nil || !t.main() || t.isLead() || t.s.alone() || m.As == AsObserver {
		return false
	}
	h := t.whoIsWho().Listen(text, topic)
	return saysFacts(h.Act) && t.differs(text, h)
}

// saysFacts reports whether a message with an act may tell facts as well.
func saysFacts(a hear.Act) bool {
	return a == hear.None || a == hear.Change || a == hear.Yes || a == hear.No
}

// ofASlope are words without which a share said in a pull is none of a slope.
var ofASlope = regexp.MustCompile(`(?i)slope|steep|grad|incline|hill|bank|deg|°|\d in \d|rise|level`)

// slopeOnly are words that tell a slope by its share alone.
var slopeOnly = regexp.MustCompile(`(?i)^\W*(?:(?:no+|nah|nope|deffo|def|definitely|it'?s|its|more like|i say|i'?d say|about)\b[\s,.:;!-]*)*(1 in \d+)(?:\s*(?:mate|easy|at least|there|here|i say|for sure|deffo|definitely|\W))*$`)

// denial is how somebody begins who has it otherwise.
var denial = regexp.MustCompile(`(?i)^\W*(?:(?:no+|nope|nah|na|wrong|actually|well|hang on|hey|but|sorry)\b[\s,.:;!-]*)+`)

// contrary reads what somebody says against what they have heard: "no, it weighs
// 3 t". The no in front denies what was said before, and not what comes after.
func (t *turn) contrary(text string) []hear.Fact {
	rest := denial.ReplaceAllString(text, "")
	if rest == text || rest == "" || bareFigure(rest) {
		return nil
	}
	return t.whoIsWho().Listen(rest, hear.TopicNone).Facts
}

// whatOf names an answer that differs, a piece's with the piece.
func (t *turn) whatOf(path string) string {
	at, _, ok := strings.Cut(path, ".")
	if !ok || !strings.Contains(at, "[") || strings.HasPrefix(at, "puller") {
		return t.nameOf(path)
	}
	list, n := pieceAt(at)
	return t.sayingWith(wording.DifferOf, wording.Args{"Name": t.label(list, n), "What": t.nameOf(path)})
}

// sides are both values of what differs, each with how it was found, and which
// of them the job goes by.
func (t *turn) sides(d Differ) wording.Args {
	now, _ := t.s.Sheet.Get(d.Path)
	return wording.Args{
		"What": t.whatOf(d.Path), "Name": cmp.Or(t.s.nameOf(d.By), d.By.Name), "Second": t.s.Lead.Name,
		"Text": t.side(d.Path, d.Said, d.SaidHow), "Was": t.side(d.Path, d.Was, d.WasFrom), "Result": t.side(d.Path, now, ""),
	}
}

func (t *turn) side(path, value, from string) string {
	if value == "" && strings.HasPrefix(path, "tackle.") && t.s.Stage.Rigged() {
		return t.saying(wording.DifferAsCard)
	}
	if value == "" {
		return t.saying(wording.DifferUntold)
	}
	said := t.spoken(path, value)
	if from != "" {
		said = t.sayingWith(wording.DifferHow, wording.Args{"Text": said, "What": t.word(path+"_from", from)})
	}
	return said
}
