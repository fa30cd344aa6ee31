package columns

import (
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"strings"

	"drystalk/sim/tidy"
	"drystalk/tongue"
)

// Formats are the endings of files of tables.
func Formats() []string { return []string{".parquet", ".csv"} }

// CheckName tells what is wrong with the name of a file for a table.
func CheckName(name string) error {
	for _, ending := range Formats() {
		if strings.HasSuffix(name, ending) && filepath.Base(name) != ending {
			return nil
		}
	}
	return tongue.Errorf("found %q, allowed: a file that ends in %s", name, strings.Join(Formats(), tongue.Say(" or ")))
}

// freshFile is the pattern of a file that is being written.
const freshFile = ".fresh-*"

// File is a table being written to a file, which is there whole or not at all: what was written
// stands beside it until Close.
type File struct {
	Writer
	name string
	at   *os.File
}

// Create begins a table in a file whose ending says its format. about is what is said of it in the
// metadata of Parquet. The folder is made if missing.
func Create(name string, columns []tidy.Column, about map[string]string) (*File, error) {
	if err := CheckName(name); err != nil {
		return nil, err
	}
	if err := os.MkdirAll(filepath.Dir(name), 0o755); err != nil {
		return nil, fileError(name, err)
	}
	at, err := os.CreateTemp(filepath.Dir(name), freshFile)
	if err != nil {
		return nil, fileError(name, err)
	}
	f := &File{name: name, at: at}
	if strings.HasSuffix(name, ".csv") {
		f.Writer, err = NewCSV(at, columns)
	} else {
		f.Writer, err = NewParquet(at, columns, about)
	}
	if err != nil {
		f.Drop()
		return nil, fileError(name, err)
	}
	return f, nil
}

// Write writes a row.
func (f *File) Write(row []tidy.Cell) error {
	if err := f.Writer.Write(row); err != nil {
		return fileError(f.name, err)
	}
	return nil
}

// Close writes what is left, waits until it is on the disk and gives the file its name.
func (f *File) Close() error {
	err := errors.Join(f.Writer.Close(), f.at.Chmod(0o644), f.at.Sync(), f.at.Close())
	if err == nil {
		err = os.Rename(f.at.Name(), f.name)
	}
	if err != nil {
		f.Drop()
		return fileError(f.name, err)
	}
	return syncFolder(filepath.Dir(f.name))
}

// syncFolder has the names in a folder written to the disk, where the system can.
func syncFolder(dir string) error {
	at, err := os.Open(dir)
	if err != nil {
		return fileError(dir, err)
	}
	_ = at.Sync() // not on every system
	return at.Close()
}

// Drop takes what was written away.
func (f *File) Drop() {
	_ = f.at.Close()
	_ = os.Remove(f.at.Name())
}

// WriteFile writes a whole table to a file.
func WriteFile(name string, table *tidy.Table, about map[string]string) error {
	f, err := Create(name, table.Columns, about)
	if err != nil {
		return err
	}
	for _, row := range table.Rows {
		if err := f.Write(row); err != nil {
			f.Drop()
			return err
		}
	}
	return f.Close()
}

// ReadFile reads a table from a Parquet file.
func ReadFile(name string) (*tidy.Table, error) {
	at, err := os.Open(name)
	if err != nil {
		return nil, fileError(name, err)
	}
	defer func() { _ = at.Close() }()
	info, err := at.Stat()
	if err != nil {
		return nil, fileError(name, err)
	}
	t, err := ReadParquet(at, info.Size())
	if err != nil {
		return nil, fmt.Errorf("%s: %w", name, err)
	}
	return t, nil
}

// fileError says that a file cannot be read or written, and why.
func fileError(name string, err error) error { return fmt.Errorf("%s: %w", name, Cause(err)) }

// Cause returns why something could not be done with a file or folder, without the names of system
// calls; another error as it is.
func Cause(err error) error {
	var path *fs.PathError
	var link *os.LinkError
	switch {
	case errors.As(err, &path):
		return path.Err
	case errors.As(err, &link):
		return link.Err
	}
	return err
}
