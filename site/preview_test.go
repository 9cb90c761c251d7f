package site

import (
	"errors"
	"io/fs"
	"regexp"
	"strings"
	"testing"
	"testing/fstest"

	"roundelay/pattern"
	"roundelay/pattern/source"
)

// A shelf is a book that is being written.
type shelf struct {
	files   fstest.MapFS
	preview Preview
	version string
}

func newShelf() *shelf {
	return &shelf{files: fstest.MapFS{
		"book.toml":          {Data: []byte("title = \"Small glass\"\naddress = \"https://beads.example/\"\n")},
		"bead/pattern.toml":  {Data: []byte(bead)},
		"bead/prose.md":      {Data: []byte("It rolls.\n")},
		"other/pattern.toml": {Data: []byte("title = \"Other\"\nterms = \"UK\"\n[[piece]]\nname = \"Bead\"\nrounds = '''\nRnd 1: 6 dc in magic ring (6)\n'''\n")},
	}}
}

// write changes a file, if name is not "", and shows what there is then.
func (s *shelf) write(name, text string) {
	if name != "" {
		s.files[name] = &fstest.MapFile{Data: []byte(text)}
	}
	s.version += "i"
	book, findings := pattern.LoadBook(s.files, ".")
	s.preview.Show(State{Book: book, Files: s.files, Findings: findings, Version: s.version})
}

// page returns a page that has to be there.
func (s *shelf) page(t *testing.T, name string) string {
	t.Helper()
	data, err := s.preview.File(name)
	if err != nil {
		t.Fatalf("%s: %v", name, err)
	}
	return string(data)
}

var findingPart = regexp.MustCompile(`(?s)<div class="finding (\w+)" role="note">\s*<p>(.*?)</p>`)

// found returns the findings on a part of a page.
func found(part string) (out []string) {
	for _, m := range findingPart.FindAllStringSubmatch(part, -1) {
		out = append(out, m[2])
	}
	return out
}

// round returns the row of a round on a page.
func round(t *testing.T, page, id string) string {
	t.Helper()
	_, rest, ok := strings.Cut(page, `id="`+id+`"`)
	row, _, ok2 := strings.Cut(rest, "</li>")
	if !ok || !ok2 {
		t.Fatalf("there is no round %s on the page", id)
	}
	return row
}

