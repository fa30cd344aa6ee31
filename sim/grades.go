package sim

import (
	"math"

	"drystalk/sim/stalk"
)

// grades are the shares of full grade and of rejects by the highest mould index stalks had, of a
// season's spread between stalks. A batch is asked for them at every look for a charge and when it
// is graded, a lot at every collection, and mostly nothing has grown in between, or it has grown
// alike at several sites that live side by side, so the answers given last are kept for all.
type grades struct {
	spread float64
	clean  graded                 // the highest index at which all of lower ones are graded alike
	last   [1 << gradeBits]graded // by the bits of the index
}

// graded is one answer.
type graded struct {
	peakIndex float64 // 0: none
	full      float64
	reject    float64 // below 0: not asked for yet
}

const gradeBits = 9

// begin forgets the answers of another season.
func (g *grades) begin(spread float64) {
	*g = grades{spread: spread}
	g.clean.peakIndex = stalk.CleanIndex(spread)
	g.clean.full = stalk.FullShare(g.clean.peakIndex, spread)
}

// of returns the place of an index above 0, with its share of full grade.
func (g *grades) of(peakIndex float64) *graded {
	const golden = 0x9e3779b97f4a7c15 // 2^64 over the golden ratio: spreads the bits (Knuth)
	a := &g.last[math.Float64bits(peakIndex)*golden>>(64-gradeBits)]
	if a.peakIndex != peakIndex {
		*a = graded{peakIndex, stalk.FullShare(peakIndex, g.spread), -1}
	}
	return a
}

// full is stalk.FullShare.
func (g *grades) full(peakIndex float64) float64 {
	switch {
	case !(peakIndex > 0):
		return 1
	case peakIndex <= g.clean.peakIndex:
		return g.clean.full
	}
	return g.of(peakIndex).full
}

// reject is stalk.RejectShare.
func (g *grades) reject(peakIndex float64) float64 {
	if !(peakIndex > 0) {
		return 0
	}
	a := g.of(peakIndex)
	if a.reject < 0 {
		a.reject = stalk.RejectShare(peakIndex, g.spread)
	}
	return a.reject
}
