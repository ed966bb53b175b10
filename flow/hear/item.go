package hear

import (
	"regexp"
	"slices"
	"strings"
	"unicode"
)

// What people say beside a yes to an item of the list on the spot is data, in
// words/item.txt: which item words tell of, and which words tell nothing more.

// items are the word lists.
var items = loadForms("item")

// TellsDone reports whether words say that something was done with hands, or that
// something else is there now.
func TellsDone(text string) bool { return items.in("done", Lowered(text)) }

// ClaimWord reports whether a word, in small letters, is one of those in which people say
// of chocks, marks and brakes that they are as they are to be.
func ClaimWord(word string) bool { return items.in("claim", word) }

// DutySaid reports whether words, in small letters, say nothing but what somebody at a post
// has to say of themselves, of their belt, gear, control or knife.
func DutySaid(low string) bool {
	return items.in("dutything", low) && !slices.ContainsFunc(strings.FieldsFunc(low, func(r rune) bool { return strings.ContainsRune(" ,;:.!+&\n\t", r) }), func(w string) bool {
		return !items.in("claim", w) && !items.in("duty", w)
	})
}

// BesideYes reports whether a word, in small letters, tells nothing more behind a yes.
func BesideYes(word string) bool { return items.in("besideyes", word) }

// ItemSubject is how words, in small letters, tell of what an item of the list asks, by
// the item's field; nil where no words do.
func ItemSubject(field string) *Pattern { return items["of "+field] }

// sayings end where one thing that is said of a piece does.
var sayings = regexp.MustCompile(`[,;:.!\n]+|\b(?:and|but|though)\b`)

// ItemWrong reports whether words say that what an item of the list asks is not so, by the
// item's field: asked where it is that item that stands, else only words that name the
// thing as well.
func ItemWrong(field, text string, asked bool) bool {
	low := Lowered(text)
	if strings.HasSuffix(strings.TrimSpace(low), "?") || items.in("mended", low) {
		return false
	}
	lists := []string{"amiss " + field}
	if asked {
		lists = append(lists, "wrong "+field)
	}
	for _, says := range sayings.Split(low, -1) {
		for _, list := range lists {
			if items[list] == nil {
				continue
			}
			if found := items[list].FindString(says); found != "" && !items.in("turnedround", says[:strings.Index(says, found)]) {
				return true
			}
		}
	}
	return false
}

// BehindYes returns the words of a message that begins with a yes from the first on that
// tells more than people say beside one, and whether they turn against it. rest is empty
// where all of them only say so again.
func BehindYes(text string) (rest string, turned bool) {
	low := Lowered(text)
	plain := items.get("nothingwrong").ReplaceAllString(low, " ")
	turned = items.in("turned", plain)
	names := map[string]bool{}
	for i, w := range strings.Fields(text) {
		if i > 0 && unicode.IsUpper([]rune(w)[0]) {
			names[strings.Trim(strings.ToLower(w), ".,;:!")] = true // somebody who looked too
		}
	}
	for _, t := range tokenize(plain) {
		if names[t.text] && !items.in("turned", t.text) {
			continue
		}
		if !items.in("besideyes", t.text) && !items.in("gearword", t.text) || turned && items.in("turned", t.text) {
			return strings.TrimLeft(after(low), " ,.;:-"), turned
		}
	}
	if turned {
		return strings.TrimLeft(after(low), " ,.;:-"), true
	}
	return "", false
}

// after is what stands behind the yes that a text begins with.
func after(low string) string { return items.get("yesfirst").ReplaceAllString(low, "") }

// NoReason reports whether a text is made of words alone that give no reason for going on
// against what fails.
func NoReason(text string) bool { return items.in("noreason", Lowered(text)) }
