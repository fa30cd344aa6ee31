package report

import (
	"encoding/csv"
	"os"
	"os/exec"
	"path/filepath"
	"strconv"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"drystalk/sim"
)

// office converts a workbook to CSV, a file for each sheet, with LibreOffice, or skips the test
// where it is not installed.
func office(t *testing.T, workbook []byte) map[string][][]string {
	t.Helper()
	if os.Getenv("DRYSTALK_LONG") == "" {
		t.Skip("DRYSTALK_LONG=1, as in .ci/run, opens LibreOffice")
	}
	path, err := exec.LookPath("soffice")
	if err != nil {
		t.Skip("LibreOffice is not installed here; .ci/run installs it where it may")
	}
	dir := t.TempDir()
	file := filepath.Join(dir, "book.xlsx")
	require.NoError(t, os.WriteFile(file, workbook, 0o644))
	// 44: comma, 34: quotes, 76: UTF-8; the last -1: every sheet into a file of its own.
	cmd := exec.Command(path, "-env:UserInstallation=file://"+dir+"/profile", "--headless", "--convert-to", "csv:Text - txt - csv (StarCalc):44,34,76,1,,0,false,true,false,false,false,-1", "--outdir", dir, file)
	out, err := cmd.CombinedOutput()
	require.NoError(t, err, "%s", out)
	files, err := filepath.Glob(filepath.Join(dir, "book-*.csv"))
	require.NoError(t, err)
	sheets := map[string][][]string{}
	for _, f := range files {
		data, err := os.Open(f)
		require.NoError(t, err)
		r := csv.NewReader(data)
		r.FieldsPerRecord = -1
		rows, err := r.ReadAll()
		require.NoError(t, err)
		require.NoError(t, data.Close())
		name := filepath.Base(f)
		sheets[name[len("book-"):len(name)-len(".csv")]] = rows
	}
	return sheets
}

// The ledger opens in LibreOffice, and the totals that it adds up are those of the ledger.
func TestLedgerInLibreOffice(t *testing.T) {
	l := sim.RegionLedger{
		Season: 4,
		Hub:    []sim.HubMonth{{Month: time.July, Arrived: 900, RefusedAtGate: 90, Asked: 1000, Delivered: 810}, {Month: time.August, Arrived: 1300, Delivered: 1000, Closing: 300}},
		Sites: []sim.SiteLedger{
			{Site: "Stone: Weir/1", Months: []sim.SiteMonth{
				{Cut: 1000, ToHub: 900, WoodKg: 12.25, Shift: sim.DryerHours{Firing: 7.5}, Tasks: sim.TaskHours{Grading: 1.25}},
				{Cut: 1500, ToHub: 1300, WoodKg: 20.5, Shift: sim.DryerHours{Firing: 3}, Tasks: sim.TaskHours{Grading: 2}},
			}},
		},
	}
	book, err := LedgerBook(l)
	require.NoError(t, err)
	sheets := office(t, book)
	require.Len(t, sheets, 2)
	total := func(sheet, column string) float64 {
		rows := sheets[sheet]
		require.NotEmpty(t, rows, "%s of %v", sheet, sheets)
		for c, head := range rows[1] {
			if head == column {
				last := rows[len(rows)-1]
				assert.Equal(t, "total", last[0])
				x, err := strconv.ParseFloat(last[c], 64)
				require.NoError(t, err)
				return x
			}
		}
		t.Fatalf("no column %q in %v", column, rows[1])
		return 0
	}
	assert.Equal(t, 2200.0, total("Hub", "Arrived, stalks"))
	assert.Equal(t, 1810.0, total("Hub", "Delivered, stalks"))
	assert.Equal(t, 2500.0, total("Stone Weir1", "Cut, stalks"))
	assert.Equal(t, 32.75, total("Stone Weir1", "WoodKg, kg"))
	assert.Equal(t, 10.5, total("Stone Weir1", "Shift Firing, h"))
	assert.Equal(t, 3.25, total("Stone Weir1", "Tasks Grading, h"))
}

// The workbook of an answer opens in LibreOffice with its figures.
func TestReportInLibreOffice(t *testing.T) {
	r, err := ForDryers(answer(), "T$")
	require.NoError(t, err)
	book, err := r.Spreadsheet()
	require.NoError(t, err)
	sheets := office(t, book)
	rows := sheets["Odds by number of dryers"]
	require.NotEmpty(t, rows)
	assert.Equal(t, "93", rows[5][2])
	flow := sheets["Where stalks went with 3 dryers"]
	require.NotEmpty(t, flow)
	in, out := 0.0, 0.0
	for _, row := range flow[2:11] {
		x, err := strconv.ParseFloat(row[1], 64)
		require.NoError(t, err, "%v", row)
		switch row[0] {
		case "in stock on the first day", "cut":
			in += x
		default:
			out += x
		}
	}
	assert.Equal(t, in, out, "what was cut or in stock went somewhere")
}
