package words

import (
	"strings"

	"drystalk/sim/money"
	"drystalk/sim/trials"
	"drystalk/tongue"
)

// fewestOfMedian is how many futures a median and a spread are said of at least. Of fewer the 5 and
// 95 % quantiles are the least and the most. Common practice, no source.
const fewestOfMedian = 20

// TooFew tells whether a spread is of some futures, but of too few for a median.
func TooFew(b trials.Band) bool { return b.Seasons > 0 && b.Seasons < fewestOfMedian }

// backWords says in how many futures the money comes back and is not lost again, and when.
func backWords(p money.Purchase) []string {
	of, back, within := Grouped(p.Futures), p.Futures-p.Never.Met, withinYears(p.Years)
	when := whenBack(p.PaysIn)
	switch {
	case back == 0:
		return []string{tongue.Sayf("In none of %s futures does the money come back and stay back %s.", of, within)}
	case p.Never.Met == 0:
		return []string{tongue.Sayf("In all %s futures the money comes back and stays back %s%s.", of, within, when), backAndLost(p)}
	}
	out := []string{tongue.Sayf("In %s of %s futures the money comes back and stays back %s%s; in %s it does not.", Grouped(back), of, within, when, Grouped(p.Never.Met))}
	return append(out, backAndLost(p))
}

// withinYears names the years of a future as a limit.
func withinYears(n int) string {
	if n == 1 {
		return tongue.Say("within the year")
	}
	return tongue.Sayf("within the %s", Years(n))
}

// whenBack says after what time money is back where it comes back, as an aside; of a handful of
// futures the least and the most; "" for none.
func whenBack(b trials.Band) string {
	switch least, most := Months(b.P5), Months(b.P95); {
	case b.Seasons == 0:
		return ""
	case !TooFew(b):
		return tongue.Sayf(", half the time within %s, nine times of ten %s", Months(b.Median), monthsSpan(b.P5, b.P95))
	case least == most:
		return tongue.Sayf(", after %s", most)
	default:
		return tongue.Sayf(", after %s to %s", least, most)
	}
}

// backAndLost says how money may come back and yet be lost: what comes back is counted without interest
// and without the wait for it, the verdict with both. "" where no future is so.
func backAndLost(p money.Purchase) string {
	switch back := p.Futures - p.Never.Met; {
	case p.Positive.Seasons == 0 || p.Positive.Met >= back:
		return ""
	case p.Positive.Met == 0:
		return tongue.Sayf("With interest and the wait counted, none of %s futures ends above nothing.", Grouped(p.Futures))
	}
	return tongue.Sayf("With interest and the wait counted, only %s of %s futures end above nothing.", Grouped(p.Positive.Met), Grouped(p.Futures))
}

// monthsSpan says between which times something happens, given in months: "between 5 and 7 months".
func monthsSpan(low, high float64) string {
	from, to := Months(low), Months(high)
	if from == to {
		return tongue.Sayf("in %s", to)
	}
	if number, unit, ok := strings.Cut(from, " "); ok && strings.HasSuffix(to, " "+unit) {
		from = number
	}
	return tongue.Sayf("between %s and %s", from, to)
}

// notPaid says why a purchase does not pay, from what the dryers do with their hours.
func notPaid(p money.Purchase, c Compared) []string {
	var reasons []string
	d := c.Result.Totals[0]
	if d.More.High < 1 {
		reasons = append(reasons, tongue.Say("it brings no more good stalks that the contract takes"))
	} else if worst := c.Result.A.WorstMonth(); worst.Odds.Share > 0.9 {
		reasons = append(reasons, tongue.Sayf("the contract is met in %s of seasons without it already, so there is little more to sell", Percent(worst.Odds.Share)))
	}
	most, why := 0.0, ""
	for _, u := range c.Result.Dryers {
		if !u.Second {
			continue
		}
		for _, h := range u.Hours {
			if Stands(h.On) && h.Hours.Mean > most {
				most, why = h.Hours.Mean, FigureName(h.On)
			}
		}
	}
	if why != "" {
		reasons = append(reasons, tongue.Sayf("%s a dryer stands up to %s h a season for this: %s", c.With(), Whole(most), why))
	}
	if len(reasons) == 0 {
		reasons = append(reasons, tongue.Say("what it brings is worth less than what it costs"))
	}
	said := []string{tongue.Sayf("Reasons: %s.", strings.Join(reasons, "; "))}
	if c.Spend != "" {
		said = append(said, tongue.Sayf("What the money would do instead: %s.", c.Spend))
	}
	return said
}
