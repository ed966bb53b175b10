package job_test

import (
	"cmp"
	"encoding/json"
	"reflect"
	"strings"
	"testing"

	"linetender/calc/job"
)

// leaves are the paths of all fields that hold an answer, found from the
// sheet's own tags, so that a new field is tested by being there.
func leaves(path string, t reflect.Type, visit func(path, reads string, t reflect.Type)) {
	for i := range t.NumField() {
		f := t.Field(i)
		name, _, _ := strings.Cut(f.Tag.Get("json"), ",")
		if name == "-" {
			continue
		}
		at := strings.TrimPrefix(path+"."+name, ".")
		ft := f.Type
		for ft.Kind() == reflect.Pointer {
			ft = ft.Elem()
		}
		switch {
		case ft.Kind() == reflect.Struct:
			leaves(at, ft, visit)
		case ft.Kind() == reflect.Slice && ft.Elem().Kind() == reflect.Struct:
			leaves(at+"[0]", ft.Elem(), visit)
		default:
			visit(at, f.Tag.Get("reads"), ft)
		}
	}
}

// example is a text that a field takes, and one that it refuses ("" if it
// takes any text until the case is read).
func example(t reflect.Type) (good, bad string) {
	switch t.Kind() {
	case reflect.Bool:
		return "true", "perhaps"
	case reflect.Int:
		return "2", "many"
	case reflect.Float64:
		return "0.25", "1.5"
	case reflect.Slice:
		return "one, two", ""
	}
	return "some text", ""
}

func written(t *testing.T, s job.Sheet) string {
	t.Helper()
	text, err := json.Marshal(s)
	if err != nil {
		t.Fatal(err)
	}
	return string(text)
}

func TestEveryFieldIsSetReadTakenBackAndRefused(t *testing.T) {
	seen := 0
	var full job.Sheet
	leaves("", reflect.TypeFor[job.Sheet](), func(path, _ string, ft reflect.Type) {
		seen++
		var s job.Sheet
		good, bad := example(ft)
		if got, said := s.Get(path); said {
			t.Errorf("%s: nobody has said, and it reads %q", path, got)
		}
		if err := s.Set(path, " "+good+" "); err != nil {
			t.Errorf("%s = %q: %v", path, good, err)
			return
		}
		if got, said := s.Get(path); got != good || !said {
			t.Errorf("%s = %q reads %q, %v", path, good, got, said)
		}
		if err := full.Set(path, good); err != nil {
			t.Errorf("%s on top of the rest: %v", path, err)
		}
		before := written(t, s)
		if _, err := job.Decode([]byte(before)); err != nil {
			t.Errorf("%s: what Set wrote is refused: %v", path, err)
		}
		if bad != "" {
			err := s.Set(path, bad)
			if err == nil {
				t.Errorf("%s = %q is taken", path, bad)
			} else {
				oneLine(t, err)
				if !strings.HasPrefix(err.Error(), path+": ") {
					t.Errorf("%s: the refusal reads %q", path, err)
				}
			}
			if after := written(t, s); after != before {
				t.Errorf("%s: a refusal turned %s into %s", path, before, after)
			}
		}
		if err := s.Set(path, ""); err != nil {
			t.Errorf("%s taken back: %v", path, err)
		}
		if got, said := s.Get(path); said {
			t.Errorf("%s was taken back and reads %q", path, got)
		}
	})
	if seen < 100 {
		t.Fatalf("only %d fields were found", seen)
	}
	// All at once they still hold, whatever was set after them.
	leaves("", reflect.TypeFor[job.Sheet](), func(path, _ string, ft reflect.Type) {
		good, _ := example(ft)
		if got, said := full.Get(path); got != good || !said {
			t.Errorf("in the full sheet %s reads %q, %v", path, got, said)
		}
	})
	back, err := job.Decode([]byte(written(t, full)))
	if err != nil {
		t.Fatal(err)
	}
	if !reflect.DeepEqual(back, full) {
		t.Errorf("written and read back it is\n%+v, not\n%+v", back, full)
	}
}

