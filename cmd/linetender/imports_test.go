package main

import (
	"encoding/json"
	"errors"
	"io"
	"os/exec"
	"strings"
	"testing"
)

const module = "linetender"

// rule says what the packages under one folder may import of this module and
// of libraries. The standard library is free unless a rule bans part of it.
type rule struct {
	folder string   // relative to the module; "calc/*" is any folder below calc that no earlier rule names
	own    []string // "x" is x alone, "x/..." is x and all below it
	libs   []string // module or package path and all below it
	banned []string // of the standard library, and all below
}

// pure is what a calculation has no use for: clocks, files, input and output,
// logs, chance, the network.
var pure = []string{"context", "time", "os", "io", "log", "math/rand", "crypto/rand", "net"}

// rules in order: the first that matches a package counts.
var rules = []rule{
	{folder: "calc", own: []string{"calc/..."}, banned: pure},
	{folder: "calc/unit", banned: pure},
	{folder: "calc/bound", own: []string{"calc/unit"}, banned: pure},
	{folder: "calc/handbook", own: []string{"calc/unit", "calc/bound"}, banned: pure},
	{folder: "calc/job", own: []string{"calc/unit", "calc/bound", "calc/handbook"}, banned: pure},
	{folder: "calc/internal/proof", own: []string{"calc/unit", "calc/bound"}, libs: []string{"pgregory.net/rapid"}}, // for tests alone
	{folder: "calc/sum", own: []string{"calc/..."}, banned: pure},
	{folder: "calc/*", own: []string{"calc/unit", "calc/bound", "calc/handbook"}, banned: pure},
	{folder: "flow", own: []string{"calc/...", "flow/wording", "flow/hear"}, libs: []string{"github.com/looplab/fsm"}},
	{folder: "flow/wording", own: []string{"calc/unit", "calc/bound"}, libs: []string{"github.com/nicksnyder/go-i18n/v2", "github.com/BurntSushi/toml", "golang.org/x/text"}},
	{folder: "flow/wording/makekeys", libs: []string{"github.com/BurntSushi/toml"}},
	{folder: "flow/script", own: []string{"flow"}, libs: []string{"golang.org/x/tools/txtar"}},
	{folder: "flow/hear", own: []string{"calc/..."}, libs: []string{"golang.org/x/text"}},
	{folder: "flow/terminal", own: []string{"flow", "flow/wording", "flow/hear", "calc/..."}, libs: []string{"golang.org/x/term", "golang.org/x/sys", "golang.org/x/text", "golang.org/x/image", "github.com/mattn/go-runewidth", "github.com/mattn/go-sixel", "github.com/muesli/reflow", "github.com/BurntSushi/toml"}},
	{folder: "flow/telegram", own: []string{"flow", "flow/wording", "flow/hear", "calc/..."}, libs: []string{"github.com/go-telegram/bot", "golang.org/x/time", "github.com/cenkalti/backoff/v5"}},
	{folder: "flow/picture", own: []string{"calc/..."}, libs: []string{"github.com/BurntSushi/toml", "golang.org/x/image"}},
	{folder: "flow/report", own: []string{"flow", "flow/wording", "calc/..."}, libs: []string{"github.com/BurntSushi/toml"}},
	{folder: "flow/archive", own: []string{"flow"}},
	{folder: "flow/telegram/apitest", libs: []string{"github.com/go-telegram/bot"}},
	{folder: "flow/telegram/apitest/maketable"},
	{folder: "store", own: []string{"store/internal/record"}, libs: []string{"go.etcd.io/bbolt"}},
	{folder: "store/internal/record"},
	{folder: "store/memory", own: []string{"store"}},
	{folder: "store/contract", own: []string{"store"}, libs: []string{"pgregory.net/rapid"}},
	{folder: "cmd/linetender", own: []string{"calc/...", "flow/...", "store"},
		libs: []string{"github.com/spf13/cobra", "github.com/spf13/pflag", "github.com/muesli/reflow", "github.com/prometheus/client_golang", "github.com/adrg/xdg", "github.com/schollz/progressbar/v3", "golang.org/x/term"}},
}

type goPackage struct {
	ImportPath string
	Standard   bool
	Imports    []string
}

