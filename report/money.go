package report

import (
	"fmt"
	"math"
	"strconv"
	"strings"

	"drystalk/sim/decide"
	"drystalk/sim/trials"
)

// amount writes money in whole units of the currency: "T$ 12,340".
func amount(x float64, currency string) string {
	if math.IsInf(x, 0) || math.IsNaN(x) {
		return "no limit"
	}
	return strings.TrimSpace(currency + " " + grouped(round(x)))
}

// price writes money of one stalk, with as many digits as tell small prices apart.
func price(x float64, currency string) string {
	if math.IsInf(x, 0) || math.IsNaN(x) {
		return "no limit"
	}
	return strings.TrimSpace(currency + " " + strconv.FormatFloat(x, 'f', 4, 64))
}

func amounts(m trials.Mean, currency string) string {
	return fmt.Sprintf("%s (%s to %s)", amount(m.Mean, currency), bareAmount(m.Low), bareAmount(m.High))
}

func bareAmount(x float64) string { return amount(x, "") }

func prices(m trials.Mean, currency string) string {
	return fmt.Sprintf("%s (%s to %s)", price(m.Mean, currency), price(m.Low, ""), price(m.High, ""))
}

// losesFirst begins an answer whose plan loses money.
func losesFirst(a decide.Answer, at int, currency string) string {
	if len(a.Money) == 0 || a.Money[at].Net.High >= 0 {
		return ""
	}
	return fmt.Sprintf("This loses money, %s a year: ", amounts(trials.Mean{Mean: -a.Money[at].Net.Mean, Low: -a.Money[at].Net.High, High: -a.Money[at].Net.Low}, currency))
}

// earnsWords says what the plan costs and earns, and what knowing more would be worth.
func earnsWords(a decide.Answer, at int, currency string) []string {
	if len(a.Money) == 0 {
		return nil
	}
	e := a.Money[at]
	out := []string{fmt.Sprintf("A good stalk then costs %s, dryers included, and the region earns %s a year (%s seasons).",
		prices(e.PerGood, currency), amounts(e.Net, currency), grouped(e.Net.Seasons))}
	if w := a.Worth; w != nil {
		most := a.Money[w.Chosen]
		if most.Dryers != e.Dryers {
			out = append(out, fmt.Sprintf("Most money is earned with %s, %s a year.", dryers(most.Dryers), amounts(most.Net, currency)))
		}
		switch best := w.Each[0]; {
		case w.All.Mean < 1:
			out = append(out, fmt.Sprintf("Knowing the unmeasured parameters before choosing the number that earns most would change nothing: it is worth less than %s a year.", amount(max(1, w.All.High), currency)))
		default:
			out = append(out, fmt.Sprintf("Knowing all of the unmeasured parameters before choosing the number that earns most would be worth about %s a year; of that the %s alone %s: %s.",
				amounts(w.All, currency), best.Parameter, amounts(best.Value, currency), best.Measure))
		}
	}
	return out
}

// EarnsTable lists what each number of dryers costs and earns.
func EarnsTable(a decide.Answer, currency string) Table {
	t := Table{
		Title: "Money a year, dryers by the year included (95 % interval of the mean)",
		Head:  []string{"dryers", "net, " + currency, "interval", "cost of a good stalk, " + currency, "interval", "seasons"}, Left: 1,
	}
	for _, e := range a.Money {
		t.Rows = append(t.Rows, []string{
			fmt.Sprint(e.Dryers), bareAmount(e.Net.Mean), bareAmount(e.Net.Low) + " to " + bareAmount(e.Net.High),
			price(e.PerGood.Mean, ""), price(e.PerGood.Low, "") + " to " + price(e.PerGood.High, ""), grouped(e.Net.Seasons),
		})
	}
	return t
}

// PartsTable lists the parts of what a plan costs and earns.
func PartsTable(e decide.Earns, currency string) Table {
	t := Table{
		Title: fmt.Sprintf("What the plan with %s earns and costs (mean of %s seasons, 95 %% interval of the mean)", dryers(e.Dryers), grouped(e.Net.Seasons)),
		Head:  []string{"", "a year, " + currency, "interval", "a good stalk, " + currency}, Left: 1,
	}
	for _, p := range e.Parts {
		if p.Year.Mean == 0 {
			continue
		}
		t.Rows = append(t.Rows, []string{p.Name, bareAmount(p.Year.Mean), bareAmount(p.Year.Low) + " to " + bareAmount(p.Year.High), price(p.PerGood.Mean, "")})
	}
	t.Rows = append(t.Rows, []string{"net", bareAmount(e.Net.Mean), bareAmount(e.Net.Low) + " to " + bareAmount(e.Net.High), ""})
	return t
}

// WorthTable lists what knowing each parameter would be worth.
func WorthTable(w *decide.Worth, currency string) Table {
	t := Table{
		Title: "What knowing more before choosing would be worth a year (expected value of perfect information, 95 % interval)",
		Head:  []string{"parameter", currency, "interval", "how to measure it"}, Left: 1,
	}
	t.Rows = append(t.Rows, []string{"all of them", bareAmount(w.All.Mean), bareAmount(w.All.Low) + " to " + bareAmount(w.All.High), ""})
	for k, one := range w.Each {
		if k == 6 {
			break
		}
		t.Rows = append(t.Rows, []string{one.Parameter, bareAmount(one.Value.Mean), bareAmount(one.Value.Low) + " to " + bareAmount(one.Value.High), one.Measure})
	}
	return t
}
