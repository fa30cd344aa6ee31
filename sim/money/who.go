package money

import "drystalk/sim"

// Hands says whose people the cutters are, and so whose money their pay is.
type Hands int

// The hands.
const (
	Members Hands = iota // of their group: what it pays them is their own income, and paying less of it saves nothing
	Hired                // by the group: what it pays them leaves it
)

// String returns the key of the hands.
func (h Hands) String() string {
	if h == Hired {
		return "hired"
	}
	return "members"
}

// Basis says for which stalks the cutters are paid.
type Basis int

// What is paid for.
const (
	ForCut  Basis = iota // every stalk that is cut and brought to the yard
	ForGood              // only good stalks, in the month in which the hub accepts them
)

// ownPay are the parts that are paid to the people of a group for their work. The extra crew is
// hired.
var ownPay = []Part{Cutting, Wages, Night}

// ToMembers tells whether a part is paid to members, so that it is their income.
func (p *Prices) ToMembers(of Part) bool {
	return p.Hands == Members && (of == Cutting || of == Wages || of == Night)
}

// Theirs returns what those who decide on a purchase have of a month or a year: members what is left over
// and all that they are paid, groups that hire their hands what is left over.
func (p *Prices) Theirs(parts *Parts) Amount {
	sum := parts.Net()
	for _, k := range ownPay {
		if p.ToMembers(k) {
			sum -= parts[k]
		}
	}
	return sum
}

// WorthOfHour returns what an hour of a member's time is worth elsewhere, in units of the
// currency, and whether that was stated; otherwise it is the wage of other work. An hour of hired
// hands is paid for and has no other worth.
func (p *Prices) WorthOfHour() (worth float64, stated bool) {
	switch {
	case p.Hands == Hired:
		return 0, false
	case p.HourWorth >= 0:
		return p.HourWorth, true
	}
	return p.WagePerH, false
}

// ownMinutes returns the minutes of other work that a site's own people did in each month of
// season i: what the extra crew had no hours for. Assumption: in a month the crew works all its
// hours before anybody else does.
func (y *Play) ownMinutes(site, i int) []float64 {
	out := make([]float64, y.Table.Months())
	for k, minutes := range y.Table.MonthFigures(sim.OtherH, site, y.Plan[site], i) {
		out[k] = max(0, float64(minutes)-60*y.crewH(site, k))
	}
	return out
}

// crewH returns the hours that the extra crew of a site is there in a month.
func (y *Play) crewH(site, month int) float64 {
	span := y.Table.Spans()[month]
	return float64(y.Region.Sites[site].Crew) * y.Region.People.CrewHPerDay * float64(span.LastDay-span.FirstDay+1)
}

// Hours returns the person-hours that a site's own people worked in each month of season i:
// cutting and what they did of all other work.
func (y *Play) Hours(site, i int) []float64 {
	out := y.ownMinutes(site, i)
	for k, minutes := range y.Table.MonthFigures(sim.CutH, site, y.Plan[site], i) {
		out[k] = (out[k] + float64(minutes)) / 60
	}
	return out
}

// heads returns the people of a region's groups, the extra crew not among them.
func heads(r *sim.Region) int {
	n := 0
	for i := range r.Sites {
		n += r.Sites[i].Cutters
	}
	return n
}
