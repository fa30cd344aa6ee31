// Package money turns what a plan does into what it costs and earns: cost of a good stalk,
// cash by month, loans, payback and net present value.
//
// # Money is one type, and where floats begin
//
// What somebody pays, gets, owes or has is an [Amount], in whole minor units: parts of a season,
// balances, instalments, what is bought and what it costs, a grant, a budget, opening cash. Sums
// of amounts are exact.
//
// These are float64, in units of the currency:
//
//   - a price of one of something (a stalk, an hour, a kilogram, a square metre, a dryer), because
//     many are less than a minor unit. A price times how much of it becomes an Amount once, by
//     [Of], where it is spent or earned.
//   - what is discounted or spread over years: present values, level payments of a year, and the
//     flows they are made from.
//   - means, bands and break-evens over seasons and futures: they are statistics, and nobody pays
//     them.
//
// Shares and rates are fractions, rates a year. An amount is written into JSON in units of the
// currency, as the floats are.
//
// # The cash of a future
//
// Whether a purchase can be paid for is told by one account for each site, [Play.Accounts], over
// the years of a future, which follow each other: what a year leaves or lacks is there in the
// next. In the order of its months:
//
//  1. Before the first season the own part is paid from the opening cash: the cost of all that is
//     bought less its grant and its loan ([Prices.Bills]; each site pays for what it gets, all sites
//     by their shares of the contract for what lies at the hub).
//
//  2. In a month the site pays what it spends in it and gets what was sold PaidAfter months
//     before, and second grade, up to the ceiling of a month, and what is left over at once.
//
//  3. At the end of the month the instalments of all its loans are due. An instalment that the
//     cash does not reach is not covered; it is paid all the same, and the cash goes below nothing.
//
//  4. Before a year in which something bought is worn out it is bought again in cash, without
//     grant or loan, as long as the buyer buys.
//
//  5. At the end of a year what is left is shared out among the members, all but the opening cash,
//     with which the next season begins, and a reserve: the instalments of the next year and what
//     is bought again before it. So a good year does not pay the instalments of all years after it.
//     Assumption; a group that keeps back more is safer than that. What a year lacks is not made
//     good by anybody: it is missing in the next. Cash below nothing bears no interest.
//
// # Who is paid
//
// Cutters are members of their group unless they are [Hired]. What members are paid is their own
// income, and paying less of it saves them nothing: a purchase is judged by all that they have of
// the group, pay and what is left over, after own part and instalments, less what the hours are
// worth that it takes, or with what the hours are worth that it frees ([Prices.WorthOfHour]). A
// group that hires its hands is judged by what is left over, its surplus. [LivelihoodOf] tells the
// members' money, hours, money of an hour, and the worth of an hour at which the purchase breaks
// even.
//
// # The verdict
//
// [Judge] plays many futures, and [Purchase.Verdict] says one of four things:
//
//   - [DoesNotPay]: the 95 % interval of the mean net present value, after own part and
//     instalments, lies below nothing;
//   - [CannotBeTold]: it holds nothing;
//   - [PaysInNearlyAll]: it lies above nothing, at least 19 of 20 futures end above nothing and in
//     at least 19 of 20 every instalment is covered, counted in the futures that were played;
//   - [PaysOnAverage]: it lies above nothing, but more futures lose or miss an instalment.
package money

import (
	"math"

	"drystalk/sim"
	"drystalk/tongue"
)

// Amount is money in whole minor units of the currency, a hundredth of it: the one type of
// amounts, here and in the plan.
type Amount = sim.Amount

// Of returns the amount nearest to so much of the currency.
func Of(units float64) Amount { return sim.AmountOf(units) }

// LevelPayment returns what is paid at the end of each of n periods to pay back a principal
// of 1 at the rate of a period: the annuity factor r/(1−(1+r)^−n), and 1/n at rate 0. It is
// 0 for no period.
func LevelPayment(rate float64, n int) float64 {
	switch {
	case n <= 0:
		return 0
	case rate == 0:
		return 1 / float64(n)
	}
	return rate / -math.Expm1(-float64(n)*math.Log1p(rate))
}

// PresentValue returns the value now of flows at the end of periods 0, 1, 2, ...; the first
// is not discounted.
func PresentValue(rate float64, flows []float64) float64 {
	sum := 0.0
	for k := len(flows) - 1; k >= 0; k-- { // Horner
		sum = sum/(1+rate) + flows[k]
	}
	return sum
}

// Payback returns after how many periods the flows, of which the first is spent now, have
// come back, with the part of the last period that it takes if its flow comes evenly. ok is
// false if they never do.
func Payback(flows []float64) (periods float64, ok bool) {
	sum := 0.0
	for k, f := range flows {
		if sum+f >= 0 && staysBack(sum+f, flows[k+1:]) {
			if k == 0 {
				return 0, true
			}
			return float64(k-1) + -sum/f, true
		}
		sum += f
	}
	return 0, false
}

// staysBack tells whether what has come back does not fall below nothing again: a bad season
// after the payback may take it away, and then it was none.
func staysBack(sum float64, rest []float64) bool {
	for _, f := range rest {
		if sum += f; sum < 0 {
			return false
		}
	}
	return true
}

// Loan is money borrowed and paid back by level instalments at the end of each month.
type Loan struct {
	Principal   Amount
	RatePerYear float64 // nominal, a twelfth of it a month
	Months      int
}

// Instalment is one payment of a loan.
type Instalment struct {
	Paid     Amount
	Interest Amount // of that
	Left     Amount // principal after it
}

// Schedule returns the instalments of a loan in whole minor units: interest is rounded each
// month, and the last instalment settles what rounding left. A loan without months or with a
// negative principal is an error.
func (l Loan) Schedule() ([]Instalment, error) {
	if l.Principal == 0 {
		return nil, nil
	}
	if l.Months <= 0 || l.Principal < 0 || !(l.RatePerYear >= 0) {
		return nil, tongue.Errorf("loan of %d over %d months at %g a year: want a principal of 0 or more, months and a rate of 0 or more", l.Principal, l.Months, l.RatePerYear)
	}
	rate := l.RatePerYear / 12
	level := Amount(math.Round(float64(l.Principal) * LevelPayment(rate, l.Months)))
	left := l.Principal
	var out []Instalment
	for k := range l.Months {
		interest := Amount(math.Round(float64(left) * rate))
		paid := level
		if k == l.Months-1 || paid > left+interest {
			paid = left + interest
		}
		left -= paid - interest
		out = append(out, Instalment{paid, interest, left})
	}
	return out, nil
}
