package apitest

import (
	"encoding/json"
	"fmt"
	"slices"
	"strconv"
	"strings"
	"unicode/utf16"
)

// fits reports how v, as encoding/json with UseNumber decodes it, fails to be one of types;
// nil if it is one.
func (t table) fits(types []string, v any, path string) error {
	var first error
	for _, name := range types {
		err := t.fitsOne(name, v, path)
		if err == nil {
			return nil
		}
		// Of the members of a union, the complaint worth reading is that of the closest one:
		// the one that got past the first look.
		if first == nil || strings.Count(err.Error(), ".") > strings.Count(first.Error(), ".") {
			first = err
		}
	}
	return first
}

func (t table) fitsOne(name string, v any, path string) error {
	wrong := fmt.Errorf("%s must be %s", path, name)
	if inner, ok := strings.CutPrefix(name, "[]"); ok {
		list, ok := v.([]any)
		if !ok {
			return wrong
		}
		for i, item := range list {
			if err := t.fitsOne(inner, item, fmt.Sprintf("%s[%d]", path, i)); err != nil {
				return err
			}
		}
		return nil
	}
	switch name {
	case "String":
		if _, ok := v.(string); !ok {
			return wrong
		}
		return nil
	case "Integer":
		n, ok := v.(json.Number)
		if !ok {
			return wrong
		}
		if _, err := n.Int64(); err != nil {
			return wrong
		}
		return nil
	case "Float":
		if _, ok := v.(json.Number); !ok {
			return wrong
		}
		return nil
	case "Boolean":
		if _, ok := v.(bool); !ok {
			return wrong
		}
		return nil
	case "InputFile":
		if _, ok := v.(Upload); !ok {
			return wrong
		}
		return nil
	}
	if members, ok := t.unions[name]; ok {
		return t.fits(members, v, path)
	}
	obj, ok := v.(map[string]any)
	if !ok {
		return wrong
	}
	s, ok := t.types[name]
	if !ok {
		return nil // an object beyond the table's edge: that it is an object is all that is known
	}
	return t.fitsShape(s, obj, path)
}

// fitsShape checks that obj has every required field of s, none that s does not know, each of
// its type and length.
func (t table) fitsShape(s shape, obj map[string]any, path string) error {
	for _, f := range s.fields {
		if _, ok := obj[f.name]; f.required && !ok {
			return fmt.Errorf("%s.%s is required", path, f.name)
		}
	}
	for _, name := range sortedKeys(obj) {
		f, ok := s.field(name)
		if !ok {
			return fmt.Errorf("%s.%s is not a field of %s", path, name, s.name)
		}
		if err := t.fits(f.types, obj[name], path+"."+name); err != nil {
			return err
		}
		// Text under a parse mode is measured after its entities are taken out, elsewhere.
		_, parsed := obj["parse_mode"]
		if parsed && (name == "text" || name == "caption") {
			continue
		}
		if err := f.measure(obj[name]); err != nil {
			return fmt.Errorf("%s.%s %w", path, name, err)
		}
	}
	return nil
}

// measure checks v against the length that the table gives the field, if it gives one.
func (f field) measure(v any) error {
	var n int
	var what string
	switch f.unit {
	case 'u':
		s, _ := v.(string)
		n, what = Units(s), "UTF-16 units"
	case 'b':
		s, _ := v.(string)
		n, what = len(s), "bytes"
	case 'n':
		num, _ := v.(json.Number)
		n, _ = strconv.Atoi(num.String())
	default:
		return nil
	}
	if n < f.low || n > f.high {
		return fmt.Errorf("is %d %s, allowed are %d to %d", n, what, f.low, f.high)
	}
	return nil
}

// Units returns the length of s as the channel counts it, in UTF-16 code units.
func Units(s string) int {
	n := 0
	for _, r := range s {
		n += max(1, utf16.RuneLen(r))
	}
	return n
}

func sortedKeys[V any](m map[string]V) []string {
	keys := make([]string, 0, len(m))
	for k := range m {
		keys = append(keys, k)
	}
	slices.Sort(keys)
	return keys
}
