package scenarios

import "slices"

// withOriginsOf gives what was not changed its origin back: a scenario that was taken whole
// states every key, but what stood in for a missing one is still no statement of the user, and
// a warning still names its line of the file.
func (s *Scenario) withOriginsOf(from *Scenario) *Scenario {
	now, before := s.flat(), from.flat()
	same := func(key string) bool { return now[key] == before[key] }
	for _, d := range from.defaults {
		if same(d.Key) {
			s.defaults = append(s.defaults, d)
		}
	}
	for i := range s.Knowledge.Ranges {
		r := &s.Knowledge.Ranges[i]
		for _, old := range from.Knowledge.Ranges {
			if old.Key == r.Key && same("knowledge."+string(r.Key)) {
				r.Source = old.Source
			}
		}
	}
	warnings := slices.DeleteFunc(slices.Clone(from.warnings), func(w warning) bool { return !same(w.key) })
	fresh := slices.DeleteFunc(slices.Clone(s.warnings), func(w warning) bool { return same(w.key) })
	s.setWarnings(append(warnings, fresh...))
	s.File, s.Ways, s.waysData, s.waysSaid, s.measuredFiles = from.File, from.Ways, from.waysData, from.waysSaid, from.measuredFiles
	return s
}

// setWarnings sets the warnings and their sentences.
func (s *Scenario) setWarnings(list []warning) {
	s.warnings, s.Warnings = list, nil
	for _, w := range list {
		s.Warnings = append(s.Warnings, w.sentence)
	}
}
