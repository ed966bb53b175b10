package job

import (
	"os"
	"reflect"
	"regexp"
	"slices"
	"strings"
	"testing"
)

// TestTheDocListsEveryField holds the list of fields in the package's doc against
// the types: each field of each object stands in its row, and nothing else does.
func TestTheDocListsEveryField(t *testing.T) {
	text, err := os.ReadFile("doc.go")
	if err != nil {
		t.Fatal(err)
	}
	_, list, found := strings.Cut(string(text), "# The fields\n")
	if !found {
		t.Fatal("the doc has no list of fields")
	}
	list, _, _ = strings.Cut(list, "// With gear_more")
	rows, at := map[string][]string{}, ""
	line := regexp.MustCompile(`^//\t(\S.*?)?(?:  +(\S.*))?$`)
	for _, l := range strings.Split(list, "\n") {
		m := line.FindStringSubmatch(l)
		if m == nil {
			continue
		}
		if m[1] != "" && !(at != "" && strings.HasSuffix(at, ",")) {
			at = m[1]
		} else if m[1] != "" {
			rows[at+" "+m[1]] = rows[at]
			delete(rows, at)
			at += " " + m[1]
		}
		for _, f := range strings.Split(m[2], ",") {
			if f = strings.TrimSpace(f); f != "" {
				rows[at] = append(rows[at], f)
			}
		}
	}
	for name, of := range map[string]any{
		"sheet": Sheet{}, "load": LoadSheet{}, "lip": LipSheet{}, "tow_point, holding_point": TowPointSheet{}, "puller, pullers, by": PullerSheet{},
		"tackle": TackleSheet{}, "anchors": AnchorSheet{}, "gear": GearSheet{}, "site": SiteSheet{}, "signed": SignatureSheet{}, "seen": SeenSheet{},
	} {
		var want []string
		typ := reflect.TypeOf(of)
		for i := range typ.NumField() {
			if tag, _, _ := strings.Cut(typ.Field(i).Tag.Get("json"), ","); tag != "" && tag != "-" {
				want = append(want, tag)
			}
		}
		got := slices.Clone(rows[name])
		slices.Sort(got)
		slices.Sort(want)
		if !slices.Equal(got, want) {
			t.Errorf("%s: the doc lists %v, the type has %v", name, got, want)
		}
		delete(rows, name)
	}
	for name := range rows {
		t.Errorf("the doc lists %q, which is no object of the sheet", name)
	}
}
