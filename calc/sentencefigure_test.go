package calc

import (
	"math"
	"regexp"
	"strings"
	"testing"

	"linetender/calc/handbook"
	"linetender/calc/unit"
)

// figureSaid is a figure that a sentence writes out.
type figureSaid struct {
	key, says string
	told, row float64
	notOfARow string
}

// inWords are figures that the sentences of the check table write out. What a row
// of the handbook gives stands beside it, so that a row that is changed and a
// sentence that is not do not part; the rest are no figures of a row, and say why.
func inWords() []figureSaid {
	clear, _ := handbook.OverheadClear()
	battery, _ := handbook.BatteryClear()
	wide, _ := handbook.MarginBest()
	half, _ := handbook.PeakSigned()
	guess, _, _ := handbook.MassSpread("guess")
	share, _ := handbook.VehicleAnchorShare()
	anchor, _, _ := handbook.DesignFactor("anchor")
	chock, _ := handbook.ChockHeight()
	chocks, _ := handbook.ChocksLeast()
	signed, _ := handbook.OverridesMost()
	tries, _ := handbook.TriesMost()
	crew := func(kind string) float64 { n, _, _ := handbook.CrewFor(kind); return float64(n) }
	steep, _ := handbook.SlingAngleMost()
	bend := handbook.BendLeast()
	square := handbook.ShackleSideLeast()
	feet := func(l unit.Length) float64 { return math.Round(l.Metres() / unit.Feet(1).Metres()) }
	return []figureSaid{
		{"H1", "stay 10 m", 10, clear.Metres(), ""}, {"H1", "(33 ft)", 33, feet(clear), ""},
		{"H1", "under 3.05 m (10 ft)", 3.05, math.Round(unit.Feet(10).Metres()*100) / 100, ""}, // the law's least
		{"H4/battery", "keep 5 m", 5, battery.Metres(), ""}, {"H4/battery", "(16 ft)", 16, feet(battery), ""},
		{"X2", "No two tries", 2, float64(tries + 1), ""},
		{"X5", "At most two", 2, float64(signed), ""}, {"X5", "More than two", 2, float64(signed), ""},
		{"A4", "half of its grip", 0.5, float64(share), ""},
		{"U1/best", "a quarter more", 1.25, float64(wide), ""},
		{"R3/bend", "keeps half of its strength", 0.5, float64(bend), ""},
		{"R3/aside", "carries half of its rating", 0.5, float64(square), ""},
		{"A1", "twice over", 2, float64(anchor), ""},
		{"A1/legs", "carry half each", 0, 0, "statics: two legs in line"}, {"A1/legs", "at 60 degrees", 60, steep.Degrees(), ""},
		{"R10", "about twice the line", 0, 0, "statics: two lines side by side"}, {"R10", "carries both lines", 0, 0, "which they are"},
		{"R4/half", "passes half its breaking strength", 0.5, float64(half), ""}, {"R4/half", "Over half of its", 0.5, float64(half), ""},
		{"A4/pulls", "they are two", 0, 0, "it and the machine"}, {"T1/own", "they are two", 0, 0, "it and the anchor"},
		{"P3/alone", "a second and a third person", 3, crew("any"), ""},
		{"T5/turned", "between its two lines", 0, 0, "which they are"},
		{"P3/nobody", "takes three people", 3, crew("any"), ""},
		{"P3/two", "three people or the job is one for two", 3, crew("any"), ""}, {"P3/two", "Two people", 2, crew("simple pull"), ""},
		{"P3/two", "so two work", 2, crew("simple pull"), ""}, {"P3/two", "Be three, or four with", 4, crew("holding line"), ""},
		{"T2", "Two wheels", 2, float64(chocks), ""}, {"T2", "chock two", 2, float64(chocks), ""}, {"T2", "two wheels", 2, float64(chocks), ""},
		{"T2/low", "a quarter of its height", 0.25, float64(chock), ""},
		{"L1", "a quarter more", 0.25, float64(guess), ""},
	}
}

var figureInWords = regexp.MustCompile(`(?i)[0-9]+(\.[0-9]+)?|\b(half|quarter|third|fifth|tenth|twice|two|three|four|five|six|seven)\b`)
var places = regexp.MustCompile(`\{[0-9]\}`)

func TestFiguresInSentencesAreTheHandbooks(t *testing.T) {
	for _, w := range inWords() {
		r := rules[w.key]
		if r == nil || !strings.Contains(r.pass+"\n"+r.fail+"\n"+r.unknown, w.says) {
			t.Errorf("%s says nothing of %q", w.key, w.says)
		}
		if w.notOfARow == "" && math.Abs(w.told-w.row) > 1e-9 {
			t.Errorf("%s says %q, and the handbook has %g", w.key, w.says, w.row)
		}
	}
	for k, r := range rules {
		rest := places.ReplaceAllString(strings.Join([]string{r.pass, r.fail, r.unknown}, "\n"), "")
		for _, w := range inWords() {
			if w.key == k {
				rest = strings.ReplaceAll(rest, w.says, "")
			}
		}
		if f := figureInWords.FindString(rest); f != "" {
			t.Errorf("%s: nothing holds %q in %q", k, f, rest)
		}
	}
}
