package money

import "drystalk/sim"

// Thing is a kind of thing that may be bought.
type Thing string

// What may be bought.
const (
	Dryer       Thing = "dryer"
	OpenRack    Thing = "open_rack"
	ClearRoof   Thing = "clear_roof"
	SolidRoof   Thing = "solid_roof"
	Sheets      Thing = "sheets"
	SealedBags  Thing = "sealed_bags"
	StoreRoom   Thing = "store_room"
	Cutter      Thing = "cutter"
	LongerShift Thing = "longer_shift"
	SiteStock   Thing = "stock_at_site"
	HubStock    Thing = "stock_at_hub"
	MovedDryer  Thing = "moved_dryer"
)

// Things returns all kinds of things that may be bought.
func Things() []Thing {
	return []Thing{Dryer, OpenRack, ClearRoof, SolidRoof, Sheets, SealedBags, StoreRoom, Cutter, LongerShift, SiteStock, HubStock, MovedDryer}
}

// Item is something bought, with how long it lasts.
type Item struct {
	Of    Thing   `json:"item"`
	Size  float64 `json:"size"`         // pieces, m², hours or stalks
	Site  string  `json:"at,omitempty"` // "" for the hub; of a moved dryer, where it stood
	To    string  `json:"to,omitempty"` // of a moved dryer
	Cost  Amount  `json:"cost"`
	Years int     `json:"lasts_years"`
}

// Items lists what a plan has more of than another and what that costs, by the stated prices.
// What it has fewer of is gone and brings nothing. Things without a stated price come in
// unpriced, at no cost.
func Items(p *Prices, from, to *sim.Region, fromDryers, toDryers []int) (items, unpriced []Item) {
	add := func(of Thing, site string, size, more, price float64, years int) {
		i := Item{Of: of, Size: size, Site: site, Cost: Of(more * price), Years: years}
		switch {
		case !(more > 0):
		case price > 0:
			items = append(items, i)
		default:
			unpriced = append(unpriced, i)
		}
	}
	for i := range to.Sites {
		a, b := &from.Sites[i], &to.Sites[i]
		each := func(of Thing, more, price float64, years int) { add(of, b.Name, more, more, price, years) }
		each(Dryer, float64(toDryers[i]-fromDryers[i]), p.DryerCost, p.DryerYears)
		each(OpenRack, b.OpenRackM2-a.OpenRackM2, p.RackPerM2, p.OtherYears)
		each(ClearRoof, b.ClearRoofM2-a.ClearRoofM2, p.RoofPerM2, p.OtherYears)
		each(SolidRoof, b.SolidRoofM2-a.SolidRoofM2, 0, 0)
		each(Sheets, sheetM2(b)-sheetM2(a), p.SheetPerM2, p.OtherYears)
		if b.SealedStore && !a.SealedStore {
			each(SealedBags, 1, p.SealPerSite, 1)
		}
		if a.StoreStalks > 0 && b.StoreStalks > a.StoreStalks {
			more := float64(b.StoreStalks - a.StoreStalks)
			add(StoreRoom, b.Name, more, more/1000, p.RoomPer1000, p.OtherYears)
		}
		each(Cutter, float64(b.Cutters-a.Cutters), p.PerCutter, p.OtherYears)
		each(LongerShift, b.LongerShiftH-a.LongerShiftH, p.PerShiftH, p.OtherYears)
		each(SiteStock, float64(b.OpeningStock-a.OpeningStock), p.PerStock, 1)
	}
	stock := float64(to.Hub.OpeningStock - from.Hub.OpeningStock)
	add(HubStock, "", stock, stock, p.PerStock, 1)
	for k, m := range to.Moves {
		if m.Cost > 0 && (k >= len(from.Moves) || from.Moves[k] != m) {
			items = append(items, Item{Of: MovedDryer, Size: 1, Site: m.From, To: m.To, Cost: m.Cost, Years: 1})
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

// Total returns what items cost.
func Total(items []Item) Amount {
	sum := Amount(0)
	for _, i := range items {
		sum += i.Cost
	}
	return sum
}

// YearlyCost returns what items cost a year over the years they last, less the grant, in
// units of the currency.
func (p *Prices) YearlyCost(items []Item) float64 {
	sum := 0.0
	for _, i := range items {
		sum += p.Yearly(i.Cost, i.Years)
	}
	return sum
}
