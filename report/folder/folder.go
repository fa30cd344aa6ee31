// Package folder keeps a study in a folder: what it was read from, a manifest that reproduces it,
// a Parquet file for each shard that is done, and at the end a summary. What is done is what lies
// there: a run that was stopped goes on from there, and several may work in one folder at once.
package folder

import (
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"strings"

	"drystalk/report/columns"
	"drystalk/sim/plans"
	"drystalk/sim/study"
	"drystalk/sim/tidy"
	"drystalk/tongue"
)

// The names in the folder.
const (
	manifestName   = "manifest.json"
	inputsFolder   = "inputs"
	partsFolder    = "parts"
	summaryName    = "summary.csv"
	dictionaryName = "columns.csv"
	ending         = ".parquet"
)

// Input is a file that a study was read from; the file of the study is the first.
type Input struct {
	Name string // "/" between folders
	Data []byte
}

// Folder is the folder of a study; a study.Store.
type Folder struct {
	dir      string
	manifest Manifest
}

// Open makes a folder ready for a study, or finds that it holds what is done of the same study by
// the same build of the program. The folder of another study, or of another build, is an error that
// says so.
func Open(dir string, about Manifest, inputs []Input) (*Folder, error) {
	f := &Folder{dir, about}
	there, err := Read(dir)
	if errors.Is(err, fs.ErrNotExist) {
		if err := f.begin(inputs); err != nil {
			return nil, err
		}
		there, err = Read(dir)
	}
	if err != nil {
		return nil, err
	}
	if err := about.goesOn(dir, there); err != nil {
		return nil, err
	}
	f.manifest = *there
	return f, f.ready()
}

// At returns the folder of a manifest, to be read.
func At(dir string, m Manifest) *Folder { return &Folder{dir, m} }

// begin writes inputs, dictionary and manifest of a study of which nothing is done; the manifest
// comes last, so that a folder with one has all of them.
func (f *Folder) begin(inputs []Input) error {
	if err := f.empty(); err != nil {
		return err
	}
	for _, in := range inputs {
		name := filepath.Join(f.dir, inputsFolder, filepath.FromSlash(in.Name))
		if err := os.MkdirAll(filepath.Dir(name), 0o755); err != nil {
			return plain(f.dir, err)
		}
		if err := f.write(name, in.Data); err != nil {
			return err
		}
	}
	if err := columns.WriteFile(filepath.Join(f.dir, dictionaryName), columns.Dictionary(f.manifest.Columns), nil); err != nil {
		return err
	}
	return f.writeManifest()
}

// empty makes the folder, and refuses one in which parts of something lie without a manifest.
func (f *Folder) empty() error {
	if err := os.MkdirAll(filepath.Join(f.dir, partsFolder), 0o755); err != nil {
		return plain(f.dir, err)
	}
	parts, err := os.ReadDir(filepath.Join(f.dir, partsFolder))
	if err != nil {
		return plain(f.dir, err)
	}
	_, err = Read(f.dir) // another run may have begun in the meantime
	if len(parts) > 0 && err != nil {
		return tongue.Errorf("%s: found parts of a study and no %s, allowed: the folder of this study, or one without parts", f.dir, manifestName)
	}
	return nil
}

// ready tells whether parts can be written.
func (f *Folder) ready() error {
	if err := os.MkdirAll(filepath.Join(f.dir, partsFolder), 0o755); err != nil {
		return plain(f.dir, err)
	}
	at, err := os.CreateTemp(filepath.Join(f.dir, partsFolder), freshPart)
	if err != nil {
		return plain(f.dir, err)
	}
	return errors.Join(at.Close(), os.Remove(at.Name()))
}

// freshPart is the pattern of a file that is being written.
const freshPart = ".fresh-*"

// write writes a file that is there whole or not at all.
func (f *Folder) write(name string, data []byte) error {
	at, err := os.CreateTemp(filepath.Dir(name), freshPart)
	if err != nil {
		return plain(f.dir, err)
	}
	_, err = at.Write(data)
	err = errors.Join(err, at.Chmod(0o644), at.Sync(), at.Close())
	if err == nil {
		err = os.Rename(at.Name(), name)
	}
	if err != nil {
		_ = os.Remove(at.Name())
		return plain(f.dir, err)
	}
	return nil
}

func (f *Folder) part(key string) string {
	return filepath.Join(f.dir, partsFolder, key+ending)
}

