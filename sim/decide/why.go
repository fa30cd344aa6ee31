package decide

import (
	"drystalk/sim/trials"
	"drystalk/tongue"
)

// MonthWhy says why one month of one season was missed: what single thing, made plentiful
// in the same season, would have met it.
type MonthWhy struct {
	Month     string   `json:"month"`
	Asked     int      `json:"asked_stalks"`
	Delivered int      `json:"delivered_stalks"`
	MetWith   []Relief `json:"met_with"`  // each alone
	Most      Relief   `json:"most_with"` // the single thing that adds most stalks, where none alone meets the month
	MostAdds  int      `json:"most_adds_stalks"`
}

// Why runs a season of the plan as written again with one thing after another made
// plentiful, in the same weather, luck and knowledge, and explains each missed month.
func Why(set trials.Setup, n int) ([]MonthWhy, error) {
	plain, err := set.Ledger(n)
	if err != nil {
		return nil, err
	}
	var out []MonthWhy
	at := map[int]int{} // month of the season to its place in out
	for k, m := range plain.Hub {
		if m.Asked > 0 && !m.Met {
			at[k] = len(out)
			out = append(out, MonthWhy{Month: m.Month.String(), Asked: m.Asked, Delivered: m.Delivered})
		}
	}
	if len(out) == 0 {
		return nil, nil
	}
	for _, what := range reliefsFor(set.Region) {
		relieved := set
		relieved.Region = with(set.Region, what)
		l, err := relieved.Ledger(n)
		if err != nil {
			return nil, tongue.Errorf("with %s: %w", what.key, err)
		}
		for k, i := range at {
			w := &out[i]
			if l.Hub[k].Met {
				w.MetWith = append(w.MetWith, what.key)
			}
			if more := l.Hub[k].Delivered - w.Delivered; more > w.MostAdds {
				w.Most, w.MostAdds = what.key, more
			}
		}
	}
	return out, nil
}
