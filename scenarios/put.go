package scenarios

import (
	"slices"
	"strconv"
	"strings"

	"drystalk/tongue"
)

// step is one step of the path of an edit: from a group or a list to what lies under key.
type step struct {
	from  *node
	path  string // of from
	key   string
	child *node  // what stands there; nil where nothing does yet
	full  string // path of the child
	more  string // of the path, after key; "" at its end
}

// put sets the value at the path of an edit. Whether the key is known and the value allowed is
// left to the reader; a fault here is a place that no single value can be put to.
func (r *reader) put(root *node, e edit) {
	at := firstStep(root, "", e.path)
	for {
		if allowed := at.allowed(); allowed != "" {
			r.fault(0, at.full, clip(e.value), allowed)
			return
		}
		if at.more == "" {
			break
		}
		if at.child == nil {
			at.child = at.from.section(at.key)
		}
		at = firstStep(at.child, at.full, strings.TrimPrefix(at.more, "."))
	}
	if len([]rune(e.value.text)) > longestValue {
		r.fault(0, at.full, clip(e.value), tongue.Plainf("a value of at most %d letters", longestValue))
		return
	}
	value := *e.value
	if at.child != nil {
		*at.child = value
		return
	}
	at.from.add(at.key, &value)
}

// firstStep takes the first step of a path from a node. Keys that are stated may hold dots, as
// names of sites do: the longest that fits is meant.
func firstStep(from *node, path, rest string) step {
	end := len(rest)
	if i := strings.IndexAny(rest[min(1, len(rest)):], ".["); i >= 0 {
		end = i + 1
	}
	at := step{from: from, path: path, key: rest[:end]}
	for _, key := range from.keys {
		if after, ok := strings.CutPrefix(rest, key); ok && len(key) >= len(at.key) && (after == "" || after[0] == '.' || after[0] == '[') {
			at.key = key
		}
	}
	at.more = rest[len(at.key):]
	at.full = join(path, at.key)
	if from.kind == sequence {
		at.full = path + at.key
		at.child = from.entry(at.key)
	} else {
		at.child = from.get(at.key)
	}
	return at
}

// entry returns the entry of a list by its number from 1, "[2]", or, of twelve, by its month,
// "[jul]"; nil where there is none.
func (n *node) entry(key string) *node {
	name := strings.TrimSuffix(strings.TrimPrefix(key, "["), "]")
	number, err := strconv.Atoi(name)
	if month := slices.Index(monthNames, name); month >= 0 && len(n.values) == len(monthNames) {
		number, err = month+1, nil
	}
	if err != nil || number < 1 || number > len(n.values) {
		return nil
	}
	return n.values[number-1]
}

// allowed says what is allowed instead where a step leads nowhere; "" where it can be taken.
func (s *step) allowed() string {
	switch {
	case s.key == "climate_file":
		return tongue.Say("the climate that the scenario file names: another climate needs another file")
	case s.path == "sites" && s.child == nil:
		return tongue.Plainf("a site of the scenario (%s); sites are added in the file", strings.Join(s.from.keys, ", "))
	case s.from.kind == scalar:
		return tongue.Plainf("no key below %s", s.path)
	case s.from.kind == sequence && s.child == nil:
		return tongue.Plainf("an entry from [1] to [%d]; entries are added in the file", len(s.from.values))
	case s.child == nil && s.isList():
		return tongue.Say("a list that the file states: lists are begun there, and their entries can be changed here")
	case s.child != nil && s.more == "" && s.child.kind == sequence:
		return tongue.Plainf("one entry of the list, such as %s%s", s.full, s.child.example())
	case s.child != nil && s.more == "" && len(s.child.keys) > 0:
		return tongue.Plainf("one of its keys, such as %s%s", s.full, s.child.example())
	}
	return ""
}

// isList tells whether the step leads to a list.
func (s *step) isList() bool {
	lists := []string{"away", "closed", "moves"}
	for i := range monthlyFields {
		lists = append(lists, monthlyFields[i].key)
	}
	return slices.Contains(lists, s.key) || strings.HasPrefix(s.more, "[")
}

// example returns the path from a group or a list to its first value.
func (n *node) example() string {
	switch {
	case n.kind == scalar || len(n.values) == 0:
		return ""
	case n.kind == sequence:
		return "[1]" + n.values[0].example()
	}
	return "." + n.keys[0] + n.values[0].example()
}

// clip describes a value, of a long one its beginning.
func clip(v *node) string {
	const most = 40
	text := []rune(v.text)
	if len(text) <= most {
		return describe(v)
	}
	return strconv.Quote(string(text[:most]) + " ...")
}
