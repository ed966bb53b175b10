package hear

import (
	"regexp"
	"slices"
	"strings"
	"unicode"
)

// A Person is one of those that somebody named.
type Person struct {
	Name string // as it was written; empty for "me" alone
	Me   bool   // whoever wrote it
}

// mostNameWords is how many words a name has at most: with more of them it is a
// sentence that begins with one.
const mostNameWords = 3

// Words after which a name is over, and what comes is where somebody stands or
// what they do.
var endsName = wordSet("on in at by to with from for under behind as is are was will can does do drives driving drive driver holds holding " +
	"watches watching who that thats takes stands goes has the whos saw looked went walked said checked just also too did says said agrees agreed signs confirms thinks r isnt isn't wont")

// Words behind a name that begin what is said of whoever bears it.
var saysOf = wordSet("he's hes she's shes they're theyre he she they hasn't hasnt wasn't wasnt didn't didnt won't wont can't cant it's its")

// Words that begin no name: an answer, a remark or a question does.
var beginsNoName = wordSet("no nope nah not none nobody noone never yes yep yeah ok okay he she it its they them we us our you your i ive im theres there this that these " +
	"those a an if so but because cos cause since as well maybe perhaps dunno what why how who when where which do does did is are was were can could will would " +
	"should must have has had let lets please remove change delete undo nothing anything all everybody everyone someone somebody any some only just")

// Words before the first name of a list, which are none.
var leadsToName = wordSet("names name are is they're theyre we're were called people crew us the and then also plus just with so well ok that's thats its it's it")

// A sentence ends at a point after a word, and not after an initial.
var sentence = regexp.MustCompile(`(\pL\pL)\.\s+`)

// Who is named as being elsewhere is none of those that are there.
var absent = regexp.MustCompile(`(?i)\b(far (off|away)|miles|not (here|there|on site|with us)|isn'?t (here|there)|at home|remote\w*|gone|left|on the phone)\b`)

func wordSet(list string) map[string]bool {
	out := map[string]bool{}
	for w := range strings.FieldsSeq(list) {
		out[w] = true
	}
	return out
}

// People reads who is there: names between commas, semicolons, lines, strokes
// and the word and. Where somebody stands and what they do is no part of a
// name, and who says "that's me" is the one who writes. Words that could be no
// name are left out, so that none may be left.
func People(text string) []Person {
	var out []Person
	if before, after, ok := strings.Cut(text, ":"); ok {
		if first, _, _ := strings.Cut(strings.ToLower(strings.TrimSpace(before)), " "); beginsNoName[first] || leadsToName[first] {
			text = after // "we are three here: Ida, Tom and Jo"
		}
	}
	text = Enumerated(text)
	for part := range strings.FieldsFuncSeq(text, func(r rune) bool { return strings.ContainsRune(",;\n&/+", r) }) {
		for one := range strings.SplitSeq(" "+part+" ", " and ") {
			if absent.MatchString(one) {
				continue
			}
			if p, ok := person(one, strings.ContainsAny(text, ",;\n&/+")); ok {
				out = append(out, p)
			}
		}
	}
	return out
}

// Enumerated is a text with a comma where a sentence ends, and not after an initial.
func Enumerated(text string) string { return sentence.ReplaceAllString(text, "$1,") }

