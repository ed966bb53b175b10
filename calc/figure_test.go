package calc

import (
	"cmp"
	"go/ast"
	"go/constant"
	"go/token"
	"go/types"
	"path/filepath"
	"slices"
	"strings"
	"sync"
	"testing"

	"golang.org/x/tools/go/packages"
)

// code is everything under calc with its types, without tests.
var code = sync.OnceValues(func() ([]*packages.Package, error) {
	return packages.Load(&packages.Config{
		Mode: packages.NeedName | packages.NeedFiles | packages.NeedSyntax | packages.NeedTypes | packages.NeedTypesInfo | packages.NeedImports | packages.NeedDeps,
	}, "linetender/calc/...")
})

func checked(t *testing.T) []*packages.Package {
	t.Helper()
	all, err := code()
	if err != nil {
		t.Fatal(err)
	}
	if len(all) < 10 {
		t.Fatalf("only %d packages under calc", len(all))
	}
	for _, p := range all {
		for _, e := range p.Errors {
			t.Fatal(e)
		}
	}
	return all
}

// mathematics are the numbers that geometry, percents and the writing of
// decimals take. None of them says anything about the trade.
var mathematics = []float64{0, 0.5, 1, 2, 10, 100, 1000, 90, 180}

// leave is what is no figure of the trade, by package, file or file and figure,
// and why.
var leave = map[string]string{
	"unit":                "exact definitions of units, each with its law",
	"bound":               "how people write numbers",
	"anchor/anchor.go 5":  "past it a share of the loam figure is a caller's mistake",
	"job/quantity.go 0.1": "how near the refused angle a spread may reach",
}

// TestNoFigureOfTheTradeInCode: every figure of the trade is a row of the
// handbook. A constant number that becomes a quantity, or that stands in the
// arithmetic of floats, is mathematics, a hair of rounding, or in a file that is
// named above with its reason.
func TestNoFigureOfTheTradeInCode(t *testing.T) {
	lone(t)
	used := map[string]bool{}
	for _, p := range checked(t) {
		in := strings.TrimPrefix(strings.TrimPrefix(p.PkgPath, "linetender/calc"), "/")
		for i, f := range p.Syntax {
			name := strings.TrimPrefix(in+"/"+filepath.Base(p.GoFiles[i]), "/")
			for _, found := range figuresOf(p, f) {
				one := name + " " + found.Value
				if cmp.Or(leave[in], leave[name], leave[one]) != "" {
					used[in], used[name], used[one] = true, true, true
					continue
				}
				t.Errorf("%s: %s: a figure of the trade is a row of the handbook", p.Fset.Position(found.Pos()), found.Value)
			}
		}
	}
	for what := range leave {
		if !used[what] {
			t.Errorf("%s needs no leave any more", what)
		}
	}
}

// figuresOf lists the constants in f that may be figures of the trade.
func figuresOf(p *packages.Package, f *ast.File) []*ast.BasicLit {
	var out []*ast.BasicLit
	var above []ast.Node
	ast.Inspect(f, func(n ast.Node) bool {
		if n == nil {
			above = above[:len(above)-1]
			return true
		}
		above = append(above, n)
		lit, ok := n.(*ast.BasicLit)
		if !ok || lit.Kind != token.INT && lit.Kind != token.FLOAT {
			return true
		}
		v, _ := constant.Float64Val(constant.ToFloat(constant.MakeFromLiteral(lit.Value, lit.Kind, 0)))
		if suspect(p, lit, v, above) {
			out = append(out, lit)
		}
		return true
	})
	return out
}

// suspect reports whether a literal may be a figure of the trade: it becomes a
// quantity by a constructor of package unit, it is no mathematics and works on
// floats, or a count that somebody told is held against it.
func suspect(p *packages.Package, lit *ast.BasicLit, v float64, above []ast.Node) bool {
	if v == 0 {
		return false
	}
	for _, n := range above {
		switch n := n.(type) {
		case *ast.CallExpr:
			of := called(p, n)
			if of == nil || of.Pkg() == nil || of.Pkg().Path() != "linetender/calc/unit" || of.Signature().Recv() != nil || len(n.Args) != 1 {
				continue
			}
			if p.TypesInfo.Types[n.Args[0]].Value != nil && !one(of.Name(), v) {
				return true
			}
		case *ast.BinaryExpr:
			if v != 1 && held(n.Op) && toldCount(p, n.X) {
				return true
			}
		}
	}
	return worksOnFloats(p, lit) && !slices.Contains(mathematics, v) && !hair(v)
}

// worksOnFloats reports whether the literal's type is one of numbers with a
// fraction: a float64, a quantity or a ratio.
func worksOnFloats(p *packages.Package, lit *ast.BasicLit) bool {
	b, ok := p.TypesInfo.TypeOf(lit).Underlying().(*types.Basic)
	return ok && b.Info()&types.IsFloat != 0
}

