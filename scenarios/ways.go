package scenarios

import (
	"slices"
	"strings"

	"drystalk/tongue"
)

// waysKey is the one key of a file of ways of working.
const waysKey = "ways"

// WriteWays writes ways of working as a file: changes as With takes them, which WithWays puts into
// the scenario that they were found for, or one with the same sites. Lines about it stand first.
func WriteWays(about []string, changes []string) []byte {
	var b strings.Builder
	for _, line := range about {
		b.WriteString("# " + line + "\n")
	}
	b.WriteString(waysKey + ":")
	if len(changes) == 0 {
		b.WriteString(" []")
	}
	b.WriteString("\n")
	for _, c := range changes {
		b.WriteString("  - " + quote(c).inline() + "\n")
	}
	return []byte(b.String())
}

// WithWays returns the scenario as it works in the ways of a file: a list of changes under the key
// ways, each as With takes it. What is wrong is returned as Faults of the file, all at once.
func (s *Scenario) WithWays(name string, data []byte) (*Scenario, error) {
	r := &reader{file: name, open: s.reopen, holds: tongue.Say("a file of ways of working: a list of changes under the key ways")}
	data, ok := r.guard(data)
	if !ok {
		return nil, r.err()
	}
	root := r.parse(data)
	if root == nil {
		return nil, r.err()
	}
	edits, lines := r.ways(s, root)
	out, err := s.changed(r, edits, nil)
	if err != nil {
		return nil, atLines(err, lines)
	}
	out.Ways, out.waysData, out.waysSaid = name, data, nil
	for _, v := range root.get(waysKey).values {
		out.waysSaid = append(out.waysSaid, v.text)
	}
	return out, nil
}

// WaysChanges returns the changes of the file of ways that the scenario works in, as With takes them.
func (s *Scenario) WaysChanges() []string { return slices.Clone(s.waysSaid) }

// ways reads the changes of a file of ways, and the lines in which keys are changed.
func (r *reader) ways(s *Scenario, root *node) (edits []edit, lines map[string]int) {
	r.known(root, "", []string{waysKey})
	list := root.get(waysKey)
	if list == nil || list.kind != sequence {
		if !root.excused(waysKey, []string{waysKey}) {
			r.fault(root.line, waysKey, tongue.Say("no list"), tongue.Say(`a list of changes such as - "Heron Point: loading_kg_per_m2=6"`))
		}
		return nil, nil
	}
	lines = map[string]int{}
	for _, v := range list.values {
		if v.kind != scalar {
			r.fault(v.line, waysKey, v.kind.String(), tongue.Say(`a change in quotes, such as "Heron Point: loading_kg_per_m2=6"`))
			continue
		}
		before := len(r.faults)
		for _, e := range r.edits(s, v.text) {
			edits, lines[e.path] = append(edits, e), v.line
		}
		for k := range r.faults[before:] {
			r.faults[before+k].Line = v.line
		}
	}
	return edits, lines
}

// atLines gives faults of keys the lines in which they are changed.
func atLines(err error, lines map[string]int) error {
	faults, ok := err.(Faults)
	if !ok {
		return err
	}
	for k := range faults {
		if line := lines[faults[k].Key]; faults[k].Line == 0 && line > 0 {
			faults[k].Line = line
		}
	}
	return faults
}
