package money

// Account is the cash of one site over years of seasons that follow each other. At the end of
// each year but the last what it left is shared out: all but the opening cash, the instalments of
// the next year and what is bought again before it. What a year lacks is there in the next, and
// what is below nothing bears no interest.
type Account struct {
	Months    []Amount // balance at the end of each month from the first of the first season, 12 or more
	Lowest    Amount   // of those and of the balance when something has just been bought
	LowestAt  int      // month, from 0
	Uncovered []int    // months, from 0, in which an instalment found too little cash
	Short     Amount   // the most that was lacking for one; 0 where none was lacking
	Shared    []Amount // by year: shared out at its end, after the balance of its last month; none in the last
}

// Accounts returns the cash of each site over so many years, from season first on. The own
// part of what is bought is paid before the first season, instalments at the end of each month,
// what is bought again before the season of its year; what is sold is paid later. Nil bills are
// those of sites that buy nothing.
func (y *Play) Accounts(p *Prices, first, years int, bills []Bill) []Account {
	return accounts(p, seasonsOf(y, p, first, years), years, bills)
}

// seasonsOf returns the money of seasons that follow each other, as Season does each.
func seasonsOf(l Ledger, p *Prices, first, n int) (out [][][]Parts) {
	for i := range n {
		out = append(out, l.Season(p, first+i))
	}
	return out
}

// accounts returns the cash of each site over so many years. Years beyond the seasons given earn
// and spend nothing but the instalments, and nothing is bought again for them.
func accounts(p *Prices, seasons [][][]Parts, years int, bills []Bill) []Account {
	out := make([]Account, len(seasons[0]))
	for site := range out {
		var bill Bill
		if bills != nil {
			bill = bills[site]
			bill.Again = bill.Again[:min(len(seasons), len(bill.Again))]
		}
		out[site] = bill.account(p.OpeningCash, cashFlows(p, seasons, site, years), years)
	}
	return out
}

// cashFlows returns what comes in less what goes out at a site, month by month.
func cashFlows(p *Prices, seasons [][][]Parts, site, years int) []Amount {
	flows := make([]Amount, 12*(years-1)+max(12, len(seasons[0][site])+p.PaidAfter))
	for y := range seasons {
		for k, parts := range seasons[y][site] {
			flows[12*y+k] += parts.Net() - parts[Sales]
			flows[12*y+k+p.PaidAfter] += parts[Sales]
		}
	}
	return flows
}

// account pays a bill from opening cash and flows. What is due after the years is left out;
// what is sold in them and paid after them still comes in.
func (b *Bill) account(opening Amount, flows []Amount, years int) Account {
	balance := opening - b.Own
	a := Account{Lowest: balance}
	for k, flow := range flows {
		if k%12 == 0 && k/12 < len(b.Again) {
			balance -= b.Again[k/12]
			a.fall(balance, k)
		}
		balance += flow
		if k < min(12*years, len(b.Instalments)) {
			due := b.Instalments[k]
			if due > 0 && balance < due {
				a.Uncovered, a.Short = append(a.Uncovered, k), max(a.Short, due-balance)
			}
			balance -= due
		}
		a.fall(balance, k)
		a.Months = append(a.Months, balance)
		if year := (k + 1) / 12; (k+1)%12 == 0 && year < years {
			out := max(0, balance-opening-b.reserve(year))
			a.Shared, balance = append(a.Shared, out), balance-out
		}
	}
	return a
}

// reserve is what is kept back for a year, from 0: its instalments, and what is bought again
// before it.
func (b *Bill) reserve(year int) Amount {
	sum := Amount(0)
	for _, due := range b.Instalments[min(12*year, len(b.Instalments)):min(12*(year+1), len(b.Instalments))] {
		sum += due
	}
	if year < len(b.Again) {
		sum += b.Again[year]
	}
	return sum
}

// fall keeps the lowest balance.
func (a *Account) fall(balance Amount, month int) {
	if balance < a.Lowest {
		a.Lowest, a.LowestAt = balance, month
	}
}
