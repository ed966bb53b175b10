package hear

import (
	"slices"
	"strings"
	"testing"

	"linetender/calc/handbook"
	"linetender/calc/job"
)

// each calls visit for every row of a class.
func each(t *testing.T, v vocabulary, class string, visit func(words, value string)) {
	t.Helper()
	n := 0
	for _, list := range v {
		for _, p := range list {
			if value, ok := p.means[class]; ok {
				visit(p.name(), value)
				n++
			}
		}
	}
	if n == 0 {
		t.Errorf("no row of class %q", class)
	}
}

// What a row stands for must be a word of the sheet, or a slip in the data
// would turn up only when somebody texts it.
func TestRowsAreWordsOfTheSheet(t *testing.T) {
	var grounds []string
	for _, g := range handbook.Grounds() {
		grounds = append(grounds, string(g))
	}
	yesNo := []string{"true", "false"}
	for class, known := range map[string][]string{
		"ground": grounds, "depth": job.Depths, "belly": yesNo, "dir": job.Pulls, "way": job.Pulls, "above": job.Pulls, "heading": job.Pulls,
		"winch": job.PullerKinds, "hauling": job.PullerKinds, "material": job.Materials, "rkind": job.RatingKinds, "unmarked": job.RatingKinds,
		"stand": {"chocked=true", "chocked=false", "braked=true", "braked=false", "in_line=true", "in_line=false"},
		"cond":  job.Conditions, "pattern": job.Patterns, "soil": job.Soils, "unequal": yesNo, "running": yesNo,
		"locked": {"0", "0.5", "0.75", "1"}, "lip": {"lip", "none"}, "cue": {"load", "puller", "puller named"}, "hedge": {"guess", "unsure", "over", "under", "upto"},
		"attr": {"distance", "run", "reach", "lead", "length", "thick", "girth", "tall", "radius", "weighs", "carries", "side", "offline", "layer", "parts",
			"deep", "hitchheight", "perline", "along"},
	} {
		each(t, talk, class, func(words, value string) {
			if !slices.Contains(known, value) {
				t.Errorf("[%s] %s = %s: not one of %v", class, words, value, known)
			}
		})
	}
	first := func(value string) string { kind, _, _ := strings.Cut(value, " "); return kind }
	each(t, talk, "gear", func(words, value string) {
		f := strings.Fields(value)
		if !slices.Contains(job.GearKinds, f[0]) {
			t.Errorf("[gear] %s = %s", words, value)
		}
		s := job.Sheet{Load: job.LoadSheet{Mass: "1 t", Slope: "1 deg", Pull: "level", Ground: "gravel"}, Gear: []job.GearSheet{{Kind: f[0]}}}
		for _, kv := range f[1:] {
			k, v, _ := strings.Cut(kv, "=")
			if err := s.Set("gear[0]."+k, v); err != nil {
				t.Errorf("[gear] %s: %v", words, err)
			}
		}
		if _, err := s.Case(); err != nil {
			t.Errorf("[gear] %s: %v", words, err)
		}
	})
	each(t, talk, "anchor", func(words, value string) {
		if !slices.Contains(job.AnchorKinds, first(value)) {
			t.Errorf("[anchor] %s = %s", words, value)
		}
	})
	each(t, talk, "hazard", func(words, value string) {
		kind, how, _ := strings.Cut(value, " ")
		if !slices.Contains(job.HazardKinds, kind) || !slices.Contains([]string{"", "asked", "someone", "people"}, how) {
			t.Errorf("[hazard] %s = %s", words, value)
		}
	})
	each(t, talk, "end", func(words, value string) {
		onLoad, onPuller, _ := strings.Cut(strings.TrimSuffix(strings.TrimSuffix(value, " stamped"), " stamp-on-load"), " ")
		if onLoad != "-" && !slices.Contains(job.TowPoints, onLoad) || !slices.Contains(job.Hitches, onPuller) {
			t.Errorf("[end] %s = %s", words, value)
		}
	})
	each(t, talk, "vehicle", func(words, value string) {
		f := strings.Fields(value)
		if !slices.Contains([]string{"load", "puller", "casualty", "part"}, f[0]) || len(f) > 1 && !slices.Contains(job.PullerKinds, f[1]) {
			t.Errorf("[vehicle] %s = %s", words, value)
		}
	})
	each(t, talk, "from", func(words, value string) {
		kind, how, _ := strings.Cut(value, " ")
		if !(kind == "mass" && slices.Contains(job.MassFroms, how) || kind == "slope" && slices.Contains(job.SlopeFroms, how) || value == "any guess") {
			t.Errorf("[from] %s = %s", words, value)
		}
	})
	each(t, talk, "laid", func(words, value string) {
		if !slices.Contains(job.SlingHitches, value) {
			t.Errorf("[laid] %s = %s", words, value)
		}
	})
	each(t, talk, "knot", func(words, value string) {
		if ok := slices.Contains(handbook.KnotNames(), value); !ok && !slices.Contains([]string{"knot", "none", "granny", "sheet bend"}, value) {
			t.Errorf("[knot] %s = %s", words, value)
		}
	})
}

