package scenarios

import (
	"fmt"
	"slices"
	"strconv"
	"strings"

	"drystalk/sim/knowledge"
	"drystalk/sim/trials"
	"drystalk/tongue"
)

// measuredKey is the key of knowledge that names files of what a group's own logs tell.
const measuredKey = "measured_files"

// mostMeasured is how many files of measured ranges a scenario may name.
const mostMeasured = 10

// measuredFile is a file of ranges that were fitted to a log.
type measuredFile struct {
	name string
	data []byte
}

// WriteMeasured writes ranges that a log tells, as a file that a scenario names under
// knowledge.measured_files. Lines about it stand first.
func WriteMeasured(about []string, ranges []knowledge.Range) []byte {
	var b strings.Builder
	for _, line := range about {
		b.WriteString("# " + line + "\n")
	}
	b.WriteString("knowledge:\n")
	for _, r := range ranges {
		documented := knowledge.Of(r.Key)
		low, high := farthest(&documented)
		in := func(x float64) string { return strconv.FormatFloat(max(low, min(high, x)), 'g', 4, 64) }
		fmt.Fprintf(&b, "  %s: {low: %s, mode: %s, high: %s}\n", r.Key, in(r.Low), in(r.Mode), in(r.High))
	}
	return []byte(b.String())
}

// measured reads the files of measured ranges. A range that is stated in the scenario or in two files
// is a fault: nobody could tell which one holds.
func (r *reader) measured(s *Scenario, n *node) {
	v := n.get(measuredKey)
	if v == nil {
		return
	}
	key := join("knowledge", measuredKey)
	names := v.values
	switch {
	case v.kind == scalar:
		names = []*node{v}
	case v.kind != sequence || len(names) == 0 || len(names) > mostMeasured:
		r.fault(v.line, key, describe(v), tongue.Plainf("a file that fit charges, fit racks or fit output wrote, or a list of 1 to %d of them", mostMeasured))
		return
	}
	from := map[knowledge.Key]string{}
	for _, name := range names {
		r.measuredFile(s, n, name, from)
	}
}

// measuredFile reads one file of measured ranges; from are the files that ranges came from so far.
func (r *reader) measuredFile(s *Scenario, stated, name *node, from map[knowledge.Key]string) {
	key := join("knowledge", measuredKey)
	const allowed tongue.Text = "a file beside the scenario that fit charges, fit racks or fit output wrote"
	if r.open == nil || name.kind != scalar || name.text == "" {
		r.fault(name.line, key, describe(name), allowed.String())
		return
	}
	data, err := r.open(name.text)
	if err != nil {
		r.fault(name.line, key, strconv.Quote(name.text), allowed.String()+" ("+err.Error()+")")
		return
	}
	file := &reader{file: name.text, holds: tongue.Say("a group of keys: knowledge")}
	ranges := file.ranges(s, data)
	for _, k := range ranges {
		at := slices.IndexFunc(s.Knowledge.Ranges, func(old knowledge.Range) bool { return old.Key == k.Key })
		switch other := from[k.Key]; {
		case stated.get(string(k.Key)) != nil:
			r.fault(name.line, join("knowledge", string(k.Key)), tongue.Plainf("a range here and one in %s", name.text), tongue.Say("one of the two"))
		case other != "":
			r.fault(name.line, key, tongue.Plainf("%s in %s and in %s", string(k.Key), other, name.text), tongue.Say("each range in one file"))
		default:
			from[k.Key] = name.text
			s.Knowledge.Ranges[at] = k.MeasuredIn(name.text)
		}
	}
	r.faults = append(r.faults, file.faults...)
	s.measuredFiles = append(s.measuredFiles, measuredFile{name.text, data})
}

// ranges reads the ranges of a file.
func (r *reader) ranges(s *Scenario, data []byte) []knowledge.Range {
	data, ok := r.guard(data)
	if !ok {
		return nil
	}
	root := r.parse(data)
	if root == nil {
		return nil
	}
	r.known(root, "", []string{"knowledge"})
	n := root.get("knowledge")
	if n == nil || n.kind != mapping {
		if !root.excused("knowledge", []string{"knowledge"}) {
			r.fault(root.line, "knowledge", tongue.Say("no group of keys"), tongue.Say("ranges such as drying_rate_80c_per_h: {low: 0.9, mode: 1, high: 1.1}"))
		}
		return nil
	}
	var keys []string
	for _, k := range s.Knowledge.Ranges {
		keys = append(keys, string(k.Key))
	}
	r.known(n, "knowledge", keys)
	var out []knowledge.Range
	for _, k := range trials.DefaultKnowledge().Ranges {
		if v := n.get(string(k.Key)); v != nil {
			before := len(r.faults)
			if r.oneRange(&k, v); len(r.faults) == before {
				out = append(out, k)
			}
		}
	}
	return out
}
