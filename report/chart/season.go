package chart

import (
	"fmt"
	"image/color"

	"gonum.org/v1/plot/plotter"
	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/draw"

	"drystalk/report/words"
	"drystalk/sim"
)

// Stock draws where the stalks of a site lay through a season, with the rain.
func Stock(site string, days []sim.SiteDay, from, to int, date func(d int) string) (Chart, error) {
	p := blank(site+": where the stalks lay", "day", "stalks at the end of the day (thousands)")
	series := []struct {
		name   string
		of     func(d *sim.SiteDay) int
		dashes []vg.Length
		width  vg.Length
	}{
		{"racks and heap", func(d *sim.SiteDay) int { return d.OnRacks + d.InHeap }, nil, vg.Points(1.8)},
		{"store", func(d *sim.SiteDay) int { return d.InStore }, []vg.Length{vg.Points(5), vg.Points(2)}, vg.Points(1.4)},
		{"dryers", func(d *sim.SiteDay) int { return d.InDryers }, []vg.Length{vg.Points(1.5), vg.Points(2)}, vg.Points(1.4)},
	}
	top := 0.0
	for _, s := range series {
		var xy plotter.XYs
		for i := from; i <= to; i++ {
			y := float64(s.of(&days[i])) / 1000
			xy = append(xy, plotter.XY{X: float64(i), Y: y})
			top = max(top, y)
		}
		line, err := plotter.NewLine(xy)
		if err != nil {
			return Chart{}, err
		}
		line.Color, line.Dashes, line.Width = ink, s.dashes, s.width
		p.Add(line)
	}
	wettest := 1.0
	for i := from; i <= to; i++ {
		wettest = max(wettest, days[i].RainMM)
	}
	top = max(1, top)
	for i := from; i <= to; i++ { // rain hangs from the top edge
		if days[i].RainMM > 0 {
			l, err := plotter.NewLine(plotter.XYs{{X: float64(i), Y: 1.5 * top}, {X: float64(i), Y: 1.5*top - 0.3*top*days[i].RainMM/wettest}})
			if err != nil {
				return Chart{}, err
			}
			l.Color, l.Width = rust, vg.Points(1)
			p.Add(l)
		}
	}
	p.X.Min, p.X.Max, p.Y.Min, p.Y.Max = float64(from)-0.5, float64(to)+0.5, 0, 1.5*top
	p.X.Tick.Marker = ticks(someDays(from, to), func(x float64) string { return date(words.Round(x)) })
	var marks []float64
	for y, step := 0.0, niceStep(top); y <= top; y += step {
		marks = append(marks, y)
	}
	p.Y.Tick.Marker = ticks(marks, func(y float64) string { return fmt.Sprint(words.Round(y)) })
	label(p, float64(from), 1.13*top, "thick: racks and heap; dashed: store; dotted: dryers", ink, 0, 0, draw.XLeft)
	label(p, float64(to), 1.13*top, fmt.Sprintf("from above: rain, most %.0f mm a day", wettest), rust, 0, 0, draw.XRight)
	return Chart{"stock", site + ": stalks on racks, in store and dryers by day, with the rain.", p, chartHeight}, nil
}

// useBands are what a dryer does, in bands of the chart of its use. Every state is in one.
var useBands = []struct {
	words  string
	states []sim.DryerState
	colour color.Color
}{
	{"firing", []sim.DryerState{sim.DryerFiring}, ink},
	{"loading, cooling, waiting", []sim.DryerState{sim.DryerHandling, sim.DryerCooling, sim.DryerWaiting}, color.RGBA{0x7d, 0x93, 0x9c, 0xff}},
	{"no stalks or no need", []sim.DryerState{sim.DryerNoStalks, sim.DryerNotWanted}, pale},
	{"no time, people or wood", []sim.DryerState{sim.DryerNoTime, sim.DryerNoPeople, sim.DryerNoWood}, color.RGBA{0xe5, 0xb9, 0x8e, 0xff}},
	{"broken, out, not put up", []sim.DryerState{sim.DryerBroken, sim.DryerNotReady}, rust},
}

// Use draws what the dryers of some sites did in the hours of their shifts, day by day:
// firing below, then handling and cooling, then standing. Between them lies white, so that
// the order tells them apart in grey print.
func Use(title string, sites []sim.SiteLedger, from, to int, date func(d int) string) (Chart, error) {
	p := blank(title+": what the dryers did", "day", "dryer-hours of the day's shifts")
	base := make([]float64, to-from+1)
	top := 1.0
	for _, band := range useBands {
		upper := make(plotter.XYs, 0, 4*len(base)+2)
		lower := make(plotter.XYs, 0, 2*len(base))
		for i := range base {
			y := base[i]
			for k := range sites {
				for _, s := range band.states {
					y += sites[k].Days[from+i].Shift[s]
				}
			}
			x := float64(from + i)
			upper = append(upper, plotter.XY{X: x - 0.5, Y: y}, plotter.XY{X: x + 0.5, Y: y})
			lower = append(lower, plotter.XY{X: x - 0.5, Y: base[i]}, plotter.XY{X: x + 0.5, Y: base[i]})
			base[i] = y
			top = max(top, y)
		}
		for i := len(lower) - 1; i >= 0; i-- {
			upper = append(upper, lower[i])
		}
		area, err := plotter.NewPolygon(upper)
		if err != nil {
			return Chart{}, fmt.Errorf("chart of dryer use: %w", err)
		}
		area.Color, area.LineStyle.Width = band.colour, vg.Points(0.4)
		area.LineStyle.Color = color.White
		p.Add(area)
	}
	p.X.Min, p.X.Max, p.Y.Min, p.Y.Max = float64(from)-0.5, float64(to)+0.5, 0, 1.42*top
	p.X.Tick.Marker = ticks(someDays(from, to), func(x float64) string { return date(words.Round(x)) })
	var marks []float64
	for y, step := 0.0, niceStep(top); y <= top; y += step {
		marks = append(marks, y)
	}
	p.Y.Tick.Marker = ticks(marks, func(y float64) string { return fmt.Sprint(words.Round(y)) })
	at := []struct{ x, y float64 }{{0, 1.33}, {0.27, 1.33}, {0.66, 1.33}, {0, 1.17}, {0.5, 1.17}}
	width := float64(to-from) + 1
	for i, band := range useBands {
		x, y := float64(from)-0.5+at[i].x*width, at[i].y*top
		key, err := plotter.NewPolygon(plotter.XYs{{X: x, Y: y - 0.04*top}, {X: x + 0.025*width, Y: y - 0.04*top}, {X: x + 0.025*width, Y: y + 0.04*top}, {X: x, Y: y + 0.04*top}})
		if err != nil {
			return Chart{}, fmt.Errorf("chart of dryer use: %w", err)
		}
		key.Color, key.LineStyle.Width, key.LineStyle.Color = band.colour, vg.Points(0.5), ink
		p.Add(key)
		label(p, x+0.03*width, y, band.words, ink, 0, 0, draw.XLeft)
	}
	return Chart{"dryer-use", title + ": dryer-hours of each day's shifts by what the dryers did.", p, chartHeight}, nil
}
