package chart

import (
	"fmt"
	"image/color"
	"slices"

	"drystalk/sim"
	"drystalk/tongue"

	"gonum.org/v1/plot/plotter"
	"gonum.org/v1/plot/vg"
)

// useBand is a band of the chart of use: what a dryer does in it.
type useBand struct {
	words  tongue.Text
	states []sim.DryerState
	colour color.Color
}

// useBands are the bands from below. Every state of a dryer is in one.
var useBands = []useBand{
	{"firing", []sim.DryerState{sim.DryerFiring}, ink},
	{"loading, cooling, waiting", []sim.DryerState{sim.DryerHandling, sim.DryerCooling, sim.DryerWaiting}, slate},
	{"no stalks or no need", []sim.DryerState{sim.DryerNoStalks, sim.DryerNotWanted}, pale},
	{"no time, people or wood", []sim.DryerState{sim.DryerNoTime, sim.DryerNoPeople, sim.DryerNoWood}, color.RGBA{0xdc, 0xae, 0x7e, 0xff}},
	{"broken, out, not put up", []sim.DryerState{sim.DryerBroken, sim.DryerNotReady}, rust},
}

// upon returns how high the band reaches on a day: its hours at all sites upon those below.
func (b *useBand) upon(below float64, sites []sim.SiteLedger, day int) float64 {
	for k := range sites {
		for _, s := range b.states {
			below += sites[k].Days[day].Shift[s]
		}
	}
	return below
}

// Use draws what the dryers of some sites did in the hours of their shifts, day by day:
// firing below, then handling and cooling, then standing. Between them lies white, so that
// the order tells them apart in grey print.
func Use(title string, sites []sim.SiteLedger, w Days) (Chart, error) {
	p := blank(tongue.Say("day"))
	below := make([]float64, w.To-w.From+1)
	for k := range useBands {
		above := make([]float64, len(below))
		for i := range below {
			above[i] = useBands[k].upon(below[i], sites, w.From+i)
		}
		if err := area(p, steps(float64(w.From), below, above), useBands[k].colour, pen{color.White, 0.4, nil}); err != nil {
			return Chart{}, fmt.Errorf("chart of dryer use: %w", err)
		}
		below = above
	}
	top := slices.Max(below)
	idle := top == 0
	if idle {
		top = 1
	}
	w.axes(p, top, 1)
	h := headed{title: tongue.Sayf("%s: what the dryers did", title), upright: tongue.Say("dryer-hours of the day's shifts"), body: p, marks: useMarks()}
	c := h.chart("dryer-use", tongue.Sayf("%s: dryer-hours of each day's shifts by what the dryers did.", title))
	if idle {
		nothing(p)
		h.marks = []mark{{nil, tongue.Say("no dryer was in a shift on these days")}}
		c.high = 2 * vg.Inch // there is nothing to look at
	}
	return c, nil
}

// steps are the corners of a band between two heights of each day, to the right along the
// upper edge and back along the lower.
func steps(from float64, below, above []float64) plotter.XYs {
	out := make(plotter.XYs, 0, 4*len(above))
	for i, y := range above {
		x := from + float64(i)
		out = append(out, plotter.XY{X: x - 0.5, Y: y}, plotter.XY{X: x + 0.5, Y: y})
	}
	for i := len(below) - 1; i >= 0; i-- {
		x := from + float64(i)
		out = append(out, plotter.XY{X: x + 0.5, Y: below[i]}, plotter.XY{X: x - 0.5, Y: below[i]})
	}
	return out
}

// useMarks name the bands, from below.
func useMarks() (out []mark) {
	for i := range useBands {
		out = append(out, mark{patch(useBands[i].colour, pen{ink, 0.5, nil}), useBands[i].words.String()})
	}
	return out
}
