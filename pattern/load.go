package pattern

import (
	"cmp"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"path"
	"slices"
	"strings"
	"unicode/utf8"

	"roundelay/pattern/source"
	"roundelay/pattern/stitch"
)

// maxFile is the most bytes that a file of text may have.
const maxFile = 1 << 20

// Load reads the pattern in a file, usually pattern.toml in a folder of its
// own, with the prose beside it, and works out its rounds in every size.
//
// All findings come at once, in the order of the file. Whatever could be read is
// in the pattern, also beside findings that are errors; it is nil only if the
// file could not be read or is not sound TOML.
//
// Load opens no file outside the folder of the pattern. It goes by names and
// refuses a link as the last part of one; for untrusted folders fsys should be
// that of an [os.Root], which follows no link out of it.
func Load(fsys fs.FS, file string) (*Pattern, source.Findings) {
	f, problem := ReadText(fsys, file)
	if problem != nil {
		return nil, source.Findings{*problem}
	}
	return loadFile(fsys, f, file)
}

// LoadWritten returns the pattern that a written pattern is, as if the file that
// [Transcribe] makes of it were loaded. The findings are those about the text;
// the pattern is nil only if that is too large.
func LoadWritten(f *source.File, opt TranscribeOptions) (*Pattern, source.Findings) {
	text, findings := Transcribe(f, opt)
	if text == nil {
		return nil, findings
	}
	p, _ := loadFile(noFiles{}, source.NewFile(f.Name, string(text)), patternFile)
	return p, findings
}

// noFiles is a file system with nothing in it.
type noFiles struct{}

func (noFiles) Open(name string) (fs.File, error) {
	return nil, &fs.PathError{Op: "open", Path: name, Err: fs.ErrNotExist}
}

// loadFile loads the pattern in a file that was read already.
func loadFile(fsys fs.FS, f *source.File, file string) (*Pattern, source.Findings) {
	root, problem := decodeTOML(f)
	if problem != nil {
		return nil, source.Findings{*problem}
	}
	l := &loader{
		reader: reader{file: f, keys: patternKeys},
		fsys:   fsys,
		p:      &Pattern{File: f, Dir: path.Dir(file)},
	}
	top := table{root, ""}
	l.check(top)
	l.facts(top)
	l.slug(path.Base(file))
	l.yarns(top)
	l.photos(top)
	l.prose(top)
	l.sizes(top)
	l.findings.Sort()
	return l.p, l.findings
}

// ReadText reads a file of text. A finding says why, if it can't.
func ReadText(fsys fs.FS, name string) (*source.File, *source.Finding) {
	f := source.NewFile(name, "")
	no := func(code, hint, message string, args ...any) (*source.File, *source.Finding) {
		return nil, &source.Finding{File: f, Severity: source.Error, Code: code, Hint: hint, Message: fmt.Sprintf(message, args...)}
	}
	in, err := fsys.Open(name)
	if err != nil {
		if errors.Is(err, fs.ErrNotExist) {
			return no("unreadable", "", "there is no such file")
		}
		return no("unreadable", "", "it can't be read: %v", cause(err))
	}
	defer in.Close()
	if info, err := in.Stat(); err == nil && !info.Mode().IsRegular() {
		return no("unreadable", "", "it is not a file")
	}
	text, err := io.ReadAll(io.LimitReader(in, maxFile+1))
	switch {
	case err != nil:
		return no("unreadable", "", "it can't be read: %v", cause(err))
	case len(text) > maxFile:
		return no("file-size", "put what is not part of the pattern elsewhere", "the file is larger than 1 MiB")
	}
	f.Text = strings.TrimPrefix(string(text), "\uFEFF")
	switch {
	case strings.TrimSpace(f.Text) == "":
		return no("file-empty", "", "the file is empty")
	case strings.Contains(f.Text, "\x00"):
		return no("not-text", "save it as plain text, UTF-8", "the file is not text")
	case !utf8.ValidString(f.Text):
		_, problem := no("not-text", "save it as plain text, UTF-8", "the file has a byte that is not UTF-8 text")
		i := 0
		for i < len(f.Text) {
			c, size := utf8.DecodeRuneInString(f.Text[i:])
			if c == utf8.RuneError && size == 1 {
				break
			}
			i += size
		}
		problem.At = source.Span{From: i, To: i + 1}
		return nil, problem
	}
	return f, nil
}

