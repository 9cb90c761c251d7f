package main

import (
	"bytes"
	"embed"
	"errors"
	"flag"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"strings"
	"time"
)

// newBook is the book that a maker begins with.
//
//go:embed newbook
var newBook embed.FS

var begin = &command{
	name:  "begin",
	usage: "DIR",
	short: "a new book with one small sound pattern",
	long: `Writes a new book into the folder DIR: a book.toml, and the folder of one small
pattern to change or to copy. DIR must be new or empty; nothing is overwritten.`,
	setup: func(*flag.FlagSet) func(streams, []string) error {
		return func(std streams, names []string) error {
			dir, err := one(names, "folder for the new book")
			if err != nil {
				return err
			}
			if err := beginBook(dir); err != nil {
				return err
			}
			fmt.Fprintf(std.out, "The book is in %s. Build it with: roundelay build %[1]s\n", filepath.Clean(dir))
			return nil
		}
	},
}

// beginBook writes the new book into dir, which must be new or empty.
func beginBook(dir string) error {
	entries, err := os.ReadDir(dir)
	switch {
	case err == nil && len(entries) > 0:
		return fmt.Errorf("%s is not empty (it holds %s); name a new folder", dir, entries[0].Name())
	case err != nil && !errors.Is(err, fs.ErrNotExist):
		return fmt.Errorf("begin a book in %s: %w", dir, err)
	}
	today := []byte(time.Now().Format(time.DateOnly))
	return fs.WalkDir(newBook, "newbook", func(name string, d fs.DirEntry, err error) error {
		if err != nil {
			return err
		}
		to := filepath.Join(dir, filepath.FromSlash(strings.TrimPrefix(name, "newbook")))
		if d.IsDir() {
			return os.MkdirAll(to, 0o777)
		}
		data, err := newBook.ReadFile(name)
		if err != nil {
			return err
		}
		return os.WriteFile(to, bytes.ReplaceAll(data, dayOfPattern, today), 0o666)
	})
}

// dayOfPattern stands for today in the new book.
var dayOfPattern = []byte("2026-01-01")
