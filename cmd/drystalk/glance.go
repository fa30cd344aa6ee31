package main

import (
	"time"

	"drystalk/report"
	"drystalk/sim"
	"drystalk/tongue"
)

// glance draws the season on one page; for a region with what the contract asks of each collection.
func (c *seasonCmd) glance(r *sim.Region, title string, sites []sim.SiteLedger, w report.Days) (report.Chart, error) {
	var pickups []report.Pickup
	if c.Site == "" {
		pickups = pickupsOf(r)
	}
	return report.GlanceChart(tongue.Sayf("%s, season %d", title, c.Number), sites, w, pickups)
}

// drawn returns charts as files, in both formats.
func drawn(charts ...report.Chart) ([]report.File, error) {
	var files []report.File
	for _, chart := range charts {
		for _, format := range []string{"svg", "png"} {
			data, err := chart.Encode(format)
			if err != nil {
				return nil, err
			}
			files = append(files, report.File{Name: chart.Name + "." + format, Data: data})
		}
	}
	return files, nil
}

// pickupsOf are the collections of a region, each with its part of what the contract asks of its
// month.
func pickupsOf(r *sim.Region) []report.Pickup {
	days := r.Calendar.CollectionDays(r.Hub.CollectionsPerMonth)
	in := map[time.Month]int{}
	for _, d := range days {
		month, _ := r.Calendar.Date(d)
		in[month]++
	}
	var out []report.Pickup
	for _, d := range days {
		month, _ := r.Calendar.Date(d)
		if asked := r.Contract.StalksByMonth[month]; asked > 0 {
			out = append(out, report.Pickup{Day: d, Must: float64(asked) / float64(in[month])})
		}
	}
	return out
}
