package spend

import "context"

// inOrder lays out a design as a list of purchases: what is in it is bought again, one step
// after another by its gain for its money.
func (s *search) inOrder(ctx context.Context, goal design) ([]design, error) {
	path := []design{s.start()}
	look := s.lookFor(s.singles(), func(t design) bool { return t.within(goal) })
	for {
		d := path[len(path)-1]
		if goal.within(d) {
			return path, nil
		}
		next, found, err := look.next(ctx, d)
		if err == nil && !found {
			next, err = s.nextTowards(ctx, d, goal)
		}
		if err != nil {
			return path, err
		}
		path = append(path, next)
	}
}

// stepsTo lists the designs one step nearer to a goal.
func (s *search) stepsTo(d, goal design) []design {
	var out []design
	for at := range goal {
		for l := range s.levers {
			if d[at][l] < goal[at][l] {
				out = append(out, d.with(at, l, 1))
			}
		}
	}
	return out
}

// nextTowards returns what is bought towards a goal where no step alone is sure to help: the step
// with the best worth, if one is worth anything; else several at one place, if those are; else the
// best of the steps.
func (s *search) nextTowards(ctx context.Context, d, goal design) (design, error) {
	steps := s.stepsTo(d, goal)
	if err := s.runAll(ctx, steps); err != nil {
		return d, err
	}
	best, top := s.mostWorth(d, steps)
	if top > 0 {
		return best, nil
	}
	var tries []design
	for _, b := range s.bundles() {
		if t := b.in(d); len(b.levers) > 1 && t.within(goal) {
			tries = append(tries, t)
		}
	}
	if len(tries) == 0 {
		return best, nil
	}
	if err := s.runAll(ctx, tries); err != nil {
		return d, err
	}
	if several, worth := s.mostWorth(d, tries); worth > 0 {
		return several, nil
	}
	return best, nil
}

// mostWorth returns the design with the best worth against now, the first of equals.
func (s *search) mostWorth(d design, tries []design) (best design, top float64) {
	now, spent := s.score(d), s.cost(d)
	for k, t := range tries {
		if w := s.worth(now, s.score(t), s.cost(t)-spent); k == 0 || w > top {
			best, top = t, w
		}
	}
	return best, top
}

// within tells whether a design has no more of anything than another.
func (d design) within(goal design) bool {
	for at := range d {
		for l := range d[at] {
			if d[at][l] > goal[at][l] {
				return false
			}
		}
	}
	return true
}
