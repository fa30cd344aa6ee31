package scenarios

import (
	"strconv"
	"strings"
)

// Write returns the scenario as a file with every key stated, defaults included.
// What it returns reads back as the same scenario.
func (s *Scenario) Write() []byte {
	var b strings.Builder
	s.tree().block(&b, 0)
	return []byte(b.String())
}

// WriteAll is Write with what a scenario states only where it differs from how all others are read,
// as a file to start from: how numbers are written.
func (s *Scenario) WriteAll() []byte {
	text := string(s.Write())
	if s.NumbersAsIn == "" {
		text = strings.Replace(text, "\nseason:", "\nnumbers_as_in: "+strconv.Quote(plainNumbers)+"\nseason:", 1)
	}
	return []byte(text)
}

// block writes a group of keys, a line for each.
func (n *node) block(b *strings.Builder, indent int) {
	for i, v := range n.values {
		key := n.keys[i]
		if n.names {
			key = strconv.Quote(key)
		}
		b.WriteString(strings.Repeat("  ", indent) + key + ":")
		if v.nests() {
			b.WriteByte('\n')
			v.block(b, indent+1)
			continue
		}
		b.WriteString(" " + v.inline() + "\n")
	}
}

// nests tells whether a value is written below its key and not beside it.
func (n *node) nests() bool { return n.kind == mapping && !n.flow }

// inline writes a value on one line.
func (n *node) inline() string {
	if n.kind == scalar {
		if n.quoted {
			return strconv.Quote(n.text)
		}
		return n.text
	}
	parts := make([]string, len(n.values))
	for i, v := range n.values {
		parts[i] = v.inline()
		if n.kind == mapping {
			parts[i] = n.keys[i] + ": " + parts[i]
		}
	}
	if n.kind == mapping {
		return "{" + strings.Join(parts, ", ") + "}"
	}
	return "[" + strings.Join(parts, ", ") + "]"
}

// flat returns the values of a scenario, defaults included, by dotted key. Months, ranges and
// lists are one value each.
func (s *Scenario) flat() map[string]string {
	out := map[string]string{}
	s.tree().flatten(out, "")
	return out
}

func (n *node) flatten(out map[string]string, path string) {
	for i, v := range n.values {
		if key := join(path, n.keys[i]); v.nests() {
			v.flatten(out, key)
		} else {
			out[key] = v.inline()
		}
	}
}