// Every word that the conversation takes at any question does what its row says.
func TestActsAreHeard(t *testing.T) {
	for _, class := range actClasses {
		each(t, acts, class, func(words, value string) {
			name, more := strings.CutSuffix(value, " ...")
			if name == "object" {
				return
			}
			for _, topic := range []Topic{TopicNone, TopicMass, TopicPuller, TopicRope, TopicCheck} {
				if more && (class == "note" || class == "sum") {
					words += " x"
				}
				h := Listen(words, topic)
				if topic == TopicCheck && acts.longest(tokenize(words), 0).means["check"] != "" {
					continue
				}
				if h.Act.String() != name || len(h.Facts) > 0 {
					t.Errorf("after %q, %q is heard as %v %v, want %s", topic, words, h.Act, h.Facts, name)
				}
			}
		})
	}
}

func TestChangeFindsItsTopic(t *testing.T) {
	each(t, acts, "object", func(words, topic string) {
		if h := Listen("change the "+words, TopicNone); h.Act != Change || h.Object != topic {
			t.Errorf("change the %s: %v %q, want %q", words, h.Act, h.Object, topic)
		}
	})
}

func TestActNames(t *testing.T) {
	for a := None; a <= Sum; a++ {
		if a.String() == "" || a.String() == "unknown act" {
			t.Errorf("act %d has no name", int(a))
		}
	}
	if got := Act(99).String(); got != "unknown act" {
		t.Errorf("Act(99) is %q", got)
	}
}

func TestOneSlip(t *testing.T) {
	for _, c := range []struct {
		meant, typed string
		want         bool
	}{
		{"gravel", "gravle", true}, {"gravel", "gravl", true}, {"gravel", "gravell", true}, {"gravel", "grovel", true}, {"gravel", "gtavel", true},
		{"block", "blok", true}, {"block", "blokc", true}, {"chain", "chainn", true}, {"stamped", "stampd", true}, {"polyester", "polyster", true},
		{"gravel", "gravel", false}, {"gravel", "grvale", false}, {"gravel", "gra", false}, {"gravel", "gramel", false},
		{"grass", "glass", false}, {"block", "black", false}, {"chain", "chaein", false}, {"pulley", "pulled", false},
	} {
		if got := oneSlip(c.meant, c.typed); got != c.want {
			t.Errorf("oneSlip(%q, %q) is %v", c.meant, c.typed, got)
		}
	}
}

// TestWordsOfTheirOwn: an ordinary word is no slip of a word of the trade, and no
// number, unit or denial is ever taken for another.
func TestWordsOfTheirOwn(t *testing.T) {
	for _, w := range strings.Fields("food beak chin chins cane gazed gore lies line mash pins pies sale sing sings sell sells steam sump swap tuck star trap " +
		"traps grave reek rear able bolt guard hook hose fame fume take lush tiled popular clove ticket pulled picked leaving leader pocket tipped " +
		"rolled tanked dumped tripped kicked chased cranked framed glass black trick stage state shake swing sting steak truth grasp gross chair " +
		"tone hundrd metrs tonns nothng noone dont three thre degres uncracked unkinked undamged") {
		if p := talk.nearly(w); p != nil {
			t.Errorf("%q is taken for %q", w, p.name())
		}
	}
	for typed, meant := range map[string]string{"blok": "block", "shackel": "shackle", "shackels": "shackles", "polyster": "polyester", "stampd": "stamped",
		"workin": "working", "gravl": "gravel", "gras": "grass", "traktor": "tractor", "wnich": "winch", "damged": "damaged", "nyln": "nylon", "slign": "sling", "brich": "birch"} {
		if p := talk.nearly(typed); p == nil || p.name() != meant {
			t.Errorf("%q is not taken for %q: %v", typed, meant, p)
		}
	}
}