func listPackages(t *testing.T, args ...string) []goPackage {
	t.Helper()
	cmd := exec.Command("go", append([]string{"list", "-json=ImportPath,Standard,Imports"}, args...)...)
	var stderr strings.Builder
	cmd.Stderr = &stderr
	out, err := cmd.StdoutPipe()
	if err != nil {
		t.Fatal(err)
	}
	if err := cmd.Start(); err != nil {
		t.Fatal(err)
	}
	var found []goPackage
	for d := json.NewDecoder(out); ; {
		var p goPackage
		if err := d.Decode(&p); errors.Is(err, io.EOF) {
			break
		} else if err != nil {
			t.Fatalf("read go list: %v", err)
		}
		found = append(found, p)
	}
	if err := cmd.Wait(); err != nil {
		t.Fatalf("go list: %v\n%s", err, stderr.String())
	}
	if len(found) == 0 {
		t.Fatal("go list named no package")
	}
	return found
}

// TestImportDirection holds every package of the module to the direction of
// imports that the guide for developers promises.
func TestImportDirection(t *testing.T) {
	used := map[string]bool{}
	for _, p := range listPackages(t, module+"/...") {
		folder := strings.TrimPrefix(p.ImportPath, module+"/")
		r, ok := ruleFor(folder)
		if !ok {
			t.Errorf("%s: no rule says what it may import; add one on purpose", folder)
			continue
		}
		used[r.folder] = true
		for _, imported := range p.Imports {
			if why := r.refuses(imported); why != "" {
				t.Errorf("%s imports %s: %s", folder, imported, why)
			}
		}
	}
	// These must be there; a renamed folder must not slip past its rule.
	for _, folder := range []string{"calc", "calc/unit", "calc/job", "flow", "flow/wording", "flow/terminal", "flow/telegram", "store", "cmd/linetender"} {
		if !used[folder] {
			t.Errorf("no package matched the rule for %s", folder)
		}
	}
}

// TestImportRules holds the rules themselves to breaches they must see, and to
// one a folder: of two the second would never count.
func TestImportRules(t *testing.T) {
	seen := map[string]bool{}
	for _, r := range rules {
		if seen[r.folder] {
			t.Errorf("%s has two rules, and the second never counts", r.folder)
		}
		seen[r.folder] = true
	}
	for _, breach := range []struct{ folder, imported string }{
		{"calc/unit", "linetender/calc/bound"},
		{"calc/slope", "linetender/calc/tackle"},
		{"calc/slope", "time"},
		{"calc/slope", "math/rand/v2"},
		{"calc", "linetender/flow"},
		{"calc", "go.etcd.io/bbolt"},
		{"flow", "linetender/store"},
		{"flow", "linetender/flow/terminal"},
		{"flow", "github.com/go-telegram/bot"},
		{"flow/wording", "linetender/flow"},
		{"flow/terminal", "linetender/flow/telegram"},
		{"flow/telegram", "linetender/flow/terminal"},
		{"flow/picture", "linetender/flow/report"},
		{"flow/picture", "linetender/flow"},
		{"flow/report", "linetender/flow/picture"},
		{"flow", "linetender/flow/picture"},
		{"store", "linetender/flow"},
		{"store", "linetender/calc"},
		{"cmd/linetender", "go.etcd.io/bbolt"},
	} {
		r, ok := ruleFor(breach.folder)
		if !ok {
			t.Errorf("no rule for %s", breach.folder)
			continue
		}
		if r.refuses(breach.imported) == "" {
			t.Errorf("%s may import %s, want refused", breach.folder, breach.imported)
		}
	}
}

func ruleFor(folder string) (rule, bool) {
	for _, r := range rules {
		if base, any := strings.CutSuffix(r.folder, "/*"); r.folder == folder || any && strings.HasPrefix(folder, base+"/") {
			return r, true
		}
	}
	return rule{}, false
}

// refuses says why a package under the rule may not import path, or "".
func (r rule) refuses(path string) string {
	if own, ok := strings.CutPrefix(path, module+"/"); ok {
		for _, allowed := range r.own {
			if base, tree := strings.CutSuffix(allowed, "/..."); own == base || tree && strings.HasPrefix(own, base+"/") {
				return ""
			}
		}
		return "may import of this module only " + orNothing(r.own)
	}
	if first, _, _ := strings.Cut(path, "/"); !strings.Contains(first, ".") {
		for _, b := range r.banned {
			if within(path, b) {
				return "a calculation has no use for " + b
			}
		}
		return ""
	}
	for _, lib := range r.libs {
		if within(path, lib) {
			return ""
		}
	}
	return "may import of libraries only " + orNothing(r.libs)
}

func within(path, base string) bool {
	return path == base || strings.HasPrefix(path, base+"/")
}

func orNothing(allowed []string) string {
	if len(allowed) == 0 {
		return "nothing"
	}
	return strings.Join(allowed, ", ")
}
