package flow_test

import (
	"go/ast"
	"go/parser"
	"go/token"
	"maps"
	"path/filepath"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"

	"github.com/BurntSushi/toml"

	"linetender/flow/wording"
)

// TestEverySayHasItsArguments reads all calls in the code that give a message's key with
// its arguments, and holds each against what the message names: an argument that isn't
// given at every time is a message that can't be said. Where the arguments stand in a
// variable, those count that it has at its first. A message must not ask whether an
// argument is there: it is a failure if it isn't, so that needs a second message.
func TestEverySayHasItsArguments(t *testing.T) {
	named := namedArgs(t)
	keys := keyNames(t)
	files, err := filepath.Glob("*.go")
	if err != nil {
		t.Fatal(err)
	}
	seen := 0
	for _, dir := range []string{"report", "picture", "telegram", "terminal", "wording", "../cmd/linetender"} {
		more, err := filepath.Glob(dir + "/*.go")
		if err != nil {
			t.Fatal(err)
		}
		files = append(files, more...)
	}
	for _, name := range files {
		if strings.HasSuffix(name, "_test.go") {
			continue
		}
		set := token.NewFileSet()
		file, err := parser.ParseFile(set, name, nil, 0)
		if err != nil {
			t.Fatal(err)
		}
		for _, d := range file.Decls {
			fn, ok := d.(*ast.FuncDecl)
			if !ok || fn.Body == nil {
				continue
			}
			ast.Inspect(fn.Body, func(n ast.Node) bool {
				call, ok := n.(*ast.CallExpr)
				if !ok || len(call.Args) < 2 {
					return true
				}
				for i, a := range call.Args[:len(call.Args)-1] {
					key, ok := keys[selected(a)]
					if !ok {
						continue
					}
					given, known := givenArgs(call.Args[i+1], firstArgs(fn, call.Pos()))
					if !known {
						continue
					}
					seen++
					for _, arg := range named[key] {
						if !slices.Contains(given, arg) {
							t.Errorf("%s: %s is said without its %s", set.Position(call.Pos()), key, arg)
						}
					}
				}
				return true
			})
		}
	}
	if seen < 500 {
		t.Errorf("only %d calls were read", seen)
	}
}

// namedArgs returns the arguments that each message names, in any of its forms.
func namedArgs(t *testing.T) map[string][]string {
	var book map[string]any
	if _, err := toml.DecodeFile("wording/en.toml", &book); err != nil {
		t.Fatal(err)
	}
	arg := regexp.MustCompile(`\.(\w+)`)
	action := regexp.MustCompile(`{{[^}]*}}`)
	out := map[string][]string{}
	var walk func(path string, v any)
	walk = func(path string, v any) {
		switch v := v.(type) {
		case string:
			for _, form := range []string{".one", ".other", ".description"} {
				path = strings.TrimSuffix(path, form)
			}
			for _, a := range action.FindAllString(v, -1) {
				if !regexp.MustCompile(`^{{\.\w+}}$`).MatchString(a) {
					t.Errorf("%s: %s is no plain argument", path, a)
				}
				for _, m := range arg.FindAllStringSubmatch(a, -1) {
					out[path] = append(out[path], m[1])
				}
			}
		case map[string]any:
			for _, k := range slices.Sorted(maps.Keys(v)) {
				walk(strings.TrimPrefix(path+"."+k, "."), v[k])
			}
		}
	}
	walk("", book)
	return out
}

// keyNames returns the keys by the names that the code has for them.
func keyNames(t *testing.T) map[string]string {
	file, err := parser.ParseFile(token.NewFileSet(), "wording/key.go", nil, 0)
	if err != nil {
		t.Fatal(err)
	}
	out := map[string]string{}
	ast.Inspect(file, func(n ast.Node) bool {
		spec, ok := n.(*ast.ValueSpec)
		if !ok || len(spec.Names) != 1 || len(spec.Values) != 1 {
			return true
		}
		if lit, ok := spec.Values[0].(*ast.BasicLit); ok {
			if key, err := strconv.Unquote(lit.Value); err == nil && wording.English().Has(wording.Key(key)) {
				out[spec.Names[0].Name] = key
			}
		}
		return true
	})
	return out
}

// selected is the name of a key of package wording, empty for any other expression.
func selected(e ast.Expr) string {
	if s, ok := e.(*ast.SelectorExpr); ok {
		if x, ok := s.X.(*ast.Ident); ok && x.Name == "wording" {
			return s.Sel.Name
		}
	}
	return ""
}

// firstArgs returns, by the name of each variable of a function, the arguments that it
// has where it is declared and those that are put into it on every way to a place: in a
// block that the place is in too.
func firstArgs(fn *ast.FuncDecl, place token.Pos) map[string][]string {
	out := map[string][]string{}
	var within []ast.Node
	ast.Inspect(fn.Body, func(n ast.Node) bool {
		if n == nil {
			within = within[:len(within)-1]
			return true
		}
		within = append(within, n)
		as, ok := n.(*ast.AssignStmt)
		if !ok || len(as.Lhs) != len(as.Rhs) || as.Pos() > place || slices.ContainsFunc(within[:len(within)-1], func(n ast.Node) bool { return place < n.Pos() || place >= n.End() }) {
			return true
		}
		for i, r := range as.Rhs {
			switch l := as.Lhs[i].(type) {
			case *ast.Ident:
				if given, known := givenArgs(r, nil); known {
					out[l.Name] = given
				}
			case *ast.IndexExpr:
				id, ok := l.X.(*ast.Ident)
				lit, is := l.Index.(*ast.BasicLit)
				if !ok || !is {
					continue
				}
				given, known := out[id.Name]
				if name, err := strconv.Unquote(lit.Value); err == nil && known {
					out[id.Name] = append(given, name)
				}
			}
		}
		return true
	})
	return out
}

// givenArgs returns the names of the arguments that an expression gives, and whether it
// can be told from it.
func givenArgs(e ast.Expr, firsts map[string][]string) ([]string, bool) {
	switch e := e.(type) {
	case *ast.Ident:
		if e.Name == "nil" {
			return nil, true
		}
		given, known := firsts[e.Name]
		return given, known
	case *ast.CompositeLit:
		if selected(e.Type) != "Args" {
			return nil, false
		}
		var out []string
		for _, el := range e.Elts {
			if kv, ok := el.(*ast.KeyValueExpr); ok {
				if lit, ok := kv.Key.(*ast.BasicLit); ok {
					name, err := strconv.Unquote(lit.Value)
					if err != nil {
						return nil, false
					}
					out = append(out, name)
				}
			}
		}
		return out, true
	}
	return nil, false
}
