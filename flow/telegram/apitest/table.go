package apitest

import (
	_ "embed"
	"fmt"
	"strconv"
	"strings"
)

//go:embed testdata/botapi.txt
var tableText string

// api is the part of the Bot API that is checked, read once from the embedded table.
var api = mustTable(tableText)

// table is the Bot API as facts.
type table struct {
	methods map[string]shape
	types   map[string]shape
	unions  map[string][]string
}

// shape is what a method or an object is made of.
type shape struct {
	name    string
	returns []string
	fields  []field
}

func (s shape) field(name string) (field, bool) {
	for _, f := range s.fields {
		if f.name == name {
			return f, true
		}
	}
	return field{}, false
}

// field is one parameter or member: any of types, with a length if unit is not 0
// ('u' UTF-16 units, 'b' bytes, 'n' the number itself).
type field struct {
	name     string
	required bool
	types    []string
	low      int
	high     int
	unit     byte
}

func mustTable(text string) table {
	t, err := readTable(text)
	if err != nil {
		panic("apitest: embedded table: " + err.Error())
	}
	return t
}

func readTable(text string) (table, error) {
	t := table{methods: map[string]shape{}, types: map[string]shape{}, unions: map[string][]string{}}
	var into map[string]shape
	var name string
	for n, line := range strings.Split(text, "\n") {
		if line == "" || line[0] == '#' {
			continue
		}
		words := strings.Fields(line)
		bad := fmt.Errorf("line %d: %q", n+1, line)
		switch {
		case line[0] == ' ':
			f, ok := readField(words)
			if !ok || into == nil {
				return table{}, bad
			}
			s := into[name]
			s.fields = append(s.fields, f)
			into[name] = s
		case words[0] == "m" && len(words) == 3:
			into, name = t.methods, words[1]
			into[name] = shape{name: name, returns: strings.Split(words[2], "|")}
		case words[0] == "t" && len(words) == 2:
			into, name = t.types, words[1]
			into[name] = shape{name: name}
		case words[0] == "u" && len(words) == 3:
			into = nil
			t.unions[words[1]] = strings.Split(words[2], "|")
		default:
			return table{}, bad
		}
	}
	return t, nil
}

func readField(words []string) (field, bool) {
	if len(words) < 2 || len(words) > 3 {
		return field{}, false
	}
	f := field{name: words[0], required: words[1][0] == '!', types: strings.Split(words[1][1:], "|")}
	if len(words) == 2 {
		return f, true
	}
	span := words[2]
	low, high, ok := strings.Cut(span[:len(span)-1], "-")
	var errLow, errHigh error
	f.unit = span[len(span)-1]
	f.low, errLow = strconv.Atoi(low)
	f.high, errHigh = strconv.Atoi(high)
	return f, ok && errLow == nil && errHigh == nil
}
