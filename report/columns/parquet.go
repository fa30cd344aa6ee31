package columns

import (
	"encoding/json"
	"errors"
	"io"
	"slices"

	"drystalk/sim/tidy"
	"drystalk/tongue"

	"github.com/parquet-go/parquet-go"
	"github.com/parquet-go/parquet-go/compress/zstd"
)

// The keys of the metadata of a Parquet file.
const (
	metaColumns = "columns" // JSON: name, unit, kind and meaning of each
	metaDigest  = "digest"  // of the rows, where they are written at once
)

// ordered is a group of columns in an order of their own; the library's are sorted by name.
type ordered struct {
	parquet.Group
	names []string
}

// Fields returns the columns in their order.
func (o ordered) Fields() []parquet.Field {
	fields := o.Group.Fields()
	slices.SortFunc(fields, func(a, b parquet.Field) int {
		return slices.Index(o.names, a.Name()) - slices.Index(o.names, b.Name())
	})
	return fields
}

// nodeOf returns the type of a column. Nothing may stand in any of them.
func nodeOf(kind tidy.Kind) parquet.Node {
	switch kind {
	case tidy.Word:
		return parquet.Optional(parquet.Encoded(parquet.String(), &parquet.RLEDictionary))
	case tidy.Whole:
		return parquet.Optional(parquet.Int(64))
	case tidy.Yes:
		return parquet.Optional(parquet.Leaf(parquet.BooleanType))
	}
	return parquet.Optional(parquet.Leaf(parquet.DoubleType))
}

// schemaOf returns the schema of columns.
func schemaOf(columns []tidy.Column) *parquet.Schema {
	group := ordered{Group: parquet.Group{}}
	for _, c := range columns {
		group.Group[c.Name] = nodeOf(c.Kind)
		group.names = append(group.names, c.Name)
	}
	return parquet.NewSchema("seasons", group)
}

// parquetWriter writes Parquet.
type parquetWriter struct {
	to      *parquet.GenericWriter[any]
	columns []tidy.Column
	rows    []parquet.Row
}

// rowsAtOnce is how many rows are handed to the library together, and rowsOfGroup how many of them
// stand in one group of the file, which are in memory until it is full.
const (
	rowsAtOnce  = 64
	rowsOfGroup = 10_000
)

// NewParquet returns a writer of Parquet, compressed by zstd, with what is said about the table in
// the metadata of the file besides units and meanings of its columns.
func NewParquet(w io.Writer, columns []tidy.Column, about map[string]string) (Writer, error) {
	text, err := json.Marshal(columns)
	if err != nil {
		return nil, err
	}
	options := []parquet.WriterOption{
		schemaOf(columns), parquet.Compression(&zstd.Codec{}), parquet.MaxRowsPerRowGroup(rowsOfGroup), parquet.CreatedBy("drystalk", "", ""),
		parquet.KeyValueMetadata(metaColumns, string(text)), parquet.PageBufferSize(64 << 10),
	}
	for key, value := range about {
		options = append(options, parquet.KeyValueMetadata(key, value))
	}
	return &parquetWriter{to: parquet.NewGenericWriter[any](w, options...), columns: columns}, nil
}

func (p *parquetWriter) Write(row []tidy.Cell) error {
	if len(row) != len(p.columns) {
		return tongue.Errorf("a row of %d cells under %d columns", len(row), len(p.columns))
	}
	out := make(parquet.Row, len(row))
	for i, cell := range row {
		out[i] = valueOf(cell, p.columns[i].Kind).Level(0, 1, i)
		if cell.IsNone(p.columns[i].Kind) {
			out[i] = parquet.NullValue().Level(0, 0, i)
		}
	}
	p.rows = append(p.rows, out)
	if len(p.rows) < rowsAtOnce {
		return nil
	}
	return p.flush()
}

// valueOf returns a cell in which something stands.
func valueOf(cell tidy.Cell, kind tidy.Kind) parquet.Value {
	switch kind {
	case tidy.Word:
		return parquet.ByteArrayValue([]byte(cell.Text))
	case tidy.Whole:
		return parquet.Int64Value(int64(cell.Number))
	case tidy.Yes:
		return parquet.BooleanValue(cell.Number == 1)
	}
	return parquet.DoubleValue(cell.Number)
}

func (p *parquetWriter) flush() error {
	_, err := p.to.WriteRows(p.rows)
	p.rows = p.rows[:0]
	return err
}

func (p *parquetWriter) Close() error {
	if err := p.flush(); err != nil {
		return err
	}
	return p.to.Close()
}

// ReadParquet reads a table that NewParquet wrote. A file that is damaged, or not one of drystalk's,
// is an error.
func ReadParquet(r io.ReaderAt, size int64) (*tidy.Table, error) {
	f, err := parquet.OpenFile(r, size)
	if err != nil {
		return nil, tongue.Errorf("no Parquet file: %w", err)
	}
	text, ok := f.Lookup(metaColumns)
	if !ok {
		return nil, tongue.Errorf("a Parquet file of another program")
	}
	t := &tidy.Table{}
	if err := json.Unmarshal([]byte(text), &t.Columns); err != nil {
		return nil, tongue.Errorf("the columns in its metadata are broken: %w", err)
	}
	if len(t.Columns) != len(f.Schema().Fields()) {
		return nil, tongue.Errorf("%d columns, its metadata names %d", len(f.Schema().Fields()), len(t.Columns))
	}
	for _, group := range f.RowGroups() {
		if err := readGroup(t, group); err != nil {
			return nil, err
		}
	}
	if digest, ok := f.Lookup(metaDigest); ok && digest != t.Digest() {
		return nil, tongue.Errorf("its rows are not those that were written: their digest is another")
	}
	return t, nil
}

// readGroup reads the rows of a group.
func readGroup(t *tidy.Table, group parquet.RowGroup) error {
	rows := group.Rows()
	defer func() { _ = rows.Close() }()
	batch := make([]parquet.Row, rowsAtOnce)
	for {
		n, err := rows.ReadRows(batch)
		for _, row := range batch[:n] {
			cells := make([]tidy.Cell, len(t.Columns))
			for _, v := range row {
				cells[v.Column()] = cellOf(v, t.Columns[v.Column()].Kind)
			}
			t.Rows = append(t.Rows, cells)
		}
		if errors.Is(err, io.EOF) {
			return nil
		}
		if err != nil {
			return tongue.Errorf("its rows cannot be read: %w", err)
		}
	}
}

// cellOf returns what a value stands for.
func cellOf(v parquet.Value, kind tidy.Kind) tidy.Cell {
	switch {
	case kind == tidy.Word && v.IsNull():
		return tidy.Cell{}
	case v.IsNull():
		return tidy.None
	case kind == tidy.Word:
		return tidy.Text(string(v.ByteArray()))
	case kind == tidy.Whole:
		return tidy.Number(float64(v.Int64()))
	case kind == tidy.Yes:
		return tidy.Truth(v.Boolean())
	}
	return tidy.Number(v.Double())
}
