package chart

import (
	"image/color"

	"drystalk/sim"
	"drystalk/tongue"

	"gonum.org/v1/plot"
	"gonum.org/v1/plot/plotter"
	"gonum.org/v1/plot/vg"
)

// Pickup is a collection and its part of what the contract asks of its month, alike for each.
type Pickup struct {
	Day  int
	Must float64
}

// strip is one panel of a season: values by day as upright lines, or as a line from day to day.
type strip struct {
	title tongue.Text
	of    func(d *sim.SiteDay) float64
	bars  bool
	mean  bool // of the sites, not their sum
}

// strips are the panels of a season, from above.
var strips = []strip{
	{"rain (mm a day)", func(d *sim.SiteDay) float64 { return d.RainMM }, true, true},
	{"in the yard, racks and heap (thousand stalks)", func(d *sim.SiteDay) float64 { return float64(d.OnRacks+d.InHeap) / 1000 }, false, false},
	{"dryers firing (hours a day)", func(d *sim.SiteDay) float64 { return d.Shift[sim.DryerFiring] }, true, false},
	{"dry in the site stores (thousand stalks)", func(d *sim.SiteDay) float64 { return float64(d.InStore) / 1000 }, false, false},
	{"collected for the hub (thousand stalks)", func(d *sim.SiteDay) float64 { return float64(d.ToHub) / 1000 }, true, false},
}

// values are those of a strip by day.
func (s *strip) values(sites []sim.SiteLedger, w Days) (out []float64, top float64) {
	for day := w.From; day <= w.To; day++ {
		sum := 0.0
		for k := range sites {
			sum += s.of(&sites[k].Days[day])
		}
		if s.mean {
			sum /= float64(len(sites))
		}
		out, top = append(out, sum), max(top, sum)
	}
	return out, top
}

// Glance draws one season of some sites on one page: rain, yard, dryers, stores and collections, one
// above the other on one axis of days. A short line at a collection is its part of the contract; none is
// drawn where no pick-ups are given.
func Glance(title string, sites []sim.SiteLedger, w Days, pickups []Pickup) (Chart, error) {
	var stack above
	for k := range strips {
		p, err := strips[k].draw(sites, w, pickups, k == len(strips)-1)
		if err != nil {
			return Chart{}, err
		}
		stack = append(stack, p)
	}
	h := headed{title: title, body: stack, marks: []mark{
		{post(pen{ink, 1.6, nil}), tongue.Say("upright line: one day")}, {both(patch(pale, pen{}), stroke(pen{ink, 1.2, nil})), tongue.Say("area: what lay at the end of a day")},
	}}
	if len(pickups) > 0 {
		h.marks = append(h.marks, mark{stroke(pen{rust, 2, nil}), tongue.Say("short level line: a collection's part of the month's contract")})
	}
	alt := tongue.Sayf("%s, %s to %s: rain, stalks in the yard, hours of fire, stalks in store and collections, day by day.", title, w.named(w.From), w.named(w.To))
	c := h.chart("season-at-a-glance", alt)
	c.high = 8.4 * vg.Inch
	return c, nil
}

// draw draws a strip; the last has the names of days.
func (s *strip) draw(sites []sim.SiteLedger, w Days, pickups []Pickup, last bool) (*plot.Plot, error) {
	p := panel(s.title.String(), "")
	values, top := s.values(sites, w)
	if last {
		for _, m := range pickups {
			if m.Day >= w.From && m.Day <= w.To {
				top = max(top, m.Must/1000)
			}
		}
	}
	none := top == 0
	if none {
		p.Title.Text += tongue.Say(": none in these days")
		top = 1
	}
	w.axes(p, top, 1.08)
	p.Y.Tick.Marker = ticks(marks(0, top, stepOf(top, 4)), figure)
	if none {
		nothing(p)
	}
	if !last {
		p.X.Tick.Marker = ticks(w.someDays(), func(float64) string { return "" })
	}
	if err := s.marks(p, values, w); err != nil {
		return nil, err
	}
	if !last || len(pickups) == 0 {
		return p, nil
	}
	for _, m := range pickups {
		if m.Day >= w.From && m.Day <= w.To {
			if err := line(p, level(float64(m.Day)-3, float64(m.Day)+3, m.Must/1000), pen{rust, 2, nil}); err != nil {
				return nil, err
			}
		}
	}
	return p, nil
}

// marks draws the values of a strip.
func (s *strip) marks(p *plot.Plot, values []float64, w Days) error {
	if !s.bars {
		var xy plotter.XYs
		for i, y := range values {
			xy = append(xy, plotter.XY{X: float64(w.From + i), Y: y})
		}
		corners := append(append(plotter.XYs{{X: float64(w.From)}}, xy...), plotter.XY{X: float64(w.To)})
		if err := area(p, corners, pale, pen{}); err != nil {
			return err
		}
		return line(p, xy, pen{ink, 1.2, nil})
	}
	for i, y := range values {
		if y > 0 {
			if err := line(p, upright(float64(w.From+i), 0, y), pen{s.colour(), 1.6, nil}); err != nil {
				return err
			}
		}
	}
	return nil
}

// colour is ink; rain, which is no stalk, is grey.
func (s *strip) colour() color.Color {
	if s.mean {
		return slate
	}
	return ink
}
