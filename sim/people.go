package sim

import (
	"math"

	"drystalk/sim/charge"
	"drystalk/sim/stalk"
)

// people are the hands of a site: who is there, and the hours of other work that today's
// cutting still has to give.
type people struct {
	*given
	*book

	present float64 // share of the cutters who are there today
	owedH   float64 // of other work since this morning
	split   [3]int
}

func (p *people) begin(g *given, b *book) {
	p.given, p.book, p.present, p.owedH = g, b, 1, 0
}

// come settles in the morning of day d who is there.
func (p *people) come(d int) { p.present = p.season.presentShare(p.region, d) }

// rest tells whether nobody cuts on day d.
func (p *people) rest(d int) bool {
	every := p.region.Yard.RestEveryDays
	return every > 0 && d%every == every-1
}

// work books hours of a task other than cutting; the next morning they are taken off.
func (p *people) work(hours float64, task *float64) {
	p.owedH += hours
	p.month.OtherH += hours
	*task += hours
}

// clearSheets is the work of the sheets pulled the day and the night before day d.
func (p *people) clearSheets(d int) {
	if d > 0 && p.site.Sheets && (p.season.Days[d-1].RainMM > 0 || p.region.Yard.SheetsAtNight) {
		p.work(p.site.OpenRackM2/100*p.region.People.SheetHPer100M2, &p.month.Tasks.Sheets)
	}
}

// cut books a day of cutting: the stalks cut of those that could have been, by the given
// share of the cutters' hours.
func (p *people) cut(cut, could int, share float64) {
	if cut == 0 {
		return
	}
	p.month.WorkDays++
	p.month.CutH += share * float64(p.site.Cutters) * p.site.CuttingHPerDay * float64(cut) / float64(could)
}

// freeShare returns the part of today's cutting that the other work of the last day leaves
// hands for, and settles that work. What exceeds a day's hours is owed on.
func (p *people) freeShare() float64 {
	rules := &p.region.People
	if !rules.Pool {
		p.owedH = 0
		return 1
	}
	p.owedH = max(0, p.owedH-float64(p.site.Crew)*rules.CrewHPerDay)
	cutters := float64(p.site.Cutters)
	hours := cutters * max(rules.WorkHPerDay, p.site.CuttingHPerDay) * p.present
	left := max(0, hours-p.owedH)
	p.owedH = max(0, p.owedH-hours)
	cutting := cutters * p.site.CuttingHPerDay * p.present
	if !(cutting > 0) {
		return 1
	}
	return min(1, left/cutting)
}

// canTend tells whether the people present can tend one more fire than so many.
func (p *people) canTend(fires int) bool {
	rules := &p.region.People
	if !rules.Pool {
		return true
	}
	hands := float64(p.site.Cutters)*p.present + float64(p.site.Crew)
	return fires < int(hands*max(1, rules.TendsDryers))
}

// bundle grades n stalks on their way into the store and bundles what is of full grade: the
// work that is done once for a stalk.
func (p *people) bundle(n int, kept *float64, s *stalk.State) int {
	return p.sort(n, kept, s, p.region.People.GradingHPer1000)
}

// grade looks n stalks through, before a charge or at a collection.
func (p *people) grade(n int, kept *float64, s *stalk.State) int {
	return p.sort(n, kept, s, p.region.People.LookingHPer1000)
}

// breakBrittle takes off what breaks of n stalks when they are handled below 8 % wet basis, at
// the same rate as from a dryer, and returns those left whole.
func (p *people) breakBrittle(n int, s *stalk.State) int {
	if s.Moisture >= charge.BrittleBelow {
		return n
	}
	broken := int(math.Round(float64(n) * p.region.Dryer.BreakFraction))
	p.month.Broken += broken
	p.left(broken, s.Moisture)
	return n - broken
}

// sort sorts n stalks of a batch by the highest index it had and returns those
// of full grade; the rest is booked as second grade or rejected, and the hours as grading.
//
// The spread of mould between stalks is a fixed rank: a stalk twice as mouldy
// as the mean stays so. kept is the share of the batch's stalks, least mouldy
// first, that earlier gradings left in, and is brought up to date; so grading
// twice at the same index takes nothing the second time.
func (p *people) sort(n int, kept *float64, s *stalk.State, hPer1000 float64) int {
	if !(*kept > 0) || n == 0 {
		p.month.Rejected += n
		p.left(n, s.Moisture)
		return 0
	}
	p.work(float64(n)/1000*hPer1000, &p.month.Tasks.Grading)
	full := p.grades.full(s.PeakIndex)
	if full >= *kept {
		return n
	}
	rejected := min(*kept-full, max(0, *kept-(1-p.grades.reject(s.PeakIndex))))
	stalk.SplitWhole(n, []float64{full, *kept - full - rejected, rejected}, p.split[:])
	p.month.Second += p.split[1]
	p.month.Rejected += p.split[2]
	p.left(p.split[1]+p.split[2], s.Moisture)
	*kept = full
	return p.split[0]
}
