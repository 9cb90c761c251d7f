// Package site builds a book of patterns into a folder of files that can be
// published as it is: a page for each pattern, its charts, its rounds as plain
// text, an index, a feed. The pages need no script, no network and no server.
package site

import (
	"bytes"
	"encoding/xml"
	"fmt"
	"html/template"
	"io/fs"
	"path"

	"roundelay/pattern"
	"roundelay/templates"
)

// Options says how a site is built.
type Options struct {
	// Files is the file system that the book was loaded from. It may be nil
	// if no pattern has pictures.
	Files fs.FS
	// Progress, if not nil, is told the name of each file before it is made.
	Progress func(name string)
}

// Build makes the site of a book in the folder out.
//
// The site takes its place whole or not at all: it is built in a folder beside
// out, and if anything goes wrong, out is left as it was. Build removes only
// files that an earlier Build wrote; if out holds anything else, it returns an
// error and does nothing. The same book makes the same bytes.
func Build(book *pattern.Book, out string, opt Options) error {
	f, err := newFolder(out)
	if err != nil {
		return fmt.Errorf("build: %w", err)
	}
	b := newBuilder(book, opt, f.write)
	if err := b.all(); err != nil {
		f.discard()
		return fmt.Errorf("build: %w", err)
	}
	if err := f.publish(); err != nil {
		f.discard()
		return fmt.Errorf("build: %w", err)
	}
	return nil
}

// Index is the page that a reader opens first, relative to the site.
const Index = "index.html"

// A builder builds one site.
type builder struct {
	language
	pages *template.Template // in the language
	book  *pattern.Book
	opt   Options
	write func(name string, data []byte) error // puts a file in its place
	live  *live                                // nil unless it is a preview
}

func newBuilder(book *pattern.Book, opt Options, write func(name string, data []byte) error) *builder {
	l := languageOf(book.Language)
	return &builder{language: l, pages: l.pages(), book: book, opt: opt, write: write}
}

func (b *builder) all() error {
	for _, p := range b.book.Patterns {
		if err := b.pattern(p); err != nil {
			return fmt.Errorf("%s: %w", p.Slug, err)
		}
	}
	return b.shared()
}

// shared makes the files that belong to no pattern.
func (b *builder) shared() error {
	for _, file := range []struct {
		name string
		make func() ([]byte, error)
	}{
		{Index, func() ([]byte, error) { return b.execute("index", b.index()) }},
		{"404.html", func() ([]byte, error) { return b.execute("missing", b.missing()) }},
		{"style.css", func() ([]byte, error) { return styleSheet(), nil }},
		{"icon.svg", func() ([]byte, error) { return templates.Icon, nil }},
		{"rounds.js", func() ([]byte, error) { return templates.Script, nil }},
		{"feed.xml", func() ([]byte, error) { return marshal(b.feed()) }},
	} {
		if err := b.file(file.name, file.make); err != nil {
			return err
		}
	}
	if b.book.Address == "" {
		return nil // a site map has full addresses only
	}
	return b.file("sitemap.xml", func() ([]byte, error) { return marshal(b.siteMap()) })
}

// pattern makes the files of one pattern.
func (b *builder) pattern(p *pattern.Pattern) error {
	w := &work{builder: b, p: p, estimates: b.estimate(p)}
	if err := w.pictures(); err != nil {
		return err
	}
	if err := w.charts(); err != nil {
		return err
	}
	if err := w.drawMade(); err != nil {
		return err
	}
	for _, extra := range []struct {
		make func() (bool, error)
		link link
	}{
		{w.circles, link{circlesFile, w.say("Circles to lay it on")}},
		{w.tryColours, link{coloursFile, w.say("Other colours")}},
	} {
		made, err := extra.make()
		if err != nil {
			return err
		}
		if made {
			w.extras = append(w.extras, extra.link)
		}
	}
	w.found = w.findings()
	for _, v := range b.variants(p) {
		if err := b.file(w.path(v.file), func() ([]byte, error) {
			page, err := w.page(v)
			if err != nil {
				return nil, err
			}
			return b.execute("pattern", page)
		}); err != nil {
			return err
		}
	}
	return b.file(w.path(w.textFile()), func() ([]byte, error) { return w.text(), nil })
}

