package job

import (
	"bytes"
	"encoding/json"
	"errors"
	"fmt"
	"reflect"
	"strings"
	"sync"
)

// MaxBytes is the largest case that Decode reads.
const MaxBytes = 1 << 20

// A FieldError refuses one field of a sheet. Its text is one line that names
// the field and says what would be right.
type FieldError struct{ Path, Problem string }

func (e *FieldError) Error() string {
	if e.Path == "" {
		return e.Problem
	}
	return e.Path + ": " + e.Problem
}

func refuse(path, format string, args ...any) error {
	return &FieldError{Path: path, Problem: fmt.Sprintf(format, args...)}
}

// byteOrder is what some editors put before a UTF-8 text.
var byteOrder = []byte("\xef\xbb\xbf")

// Decode reads one sheet from JSON. It refuses what is no UTF-8, an unknown field
// (naming the nearest), a field given twice, a value of the wrong kind, text after
// the object and more than MaxBytes. It does not read quantities or words; that
// is [Sheet.Case].
//
// Errors: *FieldError.
func Decode(text []byte) (Sheet, error) {
	if len(text) > MaxBytes {
		return Sheet{}, refuse("", "the case is over 1 MiB; write one case of at most 1 MiB")
	}
	text = bytes.TrimPrefix(text, byteOrder)
	if i := firstBad(text); i >= 0 {
		return Sheet{}, refuse("", "the text is not UTF-8 at %s; save the file as UTF-8", place(text, i))
	}
	d := json.NewDecoder(bytes.NewReader(text))
	d.UseNumber()
	w := walker{d: d, text: text}
	first, err := w.next("")
	if err != nil {
		return Sheet{}, err
	}
	if first != json.Delim('{') {
		return Sheet{}, refuse("", `the case must be one JSON object, such as {"load": {...}}`)
	}
	if err := w.object("", reflect.TypeFor[Sheet]()); err != nil {
		return Sheet{}, err
	}
	if rest := bytes.TrimSpace(text[d.InputOffset():]); len(rest) > 0 {
		return Sheet{}, refuse("", "there is text after the case's closing brace; one file holds one object")
	}
	var s Sheet
	if err := json.Unmarshal(text, &s); err != nil {
		return Sheet{}, refuse("", "this is not the JSON of a case; write one object, such as {\"load\": {...}}")
	}
	return s, nil
}

// walker checks the shape of JSON text against the fields of a type before
// encoding/json fills it, because that would take a field twice, match names
// whatever their case and stop at the first object.
type walker struct {
	d    *json.Decoder
	text []byte
}

func (w *walker) next(path string) (json.Token, error) {
	t, err := w.d.Token()
	if err == nil {
		return t, nil
	}
	var bad *json.SyntaxError
	if errors.As(err, &bad) {
		if at := w.wrongAt(); at >= 0 && at < len(w.text) {
			return nil, refuse(path, "the JSON is broken at %s", w.broken(at))
		}
	}
	return nil, refuse(path, "the JSON ends too early; write one whole object with its closing brace")
}

func (w *walker) object(path string, t reflect.Type) error {
	fields := fieldsOf(t)
	seen := map[string]bool{}
	for {
		tok, err := w.next(path)
		if err != nil {
			return err
		}
		if tok == json.Delim('}') {
			return nil
		}
		name := tok.(string)
		at := join(path, name)
		f, ok := fields[name]
		if !ok {
			return unknownField(path, name, fields)
		}
		if seen[name] {
			return refuse(at, "this field is given twice; give it once")
		}
		seen[name] = true
		if err := w.value(at, f.Type, f.Tag.Get("reads")); err != nil {
			return err
		}
	}
}

func (w *walker) value(path string, t reflect.Type, reads string) error {
	tok, err := w.next(path)
	if err != nil {
		return err
	}
	for t.Kind() == reflect.Pointer {
		t = t.Elem()
	}
	if tok == nil {
		if t == reflect.TypeFor[LipSheet]() {
			return nil
		}
		return refuse(path, "null is not an answer here; %s, or leave the field out", wants(t, reads))
	}
	switch v := tok.(type) {
	case json.Delim:
		if v == '{' && t.Kind() == reflect.Struct {
			return w.object(path, t)
		}
		if v == '[' && t.Kind() == reflect.Slice {
			return w.list(path, t.Elem())
		}
	case string:
		if t.Kind() == reflect.String {
			if strings.TrimSpace(v) == "" {
				return refuse(path, "the text is empty; %s, or leave the field out", wants(t, reads))
			}
			return nil
		}
	case bool:
		if t.Kind() == reflect.Bool {
			return nil
		}
	case json.Number:
		if t.Kind() == reflect.Int || t.Kind() == reflect.Float64 {
			return number(path, t, reads, v)
		}
		if t.Kind() == reflect.String && quantities[reads] != "" {
			return refuse(path, "%s has no unit; %s", clip(v.String()), wants(t, reads))
		}
	}
	return refuse(path, "this kind of value does not fit here; %s", wants(t, reads))
}

