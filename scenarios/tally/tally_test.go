package tally_test

import (
	"math"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"drystalk/scenarios/tally"
)

// cuts is a small form with a column of every kind.
var cuts = tally.Form{
	What: "a tally of cutting",
	Columns: []tally.Column{
		{Name: "date", Kind: tally.Date},
		{Name: "stalks", Kind: tally.Whole, Least: 0, Most: 100000, Hint: "stalks are counted; their weight belongs into fresh_kg"},
		{Name: "fresh_kg", Kind: tally.Number, Least: 0, Most: 5000, MayBeEmpty: true},
		{Name: "worked_h", Kind: tally.Hours, Least: 0.5, Most: 200, Optional: true},
		{Name: "began", Kind: tally.Clock, Optional: true, MayBeEmpty: true},
		{Name: "sky", Kind: tally.Text, Words: []string{"sun", "rain"}, Optional: true, MayBeEmpty: true},
		{Name: "who", Kind: tally.Text, Optional: true, MayBeEmpty: true},
	},
	Once: []string{"date", "who"},
}

func read(t *testing.T, text string) *tally.Table {
	t.Helper()
	table, err := cuts.Read("cuts.csv", []byte(text))
	require.NoError(t, err)
	return table
}

// refused returns what is wrong with a table, in its lines.
func refused(t *testing.T, text string) []string {
	t.Helper()
	table, err := cuts.Read("cuts.csv", []byte(text))
	require.Error(t, err)
	require.Nil(t, table)
	require.IsType(t, tally.Faults{}, err)
	return strings.Split(err.Error(), "\n")
}

func on(year int, month time.Month, day int) time.Time {
	return time.Date(year, month, day, 0, 0, 0, 0, time.UTC)
}

// One table in five dresses: commas and points; semicolons and decimal commas with the columns in
// another order; tabs; what spreadsheets put in front; dates with the year last.
func TestOneTableInFiveDresses(t *testing.T) {
	dresses := []string{
		"date,stalks,fresh_kg,worked_h,began,sky,who\n2026-06-03,1500,97.5,12,06:45,sun,A\n2026-06-14,0,,7:30,,,\n",
		"\ufeffSky; Who;Worked h;FRESH_KG;began;stalks;date\r\nSun;A;12;97,5;6:45;1500;3.6.2026\r\n;;7,5;-;;0;14.6.2026\r\n",
		"date\tstalks\tfresh_kg\tworked_h\tbegan\tsky\twho\n03/06/2026\t1500\t97.50\t12\t6:45\tsun\tA\n14/06/2026\t0\tn/a\t7.5\t\t\t\n",
		"sep=;\n# kept by the clerk\n\ndate;stalks;remark;fresh_kg;worked_h;began;sky;who\n06/03/2026;1500;all well, thanks;97,5;12,0;06:45;SUN;A\n;;;;;;;\n06/14/2026;0;;?;7,5;;;\n",
		"date,stalks,fresh_kg,worked_h,began,sky,who\n\"3-6-2026\",1500,\"97,5\",12,06:45,sun,A\n14-6-2026,0,—,\"7,5\",,,\n",
	}
	for _, text := range dresses {
		table := read(t, text)
		require.Len(t, table.Rows, 2, text)
		a, b := table.Rows[0], table.Rows[1]
		assert.Equal(t, on(2026, 6, 3), a.Date("date"), text)
		assert.Equal(t, on(2026, 6, 14), b.Date("date"), text)
		assert.Equal(t, 1500.0, a.Number("stalks"))
		assert.Equal(t, 97.5, a.Number("fresh_kg"))
		assert.Equal(t, 12.0, a.Number("worked_h"))
		assert.Equal(t, 6.75, a.Number("began"))
		assert.Equal(t, "sun", a.Text("sky"))
		assert.Equal(t, "A", a.Text("who"))
		assert.Equal(t, 7.5, b.Number("worked_h"))
		assert.True(t, b.Has("stalks"), "none cut is something")
		for _, column := range []string{"fresh_kg", "began", "sky", "who", "moon"} {
			assert.False(t, b.Has(column), "%s in %s", column, text)
		}
		assert.True(t, math.IsNaN(b.Number("fresh_kg")), "nothing is no number")
		assert.True(t, b.Date("who").IsZero())
		assert.True(t, table.HasColumn("began"))
		assert.False(t, table.HasColumn("remark"))
		assert.Empty(t, table.Warnings)
		assert.NoError(t, table.Err())
		require.Len(t, table.MissingDays("date"), 10)
		assert.Equal(t, on(2026, 6, 4), table.MissingDays("date")[0])
	}
}

