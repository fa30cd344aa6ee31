package tongue

import (
	"go/ast"
	"go/constant"
	"go/parser"
	"go/token"
	"go/types"
	"io/fs"
	"os"
	"path"
	"path/filepath"
	"reflect"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
)

// gathered is what the code says: each text with the files in which it stands, and the form for one
// of what counts.
type gathered struct {
	files map[string][]string
	one   map[string]string
}

func (g *gathered) add(text, file string) {
	if text != "" && !slices.Contains(g.files[text], file) {
		g.files[text] = append(g.files[text], file)
	}
}

// gather reads every text out of the code, the templates and the help of flags.
func gather(t *testing.T) gathered {
	t.Helper()
	g := gathered{map[string][]string{}, map[string]string{}}
	set := token.NewFileSet()
	trees := map[string][]*ast.File{}
	require.NoError(t, filepath.WalkDir("..", func(file string, d fs.DirEntry, err error) error {
		switch {
		case err != nil:
			return err
		case d.IsDir() && d.Name() == "testdata":
			return filepath.SkipDir
		case strings.HasSuffix(file, ".gohtml"):
			data, err := os.ReadFile(file)
			require.NoError(t, err)
			g.template(t, string(data), place(file))
		case strings.HasSuffix(file, ".go") && !strings.HasSuffix(file, "_test.go"):
			tree, err := parser.ParseFile(set, file, nil, 0)
			require.NoError(t, err)
			openKeys(tree)
			trees[path.Dir(filepath.ToSlash(file))] = append(trees[path.Dir(filepath.ToSlash(file))], tree)
		}
		return nil
	}))
	all := &checked{set: set, trees: trees, known: map[string]*types.Package{}, infos: map[string]*types.Info{}}
	for _, dir := range slices.Sorted(mapsKeys(trees)) {
		_, err := all.Import("drystalk/" + place(dir))
		require.NoError(t, err)
		g.code(set, trees[dir], all.infos["drystalk/"+place(dir)])
	}
	return g
}

func mapsKeys[V any](m map[string]V) func(func(string) bool) {
	return func(yield func(string) bool) {
		for k := range m {
			if !yield(k) {
				return
			}
		}
	}
}

func place(file string) string { return strings.TrimPrefix(filepath.ToSlash(file), "../") }

// openKeys lets tables have any keys: those of other packages are not known here, and a value whose key
// is not known would not be looked at.
func openKeys(tree *ast.File) {
	n := 0
	ast.Inspect(tree, func(node ast.Node) bool {
		switch x := node.(type) {
		case *ast.MapType:
			x.Key = ast.NewIdent("any")
		case *ast.CompositeLit:
			_, table := x.Type.(*ast.MapType)
			for _, e := range x.Elts {
				kv, ok := e.(*ast.KeyValueExpr)
				if !ok {
					continue
				}
				if _, isName := kv.Key.(*ast.Ident); table || !isName {
					n++
					kv.Key = &ast.BasicLit{ValuePos: kv.Key.Pos(), Kind: token.INT, Value: strconv.Itoa(n)}
				}
			}
		}
		return true
	})
}

// checked are our packages with their types; other packages are empty: their types do not matter here.
type checked struct {
	set   *token.FileSet
	trees map[string][]*ast.File
	known map[string]*types.Package
	infos map[string]*types.Info
}

// Import returns a package, checked when it is first asked for.
func (c *checked) Import(name string) (*types.Package, error) {
	if p, ok := c.known[name]; ok {
		return p, nil
	}
	trees := c.trees["../"+strings.TrimPrefix(name, "drystalk/")]
	if trees == nil {
		p := types.NewPackage(name, path.Base(name))
		p.MarkComplete()
		c.known[name] = p
		return p, nil
	}
	info := &types.Info{Types: map[ast.Expr]types.TypeAndValue{}, Uses: map[*ast.Ident]types.Object{}, Defs: map[*ast.Ident]types.Object{}}
	cfg := types.Config{Importer: c, Error: func(error) {}, DisableUnusedImportCheck: true}
	c.known[name], _ = cfg.Check(name, c.set, trees, info) // what other packages hold is not known: there are faults
	c.infos[name] = info
	return c.known[name], nil
}

// takes is which argument of a function is a format, and which the form for one; -1 for none.
type takes struct{ format, one int }

// saying are the functions of this package that take a format.
var saying = map[string]takes{"Sayf": {0, -1}, "Plainf": {0, -1}, "Errorf": {0, -1}, "Fprintf": {1, -1}, "Several": {2, 1}}