// cause returns what is behind the error of a file system, without the path.
func cause(err error) error {
	var pe *fs.PathError
	if errors.As(err, &pe) {
		return pe.Err
	}
	return err
}

// A loader loads one pattern.
type loader struct {
	reader
	fsys fs.FS
	p    *Pattern
}

// facts reads what is plain in the file.
func (l *loader) facts(t table) {
	p := l.p
	p.Title = t.text("title")
	p.Summary = t.text("summary")
	p.Author = t.text("author")
	p.Version = t.text("version")
	p.Date = t.date("date")
	if t.text("terms") == "UK" {
		p.Terms = stitch.UK
	}
	p.Level = t.text("level")
	p.For = t.text("for")
	p.Licence = t.text("licence")
	p.FinishedItems = t.text("finished_items")
	p.FinishedSize = t.text("finished_size")
	p.Contact = t.text("contact")
	p.Care = t.text("care")
	p.Materials = t.lines("materials")
	p.Notes = t.lines("notes")
	p.Finishing = t.lines("finishing")
	p.Gauge = l.gauge(t)
	p.Hook = l.hook(t)
	p.Swatch = l.swatch(t)
	for _, c := range t.subs("change") {
		p.Changes = append(p.Changes, Change{Version: c.text("version"), Date: c.date("date"), Say: c.text("say")})
	}
	for _, a := range t.subs("allow") {
		if a.text("code") == "" || a.text("reason") == "" {
			continue // said already
		}
		round, _ := a.whole("round")
		p.Allowed = append(p.Allowed, Allowance{Code: a.text("code"), Reason: a.text("reason"), Round: round, At: a.at})
	}
	slices.SortStableFunc(p.Changes, func(a, b Change) int { return b.Date.Compare(a.Date) })
}

// gauge reads the gauge of the pattern or of a size; nil if there is none or it
// is not sound.
func (l *loader) gauge(t table) *Gauge {
	g, ok := t.sub("gauge")
	if !ok {
		return nil
	}
	over, _ := ParseLengthMM(g.text("over"))
	out := &Gauge{Stitch: l.stitch(g, stitch.SC), Stitches: g.number("stitches"), Rounds: g.number("rounds"), OverMM: over}
	counted := g.given("stitches") || g.given("rounds")
	if !counted {
		l.fault(g.at, "missing-key", "add stitches = 22, rounds = 24, or both", "this gauge has neither stitches nor rounds")
	}
	bad := g.given("stitches") && out.Stitches == 0 || g.given("rounds") && out.Rounds == 0
	if out.Stitch == (stitch.Stitch{}) || !counted || bad || out.OverMM == 0 {
		return nil
	}
	return out
}

// stitch reads the stitch of a gauge or swatch, which is usual if none is
// named. It returns no stitch if there is none of that name.
func (l *loader) stitch(t table, usual stitch.Stitch) stitch.Stitch {
	name := t.text("stitch")
	if name == "" {
		return usual
	}
	s := StitchNamed(name, l.p.Terms)
	if s == (stitch.Stitch{}) {
		l.fault(t.place("stitch"), "bad-value", fmt.Sprintf("%s is single crochet in %s terms", stitch.SC.Abbr(l.p.Terms), l.p.Terms),
			"there is no stitch %q in %s terms", shortened(name), l.p.Terms)
	}
	return s
}

