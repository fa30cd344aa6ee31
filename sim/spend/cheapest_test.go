package spend

import (
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"drystalk/sim"
	"drystalk/sim/money"
)

// cheapToy is a search for the cheapest list on a toy, with the same toy for pruning.
func cheapToy(budget, wanted float64, seasons int, brings func(s *sim.Site, site, season int) [2]int) *cheap {
	s := toy(dryersAndRacks(), budget, seasons, brings)
	s.Cheapest, s.Target = true, wanted
	s.pruner = toy(dryersAndRacks(), budget, seasons, brings)
	return &cheap{s, s.pruner, wanted}
}

// A dryer for 100 does what five racks for 20 each do, and one rack less is enough: the cheapest
// list is of racks, and none that it does not need. Within 60 nothing reaches the target, and the
// list says so.
func TestCheapestByHand(t *testing.T) {
	brings := func(site *sim.Site, at, _ int) [2]int {
		if at == 1 {
			return [2]int{500, 500}
		}
		return [2]int{500, 600 + 100*(int(site.OpenRackM2-100)/50) + 500*site.Dryers} // July misses 400 of 2,000
	}
	c := cheapToy(0, 1, 4, brings)
	d, reached, err := c.reach(t.Context(), c.start())
	require.NoError(t, err)
	assert.True(t, reached)
	assert.Equal(t, design{{0, 4}, {0, 0}, {0, 0}}, d)
	assert.InDelta(t, 80, c.cost(d).Units(), 1e-9)

	c = cheapToy(60, 1, 4, brings)
	d, reached, err = c.reach(t.Context(), c.start())
	require.NoError(t, err)
	assert.False(t, reached, "80 are needed")
	assert.Equal(t, design{{0, 3}, {0, 0}, {0, 0}}, d, "the best of what there is")

	c = cheapToy(0, 1, 4, func(*sim.Site, int, int) [2]int { return [2]int{500, 1000} })
	d, reached, err = c.reach(t.Context(), c.start())
	require.NoError(t, err)
	assert.True(t, reached)
	assert.Equal(t, c.start(), d, "nothing need be bought")
}

// On many small models of two sites the cheapest list found costs what the cheapest of all designs
// does, nearly always, and never much more; where no design reaches the target none is said to.
func TestCheapestAgainstAllDesignsOfToys(t *testing.T) {
	const models = 40
	dearer, none := 0, 0
	for seed := range uint64(models) {
		rng := rand.New(rand.NewPCG(seed, 11))
		gain, luck := drawnToy(rng)
		c := cheapToy(150+500*rng.Float64(), 0.75, len(luck), func(site *sim.Site, at, season int) [2]int {
			dryers, racks := float64(site.Dryers-[]int{0, 2}[at]), (site.OpenRackM2-[]float64{100, 60}[at])/50
			more := luck[season] * (gain[at][0]*dryers + gain[at][1]*racks)
			return [2]int{400 + int(more/2), 500 + int(more)}
		})
		found, reached, err := c.reach(t.Context(), c.start())
		require.NoError(t, err)
		least, designs := money.Amount(-1), 0
		for d0 := range 4 {
			for d1 := range 3 {
				for r0 := range 7 {
					for r1 := range 7 {
						d := design{{d0, r0}, {d1, r1}, {0, 0}}
						if !c.affordable(d) {
							continue
						}
						designs++
						require.NoError(t, c.wide.runAll(t.Context(), []design{d}))
						if c.enough(c.wide, d, 0) && (least < 0 || c.cost(d) < least) {
							least = c.cost(d)
						}
					}
				}
			}
		}
		require.Greater(t, designs, 20)
		require.Equal(t, least >= 0, reached, "model %d: the cheapest of %d designs costs %v", seed, designs, least)
		if !reached {
			none++
			continue
		}
		assert.LessOrEqual(t, c.cost(found).Units(), 1.25*least.Units()+1e-9, "model %d", seed)
		if c.cost(found) > least {
			dearer++
			t.Logf("model %d: %v for %v, the cheapest costs %v", seed, found, c.cost(found).Units(), least.Units())
		}
	}
	t.Logf("%d of %d models cost more than they need, in %d nothing reaches the target", dearer, models, none)
	assert.Greater(t, none, 2)
	assert.Less(t, none, models/2)
	assert.LessOrEqual(t, dearer, models/5)
}

// More money is never worse by more than chance: where it finds a worse list, the list of the
// smaller budget is the answer.
func TestMoreMoneyIsNeverWorse(t *testing.T) {
	stand := func(reached, missing float64) standing {
		s := standing{reached: make([]bool, 100), short: make([]float64, 100)}
		for i := range s.reached {
			s.reached[i], s.short[i] = float64(i) < reached, missing+float64(i%2)
		}
		return s
	}
	s := searchOf(village(), dryersAndRacks())
	small, large := design{{0, 3}, {0, 0}, {0, 0}}, design{{1, 0}, {0, 0}, {0, 0}}
	b := buying{search: s, judging: s.judging()}
	worse := func(now, before standing) bool {
		b.judging.stands = map[string]standing{large.String(): now, small.String(): before}
		return b.worse(large, small)
	}
	assert.True(t, worse(stand(60, 50), stand(90, 50)), "the target is reached in fewer seasons")
	assert.True(t, worse(stand(90, 80), stand(90, 50)), "in as many, and more is missing")
	assert.False(t, worse(stand(91, 80), stand(90, 50)), "in more, though more is missing")
	assert.False(t, worse(stand(89, 50), stand(90, 50)), "by chance")

	a := asSmaller(Answer{Budget: money.Of(100), Tried: 7}, money.Of(200))
	assert.Equal(t, Answer{Budget: money.Of(200), Smaller: money.Of(100), Tried: 7}, a)
	assert.Equal(t, money.Of(100), asSmaller(a, money.Of(300)).Smaller, "whose list it is stays")
}
