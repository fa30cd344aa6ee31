package tongue

import (
	_ "embed"
	"fmt"
	"slices"
	"strings"
	"sync"

	"github.com/goccy/go-yaml/ast"
	"github.com/goccy/go-yaml/parser"
	"golang.org/x/text/language"
)

// English is the catalogue: every text of the program, and where it stands. To begin a language,
// state its tag and write its texts behind the English ones.
//
//go:embed english.yaml
var English []byte

// Language is a file of texts in one language.
type Language struct {
	tag   language.Tag
	texts map[string]string
	many  map[string]map[string]string // of a text that counts, its forms by their name
}

// said returns a text, in English where the language has none.
func (l *Language) said(english string) string {
	if t, ok := l.texts[english]; ok {
		return t
	}
	return english
}

// several says a number of things in the form that the language has for it.
func (l *Language) several(n int, one, many string, args []any) string {
	said, ok := l.many[many][form(l.tag, n)]
	switch {
	case ok:
	case l.many[many]["other"] != "":
		said = l.many[many]["other"]
	case n == 1:
		said = one
	default:
		said = many
	}
	return fmt.Sprintf(said, used(said, named(l, args))...)
}

// Missing lists the texts of the program that the language does not have, as the catalogue does.
func (l *Language) Missing() []string {
	var out []string
	for _, e := range catalogue().entries {
		_, plain := l.texts[e.english]
		if _, counts := l.many[e.english]; !plain && !counts {
			out = append(out, e.english)
		}
	}
	return out
}

// Texts returns how many texts the program has.
func Texts() int { return len(catalogue().entries) }

// Read reads a file of texts in a language. What does not fit is refused, all of it at once, each
// with its line: a text that the program does not have, a translation with other places for
// arguments, a form of plural that there is not. An empty translation counts as missing.
func Read(name string, data []byte) (*Language, error) {
	r := reader{name: name}
	f := r.file(data)
	l := &Language{texts: map[string]string{}, many: map[string]map[string]string{}}
	if f.tag == "" {
		r.fault(1, "language", "nothing", "the tag of the language, such as fr")
	} else if tag, err := language.Parse(f.tag); err != nil {
		r.fault(f.tagLine, "language", fmt.Sprintf("%q", f.tag), "the tag of a language, such as fr")
	} else {
		l.tag = tag
	}
	known := catalogue().byEnglish()
	for _, e := range f.entries {
		r.take(l, known, e)
	}
	if len(r.faults) > 0 {
		return nil, r.faults
	}
	return l, nil
}

// take takes over one text of a file.
func (r *reader) take(l *Language, known map[string]entry, e entry) {
	own, ok := known[e.english]
	switch {
	case !ok:
		r.fault(e.line, short(e.english), "a text that the program does not have", "the texts that drystalk language lists, word for word")
	case (own.forms == nil) != (e.forms == nil) && (own.forms == nil || e.said != ""):
		r.fault(e.line, short(e.english), kindOf(e), kindOf(own))
	case e.forms == nil:
		if e.said == "" {
			return
		}
		if wrong := fits(e.english, e.said); wrong != "" {
			r.wrong(e.line, short(e.english), wrong)
			return
		}
		l.texts[e.english] = e.said
	default:
		r.takeForms(l, e)
	}
}

// takeForms takes over the forms of a text that counts.
func (r *reader) takeForms(l *Language, e entry) {
	out := map[string]string{}
	for _, f := range e.forms {
		switch {
		case !slices.Contains(formNames, f.name):
			r.fault(f.line, short(e.english)+"."+f.name, "no form of plural", strings.Join(formNames, ", "))
		case f.said == "":
		case len(verbsOf(f.said)) > 0 && fits(e.english, f.said) != "":
			r.wrong(f.line, short(e.english)+"."+f.name, fits(e.english, f.said))
		case len(verbsOf(f.said)) == 0 && f.name == "other":
			r.wrong(f.line, short(e.english)+"."+f.name, fits(e.english, f.said))
		default:
			out[f.name] = f.said
		}
	}
	if out["other"] != "" {
		l.many[e.english] = out
	} else if len(out) > 0 {
		r.fault(e.line, short(e.english), "no form other", "the form other, which every language has, and those it has besides")
	}
}