// What is set in a copy, taken back or refused there, is not in the sheet that
// it was copied from.
func TestSetChangesNoCopy(t *testing.T) {
	var s job.Sheet
	all := func(do func(path, good, bad string)) {
		leaves("", reflect.TypeFor[job.Sheet](), func(path, _ string, ft reflect.Type) {
			good, bad := example(ft)
			do(path, good, bad)
		})
	}
	all(func(path, good, _ string) {
		if err := s.Set(path, good); err != nil {
			t.Fatal(err)
		}
	})
	want := written(t, s)
	other := map[string]string{"true": "false", "2": "1", "0.5": "0.25"}
	changed := 0
	all(func(path, good, bad string) {
		for _, text := range []string{cmp.Or(other[good], good), bad, ""} {
			c := s
			if c.Set(path, text) == nil && written(t, c) != want {
				changed++
			}
			if got := written(t, s); got != want {
				t.Fatalf("%s = %q in a copy made the sheet\n%s", path, text, got)
			}
		}
	})
	if changed < 100 {
		t.Errorf("only %d copies were changed", changed)
	}
}

// A clone shares nothing: whatever is changed in one is not in the other.
func TestCloneSharesNothing(t *testing.T) {
	var s job.Sheet
	leaves("", reflect.TypeFor[job.Sheet](), func(path, _ string, ft reflect.Type) {
		good, _ := example(ft)
		if err := s.Set(path, good); err != nil {
			t.Fatal(err)
		}
	})
	c, err := s.Clone()
	if err != nil {
		t.Fatal(err)
	}
	if !reflect.DeepEqual(c, s) {
		t.Fatalf("the clone is %+v, not %+v", c, s)
	}
	apart(t, "", reflect.ValueOf(s), reflect.ValueOf(c))
}

// apart fails where a and b lead to the same memory.
func apart(t *testing.T, path string, a, b reflect.Value) {
	t.Helper()
	switch a.Kind() {
	case reflect.Pointer:
		if a.IsNil() {
			t.Errorf("%s is not filled, so nothing is shown", path)
			return
		}
		if a.Pointer() == b.Pointer() {
			t.Errorf("%s is shared", path)
		}
		apart(t, path, a.Elem(), b.Elem())
	case reflect.Slice:
		if a.Len() == 0 {
			t.Errorf("%s is empty, so nothing is shown", path)
			return
		}
		if a.Pointer() == b.Pointer() {
			t.Errorf("%s is shared", path)
		}
		for i := range a.Len() {
			apart(t, path, a.Index(i), b.Index(i))
		}
	case reflect.Struct:
		for i := range a.NumField() {
			apart(t, strings.TrimPrefix(path+"."+a.Type().Field(i).Name, "."), a.Field(i), b.Field(i))
		}
	}
}

// A list grows by one at its end and nowhere else, and a lip comes and goes.
func TestSetListsAndLip(t *testing.T) {
	var s job.Sheet
	for _, r := range []struct {
		path, text string
		taken      bool
	}{
		{"gear[1].kind", "rope", false}, {"gear[0].kind", "rope", true}, {"gear[1].kind", "block", true}, {"gear[3].kind", "hook", false},
		{"gear[-1].kind", "rope", false}, {"gear[1000].kind", "rope", false}, {"hazards[0]", "water", false}, {"pullers[0].people", "0", false},
		{"load.lip", "none", true}, {"load.lip.height", "10 cm", true}, {"load.lip", "none", true}, {"load.lip", "high", false},
		{"site.chocks", "0", true}, {"tackle.parts", "31", false}, {"tackle.lead_blocks", "0", true}, {"crew", "1e2", false}, {"crew", "NaN", false},
		{"load.locked", "NaN", false}, {"load.locked", "Inf", false}, {"load.locked", "0x1p-2", false}, {"load.locked", "1_0e-2", false}, {"crew", "007", false},
	} {
		before := written(t, s)
		err := s.Set(r.path, r.text)
		if (err == nil) != r.taken {
			t.Errorf("%s = %q: %v", r.path, r.text, err)
		}
		if err != nil {
			oneLine(t, err)
			if after := written(t, s); after != before {
				t.Errorf("%s = %q was refused and turned %s into %s", r.path, r.text, before, after)
			}
		}
		if _, err := job.Decode([]byte(written(t, s))); err != nil {
			t.Errorf("%s = %q: what stands now is refused: %v", r.path, r.text, err)
		}
	}
}
