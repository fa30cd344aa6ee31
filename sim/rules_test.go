package sim

import (
	"math"
	"os"
	"regexp"
	"strconv"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"drystalk/sim/air"
	"drystalk/sim/charge"
)

// Every rule of the page names tests that are there, and the rules are numbered without a gap.
func TestRulesNameTheirTests(t *testing.T) {
	page, err := os.ReadFile("doc.go")
	require.NoError(t, err)
	rules := regexp.MustCompile(`(?m)^//  (\d+)\. `).FindAllSubmatchIndex(page, -1)
	require.Len(t, rules, 38)
	tests := map[string]bool{}
	files, err := os.ReadDir(".")
	require.NoError(t, err)
	for _, f := range files {
		data, err := os.ReadFile(f.Name())
		if err != nil {
			continue // a folder
		}
		for _, m := range regexp.MustCompile(`(?m)^func (Test\w+)\(`).FindAllSubmatch(data, -1) {
			tests[string(m[1])] = true
		}
	}
	for i, at := range rules {
		end := len(page)
		if i+1 < len(rules) {
			end = rules[i+1][0]
		}
		n, err := strconv.Atoi(string(page[at[2]:at[3]]))
		require.NoError(t, err)
		assert.Equal(t, i+1, n)
		names := regexp.MustCompile(`\bTest\w+`).FindAll(page[at[0]:end], -1)
		assert.NotEmpty(t, names, "rule %d names no test", n)
		for _, name := range names {
			assert.True(t, tests[string(name)], "rule %d: no %s", n, name)
		}
	}
}

// still is one site in air in which nothing dries or moulds, for some days of June.
func still(t *testing.T, days int) (*Region, Parameters, *Season) {
	t.Helper()
	r := small(landing1(0))
	r.Calendar.Days = days
	r.Contract.TargetStock = nil
	p := parameters()
	p.Stalk.MouldFactor, p.AcceptedShare = 0, 1
	d, hours := calm(days)
	return r, p, season(r, p, d, hours)
}

// With one accepted stalk less than its share a site cuts the whole day, with all of them
// nothing, and the account gives up the month's contract when the month ends.
func TestCuttingIsAllOrNothing(t *testing.T) {
	r, _, s := still(t, 1)
	day := 4 * 120 * 6
	r.Contract.StalksByMonth = map[time.Month]int{time.June: 1000}
	r.Hub.OpeningStock = 999
	m := ledger(t, r, s).Sites[0].Months[0]
	assert.Equal(t, []int{day, 0}, []int{m.Cut, m.NotCutTarget})
	r.Hub.OpeningStock = 1000
	m = ledger(t, r, s).Sites[0].Months[0]
	assert.Equal(t, []int{0, day}, []int{m.Cut, m.NotCutTarget})

	r, _, s = still(t, 31) // 30 June, 1 July: 1,000 are used up by June
	r.Yard.RestEveryDays, r.Sites[0].OpenRackM2 = 0, 4000
	r.Contract.StalksByMonth = map[time.Month]int{time.June: 1000, time.July: 1000}
	r.Hub.OpeningStock = 1999
	l := ledger(t, r, s)
	assert.Equal(t, []int{0, day}, []int{l.Sites[0].Months[0].Cut, l.Sites[0].Months[1].Cut})
	assert.Equal(t, 30*day, l.Sites[0].Months[0].NotCutTarget)
}

// Of fourteen days the seventh and the last are days of rest: nothing is cut on them, and
// nothing is booked as not cut.
func TestRestDays(t *testing.T) {
	r, p, _ := still(t, 14)
	r.Sites[0].OpenRackM2 = 4000
	days, hours := calm(14)
	m := ledger(t, r, season(r, p, days, hours)).Sites[0].Months[0]
	assert.Equal(t, 12*4*120*6, m.Cut)
	assert.Equal(t, 12, m.WorkDays)
	assert.Zero(t, m.NotCutRain+m.NotCutYardFull+m.NotCutPeople+m.NotCutStand+m.NotCutTarget+m.NotCutClosed)
}

