package site

import (
	"cmp"
	"errors"
	"fmt"
	"io/fs"
	"path"
	"path/filepath"
	"slices"
	"strings"
	"sync"

	"roundelay/pattern"
	"roundelay/pattern/notation"
	"roundelay/pattern/source"
)

// A Preview is the site of a book that is being written: in memory, each
// pattern made when it is first asked for, with the findings where they belong.
// The zero value shows nothing yet. It may be used by several goroutines.
type Preview struct {
	mu    sync.Mutex
	shown *pattern.Book               // what can be shown of the state; nil before there is anything
	sound map[string]*pattern.Pattern // by slug: those shown that have no errors
	live  *live                       // the state; nil before there is one
	files map[string][]byte           // made so far, by their paths in the site
	made  map[string]error            // how the making of a pattern went, by its slug; that of the rest by ""
}

// A State is a book at one moment, with what was found in it.
type State struct {
	Book     *pattern.Book // nil if nothing of it could be read
	Files    fs.FS         // that it was loaded from; nil if that is gone
	Findings source.Findings
	Version  string // another for each state; it stands on every page
}

// Live is what the pages of a preview have beside those of a site.
type live struct {
	State
	stale map[string]bool // slugs of the patterns that are shown as they were before
}

// A finding is told on a page, in the words in which it is printed.
type finding struct {
	Severity source.Severity
	Say      string // "file:line:column: severity: message [code]"
	Excerpt  string // the line that it is about, and a mark below the place
	Hint     string
}

// Show makes s the state that is shown. A pattern with errors stays as it was
// when it had none; if it never was without, it is shown as far as it can be.
// The book stays as it was if its own file has errors.
func (p *Preview) Show(s State) {
	p.mu.Lock()
	defer p.mu.Unlock()
	if s.Files == nil && p.live != nil {
		s.Files = p.live.Files
	}
	p.live = &live{s, map[string]bool{}}
	p.files, p.made = map[string][]byte{}, map[string]error{}
	old := p.shown
	if s.Book == nil {
		if old != nil {
			for _, was := range old.Patterns {
				p.live.stale[was.Slug] = true
			}
		}
		return
	}
	shown := *s.Book
	if old != nil && slices.ContainsFunc(s.Findings, func(f source.Finding) bool {
		return f.Severity == source.Error && f.Pos().File == s.Book.File.Name
	}) {
		shown = *old
	}
	sound := map[string]*pattern.Pattern{}
	shown.Patterns = nil
	for _, now := range s.Book.Patterns {
		was := p.sound[now.Slug]
		switch {
		case !s.wrong(now):
			was = now
		case was == nil:
			shown.Patterns = append(shown.Patterns, now)
			continue
		default:
			p.live.stale[now.Slug] = true
		}
		shown.Patterns = append(shown.Patterns, was)
		sound[now.Slug] = was
	}
	if old != nil {
		for i, was := range old.Patterns {
			if p.sound[was.Slug] == was && s.wrong(was) && s.pattern(was.Slug) == nil { // it can't be read any more
				shown.Patterns = slices.Insert(shown.Patterns, min(i, len(shown.Patterns)), was)
				sound[was.Slug] = was
				p.live.stale[was.Slug] = true
			}
		}
	}
	p.shown, p.sound = &shown, sound
}

// pattern returns the pattern that is shown under a slug; nil if there is none.
func (p *Preview) pattern(slug string) *pattern.Pattern {
	if p.shown == nil {
		return nil
	}
	return withSlug(p.shown.Patterns, slug)
}

// pattern returns the pattern of a slug as it is now; nil if it can't be read.
func (s *State) pattern(slug string) *pattern.Pattern {
	if s.Book == nil {
		return nil
	}
	return withSlug(s.Book.Patterns, slug)
}

func withSlug(patterns []*pattern.Pattern, slug string) *pattern.Pattern {
	for _, p := range patterns {
		if p.Slug == slug {
			return p
		}
	}
	return nil
}

// wrong reports whether the pattern has errors.
func (s *State) wrong(p *pattern.Pattern) bool {
	return slices.ContainsFunc(s.Findings, func(f source.Finding) bool { return f.Severity == source.Error && isOf(f, p) })
}

// File returns a file of the site by its path. It makes the pattern that the
// file belongs to, if that has not been asked for since the last Show. A page
// that can't be made is one that tells why; where there is no such file, the
// error is fs.ErrNotExist.
func (p *Preview) File(name string) ([]byte, error) {
	p.mu.Lock()
	defer p.mu.Unlock()
	slug, _, below := strings.Cut(name, "/")
	if !below {
		slug = ""
	}
	if _, made := p.made[slug]; !made && p.live != nil {
		p.made[slug] = p.make(slug)
	}
	if err := p.made[slug]; err != nil && path.Ext(name) == ".html" {
		return p.unbuilt(name, err)
	}
	data, ok := p.files[name]
	if !ok {
		return nil, fs.ErrNotExist
	}
	return data, nil
}

