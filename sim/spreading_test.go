package sim

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"drystalk/sim/stalk"
)

// evenly returns the rules of a region with stalks spread over the free rack, no thinner than one
// layer of 6 kg/m².
func evenly(r *Region) *Region {
	r.Yard.Spreading, r.Yard.LeastLoadingKgPerM2 = SpreadOverFreeRack, 6
	return r
}

// Spreading by hand: 100 m² of open rack, 10 kg/m² at full load, a stalk of 65 g. From 10 to 6
// kg/m² there are four steps of 0.6^(1/4) = 0.880: 10, 8.80, 7.75, 6.82 and 6.
// 3,000 stalks would weigh 1.95 kg/m² on the whole rack and lie at the least load, on 32.5 m²;
// with 9,000 more all weigh 7.8 kg/m² and lie at 8.80, the thinnest step at which they fit, on
// 12,000 · 0.065/8.80 = 88.6 m². Room is counted at full load: 15,384 stalks less what lies there.
func TestSpreadingByHand(t *testing.T) {
	r := evenly(small(landing1(0)))
	r.Sites[0].ClearRoofM2 = 0
	y := &calmRooms(r, 0).yard
	laid := func() float64 {
		y.evenOut()
		m2 := y.laidM2
		y.laidM2 = 0
		return m2
	}
	y.spread(0, 3000, 1, y.freshState())
	assert.InDelta(t, 32.5, laid(), 1e-9)
	assert.InDelta(t, 6, y.batches[0].kgPerM2, 1e-12)
	assert.Equal(t, 15_384-3000, y.roomForFresh())
	assert.Zero(t, laid(), "spread once, people stay away from it")

	y.spread(1, 9000, 1, y.freshState())
	step := 10 * math.Pow(0.6, 0.25)
	assert.InDelta(t, 12_000*0.065/step, laid(), 1e-9, "what lay thinner is spread again")
	require.Len(t, y.batches, 2)
	assert.InDelta(t, step, y.batches[0].kgPerM2, 1e-12)
	assert.InDelta(t, step, y.batches[1].kgPerM2, 1e-12)

	y.batches[0].stalks, y.batches[1].stalks = 0, 8000 // 5.2 kg/m² on the whole rack
	y.dropEmpty()
	assert.Zero(t, laid(), "until the next round they stay")
	y.spreadHeap() // the round
	assert.InDelta(t, 8000*0.065/6, laid(), 1e-9)
	y.batches[0].state.Predried = true // closed up: 0.6 of the area
	y.batches[0].stalks = 15_000       // 5.85 kg/m²
	y.spreadHeap()
	assert.Zero(t, laid(), "the same step")
	y.batches[0].stalks = 16_000 // 6.24
	y.spreadHeap()
	assert.InDelta(t, 16_000*0.065*0.6/(10*math.Pow(0.6, 0.75)), laid(), 1e-9)

	y = &calmRooms(r, 0).yard
	y.spread(0, 15_000, 1, y.freshState())
	assert.InDelta(t, 97.5, laid(), 1e-9, "at full load it is spread too")
	assert.Zero(t, laid())
}

// The hours of spreading are those of the rack that is covered: 1,000 stalks under the clear roof
// of 8 m² take it at 8.125 kg/m² and lie at 8.80 on 7.39 m².
func TestSpreadingIsWork(t *testing.T) {
	r := evenly(small(landing1(0)))
	r.People.SpreadingHPer100M2 = 4
	y := calmRooms(r, 0)
	y.yard.spread(0, 1000, 1, y.freshState())
	y.bookSpreading()
	require.Len(t, y.yard.batches, 1)
	assert.InDelta(t, 4*0.065*1000/(10*math.Pow(0.6, 0.25))/100, y.month.Tasks.Spreading, 1e-12)
	y.bookSpreading()
	assert.InDelta(t, y.month.Tasks.Spreading, y.month.OtherH, 1e-12, "once")
}

