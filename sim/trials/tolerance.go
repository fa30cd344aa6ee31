package trials

import "slices"

// WithoutTolerance returns the same seasons under a contract of which nothing may be missing: a
// month is met by all that is asked, and with grace all that is missing is made good. What sites
// bring does not depend on it, so the rows are shared, not copied.
func (t *Table) WithoutTolerance() *Table {
	strict := *t
	strict.gate.Least, strict.gate.Tolerance = slices.Clone(t.gate.Asked), 0
	return &strict
}
