package main

import (
	"drystalk/report"
	"drystalk/sim"
	"drystalk/tongue"
)

// glance draws the season on one page; for a region with what the contract asks of each collection.
func (c *seasonCmd) glance(r *sim.Region, title string, sites []sim.SiteLedger, w report.Days) (report.Chart, error) {
	var pickups []report.Pickup
	if c.Site == "" {
		pickups = report.PickupsOf(r)
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
