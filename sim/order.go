package sim

import "drystalk/sim/stalk"

// wet tells whether anything in the yard is not dry yet.
func (y *yard) wet() bool {
	target := y.p.Cabinet.Target.DryBasis()
	for i := range y.batches {
		if y.batches[i].state.Moisture > target {
			return true
		}
	}
	return false
}

// atRisk returns the full-grade stalks of the batches that are not dry and have a mould index
// of at least so much, and the moisture of the wettest of these batches. A few stalks left over
// from a batch are worth no fire of their own.
func (y *yard) atRisk(index float64) (stalks int, wettest stalk.DryBasis) {
	target := y.p.Cabinet.Target.DryBasis()
	for i := range y.batches {
		if b := &y.batches[i]; b.state.Moisture > target && b.state.MouldIndex >= index {
			stalks += y.fullGrade(b)
			wettest = max(wettest, b.state.Moisture)
		}
	}
	return stalks, wettest
}

// orderWet sorts the batches that are not yet dry by the loading rule; ties by day cut, then
// as they were laid: the yard holds its batches so, and equals are not moved. The order is a
// list of indices.
func (y *yard) orderWet() {
	y.order = y.order[:0]
	target := y.p.Cabinet.Target.DryBasis()
	for i := range y.batches {
		if y.batches[i].state.Moisture <= target {
			continue
		}
		j := len(y.order)
		y.order = append(y.order, i)
		for ; j > 0 && y.before(i, y.order[j-1]); j-- {
			y.order[j], y.order[j-1] = y.order[j-1], y.order[j]
		}
	}
}

// before tells whether batch i is loaded before batch j.
func (y *yard) before(i, j int) bool {
	a, b := &y.batches[i], &y.batches[j]
	switch y.region.Dryer.LoadingRule {
	case MostAtRiskFirst:
		if a.state.MouldIndex != b.state.MouldIndex {
			return a.state.MouldIndex > b.state.MouldIndex
		}
	case DriestFirst:
		if a.state.Moisture != b.state.Moisture {
			return a.state.Moisture < b.state.Moisture
		}
	case WettestFirst:
		if a.state.Moisture != b.state.Moisture {
			return a.state.Moisture > b.state.Moisture
		}
	}
	return a.cutDay < b.cutDay
}

// gradeOrder fills good with the full-grade stalks of each batch of the order
// and returns their sum.
func (y *yard) gradeOrder() int {
	y.good = y.good[:0]
	sum := 0
	for _, i := range y.order {
		n := y.fullGrade(&y.batches[i])
		y.good = append(y.good, n)
		sum += n
	}
	return sum
}

// fullGrade returns the stalks of a batch that a grading would leave in, rounded down.
func (y *yard) fullGrade(b *batch) int {
	full := y.grades.full(b.state.PeakIndex)
	if full < b.kept {
		return int(float64(b.stalks) * full / b.kept)
	}
	return b.stalks
}
