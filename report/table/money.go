package table

import (
	"math"

	"drystalk/report/words"
	"drystalk/sim/decide"
	"drystalk/sim/trials"
	"drystalk/tongue"
)

// Earns lists what each number of dryers costs and earns.
func Earns(a decide.Answer, currency string) Table {
	t := Table{
		Title: tongue.Sayf("Money a year, %s (95 %% interval of the mean%s)", words.DryersIncluded(a.Money), words.NotMembersPay(a.Money[0].Cutters)),
		Head:  []string{tongue.Say("dryers"), words.LeftOver(a.Money[0].Cutters) + ", " + currency, tongue.Say("interval"), tongue.Sayf("cost of a good stalk, %s", currency), tongue.Say("interval"), tongue.Say("seasons")}, Left: 1,
		Apart: []string{tongue.Say("dryers"), words.LeftOver(a.Money[0].Cutters), words.LeftOver(a.Money[0].Cutters), tongue.Say("cost of a good stalk"), tongue.Say("cost of a good stalk"), tongue.Say("seasons")},
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
		Title: tongue.Sayf("What is to be funded, %s (the own part in cash before the first season)", currency),
		Head:  []string{tongue.Say("dryers"), tongue.Say("of them new"), tongue.Say("purchase"), tongue.Say("grant"), tongue.Say("own part"), tongue.Say("borrowed"), tongue.Say("instalment a month"), tongue.Say("months")}, Left: 1,
	}
	for _, e := range a.Money {
		if f := e.ToFund; f != nil {
			t.Rows = append(t.Rows, []Cell{
				plain(e.Dryers, ""), plain(f.New, tongue.Say("dryers")), amount(f.Cost, currency), amount(f.Grant, currency), amount(f.Own, currency), amount(f.Loan, currency),
				amount(f.Instalment, currency), plain(f.Months, tongue.Say("months")),
			})
		}
	}
	return t
}

// More lists what each number of dryers meets and costs more in a year than the fewest.
func More(a decide.Answer, currency string) Table {
	t := Table{
		Sheet: tongue.Say("What more dryers do and cost"), Title: tongue.Sayf("What is met more than with %s, and what that costs a year (95 %% interval; %s, without pay to the group's own people)", words.Dryers(a.Money[0].Dryers), words.AtFullPrice(a.Money)),
		Head: []string{tongue.Say("dryers"), tongue.Sayf("costs more, %s", currency), tongue.Say("months met more"), tongue.Say("stalks more"), tongue.Sayf("a month more, %s", currency), tongue.Say("interval"), tongue.Sayf("a stalk more, %s", currency), tongue.Say("interval"), tongue.Say("seasons")}, Left: 1,
		Apart: []string{tongue.Say("dryers"), tongue.Say("costs more"), tongue.Say("months met more"), tongue.Say("stalks more"), tongue.Say("a month more costs"), tongue.Say("a month more costs"), tongue.Say("a stalk more costs"), tongue.Say("a stalk more costs"), tongue.Say("seasons")},
	}
	for _, e := range a.Money {
		m := e.More
		if m == nil {
			continue
		}
		row := []Cell{plain(e.Dryers, ""), meanAmount(m.Cost.Mean, currency), decimal(m.MonthsMet.Mean, ""), mean(m.Delivered, stalks), untold(), untold(), untold(), untold(), count(m.Cost.Seasons, "")}
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
func untold() Cell { return text(tongue.Say("cannot be told")) }

// told tells whether a ratio has an interval.
func told(m trials.Mean) bool { return !math.IsInf(m.High, 0) && !math.IsNaN(m.Mean) }

// Parts lists the parts of what a plan costs and earns. Pay to members is marked as such.
func Parts(e decide.Earns, currency string) Table {
	t := Table{
		Sheet: tongue.Say("What the plan earns and costs"), Title: tongue.Sayf("What the plan with %s earns and costs (mean of %s seasons, 95 %% interval of the mean)", words.Dryers(e.Dryers), words.Grouped(e.Net.Seasons)),
		Head: []string{"", tongue.Sayf("a year, %s", currency), tongue.Say("interval"), tongue.Sayf("a good stalk, %s", currency)}, Left: 1,
		Apart: []string{"", tongue.Say("a year"), tongue.Say("a year"), tongue.Say("a good stalk")},
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
		Sheet: tongue.Say("Worth of knowing more"), Title: tongue.Say("What knowing more before choosing would be worth a year in money (expected value of perfect information, 95 % interval; single values do not add up)"),
		Head: []string{tongue.Say("parameter"), tongue.Say("how to measure it"), currency, tongue.Say("interval")}, Left: 2,
		Apart: []string{tongue.Say("parameter"), tongue.Say("how to measure it"), tongue.Say("worth a year"), tongue.Say("worth a year")},
	}
	t.Rows = append(t.Rows, []Cell{text(tongue.Say("all of them")), text(""), meanAmount(w.All.Mean, currency), amountSpan(w.All.Low, w.All.High, currency)})
	for k, each := range w.Each {
		if k == 6 {
			break
		}
		t.Rows = append(t.Rows, []Cell{text(each.Parameter), text(each.Measure), meanAmount(each.Value.Mean, currency), amountSpan(each.Value.Low, each.Value.High, currency)})
	}
	return t
}