// swatch reads the swatch; nil if there is none or it is not sound.
func (l *loader) swatch(t table) *Swatch {
	s, ok := t.sub("swatch")
	if !ok {
		return nil
	}
	usual := stitch.SC
	if l.p.Gauge != nil {
		usual = l.p.Gauge.Stitch
	}
	out := &Swatch{Stitch: l.stitch(s, usual), Grams: s.number("grams"), Metres: s.number("metres")}
	out.WidthMM, _ = ParseLengthMM(s.text("width"))
	out.HeightMM, _ = ParseLengthMM(s.text("height"))
	if out.Grams == 0 && out.Metres == 0 && !s.given("grams") && !s.given("metres") {
		l.fault(s.at, "missing-key", "add grams = 12, or metres = 32", "this swatch has neither grams nor metres")
	}
	if out.Stitch == (stitch.Stitch{}) || out.WidthMM == 0 || out.HeightMM == 0 || out.Grams == 0 && out.Metres == 0 {
		return nil
	}
	return out
}

// weighed reads what the ball of a yarn weighed before and after.
func (l *loader) weighed(y *Yarn, t table) {
	before, after := t.number("weighed_before"), t.number("weighed_after")
	switch given := t.given("weighed_before"); {
	case given != t.given("weighed_after"):
		missing := "weighed_after"
		if !given {
			missing = "weighed_before"
		}
		l.fault(t.at, "missing-key", "add "+missing+" = 50", "the ball is weighed once only: this yarn has no %s", missing)
	case before > after:
		y.BeforeG, y.AfterG = before, after
	case before > 0:
		l.fault(t.place("weighed_after"), "bad-value", "it is what was left of the ball", "the ball weighed %s g before and %s g after; it should have become lighter", number(before), number(after))
	}
}

// hook reads the hook of the pattern or of a size.
func (l *loader) hook(t table) Hook {
	k, ok := t.sub("hook")
	if !ok || k.text("size") == "" {
		return Hook{}
	}
	h, err := parseHook(k.text("size"))
	if err != nil {
		l.fault(k.place("size"), "bad-value", `write the millimetres, and the US name in brackets if you like: "3.25 mm (US D-3)"`, "hook size: %v", err)
	}
	return h
}

// slug names the page: by the folder of a pattern, by the name of a file that
// is not called pattern.toml, and by the title of one that stands alone.
func (l *loader) slug(file string) {
	name := path.Base(l.p.Dir)
	switch {
	case file != patternFile:
		name = strings.TrimSuffix(file, path.Ext(file))
	case l.p.Dir == ".":
		name = l.p.Title
	}
	l.p.Slug = cmp.Or(slugOf(name), "pattern")
}

// The files of a book.
const (
	bookFile    = "book.toml"
	patternFile = "pattern.toml"
	proseFile   = "prose.md"
)

// yarns reads the yarns. A yarn without a sound key is left out.
func (l *loader) yarns(t table) {
	for _, y := range t.subs("yarn") {
		yarn := Yarn{
			Key: y.text("key"), Colour: y.text("colour"), Hex: strings.ToLower(y.text("hex")),
			Weight: -1, Fibre: y.text("fibre"), MetresPer100g: y.number("metres_per_100g"),
			Grams: y.number("grams"), Metres: y.number("metres"), WrapsPerInch: y.number("wraps_per_inch"),
		}
		l.weighed(&yarn, y)
		if w, ok := y.whole("weight"); ok {
			yarn.Weight = w
		}
		switch {
		case yarn.Key == "":
			continue
		case !isName(yarn.Key):
			l.fault(y.place("key"), "bad-value", `as in "MC", "CC" or "A"`, "the key of a yarn takes letters, digits and _ and begins with a letter; it can't be %q", shortened(yarn.Key))
			continue
		case slices.ContainsFunc(l.p.Yarns, func(y Yarn) bool { return strings.EqualFold(y.Key, yarn.Key) }):
			l.fault(y.place("key"), "duplicate", "give each yarn a key of its own", "there is a yarn %s above already", yarn.Key)
			continue
		}
		l.p.Yarns = append(l.p.Yarns, yarn)
	}
}

