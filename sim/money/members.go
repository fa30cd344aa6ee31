package money

import (
	"math"

	"gonum.org/v1/gonum/floats"

	"drystalk/sim/trials"
)

// Pair is one figure of two plans and what the second has more, paired in the same futures or
// seasons.
type Pair struct {
	A    trials.Mean `json:"first"`
	B    trials.Mean `json:"second"`
	More trials.Mean `json:"second_less_first"`
}

// Livelihood is what the members of the groups have of two plans: their money, their hours, and
// what they must be worth for a purchase to pay. A year is the mean of those lived through. What is
// bought costs by the year: its own part and instalments, each with what it is worth today, spread
// evenly over the years at the discount rate.
type Livelihood struct {
	MembersA  int          `json:"first_members"`
	MembersB  int          `json:"second_members"`
	Before    Pair         `json:"money_a_year_before_what_is_bought"` // pay, wages and what is left over
	Costs     float64      `json:"what_is_bought_a_year"`
	Money     Pair         `json:"money_a_year"` // after what is bought is paid for
	Hours     Pair         `json:"hours_a_year_person_h"`
	PerHour   Pair         `json:"money_of_an_hour"`
	EachMoney Pair         `json:"money_of_a_member_a_year"` // after what is bought is paid for
	EachHours Pair         `json:"hours_of_a_member_a_year_person_h"`
	Worth     float64      `json:"worth_of_hour"` // elsewhere, by which the purchase is judged
	Stated    bool         `json:"worth_of_hour_is_stated"`
	AtWorths  []AtWorth    `json:"at_worths"` // of nothing, and of Worth where that is more
	Even      Even         `json:"break_even"`
	Sites     []Livelihood `json:"sites,omitempty"` // of each site where there are several; without worths and break-even
	Site      string       `json:"at,omitempty"`
}

// Pays says at which worth of an hour a purchase pays.
type Pays string

// When a purchase pays.
const (
	AboveWorth Pays = "if_an_hour_is_worth_more"
	BelowWorth Pays = "if_an_hour_is_worth_less"
	AnyWorth   Pays = "at_any_worth_of_an_hour"
	NoWorth    Pays = "at_no_worth_of_an_hour"
	SameHours  Pays = "hours_hardly_change"
)

// Even is the worth of an hour elsewhere at which a purchase breaks even: the ratio of the money
// that it takes to the hours that it frees, or of the money that it brings to the hours that it
// takes, with Fieller's interval (trials.NewFieller). Futures are drawn alike and apart from one
// another and are many, so that means of them are nearly normal; where it cannot be told whether
// hours are freed Fieller's interval is open, which a bootstrap of the ratio does not show.
type Even struct {
	Pays  Pays         `json:"pays"`
	Worth *trials.Mean `json:"worth_of_hour,omitempty"` // nil where none is the turn
}

// lived is what members had of a future or a season: of both plans by the year, and what the
// second brings after it is paid for, in money and hours, as level amounts of a year.
type lived struct {
	money, hours [2][]float64
	gain         []float64 // money a year, after what is bought is paid for
	freed        []float64 // hours a year
}

// add adds a future or a season.
func (l *lived) add(money, hours [2]float64) {
	for k := range 2 {
		l.money[k], l.hours[k] = append(l.money[k], money[k]), append(l.hours[k], hours[k])
	}
}

// pairOf returns the means of two lists, each over a number of members, and of their difference.
// What the second has less of each member's, such as what it pays by the year, is taken off.
func pairOf(a, b []float64, members [2]float64, off float64) Pair {
	x, y, more := make([]float64, len(a)), make([]float64, len(a)), make([]float64, len(a))
	for i := range a {
		x[i], y[i] = a[i]/members[0], (b[i]-off)/members[1]
		more[i] = y[i] - x[i]
	}
	return Pair{trials.NewMean(x), trials.NewMean(y), trials.NewMean(more)}
}

// perHour returns the money of an hour of both plans; the interval of the difference is by
// linearization, as those of the ratios.
func (l *lived) perHour(costs float64) Pair {
	var of [2]trials.Mean
	n := len(l.money[0])
	rest := make([]float64, n)
	for k := range 2 {
		paid := make([]float64, n)
		for i := range paid {
			paid[i] = l.money[k][i] - float64(k)*costs
		}
		of[k] = trials.NewRatio(paid, l.hours[k])
		mean := floats.Sum(l.hours[k]) / float64(n)
		for i := range rest {
			rest[i] += float64(2*k-1) * (paid[i] - of[k].Mean*l.hours[k][i]) / mean
		}
	}
	r, more := trials.NewMean(rest), of[1].Mean-of[0].Mean
	if math.IsInf(of[0].High, 0) || math.IsInf(of[1].High, 0) {
		return Pair{of[0], of[1], trials.Mean{Mean: more, Low: math.Inf(-1), High: math.Inf(1), Seasons: n}}
	}
	return Pair{of[0], of[1], trials.Mean{Mean: more, Low: more + r.Low - r.Mean, High: more + r.High - r.Mean, Seasons: n}}
}