// What may be read in two ways is refused; what other cells decide is read.
func TestNumbersInDoubt(t *testing.T) {
	const head = "date;stalks;fresh_kg\n2026-06-01;1;"
	assert.Equal(t, []string{`cuts.csv:2: fresh_kg: found "1,250", allowed: 1250 or 1.25, whichever is meant: "1,250" may be either`}, refused(t, head+"1,250\n"))
	assert.Equal(t, []string{`cuts.csv:2: fresh_kg: found "2.000", allowed: 2000 or 2.0, whichever is meant: "2.000" may be either`}, refused(t, head+"2.000\n"))
	assert.Equal(t, 1.25, read(t, head+"1,250\n2026-06-02;1;3,5\n").Rows[0].Number("fresh_kg"), "the second line shows the mark")
	assert.Equal(t, 12.5, read(t, head+"12.500\n").Rows[0].Number("fresh_kg"), "12,500 kg is more than may be")
	assert.Equal(t, 0.125, read(t, head+"0,125\n").Rows[0].Number("fresh_kg"))
	assert.Equal(t, 1250.5, read(t, head+"1250,500\n").Rows[0].Number("fresh_kg"))
	assert.Equal(t, []string{
		`cuts.csv:2: fresh_kg: found "3,5", allowed: one decimal mark in the whole file: line 2 shows ',', line 3 '.'`,
	}, refused(t, head+"3,5\n2026-06-02;1;4.5\n"))
	assert.Equal(t, []string{`cuts.csv:3: fresh_kg: found "1.250", allowed: the decimal mark ',', as line 2 has it, and no mark for thousands`},
		refused(t, head+"3,5\n2026-06-02;1;1.250\n"))
	for _, cell := range []string{"1.250,5", "12 kg", "1e3", "+4", ".5", "5001", "-1", "NaN", "Inf", "0x10", "1_000", "7:30", "4'5"} {
		assert.Equal(t, []string{`cuts.csv:2: fresh_kg: found "` + cell + `", allowed: a number from 0 to 5000, without a unit`}, refused(t, head+cell+"\n"))
	}
	for _, cell := range []string{"1,500", "97.5", "1500 ", "15OO", "1.500"} {
		text := "date;stalks;fresh_kg\n2026-06-01;" + cell + ";\n"
		if cell == "1500 " {
			assert.Equal(t, 1500.0, read(t, text).Rows[0].Number("stalks"))
			continue
		}
		assert.Equal(t, []string{`cuts.csv:2: stalks: found "` + cell + `", allowed: a whole number from 0 to 100000 without any mark in it; stalks are counted; their weight belongs into fresh_kg`}, refused(t, text))
	}
}

// The order of day and month is told by the file or not taken.
func TestDatesInDoubt(t *testing.T) {
	lines := func(dates ...string) string {
		return "date,stalks,fresh_kg\n" + strings.Join(dates, ",1,\n") + ",1,\n"
	}
	assert.Equal(t, []string{`cuts.csv:2: date: found "03/04/2026", allowed: 2026-04-03 or 2026-03-04, whichever is meant: no line of the file tells which number is the day`},
		refused(t, lines("03/04/2026")))
	assert.Equal(t, on(2026, 4, 3), read(t, lines("03/04/2026", "13/04/2026")).Rows[0].Date("date"))
	assert.Equal(t, on(2026, 3, 4), read(t, lines("03/04/2026", "03/14/2026")).Rows[0].Date("date"))
	assert.Equal(t, on(2026, 4, 4), read(t, lines("4/4/2026")).Rows[0].Date("date"), "either way the same day")
	const both = "allowed: one order of day and month in the whole file: line 2 has the day first, line 4 the month; or 2026-06-14"
	assert.Equal(t, []string{
		`cuts.csv:2: date: found "13/06/2026", ` + both,
	}, refused(t, lines("13/06/2026", "14/06/2026", "06/15/2026")))
	assert.Equal(t, []string{`cuts.csv:2: date: found "14/06/26", allowed: a date with its year in four digits, as 2026-06-14`}, refused(t, lines("14/06/26")))
	for _, date := range []string{"31/06/2026", "2026-02-30", "2026-13-01", "1926-06-14"} {
		assert.Equal(t, []string{`cuts.csv:2: date: found "` + date + `", allowed: a day that there is, as 2026-06-14`}, refused(t, lines(date)))
	}
	for _, date := range []string{"06.14.2026", "total", "14 June 2026", "20260614", "14.6."} {
		assert.Equal(t, []string{`cuts.csv:2: date: found "` + date + `", allowed: a date as 2026-06-14`}, refused(t, lines(date)))
	}
	assert.Equal(t, []string{"cuts.csv:3: date: 2026-06-07 stands after 2026-06-13: look whether day and month are as meant"},
		read(t, lines("2026-06-13", "2026-06-07", "2026-06-01")).Warnings)
}