func (w *walker) list(path string, elem reflect.Type) error {
	for i := 0; ; i++ {
		if !w.d.More() {
			_, err := w.next(path)
			return err
		}
		if err := w.value(fmt.Sprintf("%s[%d]", path, i), elem, "word"); err != nil {
			return err
		}
	}
}

func number(path string, t reflect.Type, reads string, n json.Number) error {
	if t.Kind() == reflect.Float64 {
		v, err := n.Float64()
		if err != nil || !(0 <= v && v <= 1) {
			return refuse(path, "%s is no share; write a number from 0 to 1, such as 0.5", clip(n.String()))
		}
		return nil
	}
	least, most := int64(0), int64(MaxCount)
	switch reads {
	case "count":
		least = 1
	case "parts":
		least, most = 1, MaxParts
	case "leads":
		most = MaxParts
	}
	v, err := n.Int64()
	if err != nil || v < least || v > most {
		return refuse(path, "%s does not fit; write a whole number from %d to %d", clip(n.String()), least, most)
	}
	return nil
}

// MaxCount is the largest count that a sheet takes.
const MaxCount = 1000

var quantities = map[string]string{
	"mass":   "write a number and a unit, such as 2400 kg or 5200 lb",
	"force":  "write a number and a unit, such as 12 kN or 2.2 t",
	"length": "write a number and a unit, such as 24 mm or 60 ft",
	"slope":  "write a slope, such as 14 deg, 25 %, 1 in 4 or level 48 in, gap 9 in",
	"angle":  "write an angle in degrees, such as 10 deg",
}

// wants says what a field of type t would take.
func wants(t reflect.Type, reads string) string {
	if q := quantities[reads]; q != "" {
		return q
	}
	switch t.Kind() {
	case reflect.Bool:
		return "write true or false"
	case reflect.Int:
		return "write a whole number"
	case reflect.Float64:
		return "write a number from 0 to 1"
	case reflect.Slice:
		return "write a list in square brackets"
	case reflect.Struct:
		return "write an object in braces"
	}
	return "write a text in quotes"
}

func fieldsOf(t reflect.Type) map[string]reflect.StructField {
	out := make(map[string]reflect.StructField, t.NumField())
	for i := range t.NumField() {
		f := t.Field(i)
		if name, _, _ := strings.Cut(f.Tag.Get("json"), ","); name != "" && name != "-" {
			out[name] = f
		}
	}
	return out
}

// fieldNamed is one of them, of a sheet or of what is in one.
func fieldNamed(t reflect.Type, want string) (reflect.StructField, bool) {
	f, ok := sheetFields()[t][want]
	return f, ok
}

// sheetFields are the fields of a sheet and of all that is in one, by type and name.
var sheetFields = sync.OnceValue(func() map[reflect.Type]map[string]reflect.StructField {
	all := map[reflect.Type]map[string]reflect.StructField{}
	var add func(t reflect.Type)
	add = func(t reflect.Type) {
		for t.Kind() == reflect.Pointer || t.Kind() == reflect.Slice {
			t = t.Elem()
		}
		if t.Kind() != reflect.Struct || all[t] != nil {
			return
		}
		all[t] = map[string]reflect.StructField{}
		for i := range t.NumField() {
			f := t.Field(i)
			if name, _, _ := strings.Cut(f.Tag.Get("json"), ","); name != "" && name != "-" {
				all[t][name] = f
			}
			add(f.Type)
		}
	}
	add(reflect.TypeFor[Sheet]())
	return all
})

func unknownField(path, name string, fields map[string]reflect.StructField) error {
	known := make([]string, 0, len(fields))
	for k := range fields {
		known = append(known, k)
	}
	where := path
	if where == "" {
		where = "the case"
	}
	if near := Nearest(name, sorted(known)); near != "" {
		return refuse(join(path, name), "%s has no such field; the nearest is %q", where, near)
	}
	return refuse(join(path, name), "%s has no such field; it takes %s", where, strings.Join(sorted(known), ", "))
}

// join adds a field's name to a path; a name that is no plain word is quoted,
// so that a refusal stays on one line, and a long one is cut short.
func join(path, name string) string {
	name = clip(name)
	if strings.ContainsFunc(name, func(c rune) bool { return c != '_' && (c < 'a' || c > 'z') }) {
		name = fmt.Sprintf("%q", name)
	}
	if path == "" {
		return name
	}
	return path + "." + name
}

// UnmarshalJSON takes null as "there is no step".
func (l *LipSheet) UnmarshalJSON(text []byte) error {
	if string(text) == "null" {
		*l = LipSheet{None: true}
		return nil
	}
	type plain LipSheet
	return json.Unmarshal(text, (*plain)(l))
}

// MarshalJSON writes null for "there is no step".
func (l LipSheet) MarshalJSON() ([]byte, error) {
	if l.None {
		return []byte("null"), nil
	}
	type plain LipSheet
	return json.Marshal(plain(l))
}
