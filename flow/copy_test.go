package flow

import (
	"reflect"
	"testing"

	"github.com/google/go-cmp/cmp"
)

// fill sets all of a value to something, and counts what could be shared.
func fill(v reflect.Value, shares *int) {
	switch v.Kind() {
	case reflect.Pointer:
		*shares++
		v.Set(reflect.New(v.Type().Elem()))
		fill(v.Elem(), shares)
	case reflect.Slice:
		*shares++
		v.Set(reflect.MakeSlice(v.Type(), 2, 5))
		for i := range v.Len() {
			fill(v.Index(i), shares)
		}
	case reflect.Map:
		*shares++
		v.Set(reflect.MakeMap(v.Type()))
		key, is := reflect.New(v.Type().Key()).Elem(), reflect.New(v.Type().Elem()).Elem()
		fill(key, shares)
		fill(is, shares)
		v.SetMapIndex(key, is)
	case reflect.Struct:
		for i := range v.NumField() {
			fill(v.Field(i), shares)
		}
	case reflect.String:
		v.SetString("x")
	case reflect.Bool:
		v.SetBool(true)
	case reflect.Float64:
		v.SetFloat(1.5)
	case reflect.Uint64:
		v.SetUint(7)
	default:
		v.SetInt(7)
	}
}

// walk shows where every pointer, slice and map in a value points.
func walk(path string, v reflect.Value, visit func(path string, at uintptr)) {
	switch v.Kind() {
	case reflect.Pointer:
		visit(path, v.Pointer())
		walk(path, v.Elem(), visit)
	case reflect.Slice:
		visit(path, v.Pointer())
		for i := range v.Len() {
			walk(path+"[]", v.Index(i), visit)
		}
	case reflect.Map:
		visit(path, v.Pointer())
		for at := v.MapRange(); at.Next(); {
			walk(path+"[]", at.Value(), visit)
		}
	case reflect.Struct:
		for i := range v.NumField() {
			walk(path+"."+v.Type().Field(i).Name, v.Field(i), visit)
		}
	}
}

// TestACopyOfAJobSharesNothing: whatever a turn does to its job, the one that
// is kept stays as its log has it.
func TestACopyOfAJobSharesNothing(t *testing.T) {
	s, shares := new(Session), 0
	fill(reflect.ValueOf(s).Elem(), &shares)
	c := s.clone()
	if d := cmp.Diff(s, c); d != "" {
		t.Fatalf("the copy is another job (-job +copy):\n%s", d)
	}
	at := map[uintptr]string{}
	seen := 0
	walk("", reflect.ValueOf(s).Elem(), func(path string, p uintptr) { at[p] = path; seen++ })
	walk("", reflect.ValueOf(c).Elem(), func(path string, p uintptr) {
		if was, ok := at[p]; ok {
			t.Errorf("%s of the copy is %s of the job", path, was)
		}
	})
	if seen != shares || seen < 30 {
		t.Errorf("looked at %d parts of %d", seen, shares)
	}
	if d := cmp.Diff(newSession(), newSession().clone()); d != "" {
		t.Errorf("the copy of an empty job is another (-job +copy):\n%s", d)
	}
}
