package weather

import "math/rand/v2"

// yearDraws are the standard normals behind a year: its wetness, how late the rains set in and
// how late they withdraw.
type yearDraws struct{ wetness, onset, withdrawal float64 }

func drawYear(rng *rand.Rand) yearDraws {
	return yearDraws{rng.NormFloat64(), rng.NormFloat64(), rng.NormFloat64()}
}

// clock maps days of the year to the day of the usual calendar whose weather they
// have.
type clock struct {
	moves    bool
	usualOn  float64
	usualOff float64
	on, off  float64
}

func (s *NormalsSource) newClock(luck yearDraws) clock {
	m := s.normals.Onset
	_, usualOn, usualOff := m.clockYear()
	c := clock{m.moves(), usualOn, usualOff, usualOn + m.OnsetSD*luck.onset, usualOff + m.WithdrawalSD*luck.withdrawal}
	c.on = max(10, min(c.on, 340))
	c.off = max(c.on+10, min(c.off, 355))
	return c
}

// day stretches the calendar in straight lines between the start of the year, onset,
// withdrawal and the end of the year.
func (c *clock) day(d int) int {
	if !c.moves {
		return d
	}
	t := float64(d)
	switch {
	case t < c.on:
		t *= c.usualOn / c.on
	case t < c.off:
		t = c.usualOn + (t-c.on)*(c.usualOff-c.usualOn)/(c.off-c.on)
	default:
		t = c.usualOff + (t-c.off)*(365-c.usualOff)/(365-c.off)
	}
	return min(364, int(t))
}
