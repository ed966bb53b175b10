package flow

import (
	"reflect"
	"sync"
)

// A copier copies a value with all that it points to.
type copier func(to, from reflect.Value)

// copySession copies a session. It is made from the type, so that a field which
// is added is copied without anybody thinking of it.
var copySession = sync.OnceValue(func() copier { return copierFor(reflect.TypeFor[Session]()) })

// copierFor makes the copier of a type; nil where assigning copies all of it.
// The type must not hold itself, nor anything but words, numbers and exported
// fields, slices, maps and pointers of such.
func copierFor(t reflect.Type) copier {
	switch t.Kind() {
	case reflect.Pointer:
		inner := deeply(t.Elem())
		return func(to, from reflect.Value) {
			if !from.IsNil() {
				to.Set(reflect.New(t.Elem()))
				inner(to.Elem(), from.Elem())
			}
		}
	case reflect.Slice:
		return copySlice(t)
	case reflect.Map:
		return copyMap(t)
	case reflect.Struct:
		return copyStruct(t)
	case reflect.Interface, reflect.Chan, reflect.Func, reflect.UnsafePointer, reflect.Array:
		panic("flow: a session may not hold " + t.String())
	}
	return nil
}

// deeply is copierFor where one is needed in any case.
func deeply(t reflect.Type) copier {
	if c := copierFor(t); c != nil {
		return c
	}
	return func(to, from reflect.Value) { to.Set(from) }
}

func copySlice(t reflect.Type) copier {
	each := copierFor(t.Elem())
	return func(to, from reflect.Value) {
		if from.IsNil() {
			return
		}
		to.Set(reflect.MakeSlice(t, from.Len(), from.Len()))
		if each == nil {
			reflect.Copy(to, from)
			return
		}
		for i := range from.Len() {
			each(to.Index(i), from.Index(i))
		}
	}
}

func copyMap(t reflect.Type) copier {
	each := deeply(t.Elem())
	return func(to, from reflect.Value) {
		if from.IsNil() {
			return
		}
		to.Set(reflect.MakeMapWithSize(t, from.Len()))
		if from.Len() == 0 {
			return
		}
		key, was, is := reflect.New(t.Key()).Elem(), reflect.New(t.Elem()).Elem(), reflect.New(t.Elem()).Elem()
		for at := from.MapRange(); at.Next(); {
			key.SetIterKey(at)
			was.SetIterValue(at)
			is.SetZero()
			each(is, was)
			to.SetMapIndex(key, is)
		}
	}
}

func copyStruct(t reflect.Type) copier {
	type part struct {
		field int
		copy  copier
	}
	var parts []part
	for i := range t.NumField() {
		if c := copierFor(t.Field(i).Type); c != nil {
			parts = append(parts, part{i, c})
		}
	}
	if len(parts) == 0 {
		return nil
	}
	return func(to, from reflect.Value) {
		to.Set(from)
		for _, p := range parts {
			to.Field(p.field).SetZero()
			p.copy(to.Field(p.field), from.Field(p.field))
		}
	}
}
