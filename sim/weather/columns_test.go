package weather

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// A record as spreadsheets save it reads as the plain one does: with a byte-order mark, with
// semicolons or tabulators and decimal commas, with names of columns in capitals, with spaces and
// units in brackets.
func TestRecordsAsSpreadsheetsSaveThem(t *testing.T) {
	want, err := ReadRecord("plain.csv", strings.NewReader("date,rain_mm,tmax_c\n1998-07-01,12.5,30\n1998-07-02,,31.2\n"))
	require.NoError(t, err)
	for name, text := range map[string]string{
		"a byte-order mark":       "\xEF\xBB\xBFdate,rain_mm,tmax_c\n1998-07-01,12.5,30\n1998-07-02,,31.2\n",
		"capitals":                "Date,Rain_mm,TMAX_C\n1998-07-01,12.5,30\n1998-07-02,,31.2\n",
		"spaces and brackets":     "Date , Rain (mm), Tmax (C)\n1998-07-01 , 12.5, 30\n1998-07-02, , 31.2\n",
		"semicolons and commas":   "date;rain_mm;tmax_c\r\n1998-07-01;12,5;30\r\n1998-07-02;;31,2\r\n",
		"tabulators":              "date\train_mm\ttmax_c\n1998-07-01\t12,5\t30\n1998-07-02\t\t31.2\n",
		"quoted decimal commas":   "date,rain_mm,tmax_c\n1998-07-01,\"12,5\",30\n1998-07-02,,\"31,2\"\n",
		"a comment and semicolon": "# saved, by hand\ndate;rain_mm;tmax_c\n1998-07-01;12,5;30\n1998-07-02;;31,2\n",
		"a mark and a comment":    "\xEF\xBB\xBF# saved\nDATE;Rain mm;tmax c\n1998-07-01;12,5;30\n1998-07-02;;31,2\n",
	} {
		got, err := ReadRecord("plain.csv", strings.NewReader(text))
		require.NoError(t, err, name)
		require.Len(t, got.Years, 1, name)
		for _, day := range []int{181, 182} {
			a, b := want.Years[0][day], got.Years[0][day]
			assert.Equal(t, has(a.RainMM), has(b.RainMM), name)
			if has(a.RainMM) {
				assert.Equal(t, a.RainMM, b.RainMM, name)
			}
			assert.Equal(t, a.TmaxC, b.TmaxC, name)
		}
		assert.Equal(t, want.Findings, got.Findings, name)
	}
	assert.Equal(t, 12.5, want.Years[0][181].RainMM, "1 July is the 182nd day")
}

// What cannot be read is refused in words that say where and what to do.
func TestRecordsThatAreRefused(t *testing.T) {
	for text, want := range map[string]string{
		"\xFF\xFEd\x00a\x00":                              "a file in UTF-16",
		"\xFE\xFF\x00d\x00a":                              "a file in UTF-16",
		"d\x00a\x00t\x00e\x00":                            "a file in UTF-16",
		"date,rain_mm\n1998-07-01,12,5\n":                 "line 2: found 3 cells, allowed: 2 as in the first line; decimals",
		"# one\ndate,rain_mm\n1998-07-01,1\n1998-07-02\n": "line 4: found 1 cells",
		"date;rain_mm\n1998-07-01;1,234\n":                `line 2: rain_mm: found "1,234", allowed: a number such as 12.5 or 12,5`,
		"date;rain_mm\n1998-07-01;1.234,5\n":              `found "1.234,5"`,
		"date;rain_mm\n31.07.1998;1\n":                    `line 2: date: found "31.07.1998", allowed: 1998-07-31`,
		"date,rain_mm,Rain (mm)\n1998-07-01,1,1\n":        "names rain_mm twice",
		"day;rain\n1998-07-01;1\n":                        `the first line is "day;rain"; it must name the columns date and rain_mm`,
		"date,rain_mm\n1998-07-01,\"1\n":                  "no CSV",
		"date,rain_mm\n1998-07-01,1\n1998-07-02,NaN\n":    `line 3: rain_mm: found "NaN"`,
		"date,rain_mm\n1998-07-01,trace\n":                `found "trace"`,
		"date,rain_mm\n1998-07-01,12,\n":                  "found 3 cells",
		"date;rain_mm\n1998-07-01;12,\n":                  `found "12,"`,
		"\xEF\xBB\xBF":                                    "the file is empty",
	} {
		_, err := ReadRecord("r.csv", strings.NewReader(text))
		require.Error(t, err, "%q", text)
		assert.Contains(t, err.Error(), want, "%q", text)
		assert.True(t, strings.HasPrefix(err.Error(), "r.csv: "), "%q", err)
		assert.NotContains(t, err.Error(), "\n")
	}
}