// TestPreview follows a maker through a slip and its mending.
func TestPreview(t *testing.T) {
	s := newShelf()
	s.write("", "")
	before := s.page(t, "bead/index.html")
	if f := found(before); len(f) > 0 || strings.Contains(before, "stale") {
		t.Errorf("a sound page tells of %q", f)
	}
	if !strings.Contains(before, `data-version="i"`) {
		t.Error("the page does not say of which state it is")
	}

	// An error: the page stays as it was, and tells of it at its round.
	wrong := strings.Replace(bead, "Rnd 2: inc in each st around (12)", "Rnd 2: inc in each st around (14)", 1)
	s.write("bead/pattern.toml", strings.Replace(wrong, "A bead to try things with.", "A bead to lose.", 1))
	for _, name := range []string{"bead/index.html", "bead/uk.html", "bead/large.html"} {
		page := s.page(t, name)
		const want = "bead/pattern.toml:40:30: error: it makes 12 stitches; 14 are declared [count-made]"
		if got := found(round(t, page, "r2")); len(got) != 1 || got[0] != want {
			t.Errorf("%s: at round 2 stand %q, want %q", name, got, want)
		}
		if got := found(page); len(got) != 1 {
			t.Errorf("%s tells %q, want one finding", name, got)
		}
		for _, part := range []string{"A bead to try things with.", "This is the last state without errors", `Found at <a href="#r2">round 2 of Bead</a>`, `data-version="ii"`, "Rnd 2: inc in each st around (14)\n"} {
			if !strings.Contains(page, part) {
				t.Errorf("%s lacks %q", name, part)
			}
		}
	}
	if got := found(s.page(t, "other/index.html")); len(got) > 0 {
		t.Errorf("the page of another pattern tells %q", got)
	}
	if got := found(s.page(t, Index)); len(got) != 1 {
		t.Errorf("the list of all patterns tells %q", got)
	}

	// What can't be read at all is told at the head of the page.
	s.write("bead/pattern.toml", "title = \"Bead\nterms")
	page := s.page(t, "bead/index.html")
	if got := found(page); len(got) != 1 || !strings.Contains(got[0], "bead/pattern.toml:1:") {
		t.Errorf("a file that is no TOML is told as %q", got)
	}
	if !strings.Contains(page, "A bead to try things with.") || !strings.Contains(s.page(t, Index), "Glass bead") {
		t.Error("the last state of the pattern is gone")
	}
	s.write("book.toml", "title = ")
	for _, name := range []string{Index, "bead/index.html", "other/index.html"} {
		if got := strings.Join(found(s.page(t, name)), "\n"); !strings.Contains(got, "book.toml:1:") {
			t.Errorf("%s: a book that is no TOML is told as %q", name, got)
		}
	}

	// Mended, all of it follows.
	s.write("book.toml", "title = \"Large glass\"\n")
	s.write("bead/pattern.toml", strings.Replace(bead, "A bead to try things with.", "A bead to keep.", 1))
	page = s.page(t, "bead/index.html")
	if f := found(page); len(f) > 0 || strings.Contains(page, "stale") {
		t.Errorf("the mended page tells %q", f)
	}
	for _, part := range []string{"A bead to keep.", "Large glass"} {
		if !strings.Contains(page, part) {
			t.Errorf("the mended page lacks %q", part)
		}
	}
}

// TestPreviewLost checks that the last state is shown, with its pictures, when
// the book is gone.
func TestPreviewLost(t *testing.T) {
	s := newShelf()
	s.files["bead/a.svg"] = &fstest.MapFile{Data: []byte(`<svg xmlns="http://www.w3.org/2000/svg"/>`)}
	s.write("bead/pattern.toml", bead+"\n[[photo]]\nfile = 'a.svg'\nalt = 'A bead on a table.'\n")
	s.preview.Show(State{Findings: source.Findings{{Severity: source.Error, Code: "unreadable", Message: "it is gone"}}})
	page := s.page(t, "bead/index.html")
	if got := found(page); len(got) != 1 || got[0] != "error: it is gone [unreadable]" || !strings.Contains(page, "A bead on a table.") {
		t.Errorf("the page tells %q:\n%s", got, page)
	}
	s.page(t, "bead/a.svg")
}

// TestPreviewProse checks that what is found in the prose stands above it, and
// at the head of the pages without it.
func TestPreviewProse(t *testing.T) {
	s := newShelf()
	book, findings := pattern.LoadBook(s.files, ".")
	findings = append(findings, source.Finding{File: book.Patterns[0].Prose, At: source.Span{From: 3, To: 8},
		Severity: source.Warning, Code: "rolling", Message: "it does not"})
	s.preview.Show(State{Book: book, Files: s.files, Findings: findings})
	const want = "bead/prose.md:1:4: warning: it does not [rolling]"
	head, story, ok := strings.Cut(s.page(t, "bead/index.html"), `id="story"`)
	if got := found(story); !ok || len(got) != 1 || got[0] != want || len(found(head)) > 0 {
		t.Errorf("above the prose stand %q, before it %q, want %q", got, found(head), want)
	}
	head, _, _ = strings.Cut(s.page(t, "bead/plain.html"), `id="materials"`)
	if got := found(head); len(got) != 1 || got[0] != want {
		t.Errorf("at the head of a page without the prose stand %q, want %q", got, want)
	}
}

