package scenarios

import (
	"fmt"
	"slices"
	"strings"

	"github.com/goccy/go-yaml/ast"
	"github.com/goccy/go-yaml/parser"

	"drystalk/tongue"
)

// nodeKind is the shape of a value in a file.
type nodeKind int

const (
	scalar nodeKind = iota
	mapping
	sequence
)

func (k nodeKind) String() string {
	return [...]tongue.Text{"a value", "a group of keys", "a list"}[k].String()
}

// node is a value of a file with its line. A scalar keeps its text; quoted text
// is never a number.
type node struct {
	line   int
	kind   nodeKind
	text   string
	quoted bool
	keys   []string
	values []*node
	broken []string // keys whose value is no value, a fault already
	flow   bool     // written on one line
	names  bool     // the keys are names, written in quotes
}

// deepest is how far keys may be nested; a scenario needs four levels.
const deepest = 12

// parse reads the YAML of a file into nodes. The file holds one document: a group
// of keys.
func (r *reader) parse(data []byte) *node {
	file, err := parser.ParseBytes(data, 0)
	if err != nil {
		r.fault(yamlFaultAt(err))
		return nil
	}
	var body ast.Node
	for _, doc := range file.Docs {
		if doc.Body == nil {
			continue
		}
		if body != nil {
			r.fault(doc.Body.GetToken().Position.Line, "", tongue.Say("a second document"), tongue.Say("one document in a file"))
			return nil
		}
		body = doc.Body
	}
	if body == nil {
		r.fault(1, "", tongue.Say("an empty file"), r.whole(tongue.Say("a scenario: region, season, weather, contract, sites")))
		return nil
	}
	n := r.node(body, "", 0)
	if n != nil && n.kind != mapping {
		r.fault(n.line, "", n.kind.String(), r.whole(tongue.Say("a group of keys: region, season, weather, contract, sites")))
		return nil
	}
	return n
}

// whole says what a file should hold: that of a scenario unless it is another one.
func (r *reader) whole(ofScenario string) string {
	if r.holds != "" {
		return r.holds
	}
	return ofScenario
}

// yamlFaultAt is yamlFault for the whole file, in the order of a fault.
func yamlFaultAt(err error) (line int, key, found, allowed string) {
	line, found, allowed = yamlFault(err)
	return line, "", found, allowed
}

// yamlFault takes line and words out of a parser's error, "[line:column] words".
func yamlFault(err error) (line int, found, allowed string) {
	first, _, _ := strings.Cut(err.Error(), "\n")
	line = 1
	var column int
	if _, scanErr := fmt.Sscanf(first, "[%d:%d]", &line, &column); scanErr == nil {
		_, first, _ = strings.Cut(first, "] ")
	}
	if _, rest, found := strings.Cut(first, `mapping key "`); found {
		key, _, _ := strings.Cut(rest, `"`)
		return line, tongue.Plainf("the key %q a second time", key), tongue.Say("each key once")
	}
	return line, tongue.Plainf("broken YAML (%s)", first), tongue.Say("YAML: keys and values indented with spaces")
}

func lineOf(n ast.Node) int {
	if t := n.GetToken(); t != nil && t.Position != nil {
		return t.Position.Line
	}
	return 1
}

// node turns a piece of the syntax tree into a node, or books a fault and returns
// nil.
func (r *reader) node(n ast.Node, path string, depth int) *node {
	if depth > deepest {
		r.fault(lineOf(n), path, tongue.Say("keys nested too deeply"), tongue.Say("at most a few levels"))
		return nil
	}
	switch n := n.(type) {
	case *ast.MappingNode:
		out := &node{line: lineOf(n), kind: mapping}
		for _, pair := range n.Values {
			r.pair(out, pair, path, depth)
		}
		return out
	case *ast.MappingValueNode:
		out := &node{line: lineOf(n.Key), kind: mapping}
		r.pair(out, n, path, depth)
		return out
	case *ast.SequenceNode:
		out := &node{line: lineOf(n), kind: sequence}
		for _, item := range n.Values {
			if v := r.node(item, path, depth+1); v != nil {
				out.values = append(out.values, v)
			}
		}
		return out
	case *ast.StringNode:
		t := n.GetToken().Type.String()
		return &node{line: lineOf(n), text: n.Value, quoted: strings.HasSuffix(t, "Quote")}
	case *ast.LiteralNode:
		return &node{line: lineOf(n), text: n.Value.Value, quoted: true}
	case *ast.NullNode:
		return &node{line: lineOf(n), text: ""}
	case *ast.AnchorNode, *ast.AliasNode, *ast.TagNode:
		r.fault(lineOf(n), path, tongue.Say("a YAML anchor, alias or tag"), tongue.Say("plain values"))
		return nil
	case ast.ScalarNode:
		return &node{line: lineOf(n), text: n.GetToken().Value}
	}
	r.fault(lineOf(n), path, tongue.Say("something that is no value"), tongue.Say("plain values"))
	return nil
}

func (r *reader) pair(out *node, pair *ast.MappingValueNode, path string, depth int) {
	if _, merge := pair.Key.(*ast.MergeKeyNode); merge {
		r.fault(lineOf(pair.Key), path, tongue.Say("a YAML merge key"), tongue.Say("plain keys"))
		return
	}
	key := pair.Key.GetToken().Value
	full := join(path, key)
	for i := range out.keys {
		if _, nothing := pair.Value.(*ast.NullNode); out.keys[i] == key && !(nothing && digits(key)) { // two ends of counts, 3,000 and 5,000, are told as such
			r.fault(lineOf(pair.Key), full, tongue.Say("the key a second time"), tongue.Say("each key once"))
			return
		}
	}
	v := r.node(pair.Value, full, depth+1)
	if v == nil {
		out.broken = append(out.broken, key)
		return
	}
	if v.kind == scalar {
		v.line = lineOf(pair.Key)
	}
	out.keys = append(out.keys, key)
	out.values = append(out.values, v)
}

// get returns the value of a key, or nil.
func (n *node) get(key string) *node {
	for i := range n.keys {
		if n.keys[i] == key {
			return n.values[i]
		}
	}
	return nil
}

// excused tells whether a fault about a missing key has been booked in another form:
// its value is broken, or a key was misspelt.
func (n *node) excused(key string, known []string) bool {
	if slices.Contains(n.broken, key) {
		return true
	}
	return slices.ContainsFunc(n.keys, func(k string) bool {
		return !slices.Contains(known, k) && nearest(k, known) == key
	})
}

func join(path, key string) string {
	if path == "" {
		return key
	}
	return path + "." + key
}
