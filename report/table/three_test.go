package table

import (
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"drystalk/report/internal/sample"
	"drystalk/report/words"
	"drystalk/sim/decide"
	"drystalk/sim/money"
	"drystalk/sim/trials"
)

// besideIt is a second plan in which no figure is that of the first: three dryers for 9,000, asked for
// 65,000 in July and for 12,000 in August.
func besideIt() words.Compared {
	c := compared()
	c.Result = sample.Comparison()
	c.Result.A = compared().Result.A
	c.Changes = []words.Change{{Key: "Heron Point.dryers", A: "1", B: "3"}}
	c.Result.B = sample.Plan(3, []int{1, 2, 0}, 970, 960)
	c.Result.B.Months[1].Asked = 65_000
	august := c.Result.B.Months[1]
	august.Month, august.Name, august.Asked, august.Odds = time.August, time.August.String(), 12_000, trials.NewOdds(500, 1000)
	c.Result.B.Months = append(c.Result.B.Months, august)
	c.Result.Purchase.Cost = money.Of(9000)
	c.Result.Totals = delivers(123_000)
	return c
}

// delivers is what a plan delivers in a season beside the 100,000 of today.
func delivers(stalks float64) []decide.Difference {
	return []decide.Difference{{Of: decide.DeliveredKey, Unit: "stalks", A: sample.Mean(100_000), B: sample.Mean(stalks), More: sample.Mean(stalks - 100_000)}}
}

// Of three plans every figure stands under its own: today first, then the plan, then the one beside it,
// each with its own contract, odds, purchase and deliveries; a month that one contract alone asks for is
// not asked of the others.
func TestThreePlansEachUnderItsName(t *testing.T) {
	a, b := compared(), besideIt()
	a.Result.Totals = delivers(112_000)
	three := Three(a, b)
	require.Equal(t, []string{"", "today", a.With(), b.With()}, three.Head)
	require.NotEqual(t, a.With(), b.With())
	assert.Equal(t, []string{"60,000", "60,000", "65,000"}, row(t, three, "July, asked for"))
	odds := func(met int) string { return words.Odds(trials.NewOdds(met, 1000)) }
	assert.Equal(t, []string{odds(800), odds(950), odds(960)}, row(t, three, "July, met in"))
	assert.Equal(t, []string{odds(900), odds(990), odds(970)}, row(t, three, "June, met in"))
	assert.Equal(t, []string{"not asked", "not asked", "12,000"}, row(t, three, "August, asked for"))
	assert.Equal(t, odds(500), row(t, three, "August, met in")[2])
	assert.Equal(t, []string{"nothing", "6,000", "9,000"}, row(t, three, "to buy, "+a.Currency))
	assert.Equal(t, []string{"100,000", "112,000", "123,000"}, row(t, three, "good stalks delivered, stalks"))
	swapped := Three(b, a)
	assert.Equal(t, []string{"60,000", "65,000", "60,000"}, row(t, swapped, "July, asked for"))
	assert.Equal(t, []string{"nothing", "9,000", "6,000"}, row(t, swapped, "to buy, "+a.Currency))
	assert.Equal(t, a.With()+" (set beside)", Three(a, a).Head[3], "two of one name are told apart")
}
