package job

import (
	"encoding/json"
	"fmt"
	"reflect"
	"strconv"
	"strings"
)

// step takes one part of a path apart: a field's name and, for a list, which
// item, which is -1 for none.
func step(part string) (name string, item int, ok bool) {
	name, rest, list := strings.Cut(part, "[")
	if !list {
		return name, -1, true
	}
	digits, ok := strings.CutSuffix(rest, "]")
	item, err := strconv.Atoi(digits)
	return name, item, ok && err == nil && strings.Trim(digits, "0123456789") == ""
}

// Set writes one field, named as in a refusal ("load.mass", "gear[0].rating"),
// from text as a person would write it. Objects on the way are made; an item
// just past the end of a list is added. "hazards" takes a comma list or
// "none", "knots" likewise; "load.lip" takes "none". Empty text takes the
// field back, so that nobody has said.
//
// Set checks shares, counts, yes and no; quantities and words are read by
// [Sheet.Case]. It changes nothing that a copy of the sheet shares with it: what
// stands on the way to the field is made anew.
// Errors: *FieldError, and the sheet is as it was.
func (s *Sheet) Set(path, text string) error {
	next := *s
	if err := next.set(path, text); err != nil {
		return err
	}
	*s = next
	return nil
}

// Clone returns a copy that shares nothing with s.
//
// Errors: *FieldError if s holds a number that JSON can't, which Set and
// Decode refuse.
func (s Sheet) Clone() (Sheet, error) {
	text, err := json.Marshal(s)
	if err != nil {
		return Sheet{}, refuse("", "%v", err)
	}
	var c Sheet
	if err := json.Unmarshal(text, &c); err != nil {
		return Sheet{}, refuse("", "%v", err)
	}
	return c, nil
}

func (s *Sheet) set(path, text string) error {
	v := reflect.ValueOf(s).Elem()
	var tag string
	for _, part := range strings.Split(path, ".") {
		name, i, ok := step(part)
		if !ok || v.Kind() != reflect.Struct {
			return refuse(path, "there is no such field")
		}
		f, ok := fieldNamed(v.Type(), name)
		if !ok {
			return refuse(path, "there is no such field")
		}
		tag = f.Tag.Get("reads")
		v = v.FieldByIndex(f.Index)
		if i >= 0 {
			if v.Kind() != reflect.Slice || i > v.Len() || i >= MaxCount {
				return refuse(path, "there is no such place in the list")
			}
			list := reflect.MakeSlice(v.Type(), max(i+1, v.Len()), max(i+1, v.Len()))
			reflect.Copy(list, v)
			v.Set(list)
			v = v.Index(i)
		}
		if v.Kind() == reflect.Pointer && v.Type().Elem().Kind() == reflect.Struct {
			own := reflect.New(v.Type().Elem())
			if !v.IsNil() {
				own.Elem().Set(v.Elem())
			}
			v.Set(own)
			v = v.Elem()
		}
		if lip, ok := v.Addr().Interface().(*LipSheet); ok {
			whole := strings.HasSuffix(path, "."+name) && (text == "none" || text == "")
			if lip.None = whole && text == "none"; whole {
				*lip = LipSheet{None: lip.None}
				return nil
			}
		}
	}
	return put(v, path, tag, strings.TrimSpace(text))
}

func put(v reflect.Value, path, tag, text string) error {
	v.SetZero() // what it points to is a copy's too
	if text == "" {
		return nil
	}
	t := v.Type()
	if t.Kind() == reflect.Pointer {
		t = t.Elem()
	}
	refusal := func() error { return refuse(path, "%q does not fit; %s", clip(text), wants(t, tag)) }
	var got any
	switch t.Kind() {
	case reflect.String:
		got = text
	case reflect.Bool:
		b, err := strconv.ParseBool(text)
		if err != nil {
			return refusal()
		}
		got = b
	case reflect.Int, reflect.Float64:
		if err := number(path, t, tag, json.Number(text)); err != nil {
			return err
		}
		got = json.Number(text)
	case reflect.Slice:
		if t.Elem().Kind() != reflect.String {
			return refusal()
		}
		list := []string{}
		for _, w := range strings.Split(text, ",") {
			if w = strings.TrimSpace(w); w != "" && w != "none" {
				list = append(list, w)
			}
		}
		got = list
	default:
		return refusal()
	}
	written, err := json.Marshal(got)
	if err != nil {
		return refusal()
	}
	if err := json.Unmarshal(written, v.Addr().Interface()); err != nil {
		return refusal()
	}
	return nil
}

// Get returns what a field holds, written as Set takes it, and whether
// anybody has said.
func (s *Sheet) Get(path string) (text string, said bool) {
	v := reflect.ValueOf(s).Elem()
	for _, part := range strings.Split(path, ".") {
		name, i, ok := step(part)
		if !ok || v.Kind() != reflect.Struct {
			return "", false
		}
		f, ok := fieldNamed(v.Type(), name)
		if !ok {
			return "", false
		}
		v = v.FieldByIndex(f.Index)
		if i >= 0 {
			if v.Kind() != reflect.Slice || i >= v.Len() {
				return "", false
			}
			v = v.Index(i)
		}
		if v.Kind() == reflect.Pointer {
			if v.IsNil() {
				return "", false
			}
			v = v.Elem()
		}
	}
	switch v.Kind() {
	case reflect.String:
		return v.String(), v.String() != ""
	case reflect.Slice:
		list, ok := v.Interface().([]string)
		if !ok || list == nil {
			return "", false
		}
		if len(list) == 0 {
			return "none", true
		}
		return strings.Join(list, ", "), true
	case reflect.Struct:
		lip, ok := v.Interface().(LipSheet)
		return "none", ok && lip.None
	}
	return fmt.Sprint(v.Interface()), true
}
