package money

import (
	"fmt"

	"drystalk/sim"
)

// Item is something bought, with how long it lasts.
type Item struct {
	Name  string  `json:"item"`
	Cost  float64 `json:"cost"`
	Years int     `json:"lasts_years"`
}

// Items lists what a plan has more of than another and what that costs, by the stated prices.
// What it has fewer of is gone and brings nothing. Things without a stated price come in
// unpriced.
func Items(p *Prices, from, to *sim.Region, fromDryers, toDryers []int) (items []Item, unpriced []string) {
	add := func(what string, more, price float64, years int) {
		switch {
		case !(more > 0):
		case price > 0:
			items = append(items, Item{what, more * price, years})
		default:
			unpriced = append(unpriced, what)
		}
	}
	for i := range to.Sites {
		a, b := &from.Sites[i], &to.Sites[i]
		at := " at " + b.Name
		dryers := toDryers[i] - fromDryers[i]
		add(counted(dryers, "dryer")+at, float64(dryers), p.DryerCost, p.DryerYears)
		add(fmt.Sprintf("%.0f m² of open rack", b.OpenRackM2-a.OpenRackM2)+at, b.OpenRackM2-a.OpenRackM2, p.RackPerM2, p.OtherYears)
		add(fmt.Sprintf("%.0f m² of clear roof", b.ClearRoofM2-a.ClearRoofM2)+at, b.ClearRoofM2-a.ClearRoofM2, p.RoofPerM2, p.OtherYears)
		add(fmt.Sprintf("%.0f m² of solid roof", b.SolidRoofM2-a.SolidRoofM2)+at, b.SolidRoofM2-a.SolidRoofM2, 0, 0)
		add("sheets"+at, sheetM2(b)-sheetM2(a), p.SheetPerM2, p.OtherYears)
		if b.SealedStore && !a.SealedStore {
			add("sealed bags"+at, 1, p.SealPerSite, 1)
		}
		if a.StoreStalks > 0 && (b.StoreStalks > a.StoreStalks) {
			add(fmt.Sprintf("room for %d stalks", b.StoreStalks-a.StoreStalks)+at, float64(b.StoreStalks-a.StoreStalks)/1000, p.RoomPer1000, p.OtherYears)
		}
		add(counted(b.Cutters-a.Cutters, "cutter")+at, float64(b.Cutters-a.Cutters), p.PerCutter, p.OtherYears)
		add(fmt.Sprintf("a shift %g h longer", b.LongerShiftH-a.LongerShiftH)+at, b.LongerShiftH-a.LongerShiftH, p.PerShiftH, p.OtherYears)
		add(counted(b.OpeningStock-a.OpeningStock, "stalk")+" in the store"+at, float64(b.OpeningStock-a.OpeningStock), p.PerStock, 1)
	}
	stock := to.Hub.OpeningStock - from.Hub.OpeningStock
	add(counted(stock, "stalk")+" in stock at the hub", float64(stock), p.PerStock, 1)
	for k, m := range to.Moves {
		if m.Cost > 0 && (k >= len(from.Moves) || from.Moves[k] != m) {
			items = append(items, Item{"a dryer moved from " + m.From + " to " + m.To, Amount(m.Cost).Units(), 1})
		}
	}
	return items, unpriced
}

func sheetM2(s *sim.Site) float64 {
	if !s.Sheets {
		return 0
	}
	return s.OpenRackM2
}

func counted(n int, what string) string {
	if n == 1 {
		return "1 " + what
	}
	return fmt.Sprintf("%d %ss", n, what)
}

// Total returns what items cost.
func Total(items []Item) float64 {
	sum := 0.0
	for _, i := range items {
		sum += i.Cost
	}
	return sum
}

// YearlyCost returns what items cost a year over the years they last, less the grant.
func (p *Prices) YearlyCost(items []Item) float64 {
	sum := 0.0
	for _, i := range items {
		sum += p.Yearly(i.Cost, i.Years)
	}
	return sum
}
