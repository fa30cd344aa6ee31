package decide

import (
	"context"
)

// stockSearches is in how many times the search seasons, fresh ones, a stock must be enough.
const stockSearches = 5

// stock finds the stock at the hub after a month with which every contract month that follows
// is met: the rest of the season is run by itself, with empty yards and that stock.
func (q *PromiseQuestion) stock(ctx context.Context) (*StockNeed, error) {
	spans := q.Setup.Region.Calendar.Months()
	if q.StockAfter+1 >= len(spans) {
		return nil, nil
	}
	from := spans[q.StockAfter+1].FirstDay
	most := 0
	for _, span := range spans[q.StockAfter+1:] {
		most += q.Setup.Region.Contract.StalksByMonth[span.Month]
	}
	need := &StockNeed{After: spans[q.StockAfter].Month.String(), Stalks: -1, Seasons: min(q.Seasons, stockSearches*q.SearchSeasons)}
	if most == 0 {
		return nil, nil
	}
	with := func(stalks, first, n int) (*attempt, bool, error) {
		q.tell(Stocking, spans[q.StockAfter].Month)
		region := q.Setup.Region.From(from)
		region.Hub.OpeningStock = stalks
		for i := range region.Sites {
			region.Sites[i].OpeningStock = 0
		}
		t := q.try(region, first, n)
		reached, err := q.reach(ctx, []*attempt{t}, q.Target)
		return t, len(reached) == 1 && reached[0], err
	}
	step := max(1, most/200)
	low, high := 0, 200 // in steps; the whole rest of the contract in store is always enough
	for high-low > 1 {
		mid := (low + high) / 2
		_, ok, err := with(mid*step, FirstSearchSeason, q.SearchSeasons)
		if err != nil {
			return nil, err
		}
		if ok {
			high = mid
		} else {
			low = mid
		}
	}
	for k := high; k <= 201; k++ { // on fresh seasons: what the search found may look better than it is
		t, ok, err := with(k*step, 0, need.Seasons)
		if err != nil {
			return nil, err
		}
		if ok {
			if err := q.bring(ctx, []*attempt{t}, t.n); err != nil {
				return nil, err
			}
			if t.odds.Share >= q.Target {
				need.Stalks, need.Odds = k*step, t.odds
				break
			}
		}
		need.Less, need.LessIn = k*step, t.odds
	}
	return need, nil
}
