package main

import (
	"errors"
	"fmt"
	"os"
	"path/filepath"
)

// output writes what a verb made: to standard output, or into the file name if
// that is not "". The file is written whole or not at all.
func output(std streams, name string, data []byte) error {
	if name == "" {
		_, err := std.out.Write(data)
		return err
	}
	if err := writeWhole(name, data); err != nil {
		return fmt.Errorf("write %s: %w", name, err)
	}
	return nil
}

// writeWhole puts data into a new file beside name, then gives it that name.
func writeWhole(name string, data []byte) (err error) {
	f, err := os.CreateTemp(filepath.Dir(name), "."+filepath.Base(name)+"-*")
	if err != nil {
		return err
	}
	defer func() {
		if err != nil {
			os.Remove(f.Name())
		}
	}()
	_, err = f.Write(data)
	if err := errors.Join(err, f.Chmod(0o644), f.Close()); err != nil {
		return err
	}
	return os.Rename(f.Name(), name)
}
