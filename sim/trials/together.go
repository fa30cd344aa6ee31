package trials

// Together returns the seasons of a plan with the rows of its sites added up, in a fraction of the memory.
// What goes by the plan as a whole (Hub, Sum, Of, rain and draws) is the same; what goes by site or by month
// is there no longer, and asking for it panics. Where a sum is too large for a row it returns the table
// as it is. A plan that the table does not hold is an error.
func (t *Table) Together(plan []int) (*Table, error) {
	if err := t.CheckPlan(plan); err != nil {
		return nil, err
	}
	sums, ok := t.sums(plan)
	if !ok {
		return t, nil
	}
	n, seasons := len(t.gate.Months), t.Seasons
	leans := make([][]int, keptAt(n)+pairs(n))
	leanKept(leans, n)
	p := &rows{most: seasons, levels: Only(plan), season: grid{blocks: 1, wide: len(leans), packed: []packed{pack(sums, len(leans), leans)}}}
	for _, dryers := range plan {
		p.block = append(p.block, make([]int, dryers+1)) // all of them are the one block
	}
	for i := range seasons {
		if of, k := t.part(i); at(of.spoils, k) {
			p.spoils = append(p.spoils, make([]bool, i+1-len(p.spoils))...)
			p.spoils[i] = true
		}
		if shares := t.OpeningKept(i); shares != nil {
			p.opening = append(p.opening, make([][]float64, i+1-len(p.opening))...)
			p.opening[i] = shares
		}
	}
	out := *t
	out.parts, out.loaded, out.together = []part{{0, p}}, nil, true
	return &out, nil
}

// sums returns by season the rows of the sites of a plan added up, without what is kept by month, and
// whether all fit into rows.
func (t *Table) sums(plan []int) (out []int32, ok bool) {
	n := len(t.gate.Months)
	row := make([]int, keptAt(n)+pairs(n))
	out = make([]int32, 0, t.Seasons*len(row))
	for i := range t.Seasons {
		clear(row)
		for site, dryers := range plan {
			for c, x := range t.list(site, dryers, i, 0, len(row)) {
				row[c] += int(x)
			}
		}
		clear(row[n+figures : keptAt(n)])
		for _, x := range row {
			if int(int32(x)) != x {
				return nil, false
			}
			out = append(out, int32(x))
		}
	}
	return out, true
}

// apart returns the sites of a plan whose rows are read to add them up: where they are added up already,
// the first stands for all.
func (t *Table) apart(plan []int) []int {
	if t.together {
		return plan[:1]
	}
	return plan
}

// bySite panics where the rows of the sites were added up.
func (t *Table) bySite() {
	if t.together {
		panic("trials: the rows of single sites are not kept")
	}
}

// at returns an entry of a list, the zero value beyond its end.
func at[T any](list []T, i int) (x T) {
	if i < len(list) {
		return list[i]
	}
	return x
}
