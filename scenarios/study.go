package scenarios

import (
	"errors"
	"path"
	"slices"
	"strconv"
	"strings"

	"drystalk/sim/study"
	"drystalk/sim/tidy"
	"drystalk/tongue"
)

// StudyFile is a file of a study, read and checked.
type StudyFile struct {
	*study.Study
	Base     *Scenario
	Warnings []string
	Inputs   []Input // all that was read, the file of the study first
}

// Input is a file that something was read from.
type Input struct {
	Name string // "/" between folders
	Data []byte
}

// studyKeys are the keys of a file of a study.
var studyKeys = []string{"study", "scenario", "seed", "seasons", "block_seasons", "sampling", "always", "factors", "points", "design"}

// ReadStudy reads a file of a study, which is strict YAML: a scenario, by the name of a demo or of a
// file beside it, and points, each a part of a scenario in the format of scenario files that changes
// it. open reads the files beside it. All that is wrong is returned at once, as Faults; what is
// wrong with the scenario file itself comes alone.
func ReadStudy(name string, data []byte, open func(name string) ([]byte, error)) (*StudyFile, error) {
	f := &StudyFile{Study: &study.Study{}, Inputs: []Input{{path.Base(name), data}}}
	r := &studyReader{reader: &reader{file: name, holds: tongue.Say("a study: study, scenario, seasons, and factors or points")}, f: f, openBeside: open}
	data, ok := r.guard(data)
	if !ok {
		return nil, r.err()
	}
	root := r.parse(data)
	if root == nil {
		return nil, r.err()
	}
	if root.get("study") == nil && root.get("sites") != nil {
		r.fault(root.line, "", tongue.Say("a scenario"), tongue.Say("the file of a study, which names a scenario: study, scenario, seasons, and factors or points"))
		return nil, r.err()
	}
	r.known(root, "", studyKeys)
	if err := r.base(root); err != nil {
		return nil, err
	}
	r.numbers(root)
	r.design(root.get("design"))
	r.points(root)
	if err := r.err(); err != nil {
		return nil, err
	}
	if err := f.Check(); err != nil {
		return nil, faultIn(name, root, err)
	}
	return f, nil
}

// faultIn puts what is wrong with a study to its line of the file.
func faultIn(name string, root *node, err error) error {
	var fault study.Fault
	if !errors.As(err, &fault) {
		return Faults{{File: name, Found: err.Error(), Allowed: tongue.Say("a study that can be run")}}
	}
	line, at := 0, root
	for _, key := range strings.Split(fault.Key, ".") {
		if at = at.get(key); at == nil {
			break
		}
		line = at.line
	}
	return Faults{{File: name, Line: line, Key: fault.Key, Found: fault.Found, Allowed: fault.Allowed}}
}

// studyReader reads one file of a study.
type studyReader struct {
	*reader
	f          *StudyFile
	openBeside func(string) ([]byte, error)
	always     *node
}

// beside reads a file beside the study, and keeps it among the inputs.
func (r *studyReader) beside(name string) ([]byte, error) {
	if r.openBeside == nil {
		return nil, tongue.Errorf("the study was read without its folder")
	}
	data, err := r.openBeside(name)
	if err == nil && !slices.ContainsFunc(r.f.Inputs, func(in Input) bool { return in.Name == name }) {
		r.f.Inputs = append(r.f.Inputs, Input{name, data})
	}
	return data, err
}

// base reads the scenario that the points change.
func (r *studyReader) base(root *node) error {
	r.f.Name = r.word(root, "", "study", true)
	v := root.get("scenario")
	allowed := tongue.Plainf("a demo (%s, %s) or a scenario file beside the study", LakeTavari, OneCooperative)
	if v == nil || v.kind != scalar || v.text == "" {
		found, line := tongue.Say("nothing"), root.line
		if v != nil {
			found, line = describe(v), v.line
		}
		r.fault(line, "scenario", found, allowed)
		return r.err()
	}
	var err error
	if v.text == LakeTavari || v.text == OneCooperative {
		r.f.Base, err = Demo(v.text)
		return err
	}
	data, err := r.beside(v.text)
	if err != nil {
		r.fault(v.line, "scenario", strconv.Quote(v.text), tongue.Plainf("%s or in a folder below it (%s)", allowed, err.Error()))
		return r.err()
	}
	r.f.Base, err = ReadWith(v.text, data, func(name string) ([]byte, error) { return r.beside(path.Join(path.Dir(v.text), name)) })
	if err == nil {
		r.f.Warnings = r.f.Base.Warnings
	}
	return err
}

// whole reads a whole number; what stands in for a missing one is -1 where it is required.
func (r *studyReader) whole(n *node, key string, low, high, missing int) int {
	v := n.get(key[strings.LastIndex(key, ".")+1:])
	if v == nil {
		if missing < 0 {
			r.fault(n.line, key, tongue.Say("nothing"), tongue.Plainf("a whole number from %d to %d", low, high))
		}
		return missing
	}
	x, _ := r.number(v, key, float64(low), float64(high), true)
	return int(x)
}

