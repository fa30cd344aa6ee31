package scenarios

import (
	"regexp"
	"slices"
	"strconv"
	"strings"

	"drystalk/sim/knowledge"
	"drystalk/sim/sensitivity"
	"drystalk/sim/study"
	"drystalk/sim/tidy"
	"drystalk/tongue"
)

// level is one level of a factor.
type level struct {
	word    string
	cell    tidy.Cell
	changes change
}

// factorName is what a factor may be called: its name is that of a column.
var factorName = regexp.MustCompile(`^[a-z][a-z0-9_]{0,39}$`)

// factorial makes a point of every combination of levels, the last factor running fastest.
func (r *studyReader) factorial(n *node) {
	var factors [][]level
	for i, name := range n.keys {
		if !factorName.MatchString(name) {
			r.fault(n.values[i].line, join("factors", name), strconv.Quote(name), tongue.Say("a name of small letters, digits and _ that begins with a letter: it is that of a column"))
			continue
		}
		levels := r.levels(n.values[i], name)
		if len(levels) == 0 {
			continue
		}
		factors = append(factors, levels)
	}
	if len(n.keys) == 0 {
		r.fault(n.line, "factors", tongue.Say("no factor"), tongue.Say("at least one by name"))
	}
	if len(factors) < len(n.keys) || len(r.faults) > 0 {
		return
	}
	r.combine(factors, nil)
}

// combine makes the points of all combinations that begin with some levels.
func (r *studyReader) combine(factors [][]level, chosen []level) {
	if len(chosen) < len(factors) {
		for _, l := range factors[len(chosen)] {
			r.combine(factors, append(slices.Clone(chosen), l))
		}
		return
	}
	var names []string
	var cells []tidy.Cell
	var changes []change
	for i, l := range chosen {
		names = append(names, r.f.Factors[i].Name+" "+l.word)
		cells, changes = append(cells, l.cell), append(changes, l.changes)
	}
	r.point(strings.Join(names, ", "), cells, changes)
}

// levels reads the levels of a factor: parts of a scenario by name, or the values of one key.
func (r *studyReader) levels(n *node, name string) (out []level) {
	at := join("factors", name)
	if n.kind != mapping || len(n.keys) == 0 {
		r.fault(n.line, at, describe(n), tongue.Say("levels by name, each a part of a scenario, or one key with its values such as {key: dryer.shift_end_h, values: [17, 19, 22]}"))
		return nil
	}
	if n.get("key") != nil || n.get("values") != nil {
		return r.values(n, name)
	}
	for i, word := range n.keys {
		if r.isPart(n.values[i], join(at, word)) {
			out = append(out, level{word, tidy.Text(word), change{part: n.values[i], at: join(at, word)}})
		}
	}
	r.f.Factors = append(r.f.Factors, tidy.Column{Name: name, Kind: tidy.Word, Meaning: "level of the factor"})
	return out
}

// values reads the levels of a factor that are values of one key.
func (r *studyReader) values(n *node, name string) (out []level) {
	at := join("factors", name)
	r.known(n, at, []string{"key", "values"})
	key, list := n.get("key"), n.get("values")
	if key == nil || key.kind != scalar || key.text == "" {
		r.fault(n.line, join(at, "key"), tongue.Say("nothing"), tongue.Say(`the path of a key, such as dryer.shift_end_h or "sites.Heron Point.dryers"`))
		return nil
	}
	if list == nil || list.kind != sequence || len(list.values) == 0 {
		r.fault(n.line, join(at, "values"), tongue.Say("no list"), tongue.Say("values of the key, such as [17, 19, 22]"))
		return nil
	}
	column := tidy.Column{Name: name, Kind: tidy.Real, Meaning: key.text}
	for _, v := range list.values {
		if _, err := strconv.ParseFloat(v.text, 64); err != nil || v.kind != scalar {
			column.Kind = tidy.Word
		}
	}
	for _, g := range r.f.Base.Entries() {
		for _, e := range g.Entries {
			if e.Path == key.text && column.Kind == tidy.Real {
				column.Unit, column.Meaning = e.Unit, e.english
			}
		}
	}
	for _, v := range list.values {
		cell := tidy.Text(v.text)
		if column.Kind == tidy.Real {
			x, _ := strconv.ParseFloat(v.text, 64)
			cell = tidy.Number(x)
		}
		out = append(out, level{v.text, cell, change{at: at, key: key.text, value: v}})
	}
	r.f.Factors = append(r.f.Factors, column)
	return out
}