// livelihood tells what members of so many have of both plans; what is bought costs so much by
// the year.
func (l *lived) livelihood(members [2]int, costs float64) Livelihood {
	one, each := [2]float64{1, 1}, [2]float64{max(1, float64(members[0])), max(1, float64(members[1]))}
	return Livelihood{
		MembersA: members[0], MembersB: members[1], Costs: costs,
		Before: pairOf(l.money[0], l.money[1], one, 0), Money: pairOf(l.money[0], l.money[1], one, costs),
		Hours: pairOf(l.hours[0], l.hours[1], one, 0), PerHour: l.perHour(costs),
		EachMoney: pairOf(l.money[0], l.money[1], each, costs), EachHours: pairOf(l.hours[0], l.hours[1], each, 0),
	}
}

// judged adds at which worths of an hour the second plan pays.
func (l *lived) judged(out *Livelihood, p *Prices, notCovered *trials.Odds) {
	out.Worth, out.Stated = p.WorthOfHour()
	worths := []float64{0}
	if out.Worth > 0 {
		worths = append(worths, out.Worth)
	}
	for _, w := range worths {
		gain := make([]float64, len(l.gain))
		for i := range gain {
			gain[i] = l.gain[i] + w*l.freed[i]
		}
		a := AtWorth{Worth: w, Gain: trials.NewMean(gain), Positive: trials.NewOdds(floats.Count(func(x float64) bool { return x > 0 }, gain), len(gain))}
		a.Verdict = verdictOf(a.Gain, a.Positive, notCovered)
		out.AtWorths = append(out.AtWorths, a)
	}
	out.Even = l.even()
}

// even returns the worth of an hour at which the second plan breaks even.
func (l *lived) even() Even {
	taken := make([]float64, len(l.gain))
	for i, gain := range l.gain {
		taken[i] = -gain
	}
	r, freed := trials.NewFieller(taken, l.freed), trials.NewMean(l.freed)
	switch {
	case math.IsInf(r.High, 0) || math.IsNaN(r.High):
		return Even{Pays: SameHours}
	case freed.Mean > 0 && r.High <= 0:
		return Even{Pays: AnyWorth}
	case freed.Mean > 0:
		return Even{AboveWorth, &r}
	case r.High <= 0:
		return Even{Pays: NoWorth}
	}
	return Even{BelowWorth, &r}
}

// LivelihoodOf tells what the members have of two plans of which the second costs nothing more,
// season by season. It is nil where the hands are hired.
func LivelihoodOf(p *Prices, without, with Ledger) *Livelihood {
	if p.Hands != Members {
		return nil
	}
	plays, l := [2]Ledger{without, with}, newLivings(len(with.Groups().Sites))
	for i := range with.Lived() {
		l.add(p, plays, i, [2][][][]Parts{seasonsOf(without, p, i, 1), seasonsOf(with, p, i, 1)})
	}
	l.all.gain, l.all.freed = less(l.all.money[1], l.all.money[0]), less(l.all.hours[0], l.all.hours[1])
	out := l.livelihood(plays, nil)
	l.all.judged(out, p, nil)
	return out
}

func less(a, b []float64) []float64 {
	out := make([]float64, len(a))
	floats.SubTo(out, a, b)
	return out
}

// livings are what the members of all sites and of each had.
type livings struct {
	all   lived
	sites []lived
}

func newLivings(sites int) *livings { return &livings{sites: make([]lived, sites)} }

// add adds the mean year of some seasons of both plans, from the first on.
func (l *livings) add(p *Prices, plays [2]Ledger, first int, seasons [2][][][]Parts) {
	var money, hours [2]float64
	each := make([][2][2]float64, len(l.sites)) // by site: money and hours of both plans
	for k, y := range plays {
		n := float64(len(seasons[k]))
		for i, season := range seasons[k] {
			for site, months := range season {
				earned := Amount(0)
				for m := range months {
					earned += p.Theirs(&months[m])
				}
				each[site][0][k] += earned.Units() / n
				each[site][1][k] += floats.Sum(y.Hours(site, first+i)) / n
			}
		}
		for site := range each {
			money[k] += each[site][0][k]
			hours[k] += each[site][1][k]
		}
	}
	l.all.add(money, hours)
	for site := range each {
		l.sites[site].add(each[site][0], each[site][1])
	}
}

// livelihood tells what the members had; costs are what each site pays by the year for what is
// bought, nil for nothing.
func (l *livings) livelihood(plays [2]Ledger, costs []float64) *Livelihood {
	out := l.all.livelihood([2]int{heads(plays[0].Groups()), heads(plays[1].Groups())}, floats.Sum(costs))
	if len(l.sites) == 1 {
		return &out
	}
	for k := range l.sites {
		cost := 0.0
		if costs != nil {
			cost = costs[k]
		}
		a, b := &plays[0].Groups().Sites[k], &plays[1].Groups().Sites[k]
		site := l.sites[k].livelihood([2]int{a.Cutters, b.Cutters}, cost)
		site.Site = b.Name
		out.Sites = append(out.Sites, site)
	}
	return &out
}
