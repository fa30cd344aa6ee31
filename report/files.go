package report

import (
	"fmt"
	"os"
	"path/filepath"
)

// File is a file to be written.
type File struct {
	Name string
	Data []byte
}

// WriteFiles writes files into a folder, which is made if missing. Each is written
// under a temporary name first and then renamed, so that none is ever half there.
// It returns their paths.
func WriteFiles(dir string, files []File) ([]string, error) {
	if err := os.MkdirAll(dir, 0o755); err != nil {
		return nil, err
	}
	var paths []string
	for _, f := range files {
		path := filepath.Join(dir, f.Name)
		if err := writeFile(path, f.Data); err != nil {
			return paths, err
		}
		paths = append(paths, path)
	}
	return paths, nil
}

func writeFile(path string, data []byte) error {
	tmp, err := os.CreateTemp(filepath.Dir(path), ".drystalk-*")
	if err != nil {
		return err
	}
	defer func() { _ = os.Remove(tmp.Name()) }() // gone already when renamed
	_, err = tmp.Write(data)
	if cerr := tmp.Close(); err == nil {
		err = cerr
	}
	if err == nil {
		err = os.Chmod(tmp.Name(), 0o644)
	}
	if err == nil {
		err = os.Rename(tmp.Name(), path)
	}
	if err != nil {
		return fmt.Errorf("writing %s: %w", path, err)
	}
	return nil
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
