package scenarios

import (
	"errors"
	"strings"
	"testing"

	"github.com/goccy/go-yaml/ast"
	"github.com/goccy/go-yaml/token"
	"github.com/stretchr/testify/assert"
)

// What YAML allows and a scenario does not need is refused in words, with its line; comments,
// quotes and the mark of a document's beginning change nothing.
func TestShapesOfYAML(t *testing.T) {
	const none = "allowed: a scenario: region, season, weather, contract, sites"
	for text, want := range map[string]string{
		"---\n" + tiny:                         "",
		"# a comment\n" + tiny + "# another\n": "",
		tiny + "hub: # of all\n  # sites\n  opening_stock_stalks: 1\n": "",
		tiny + "currency: >-\n  L$\n":                                  "",
		tiny + "currency: |\n  L$\n":                                   `f:8: currency: found "L$\n", allowed: a name of 1 to 80 letters on one line`,
		tiny + "hub:\n  opening_stock_stalks: |-\n    3\n":             `f:9: hub.opening_stock_stalks: found "3", allowed: a whole number from 0 to 100000000`,
		"":                                     "f:1: found an empty file, " + none,
		"---\n---\n":                           "f:1: found an empty file, " + none,
		"# a comment\n":                        "f:1: found an empty file, " + none,
		"- a\n- b\n":                           "f:1: found a list, allowed: a group of keys: region, season, weather, contract, sites",
		"--- 3\n":                              "f:1: found a value, allowed: a group of keys: region, season, weather, contract, sites",
		tiny + "---\nregion: There\n":          "f:9: found a second document, allowed: one document in a file",
		tiny + "---\n":                         "",
		tiny + "region: There\n":               `f:8: found the key "region" a second time, allowed: each key once`,
		tiny + "? a\n: b\n? c\n: d\n":          "f:8: ?: found an unknown key, allowed: " + strings.Join(topKeys, ", ") + "\nf:10: ?: found the key a second time, allowed: each key once",
		tiny + "<<: {a: 1}\n":                  "f:8: found a YAML merge key, allowed: plain keys",
		tiny + "hub: {<<: {a: 1}}\n":           "f:8: hub: found a YAML merge key, allowed: plain keys",
		tiny + "currency: !!str L$\n":          "f:8: currency: found a YAML anchor, alias or tag, allowed: plain values",
		tiny + "currency: *name\n":             "f:8: currency: found a YAML anchor, alias or tag, allowed: plain values",
		tiny + "currency: &name L$\n":          "f:8: currency: found a YAML anchor, alias or tag, allowed: plain values",
		tiny + "moves: [1, *a, 3]\n":           "f:8: moves: found a YAML anchor, alias or tag, allowed: plain values\nf:8: moves[1]: found 1, allowed: a group of keys, such as {from: Heron Point, to: Old Sluice, on: 1 jul, days_lost: 4, cost: 100}\nf:8: moves[2]: found 3, allowed: a group of keys, such as {from: Heron Point, to: Old Sluice, on: 1 jul, days_lost: 4, cost: 100}",
		tiny + "hub:\n":                        "f:8: hub: found nothing, allowed: a group of keys",
		tiny + "hub: ~\n":                      "f:8: hub: found nothing, allowed: a group of keys",
		tiny + "hub: [opening_stock_stalks]\n": "f:8: hub: found a list, allowed: a group of keys",
		tiny + "hub:\n  opening_stock_stalks:\n    3.5\n": "f:9: hub.opening_stock_stalks: found 3.5, allowed: a whole number from 0 to 100000000",
	} {
		assert.Equal(t, want, said(t, text), text)
	}
}

// Keys may be nested twelve levels deep, which no scenario needs, in groups and in lists.
func TestDeepestNesting(t *testing.T) {
	for _, levels := range []int{11, 12} {
		for _, ends := range []string{"{a: }", "[]"} {
			nested := "region: " + strings.Repeat(ends[:len(ends)-1], levels) + "1" + strings.Repeat(ends[len(ends)-1:], levels) + "\n"
			assert.Equal(t, levels == 12, strings.Contains(said(t, nested), "f:1: region") && strings.Contains(said(t, nested), "found keys nested too deeply, allowed: at most a few levels"), nested)
		}
	}
}

// Where the parser or its tree tells no line, it is the first; what is no value is a fault.
func TestLinesOfTheParser(t *testing.T) {
	assert.Equal(t, 1, lineOf(&ast.StringNode{BaseNode: &ast.BaseNode{}}), "no token")
	assert.Equal(t, 1, lineOf(&ast.StringNode{BaseNode: &ast.BaseNode{}, Token: &token.Token{}}), "no place of the token")
	assert.Equal(t, 7, lineOf(&ast.StringNode{BaseNode: &ast.BaseNode{}, Token: &token.Token{Position: &token.Position{Line: 7}}}))
	for text, want := range map[string]Fault{
		"no line":             {"", 1, "", "broken YAML (no line)", "YAML: keys and values indented with spaces", ""},
		"[12:3] odd\n>12 | a": {"", 12, "", "broken YAML (odd)", "YAML: keys and values indented with spaces", ""},
		"[12:3] mapping key \"crew\" already defined at [1:2]": {"", 12, "", `the key "crew" a second time`, "each key once", ""},
	} {
		line, key, found, allowed := yamlFaultAt(errors.New(text))
		assert.Equal(t, want, Fault{"", line, key, found, allowed, ""}, text)
	}
	r := &reader{file: "f"}
	assert.Nil(t, r.node(ast.Directive(&token.Token{Position: &token.Position{Line: 3}}), "a.b", 1))
	assert.Equal(t, "f:3: a.b: found something that is no value, allowed: plain values", r.err().Error())
}
