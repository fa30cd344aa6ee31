package table

import (
	"fmt"

	"drystalk/report/words"
	"drystalk/sim/decide"
)

// Earns lists what each number of dryers costs and earns.
func Earns(a decide.Answer, currency string) Table {
	t := Table{
		Title: "Money a year, dryers by the year included (95 % interval of the mean)",
		Head:  []string{"dryers", "net, " + currency, "interval", "cost of a good stalk, " + currency, "interval", "seasons"}, Left: 1,
	}
	for _, e := range a.Money {
		t.Rows = append(t.Rows, []string{
			fmt.Sprint(e.Dryers), words.BareAmount(e.Net.Mean), words.BareAmount(e.Net.Low) + " to " + words.BareAmount(e.Net.High),
			words.Price(e.PerGood.Mean, ""), words.Price(e.PerGood.Low, "") + " to " + words.Price(e.PerGood.High, ""), words.Grouped(e.Net.Seasons),
		})
	}
	return t
}

// Parts lists the parts of what a plan costs and earns.
func Parts(e decide.Earns, currency string) Table {
	t := Table{
		Title: fmt.Sprintf("What the plan with %s earns and costs (mean of %s seasons, 95 %% interval of the mean)", words.Dryers(e.Dryers), words.Grouped(e.Net.Seasons)),
		Head:  []string{"", "a year, " + currency, "interval", "a good stalk, " + currency}, Left: 1,
	}
	for _, p := range e.Parts {
		if p.Year.Mean == 0 {
			continue
		}
		t.Rows = append(t.Rows, []string{words.Part(p.Of), words.BareAmount(p.Year.Mean), words.BareAmount(p.Year.Low) + " to " + words.BareAmount(p.Year.High), words.Price(p.PerGood.Mean, "")})
	}
	t.Rows = append(t.Rows, []string{"net", words.BareAmount(e.Net.Mean), words.BareAmount(e.Net.Low) + " to " + words.BareAmount(e.Net.High), ""})
	return t
}

// Worth lists what knowing each parameter would be worth.
func Worth(w *decide.Worth, currency string) Table {
	t := Table{
		Title: "What knowing more before choosing would be worth a year (expected value of perfect information, 95 % interval)",
		Head:  []string{"parameter", currency, "interval", "how to measure it"}, Left: 1,
	}
	t.Rows = append(t.Rows, []string{"all of them", words.BareAmount(w.All.Mean), words.BareAmount(w.All.Low) + " to " + words.BareAmount(w.All.High), ""})
	for k, one := range w.Each {
		if k == 6 {
			break
		}
		t.Rows = append(t.Rows, []string{one.Parameter, words.BareAmount(one.Value.Mean), words.BareAmount(one.Value.Low) + " to " + words.BareAmount(one.Value.High), one.Measure})
	}
	return t
}