// Water goes with the stalks: 0.3 kg of film on a square metre with 0.9 kg of dry matter is a
// third of it, and a third of the 0.54 kg of a square metre with one layer is 0.18 kg of film. Of
// stalks that are laid thicker drips off what is more than clings, 0.3 mm.
func TestFilmGoesWithTheStalks(t *testing.T) {
	r := evenly(small(landing1(0)))
	y := &calmRooms(r, 0).yard
	b := wetBatch(1, 100, 2)
	b.state.FilmKgPerM2 = 0.3
	y.lay(b)
	water := y.addWater(0)
	y.uneven = true
	y.evenOut()
	assert.InDelta(t, 0.18, y.batches[0].state.FilmKgPerM2, 1e-12)
	assert.InDelta(t, water, y.addWater(0), 1e-12)
	assert.InDelta(t, 0, y.water.Shed, 1e-15)
	y.batches[0].state.FilmKgPerM2 = 0.24
	y.spreadAgain(&y.batches[0], 10)
	assert.InDelta(t, 0.3, y.batches[0].state.FilmKgPerM2, 1e-12)
	assert.InDelta(t, y.dryKg(100)*(0.24/0.54-0.3/0.9), y.water.Shed, 1e-12)
}

// The load of a wet week by hand: it holds from the morning after the seventh day in a row with
// 20 mm for a limit of 140 mm, not before. Stalks laid then take more rack, those that lie there
// take what they took; with the thin way all count at the new load, and those that fit in no more
// stay as they lie.
func TestLoadOfAWetWeek(t *testing.T) {
	wet := func(r *Region) *yard {
		r.Yard.WetWeekMM, r.Sites[0].LoadingInWetWeeksKgPerM2 = 140, 6
		r.Sites[0].ClearRoofM2 = 0
		days, hours := soaked(61)
		return &roomsOf(r, 0, season(r, parameters(), days, hours)).yard
	}
	y := wet(small(landing1(0)))
	assert.InDelta(t, 10, y.fullKgPerM2, 0)
	y.spread(0, 10_000, 1, y.freshState()) // 65 m²
	y.advance(24*7 - 1)
	assert.InDelta(t, 10, y.fullKgPerM2, 0, "six days are in the week before")
	y.advance(24 * 7)
	assert.InDelta(t, 6, y.fullKgPerM2, 0)
	assert.Equal(t, 3230, y.roomForFresh(), "35 m² at 6 kg/m²")
	y.spread(7, 2000, 1, y.freshState())
	assert.Equal(t, []float64{10, 6}, []float64{y.batches[0].kgPerM2, y.batches[1].kgPerM2})
	assert.InDelta(t, 65+2000*0.065/6, y.laidM2, 1e-9)

	y = wet(evenly(small(landing1(0))))
	y.spread(0, 10_000, 1, y.freshState())
	y.evenOut()
	assert.InDelta(t, 10*math.Pow(0.6, 0.75), y.batches[0].kgPerM2, 1e-9, "6.5 kg/m² on the whole rack")
	y.advance(24 * 7)
	assert.Zero(t, y.roomForFresh(), "at 6 kg/m² it holds 9,230")
	y.spreadHeap()
	y.evenOut()
	assert.InDelta(t, 10*math.Pow(0.6, 0.75), y.batches[0].kgPerM2, 1e-9, "as it lies")
	y.batches[0].stalks = 9000
	y.spreadHeap()
	y.evenOut()
	assert.InDelta(t, 6, y.batches[0].kgPerM2, 1e-9)
}