// Keys returns the keys of the shards that are done.
func (f *Folder) Keys(context.Context) (keys []string, err error) {
	entries, err := os.ReadDir(filepath.Join(f.dir, partsFolder))
	if err != nil {
		return nil, plain(f.dir, err)
	}
	for _, e := range entries {
		if key, ok := strings.CutSuffix(e.Name(), ending); ok && !strings.HasPrefix(key, ".") {
			keys = append(keys, key)
		}
	}
	return keys, nil
}

// Put writes the rows of a shard. Where they lie there already they are compared.
func (f *Folder) Put(_ context.Context, key string, rows *tidy.Table) error {
	digest := rows.Digest()
	if _, err := os.Stat(f.part(key)); err == nil {
		there, err := columns.ReadFile(f.part(key))
		if err != nil {
			return damaged(err)
		}
		if there.Digest() != digest {
			return fmt.Errorf("%s: %w", f.part(key), study.ErrDiffers)
		}
		return nil
	}
	return columns.WriteFile(f.part(key), rows, map[string]string{
		"digest": digest, "shard": key, "study": f.manifest.Study, "study_hash": f.manifest.Hash, "build": f.manifest.Build,
	})
}

// Get reads the rows of a shard.
func (f *Folder) Get(_ context.Context, key string) (*tidy.Table, error) {
	t, err := columns.ReadFile(f.part(key))
	if err != nil {
		return nil, damaged(err)
	}
	return t, nil
}

// damaged says what to do about a part that cannot be read.
func damaged(err error) error {
	return tongue.Errorf("%w; take this file away and run the study again, it works out nothing else", err)
}

// Finish writes what the whole study comes to: the summary, and the manifest with its digest.
func (f *Folder) Finish(s *study.Study, result *study.Result, finished string) error {
	if err := columns.WriteFile(filepath.Join(f.dir, summaryName), Summary(s, result), nil); err != nil {
		return err
	}
	f.manifest.Result = &Outcome{Digest: result.Digest, Trials: result.Trials, Finished: finished}
	if err := f.writeManifest(); err != nil {
		return err
	}
	left, err := filepath.Glob(filepath.Join(f.dir, partsFolder, freshPart))
	if err != nil {
		return plain(f.dir, err)
	}
	for _, name := range left { // of runs that were killed: all shards are there
		_ = os.Remove(name)
	}
	return nil
}

func (f *Folder) writeManifest() error {
	text, err := json.MarshalIndent(f.manifest, "", "  ")
	if err != nil {
		return fmt.Errorf("%s: %w", manifestName, err)
	}
	return f.write(filepath.Join(f.dir, manifestName), append(text, '\n'))
}

// Files returns the paths of what a user looks at.
func (f *Folder) Files() []string {
	return []string{
		filepath.Join(f.dir, summaryName), filepath.Join(f.dir, dictionaryName), filepath.Join(f.dir, manifestName),
		filepath.Join(f.dir, partsFolder) + string(filepath.Separator),
	}
}

// plain says that a folder cannot be used, and why.
func plain(dir string, err error) error {
	return tongue.Errorf("the folder %s cannot be used: %w", dir, columns.Cause(err))
}

// Inputs returns a reader of what the study of a folder was read from, and the name of the file of
// the study.
func Inputs(dir string, m *Manifest) (open func(name string) ([]byte, error), first string, err error) {
	if len(m.Inputs) == 0 {
		return nil, "", tongue.Errorf("%s: the manifest names no file of a study: it was written by another program", dir)
	}
	for _, in := range m.Inputs {
		data, err := os.ReadFile(filepath.Join(dir, inputsFolder, filepath.FromSlash(in.Name)))
		if err != nil {
			return nil, "", plain(dir, err)
		}
		if contentOf(data) != in.Content {
			return nil, "", tongue.Errorf("%s: found a file %s that was changed since the study began, allowed: what it was read from", dir, in.Name)
		}
	}
	return func(name string) ([]byte, error) {
		for _, in := range m.Inputs {
			if in.Name == name {
				return os.ReadFile(filepath.Join(dir, inputsFolder, filepath.FromSlash(name)))
			}
		}
		return nil, tongue.Errorf("the study was read without it")
	}, m.Inputs[0].Name, nil
}

// inputsOf lists inputs for the manifest.
func inputsOf(inputs []Input) (out []plans.File) {
	for _, in := range inputs {
		out = append(out, plans.File{Name: in.Name, Content: contentOf(in.Data)})
	}
	return out
}