// TestPreviewUnshown checks what is shown of a book that begins with errors.
func TestPreviewUnshown(t *testing.T) {
	var empty Preview
	if _, err := empty.File(Index); !errors.Is(err, fs.ErrNotExist) {
		t.Errorf("a preview that shows nothing has an index: %v", err)
	}

	// Rounds that are understood are shown, with what is wrong.
	s := newShelf()
	s.write("bead/pattern.toml", strings.Replace(bead, "each st around (12)", "each st around (14)", 1))
	page := s.page(t, "bead/index.html")
	if got := found(round(t, page, "r2")); len(got) != 1 || strings.Contains(page, "stale\">This is") {
		t.Errorf("at round 2 of a pattern that never was sound stand %q", got)
	}
	s.write("bead/pattern.toml", strings.Replace(bead, "each st around (12)", "each st around (15)", 1))
	if got := found(round(t, s.page(t, "bead/index.html"), "r2")); len(got) != 1 || !strings.Contains(got[0], "15 are declared") {
		t.Errorf("at round 2 of a pattern that is wrong in another way stand %q", got)
	}

	// One without such rounds has a page that tells why.
	before, rest, _ := strings.Cut(bead, "rounds = '''\n")
	_, rest, _ = strings.Cut(rest, "'''\n")
	s = newShelf()
	s.write("bead/pattern.toml", before+"rounds = '''\nhello\n'''\n"+rest)
	page = s.page(t, "bead/index.html")
	if !strings.Contains(page, "This can’t be shown yet") || len(found(page)) == 0 {
		t.Errorf("the page of a pattern without rounds:\n%s", page)
	}
	s = newShelf()
	s.write("bead/pattern.toml", "title = ")
	page = s.page(t, "bead/index.html")
	if !strings.Contains(page, "There are errors, and no earlier state without them.") || len(found(page)) == 0 {
		t.Errorf("the page of a pattern that can't be read:\n%s", page)
	}
	if list := s.page(t, Index); strings.Contains(list, `href="bead/`) || !strings.Contains(list, `href="other/`) {
		t.Error("the list has the pattern that can't be shown, or lacks the one that can")
	}
	for _, name := range []string{"bead/chart-bead.svg", "nothing/index.html", "nothing.html", "../site.go"} {
		if _, err := s.preview.File(name); !errors.Is(err, fs.ErrNotExist) {
			t.Errorf("%s: %v", name, err)
		}
	}
	s.write("book.toml", "title = ")
	var first Preview
	_, findings := pattern.LoadBook(s.files, ".")
	first.Show(State{Findings: findings, Version: "x"})
	data, err := first.File(Index)
	if err != nil || !strings.Contains(string(data), "book.toml:1:") {
		t.Errorf("a book that can't be read: %v\n%s", err, data)
	}
}

// TestPreviewSame checks that a preview of a sound book has the files of the
// site, and differs only by what brings in its script and style.
func TestPreviewSame(t *testing.T) {
	s := newShelf()
	s.write("", "")
	book, opt := load(t, s.files)
	site := build(t, book, opt)
	live := regexp.MustCompile(`\n<link [^\n]*/\.preview/preview\.css">\n<script src="/\.preview/preview\.js" data-version="i" defer></script>`)
	err := fs.WalkDir(site, ".", func(name string, d fs.DirEntry, err error) error {
		if err != nil || d.IsDir() || name == manifestName {
			return err
		}
		built, shown := read(t, site, name), s.page(t, name)
		if strings.Contains(built, ".preview") {
			t.Errorf("%s of the site has what belongs to a preview", name)
		}
		shown = live.ReplaceAllString(shown, "")
		if name == "404.html" { // a server shows it anywhere, so its links are full
			shown = strings.ReplaceAll(shown, `href="/`, `href="`+book.Address)
		}
		if shown != built {
			t.Errorf("%s of the preview differs from that of the site", name)
		}
		return nil
	})
	if err != nil {
		t.Fatal(err)
	}
}
