package table

import (
	"drystalk/report/words"
	"drystalk/tongue"
)

// Names are the columns of today and two plans; where both are called the same, the second is told
// apart.
func Names(a, b words.Compared) [3]string {
	out := [3]string{words.Today(), a.With(), b.With()}
	if out[1] == out[2] {
		out[2] = tongue.Sayf("%s (set beside)", out[2])
	}
	return out
}

// Three sets today and two plans side by side, each compared with today in the same seasons: what each
// month of the contract asks of each and how often it is met, what is bought, and the few figures that a
// decision hangs on.
func Three(a, b words.Compared) Table {
	h := Names(a, b)
	t := Table{Title: tongue.Say("Today and two plans, each against its own contract"), Head: []string{"", h[0], h[1], h[2]}, Left: 1}
	first, second := SideBySide(a.Result), map[string][6]string{}
	for _, row := range SideBySide(b.Result) {
		second[row[0]] = row
	}
	for _, row := range first {
		other := second[row[0]]
		delete(second, row[0])
		t.Rows = append(t.Rows,
			texts(tongue.Sayf("%s, asked for", row[0]), row[1], row[3], other[3]),
			texts(tongue.Sayf("%s, met in", row[0]), row[2], row[4], other[4]))
	}
	for _, row := range SideBySide(b.Result) {
		if _, only := second[row[0]]; only { // that no contract but this one asks for
			t.Rows = append(t.Rows, texts(tongue.Sayf("%s, asked for", row[0]), row[1], row[1], row[3]), texts(tongue.Sayf("%s, met in", row[0]), row[2], row[2], row[4]))
		}
	}
	if a.Result.Purchase != nil || b.Result.Purchase != nil {
		t.Rows = append(t.Rows, []Cell{text(tongue.Sayf("to buy, %s", a.Currency)), text(tongue.Say("nothing")), bought(a), bought(b)})
	}
	figures := map[string]Cell{}
	for _, row := range CompareBrief(b).Rows[1:] {
		figures[row[0].Text] = row[2]
	}
	for _, row := range CompareBrief(a).Rows[1:] {
		t.Rows = append(t.Rows, []Cell{row[0], row[1], row[2], figures[row[0].Text]})
	}
	return t
}

// bought is what the purchase of a plan costs.
func bought(c words.Compared) Cell {
	if c.Result.Purchase == nil {
		return text(tongue.Say("nothing"))
	}
	return amount(c.Result.Purchase.Cost, c.Currency)
}
