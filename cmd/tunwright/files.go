package main

import (
	"errors"
	"fmt"
	"io"
	"os"
	"path/filepath"

	"tunwright/catalog/strict"
)

// readText reads a file that a person wrote. A larger one is refused before it is
// read, so that a wrong drag and drop does not fill the memory.
func readText(path string) ([]byte, error) {
	f, err := os.Open(path)
	if err != nil {
		if errors.Is(err, os.ErrNotExist) {
			return nil, fmt.Errorf("there is no file %s: check the name, or start from tunwright sample", path)
		}
		return nil, fmt.Errorf("open %s: %w", path, err)
	}
	defer f.Close()
	info, err := f.Stat()
	if err != nil {
		return nil, fmt.Errorf("look at %s: %w", path, err)
	}
	if info.IsDir() {
		return nil, fmt.Errorf("%s is a folder: name the enquiry file in it", path)
	}
	if info.Size() > strict.MaxBytes {
		return nil, fmt.Errorf("%s has %d bytes, at most %d are read: is this the right file?", path, info.Size(), strict.MaxBytes)
	}
	text, err := io.ReadAll(io.LimitReader(f, strict.MaxBytes+1))
	if err != nil {
		return nil, fmt.Errorf("read %s: %w", path, err)
	}
	return text, nil
}

// folder writes files so that either all of them stand at the end or none: each
// goes to a temporary name first and is renamed when all are complete.
type folder struct {
	dir   string
	temps []string
	names []string
}

func newFolder(dir string) (*folder, error) {
	if err := os.MkdirAll(dir, 0o755); err != nil {
		return nil, fmt.Errorf("make the folder %s: %w", dir, err)
	}
	return &folder{dir: dir}, nil
}

// write puts one file down under a temporary name.
func (f *folder) write(name string, text []byte) error {
	tmp, err := os.CreateTemp(f.dir, ".part-*")
	if err != nil {
		return fmt.Errorf("write to %s: %w", f.dir, err)
	}
	f.temps = append(f.temps, tmp.Name())
	f.names = append(f.names, name)
	if _, err := tmp.Write(text); err != nil {
		return errors.Join(fmt.Errorf("write %s: %w", name, err), tmp.Close())
	}
	if err := tmp.Close(); err != nil {
		return fmt.Errorf("write %s: %w", name, err)
	}
	return os.Chmod(tmp.Name(), 0o644)
}

// finish gives every file its name.
func (f *folder) finish() error {
	for i, tmp := range f.temps {
		if err := os.Rename(tmp, filepath.Join(f.dir, f.names[i])); err != nil {
			return fmt.Errorf("name %s: %w", f.names[i], err)
		}
	}
	f.temps = nil
	return nil
}

// drop removes what was not finished.
func (f *folder) drop() {
	for _, tmp := range f.temps {
		// A leftover is hidden and harmless; the error that led here is what counts.
		_ = os.Remove(tmp)
	}
}
