package main

import (
	"fmt"
	"go/ast"
	"go/parser"
	"go/token"
	"os"
	"path/filepath"
	"regexp"
	"strconv"
	"strings"
)

// fault is one small change of a file: the bytes from..to become now.
type fault struct {
	file     string
	line     int
	from, to int
	was, now string
}

func (f fault) String() string {
	short := func(s string) string {
		s = strings.Join(strings.Fields(s), " ")
		if len(s) > 60 {
			s = s[:57] + "..."
		}
		return s
	}
	return fmt.Sprintf("%s:%d: %s -> %s", f.file, f.line, short(f.was), short(f.now))
}

// faultsOf returns all faults that can be planted in a package, in the order of its files.
func faultsOf(pkg, files string) ([]fault, error) {
	match, err := regexp.Compile(files)
	if err != nil {
		return nil, err
	}
	names, err := filepath.Glob(filepath.Join(pkg, "*.go"))
	if err != nil {
		return nil, err
	}
	var out []fault
	for _, name := range names {
		if strings.HasSuffix(name, "_test.go") || !match.MatchString(filepath.Base(name)) {
			continue
		}
		src, err := os.ReadFile(name)
		if err != nil {
			return nil, err
		}
		set := token.NewFileSet()
		tree, err := parser.ParseFile(set, name, src, 0)
		if err != nil {
			return nil, err
		}
		v := visitor{file: name, src: src, set: set}
		ast.Inspect(tree, v.visit)
		out = append(out, v.faults...)
	}
	return out, nil
}

type visitor struct {
	file   string
	src    []byte
	set    *token.FileSet
	faults []fault
}

// swaps are the operators put in place of others.
var swaps = map[token.Token][]token.Token{
	token.LSS: {token.LEQ, token.GEQ}, token.LEQ: {token.LSS, token.GTR}, token.GTR: {token.GEQ, token.LEQ}, token.GEQ: {token.GTR, token.LSS},
	token.EQL: {token.NEQ}, token.NEQ: {token.EQL}, token.LAND: {token.LOR}, token.LOR: {token.LAND},
	token.ADD: {token.SUB}, token.SUB: {token.ADD}, token.MUL: {token.QUO}, token.QUO: {token.MUL},
	token.ADD_ASSIGN: {token.SUB_ASSIGN}, token.SUB_ASSIGN: {token.ADD_ASSIGN}, token.MUL_ASSIGN: {token.QUO_ASSIGN}, token.QUO_ASSIGN: {token.MUL_ASSIGN},
	token.INC: {token.DEC}, token.DEC: {token.INC}, token.BREAK: {token.CONTINUE}, token.CONTINUE: {token.BREAK},
}

// words are names put in place of others.
var words = map[string]string{"min": "max", "max": "min", "true": "false", "false": "true"}

// visit lists the faults of one node.
func (v *visitor) visit(n ast.Node) bool {
	switch n := n.(type) {
	case *ast.ImportSpec:
		return false
	case *ast.BinaryExpr:
		v.swap(n.OpPos, n.Op)
	case *ast.IncDecStmt:
		v.swap(n.TokPos, n.Tok)
	case *ast.BranchStmt:
		if n.Label == nil {
			v.swap(n.TokPos, n.Tok)
		}
	case *ast.UnaryExpr:
		if n.Op == token.NOT || n.Op == token.SUB {
			v.replace(n.OpPos, n.OpPos+1, "")
		}
	case *ast.AssignStmt:
		v.swap(n.TokPos, n.Tok)
		if n.Tok != token.DEFINE {
			v.replace(n.Pos(), n.End(), "")
		}
	case *ast.ExprStmt:
		v.replace(n.Pos(), n.End(), "")
	case *ast.IfStmt:
		v.replace(n.Cond.Pos(), n.Cond.End(), "!("+v.text(n.Cond.Pos(), n.Cond.End())+")")
	case *ast.Ident:
		if now, ok := words[n.Name]; ok {
			v.replace(n.Pos(), n.End(), now)
		}
	case *ast.BasicLit:
		v.number(n)
	}
	return true
}

// number makes a whole number one larger and any other a tenth larger.
func (v *visitor) number(n *ast.BasicLit) {
	switch n.Kind {
	case token.INT:
		if x, err := strconv.ParseInt(n.Value, 0, 64); err == nil {
			v.replace(n.Pos(), n.End(), strconv.FormatInt(x+1, 10))
		}
	case token.FLOAT:
		if x, err := strconv.ParseFloat(n.Value, 64); err == nil {
			v.replace(n.Pos(), n.End(), strconv.FormatFloat(1.1*x+0.01, 'g', -1, 64))
		}
	}
}

func (v *visitor) swap(at token.Pos, op token.Token) {
	for _, now := range swaps[op] {
		v.replace(at, at+token.Pos(len(op.String())), now.String())
	}
}

func (v *visitor) text(from, to token.Pos) string {
	return string(v.src[v.set.Position(from).Offset:v.set.Position(to).Offset])
}

func (v *visitor) replace(from, to token.Pos, now string) {
	p := v.set.Position(from)
	v.faults = append(v.faults, fault{v.file, p.Line, p.Offset, v.set.Position(to).Offset, v.text(from, to), now})
}
