package hear

import (
	"fmt"
	"regexp"
	"strings"
)

// Forms are lists of words, and of the shapes of sentences, that are read as
// regular expressions: a row <name> stands for what the list of that name holds.
type forms map[string]*Pattern

// reference is how a row names another list.
var reference = regexp.MustCompile(`<([a-z]+)>`)

// marked stands in a text for one of the crew, by their place in the list of names.
const marked = `qn\d+x`

// loadForms reads the lists of files under words. A list that is named and not
// there, or one that names itself, is our own bug.
func loadForms(names ...string) forms {
	rows := map[string][]string{"name": {marked}}
	for _, name := range names {
		readLists(name, rows)
	}
	out := forms{}
	for list := range rows {
		out[list] = Expression(spelledOut(rows, list, 0))
	}
	return out
}

// readLists adds to rows, by list, what a file under words has: the name of each list in
// brackets and its rows below. A list that is there already, and a row that stands in
// none, is our own bug.
func readLists(name string, rows map[string][]string) {
	text, err := files.ReadFile("words/" + name + ".txt")
	if err != nil {
		panic("hear: " + err.Error())
	}
	list := ""
	for n, row := range strings.Split(string(text), "\n") {
		switch {
		case row == "" || strings.HasPrefix(row, "# ") || row == "#":
		case strings.HasPrefix(row, "[") && strings.HasSuffix(row, "]") && !strings.Contains(row, "|"):
			list = strings.Trim(row, "[]")
			if rows[list] != nil {
				panic(fmt.Sprintf("hear: words/%s.txt line %d: %s is there already", name, n+1, list))
			}
		case list == "":
			panic(fmt.Sprintf("hear: words/%s.txt line %d stands in no list", name, n+1))
		default:
			rows[list] = append(rows[list], row)
		}
	}
}

// spelledOut is one list with every list that it names in its place.
func spelledOut(rows map[string][]string, list string, deep int) string {
	if len(rows[list]) == 0 || deep > 8 {
		panic(fmt.Sprintf("hear: the list %q is empty or names itself", list))
	}
	joined := strings.Join(rows[list], "|")
	return "(?:" + reference.ReplaceAllStringFunc(joined, func(ref string) string {
		return spelledOut(rows, strings.Trim(ref, "<>"), deep+1)
	}) + ")"
}

// in reports whether words hold a form of a list.
func (f forms) in(list, words string) bool { return f.get(list).MatchString(words) }

// group returns what stands in the first group of the form that words hold.
func (f forms) group(list, words string) (string, bool) {
	m := f.get(list).FindStringSubmatch(words)
	if m == nil {
		return "", false
	}
	for _, g := range m[1:] {
		if g != "" {
			return g, true
		}
	}
	return "", true
}

func (f forms) get(list string) *Pattern {
	if re := f[list]; re != nil {
		return re
	}
	panic("hear: there is no list " + list)
}
