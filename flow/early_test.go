package flow_test

import (
	"path/filepath"
	"strings"
	"testing"

	"linetender/flow"
	"linetender/flow/script"
)

// TestNamesToldEarly: names told before anybody asks for them are kept, and not
// asked again, unless they are not as many as there are.
func TestNamesToldEarly(t *testing.T) {
	flow.Lone(t)
	scripts, err := script.Folder(talkDir)
	if err != nil {
		t.Fatal(err)
	}
	for words, asked := range map[string]bool{"we are Ada, Bo, Cy and Di": false, "We're Ada, Bo and Cy": true} {
		p := newPhones(t)
		for _, s := range scripts {
			if filepath.Base(s.Name) != "s01-go-two-parts" {
				continue
			}
			var last string
			for i, st := range s.Steps {
				if st.Input == "Ada, Bo, Cy, Di" {
					break
				}
				if i == 2 {
					if got := said(p.say("Ada", words)["test/Ada"]); !strings.HasPrefix(got, "crew.names_early ask.") {
						t.Fatalf("%q is told %s", words, got)
					}
				}
				last = said(p.say("Ada", st.Input)["test/Ada"])
			}
			if got := strings.Contains(last, "ask.names"); got != asked || !asked && !strings.Contains(last, "crew.line") {
				t.Errorf("after %q the names are asked %v: %s", words, got, last)
			}
		}
	}
	c := newChair(t)
	c.say("hello")
	c.say("none")
	if got := said(c.say("we are wet, cold and stuck")); strings.Contains(got, "crew.names_early") {
		t.Errorf("how they are is taken for who they are: %s", got)
	}
}

// TestNamesInOneBreath: names with nothing between them are each somebody's, and one long
// name is one.
func TestNamesInOneBreath(t *testing.T) {
	flow.Lone(t)
	for text, want := range map[string][]string{
		"jorn tove beno lise kip":   {"jorn", "tove", "beno", "lise"},
		"Jorn Berg, Tove Lund":      {"Jorn Berg", "Tove Lund"},
		"jan van der berg":          {"jan van der"},
		"jorn is the driver and bo": {"jorn", "bo"},
	} {
		_, sent := asksAt(t, "names", text)
		for _, name := range want {
			if !strings.Contains(textOf(sent), "\n"+name+", ") && !strings.Contains(textOf(sent), name+", leader") {
				t.Errorf("%q: %s is nobody's name: %s", text, name, textOf(sent))
			}
		}
	}
}