// The group cuts what it can dry, by hand: on 100 and 8 m² lie at 7 kg/m² 756 kg or 11,630 stalks
// and a bit; each working dryer adds six charges of 1,000. What is broken, away or not ready adds
// nothing, what lies dry counts for nothing, and no more is cut than the racks hold, 15,384 and
// 1,230.
func TestCutWhatCanDryByHand(t *testing.T) {
	r := small(landing1(2))
	r.Yard.CutUntil, r.Yard.WetKgPerM2, r.Yard.WetCharges = CutWhatCanDry, 7, 6
	r.Dryer.ReadyAfterDays = 3
	y := calmRooms(r, 2)
	room := func(d int) int {
		stalks, _ := y.roomForCut(d)
		return stalks
	}
	assert.Equal(t, 11_630, room(2), "no dryer is ready")
	assert.Equal(t, 15_384+1230, room(3), "the racks are full before 23,630 lie there")
	y.dryers.cabinets[0].worksAtH = 24*3 + 7
	assert.Equal(t, 17_630, y.canDry(24*3+6))
	y.dryers.cabinets[1].goneH = 24*3 + 6
	assert.Equal(t, 11_630, room(3))
	r.Sites[0].LoadingKgPerM2 = 4
	assert.Equal(t, 11_630, y.canDry(24*3+6), "however thick they are spread")
	r.Sites[0].LoadingKgPerM2 = 10
	y.yard.lay(wetBatch(0, 11_000, 3))
	y.yard.lay(wetBatch(0, 3000, y.p.Cabinet.Target.DryBasis()))
	assert.Equal(t, 630, room(3))
	y.yard.lay(wetBatch(1, 700, 3))
	assert.Zero(t, room(3))
	r.Yard.CutUntil = CutIntoFullYard
	assert.Equal(t, y.yard.roomForFresh()+y.ordinaryCut(), room(3), "the other way looks at racks and heap")
}

// A day on which all could not be dried is cut to what can: 2,880 could be cut, 1,000 are.
func TestCutStopsAtWhatCanDry(t *testing.T) {
	r := small(landing1(0))
	r.Yard.CutUntil, r.Yard.WetKgPerM2 = CutWhatCanDry, 6.5
	y := calmRooms(r, 0)
	y.yard.lay(wetBatch(0, 10_800-1000, 3)) // 108 m² · 6.5 kg/m² are 10,800 stalks
	assert.Equal(t, 1000, y.decideCut(0))
	assert.Equal(t, 2880-1000, y.month.NotCutTooWet)
	assert.InDelta(t, 24*1000.0/2880, y.month.CutH, 1e-9)
	y.yard.spread(0, 6000, 1, stalk.State{Moisture: 0.1}) // dry, but in the way
	r.Yard.WetKgPerM2 = 60
	racks, full := y.roomForCut(1)
	assert.Less(t, racks, 2000)
	assert.Same(t, &y.month.NotCutYardFull, full)
	y.site.ClearRoofM2, y.site.OpenRackM2 = 0, 0
	y.yard.changes++
	none, full := y.roomForCut(1)
	assert.Zero(t, none)
	assert.Same(t, &y.month.NotCutYardFull, full, "no rack is no room, whatever may lie wet there")
}

// Thinner dries faster and never moulds more: whatever the weather, the rain and the loads, until
// the thinner batch is dry and carried into the store. Where pre-dried batches are closed up, the
// one that is drier first lies the thicker for a while, so there it holds for loads further apart
// than that.
func TestThinnerDriesFasterAndNeverMouldsMore(t *testing.T) {
	r := small(landing1(0))
	mixed, mixedHours := mixedDays(61)
	p := parameters()
	closing := season(r, p, mixed, mixedHours)
	p.Stalk.AreaAfterPredry = 1
	lying := season(r, p, mixed, mixedHours)
	looked := 0
	rapid.Check(t, func(t *rapid.T) {
		s := rapid.SampledFrom([]*Season{closing, lying}).Draw(t, "season")
		y := &roomsOf(r, 0, s).yard
		from := rapid.IntRange(0, 40).Draw(t, "day")
		thick := rapid.Float64Range(10, 25).Draw(t, "thick")
		thin := rapid.Float64Range(6, thick*y.p.Stalk.AreaAfterPredry).Draw(t, "thin")
		at := rapid.SampledFrom([]place{clearRack, openRack}).Draw(t, "place")
		y.advanced = 24 * from
		for _, load := range []float64{thick, thin} {
			y.lay(batch{at: at, stalks: 1000, kept: 1, state: y.freshState()})
			y.batches[len(y.batches)-1].kgPerM2 = load
		}
		for h := 24*from + 1; h < 24*61; h++ {
			y.advance(h)
			a, b := &y.batches[0].state, &y.batches[1].state
			require.LessOrEqual(t, float64(b.Moisture), float64(a.Moisture)+1e-9, "hour %d", h)
			require.LessOrEqual(t, b.PeakIndex, a.PeakIndex+1e-9, "hour %d", h)
			looked++
			if b.Moisture <= y.p.Cabinet.Target.DryBasis() {
				break
			}
		}
	})
	assert.Greater(t, looked, 1000)
}

