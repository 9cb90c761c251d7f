package main

import (
	"embed"
	"errors"
	"flag"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
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
	book, err := fs.Sub(newBook, "newbook")
	if err != nil {
		return err
	}
	if err := os.CopyFS(dir, book); err != nil {
		return fmt.Errorf("begin a book in %s: %w", dir, err)
	}
	return nil
}
