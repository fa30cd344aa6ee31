package table

import (
	"fmt"
	"math"

	"drystalk/report/words"
	"drystalk/sim/decide"
	"drystalk/sim/trials"
)

// Earns lists what each number of dryers costs and earns.
func Earns(a decide.Answer, currency string) Table {
	t := Table{
		Title: fmt.Sprintf("Money a year, %s (95 %% interval of the mean%s)", words.Included("the dryers", a.Money[0].GrantShare), words.NotMembersPay(a.Money[0].Cutters)),
		Head:  []string{"dryers", words.LeftOver(a.Money[0].Cutters) + ", " + currency, "interval", "cost of a good stalk, " + currency, "interval", "seasons"}, Left: 1,
		Apart: []string{"dryers", words.LeftOver(a.Money[0].Cutters), words.LeftOver(a.Money[0].Cutters), "cost of a good stalk", "cost of a good stalk", "seasons"},
	}
	for _, e := range a.Money {
		t.Rows = append(t.Rows, []Cell{
			plain(e.Dryers, ""), meanAmount(e.Net.Mean, currency), amountSpan(e.Net.Low, e.Net.High, currency),
			price(e.PerGood.Mean, currency), priceSpan(e.PerGood, currency), count(e.Net.Seasons, ""),
		})
	}
	return t
}

// ToFund lists what has to be found for each number of dryers, those that stand already apart.
func ToFund(a decide.Answer, currency string) Table {
	t := Table{
		Title: "What is to be funded, " + currency + " (the own part in cash before the first season)",
		Head:  []string{"dryers", "of them new", "purchase", "grant", "own part", "borrowed", "instalment a month", "months"}, Left: 1,
	}
	for _, e := range a.Money {
		if f := e.ToFund; f != nil {
			t.Rows = append(t.Rows, []Cell{
				plain(e.Dryers, ""), plain(f.New, "dryers"), amount(f.Cost, currency), amount(f.Grant, currency), amount(f.Own, currency), amount(f.Loan, currency),
				amount(f.Instalment, currency), plain(f.Months, "months"),
			})
		}
	}
	return t
}

// More lists what each number of dryers meets and costs more in a year than the fewest.
func More(a decide.Answer, currency string) Table {
	t := Table{
		Sheet: "What more dryers do and cost", Title: fmt.Sprintf("What is met more than with %s, and what that costs a year (95 %% interval; the dryers at their full price by the year, without pay to the group's own people)", words.Dryers(a.Money[0].Dryers)),
		Head: []string{"dryers", "costs more, " + currency, "months met more", "stalks more", "a month more, " + currency, "interval", "a stalk more, " + currency, "interval", "seasons"}, Left: 1,
		Apart: []string{"dryers", "costs more", "months met more", "stalks more", "a month more costs", "a month more costs", "a stalk more costs", "a stalk more costs", "seasons"},
	}
	for _, e := range a.Money {
		m := e.More
		if m == nil {
			continue
		}
		row := []Cell{plain(e.Dryers, ""), meanAmount(m.Cost.Mean, currency), decimal(m.MonthsMet.Mean, ""), mean(m.Delivered, stalks), untold, untold, untold, untold, count(m.Cost.Seasons, "")}
		if told(m.PerMonth) {
			row[4], row[5] = meanAmount(m.PerMonth.Mean, currency), amountSpan(m.PerMonth.Low, m.PerMonth.High, currency)
		}
		if told(m.PerStalk) {
			row[6], row[7] = price(m.PerStalk.Mean, currency), priceSpan(m.PerStalk, currency)
		}
		t.Rows = append(t.Rows, row)
	}
	return t
}

// untold stands for a cost of something of which it cannot be told whether there is more.
var untold = text("cannot be told")

// told tells whether a ratio has an interval.
func told(m trials.Mean) bool { return !math.IsInf(m.High, 0) && !math.IsNaN(m.Mean) }

// Parts lists the parts of what a plan costs and earns. Pay to members is marked as such.
func Parts(e decide.Earns, currency string) Table {
	t := Table{
		Sheet: "What the plan earns and costs", Title: fmt.Sprintf("What the plan with %s earns and costs (mean of %s seasons, 95 %% interval of the mean)", words.Dryers(e.Dryers), words.Grouped(e.Net.Seasons)),
		Head: []string{"", "a year, " + currency, "interval", "a good stalk, " + currency}, Left: 1,
		Apart: []string{"", "a year", "a year", "a good stalk"},
	}
	for _, p := range e.Parts {
		if p.Year.Mean == 0 {
			continue
		}
		t.Rows = append(t.Rows, []Cell{text(words.PaidToMembers(p.Of, e.Cutters)), meanAmount(p.Year.Mean, currency), amountSpan(p.Year.Low, p.Year.High, currency), price(p.PerGood.Mean, currency)})
	}
	t.Rows = append(t.Rows, []Cell{text(words.LeftOver(e.Cutters)), meanAmount(e.Net.Mean, currency), amountSpan(e.Net.Low, e.Net.High, currency), text("")})
	t.Sums = 1
	return t
}

// Worth lists what knowing each parameter would be worth.
func Worth(w *decide.Worth, currency string) Table {
	t := Table{
		Sheet: "Worth of knowing more", Title: "What knowing more before choosing would be worth a year (expected value of perfect information, 95 % interval)",
		Head: []string{"parameter", currency, "interval", "how to measure it"}, Left: 1,
		Apart: []string{"parameter", "worth a year", "worth a year", "how to measure it"},
	}
	t.Rows = append(t.Rows, []Cell{text("all of them"), meanAmount(w.All.Mean, currency), amountSpan(w.All.Low, w.All.High, currency), text("")})
	for k, each := range w.Each {
		if k == 6 {
			break
		}
		t.Rows = append(t.Rows, []Cell{text(each.Parameter), meanAmount(each.Value.Mean, currency), amountSpan(each.Value.Low, each.Value.High, currency), text(each.Measure)})
	}
	return t
}
