package pattern

import (
	"errors"
	"fmt"
	"io/fs"
	"net/url"
	"path"
	"regexp"
	"slices"
	"strings"

	"roundelay/pattern/source"
)

// LoadBook reads the book in a folder: its book.toml and every pattern. A
// folder with a pattern.toml only, or a pattern file by its name, is read as a
// book of one.
//
// Findings are those of the book file and of all patterns. The book is nil only
// if there is neither a book nor a pattern to read.
func LoadBook(fsys fs.FS, dir string) (*Book, source.Findings) {
	dir = path.Clean(dir)
	if info, err := fs.Stat(fsys, dir); err == nil && !info.IsDir() {
		return bookOfOne(fsys, dir)
	}
	name := path.Join(dir, bookFile)
	if !exists(fsys, name) {
		if alone := path.Join(dir, patternFile); exists(fsys, alone) {
			return bookOfOne(fsys, alone)
		}
		return nil, source.Findings{{
			File: source.NewFile(dir, ""), Severity: source.Error, Code: "no-book",
			Message: "there is neither a book.toml nor a pattern.toml in this folder",
			Hint:    "a book is a folder with a book.toml and a folder for each pattern, with its pattern.toml",
		}}
	}
	f, problem := ReadText(fsys, name)
	if problem != nil {
		return nil, source.Findings{*problem}
	}
	root, problem := decodeTOML(f)
	if problem != nil {
		return nil, source.Findings{*problem}
	}
	r := &reader{file: f, keys: bookKeys}
	top := table{root, ""}
	r.check(top)
	b := &Book{
		File:     f,
		Title:    top.text("title"),
		Summary:  top.text("summary"),
		Author:   top.text("author"),
		Address:  r.address(top),
		Language: r.language(top),
		Licence:  top.text("licence"),
	}
	findings := source.Findings{}
	for _, slug := range r.folders(fsys, dir, top) {
		p, more := Load(fsys, path.Join(dir, slug, patternFile))
		findings = append(findings, more...)
		if p != nil {
			b.add(p)
		}
	}
	findings = append(findings, r.findings...)
	findings.Sort()
	return b, findings
}

func exists(fsys fs.FS, name string) bool {
	_, err := fs.Stat(fsys, name)
	return !errors.Is(err, fs.ErrNotExist)
}

// bookOfOne reads a pattern file as a book.
func bookOfOne(fsys fs.FS, file string) (*Book, source.Findings) {
	p, findings := Load(fsys, file)
	if p == nil {
		return nil, findings
	}
	b := &Book{File: p.File, Title: p.Title, Summary: p.Summary, Author: p.Author, Language: defaultLanguage, Licence: p.Licence}
	b.add(p)
	return b, findings
}

// add puts a pattern in the book; what the pattern leaves out is as the book
// says.
func (b *Book) add(p *Pattern) {
	if p.Author == "" {
		p.Author = b.Author
	}
	if p.Licence == "" {
		p.Licence = b.Licence
	}
	b.Patterns = append(b.Patterns, p)
}

// address reads the address of the book, and ends it with a slash.
func (r *reader) address(t table) string {
	s := t.text("address")
	if s == "" {
		return ""
	}
	u, err := url.Parse(s)
	if err != nil || u.Scheme != "https" && u.Scheme != "http" || u.Hostname() == "" || u.User != nil || u.RawQuery != "" || u.Fragment != "" {
		r.fault(t.place("address"), "bad-value", `write it in full, as in "https://example.org/shelf/"`, "%q is not the address of a folder on the web", shortened(s))
		return ""
	}
	return strings.TrimSuffix(u.String(), "/") + "/"
}

const defaultLanguage = "en"

var languageTag = regexp.MustCompile(`^[a-z]{2,3}(-[A-Za-z0-9]{2,8}){0,3}$`)

func (r *reader) language(t table) string {
	s := t.text("language")
	if s == "" {
		return defaultLanguage
	}
	if !languageTag.MatchString(s) {
		r.fault(t.place("language"), "bad-value", `a tag is two or three small letters, and a country if it matters: "en", "en-GB"`, "%q is not the tag of a language", shortened(s))
		return defaultLanguage
	}
	return s
}

// folders returns the folders of the patterns, in the order of the book.
func (r *reader) folders(fsys fs.FS, dir string, t table) []string {
	entries, err := fs.ReadDir(fsys, dir)
	if err != nil {
		r.fault(source.Span{}, "unreadable", "", "the folder can't be read: %v", cause(err))
		return nil
	}
	var found []string
	for _, e := range entries {
		if name := e.Name(); e.IsDir() && exists(fsys, path.Join(dir, name, patternFile)) {
			found = append(found, name)
		}
	}
	list := t.get("patterns")
	if list.kind != listNode {
		var sound []string
		for _, name := range found {
			if r.isFolder(source.Span{}, name) {
				sound = append(sound, name)
			}
		}
		if len(found) == 0 {
			r.fault(source.Span{}, "no-patterns", "put each pattern in a folder of its own beside book.toml, as pattern.toml", "the book has no patterns")
		}
		return sound
	}
	var sound []string
	for _, item := range list.list {
		name := strings.TrimSpace(item.value.(string))
		switch {
		case !r.isFolder(item.at, name):
		case slices.Contains(sound, name):
			r.fault(item.at, "duplicate", "take it out", "the pattern %q is in the list already", name)
		case !slices.Contains(found, name):
			hint := "its folder goes beside book.toml"
			if near := source.Nearest(name, found); near != "" {
				hint = fmt.Sprintf("did you mean %q?", near)
			}
			r.fault(item.at, "missing-file", hint, "there is no %s/%s", name, patternFile)
		default:
			sound = append(sound, name)
		}
	}
	named := t.lines("patterns")
	for _, name := range found {
		if !slices.Contains(named, name) {
			r.report(source.Finding{
				At: list.keyAt, Severity: source.Warning, Code: "unlisted-pattern",
				Message: fmt.Sprintf("the folder %q has a pattern that the book leaves out", shortened(name)),
				Hint:    "add it to patterns, or move it out of the book",
			})
		}
	}
	return sound
}

// isFolder reports whether a pattern's folder may have that name, which becomes
// the address of its page, and says so if not.
func (r *reader) isFolder(at source.Span, name string) bool {
	if isSlug(name) {
		return true
	}
	hint := "name the folder in lower case letters, digits and single hyphens"
	if s := slugOf(name); s != "" && !strings.ContainsAny(name, `/\`) {
		hint = fmt.Sprintf("call the folder %q", s)
	}
	r.fault(at, "bad-slug", hint, "%q can't be the address of a page, which has lower case letters, digits and single hyphens, at most %d", shortened(name), maxSlug)
	return false
}
