package decide

import (
	"context"
	"errors"
	"math/rand/v2"
	"sync/atomic"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"drystalk/sim/money"
	"drystalk/sim/weather"
)

// hard is a question about the small region whose number takes a second look.
func hard(t *testing.T) Question {
	s, set := small(t)
	for m := range s.Region.Contract.StalksByMonth {
		s.Region.Contract.StalksByMonth[m] = 18_000
	}
	return Question{Setup: set, MaxDryers: []int{3}, Free: true, Target: 0.8, SearchSeasons: 30, Seasons: 50, Limit: 150, ShortSeasons: 1}
}

// A run stopped in its second look answers with the first, and says so; what is
// short is not looked at any more. Its figures are those of the run that had no second look.
func TestStoppedInTheSecondLook(t *testing.T) {
	q := hard(t)
	q.Prices = &money.Prices{PerGoodStalk: 0.1, DryerCost: 8000, DryerYears: 8}
	ctx, cancel := context.WithCancel(t.Context())
	q.Progress = func(done, _ int) {
		if done > 30+50+3 {
			cancel()
		}
	}
	a, err := Dryers(ctx, q)
	require.NoError(t, err)
	assert.Equal(t, WhileProving, a.Stopped)
	assert.Equal(t, Shortage{}, a.Short)
	assert.Equal(t, 50, a.Proof.Seasons)
	assert.Equal(t, 1, a.Proof.Looks)
	assert.Equal(t, 3, a.Proof.Planned)
	assert.Len(t, a.Money, len(a.Plans))

	q.Limit, q.Progress = 50, nil
	one, err := Dryers(t.Context(), q)
	require.NoError(t, err)
	assert.Empty(t, one.Stopped)
	assert.Equal(t, 1, one.Proof.Planned)
	assert.Equal(t, one.Plans, a.Plans)
	assert.Equal(t, one.Money, a.Money)
	assert.Positive(t, one.Short.Months)
}

// Fifty seasons are the fewest of which anything is said: a run stopped after them answers, one
// stopped before, or while it places the dryers, knows nothing.
func TestStoppedInTheFirstLook(t *testing.T) {
	for after, seasons := range map[int]int{5: 0, 10 + 20: 0, 10 + 53: 50, 10 + 110: 75, 10 + 75 + 60: 125} {
		q := hard(t)
		q.SearchSeasons, q.Seasons = 10, 150
		ctx, cancel := context.WithCancel(t.Context())
		q.Progress = func(done, _ int) {
			if done >= after {
				cancel()
			}
		}
		a, err := Dryers(ctx, q)
		if seasons == 0 {
			require.ErrorIs(t, err, ErrNothingKnown)
			require.ErrorIs(t, err, context.Canceled, "and why")
			continue
		}
		require.NoError(t, err)
		assert.Equal(t, seasons, a.Seasons, "whole looks, and whole pieces of 50 of the one that was stopped")
		assert.Equal(t, seasons, a.Proof.Seasons)
		assert.Equal(t, min(seasons, 75), a.Plans[0].AllMonths.Seasons, "no dryer is hopeless after the first look")
		assert.Equal(t, WhileProving, a.Stopped)
		assert.Len(t, a.Swings, len(q.Setup.Knowledge.Ranges), "of the seasons that were run")
	}
}

// counted is weather that tells when so many seasons have been drawn.
type counted struct {
	weather.Source
	left atomic.Int64
	then func()
}

func (c *counted) Days(startDOY, n int, rng *rand.Rand) []weather.Day {
	if c.left.Add(-1) == 0 {
		c.then()
	}
	return c.Source.Days(startDOY, n, rng)
}

// A run stopped while it looks at what is short has its number, and says what is not said.
func TestStoppedBeforeWhatIsShort(t *testing.T) {
	q := hard(t)
	q.SearchSeasons, q.Seasons, q.Limit, q.ShortSeasons = 10, 50, 50, 20
	ctx, cancel := context.WithCancel(t.Context())
	c := &counted{Source: q.Setup.Source, then: cancel}
	c.left.Store(10 + 50 + 1)
	q.Setup.Source = c
	a, err := Dryers(ctx, q)
	require.NoError(t, err)
	assert.Equal(t, WhileLooking, a.Stopped)
	assert.Equal(t, Shortage{}, a.Short)
	assert.Equal(t, 50, a.Proof.Seasons)
}

// What breaks is told, at whichever season it happens, and is no interruption.
func TestWhatBreaksIsTold(t *testing.T) {
	for _, at := range []int64{1, 11, 61, 111} {
		q := hard(t)
		q.SearchSeasons, q.Seasons, q.Limit, q.ShortSeasons = 10, 50, 100, 20
		c := &counted{Source: q.Setup.Source, then: func() { panic("the sky fell") }}
		c.left.Store(at)
		q.Setup.Source = c
		_, err := Dryers(t.Context(), q)
		require.ErrorContains(t, err, "the sky fell", "season %d", at)
		require.NotErrorIs(t, err, ErrNothingKnown)
	}
	broken := errors.New("broken")
	assert.Equal(t, broken, NothingKnown(broken))
	assert.ErrorIs(t, NothingKnown(context.Canceled), ErrNothingKnown)
}

// The answer names the region, its sites and what was asked.
func TestBlankAnswer(t *testing.T) {
	q := hard(t)
	a := q.blank()
	assert.Equal(t, Answer{
		Region: "Lower Channel", Sites: []string{"Lower Channel"}, Target: 0.8, SearchSeasons: 30, Seasons: 50, Seed: 1, Needed: -1, NeededStrictly: -1, Standing: []int{0},
	}, a)
}
