package sim

// From returns the region with a season that begins on day d of this one: spells of the
// calendar keep their dates, and dryers moved before that day stand where they were taken.
func (r *Region) From(d int) *Region {
	later := r.Clone()
	month, day := r.Calendar.Date(d)
	later.Calendar = Calendar{StartMonth: month, StartDay: day, Days: r.Calendar.Days - d}
	later.People.Away = nil
	for _, a := range r.People.Away {
		if a.LastDay >= d {
			a.FirstDay, a.LastDay = max(0, a.FirstDay-d), a.LastDay-d
			later.People.Away = append(later.People.Away, a)
		}
	}
	for i := range later.Sites {
		s := &later.Sites[i]
		s.Closed = nil
		for _, c := range r.Sites[i].Closed {
			if c.LastDay >= d {
				if c.FirstDay < d {
					c.Removed = 0 // it has been
				}
				c.FirstDay, c.LastDay = max(0, c.FirstDay-d), c.LastDay-d
				s.Closed = append(s.Closed, c)
			}
		}
	}
	later.Moves = nil
	for _, m := range r.Moves {
		m.Day -= d
		if m.Day < 0 {
			m.DaysLost, m.Day = max(0, m.DaysLost+m.Day), 0
		}
		later.Moves = append(later.Moves, m)
	}
	later.Dryer.ReadyAfterDays = max(0, r.Dryer.ReadyAfterDays-d)
	return later
}