// numbers reads seed, seasons and how they are dealt.
func (r *studyReader) numbers(root *node) {
	s := r.f.Study
	s.Seed = uint64(max(0, r.whole(root, "seed", 0, 1<<53, 1)))
	s.Seasons = r.whole(root, "seasons", 1, study.MostTrials, -1)
	s.Block = r.whole(root, "block_seasons", 1, study.MostBlock, study.DefaultBlock)
	s.Sampling = r.sampling(root, "sampling", "plain")
}

// points reads the points and makes their scenarios.
func (r *studyReader) points(root *node) {
	r.always = r.section(root, "always", false)
	factors, listed := r.section(root, "factors", false), r.section(root, "points", false)
	switch {
	case factors != nil && listed != nil:
		r.fault(listed.line, "points", tongue.Say("points beside factors"), tongue.Say("either: points one by one, or all combinations of the levels of factors"))
	case factors != nil:
		r.factorial(factors)
	case listed != nil:
		r.listed(listed)
	default:
		r.point("as written", nil, nil)
	}
}

// listed reads points one by one.
func (r *studyReader) listed(n *node) {
	if len(n.keys) == 0 {
		r.fault(n.line, "points", tongue.Say("no point"), tongue.Say("at least one by name, {} for the scenario as written"))
	}
	for i, name := range n.keys {
		if r.isPart(n.values[i], join("points", name)) {
			r.point(name, nil, []change{{part: n.values[i], at: join("points", name)}})
		}
	}
}

// isPart tells whether a node can be a part of a scenario.
func (r *studyReader) isPart(n *node, key string) bool {
	if n.kind == mapping {
		return true
	}
	r.fault(n.line, key, describe(n), tongue.Say("a part of a scenario, such as {dryer: {shift_end_h: 22}}, or {} for as written"))
	return false
}

// change is what a level of a factor, or a point, changes: a part of a scenario, or one key.
type change struct {
	part  *node
	at    string // where it stands in the file
	key   string
	value *node
}

// point makes the scenario of a point.
func (r *studyReader) point(name string, levels []tidy.Cell, changes []change) {
	if len(r.f.Points) >= study.MostPoints {
		if len(r.f.Points) == study.MostPoints {
			r.fault(0, "", tongue.Say("more points than can be told apart"), tongue.Plainf("at most %d", study.MostPoints))
			r.f.Points = append(r.f.Points, study.Point{})
		}
		return
	}
	s, err := r.scenarioWith(changes)
	if err != nil {
		r.more(err)
		return
	}
	s.withOriginsOf(r.f.Base)
	for _, w := range s.Warnings {
		if !slices.Contains(r.f.Warnings, w) {
			r.f.Warnings = append(r.f.Warnings, w)
		}
	}
	r.f.Points = append(r.f.Points, study.Point{Name: name, Levels: levels, Plan: s})
}

// scenarioWith makes a scenario of the one that the study names, what holds at all points, and
// changes.
func (r *studyReader) scenarioWith(changes []change) (*Scenario, error) {
	base := r.f.Base
	one := &reader{file: r.file, open: func(name string) ([]byte, error) {
		if data, err := base.reopen(name); err == nil {
			return data, nil
		}
		return r.beside(name)
	}}
	root := base.tree()
	if r.always != nil {
		one.merge(root, r.always, "")
	}
	for _, c := range changes {
		if c.part != nil {
			one.merge(root, c.part, "")
			continue
		}
		before := len(one.faults)
		one.put(root, edit{c.key, c.value})
		for k := range one.faults[before:] {
			one.faults[before+k].Line = c.value.line
		}
	}
	if err := one.err(); err != nil {
		return nil, err
	}
	return one.build(base.Name, root)
}

// more books faults that were not booked yet: several points may share one.
func (r *studyReader) more(err error) {
	faults, ok := err.(Faults)
	if !ok {
		faults = Faults{{File: r.file, Found: err.Error(), Allowed: tongue.Say("a scenario that can be run")}}
	}
	for _, f := range faults {
		same := func(o Fault) bool { return o.Line == f.Line && o.Key == f.Key && o.Allowed == f.Allowed }
		if !slices.ContainsFunc(r.faults, same) {
			r.faults = append(r.faults, f)
		}
	}
}

// merge puts a part of a scenario into a whole one: keys replace keys, in groups key by key. A
// weather that says where it comes from replaces all of the weather that stood there.
func (r *reader) merge(into, part *node, at string) {
	for i, key := range part.keys {
		v, full := part.values[i], join(at, key)
		old := into.get(key)
		switch {
		case at == "sites" && old == nil:
			r.fault(v.line, full, tongue.Say("no site of the scenario"), tongue.Plainf("one of %s", strings.Join(into.keys, ", ")))
		case old == nil:
			into.add(key, v.copied())
		case old.kind == mapping && v.kind == mapping && !v.hasSource():
			old.line = v.line // what is wrong with the whole of it is wrong there
			r.merge(old, v, full)
		default:
			*old = *v.copied()
		}
	}
}

// hasSource tells whether a weather says where it comes from.
func (n *node) hasSource() bool {
	return slices.ContainsFunc(kinds, func(kind string) bool { return n.get(kind) != nil })
}

// copied returns a copy of a node that may be changed.
func (n *node) copied() *node {
	out := *n
	out.keys, out.values = slices.Clone(n.keys), make([]*node, len(n.values))
	for i, v := range n.values {
		out.values[i] = v.copied()
	}
	return &out
}
