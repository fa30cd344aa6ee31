package sim

import "time"

// DaysPerYear is the length of the calendar year: 29 February does not exist.
const DaysPerYear = 365

// firstDOY holds the day of the year on which each month begins.
var firstDOY = [13]int{1, 32, 60, 91, 121, 152, 182, 213, 244, 274, 305, 335, 366}

// DaysInMonth returns the number of days of m in a 365-day year.
func DaysInMonth(m time.Month) int { return firstDOY[m] - firstDOY[m-1] }

// StartDOY returns the day of the year, 1 to 365, of the first day.
func (c Calendar) StartDOY() int { return firstDOY[c.StartMonth-1] + c.StartDay - 1 }

// Date returns month and day of month of day d of the season, counted from 0.
func (c Calendar) Date(d int) (time.Month, int) {
	doy := (c.StartDOY()-1+d)%DaysPerYear + 1
	m := time.January
	for firstDOY[m] <= doy {
		m++
	}
	return m, doy - firstDOY[m-1] + 1
}

// Span is the part of one calendar month that lies in the season, as days
// counted from 0, both ends included.
type Span struct {
	Month           time.Month
	FirstDay        int
	LastDay         int
	EndsInsideMonth bool // the season ends before the month does
}

// Months splits the season into calendar months, in order.
func (c Calendar) Months() []Span {
	var spans []Span
	for d := 0; d < c.Days; {
		month, dom := c.Date(d)
		left := DaysInMonth(month) - dom
		last := min(d+left, c.Days-1)
		spans = append(spans, Span{month, d, last, last < d+left})
		d = last + 1
	}
	return spans
}

// CollectionDays returns the days of the season on which stalks go to the hub:
// perMonth of them in each month, equally spaced, the last on its last day.
func (c Calendar) CollectionDays(perMonth int) []int {
	var days []int
	for _, s := range c.Months() {
		_, firstDOM := c.Date(s.FirstDay)
		length := DaysInMonth(s.Month)
		for i := 1; i <= perMonth; i++ {
			day := s.FirstDay + length*i/perMonth - firstDOM
			if day >= s.FirstDay && day <= s.LastDay {
				days = append(days, day)
			}
		}
		if s.EndsInsideMonth && (len(days) == 0 || days[len(days)-1] != s.LastDay) {
			days = append(days, s.LastDay)
		}
	}
	return days
}