// What is dry in the afternoon is carried in at five and goes with the collection at six of
// the same day: in a season of one day the sunrise round comes too early for it.
func TestRoundBeforeDusk(t *testing.T) {
	r := small(landing1(0))
	r.Calendar.Days, r.Sites[0].OpenRackM2 = 1, 4000
	p := parameters()
	p.Cabinet.Target = 0.905 // fresh 0.91: dry enough after some hours of sun
	days, hours := sunny(1)
	m := ledger(t, r, season(r, p, days, hours)).Sites[0].Months[0]
	assert.Equal(t, 4*120*6, m.Cut)
	assert.Equal(t, m.Cut, m.ToHub)
}

// A cabinet for 1,000 stalks takes 1,000 of full grade: of stalks half spoiled it grades
// about twice as many, and the fire is that of a full load.
func TestChargeCountsFullGrade(t *testing.T) {
	r := small(landing1(1))
	r.Calendar = Calendar{StartMonth: time.June, StartDay: 1, Days: 9}
	r.Dryer.ReadyAfterDays, r.Dryer.ShiftEndH, r.Dryer.MinimumFill, r.Dryer.BreakFraction = 8, 17, 1, 0
	r.Yard.DiscardBelowFullShare = 0.01
	r.Hub.CollectionsPerMonth = 1
	r.Sites[0].OpenRackM2, r.Sites[0].ClearRoofM2 = 26.01, 0 // 4,000 stalks
	p := parameters()
	p.Stalk.MouldFactor = 1.02
	days, hours := calm(9)
	for i := range hours {
		hours[i].Humidity = 0.96
		hours[i].VapourKPa = 0.96 * air.SaturationKPa(28)
	}
	for d := 2; d < 9; d++ {
		days[d].RainMM = 30 // no cutting
	}
	m := ledger(t, r, season(r, p, days, hours)).Sites[0].Months[0]
	require.Equal(t, 1, m.Charges)
	sorted := m.Second + m.Rejected
	require.Greater(t, sorted, 500, "the stalks are half spoiled")
	assert.Equal(t, 1000, m.ToHub, "no mould grows in the cabinet: nothing is left to sort out at unloading and collection")
	fire := p.Cabinet.Light(charge.Ambient{TempC: 28, VapourKPa: 0.96 * air.SaturationKPa(28)})
	assert.InDelta(t, freshHours(&p, &fire, 1000), m.FiringH, 1e-9)
}

// A shift too short for a full cabinet takes three quarters, a half or a quarter of one,
// whichever finishes most: worked out here fill by fill.
func TestQuarterFills(t *testing.T) {
	r, p, s := twoCharges(t)
	r.Dryer.MinimumFill = 0.1
	fire := p.Cabinet.Light(charge.Ambient{TempC: 28, VapourKPa: 0.8 * air.SaturationKPa(28)})
	cool := fire.CoolingH()
	var seen []int
	for _, shiftH := range []float64{4, 4.5, 5, 5.5, 6, 6.5, 7, 7.5, 8, 8.5, 9, 9.5, 10} {
		r.Dryer.ShiftEndH = r.Dryer.ShiftStartH + shiftH
		r.Calendar.Days = 2 // cut on the first day; it lands at 11 h and is fired then, and on the second
		load := func(restH float64, waiting int) (stalks int, h float64) {
			most := 0
			for _, n := range []int{1000, 750, 500, 250} {
				n = min(n, waiting)
				one := freshHours(&p, &fire, float64(n))
				if restH < 0.5+one {
					continue
				}
				fit := 1 + int((restH-0.5-one)/(1+one+cool))
				if done := min(waiting, n*fit); done > most || done == most && n > stalks {
					most, stalks, h = done, n, one
				}
			}
			return stalks, h
		}
		wantH, waiting := 0.0, 2000
		for _, start := range []float64{11, 24 + 7} {
			at, end := start, 24*math.Floor(start/24)+7+shiftH
			for at < end {
				n, h := load(end-at, waiting)
				if n == 0 {
					break
				}
				seen = append(seen, n)
				wantH += h
				waiting -= n
				at += 0.5 + h + cool + 0.5
			}
		}
		m := ledger(t, r, s).Sites[0].Months[0]
		assert.InDelta(t, wantH, m.FiringH, 1e-9, "a shift of %g h", shiftH)
	}
	assert.Subset(t, seen, []int{1000, 750, 500, 250}, "every fill was the best once")
}
