package ahead

import (
	"context"
	"fmt"
	"math"
	"math/rand/v2"
	"os"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"drystalk/scenarios"
	"drystalk/sim"
	"drystalk/sim/trials"
)

// said is what was said of a month of a season that was stopped on a day, and what became of it.
type said struct {
	odds float64
	met  bool
	next bool // the month at hand
}

// backtest stops seasons at a random day, says the odds of the months ahead as a clerk would have them
// said from what lies there, and looks what becomes of them.
type backtest struct {
	of        *scenarios.Scenario
	set       trials.Setup
	laterDays int  // that its season begins after that of the scenario
	seasons   int  // behind the odds
	shown     bool // what was cut and the rain so far are stated
}

// firstTruth is the number of the first season that is stopped, apart from those behind the odds.
const firstTruth = 2_000_000

// lists returns what was said of so many seasons.
func (b *backtest) lists(t testing.TB, truths int) (all []said) {
	rng := rand.New(rand.NewPCG(9, 9))
	for k := range truths {
		day := 10 + rng.IntN(b.set.Region.Calendar.Days-30)
		all = append(all, b.one(t, firstTruth+k, day)...)
	}
	return all
}

// one stops one season on a day.
func (b *backtest) one(t testing.TB, number, day int) (out []said) {
	truth, err := b.set.Season(number)
	require.NoError(t, err)
	live := sim.NewRunner(b.set.Region)
	live.TakenOn = day
	ledger, err := live.Ledger(truth)
	require.NoError(t, err)
	set := b.set
	set.Region = set.Region.Clone()
	set.Region.Start = b.asCounted(t, live.Taken()[0])
	if b.shown {
		set.Known = shownBy(set.Region, truth, day)
	}
	tables, err := set.Tables(context.Background(), 0, b.seasons, []trials.Variant{{Region: set.Region, Levels: trials.Only(planOf(set.Region))}}, nil)
	require.NoError(t, err)
	w := run{Question: &Question{Setup: set}, region: set.Region, weights: set.Weights(tables[0])}
	j, err := w.judge(set.Region, tables[0])
	require.NoError(t, err)
	for c, m := range j.asked {
		out = append(out, said{trials.NewWeightedOdds(j.met[c], w.weights).Share, ledger.Hub[m].Met, c == 0})
	}
	return out
}

// asCounted is what a clerk counts, as a file of stock says it: stalks by class, of which nobody knows
// more than that.
func (b *backtest) asCounted(t testing.TB, st sim.Start) sim.Start {
	at := st.Sites[0]
	var classes [3]int
	for _, l := range at.Yard {
		switch wet := l.Wet.WetBasis(); {
		case wet > 0.86:
			classes[0] += l.Stalks
		case wet > 0.6:
			classes[1] += l.Stalks
		default:
			classes[2] += l.Stalks
		}
	}
	month, dom := b.set.Region.Calendar.Date(st.Day)
	text := fmt.Sprintf("today: %d %s\nhub: {good_stalks: %d, delivered_this_month_stalks: 0}\nsites:\n  %s: {fresh_stalks: %d, half_dry_stalks: %d, nearly_dry_stalks: %d, in_dryers_stalks: %d, in_store_stalks: %d, dryers_down: %d}\n",
		dom, strings.ToLower(month.String()[:3]), st.Hub, b.set.Region.Sites[0].Name, classes[0], classes[1], classes[2], at.Waiting, at.Store, at.Down)
	counted, err := b.of.ReadStock("stock.yaml", []byte(text))
	require.NoError(t, err, text)
	counted.Start.Day = st.Day // the season of the case begins later than that of the file
	for i := range counted.Start.Sites[0].Yard {
		l := &counted.Start.Sites[0].Yard[i]
		l.CutDay -= b.laterDays
	}
	return counted.Start
}

// shownBy is what the last four weeks of a season have shown: what was cut by person-hour, and the rain.
func shownBy(r *sim.Region, s *sim.Season, day int) *trials.Known {
	k := &trials.Known{Day: day, Output: make([]trials.CutSoFar, len(r.Sites))}
	for d := range day {
		k.RainMM = append(k.RainMM, s.Days[d].RainMM)
	}
	for i := range r.Sites {
		for d := max(0, day-28); d < day; d++ {
			k.Output[i].LogMean += math.Log(s.Parameters.OutputFactor * s.Output[i][d])
			k.Output[i].Days++
		}
		k.Output[i].LogMean /= float64(k.Output[i].Days)
	}
	return k
}

