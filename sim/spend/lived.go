package spend

import (
	"context"

	"drystalk/sim"
	"drystalk/sim/decide"
	"drystalk/sim/trials"
)

// judging is plans lived through fresh seasons, each site once for all plans in which it lives
// alike: what is said of a plan here is what its odds say, to the last digit.
type judging struct {
	*search
	stands map[string]standing      // by design
	rows   map[string]*trials.Table // by key of a site of a design
	last   design                   // of the list judged last
	run    func(d design) standing  // in place of the seasons, where the truth is to be known
	n      int                      // fresh seasons
	few    *judging                 // the same in fewer seasons; nil until it is asked for
}

func (s *search) judging() *judging { return s.judgingOn(s.Seasons) }

func (s *search) judgingOn(seasons int) *judging {
	return &judging{search: s.whole(), stands: map[string]standing{}, rows: map[string]*trials.Table{}, n: seasons}
}

// fewestOfLines is the smallest number of fresh seasons behind a line of a list, unless fewer are stated.
const fewestOfLines = 100

// lines returns the judgement of the lines of a list. Where designs are lived through whole, no line
// has anything of another, so that those between the first and the last have a fifth of the seasons,
// and say so.
func (j *judging) lines() *judging {
	n := max(min(j.n, fewestOfLines), j.n/5)
	if !j.coupled || n == j.n {
		return j
	}
	if j.few == nil {
		j.few = j.judgingOn(n)
	}
	j.few.search, j.few.run = j.search, j.run
	return j.few
}

// whole returns the same search with sites as they live in the plan: where the hub tells them what
// others bring, a design is run whole.
func (s *search) whole() *search {
	if !s.Setup.Region.Coupled() {
		return s
	}
	whole := *s
	whole.coupled, whole.kept = true, &kept{rows: map[string][]brought{}, named: map[string]names{}}
	return &whole
}

// mostRows is how many seasons of sites are kept in memory while plans are judged: about 100 MB.
const mostRows = 80_000

// all says how each plan of a path stands.
func (j *judging) all(ctx context.Context, path []design) ([]standing, error) {
	var fresh []design
	for _, d := range path {
		if _, known := j.stands[d.String()]; !known {
			fresh = append(fresh, d)
		}
	}
	for from := 0; from < len(fresh); {
		to := j.together(fresh, from)
		tell := func(done int) {
			if j.Progress != nil {
				j.Progress(decide.Judging, from*j.n+done*(to-from), len(fresh)*j.n)
			}
		}
		if err := j.live(ctx, fresh[from:to], tell); err != nil {
			return nil, err
		}
		from = to
	}
	var out []standing
	for _, d := range path {
		out = append(out, j.stands[d.String()])
	}
	return out, nil
}

// together returns up to which of some designs they live through the seasons together: one at
// least, and as many as fit in memory.
func (j *judging) together(designs []design, from int) int {
	to := from + 1
	for ; to < len(designs); to++ {
		if runs := len(j.unlived(designs[from : to+1])); (runs+len(j.rows))*j.n > mostRows {
			break
		}
	}
	return to
}

// unlived lists the sites of designs that have not lived through the seasons, each once.
func (j *judging) unlived(designs []design) []siteRun {
	return j.runsOf(designs, func(key string) bool { return j.rows[key] != nil })
}

// live lives through fresh seasons with some plans and keeps how each stands.
func (j *judging) live(ctx context.Context, designs []design, tell func(done int)) error {
	if j.run != nil {
		for _, d := range designs {
			j.stands[d.String()] = j.run(d)
		}
		return nil
	}
	if runs := j.unlived(designs); len(runs) > 0 {
		variants, of := j.variants(runs)
		tables, err := j.Setup.Tables(ctx, 0, j.n, variants, tell)
		if err != nil {
			return err
		}
		for k := range runs {
			j.rows[runs[k].key] = tables[of[k]]
		}
	}
	for _, d := range designs {
		if err := j.stand(d); err != nil {
			return err
		}
	}
	if len(j.rows)*j.n > mostRows { // the next plans have most in common with the last
		j.keepOnly(designs[len(designs)-1])
	}
	return nil
}

// stand says how a design stands of which all sites have lived.
func (j *judging) stand(d design) error {
	r := j.region(d)
	t, err := j.table(d, r)
	if err != nil {
		return err
	}
	j.stands[d.String()], err = j.standing(d, r, t)
	return err
}

// table puts the table of a design together from the rows of its sites.
func (j *judging) table(d design, r *sim.Region) (*trials.Table, error) {
	var from []*trials.Table
	for _, key := range j.keys(d) {
		from = append(from, j.rows[key])
	}
	return trials.Assemble(r, from)
}

// keepOnly forgets the rows of all designs but one.
func (j *judging) keepOnly(d design) {
	rows := map[string]*trials.Table{}
	for _, key := range j.keys(d) {
		rows[key] = j.rows[key]
	}
	j.rows = rows
}

// hub says in which air stalks lie at the hub under a plan, and what an open shed would do.
func (j *judging) hub(ctx context.Context, d design) (decide.HubAir, error) {
	if len(j.unlived([]design{d})) > 0 {
		if err := j.live(ctx, []design{d}, nil); err != nil {
			return decide.HubAir{}, err
		}
	}
	r := j.region(d)
	t, err := j.table(d, r)
	if err != nil {
		return decide.HubAir{}, err
	}
	set := j.Setup
	set.Region = r
	return decide.HubOf(ctx, set, r, t, decide.PlanOf(r))
}
