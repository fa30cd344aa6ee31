package report

import (
	"drystalk/report/chart"
	"drystalk/report/table"
	"drystalk/report/words"
	"drystalk/tongue"
)

// ForThree lays out today and two plans, each compared with today in the same seasons: on one scale and
// in one table, each against its own contract.
func ForThree(a, b Compared) (Section, error) {
	names := table.Names(a, b)
	stock, err := chart.HubStock(chart.StockOf{Name: words.Today(), Plan: a.Result.A}, chart.StockOf{Name: names[1], Plan: a.Result.B}, chart.StockOf{Name: names[2], Plan: b.Result.B})
	stock.Name = "stock-of-three"
	return Section{Title: tongue.Say("Today and two plans"), Charts: []Chart{stock}, Tables: []Table{table.Three(a, b)}}, err
}
