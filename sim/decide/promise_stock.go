package decide

import (
	"context"
)

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
	need := &StockNeed{After: spans[q.StockAfter].Month.String(), Stalks: -1, Seasons: q.Seasons}
	if most == 0 {
		return nil, nil
	}
	with := func(stalks, first, n int) (bool, *attempt, error) {
		q.tell(Stocking, spans[q.StockAfter].Month)
		region := q.Setup.Region.From(from)
		region.Hub.OpeningStock = stalks
		for i := range region.Sites {
			region.Sites[i].OpeningStock = 0
		}
		return q.reaches(ctx, region, first, n)
	}
	step := max(1, most/200)
	low, high := 0, 200 // in steps; the whole rest of the contract in store is always enough
	for high-low > 1 {
		mid := (low + high) / 2
		ok, _, err := with(mid*step, FirstSearchSeason, q.SearchSeasons)
		if err != nil {
			return nil, err
		}
		if ok {
			high = mid
		} else {
			low = mid
		}
	}
	var less *attempt
	for k := high; k <= 201; k++ { // on fresh seasons: what the search found may look better than it is
		ok, t, err := with(k*step, 0, q.Seasons)
		if err != nil {
			return nil, err
		}
		if ok {
			r, err := t.all(ctx)
			if err != nil {
				return nil, err
			}
			if r.Odds.Share >= q.Target {
				need.Stalks, need.Odds = k*step, r.Odds
				break
			}
		}
		need.Less, less = k*step, t
	}
	if less != nil {
		r, err := less.all(ctx)
		if err != nil {
			return nil, err
		}
		need.LessIn = r.Odds
	}
	return need, nil
}