// person reads one of a text; listed tells that there may be others beside it, and then
// what is said of somebody who is there belongs to the name: "gerd he's the old hand".
func person(text string, listed bool) (Person, bool) {
	fields := strings.Fields(strings.Map(func(r rune) rune {
		if strings.ContainsRune("()[]:=\"“”", r) {
			return ' '
		}
		return r
	}, text))
	bare := make([]string, len(fields))
	for i, f := range fields {
		bare[i] = strings.Trim(strings.ToLower(Straight(f)), ".!?'-–")
	}
	me := false
	for _, mark := range [][]string{{"that's", "me"}, {"thats", "me"}, {"that", "is", "me"}, {"it's", "me"}, {"its", "me"}, {"i", "am"}, {"i'm"}, {"im"}, {"my", "name", "is"}, {"me"}, {"myself"}} {
		for i := 0; i+len(mark) <= len(bare); i++ {
			if slices.Equal(bare[i:i+len(mark)], mark) {
				me = true
				bare, fields = slices.Delete(bare, i, i+len(mark)), slices.Delete(fields, i, i+len(mark))
				break
			}
		}
	}
	if ofAnimal(bare) {
		return Person{Me: me}, me
	}
	for len(bare) > 1 && leadsToName[bare[0]] {
		bare, fields = bare[1:], fields[1:]
	}
	end := slices.IndexFunc(bare, func(w string) bool { return endsName[w] || w == "" })
	if end < 0 {
		end = len(bare)
	}
	told := afterName(fields[:end])
	end = min(end, mostNameWords)
	if end == 0 || beginsNoName[bare[0]] {
		return Person{Me: me}, me
	}
	if said := slices.IndexFunc(bare[:end], func(w string) bool { return saysOf[w] }); said > 0 {
		if !listed || slices.ContainsFunc(bare[said:], func(w string) bool { return lists.has(w, "takesno") }) {
			return Person{}, false // "ben hes done"
		}
		end = said
	} else if told > 0 {
		end = told
	}
	name := strings.Trim(strings.Join(fields[:end], " "), " .!?-–")
	if !strings.ContainsFunc(name, unicode.IsLetter) || strings.ContainsFunc(name, unicode.IsDigit) {
		return Person{Me: me}, me
	}
	return Person{Name: name, Me: me}, true
}

// ofNames are small words in the middle of a name.
var ofNames = wordSet("de del della der den di da dos du la le van von ten ter zu el al bin ibn ap y")

// afterName returns where a name that is written with a capital is over and more than one
// small word follows, which tell what its bearer did: "Bo drove wreckers". It is 0 where the
// words may all be the name.
func afterName(fields []string) int {
	small := func(f string) bool {
		return strings.IndexFunc(f, unicode.IsLower) == 0 && !ofNames[strings.ToLower(strings.Trim(f, ".!?'-–"))]
	}
	if len(fields) < mostNameWords || small(fields[0]) {
		return 0
	}
	at := slices.IndexFunc(fields, small)
	if at < 0 || at+1 >= len(fields) || !small(fields[at+1]) {
		return 0
	}
	return at
}

// AnimalIn reports whether words that list a crew name an animal or a toy among them, of
// which People makes nobody.
func AnimalIn(text string) bool {
	return slices.ContainsFunc(strings.FieldsFunc(Lowered(Enumerated(text)), func(r rune) bool { return strings.ContainsRune(",;.!?()\n&/+", r) }), func(part string) bool {
		for one := range strings.SplitSeq(part, " and ") {
			if ofAnimal(strings.Fields(one)) {
				return true
			}
		}
		return false
	})
}

// ofAnimal reports whether words that stand for one of a crew are an animal's or a toy's:
// "dog Bo", "Bo the dog", "my cat", "Bo is a dog". A word that people are called by as well
// is one only behind whose it is: Cat is somebody. Whoever has to do with one is somebody too.
func ofAnimal(words []string) bool {
	over := slices.IndexFunc(words, func(w string) bool { return endsName[w] && !lists.has(w, "beast_led") })
	for i, w := range words {
		led := i > 0 && lists.has(words[i-1], "beast_led")
		said := over >= 0 && i > over
		switch {
		case i+1 < len(words) && lists.has(words[i+1], "beast_man"):
		case said && (words[over] != "is" && words[over] != "was" || !led || i+1 < len(words)):
		case lists.has(w, "beast"), led && lists.has(w, "beast_or_name"):
			return true
		}
	}
	return false
}

// OneName reads a message that is one person's name and nothing else, but for
// what they are, which may come after a comma: "Ada Lund, forester".
func OneName(text string) (string, bool) {
	text, title, _ := strings.Cut(text, ",")
	people := People(text)
	if len(people) != 1 || people[0].Name == "" || strings.ContainsAny(text+title, "?;\n") || len(strings.Fields(title)) > mostNameWords {
		return "", false
	}
	if fields := len(strings.Fields(text)); fields > len(strings.Fields(people[0].Name))+2 {
		return "", false // a sentence in which a name may stand
	}
	return people[0].Name, true
}
