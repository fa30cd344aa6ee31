package report

import (
	"errors"
	"io/fs"
	"os"
	"path/filepath"

	"drystalk/tongue"
)

// File is a file to be written.
type File struct {
	Name string
	Data []byte
}

// mostWritten is more than the files of any answer take, bytes.
const mostWritten = 8 << 20

// Ready tells, before a long run, whether its files can be written into a folder: it makes the
// folder if missing, writes as much as an answer takes, and takes all of that away again.
func Ready(dir string) error {
	undo, err := makeFolder(dir)
	if err != nil {
		return folderError(dir, err)
	}
	defer undo()
	fresh, err := os.MkdirTemp(dir, freshFolder)
	if err != nil {
		return folderError(dir, err)
	}
	defer func() { _ = os.RemoveAll(fresh) }()
	if err := os.WriteFile(filepath.Join(fresh, "room"), make([]byte, mostWritten), 0o600); err != nil {
		return folderError(dir, err)
	}
	return nil
}

// freshFolder is the pattern of the folder that files are first written to.
const freshFolder = ".drystalk-*"

// makeFolder makes a folder and those above it, and returns what takes away those that it made,
// as far as nothing lies in them.
func makeFolder(dir string) (undo func(), err error) {
	var made []string
	for at := filepath.Clean(dir); ; at = filepath.Dir(at) {
		if _, err := os.Stat(at); !errors.Is(err, fs.ErrNotExist) || at == filepath.Dir(at) {
			break
		}
		made = append(made, at)
	}
	undo = func() {
		for _, at := range made {
			_ = os.Remove(at) // fails where something lies in it
		}
	}
	if err := os.MkdirAll(dir, 0o755); err != nil {
		undo()
		return nil, err
	}
	return undo, nil
}

// folderError says that a folder cannot be written, and why, without the names of system calls.
func folderError(dir string, err error) error {
	var path *fs.PathError
	if errors.As(err, &path) {
		err = path.Err
	}
	return tongue.Errorf("the folder %s cannot be written: %w", dir, err)
}

// WriteFiles writes files into a folder, which is made if missing, and returns their paths. All
// are written into a fresh folder first and then moved together, so that a full disk leaves
// neither half a file nor a part of this answer beside a part of an older one.
func WriteFiles(dir string, files []File) ([]string, error) {
	undo, err := makeFolder(dir)
	if err != nil {
		return nil, folderError(dir, err)
	}
	paths, err := writeTogether(dir, files)
	if err != nil {
		undo()
		return nil, folderError(dir, err)
	}
	return paths, nil
}

// writeTogether writes files into a fresh folder and moves them from there.
func writeTogether(dir string, files []File) ([]string, error) {
	fresh, err := os.MkdirTemp(dir, freshFolder)
	if err != nil {
		return nil, err
	}
	defer func() { _ = os.RemoveAll(fresh) }()
	var paths []string
	for _, f := range files {
		if err := os.WriteFile(filepath.Join(fresh, f.Name), f.Data, 0o644); err != nil {
			return nil, err
		}
		path := filepath.Join(dir, f.Name)
		if info, err := os.Lstat(path); err == nil && info.IsDir() {
			return nil, tongue.Errorf("%s is a folder", path)
		}
		paths = append(paths, path)
	}
	for i, f := range files {
		if err := os.Rename(filepath.Join(fresh, f.Name), paths[i]); err != nil {
			return nil, err
		}
	}
	return paths, nil
}

// Files returns the report and its charts as files, the charts in the formats asked for.
func (r Report) Files(formats ...string) ([]File, error) {
	html, err := r.HTML()
	if err != nil {
		return nil, err
	}
	files := []File{{"report.html", html}}
	for _, s := range r.Sections {
		for _, c := range s.Charts {
			for _, format := range formats {
				data, err := c.Encode(format)
				if err != nil {
					return nil, err
				}
				files = append(files, File{c.Name + "." + format, data})
			}
		}
	}
	return files, nil
}