// code reads the texts of a package.
func (g *gathered) code(set *token.FileSet, trees []*ast.File, info *types.Info) {
	handing := map[types.Object]takes{} // functions that hand their own format on
	for found := true; found; {
		found = false
		for _, tree := range trees {
			for _, d := range tree.Decls {
				f, ok := d.(*ast.FuncDecl)
				if !ok || f.Body == nil {
					continue
				}
				if at := handsOn(f, info, handing); at.format >= 0 {
					if _, known := handing[info.Defs[f.Name]]; !known {
						handing[info.Defs[f.Name]], found = at, true
					}
				}
			}
		}
	}
	for _, tree := range trees {
		file := place(set.Position(tree.Pos()).Filename)
		ast.Inspect(tree, func(n ast.Node) bool {
			switch x := n.(type) {
			case ast.Expr:
				if text, ok := constantText(info, x); ok {
					g.add(text, file)
				}
				if call, ok := x.(*ast.CallExpr); ok {
					g.call(call, info, handing, file)
				}
			case *ast.Field:
				if x.Tag != nil {
					g.help(x.Tag.Value, file)
				}
			}
			return true
		})
	}
}

// constantText returns a constant of type Text or Fault.
func constantText(info *types.Info, e ast.Expr) (string, bool) {
	tv, ok := info.Types[e]
	if !ok || tv.Value == nil || tv.Value.Kind() != constant.String {
		return "", false
	}
	named, ok := types.Unalias(tv.Type).(*types.Named)
	if !ok || !slices.Contains([]string{"Text", "Fault"}, named.Obj().Name()) || named.Obj().Pkg().Path() != "drystalk/tongue" {
		return "", false
	}
	return constant.StringVal(tv.Value), true
}

// call reads the format of a call.
func (g *gathered) call(c *ast.CallExpr, info *types.Info, handing map[types.Object]takes, file string) {
	at := formatOf(c, info, handing)
	if at.format < 0 || at.format >= len(c.Args) {
		return
	}
	tv := info.Types[c.Args[at.format]]
	if tv.Value == nil || tv.Value.Kind() != constant.String {
		return
	}
	text := constant.StringVal(tv.Value)
	g.add(text, file)
	if at.one >= 0 && info.Types[c.Args[at.one]].Value != nil {
		g.one[text] = constant.StringVal(info.Types[c.Args[at.one]].Value)
	}
}

// formatOf returns which argument of a call is a text's format.
func formatOf(c *ast.CallExpr, info *types.Info, handing map[types.Object]takes) takes {
	var id *ast.Ident
	switch f := c.Fun.(type) {
	case *ast.Ident:
		id = f
	case *ast.SelectorExpr:
		id = f.Sel
		if x, ok := f.X.(*ast.Ident); ok {
			if p, ok := info.Uses[x].(*types.PkgName); ok && p.Imported().Path() == "drystalk/tongue" {
				if at, ok := saying[id.Name]; ok {
					return at
				}
			}
		}
	}
	if id == nil {
		return takes{-1, -1}
	}
	if at, ok := handing[info.Uses[id]]; ok && info.Uses[id] != nil {
		return at
	}
	return takes{-1, -1}
}

// handsOn returns which parameter of a function is handed on as a format.
func handsOn(f *ast.FuncDecl, info *types.Info, handing map[types.Object]takes) takes {
	params := map[types.Object]int{}
	n := 0
	for _, field := range f.Type.Params.List {
		for _, id := range field.Names {
			params[info.Defs[id]] = n
			n++
		}
	}
	param := func(c *ast.CallExpr, at int) int {
		if at >= 0 && at < len(c.Args) {
			if id, ok := c.Args[at].(*ast.Ident); ok && info.Uses[id] != nil {
				if i, mine := params[info.Uses[id]]; mine {
					return i
				}
			}
		}
		return -1
	}
	out := takes{-1, -1}
	ast.Inspect(f.Body, func(n ast.Node) bool {
		if c, ok := n.(*ast.CallExpr); ok {
			at := formatOf(c, info, handing)
			if i := param(c, at.format); i >= 0 {
				out = takes{i, param(c, at.one)}
			}
		}
		return true
	})
	return out
}

// help reads the help of a flag or command, or what a figure of the ledger is.
func (g *gathered) help(tag, file string) {
	text, err := strconv.Unquote(tag)
	if err == nil {
		g.add(reflect.StructTag(text).Get("help"), file)
		g.add(reflect.StructTag(text).Get("desc"), file)
	}
}

// inTemplate is a text of a template: {{say "…"}}, also within another action.
var inTemplate = regexp.MustCompile("\\bsayf? (\"(?:[^\"\\\\]|\\\\.)*\"|`[^`]*`)")

func (g *gathered) template(t *testing.T, data, file string) {
	for _, m := range inTemplate.FindAllStringSubmatch(data, -1) {
		text, err := strconv.Unquote(m[1])
		require.NoError(t, err, file)
		g.add(text, file)
	}
}
