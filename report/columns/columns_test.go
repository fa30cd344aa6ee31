package columns_test

import (
	"bytes"
	"encoding/binary"
	"encoding/csv"
	"math"
	"strconv"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"drystalk/report/columns"
	"drystalk/sim/tidy"
)

// sample is a table with every kind of column, numbers that are hard to write down, and nothing in
// each kind.
func sample() *tidy.Table {
	t := &tidy.Table{Columns: []tidy.Column{
		{Name: "site", Kind: tidy.Word, Meaning: "name"},
		{Name: "season", Kind: tidy.Whole},
		{Name: "wood_kg", Unit: "kg", Kind: tidy.Real},
		{Name: "met_aug", Kind: tidy.Yes},
	}}
	for i, x := range []float64{0.1, 1.0 / 3, 1e-300, math.MaxFloat64, math.SmallestNonzeroFloat64, -2.5e-7, 123456789.123456789, 0} {
		t.Rows = append(t.Rows, []tidy.Cell{tidy.Text("Heron, \"Point\"\nä"), tidy.Count(i * 100_000_000), tidy.Number(x), tidy.Truth(i%2 == 0)})
	}
	t.Rows = append(t.Rows, []tidy.Cell{{}, tidy.None, tidy.None, tidy.None})
	return t
}

// write writes a table.
func write(t *testing.T, w columns.Writer, table *tidy.Table) {
	for _, row := range table.Rows {
		require.NoError(t, w.Write(row))
	}
	require.Error(t, w.Write(nil), "a row that does not fit")
	require.NoError(t, w.Close())
}

// Numbers of the CSV come back to the last bit, texts as they are, nothing as nothing.
func TestCSVComesBack(t *testing.T) {
	table, out := sample(), &bytes.Buffer{}
	w, err := columns.NewCSV(out, table.Columns)
	require.NoError(t, err)
	write(t, w, table)
	rows, err := csv.NewReader(out).ReadAll()
	require.NoError(t, err)
	require.Len(t, rows, 1+len(table.Rows))
	assert.Equal(t, []string{"site", "season", "wood_kg", "met_aug"}, rows[0])
	for i, row := range table.Rows[:len(table.Rows)-1] {
		x, err := strconv.ParseFloat(rows[i+1][2], 64)
		require.NoError(t, err)
		assert.Equal(t, math.Float64bits(row[2].Number), math.Float64bits(x))
		assert.Equal(t, row[0].Text, rows[i+1][0])
		assert.Equal(t, strconv.Itoa(i*100_000_000), rows[i+1][1])
		assert.Equal(t, strconv.FormatBool(i%2 == 0), rows[i+1][3])
	}
	assert.Equal(t, []string{"", "", "", ""}, rows[len(rows)-1])
}

// A Parquet file comes back as the table that was written, and is laid out as the format says:
// PAR1 at both ends, and before the last the length of the footer, 4 bytes little endian (Apache
// Parquet format, "File format").
func TestParquetComesBack(t *testing.T) {
	table, out := sample(), &bytes.Buffer{}
	w, err := columns.NewParquet(out, table.Columns, map[string]string{"digest": table.Digest()})
	require.NoError(t, err)
	write(t, w, table)
	data := out.Bytes()
	assert.Equal(t, "PAR1", string(data[:4]))
	assert.Equal(t, "PAR1", string(data[len(data)-4:]))
	footer := int(binary.LittleEndian.Uint32(data[len(data)-8:]))
	assert.Greater(t, footer, 100)
	assert.Less(t, footer, len(data)-12)
	back, err := columns.ReadParquet(bytes.NewReader(data), int64(len(data)))
	require.NoError(t, err)
	assert.Equal(t, table.Columns, back.Columns)
	assert.Equal(t, table.Digest(), back.Digest())
	require.NoError(t, back.Check())
}

// What is cut off, changed or of somebody else is refused.
func TestBrokenParquetIsRefused(t *testing.T) {
	table, out := sample(), &bytes.Buffer{}
	w, err := columns.NewParquet(out, table.Columns, map[string]string{"digest": "0123"})
	require.NoError(t, err)
	write(t, w, table)
	data := out.Bytes()
	_, err = columns.ReadParquet(bytes.NewReader(data), int64(len(data)))
	assert.ErrorContains(t, err, "digest is another")
	for _, n := range []int{0, 3, 4, 11, len(data) / 2, len(data) - 1} {
		_, err := columns.ReadParquet(bytes.NewReader(data[:n]), int64(n))
		assert.Error(t, err, "%d bytes", n)
	}
}

// More rows than one group holds come back too.
func TestManyRows(t *testing.T) {
	table, out := sample(), &bytes.Buffer{}
	for len(table.Rows) < 25_001 {
		table.Rows = append(table.Rows, table.Rows[len(table.Rows)%9])
	}
	w, err := columns.NewParquet(out, table.Columns, nil)
	require.NoError(t, err)
	write(t, w, table)
	back, err := columns.ReadParquet(bytes.NewReader(out.Bytes()), int64(out.Len()))
	require.NoError(t, err)
	assert.Equal(t, table.Digest(), back.Digest())
}

// The dictionary has a line for each column.
func TestDictionary(t *testing.T) {
	d := columns.Dictionary(sample().Columns)
	require.Len(t, d.Rows, 4)
	require.NoError(t, d.Check())
	assert.Equal(t, []tidy.Cell{tidy.Text("wood_kg"), tidy.Text("kg"), tidy.Text("number"), tidy.Text("")}, d.Rows[2])
}
