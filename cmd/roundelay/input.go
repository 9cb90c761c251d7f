package main

import (
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"slices"
	"strings"

	"roundelay/pattern"
	"roundelay/pattern/source"
)

// A loaded is a book as a person named it: a folder with a book.toml, a folder
// with one pattern.toml, or a pattern file, which is a book of one.
type loaded struct {
	*pattern.Book // nil if there is nothing to go on with
	findings      source.Findings
	fsys          fs.FS // of the folder; it does not lead out of it
}

// load loads the book that name names. Places in it are told by names that are
// good from here. The error says that there is nothing that could be read;
// what is wrong in what could be read are findings.
func load(name string) (*loaded, error) {
	info, err := os.Stat(name)
	if err != nil {
		return nil, unreadable(name, err)
	}
	dir, base := name, "."
	if !info.IsDir() {
		dir, base = filepath.Split(name)
		if base == "book.toml" {
			base = "."
		}
	}
	dir = filepath.Clean(dir)
	root, err := os.OpenRoot(dir)
	if err != nil {
		return nil, unreadable(name, err)
	}
	l := &loaded{fsys: root.FS()}
	l.Book, l.findings = pattern.LoadBook(l.fsys, base)
	l.rename(dir)
	if l.Book == nil && slices.ContainsFunc(l.findings, func(f source.Finding) bool { return f.Code == "unreadable" || f.Code == "no-book" }) {
		return nil, unreadable(name, l.findings)
	}
	return l, nil
}

// rename makes the names of all files names from here; they were names from dir.
func (l *loaded) rename(dir string) {
	seen := map[*source.File]bool{nil: true}
	rename := func(f *source.File) {
		if !seen[f] {
			seen[f] = true
			f.Name = filepath.Join(dir, filepath.FromSlash(f.Name))
		}
	}
	if l.Book != nil {
		rename(l.File)
		for _, p := range l.Patterns {
			rename(p.File)
			rename(p.Prose)
		}
	}
	for _, f := range l.findings {
		if f.File != nil {
			root, _ := f.File.Root(0)
			rename(root)
		}
	}
}

// unreadable words why a file can't be read.
func unreadable(name string, err error) error {
	var findings source.Findings
	if errors.As(err, &findings) {
		var words []string
		for _, f := range findings {
			words = append(words, strings.TrimSuffix(f.Message+"\n"+f.Hint, "\n"))
		}
		return fmt.Errorf("%s: %s", name, strings.Join(words, "\n"))
	}
	if errors.Is(err, fs.ErrNotExist) {
		return fmt.Errorf("%s: there is no such file or folder", name)
	}
	return err
}

// loadPattern loads the one pattern that name names, for a verb that works on
// one. Findings that are errors end it; the others are printed.
func loadPattern(std streams, name string) (*pattern.Pattern, error) {
	p, findings, err := loadOne(name)
	if err != nil {
		return nil, err
	}
	if err := findings.Err(); err != nil {
		return nil, err
	}
	return p, findings.Print(std.err)
}

// readText reads a written pattern.
func readText(name string) (*source.File, error) {
	dir, base := filepath.Split(name)
	f, problem := pattern.ReadText(os.DirFS(filepath.Clean(dir)), base)
	if problem != nil {
		problem.File.Name = name
		return nil, unreadable(name, source.Findings{*problem})
	}
	f.Name = name
	return f, nil
}

// loadAny loads a pattern file or a written pattern, with what is wrong in it.
func loadAny(name string) (*pattern.Pattern, source.Findings, error) {
	if info, err := os.Stat(name); err != nil || info.IsDir() || filepath.Ext(name) == ".toml" {
		return loadOne(name)
	}
	f, err := readText(name)
	if err != nil {
		return nil, nil, err
	}
	p, findings := pattern.LoadWritten(f, pattern.TranscribeOptions{})
	if p == nil {
		return nil, nil, findings.Err()
	}
	return p, findings, nil
}

// loadOne loads the one pattern that name names, with what is wrong in it.
func loadOne(name string) (*pattern.Pattern, source.Findings, error) {
	l, err := load(name)
	if err != nil {
		return nil, nil, err
	}
	if l.Book == nil || len(l.Patterns) != 1 {
		if err := l.findings.Err(); err != nil {
			return nil, nil, err
		}
		var files []string
		for _, p := range l.Patterns {
			files = append(files, p.File.Name)
		}
		return nil, nil, usageError(fmt.Sprintf("%s is a book; name one of its patterns: %s", name, strings.Join(files, ", ")))
	}
	return l.Patterns[0], l.findings, nil
}
