package handbook

import (
	"math"
	"slices"
	"strings"
	"testing"
)

// TestRows checks what a reader of the tables relies on, apart from the check
// at load: every row is ordered, finite, in a known unit and says whence.
func TestRows(t *testing.T) {
	if len(Rows()) == 0 {
		t.Fatal("no rows")
	}
	seen := map[string]bool{}
	for _, r := range Rows() {
		if !(r.low <= r.best && r.best <= r.high) {
			t.Errorf("%v: %v, %v, %v out of order", r, r.low, r.best, r.high)
		}
		for _, x := range []float64{r.low, r.best, r.high} {
			if math.IsNaN(x) || math.IsInf(x, 0) || x < 0 {
				t.Errorf("%v: %v", r, x)
			}
		}
		if !knownUnit(r.Unit) {
			t.Errorf("%v: unit %q", r, r.Unit)
		}
		if seen[r.String()] {
			t.Errorf("%v stands twice", r)
		}
		seen[r.String()] = true
		for _, text := range []string{r.Table, r.Key, r.Unit, r.Source, r.Place, r.Read} {
			if text != strings.TrimSpace(text) {
				t.Errorf("%v: stray space in %q", r, text)
			}
		}
		if r.Source == CommonPractice && !r.Assumed() {
			t.Errorf("%v: common practice is an assumption", r)
		}
		if found, ok := Find(r.Table, r.Key); !ok || found != r {
			t.Errorf("%v: Find gives %v, %v", r, found, ok)
		}
	}
}

func TestRowsIsACopy(t *testing.T) {
	before := Rows()[0]
	Rows()[0].best = -1
	if Rows()[0] != before {
		t.Error("a caller changed the tables")
	}
}

func TestFindUnknown(t *testing.T) {
	for _, n := range []name{{"rolling", "lava"}, {"no table", "grass"}, {"", ""}} {
		if r, ok := Find(n.table, n.key); ok || r != (Row{}) {
			t.Errorf("Find(%q, %q) = %v, %v", n.table, n.key, r, ok)
		}
	}
	if got := Keys("no table"); got != nil {
		t.Errorf("Keys of no table = %v", got)
	}
}

func TestCite(t *testing.T) {
	for _, c := range []struct {
		row  Row
		want string
	}{
		{Row{Source: "NAVEDTRA 14251", Place: "ch. 6", Read: ReadThere}, "NAVEDTRA 14251, ch. 6"},
		{Row{Source: "common practice", Read: CommonPractice}, "common practice"},
		{Row{Source: "Peurifoy, Construction Planning", Read: FromMemory}, "Peurifoy, Construction Planning, from memory"},
		{Row{Source: "Noon 1994", Read: SecondHand}, "Noon 1994, second-hand"},
		{Row{Source: "TM 1", Place: "depth names from memory", Read: FromMemory}, "TM 1, depth names from memory"},
	} {
		if got := c.row.Cite(); got != c.want {
			t.Errorf("Cite = %q, want %q", got, c.want)
		}
	}
}

// TestParseRefuses feeds the loader one fault at a time.
func TestParseRefuses(t *testing.T) {
	head := strings.Join(heading, ",") + "\n"
	good := "rolling,x,1,2,3,ratio,a book,p. 1,read\n"
	if some, err := parse(head + "# why\n" + good); err != nil || len(some) != 1 {
		t.Fatalf("the good row: %v, %v", some, err)
	}
	for _, c := range []struct{ fault, text, want string }{
		{"no heading", good, "first line"},
		{"empty file", "", "first line"},
		{"a field missing", head + "rolling,x,1,2,3,ratio,a book,read\n", "wrong number of fields"},
		{"no number", head + "rolling,x,low,2,3,ratio,a book,p. 1,read\n", "rolling/x"},
		{"order", head + "rolling,x,3,2,1,ratio,a book,p. 1,read\n", "out of order"},
		{"best above high", head + "rolling,x,1,4,3,ratio,a book,p. 1,read\n", "out of order"},
		{"not a number", head + "rolling,x,NaN,2,3,ratio,a book,p. 1,read\n", "not finite"},
		{"infinite", head + "rolling,x,1,2,Inf,ratio,a book,p. 1,read\n", "not finite"},
		{"no key", head + "rolling,,1,2,3,ratio,a book,p. 1,read\n", "no table or no key"},
		{"unit", head + "rolling,x,1,2,3,stone,a book,p. 1,read\n", "unknown unit"},
		{"no source", head + "rolling,x,1,2,3,ratio,,p. 1,read\n", "no source"},
		{"how read", head + "rolling,x,1,2,3,ratio,a book,p. 1,heard\n", "how it was read"},
		{"custom dressed as reading", head + "rolling,x,1,2,3,ratio,common practice,,read\n", "cannot be read"},
	} {
		some, err := parse(c.text)
		if err == nil || !strings.Contains(err.Error(), c.want) || some != nil {
			t.Errorf("%s: %v, %v; want an error with %q", c.fault, some, err, c.want)
		}
	}
	if _, err := position([]Row{{Table: "a", Key: "b"}, {Table: "a", Key: "b"}}); err == nil {
		t.Error("a row that stands twice was taken")
	}
}

func TestOurOwnMistakesPanic(t *testing.T) {
	for what, f := range map[string]func(){
		"missing row":            func() { must("rolling", "lava") },
		"force read as ratio":    func() { must(tablePicket, "1").Ratio() },
		"ratio read as count":    func() { r, _ := Find("rolling", "grass"); r.Count() },
		"ratio read as rule":     func() { square(must("rolling", "grass"), 1) },
		"coefficient read plain": func() { must(tableRule, "working chain").Force() },
	} {
		func() {
			defer func() {
				if said, ok := recover().(string); !ok || !strings.HasPrefix(said, "handbook: ") {
					t.Errorf("%s: %q", what, said)
				}
			}()
			f()
			t.Errorf("%s passed", what)
		}()
	}
}

func TestKeysKeepTheOrderOfTheTable(t *testing.T) {
	if got, want := Keys(tablePicket), []string{"1", "1-1-1", "3-2-1"}; !slices.Equal(got, want) {
		t.Errorf("Keys = %v, want %v", got, want)
	}
}
