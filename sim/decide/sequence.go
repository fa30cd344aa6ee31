package decide

import (
	"slices"

	"drystalk/sim/trials"
)

// Numbers of dryers are proven in looks at more and more seasons: what a look proves enough or too
// few is not lived through any further. The error that is allowed in all is shared out among the
// looks beforehand, those included that may never come.
//
// Whatever is left out on the way, each side errs only where one fixed number is miscounted. A
// number is called too few wrongly only if the smallest that is enough was met in too few
// seasons in one of its months: it is among the numbers looked at until a look errs. One is called enough
// wrongly only if the largest that is not enough was met in too many seasons, since all larger
// numbers looked at must meet a season together. Both have a binomial count and are
// held to half of the look's error, so the looks add up.

// early are the looks before the stated seasons: after which part of them, and which part of the
// error each may spend. They find what is hopeless or beyond doubt; an error spent there is
// missing later, where numbers lie close to the target.
var early = []struct{ seasons, spends float64 }{{0.05, 0.01}, {0.1, 0.02}, {0.2, 0.02}, {0.5, 0.04}}

// aLook is one look at the numbers of dryers.
type aLook struct {
	after int     // seasons in all
	err   float64 // probability that it calls a number wrongly
}

// looksAt returns the looks up to a limit: the early ones, then after the stated seasons and after
// twice as many each time, in whole numbers of the stated. What early looks leave of the error the
// others share equally. A look after fewer than fewestFresh seasons is none.
func looksAt(seasons, limit int) []aLook {
	seasons = max(1, seasons)
	var out []aLook
	left := 1 - trials.Level
	for _, e := range early {
		if n := int(e.seasons * float64(seasons)); n >= fewestFresh {
			out = append(out, aLook{n, e.spends * (1 - trials.Level)})
			left -= e.spends * (1 - trials.Level)
		}
	}
	late := []int{seasons}
	most := max(1, limit/seasons) * seasons
	for last := seasons; last < most; {
		last = min(2*last, most)
		late = append(late, last)
	}
	for _, n := range late {
		out = append(out, aLook{n, left / float64(len(late))})
	}
	return out
}

// sequence is the looks at consecutive numbers of dryers.
type sequence struct {
	looks   []aLook
	limit   int // seasons up to which all that is undecided is looked at again
	fewest  int // dryers, of the first number
	numbers int

	// prove tells what the events of consecutive numbers prove, the first of them given.
	prove func(met [][][]bool, fewest int, err float64) Proof
}

// run looks at the numbers until all are decided or the looks are at an end. live lives through the
// seasons up to so many with what is open and returns the events of the open numbers; where it is
// stopped it returns those of the seasons that it has come to.
func (s *sequence) run(live func(open Proof, upto int) ([][][]bool, error)) (Proof, error) {
	g := Proof{Level: trials.Level, Enough: -1, NotEnough: s.fewest - 1, Planned: len(s.looks)}
	for n := range s.numbers {
		g.Undecided = append(g.Undecided, s.fewest+n)
	}
	for k, l := range s.looks {
		if !s.goesOn(&g, l.after) {
			break
		}
		met, err := live(g, l.after)
		if err != nil && (len(met) == 0 || len(met[0][0]) <= g.Seasons) {
			return g, err
		}
		before := g
		g = s.prove(met, before.Undecided[0], l.err)
		g.Looks, g.Planned = k+1, len(s.looks)
		g.meet(before)
		if err != nil {
			return g, err
		}
	}
	return g, nil
}

// goesOn tells whether numbers are looked at again with so many seasons in all: up to the limit
// whatever is undecided, beyond it one number that alone separates two answers, if by what has been
// seen the last look may settle it. To stop where it may not calls no number anything.
func (s *sequence) goesOn(g *Proof, seasons int) bool {
	if seasons > s.limit && g.Looks > 0 {
		return len(g.Undecided) == 1 && g.MoreNeed <= s.looks[len(s.looks)-1].after
	}
	return len(g.Undecided) > 0
}

// meet keeps what an earlier look has proven.
func (g *Proof) meet(before Proof) {
	if before.Enough >= 0 && (g.Enough < 0 || before.Enough < g.Enough) {
		g.Enough = before.Enough
	}
	g.NotEnough = max(g.NotEnough, before.NotEnough)
	g.Undecided = slices.DeleteFunc(g.Undecided, func(n int) bool { return n <= g.NotEnough || (g.Enough >= 0 && n >= g.Enough) })
}

// above returns the proof of numbers from the fewest on: of smaller ones nothing is proven.
func (g Proof) above(fewest int) Proof {
	if g.NotEnough < fewest {
		g.NotEnough = -1
	}
	return g
}