// Racks are never overfull, and what is spread again keeps its water: whatever is laid, taken and
// lived through, with loads that change with the week, by both ways of spreading.
func TestRacksAreNeverOverfull(t *testing.T) {
	mixed, mixedHours := mixedDays(61)
	again := 0
	r := small(landing1(0))
	r.Sites[0].SolidRoofM2 = 12
	s := season(r, parameters(), mixed, mixedHours)
	rapid.Check(t, func(t *rapid.T) {
		r := r.Clone()
		anySpreading(t, r)
		y := &roomsOf(r, 0, s).yard
		for h := 6; h < 24*40; h += rapid.IntRange(1, 40).Draw(t, "hours") {
			y.advance(h)
			for i := range y.batches {
				y.batches[i].stalks -= rapid.IntRange(0, y.batches[i].stalks).Draw(t, "taken")
			}
			y.dropEmpty()
			y.spreadHeap()
			y.spread(h/24, rapid.IntRange(0, 9000).Draw(t, "cut"), 1, y.freshState())
			water, shed := y.addWater(0), y.water.Shed
			y.evenOut()
			require.InDelta(t, water, y.addWater(0)+y.water.Shed-shed, 1e-9*(1+water))
			for at := clearRack; at < heap; at++ {
				m2 := 0.0
				for i := range y.batches {
					if b := &y.batches[i]; b.at == at {
						m2 += float64(b.stalks) * y.m2PerStalkAt(b.kgPerM2, b.state.Predried)
						if b.kgPerM2 != y.fullKgPerM2 {
							again++
						}
					}
				}
				require.LessOrEqual(t, m2, y.site.areaM2(at)*(1+1e-12), "place %d", at)
			}
		}
	})
	assert.Greater(t, again, 1000, "loads differ")
}

// anySpreading draws ways of spreading and cutting, their ends included.
func anySpreading(t *rapid.T, r *Region) {
	y := &r.Yard
	y.Spreading = Spreading(rapid.IntRange(0, 1).Draw(t, "spreading"))
	y.LeastLoadingKgPerM2 = rapid.SampledFrom([]float64{0, 1, 6, 60}).Draw(t, "least load")
	y.WetWeekMM = rapid.SampledFrom([]float64{0, 20, 50, 3000}).Draw(t, "wet week")
	y.CutUntil = CutLimit(rapid.IntRange(0, 1).Draw(t, "cutting until"))
	y.WetKgPerM2 = rapid.SampledFrom([]float64{0, 7, 60}).Draw(t, "wet on racks")
	y.WetCharges = rapid.SampledFrom([]float64{0, 6, 100}).Draw(t, "wet charges")
	for i := range r.Sites {
		r.Sites[i].LoadingInWetWeeksKgPerM2 = rapid.SampledFrom([]float64{0, 0.001, 4, 60}).Draw(t, "load of wet weeks")
	}
}

// The weeks and ways of a season leave the least load of a Go program, 0, at one layer.
func TestLeastLoadIsOneLayer(t *testing.T) {
	r := evenly(small(landing1(0)))
	r.Yard.LeastLoadingKgPerM2 = 0
	y := &calmRooms(r, 0).yard
	y.spread(0, 100, 1, stalk.State{Moisture: 3})
	y.evenOut()
	assert.InDelta(t, 6, y.batches[0].kgPerM2, 1e-12)
	y.p.Stalk.LayerKgPerM2 = 4
	y.uneven = true
	y.evenOut()
	assert.InDelta(t, 4, y.batches[0].kgPerM2, 1e-12)
}
