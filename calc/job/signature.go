package job

import (
	"slices"
	"strings"
	"unicode"
)

// ListsPieces is the check whose signature is given for a list of pieces, not for it alone.
const ListsPieces = "R4"

func (r *reader) signature(path string, s SignatureSheet) {
	for _, f := range []struct{ name, value, what string }{
		{"check", s.Check, "which check is signed for"}, {"by", s.By, "who signs"},
		{"second", s.Second, "who else agrees"}, {"reason", s.Reason, "the reason"},
	} {
		if strings.TrimSpace(f.value) == "" {
			r.fail(refuse(path+"."+f.name, "a signature needs check, by, second and reason; write %s", f.what))
		}
	}
	if strings.TrimSpace(s.Check) != "" {
		if id := strings.ToUpper(s.Check); id != s.Check && slices.Contains(CheckIDs, id) {
			r.fail(refuse(path+".check", "%q is written otherwise; write %q", clip(s.Check), id))
		}
		r.word(path+".check", s.Check, CheckIDs)
	}
	for _, f := range []struct{ name, value string }{{"by", s.By}, {"second", s.Second}} {
		if v := strings.TrimSpace(f.value); v != "" && !Somebody(v) {
			r.fail(refuse(path+"."+f.name, "%q is nobody's name; write who it is, or leave the signature out", clip(v)))
		}
	}
	if len(s.Pieces) > 0 && s.Check != "" && s.Check != ListsPieces {
		r.fail(refuse(path+".pieces", "only %s lists pieces; leave them out", ListsPieces))
	}
	if s.By != "" && plainName(s.By) == plainName(s.Second) {
		r.fail(refuse(path+".second", "the second person must be somebody else than %q", clip(s.By)))
	}
}

// noOne are the words that are written where a name should be.
var noOne = []string{"nobody", "no one", "noone", "none", "no", "n a", "na", "nil", "null", "unknown", "anybody", "anyone", "somebody", "someone", "tbd"}

// Somebody reports whether a signature names a person: it has letters, and
// they are not those of a word for no one.
func Somebody(name string) bool {
	plain := plainName(name)
	return plain != "" && strings.ContainsFunc(plain, unicode.IsLetter) && !slices.Contains(noOne, plain)
}

// plainName is a name without what does not tell two people apart: case,
// points and blanks.
func plainName(name string) string {
	return strings.Join(strings.FieldsFunc(strings.ToLower(name), func(c rune) bool {
		return !unicode.IsLetter(c) && !unicode.IsDigit(c) && !unicode.IsMark(c)
	}), " ")
}
