// Package office lets a spreadsheet program read the workbooks that tests look at.
package office

import (
	"encoding/csv"
	"os"
	"os/exec"
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/require"
)

// Sheets converts a workbook to CSV, a file for each sheet, with LibreOffice, or skips the test
// where it is not installed.
func Sheets(t *testing.T, workbook []byte) map[string][][]string {
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
	// 44: comma, 34: quotes, 76: UTF-8; the second false: numbers as they are, not as shown; the last -1: every sheet into a file of its own.
	cmd := exec.Command(path, "-env:UserInstallation=file://"+dir+"/profile", "--headless", "--convert-to", "csv:Text - txt - csv (StarCalc):44,34,76,1,,0,false,false,false,false,false,-1", "--outdir", dir, file)
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
