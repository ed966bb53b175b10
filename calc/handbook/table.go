package handbook

import (
	"embed"
	"encoding/csv"
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"
)

//go:embed tables/*.csv
var files embed.FS

// rows holds every table in the order of the files, and index finds one. Both
// are filled once, before main, and never change.
var rows, index = load()

// Rows returns every row of every table, in a fixed order.
func Rows() []Row { return slices.Clone(rows) }

// Find returns the row of a table under a key.
func Find(table, key string) (Row, bool) {
	at, ok := index[name{table, key}]
	if !ok {
		return Row{}, false
	}
	return rows[at], true
}

// Keys returns the keys of a table in the order the table has them.
func Keys(table string) []string {
	var keys []string
	for _, r := range rows {
		if r.Table == table {
			keys = append(keys, r.Key)
		}
	}
	return keys
}

type name struct{ table, key string }

// must returns a row the code itself names, so its absence is broken data.
func must(table, key string) Row {
	r, ok := Find(table, key)
	if !ok {
		panic(fmt.Sprintf("handbook: no row %s/%s", table, key))
	}
	return r
}

var heading = []string{"table", "key", "low", "best", "high", "unit", "source", "place", "read"}

func load() ([]Row, map[name]int) {
	entries, err := files.ReadDir("tables")
	if err != nil {
		panic(fmt.Sprintf("handbook: %v", err))
	}
	var all []Row
	for _, e := range entries {
		text, err := files.ReadFile("tables/" + e.Name())
		if err != nil {
			panic(fmt.Sprintf("handbook: %v", err))
		}
		some, err := parse(string(text))
		if err != nil {
			panic(fmt.Sprintf("handbook: %s: %v", e.Name(), err))
		}
		all = append(all, some...)
	}
	at, err := position(all)
	if err != nil {
		panic(fmt.Sprintf("handbook: %v", err))
	}
	return all, at
}

// position indexes rows by table and key and refuses a row that stands twice.
func position(all []Row) (map[name]int, error) {
	at := make(map[name]int, len(all))
	for i, r := range all {
		n := name{r.Table, r.Key}
		if _, twice := at[n]; twice {
			return nil, fmt.Errorf("%v stands twice", r)
		}
		at[n] = i
	}
	return at, nil
}

// parse reads one table file: a heading, then a row a value; lines that begin
// with # say why a figure was chosen.
func parse(text string) ([]Row, error) {
	reader := csv.NewReader(strings.NewReader(text))
	reader.Comment = '#'
	reader.FieldsPerRecord = len(heading)
	records, err := reader.ReadAll()
	if err != nil {
		return nil, err
	}
	if len(records) == 0 || !slices.Equal(records[0], heading) {
		return nil, fmt.Errorf("the first line is not %s", strings.Join(heading, ","))
	}
	var some []Row
	for _, rec := range records[1:] {
		r := Row{Table: rec[0], Key: rec[1], Unit: rec[5], Source: rec[6], Place: rec[7], Read: rec[8]}
		for i, to := range []*float64{&r.low, &r.best, &r.high} {
			if *to, err = strconv.ParseFloat(rec[2+i], 64); err != nil {
				return nil, fmt.Errorf("%v: %w", r, err)
			}
		}
		if err := r.check(); err != nil {
			return nil, fmt.Errorf("%v: %w", r, err)
		}
		some = append(some, r)
	}
	return some, nil
}

// check refuses a row that could mislead: out of order, not finite, in no
// known unit, or without a word on where it comes from.
func (r Row) check() error {
	for _, x := range []float64{r.low, r.best, r.high} {
		if math.IsNaN(x) || math.IsInf(x, 0) {
			return fmt.Errorf("%v is not finite", x)
		}
	}
	switch {
	case r.Table == "" || r.Key == "":
		return fmt.Errorf("no table or no key")
	case !(r.low <= r.best && r.best <= r.high):
		return fmt.Errorf("%v, %v, %v are out of order", r.low, r.best, r.high)
	case !knownUnit(r.Unit):
		return fmt.Errorf("unknown unit %q", r.Unit)
	case r.Source == "":
		return fmt.Errorf("no source")
	case !slices.Contains([]string{ReadThere, SecondHand, Computed, CommonPractice, FromMemory}, r.Read):
		return fmt.Errorf("%q does not say how it was read", r.Read)
	case r.Read != CommonPractice && (r.Source == CommonPractice || r.Source == "judgment") && r.Read != FromMemory:
		return fmt.Errorf("%s cannot be %s", r.Source, r.Read)
	}
	return nil
}

func knownUnit(u string) bool {
	_, force := forces[u]
	_, square := squares[u]
	_, mass := masses[u]
	_, length := lengths[u]
	_, angle := angles[u]
	_, pressure := pressures[u]
	_, duration := durations[u]
	return force || square || mass || length || angle || pressure || duration || plain[u]
}