// errUnshown says why there is no page where one is to be expected.
var errUnshown = errors.New("there are errors, and no earlier state without them")

// make makes the files of a pattern, or of "" those that belong to none.
func (p *Preview) make(slug string) error {
	if p.shown == nil {
		return errUnshown
	}
	b := newBuilder(p.shown, Options{Files: p.live.Files}, func(name string, data []byte) error {
		p.files[name] = data
		return nil
	})
	b.live = p.live
	if slug == "" {
		return b.shared()
	}
	if shown := p.pattern(slug); shown != nil {
		return b.pattern(shown)
	}
	for _, f := range p.live.Findings {
		if file := filepath.ToSlash(f.Pos().File); path.Base(path.Dir(file)) == slug && f.Severity == source.Error {
			return errUnshown
		}
	}
	return nil
}

type unbuiltPage struct {
	page
	Why      string
	Findings []finding
}

// unbuilt returns a page in place of one that can't be made.
func (p *Preview) unbuilt(name string, why error) ([]byte, error) {
	b := newBuilder(cmp.Or(p.shown, &pattern.Book{}), Options{}, nil)
	b.live = p.live
	out := unbuiltPage{page: b.page(name, "Not to be shown yet"), Why: capital(why.Error()) + ".", Findings: p.live.all()}
	return b.execute("unbuilt", out)
}

// all returns all findings.
func (l *live) all() []finding {
	var out []finding
	for _, f := range l.Findings {
		out = append(out, told(f))
	}
	return out
}

// told returns a finding as it is told on a page.
func told(f source.Finding) finding {
	out := finding{Severity: f.Severity, Say: f.String(), Hint: f.Hint}
	f.Hint = ""
	var printed strings.Builder
	source.Findings{f}.Print(&printed) // which does not fail
	_, rest, _ := strings.Cut(printed.String(), "\n")
	out.Excerpt = strings.TrimRight(rest, "\n")
	return out
}

// The places of findings that stand at no round.
const (
	atHead  = ""
	atProse = "prose"
)

// findings returns what was found in a pattern, or in no pattern at all, by its
// place on the pages: the address of a round, or one of the places above. It is
// nil for a site.
func (w *work) findings() map[string][]finding {
	if w.live == nil {
		return nil
	}
	now := w.live.pattern(w.p.Slug)
	if now == nil {
		now = w.p
	}
	out := map[string][]finding{}
	for _, f := range w.live.Findings {
		at := atHead
		if isOf(f, now) {
			at = w.place(f, now)
		} else if slices.ContainsFunc(w.book.Patterns, func(p *pattern.Pattern) bool { return isOf(f, p) }) {
			continue
		}
		out[at] = append(out[at], told(f))
	}
	return out
}

// isOf reports whether a finding is about a file of the pattern.
func isOf(f source.Finding, p *pattern.Pattern) bool {
	name := f.Pos().File
	return name == p.File.Name || p.Prose != nil && name == p.Prose.Name
}

// elsewhere returns links to the findings that stand at rounds.
func (w *work) elsewhere() []link {
	var out []link
	w.each(func(size *pattern.Size, piece *pattern.Piece) {
		for _, r := range piece.Rounds {
			if id := w.roundID(size, piece, r.Number); len(w.found[id]) > 0 {
				out = append(out, link{"#" + id, fmt.Sprintf("round %d of %s", r.Number, w.name(size, piece))})
			}
		}
	})
	return out
}

// place returns where a finding about the pattern as it is now belongs on the
// pages, which may show an earlier state of it.
func (w *work) place(f source.Finding, now *pattern.Pattern) string {
	root, at := f.File.Root(f.At.From)
	if root == now.Prose {
		return atProse
	}
	for i, size := range now.Sizes {
		for _, piece := range size.Pieces {
			for k, line := range piece.Lines {
				file, from := line.File.Root(line.At.From)
				if _, to := line.File.Root(line.At.To); file != root || at < from || at >= to {
					continue
				}
				number := line.First
				if r := slices.IndexFunc(piece.Rounds, func(r *notation.Round) bool { return r.Line == line }); r >= 0 {
					number = max(piece.Rounds[r].Number, f.Round)
				} else if number < 0 {
					number = k + 1
				}
				return w.roundAt(i, piece.Key, number)
			}
		}
	}
	return atHead
}

// roundAt returns the address of a round in the state that is shown; atHead if
// that has no such round.
func (w *work) roundAt(size int, key string, number int) string {
	if size >= len(w.p.Sizes) {
		return atHead
	}
	for _, piece := range w.p.Sizes[size].Pieces {
		if piece.Key == key && slices.ContainsFunc(piece.Rounds, func(r *notation.Round) bool { return r.Number == number }) {
			return w.roundID(w.p.Sizes[size], piece, number)
		}
	}
	return atHead
}