// file makes a file and writes it.
func (b *builder) file(name string, make func() ([]byte, error)) error {
	if b.opt.Progress != nil {
		b.opt.Progress(name)
	}
	data, err := make()
	if err != nil {
		return fmt.Errorf("%s: %w", name, err)
	}
	return b.write(name, data)
}

// copy copies a file of the book into the site.
func (b *builder) copy(name, from string) error {
	return b.file(name, func() ([]byte, error) {
		if b.opt.Files == nil {
			return nil, fmt.Errorf("there are no files to copy %s from", from)
		}
		return readPicture(b.opt.Files, from)
	})
}

func (b *builder) execute(name string, data any) ([]byte, error) {
	var page bytes.Buffer
	err := b.pages.ExecuteTemplate(&page, name, data)
	return page.Bytes(), err
}

func marshal(v any) ([]byte, error) {
	data, err := xml.MarshalIndent(v, "", " ")
	return append(append([]byte(xml.Header), data...), '\n'), err
}

// A page is what every page has.
type page struct {
	Book        *pattern.Book
	Language    string
	Title       string
	Description string
	Author      string
	Canonical   string // the full address; "" if the book has none
	Social      *socialPicture
	Root        string // the way to the folder of the site: "" or "../"
	PrintFoot   string // stands below every printed page
	Large       bool   // in large print
	Live        *live  // nil unless it is a preview
}

// page returns the page at a path of the site.
func (b *builder) page(name, title string) page {
	p := page{Book: b.book, Language: b.book.Language, Title: title, Author: b.book.Author, Live: b.live}
	if p.Language == "" {
		p.Language = "en"
	}
	if b.book.Address != "" {
		p.Canonical = b.book.Address + name
	}
	if path.Dir(name) != "." {
		p.Root = "../"
	}
	return p
}

// A link leads to another page.
type link struct{ Href, Text string }

// home is the page of a pattern, as a path of the site.
func home(p *pattern.Pattern) string { return path.Join(p.Slug, Index) }

type indexPage struct {
	page
	Patterns []entry
	Findings []finding // of a preview
}

// An entry is a pattern in the index.
type entry struct {
	Page    string
	Title   string
	Summary string
	Picture *picture // nil if it has none
	Marks   []string // what a reader chooses by
}

func (b *builder) index() indexPage {
	out := indexPage{page: b.page(Index, b.book.Title)}
	out.Description = b.book.Summary
	if b.live != nil {
		out.Findings = b.live.all()
	}
	for _, p := range b.book.Patterns {
		e := entry{Page: home(p), Title: p.Title, Summary: p.Summary, Marks: b.marks(p)}
		if len(p.Photos) > 0 {
			e.Picture = &picture{Src: path.Join(p.Slug, p.Photos[0].File)}
		} else if b.estimate(p)[p.Sizes[0]] != nil {
			e.Picture = &picture{Src: path.Join(p.Slug, thumbFile), Width: thumbSide, Height: thumbSide, Drawn: true}
		}
		out.Patterns = append(out.Patterns, e)
	}
	return out
}

// marks returns the facts by which a reader chooses among patterns.
func (l language) marks(p *pattern.Pattern) []string {
	var out []string
	add := func(s string) {
		if s != "" {
			out = append(out, s)
		}
	}
	add(l.say(capital(p.Level)))
	add(capital(l.worked(p)))
	if len(p.Sizes) > 1 {
		add(l.say("%d sizes", len(p.Sizes)))
	} else {
		add(l.finishedSizes(p)[0])
	}
	if p.Hook.MM > 0 {
		add(l.say("%s hook", l.hookMM(p.Hook)))
	}
	if l == english {
		add(p.Terms.String() + " names")
	}
	return out
}

type missingPage struct {
	page
	Links []link
}

// missing returns the page for addresses that are none. A server shows it at
// any of them, so its links are full addresses where the book has one.
func (b *builder) missing() missingPage {
	out := missingPage{page: b.page("404.html", b.say("No such page"))}
	from := b.book.Address
	if b.live != nil {
		from = "/"
	}
	for _, p := range b.book.Patterns {
		out.Links = append(out.Links, link{from + home(p), p.Title})
	}
	return out
}

// html marks what this package's own drawing and the prose renderer made as
// HTML that needs no escaping. It is the only place where that is done.
func html(s []byte) template.HTML { return template.HTML(s) }
