package flow

import (
	"os"
	"regexp"
	"strings"
	"testing"

	"linetender/flow/hear"
)

// patterns are those of the package, by their names.
func patterns(t testing.TB) map[string]*hear.Pattern {
	t.Helper()
	return map[string]*hear.Pattern{
		"question": question, "wantsTime": wantsTime, "lookedAt": lookedAt, "mistaken": mistaken, "aboutStop": aboutStop, "asItWas": asItWas,
		"now": now, "past": past, "denied": denied, "harmless": harmless, "orders": orders, "nounOnly": nounOnly, "written": written,
		"rainy": rainy, "rained": rained, "dry": dry, "holdWords": holdWords, "holdAlso": holdAlso,
		"aSide": aSide,
		"below": below, "smokes": smokes, "machine1": machine1, "pullsNow": pullsNow, "goesIn": goesIn, "aPoint": aPoint, "givesWay": givesWay, "onPuller": onPuller, "ofVehicle": ofVehicle, "goesElse": goesElse, "chocking": chocking, "staysIn": staysIn, "takesSlack": takesSlack, "handsOn": handsOn, "slackFirst": slackFirst, "askew": askew, "asksLeave": asksLeave, "beneath": beneath,
		"whoas": whoas, "secureIt": secureIt, "notSound": notSound, "trees": trees, "stayed": stayed, "tieGone": tieGone, "standsBelow": standsBelow, "standsAbove": standsAbove, "wayOfPull": wayOfPull, "tieDenied": tieDenied, "tieWhole": tieWhole, "anchorWord": anchorWord,
		"caredFor": caredFor, "oneMoreHurt": oneMoreHurt, "onSide": onSide, "bareRolled": bareRolled, "beforeFigure": beforeFigure, "ofOther": ofOther, "bareOver": bareOver, "unsays": unsays, "deniesIt": deniesIt, "backNamed": backNamed, "deniedAlone": deniedAlone,
		"supposing": supposing, "weCould": weCould, "wouldIt": wouldIt, "wouldDo": wouldDo, "digIt": digIt, "unloading": unloading, "offLoad": offLoad, "toUnload": toUnload,
		"calmSaid": calmSaid, "standsStill": standsStill, "doubted": doubted,
		"setRight": setRight, "setWrong": setWrong,
		"sinceTold": sinceTold, "namesSlope": namesSlope, "brakeOff": brakeOff, "brakeOn": brakeOn, "ramped": ramped, "toRamp": toRamp,
		"movedWords": movedWords, "tookWords": tookWords, "forceWords": forceWords, "cellWords": cellWords, "stood": stood, "everyone": everyone,
	}
}

// textedTexts are the messages of testdata/texted.txt, one or more.
func textedTexts(t testing.TB) []string {
	t.Helper()
	body, err := os.ReadFile("testdata/texted.txt")
	if err != nil {
		t.Fatal(err)
	}
	var out []string
	for l := range strings.Lines(string(body)) {
		if _, text, ok := strings.Cut(l, " | "); ok && strings.HasPrefix(l, "> ") {
			out = append(out, strings.TrimSuffix(text, "\n"))
		}
	}
	if len(out) == 0 {
		t.Fatal("no message in testdata/texted.txt")
	}
	return out
}

// same holds a pattern against its expression.
func sameAs(t *testing.T, p *hear.Pattern, text string) {
	t.Helper()
	if got, want := p.MatchString(text), p.Regexp().MatchString(text); got != want {
		t.Fatalf("%q matches %q: %v; its expression says %v (it looks for %q)", p, text, got, want, p.Needs())
	}
	if got, want := p.ReplaceAllString(text, "<$0>"), p.Regexp().ReplaceAllString(text, "<$0>"); got != want {
		t.Fatalf("%q in %q: %q; its expression makes it %q (it looks for %q)", p, text, got, want, p.Needs())
	}
	if got, want := strings.Join(p.FindStringSubmatch(text), "|"), strings.Join(p.Regexp().FindStringSubmatch(text), "|"); got != want {
		t.Fatalf("%q in %q: %q; its expression finds %q (it looks for %q)", p, text, got, want, p.Needs())
	}
}

// Every pattern answers as its expression does, to all that people were seen to
// write, to all that the patterns look for, alone and in pairs, and nothing of it
// is read without being counted here.
func TestPatternsAnswerAsTheirExpressions(t *testing.T) {
	Lone(t)
	all := patterns(t)
	files, err := os.ReadDir(".")
	if err != nil {
		t.Fatal(err)
	}
	made := 0
	for _, f := range files {
		if !strings.HasSuffix(f.Name(), ".go") || strings.HasSuffix(f.Name(), "_test.go") {
			continue
		}
		code, err := os.ReadFile(f.Name())
		if err != nil {
			t.Fatal(err)
		}
		made += len(regexp.MustCompile(`(?:= |: )hear\.Expression\(`).FindAll(code, -1))
	}
	if made != len(all) {
		t.Errorf("the code has %d patterns, and %d are held against their expressions", made, len(all))
	}
	var texts []string
	for _, text := range textedTexts(t) {
		texts = append(texts, text, hear.Lowered(text))
	}
	for _, p := range all {
		for _, set := range p.Needs() {
			for i, n := range set {
				all := n
				for _, other := range p.Needs() {
					all += " " + other[i%len(other)]
				}
				texts = append(texts, n, all, n+" "+set[(i*7+3)%len(set)], "the "+n+"s it")
			}
		}
	}
	idle, asked := 0, 0
	for _, p := range all {
		for i, text := range texts {
			asked++
			if !p.May(text) {
				idle++
				if p.Regexp().MatchString(text) {
					t.Fatalf("%q matches %q and is said to hold not what that needs: %q", p, text, p.Needs())
				}
			}
			if i%97 == 0 || i < 3 {
				sameAs(t, p, text)
			}
		}
	}
	if idle < asked/2 {
		t.Errorf("of %d questions only %d are answered without the expression", asked, idle)
	}
}
