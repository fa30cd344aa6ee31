package scenarios

import (
	"slices"
	"strconv"
	"strings"

	"drystalk/tongue"
)

// edit is one change of a scenario: the dotted path of a key, as faults and Differences name
// it ("sites.Heron Point.dryers", "contract.stalks_per_month.jul", "moves[1].cost"), and its
// new value.
type edit struct {
	path  string
	value *node
}

// longestValue is how long a changed value may be, letters; the longest name has 80.
const longestValue = 80

// With returns the scenario with some keys changed: "Heron Point: dryers=2, crew=1" for a
// site, "dryer: shift_end_h=22" for another group of keys, "contract.stalks_per_month.jul=60000"
// for any key by its path. What is wrong is returned as Faults of the change, all at once.
func (s *Scenario) With(changes []string) (*Scenario, error) {
	r := &reader{file: "--with", open: s.reopen}
	var edits []edit
	for _, change := range changes {
		edits = append(edits, r.edits(s, change)...)
	}
	return s.changed(r, edits, changes)
}

// WithValues returns the scenario with the values of entries changed, or the faults of what is
// wrong, whose keys are the paths of the entries. Unknown paths are faults too.
func (s *Scenario) WithValues(values map[string]string) (*Scenario, error) {
	r := &reader{file: s.Name, open: s.reopen}
	known := map[string]bool{}
	for _, g := range s.Entries() {
		for i := range g.Entries {
			known[g.Entries[i].Path] = true
		}
	}
	var edits []edit
	for path, value := range values {
		if !known[path] {
			r.fault(0, path, tongue.Say("an unknown entry"), tongue.Say("an entry of the form"))
			continue
		}
		edits = append(edits, edit{path, bare(strings.TrimSpace(value))})
	}
	slices.SortFunc(edits, func(a, b edit) int { return strings.Compare(a.path, b.path) })
	return s.changed(r, edits, s.said(values))
}

// changed puts edits into the scenario and reads it anew, with all the checks of a file. said
// are the edits as With takes them.
func (s *Scenario) changed(r *reader, edits []edit, said []string) (*Scenario, error) {
	root := s.tree()
	for _, e := range edits {
		r.put(root, e)
	}
	if err := r.err(); err != nil {
		return nil, err
	}
	out, err := r.build(s.Name, root)
	if err != nil {
		return nil, err
	}
	out.Changes = slices.Concat(s.Changes, said)
	return out.withOriginsOf(s), nil
}

// edits takes a change of a command apart.
func (r *reader) edits(s *Scenario, change string) []edit {
	group, list, ok := s.groupOf(change)
	if !ok {
		r.fault(0, "", strconv.Quote(change), tongue.Say(`a site or a group of keys, a colon and changes, such as "Heron Point: dryers=2"`))
		return nil
	}
	if first, _, _ := strings.Cut(strings.ReplaceAll(group, "[", "."), "."); group != "" && !slices.Contains(topKeys, first) {
		r.fault(0, "", strconv.Quote(group), s.groupsAllowed(group))
		return nil
	}
	var out []edit
	for _, one := range outsideQuotes(list) {
		key, value, ok := strings.Cut(one, "=")
		v := bare(strings.TrimSpace(value))
		if inside, quoted := unquoted(v.text); quoted {
			v = quote(inside)
		}
		if key = strings.TrimSpace(key); !ok || key == "" || (v.text == "" && !v.quoted) {
			r.fault(0, "", strconv.Quote(strings.TrimSpace(one)), tongue.Say("key=value, such as dryers=2"))
			continue
		}
		out = append(out, edit{join(group, key), v})
	}
	return out
}

// groupOf splits a change into the path of its group, "" for none, and its list of keys and
// values. The name of a site comes before a group of the same name, and may hold a colon.
func (s *Scenario) groupOf(change string) (group, list string, ok bool) {
	change = strings.TrimSpace(change)
	site := ""
	for _, name := range siteNames(s) {
		rest, begins := strings.CutPrefix(change, name)
		if rest, colon := strings.CutPrefix(strings.TrimLeft(rest, " "), ":"); begins && colon && len(name) > len(site) {
			site, list = name, rest
		}
	}
	if site != "" {
		return join("sites", site), list, true
	}
	before, _, isEdit := strings.Cut(change, "=")
	if group, list, ok = strings.Cut(change, ":"); ok && len(group) < len(before) {
		return strings.TrimSpace(group), list, true
	}
	first, _, _ := strings.Cut(strings.ReplaceAll(before, "[", "."), ".")
	if isEdit && slices.Contains(topKeys, strings.TrimSpace(first)) {
		return "", change, true
	}
	return group, list, ok
}

// groupsAllowed names the sites and groups that a change can begin with.
func (s *Scenario) groupsAllowed(found string) string {
	names := append(siteNames(s), "hub", "dryer", "yard", "people", "store", "road")
	for _, k := range topKeys {
		if !slices.Contains(names, k) && k != "sites" {
			names = append(names, k)
		}
	}
	allowed := strings.Join(names, ", ")
	if near := nearest(found, names); near != "" {
		allowed += tongue.Plainf("; did you mean %s?", near)
	}
	return allowed
}

// outsideQuotes splits a list at the commas that stand outside double quotes.
func outsideQuotes(list string) []string {
	quoted := false
	var out []string
	from := 0
	for i, c := range list {
		switch {
		case c == '"':
			quoted = !quoted
		case c == ',' && !quoted:
			out = append(out, list[from:i])
			from = i + 1
		}
	}
	return append(out, list[from:])
}

// unquoted takes the double quotes off a text that stands in them.
func unquoted(text string) (string, bool) {
	if len(text) < 2 || text[0] != '"' || text[len(text)-1] != '"' {
		return text, false
	}
	return text[1 : len(text)-1], true
}
