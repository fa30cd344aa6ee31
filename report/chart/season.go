package chart

import (
	"drystalk/sim"
	"drystalk/tongue"

	"gonum.org/v1/plot"
	"gonum.org/v1/plot/plotter"
	"gonum.org/v1/plot/vg"
)

// lying are the places where stalks lie, with the pen of each.
var lying = []struct {
	stalks func(d *sim.SiteDay) int
	with   pen
}{
	{func(d *sim.SiteDay) int { return d.OnRacks + d.InHeap }, pen{ink, 1.8, nil}},
	{func(d *sim.SiteDay) int { return d.InStore }, pen{ink, 1.4, []vg.Length{vg.Points(5), vg.Points(2)}}},
	{func(d *sim.SiteDay) int { return d.InDryers }, pen{ink, 1.4, []vg.Length{vg.Points(1.5), vg.Points(2)}}},
}

// Stock draws where the stalks of a site lay through a season, with the rain.
func Stock(site string, days []sim.SiteDay, w Days) (Chart, error) {
	p := blank(tongue.Say("day"))
	top := 1.0
	for _, place := range lying {
		var xy plotter.XYs
		for i := w.From; i <= w.To; i++ {
			y := float64(place.stalks(&days[i])) / 1000
			xy = append(xy, plotter.XY{X: float64(i), Y: y})
			top = max(top, y)
		}
		if err := line(p, xy, place.with); err != nil {
			return Chart{}, err
		}
	}
	const room = 1.4 // above the stalks, for the rain
	wettest, err := hangRain(p, days[w.From:w.To+1], room*top, 0.3*top)
	if err != nil {
		return Chart{}, err
	}
	w.axes(p, top, room)
	rain := tongue.Say("no rain on these days")
	if wettest > 0 {
		rain = tongue.Sayf("from above: rain, most %.0f mm a day", wettest)
	}
	h := headed{
		title: tongue.Sayf("%s: where the stalks lay", site), upright: tongue.Say("stalks at the end of the day (thousands)"), body: p,
		marks: []mark{
			{stroke(lying[0].with), tongue.Say("thick: racks and heap")},
			{stroke(lying[1].with), tongue.Say("dashed: store")},
			{stroke(lying[2].with), tongue.Say("dotted: dryers")},
			{post(hanging), rain},
		},
	}
	return h.chart("stock", tongue.Sayf("%s: stalks on racks, in store and dryers by day, with the rain.", site)), nil
}

// hanging is the pen of rain.
var hanging = pen{slate, 1.4, nil}

// hangRain draws the rain of days from the top edge downwards, the wettest day so long as
// said, and returns the rain of that day.
func hangRain(p *plot.Plot, days []sim.SiteDay, edge, longest float64) (wettestMM float64, err error) {
	for i := range days {
		wettestMM = max(wettestMM, days[i].RainMM)
	}
	for i := range days {
		if mm := days[i].RainMM; mm > 0 {
			if err := line(p, upright(float64(days[i].Day), edge, edge-longest*mm/wettestMM), hanging); err != nil {
				return 0, err
			}
		}
	}
	return wettestMM, nil
}
