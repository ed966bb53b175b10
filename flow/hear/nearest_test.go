package hear

import (
	"slices"
	"testing"
)

// A misspelt name is near what it may be meant for, and an unknown one near nothing.
func TestNearest(t *testing.T) {
	called := map[string]string{"copper beech": "anchors[1]"}
	for text, want := range map[string][]string{
		"wieght 2.6 t":         {"mass 2.6 t"},
		"the slop to 12 deg":   {"slope 12 deg"},
		"anker":                {"anchor "},
		"shekel":               {"shackle "},
		"tow piont ratting":    {"tow_point.rating "},
		"trator weigth to 3 t": {"puller.mass 3 t"},
		"coper beach":          {"anchors[1] "},
		"flux":                 nil,
		"the moon":             nil,
		"":                     nil,
	} {
		var got []string
		for _, m := range Nearest(text, called) {
			got = append(got, m.Object+" "+m.Value)
		}
		if !slices.Equal(got, want) {
			t.Errorf("%q is near %q, want %q", text, got, want)
		}
	}
}