// yarn returns the index of the yarn that is meant by a name: its key, its
// colour, or a word that only its colour has, capitals or not. It returns -1 if
// there is none.
func (l *loader) yarn(name string) int {
	find := func(is func(Yarn) bool) int { return slices.IndexFunc(l.p.Yarns, is) }
	if i := find(func(y Yarn) bool { return strings.EqualFold(y.Key, name) }); i >= 0 {
		return i
	}
	if i := find(func(y Yarn) bool { return strings.EqualFold(y.Colour, name) }); i >= 0 {
		return i
	}
	has := func(y Yarn) bool {
		return slices.ContainsFunc(strings.Fields(y.Colour), func(word string) bool { return strings.EqualFold(word, name) })
	}
	i := find(has)
	if i >= 0 && slices.ContainsFunc(l.p.Yarns[i+1:], has) {
		return -1
	}
	return i
}

func (l *loader) yarnKeys() []string {
	var keys []string
	for _, y := range l.p.Yarns {
		keys = append(keys, y.Key)
	}
	return keys
}

var pictures = []string{".jpg", ".jpeg", ".png", ".webp", ".gif", ".svg"}

// photos reads the photos and looks for their files.
func (l *loader) photos(t table) {
	for _, ph := range t.subs("photo") {
		photo := Photo{File: ph.text("file"), Alt: ph.text("alt"), At: ph.at}
		if photo.File == "" || !l.inFolder(photo.File, ph.place("file"), "the photo") {
			continue
		}
		if !slices.Contains(pictures, strings.ToLower(path.Ext(photo.File))) {
			l.fault(ph.place("file"), "bad-path", "it may end in "+listed(pictures, "or"), "%q is not a picture that a page can show", shortened(photo.File))
			continue
		}
		l.p.Photos = append(l.p.Photos, photo)
	}
}

// inFolder reports whether there is a file of that name in the folder of the
// pattern, and says so if not.
func (l *loader) inFolder(name string, at source.Span, what string) bool {
	if !fs.ValidPath(name) || name == "." || strings.Contains(name, `\`) || strings.Contains(name, ":") {
		l.fault(at, "bad-path", `write it with / and without .. or a leading /, as in "photos/buoy.jpg"`, "%s %q is not a path inside the pattern's folder", what, shortened(name))
		return false
	}
	info, err := fs.Lstat(l.fsys, path.Join(l.p.Dir, name))
	switch {
	case errors.Is(err, fs.ErrNotExist):
		l.fault(at, "missing-file", "", "there is no file %q in the pattern's folder", shortened(name))
		return false
	case err != nil:
		l.fault(at, "missing-file", "", "%q can't be read: %v", shortened(name), cause(err))
		return false
	case info.Mode()&fs.ModeSymlink != 0:
		l.fault(at, "bad-path", "put the file itself there", "%q is a link to another file", shortened(name))
		return false
	case !info.Mode().IsRegular():
		l.fault(at, "missing-file", "", "%q is not a file", shortened(name))
		return false
	}
	return true
}

// prose reads the maker's own words. Without a name for their file, there need
// not be one.
func (l *loader) prose(t table) {
	name, at := t.text("prose"), t.place("prose")
	if name == "" {
		name, at = proseFile, source.Span{}
		info, err := fs.Lstat(l.fsys, path.Join(l.p.Dir, name))
		if errors.Is(err, fs.ErrNotExist) || err == nil && info.Mode().IsRegular() && info.Size() == 0 {
			return
		}
	}
	if !l.inFolder(name, at, "the prose") {
		return
	}
	f, problem := ReadText(l.fsys, path.Join(l.p.Dir, name))
	if problem != nil {
		l.report(*problem)
		return
	}
	l.p.Prose = f
}
