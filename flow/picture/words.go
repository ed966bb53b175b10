package picture

import (
	_ "embed"
	"fmt"
	"math"
	"strconv"
	"strings"

	"github.com/BurntSushi/toml"

	"linetender/calc"
	"linetender/calc/unit"
)

//go:embed en.toml
var english string

var words = readWords()

func readWords() map[string]string {
	var w map[string]string
	if _, err := toml.Decode(english, &w); err != nil {
		panic("picture: built-in words: " + err.Error())
	}
	return w
}

// say words a key, with its arguments in the order the sentence has them. A
// word that the file lacks is our own bug; outside names pass through named.
func say(key string, args ...any) string {
	w, ok := words[key]
	if !ok {
		panic("picture: no words for " + key)
	}
	if len(args) == 0 {
		return w
	}
	return fmt.Sprintf(w, args...)
}

// named words a word of the case, or gives it back where the file has none.
func named(prefix, word string) string {
	if w, ok := words[prefix+"_"+strings.ReplaceAll(word, "-", "_")]; ok {
		return w
	}
	return strings.ReplaceAll(word, "-", " ")
}

// Loads are written rounded up and ratings rounded down, so that no rounding flatters.

func load(f unit.Force) string   { return figure(f.Kilonewtons(), math.Ceil) }
func rating(f unit.Force) string { return figure(f.Kilonewtons(), math.Floor) }

func both(f unit.Force, to func(float64) float64) string {
	return say("force", figure(f.Kilonewtons(), to), figure(f.PoundsForce(), to))
}

// figure writes v with three figures.
func figure(v float64, to func(float64) float64) string { return unit.Short(unit.Figures(v, 3, to)) }

// span writes a range as the chat does: its ends outward, and what is most likely as
// any load is, up, so that a figure that is told in both is one figure.
func span(f calc.Force) (low, best, high string) { return spanTo(f, math.Ceil) }

// spanGiven is span of what is there to pull with, of which the likely is written down.
func spanGiven(f calc.Force) (low, best, high string) { return spanTo(f, math.Floor) }

func spanTo(f calc.Force, to func(float64) float64) (low, best, high string) {
	return figure(f.Low.Kilonewtons(), math.Floor), figure(f.Best.Kilonewtons(), to), figure(f.High.Kilonewtons(), math.Ceil)
}

func percent(r float64) string {
	if r <= 0 {
		return say("nothing_of_it")
	}
	if r > 9.99 {
		return say("over_ten_times")
	}
	return fmt.Sprintf("%.0f %%", math.Ceil(max(0, r*100-1e-9)))
}

func degrees(a unit.Angle) string {
	return strconv.FormatFloat(math.Round(a.Degrees()*10)/10, 'f', -1, 64) + "°"
}

func metres(l unit.Length) string { return figure(l.Metres(), math.Ceil) }

func joined(parts []string) string { return strings.Join(parts, " ") }

// wrap breaks a text into lines no wider than width. A word too long for a
// line is cut, and says so with an ellipsis.
func wrap(text string, size float64, heavy bool, width float64) []string {
	var out []string
	line := ""
	for _, w := range strings.Fields(text) {
		w = cut(w, size, heavy, width)
		if next := strings.TrimSpace(line + " " + w); measure(next, size, heavy) <= width {
			line = next
			continue
		}
		out = append(out, line)
		line = w
	}
	if line != "" {
		out = append(out, line)
	}
	return out
}

// cut shortens a text to a width.
func cut(text string, size float64, heavy bool, width float64) string {
	if measure(text, size, heavy) <= width {
		return text
	}
	r := []rune(text)
	for len(r) > 0 && measure(string(r)+"…", size, heavy) > width {
		r = r[:len(r)-1]
	}
	return strings.TrimSpace(string(r)) + "…"
}