// one: a quarter and a half turn are geometry, and one of any other unit is what
// a figure is said in.
func one(constructor string, v float64) bool {
	if constructor == "Degrees" {
		return v == 90 || v == 180
	}
	return v == 1
}

// hair is how far two roundings may lie apart, and its inverse.
func hair(v float64) bool { return v <= 1e-6 || v >= 1e6 }

func held(op token.Token) bool {
	return slices.Contains([]token.Token{token.LSS, token.LEQ, token.GTR, token.GEQ}, op)
}

// toldCount reports whether an expression is a count that somebody may have
// told: what may be missing of a case is a pointer.
func toldCount(p *packages.Package, x ast.Expr) bool {
	star, ok := x.(*ast.StarExpr)
	if !ok {
		return false
	}
	b, whole := p.TypesInfo.TypeOf(x).Underlying().(*types.Basic)
	_, field := star.X.(*ast.SelectorExpr)
	return whole && field && b.Info()&types.IsInteger != 0
}

func called(p *packages.Package, call *ast.CallExpr) *types.Func {
	switch f := call.Fun.(type) {
	case *ast.SelectorExpr:
		of, _ := p.TypesInfo.Uses[f.Sel].(*types.Func)
		return of
	case *ast.Ident:
		of, _ := p.TypesInfo.Uses[f].(*types.Func)
		return of
	}
	return nil
}

// pure are the exported bare floats under calc: numbers without a unit, each
// alone of its kind where it is passed.
var pure = map[string]string{
	"Member.Ratio": "use over what it may carry", "Held.Ratio": "use over what it may carry", "Weak.Ratio": "use over what it may carry",
	"Carried.Ratio": "use over what it may carry", "Retired.Ratio": "use over what it may carry",
	"Swing.Best": "times what it may carry", "Swing.Low": "times what it may carry", "Swing.High": "times what it may carry",
}

// TestNoBareFloatCrossesABorder: what a package under calc shows of itself is a
// quantity, a ratio or a range of one. A float64 with its unit in somebody's
// head is none, unless it is a pure number that is named above. Package unit is
// the door, and bound knows no quantity by name.
func TestNoBareFloatCrossesABorder(t *testing.T) {
	used := map[string]bool{}
	for _, p := range checked(t) {
		if in := strings.TrimPrefix(p.PkgPath, "linetender/calc/"); in == "unit" || in == "bound" || in == "internal/proof" {
			continue
		}
		scope := p.Types.Scope()
		for _, name := range scope.Names() {
			o := scope.Lookup(name)
			if !o.Exported() {
				continue
			}
			for _, bare := range bareFloats(o) {
				if pure[bare] != "" {
					used[bare] = true
					continue
				}
				t.Errorf("%s: %s crosses the border of %s as a bare float64", p.Fset.Position(o.Pos()), bare, p.Types.Name())
			}
		}
	}
	for name := range pure {
		if !used[name] {
			t.Errorf("%s needs no leave any more", name)
		}
	}
}

// bareFloats names what of an exported object is a bare float64: results and
// parameters of a function, exported fields and methods of a type.
func bareFloats(o types.Object) []string {
	var out []string
	sign := func(name string, s *types.Signature) {
		for _, of := range []*types.Tuple{s.Params(), s.Results()} {
			for v := range of.Variables() {
				if isBare(v.Type()) {
					out = append(out, strings.TrimSuffix(name+" "+v.Name(), " "))
				}
			}
		}
	}
	switch o := o.(type) {
	case *types.Func:
		sign(o.Name(), o.Signature())
	case *types.Var, *types.Const:
		if isBare(o.Type()) {
			out = append(out, o.Name())
		}
	case *types.TypeName:
		if s, ok := o.Type().Underlying().(*types.Struct); ok {
			for i := range s.NumFields() {
				if f := s.Field(i); f.Exported() && isBare(f.Type()) && !strings.Contains(s.Tag(i), `reads:"share"`) {
					out = append(out, o.Name()+"."+f.Name())
				}
			}
		}
		if n, ok := o.Type().(*types.Named); ok {
			for m := range n.Methods() {
				if m.Exported() {
					sign(o.Name()+"."+m.Name(), m.Signature())
				}
			}
		}
	}
	return out
}

// isBare reports whether a float64 without a name of its own is in a type.
func isBare(t types.Type) bool {
	switch t := t.(type) {
	case *types.Basic:
		return t.Info()&types.IsFloat != 0
	case *types.Pointer:
		return isBare(t.Elem())
	case *types.Slice:
		return isBare(t.Elem())
	case *types.Map:
		return isBare(t.Key()) || isBare(t.Elem())
	case *types.Alias:
		return isBare(types.Unalias(t))
	case *types.Named:
		for i := range t.TypeArgs().Len() {
			if isBare(t.TypeArgs().At(i)) {
				return true
			}
		}
	}
	return false
}