// What is wrong with a line or the file as a whole.
func TestWrongLines(t *testing.T) {
	const head = "date,stalks,fresh_kg,who\n"
	const names = "date, stalks, fresh_kg, [worked_h], [began], [sky], [who]"
	for text, want := range map[string]string{
		"":                                 "cuts.csv: found an empty file, allowed: a tally of cutting, its first line naming the columns: " + names,
		"# nothing":                        "cuts.csv: found an empty file, allowed: a tally of cutting, its first line naming the columns: " + names,
		head:                               "cuts.csv: found a header and no line, allowed: a tally of cutting, a line each",
		head + "2026-06-01,5,3,5,A\n":      "cuts.csv:2: found 5 cells, allowed: 4, as the header has; numbers with a decimal comma need semicolons between the cells",
		head + "2026-06-01,5,3\n":          "cuts.csv:2: found 3 cells, allowed: 4, as the header has",
		head + "2026-06-01,,3,\n":          "cuts.csv:2: stalks: found nothing, allowed: a whole number from 0 to 100000 without any mark in it; stalks are counted; their weight belongs into fresh_kg",
		head + "2026-06-01,5,\"3,A\n":      "cuts.csv:2: found a quotation mark that is not closed, or one within a cell, allowed: cells in quotation marks as a whole, or none",
		"date,stalks\n2026-06-01,5\n":      "cuts.csv:1: fresh_kg: found no such column, allowed: a tally of cutting with the columns " + names,
		"date,stalks,fresh_kg,date\n,,,\n": "cuts.csv:1: date: found the column a second time, allowed: each column once",
		"#\n\ndate,stalk,fresh_kg\n":       "cuts.csv:3: found a column \"stalk\" in the header, allowed: stalks? The columns are " + names + "; remark for anything else",
		"date,stalks,fresh_kg,moon\n":      "cuts.csv:1: found a column \"moon\" in the header, allowed: " + names + "; remark for anything else",
		head + "2026-06-01,5,,A\n2026-06-02,5,,A\n# x\n\n2026-06-01,6,,a\n": "cuts.csv:6: date, who: found the same as in line 2, allowed: each once; where both are real, tell them apart",
		"date,stalks,fresh_kg\n2026-06-01,5,\xe9\n":                         "cuts.csv:2: found letters that are not UTF-8, allowed: CSV text in UTF-8, as spreadsheets save it",
		"\xff\xfed\x00": "cuts.csv: found text in UTF-16, or a file that is no text, allowed: CSV text in UTF-8, as spreadsheets save it",
		"date,stalks,fresh_kg,sky\n2026-06-01,5,,snow\n":    "cuts.csv:2: sky: found \"snow\", allowed: one of sun, rain",
		"date,stalks,fresh_kg,began\n2026-06-01,5,,24:00\n": "cuts.csv:2: began: found \"24:00\", allowed: a time of day by 24 hours, as 06:45 or 18:30",
		"date,stalks,fresh_kg,began\n2026-06-01,5,,6:5\n":   "cuts.csv:2: began: found \"6:5\", allowed: a time of day by 24 hours, as 06:45 or 18:30",
		"date,stalks,fresh_kg,worked_h\n2026-06-01,5,,0\n":  "cuts.csv:2: worked_h: found \"0\", allowed: 0.5 to 200 hours, as 7.5 or 7:30",
	} {
		assert.Equal(t, []string{want}, refused(t, text), "%q", text)
	}
	plain := tally.Form{What: "a table", Columns: []tally.Column{{Name: "a", Kind: tally.Text}}}
	_, err := plain.Read("t.csv", []byte("a\nx\ny\nx\n"))
	require.EqualError(t, err, "t.csv:4: found the same as line 2, allowed: each line once; where both are real, tell them apart")
	_, err = plain.Read("t.csv", []byte("a\n"+strings.Repeat("x\n", 30)))
	require.Len(t, strings.Split(err.Error(), "\n"), 21)
	assert.True(t, strings.HasSuffix(err.Error(), "\nand 9 more"))
}

// What a command finds in a line beyond its columns is told like the rest, by line.
func TestRefuseAndWarn(t *testing.T) {
	table := read(t, "date,stalks,fresh_kg\n2026-06-01,5,4\n2026-06-02,6,4\n")
	table.Refuse(table.Rows[1], "stalks", "6", "less")
	table.Refuse(table.Rows[0], "stalks", "5", "more")
	require.EqualError(t, table.Err(), "cuts.csv:2: stalks: found 5, allowed: more\ncuts.csv:3: stalks: found 6, allowed: less")
	table.Warn(table.Rows[1], "stalks", "few")
	assert.Equal(t, []string{"cuts.csv:3: stalks: few"}, table.Warnings)
}

// Whatever is typed is read or refused in sentences, and what is read lies within its bounds.
func FuzzRead(f *testing.F) {
	f.Add("date;stalks;fresh_kg\n3.6.2026;5;3,5\n")
	f.Add("date,stalks,fresh_kg\n2026-06-01,5,\"3,5\"\n")
	f.Add("date\tstalks\tfresh_kg\n06/14/2026\t5\t1.250\n")
	f.Fuzz(func(t *testing.T, text string) {
		table, err := cuts.Read("cuts.csv", []byte(text))
		if err != nil {
			assert.Nil(t, table)
			assert.Contains(t, err.Error(), "allowed: ")
			return
		}
		require.NotEmpty(t, table.Rows)
		for _, r := range table.Rows {
			assert.False(t, r.Date("date").IsZero())
			assert.True(t, r.Number("stalks") >= 0 && r.Number("stalks") <= 100000)
			assert.False(t, r.Has("fresh_kg") && !(r.Number("fresh_kg") >= 0 && r.Number("fresh_kg") <= 5000))
		}
	})
}
