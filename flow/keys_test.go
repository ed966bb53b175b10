package flow

import (
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"

	"linetender/flow/wording"
)

// families are the sections whose keys are made from what they are about.
var families = []string{"ask", "how", "why", "like", "name", "choice", "check", "hazard", "role", "place", "duty", "decision", "severity", "field", "detail", "use", "side", "span", "unit", "form", "menu", "state", "codefor", "welcome", "told", "stage", "hold", "going", "sure", "saw", "look", "bite", "cause", "retire", "debrief", "show", "itemhow", "itemname", "itemwhy", "tocome", "decided"}

// TestNoMessageIsIdle: every message of the file is used, by its constant or
// as one of a family; wording that nothing says would rot unseen.
func TestNoMessageIsIdle(t *testing.T) {
	files, err := filepath.Glob("*.go")
	if err != nil || len(files) == 0 {
		t.Fatalf("no sources: %v", err)
	}
	used := map[string]bool{}
	constant := regexp.MustCompile(`wording\.([A-Z]\w+)`)
	for _, f := range files {
		if strings.HasSuffix(f, "_test.go") {
			continue
		}
		body, err := os.ReadFile(f)
		if err != nil {
			t.Fatal(err)
		}
		for _, m := range constant.FindAllStringSubmatch(string(body), -1) {
			used[m[1]] = true
		}
	}
	for _, k := range wording.English().Keys() {
		section, name, _ := strings.Cut(string(k), ".")
		family := false
		for _, f := range families {
			family = family || f == section
		}
		plain := name // said in place of it for another kind of puller, a rig without blocks or a holding line, or a load left on its slope
		for _, kind := range []string{"_hand_winch", "_winch", "_people", "_unheld", "_straight", "_left", "_out"} {
			plain = strings.TrimSuffix(plain, kind)
		}
		if family || used[camel(section)+camel(name)] || used[camel(section)+camel(plain)] {
			continue
		}
		t.Errorf("nothing says %s", k)
	}
	// Within a family, what is asked about is a topic, a check or a state.
	topics := map[string]bool{"check": true}
	for _, list := range [][]topic{firstTopics, laterTopics} {
		for _, tp := range list {
			_, name, _ := strings.Cut(string(tp.key("ask")), ".")
			topics[name] = true
		}
	}
	for _, s := range states() {
		topics[string(s)] = true
	}
	topics["puller_hitch_winch"], topics["puller_hitch_rating_winch"], topics["puller_hitch_height_winch"], topics["cwt"], topics["people_rest"], topics["people_still"], topics["people_unhurt"], topics["gear_diameter_block"], topics["gear_condition_told"], topics["sign_put"], topics["closing"], topics["hazard_word"], topics["names_more"], topics["better"] = true, true, true, true, true, true, true, true, true, true, true, true, true, true
	topics["sign_aloud"], topics["which_nth"] = true, true
	for _, k := range wording.English().Keys() {
		section, name, _ := strings.Cut(string(k), ".")
		switch section {
		case "ask", "how", "why", "like", "name":
			if !topics[name] {
				t.Errorf("%s is about nothing that is asked", k)
			}
		}
	}
}

func camel(s string) string {
	var b strings.Builder
	for _, w := range strings.Split(s, "_") {
		if w != "" {
			b.WriteString(strings.ToUpper(w[:1]) + w[1:])
		}
	}
	return b.String()
}