// brier returns the mean square of stated odds less what became of them, and of what a constant share
// would have.
func brier(list []said) (score, constant float64) {
	met := 0.0
	for _, s := range list {
		if s.met {
			met++
		}
	}
	base := met / float64(len(list))
	for _, s := range list {
		x := 0.0
		if s.met {
			x = 1
		}
		score += (s.odds - x) * (s.odds - x) / float64(len(list))
		constant += (base - x) * (base - x) / float64(len(list))
	}
	return score, constant
}

// bin is a bin of stated odds.
type bin struct {
	n           int
	stated, met float64 // mean odds, share met
}

// reliability sorts what was said into bins of stated odds.
func reliability(list []said, bins int) []bin {
	out := make([]bin, bins)
	for _, s := range list {
		b := &out[min(bins-1, int(s.odds*float64(bins)))]
		b.n++
		b.stated += s.odds
		if s.met {
			b.met++
		}
	}
	for i := range out {
		if b := &out[i]; b.n > 0 {
			b.stated, b.met = b.stated/float64(b.n), b.met/float64(b.n)
		}
	}
	return out
}

// hard is one cooperative through its rains with a contract that it meets in some seasons.
func hard(t testing.TB) backtest {
	s, err := scenarios.Demo(scenarios.OneCooperative)
	require.NoError(t, err)
	c, err := s.Setup(1)
	require.NoError(t, err)
	set := c.Setup
	set.Workers = 2
	set.Region = set.Region.Clone()
	set.Region.Calendar = sim.Calendar{StartMonth: time.June, StartDay: 1, Days: 122}
	set.Region.Hub.OpeningStock = 20_000
	for m := time.June; m <= time.September; m++ {
		set.Region.Contract.StalksByMonth[m] = asks
	}
	later, err := s.DayOf("1-jun")
	require.NoError(t, err)
	return backtest{of: s, set: set, laterDays: later, shown: true}
}

// asks is the contract of a month of the case, stalks: some seasons meet it and some do not.
const asks = 38_000

// Odds stated in the middle of seasons are what becomes of these: seasons that were stopped on a random
// day and counted as a clerk counts, with what was cut and the rain so far stated, in bins of what was
// said. Months of one season fare alike, so the bounds go by seasons, three standard errors wide.
func TestStatedOddsAreWhatBecomes(t *testing.T) {
	truths, seasons := 12, 30
	if os.Getenv("DRYSTALK_LONG") != "" {
		truths, seasons = 80, 40
	}
	b := hard(t)
	b.seasons = seasons
	list := b.lists(t, truths)
	require.Greater(t, len(list), 2*truths)
	score, constant := brier(list)
	t.Logf("%d months of %d seasons: Brier score %.3f, of a constant share %.3f", len(list), truths, score, constant)
	assert.Less(t, score, 0.9*constant, "better than always saying the same")
	stated, met := 0.0, 0.0
	for _, x := range reliability(list, 5) {
		n := float64(x.n)
		t.Logf("%3d months: stated %.2f, met %.2f", x.n, x.stated, x.met)
		if independent := n * float64(truths) / float64(len(list)); independent > 3 {
			p := max(0.03, min(0.97, x.stated))
			assert.InDelta(t, x.stated, x.met, 3*math.Sqrt(p*(1-p)*(1/independent+1/float64(seasons))), "stated %.2f", x.stated)
		}
		stated, met = stated+n*x.stated, met+n*x.met
	}
	assert.InDelta(t, stated/float64(len(list)), met/float64(len(list)), 3*math.Sqrt(0.16/float64(truths)), "all months")
}

// The score and the bins by hand.
func TestBrierAndReliabilityByHand(t *testing.T) {
	list := []said{{0.9, true, true}, {0.8, false, true}, {0.1, false, true}}
	score, constant := brier(list)
	assert.InDelta(t, (0.01+0.64+0.01)/3, score, 1e-12)
	assert.InDelta(t, 2.0/9, constant, 1e-12)
	bins := reliability(list, 5)
	assert.Equal(t, bin{1, 0.1, 0}, bins[0])
	assert.Equal(t, 2, bins[4].n)
	assert.InDelta(t, 0.85, bins[4].stated, 1e-12)
	assert.InDelta(t, 0.5, bins[4].met, 1e-12)
}
