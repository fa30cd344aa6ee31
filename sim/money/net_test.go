package money

import (
	"testing"

	"github.com/stretchr/testify/assert"

	"drystalk/sim"
)

// What sites spend by themselves and what the hub earns add up to the net of the year, to the last
// minor unit, with the pay of members where the cutters are members, whether or not there is a ceiling on second grade.
func TestNetOfSitesAndHubIsTheYear(t *testing.T) {
	y := moulding(t, 12, 0)
	p := Prices{
		PerGoodStalk: 0.1237, PerSecondStalk: 0.0213, SecondMost: -1, PerMissing: 0.0171, PerStalkCut: 0.0431, WagePerH: 1.13, NightExtraPerH: 0.7, CrewPerH: 1.1,
		WoodPerKg: 0.083, WoodRainsPerKg: 0.129, PerTrip: 9.7, CarryPerStalk: 0.0031, BagPerStalk: 0.0029, UpkeepPerH: 0.15, UpkeepPerDryer: 250, RentPerYear: 111.11, SurplusPerStalk: 0.0117,
	}
	for _, most := range []int{-1, 0, 137} {
		p.SecondMost, p.Hands = most, Hands((most+2)%2) // hired, members, hired
		months, second := make([]sim.HubMonth, y.Table.Months()), make([][]int32, len(y.Plan))
		for i := range y.Table.Seasons {
			y.Table.Hub(months, &y.sums, y.Plan, i)
			sum := Amount(0)
			for site, dryers := range y.Plan {
				sum += p.SiteNet(y.Region, y.Table, site, dryers, i)
				second[site] = y.Table.MonthFigures(sim.Second, site, dryers, i)
			}
			year := y.Year(&p, i)
			want := year.Net()
			if p.Hands == Members {
				want -= year[Cutting] + year[Wages] + year[Night]
			}
			assert.Equal(t, want, sum+p.HubNet(months, second), "season %d, at most %d", i, most)
			assert.NotZero(t, year[Penalty])
		}
	}
}
