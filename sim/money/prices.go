package money

import "drystalk/sim"

// Prices are what things cost and earn: prices of one of something in units of the currency,
// rates as fractions a year. All are stated by the user: the program has no prices of its own.
type Prices struct {
	PerGoodStalk   float64 // the buyer pays for a good stalk delivered
	PerSecondStalk float64 // second grade, sold apart
	SecondMost     int     // of second grade that is sold in a month, of all sites together; below 0: no ceiling
	PerMissing     float64 // penalty for a stalk missing from a month's contract
	PaidAfter      int     // months from delivery to payment
	OpeningCash    Amount  // of each site on the first day

	Hands           Hands   // whose people the cutters are
	PayFor          Basis   // for which stalks they are paid
	HourWorth       float64 // of an hour of a member's time elsewhere; below 0: WagePerH
	PerStalkCut     float64 // paid to the cutters for each stalk that PayFor says
	WagePerH        float64 // all work but cutting
	NightExtraPerH  float64 // on top, between 22 and 6 h
	CrewPerH        float64 // the extra crew, for every hour it is there
	WoodPerKg       float64
	WoodRainsPerKg  float64 // in months of rain
	PerTrip         float64 // a collection at a site
	CarryPerStalk   float64 // collected
	BagPerStalk     float64 // bundling, bags, labels
	UpkeepPerH      float64 // of firing
	UpkeepPerDryer  float64 // a year
	RentPerYear     float64 // of a site: land, store, dues
	SurplusPerStalk float64 // good stalks left over at the end of the season

	DryerCost   float64 // one, put up and ready
	DryerYears  int     // it lasts
	GrantShare  float64 // of a purchase that nobody pays back
	LoanShare   float64 // of a purchase, whatever is bought, that is borrowed
	LoanMonths  int
	LoanRate    float64 // a year
	Discount    float64 // a year, of money later against money now
	RackPerM2   float64 // open rack
	RoofPerM2   float64 // clear roof with its rack
	SheetPerM2  float64 // over open rack
	SealPerSite float64 // bags with liner for the stock of a site
	RoomPer1000 float64 // store room for 1,000 dry stalks
	PerCutter   float64 // tools and training of one more
	PerShiftH   float64 // lamps and the like, for an hour of longer shift at a site
	PerStock    float64 // a good stalk bought or dried ahead for the opening stock
	OtherYears  int     // racks, roofs, sheets and the like last
}

// rainsMM is the rain of a month in which wood has its price of the rains, mm. Assumption.
const rainsMM = 100

// woodPerKg returns the price of wood in a month with so much rain.
func (p *Prices) woodPerKg(rainMM float64) float64 {
	if rainMM > rainsMM {
		return p.WoodRainsPerKg
	}
	return p.WoodPerKg
}

// PenaltyOf returns what is paid for the stalks missing from a month's contract.
func (p *Prices) PenaltyOf(m *sim.HubMonth) Amount {
	return Of(float64(m.Asked-m.Delivered) * p.PerMissing)
}

// Loan returns the loan of a purchase.
func (p *Prices) Loan(cost Amount) Loan {
	return Loan{Of(cost.Units() * p.LoanShare), p.LoanRate, p.LoanMonths}
}

// Yearly returns what a purchase costs a year over the years it lasts, without its grant: the
// level payment at the discount rate, in units of the currency.
func (p *Prices) Yearly(cost Amount, years int) float64 {
	return cost.Units() * (1 - p.GrantShare) * LevelPayment(p.Discount, years)
}
