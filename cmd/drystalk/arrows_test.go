package main

import (
	"go/ast"
	"go/parser"
	"go/token"
	"io/fs"
	"os"
	"path"
	"path/filepath"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"

	"github.com/goccy/go-yaml"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// arrows say which of our packages each package may import. They point down only.
var arrows = map[string][]string{
	"cmd/drystalk":           {"scenarios", "scenarios/tally", "report", "report/columns", "report/folder", "report/machines", "sim/study", "sim/tidy", "report/document", "report/page", "sim/answers", "sim", "sim/weather", "scenarios/logs", "sim/goal", "tongue"},
	"scenarios":              {"tongue", "scenarios/tally", "sim/study", "sim/tidy", "sim/sensitivity", "sim/plans", "sim/goal", "sim/money", "sim/trials", "sim", "sim/weather", "sim/stalk", "sim/knowledge"},
	"scenarios/logs":         {"scenarios/tally", "sim/measured", "tongue"},
	"scenarios/tally":        {"tongue"},
	"report/page":            {"scenarios", "report", "report/columns", "report/document", "sim/tidy", "sim/answers", "sim/decide", "sim/weather", "tongue"},
	"report/document":        {"report", "scenarios", "sim/tidy", "sim/goal", "sim/answers", "sim/plans", "sim/decide", "sim/trials", "sim", "sim/weather", "sim/measured", "tongue"},
	"report":                 {"sim/ahead", "sim/study", "sim/money", "sim/trials", "sim/goal", "report/book", "report/paper", "report/chart", "report/table", "report/words", "sim/spend", "sim/ways", "sim/decide", "sim", "sim/weather", "sim/charge", "sim/measured", "tongue"},
	"report/machines":        {"tongue"},
	"report/book":            {"report/table", "report/words", "sim", "tongue"},
	"report/columns":         {"report/book", "sim/tidy", "tongue"},
	"report/folder":          {"report/columns", "sim/study", "sim/tidy", "sim/plans", "tongue"},
	"report/paper":           {"report/chart", "report/table", "tongue"},
	"report/chart":           {"sim/ahead", "sim/goal", "report/words", "sim/spend", "sim/ways", "sim/decide", "sim/money", "sim/trials", "sim", "sim/weather", "sim/charge", "tongue"},
	"report/table":           {"sim/ahead", "sim/goal", "sim/charge", "report/words", "sim/spend", "sim/ways", "sim/decide", "sim/money", "sim/trials", "sim", "sim/weather", "sim/measured", "tongue"},
	"report/words":           {"sim/ahead", "sim/spend", "sim/ways", "sim/decide", "sim/goal", "sim/money", "sim/trials", "sim", "sim/knowledge", "sim/weather", "sim/measured", "tongue"},
	"report/internal/sample": {"sim/ahead", "sim", "sim/decide", "sim/money", "sim/trials", "sim/ways"}, // for tests
	"report/internal/office": {},                                                                        // for tests
	"sim/answers":            {"sim/ahead", "sim/plans", "sim/spend", "sim/ways", "sim/decide", "sim/goal", "sim/money", "sim/trials", "sim", "sim/weather", "sim/charge", "sim/stalk", "sim/air", "sim/knowledge", "sim/measured", "tongue"},
	"sim/ahead":              {"sim/money", "sim/trials", "sim", "tongue"},
	"sim/plans":              {"sim/goal", "sim/money", "sim/trials", "sim", "sim/weather"},
	"sim/study":              {"sim/plans", "sim/tidy", "sim/sensitivity", "sim/trials", "sim/knowledge", "tongue"},
	"sim/tidy":               {"sim/goal", "sim/money", "sim/trials", "sim", "sim/knowledge"},
	"sim/ways":               {"sim/decide", "sim/goal", "sim/money", "sim/trials", "sim", "sim/stalk", "tongue"},
	"sim/spend":              {"sim/decide", "sim/goal", "sim/money", "sim/trials", "sim"},
	"sim/decide":             {"sim/goal", "sim/money", "sim/trials", "sim", "sim/knowledge", "tongue"},
	"sim/goal":               {"sim/money", "sim", "tongue"},
	"sim/money":              {"sim/trials", "sim", "tongue"},
	"sim/sensitivity":        {"sim/trials", "sim/knowledge", "tongue"},
	"sim/trials":             {"sim", "sim/weather", "sim/stalk", "sim/air", "sim/knowledge", "tongue"},
	"sim":                    {"sim/weather", "sim/charge", "sim/stalk", "sim/air", "sim/internal/engine", "sim/knowledge", "tongue"},
	"sim/weather":            {"sim/air", "tongue"},
	"sim/measured":           {"sim/weather", "sim/charge", "sim/stalk", "sim/air", "sim/knowledge", "tongue"},
	"sim/charge":             {"sim/stalk", "sim/air", "sim/knowledge"},
	"sim/stalk":              {"sim/air", "sim/knowledge"},
	"sim/air":                {},
	"sim/knowledge":          {"tongue"},
	"sim/internal/engine":    {},
	"tongue":                 {},
}

// forbidden are calls that the model must not make: its time is the engine's, its chance
// comes from named streams, and the event library's processes depend on the garbage
// collector.
var forbidden = map[string]string{
	"time.Now": "simulated time comes from the engine", "rand.Float64": "draw from a named stream", "rand.IntN": "draw from a named stream",
	"rand.ExpFloat64": "draw from a named stream", "rand.NormFloat64": "draw from a named stream", "fmt.Println": "the model prints nothing",
	"fmt.Printf": "the model prints nothing", "simgo.Process": "callbacks only",
}

// The packages keep to the arrows; only the engine knows the event library; the model
// does no input or output.
func TestArrows(t *testing.T) {
	seen := map[string]bool{}
	err := filepath.WalkDir("../..", func(file string, d fs.DirEntry, err error) error {
		if d != nil && d.IsDir() && d.Name() == "testdata" {
			return filepath.SkipDir // tools beside the tests are no part of the program
		}
		if err != nil || d.IsDir() || !strings.HasSuffix(file, ".go") || strings.HasSuffix(file, "_test.go") {
			return err
		}
		pkg := path.Dir(filepath.ToSlash(strings.TrimPrefix(filepath.ToSlash(file), "../../")))
		seen[pkg] = true
		tree, err := parser.ParseFile(token.NewFileSet(), file, nil, 0)
		require.NoError(t, err)
		checkImports(t, file, pkg, tree)
		if strings.HasPrefix(pkg, "sim") {
			checkCalls(t, file, tree)
		}
		return nil
	})
	require.NoError(t, err)
	for pkg := range arrows {
		assert.True(t, seen[pkg], "no package %s", pkg)
	}
}

func checkImports(t *testing.T, file, pkg string, tree *ast.File) {
	allowed, known := arrows[pkg]
	require.True(t, known, "%s: add the package to the arrows", file)
	for _, spec := range tree.Imports {
		name, err := strconv.Unquote(spec.Path.Value)
		require.NoError(t, err)
		if ours, ok := strings.CutPrefix(name, "drystalk/"); ok {
			assert.True(t, slices.Contains(allowed, ours), "%s imports %s", file, ours)
		}
		if name == "github.com/fschuetz04/simgo" {
			assert.Equal(t, "sim/internal/engine", pkg, "only the engine imports the event library")
		}
		if strings.HasPrefix(pkg, "sim") {
			for _, outside := range []string{"os", "log", "net/http"} {
				assert.False(t, name == outside || strings.HasPrefix(name, outside+"/"), "%s imports %s", file, name)
			}
			assert.NotEqual(t, "math/rand", name, file)
		}
	}
}

func checkCalls(t *testing.T, file string, tree *ast.File) {
	ast.Inspect(tree, func(n ast.Node) bool {
		sel, ok := n.(*ast.SelectorExpr)
		if !ok {
			return true
		}
		if x, ok := sel.X.(*ast.Ident); ok {
			why, bad := forbidden[x.Name+"."+sel.Sel.Name]
			assert.False(t, bad, "%s calls %s.%s: %s", file, x.Name, sel.Sel.Name, why)
		}
		return true
	})
}

// linterRules are what the file of the linter says of the arrows and of forbidden calls.
type linterRules struct {
	Linters struct {
		Settings struct {
			Depguard struct {
				Rules map[string]struct {
					Files, Allow []string
					Mode         string `yaml:"list-mode"`
				}
			}
			Forbidigo struct {
				Forbid []struct{ Pattern, Msg string }
			}
		}
	}
}

// The linter holds the same arrows and forbids the same calls.
func TestLinterHasTheArrows(t *testing.T) {
	text, err := os.ReadFile("../../.golangci.yml")
	require.NoError(t, err)
	var read linterRules
	require.NoError(t, yaml.Unmarshal(text, &read))
	held := map[string][]string{}
	for pkg, rule := range read.Linters.Settings.Depguard.Rules {
		if rule.Mode == "" {
			continue // of what is not ours
		}
		assert.Equal(t, []string{"**/" + pkg + "/*.go", "!$test"}, rule.Files, pkg)
		held[pkg] = []string{}
		for _, ours := range rule.Allow {
			held[pkg] = append(held[pkg], strings.TrimSuffix(strings.TrimPrefix(ours, "drystalk/"), "$"))
		}
	}
	assert.Equal(t, arrows, held)
	calls := map[string]string{}
	for _, f := range read.Linters.Settings.Forbidigo.Forbid {
		re := regexp.MustCompile(f.Pattern)
		for call := range forbidden {
			if re.MatchString(call) {
				calls[call] = f.Msg
			}
		}
	}
	assert.Equal(t, forbidden, calls)
}
