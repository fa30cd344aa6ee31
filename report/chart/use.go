package chart

import (
	"fmt"
	"image/color"

	"gonum.org/v1/plot"
	"gonum.org/v1/plot/plotter"
	"gonum.org/v1/plot/vg/draw"

	"drystalk/sim"
)

// useBand is a band of the chart of use: what a dryer does in it.
type useBand struct {
	words  string
	states []sim.DryerState
	colour color.Color
}

// useBands are the bands from below. Every state of a dryer is in one.
var useBands = []useBand{
	{"firing", []sim.DryerState{sim.DryerFiring}, ink},
	{"loading, cooling, waiting", []sim.DryerState{sim.DryerHandling, sim.DryerCooling, sim.DryerWaiting}, color.RGBA{0x7d, 0x93, 0x9c, 0xff}},
	{"no stalks or no need", []sim.DryerState{sim.DryerNoStalks, sim.DryerNotWanted}, pale},
	{"no time, people or wood", []sim.DryerState{sim.DryerNoTime, sim.DryerNoPeople, sim.DryerNoWood}, color.RGBA{0xe5, 0xb9, 0x8e, 0xff}},
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
func Use(title string, sites []sim.SiteLedger, from, to int, date func(d int) string) (Chart, error) {
	p := blank(title+": what the dryers did", "day", "dryer-hours of the day's shifts")
	below := make([]float64, to-from+1)
	for k := range useBands {
		above := make([]float64, len(below))
		for i := range below {
			above[i] = useBands[k].upon(below[i], sites, from+i)
		}
		if err := area(p, steps(float64(from), below, above), useBands[k].colour, pen{color.White, 0.4, nil}); err != nil {
			return Chart{}, fmt.Errorf("chart of dryer use: %w", err)
		}
		below = above
	}
	top := 1.0
	for _, y := range below {
		top = max(top, y)
	}
	window{from, to, date}.axes(p, top, 1.42)
	if err := useKey(p, top); err != nil {
		return Chart{}, fmt.Errorf("chart of dryer use: %w", err)
	}
	return Chart{"dryer-use", title + ": dryer-hours of each day's shifts by what the dryers did.", p, chartHeight}, nil
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

// useKey names the bands in two lines above the days.
func useKey(p *plot.Plot, top float64) error {
	at := []struct{ x, y float64 }{{0, 1.33}, {0.27, 1.33}, {0.66, 1.33}, {0, 1.17}, {0.5, 1.17}} // parts of the width and of top
	width := p.X.Max - p.X.Min
	for i := range useBands {
		x, y := p.X.Min+at[i].x*width, at[i].y*top
		if err := area(p, box(x, x+0.025*width, y, 0.04*top), useBands[i].colour, pen{ink, 0.5, nil}); err != nil {
			return err
		}
		label(p, x+0.03*width, y, useBands[i].words, ink, 0, 0, draw.XLeft)
	}
	return nil
}