// sampling reads how points of the ranges are chosen; plain is what leaves it to the seasons.
func (r *studyReader) sampling(n *node, key, plain string) sensitivity.Sampling {
	v := n.get(key[strings.LastIndex(key, ".")+1:])
	if v == nil || v.kind == scalar && v.text == plain {
		return ""
	}
	allowed := []string{plain}
	for _, s := range sensitivity.Samplings() {
		if v.kind == scalar && v.text == string(s) {
			return s
		}
		allowed = append(allowed, string(s))
	}
	r.fault(v.line, key, describe(v), strings.Join(allowed, ", "))
	return ""
}

// methods are those of a design.
func methods() string {
	return tongue.Plainf("%s (which inputs matter at all) or %s (shares of the variance)", study.Screening, study.Indices)
}

// design reads which inputs are varied by rows, and how.
func (r *studyReader) design(n *node) {
	if n == nil {
		return
	}
	if n.kind != mapping {
		r.fault(n.line, "design", describe(n), tongue.Say("a group of keys: method, inputs, rows, outcomes"))
		return
	}
	r.known(n, "design", []string{"method", "inputs", "trajectories", "base_rows", "sampling", "outcomes"})
	d := &study.Design{}
	rows, other := "trajectories", "base_rows"
	switch v := n.get("method"); {
	case v != nil && v.kind == scalar && v.text == string(study.Screening):
		d.Method = study.Screening
	case v != nil && v.kind == scalar && v.text == string(study.Indices):
		d.Method, rows, other = study.Indices, "base_rows", "trajectories"
		d.Sampling = r.sampling(n, "design.sampling", string(sensitivity.Halton))
		if d.Sampling == "" {
			d.Sampling = sensitivity.Halton
		}
	case v != nil:
		r.fault(v.line, "design.method", describe(v), methods())
		return
	default:
		r.fault(n.line, "design.method", tongue.Say("nothing"), methods())
		return
	}
	if v := n.get(other); v != nil {
		r.fault(v.line, join("design", other), describe(v), tongue.Plainf("%s with method: %s", rows, d.Method))
	}
	if v := n.get("sampling"); v != nil && d.Method == study.Screening {
		r.fault(v.line, "design.sampling", describe(v), tongue.Plainf("none with method: %s, which has its own grid", d.Method))
	}
	d.Rows = r.whole(n, join("design", rows), 2, 100_000, -1)
	d.Outcomes = r.words(n, "outcomes")
	for _, name := range r.words(n, "inputs") {
		d.Inputs = append(d.Inputs, knowledge.Key(name))
	}
	r.checkInputs(n, d)
	r.f.Design = d
}

// checkInputs checks the inputs of a design; without any all that are drawn are meant.
func (r *studyReader) checkInputs(n *node, d *study.Design) {
	var known []string
	for _, k := range r.f.Base.Knowledge.Ranges {
		known = append(known, string(k.Key))
		if n.get("inputs") == nil {
			d.Inputs = append(d.Inputs, k.Key)
		}
	}
	for _, key := range d.Inputs {
		if !slices.Contains(known, string(key)) {
			r.fault(n.get("inputs").line, "design.inputs", strconv.Quote(string(key)), tongue.Plainf("parameters of the knowledge: %s", strings.Join(known, ", ")))
			r.faults[len(r.faults)-1].Meant = nearest(string(key), known)
		}
	}
}

// words reads a list of words.
func (r *studyReader) words(n *node, key string) (out []string) {
	v := n.get(key)
	if v == nil {
		return nil
	}
	if v.kind != sequence {
		r.fault(v.line, join("design", key), describe(v), tongue.Say("a list, such as [delivered_stalks]"))
		return nil
	}
	for _, one := range v.values {
		if one.kind != scalar || one.text == "" {
			r.fault(one.line, join("design", key), describe(one), tongue.Say("a list of names"))
			continue
		}
		out = append(out, one.text)
	}
	return out
}