var formNames = []string{"zero", "one", "two", "few", "many", "other"}

func kindOf(e entry) string {
	if e.forms == nil {
		return "one text"
	}
	return "a text for each form of plural: one, other and the like"
}

// short is how a text is called in a message about it.
func short(s string) string {
	const most = 48
	if r := []rune(s); len(r) > most {
		s = string(r[:most]) + "…"
	}
	return fmt.Sprintf("%q", s)
}

// entry is a text of a file.
type entry struct {
	english, said string
	forms         []formOf // nil: it does not count
	line          int
}

type formOf struct {
	name, said string
	line       int
}

// file is what a file of texts states.
type file struct {
	tag     string
	tagLine int
	entries []entry
}

func (f file) byEnglish() map[string]entry {
	out := make(map[string]entry, len(f.entries))
	for _, e := range f.entries {
		out[e.english] = e
	}
	return out
}

// catalogue is the list of all texts of the program.
var catalogue = sync.OnceValue(func() file {
	r := reader{name: "english.yaml"}
	f := r.file(English)
	if len(r.faults) > 0 {
		panic(r.faults) // it is part of the program
	}
	return f
})

// Faults are all that is wrong with a file of texts.
type Faults []error

// Error lists them, a line each.
func (f Faults) Error() string {
	lines := make([]string, len(f))
	for i, err := range f {
		lines[i] = err.Error()
	}
	return strings.Join(lines, "\n")
}

// reader reads a file of texts and keeps what is wrong with it.
type reader struct {
	name   string
	faults Faults
}

func (r *reader) wrong(line int, key, says string) {
	r.faults = append(r.faults, fmt.Errorf("%s:%d: %s: %s", r.name, line, key, says))
}

func (r *reader) fault(line int, key, found, allowed string) {
	r.wrong(line, key, "found "+found+", allowed: "+allowed)
}

// file reads the keys of a file.
func (r *reader) file(data []byte) file {
	var f file
	tree, err := parser.ParseBytes(data, 0)
	if err != nil {
		r.faults = append(r.faults, fmt.Errorf("%s: cannot be read as YAML: %w", r.name, err))
		return f
	}
	for _, d := range tree.Docs {
		for _, v := range pairs(d.Body) {
			line := v.Key.GetToken().Position.Line
			switch key := v.Key.GetToken().Value; key {
			case "language":
				f.tag, f.tagLine = r.text(v.Value, "language"), line
			case "texts":
				for _, t := range pairs(v.Value) {
					f.entries = append(f.entries, r.entry(t))
				}
			default:
				r.fault(line, short(key), "an unknown key", "language, texts")
			}
		}
	}
	r.twice(f.entries)
	return f
}

// twice refuses a text that stands twice.
func (r *reader) twice(list []entry) {
	seen := map[string]int{}
	for _, e := range list {
		if at := seen[e.english]; at > 0 {
			r.fault(e.line, short(e.english), fmt.Sprintf("the same text as in line %d", at), "each text once")
		}
		seen[e.english] = e.line
	}
}

func (r *reader) entry(v *ast.MappingValueNode) entry {
	e := entry{english: v.Key.GetToken().Value, line: v.Key.GetToken().Position.Line}
	if list := pairs(v.Value); list != nil {
		e.forms = []formOf{}
		for _, p := range list {
			name := p.Key.GetToken().Value
			e.forms = append(e.forms, formOf{name, r.text(p.Value, short(e.english)+"."+name), p.Key.GetToken().Position.Line})
		}
		return e
	}
	e.said = r.text(v.Value, short(e.english))
	return e
}

// text returns a value that must be a text.
func (r *reader) text(n ast.Node, key string) string {
	switch x := n.(type) {
	case *ast.StringNode:
		return x.Value
	case *ast.LiteralNode:
		return x.Value.Value
	case *ast.NullNode:
		return ""
	}
	r.fault(n.GetToken().Position.Line, key, n.Type().YAMLName(), "a text, in quotes")
	return ""
}

// pairs are the keys of a mapping with their values; nil where it is none.
func pairs(n ast.Node) []*ast.MappingValueNode {
	switch x := n.(type) {
	case *ast.MappingNode:
		return x.Values
	case *ast.MappingValueNode:
		return []*ast.MappingValueNode{x}
	}
	return nil
}
