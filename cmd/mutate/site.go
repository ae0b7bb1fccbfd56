package main

import (
	"go/ast"
	"go/token"
	"go/types"
)

// A kind is what a mutant changes.
type kind string

const (
	plusMinus kind = "plus-minus" // a + b and a - b, a += b and a -= b
	sign      kind = "sign"       // -a and a, a*b and -(a*b)
	turned    kind = "turned"     // < and >, <= and >=, == and !=
	boundary  kind = "boundary"   // < and <=, > and >=, of whole numbers
)

// A site is an expression that mutants change.
type site struct {
	from, op, to int    // offsets in the file: the expression and its operator
	call         string // the helper that takes its place
	comma        bool   // whether the operator becomes a comma, else it is kept
	drop         bool   // whether the operator is dropped
	line         int
	code         string
	kinds        []kind
}

// sites returns all places in a file that mutants can change, in order.
func sites(fset *token.FileSet, file *ast.File, info *types.Info, src []byte) []site {
	f := finder{fset, info, src, nil}
	ast.Inspect(file, f.visit())
	return f.found
}

type finder struct {
	fset  *token.FileSet
	info  *types.Info
	src   []byte
	found []site
}

func (f *finder) offset(p token.Pos) int { return f.fset.Position(p).Offset }

func (f *finder) add(n ast.Node, op token.Pos, s site) {
	s.from, s.to = f.offset(n.Pos()), f.offset(n.End())
	if op.IsValid() {
		s.op = f.offset(op)
	}
	s.line = f.fset.Position(n.Pos()).Line
	if op.IsValid() {
		s.line = f.fset.Position(op).Line
	}
	s.code = string(f.src[s.from:s.to])
	f.found = append(f.found, s)
}

// number returns the name of an expression's type where it is a signed number that can be
// written in the file, and whether it is one.
func (f *finder) number(e ast.Expr) (name string, whole, ok bool) {
	t := f.info.TypeOf(e)
	if t == nil {
		return "", false, false
	}
	if _, is := types.Unalias(t).(*types.TypeParam); is {
		return "", false, false
	}
	b, is := t.Underlying().(*types.Basic)
	if !is || b.Info()&types.IsNumeric == 0 || b.Info()&(types.IsUnsigned|types.IsComplex) != 0 {
		return "", false, false
	}
	if b.Info()&types.IsUntyped == 0 && types.Identical(t, b) {
		name = b.Name()
	}
	return name, b.Info()&types.IsInteger != 0, true
}

func (f *finder) constant(e ast.Expr) bool { return f.info.Types[e].Value != nil }

// visit returns a visitor that knows the parents of what it visits.
func (f *finder) visit() func(ast.Node) bool {
	var parents []ast.Node
	return func(n ast.Node) bool {
		if n == nil {
			parents = parents[:len(parents)-1]
			return true
		}
		switch n := n.(type) {
		case *ast.GenDecl:
			if n.Tok == token.CONST || n.Tok == token.IMPORT || n.Tok == token.TYPE {
				return false
			}
		case *ast.ArrayType, *ast.Field:
			return false
		case *ast.UnaryExpr:
			f.minus(n, outside(parents))
		case *ast.BinaryExpr:
			f.binary(n, outside(parents))
		case *ast.AssignStmt:
			f.assign(n)
		}
		parents = append(parents, n)
		return true
	}
}

// outside returns the nearest node above that is no parenthesis.
func outside(parents []ast.Node) ast.Node {
	for i := len(parents) - 1; i >= 0; i-- {
		if _, is := parents[i].(*ast.ParenExpr); !is {
			return parents[i]
		}
	}
	return nil
}

func (f *finder) minus(n *ast.UnaryExpr, parent ast.Node) {
	name, _, ok := f.number(n)
	if n.Op != token.SUB || !ok || added(parent) {
		return
	}
	call := "Minus"
	if f.constant(n) {
		if name == "" {
			return
		}
		call += "[" + name + "]"
	}
	f.add(n, n.OpPos, site{call: call, drop: true, kinds: []kind{sign}})
}

func (f *finder) binary(n *ast.BinaryExpr, parent ast.Node) {
	_, whole, ok := f.number(n.X)
	if _, _, also := f.number(n.Y); !ok || !also || f.constant(n) {
		return
	}
	switch n.Op {
	case token.ADD, token.SUB:
		f.add(n, n.OpPos, site{call: map[token.Token]string{token.ADD: "Plus", token.SUB: "Less"}[n.Op], comma: true, kinds: []kind{plusMinus}})
	case token.MUL, token.QUO:
		// Where it is a term or a factor itself, the change is that of what is around it.
		switch p := parent.(type) {
		case *ast.BinaryExpr:
			if p.Op == token.MUL || p.Op == token.QUO || (p.Op == token.ADD || p.Op == token.SUB) && !first(p, n) {
				return
			}
		case *ast.UnaryExpr:
			return
		}
		if !whole && !added(parent) {
			f.add(n, token.NoPos, site{call: "Same", kinds: []kind{sign}})
		}
	case token.LSS, token.GTR, token.LEQ, token.GEQ:
		kinds := []kind{turned}
		if whole {
			kinds = append(kinds, boundary)
		}
		call := map[token.Token]string{token.LSS: "Under", token.GTR: "Over", token.LEQ: "AtMost", token.GEQ: "AtLeast"}[n.Op]
		f.add(n, n.OpPos, site{call: call, comma: true, kinds: kinds})
	case token.EQL, token.NEQ:
		for _, e := range []ast.Expr{n.X, n.Y} { // a number, not the name of a thing
			if _, named := f.info.TypeOf(e).(*types.Named); named {
				return
			}
		}
		f.add(n, n.OpPos, site{call: map[token.Token]string{token.EQL: "Equal", token.NEQ: "Unequal"}[n.Op], comma: true, kinds: []kind{turned}})
	}
}

// first reports whether a product is the first term of a sum.
func first(sum *ast.BinaryExpr, n ast.Expr) bool { return ast.Unparen(sum.X) == n }

// added reports whether what is right of it is added or taken away: its sign is turned there.
func added(n ast.Node) bool {
	a, is := n.(*ast.AssignStmt)
	return is && (a.Tok == token.ADD_ASSIGN || a.Tok == token.SUB_ASSIGN)
}

func (f *finder) assign(n *ast.AssignStmt) {
	if n.Tok != token.ADD_ASSIGN && n.Tok != token.SUB_ASSIGN {
		return
	}
	name, _, ok := f.number(n.Rhs[0])
	if !ok {
		return
	}
	call := "Same"
	if f.constant(n.Rhs[0]) {
		if name == "" {
			return
		}
		call += "[" + name + "]"
	}
	f.add(n.Rhs[0], token.NoPos, site{call: call, kinds: []kind{plusMinus}})
	s := &f.found[len(f.found)-1]
	s.line = f.fset.Position(n.Pos()).Line
	s.code = string(f.src[f.offset(n.Pos()):f.offset(n.End())])
}

// become says what a mutant makes of its site.
func (s site) become(k kind) string {
	switch s.call {
	case "Plus":
		return "-"
	case "Less":
		return "+"
	case "Under":
		return map[kind]string{turned: ">", boundary: "<="}[k]
	case "Over":
		return map[kind]string{turned: "<", boundary: ">="}[k]
	case "AtMost":
		return map[kind]string{turned: ">=", boundary: "<"}[k]
	case "AtLeast":
		return map[kind]string{turned: "<=", boundary: ">"}[k]
	case "Equal":
		return "!="
	case "Unequal":
		return "=="
	}
	return "the other sign"
}
