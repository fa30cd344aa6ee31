package scenarios

import (
	"fmt"
	"slices"
	"sort"
	"strings"
)

// Difference is a key in which two scenarios differ.
type Difference struct {
	Key  string `json:"key"`
	A    string `json:"first"`  // "" where it is not stated
	B    string `json:"second"` // "" where it is not stated
	Plan bool   `json:"plan"`   // a lever of the plan; else it lies outside
}

// outside are the sections that are no part of a plan.
var outside = []string{"currency", "contract", "luck", "trouble", "stand", "money"}

// refused are the sections that must be the same for two plans to live through the same
// seasons.
var refused = []string{"season", "weather", "knowledge"}

// Differences returns the keys in which two scenarios differ, or an error where they cannot
// live through the same seasons: other weather, calendar, knowledge or sites.
func Differences(a, b *Scenario) ([]Difference, error) {
	x, y := flat(a), flat(b)
	if s, t := siteNames(a), siteNames(b); !slices.Equal(s, t) {
		return nil, fmt.Errorf("%s and %s cannot be compared: the sites are %s in the one and %s in the other; both need the same sites in the same order",
			a.Name, b.Name, strings.Join(s, ", "), strings.Join(t, ", "))
	}
	keys := map[string]bool{}
	for k := range x {
		keys[k] = true
	}
	for k := range y {
		keys[k] = true
	}
	var out []Difference
	for k := range keys {
		if x[k] == y[k] || k == "region" {
			continue
		}
		section, _, _ := strings.Cut(k, ".")
		if slices.Contains(refused, section) {
			return nil, fmt.Errorf("%s and %s cannot be compared in the same seasons: %s is %s in the one and %s in the other",
				a.Name, b.Name, k, orNothing(x[k]), orNothing(y[k]))
		}
		plan := !slices.Contains(outside, section) && !strings.HasSuffix(k, ".max_dryers") && !strings.HasSuffix(k, ".stand_m2") && !strings.HasSuffix(k, ".closed")
		out = append(out, Difference{k, x[k], y[k], plan})
	}
	sort.Slice(out, func(i, j int) bool { return out[i].Key < out[j].Key })
	return out, nil
}

func orNothing(s string) string {
	if s == "" {
		return "not stated"
	}
	return s
}

func siteNames(s *Scenario) []string {
	var out []string
	for i := range s.Region.Sites {
		out = append(out, s.Region.Sites[i].Name)
	}
	return out
}

// flat returns the values of a scenario, defaults included, by dotted key.
func flat(s *Scenario) map[string]string {
	out := map[string]string{}
	var path []string
	for _, line := range strings.Split(strings.TrimRight(string(s.Write()), "\n"), "\n") {
		indent := (len(line) - len(strings.TrimLeft(line, " "))) / 2
		key, value := keyAndValue(strings.TrimLeft(line, " "))
		path = append(path[:min(indent, len(path))], key)
		if value != "" {
			out[strings.Join(path, ".")] = value
		}
	}
	return out
}

// keyAndValue splits a written line; a quoted key may hold a colon.
func keyAndValue(line string) (key, value string) {
	if strings.HasPrefix(line, `"`) {
		if end := strings.Index(line[1:], `":`); end >= 0 {
			return line[1 : end+1], strings.TrimSpace(line[end+3:])
		}
	}
	key, value, _ = strings.Cut(line, ":")
	return key, strings.TrimSpace(value)
}

// With returns the scenario with some keys changed: "Heron Point: dryers=2, crew=1" for a
// site, "dryer: shift_end_h=22" for another group of keys. What is wrong with a change is said
// of the change.
func (s *Scenario) With(changes []string) (*Scenario, error) {
	lines := strings.Split(strings.TrimRight(string(s.Write()), "\n"), "\n")
	for _, change := range changes {
		group, list, ok := strings.Cut(change, ":")
		if !ok {
			return nil, fmt.Errorf("--with: found %q, allowed: a site or a group of keys, a colon and changes, such as \"Heron Point: dryers=2\"", change)
		}
		for _, one := range strings.Split(list, ",") {
			key, value, ok := strings.Cut(one, "=")
			key, value, group = strings.TrimSpace(key), strings.TrimSpace(value), strings.TrimSpace(group)
			if !ok || key == "" || value == "" || strings.ContainsAny(value, "\n\r:{}[]#&*\"'") {
				return nil, fmt.Errorf("--with: found %q, allowed: key=value, such as dryers=2", strings.TrimSpace(one))
			}
			var err error
			if lines, err = s.changed(lines, group, key, value); err != nil {
				return nil, err
			}
		}
	}
	open := func(string) ([]byte, error) { return s.climateData, nil }
	changed, err := ReadWith(s.Name, []byte(strings.Join(lines, "\n")+"\n"), open)
	if faults, ok := err.(Faults); ok {
		f := faults[0]
		return nil, fmt.Errorf("--with: %s: found %s, allowed: %s", f.Key, f.Found, f.Allowed)
	}
	if err != nil {
		return nil, err
	}
	return changed.withOriginsOf(s), nil
}

// withOriginsOf gives what was not changed its origin back: a scenario that was written whole
// states every key, but what stood in for a missing one is still no statement of the user.
func (s *Scenario) withOriginsOf(from *Scenario) *Scenario {
	now, before := flat(s), flat(from)
	for _, d := range from.defaults {
		if now[d.Key] == before[d.Key] {
			s.defaults = append(s.defaults, d)
		}
	}
	for i := range s.Knowledge.Ranges {
		r := &s.Knowledge.Ranges[i]
		for _, old := range from.Knowledge.Ranges {
			if old.Key == r.Key && old.Low == r.Low && old.Mode == r.Mode && old.High == r.High {
				r.Source = old.Source
			}
		}
	}
	s.Normals.Filled = from.Normals.Filled
	return s
}

// changed replaces the value of a key in the lines of a written scenario.
func (s *Scenario) changed(lines []string, group, key, value string) ([]string, error) {
	if group == "season" || group == "weather" || group == "knowledge" {
		return nil, fmt.Errorf("--with: found %q, allowed: what a plan may change; both plans live through the same seasons", group)
	}
	at, indent := -1, 1
	for i, line := range lines {
		name, _ := keyAndValue(strings.TrimLeft(line, " "))
		depth := (len(line) - len(strings.TrimLeft(line, " "))) / 2
		if name == group && (depth == 0 || (depth == 1 && slices.Contains(siteNames(s), group))) {
			at, indent = i, depth+1
		}
	}
	if at < 0 {
		allowed := append(siteNames(s), "hub", "dryer", "yard", "people", "store", "road")
		return nil, fmt.Errorf("--with: found %q, allowed: %s", group, strings.Join(allowed, ", "))
	}
	prefix := strings.Repeat("  ", indent)
	end := at + 1
	for ; end < len(lines) && strings.HasPrefix(lines[end], prefix); end++ {
		if k, _ := keyAndValue(strings.TrimLeft(lines[end], " ")); k == key && !strings.HasPrefix(lines[end], prefix+" ") {
			lines[end] = prefix + key + ": " + value
			return lines, nil
		}
	}
	return slices.Insert(lines, end, prefix+key+": "+value), nil
}
