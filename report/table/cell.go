package table

import (
	"fmt"
	"math"

	"drystalk/report/words"
	"drystalk/sim/money"
	"drystalk/sim/trials"
	"drystalk/tongue"
)

// Form is how the numbers of a cell are shown where they are kept as numbers.
type Form int

// The forms.
const (
	Words Form = iota // no number
	Count             // whole numbers with thousands apart
	Real              // with decimals
	Share             // a fraction, shown in per cent
	Money             // whole units of a currency
	Price             // of one stalk: with four decimals
)

// Cell is one entry of a table: its words, and the unrounded numbers that they say, as the
// answer holds them. What a cell does not say is not a number.
type Cell struct {
	Text      string
	Form      Form
	Unit      string // of the numbers; "" for a plain number
	Value     float64
	Low, High float64 // the ends of an interval
	Note      string  // what the words say besides the number
}

// String returns the words of the cell.
func (c Cell) String() string { return c.Text }

// Ranged tells whether the cell says an interval.
func (c Cell) Ranged() bool { return c.Form != Words && !math.IsNaN(c.Low) }

// cell is a cell of a number and the ends of its interval.
func cell(said string, form Form, unit string, x [3]float64) Cell {
	return Cell{Text: said, Form: form, Unit: unit, Value: x[0], Low: x[1], High: x[2]}
}

// noted adds what the words of a cell say besides its number.
func (c Cell) noted(said, note string) Cell {
	c.Text, c.Note = said, note
	return c
}

// stalks is the unit of most counts.
const stalks = "stalks"

// text is a cell of words.
func text(s string) Cell { return cell(s, Words, "", [3]float64{math.NaN(), math.NaN(), math.NaN()}) }

// one is a cell of one number.
func one(said string, form Form, unit string, x float64) Cell {
	return cell(said, form, unit, [3]float64{x, math.NaN(), math.NaN()})
}

// ranged is a cell of a mean and its interval.
func ranged(said string, form Form, unit string, m trials.Mean) Cell {
	return cell(said, form, unit, [3]float64{m.Mean, m.Low, m.High})
}

// between is a cell of the two ends of an interval.
func between(said string, form Form, unit string, ends [2]float64) Cell {
	return cell(said, form, unit, [3]float64{math.NaN(), ends[0], ends[1]})
}

// count is a whole number.
func count(n int, unit string) Cell { return one(words.Grouped(n), Count, unit, float64(n)) }

// plain is a whole number without thousands apart, such as a number of dryers.
func plain(n int, unit string) Cell { return one(fmt.Sprint(n), Count, unit, float64(n)) }

// whole is a number said as the nearest whole one.
func whole(x float64, unit string) Cell { return one(words.Whole(x), Count, unit, x) }

// decimal is a number said with one decimal.
func decimal(x float64, unit string) Cell { return one(tongue.Figures("%.1f", x), Real, unit, x) }

// figure is a number said with three digits.
func figure(x float64, unit string) Cell { return one(words.Figure(x), Real, unit, x) }

// percent is a share.
func percent(x float64) Cell { return one(words.Percent(x), Share, "", x) }

// odds is a share with its interval.
func odds(o trials.Odds) Cell {
	return cell(words.Odds(o), Share, "", [3]float64{o.Share, o.Low, o.High})
}

// points is a difference of two shares with its interval.
func points(m trials.Mean) Cell { return ranged(words.Points(m), Share, "", m) }

// more is a difference with its sign and interval.
func more(m trials.Mean, unit string) Cell { return ranged(words.More(m), Count, unit, m) }

// mean is a mean said as a whole number, without its interval.
func mean(m trials.Mean, unit string) Cell { return whole(m.Mean, unit) }

// meanSpan is the interval of a mean, in whole numbers.
func meanSpan(m trials.Mean, unit string) Cell {
	return between(words.Between(m), Count, unit, [2]float64{m.Low, m.High})
}

// wholly is a mean with its interval in whole numbers.
func wholly(m trials.Mean, unit string) Cell {
	return ranged(fmt.Sprintf("%s (%s)", words.Whole(m.Mean), words.Between(m)), Count, unit, m)
}

// band is the spread of most seasons, in whole numbers.
func band(b trials.Band, unit string) Cell {
	return between(tongue.Sayf("%s to %s", words.Whole(b.P5), words.Whole(b.P95)), Count, unit, [2]float64{b.P5, b.P95})
}

// amount is money where the currency stands in the heading.
func amount(a money.Amount, currency string) Cell { return meanAmount(a.Units(), currency) }

// meanAmount is a mean of money where the currency stands in the heading.
func meanAmount(x float64, currency string) Cell { return one(words.BareMoney(x), Money, currency, x) }

// amountSpan is an interval of money where the currency stands in the heading.
func amountSpan(low, high float64, currency string) Cell {
	return between(tongue.Sayf("%s to %s", words.BareMoney(low), words.BareMoney(high)), Money, currency, [2]float64{low, high})
}

// price is money of a stalk where the currency stands in the heading.
func price(x float64, currency string) Cell { return one(words.Price(x, ""), Price, currency, x) }

// priceSpan is an interval of money of a stalk where the currency stands in the heading.
func priceSpan(m trials.Mean, currency string) Cell {
	return between(tongue.Sayf("%s to %s", words.Price(m.Low, ""), words.Price(m.High, "")), Price, currency, [2]float64{m.Low, m.High})
}

// months is a time in months.
func months(x float64) Cell { return one(words.Months(x), Real, tongue.Say("months"), x) }

// texts are cells of words.
func texts(list ...string) []Cell {
	var out []Cell
	for _, s := range list {
		out = append(out, text(s))
	}
	return out
}
