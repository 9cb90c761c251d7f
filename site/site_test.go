package site

import (
	"bytes"
	"encoding/xml"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"net/url"
	"os"
	"path"
	"path/filepath"
	"regexp"
	"strconv"
	"strings"
	"sync"
	"testing"
	"testing/fstest"

	"github.com/google/go-cmp/cmp"

	"roundelay/pattern"
	"roundelay/pattern/golden"
	"roundelay/pattern/source"
)

// load returns the book in files, which must be sound, and how to build it.
func load(t *testing.T, files fs.FS) (*pattern.Book, Options) {
	t.Helper()
	book, findings := pattern.LoadBook(files, ".")
	if book == nil || findings.Count(source.Error) > 0 {
		t.Fatalf("the book is not sound:\n%v", findings)
	}
	return book, Options{Files: files}
}

func demo(t *testing.T) (*pattern.Book, Options) {
	t.Helper()
	return load(t, os.DirFS("../testdata/book"))
}

// A demoSite is the site of the demo book, for the tests that only look at it.
type demoSite struct {
	book  *pattern.Book
	files fstest.MapFS
	pages map[string][]element
}

var buildDemo = sync.OnceValues(func() (*demoSite, error) {
	book, findings := pattern.LoadBook(os.DirFS("../testdata/book"), ".")
	if err := findings.Err(); err != nil {
		return nil, err
	}
	s := &demoSite{book, fstest.MapFS{}, map[string][]element{}}
	b := newBuilder(book, Options{Files: os.DirFS("../testdata/book")}, func(name string, data []byte) (err error) {
		s.files[name] = &fstest.MapFile{Data: data}
		if path.Ext(name) == ".html" {
			s.pages[name], err = elements(string(data))
		}
		return err
	})
	return s, b.all()
})

// demoBuilt returns the site of the demo book, which is built once.
func demoBuilt(t *testing.T) *demoSite {
	t.Helper()
	s, err := buildDemo()
	if err != nil {
		t.Fatal(err)
	}
	return s
}

// build returns the site of a book as a file system.
func build(t *testing.T, book *pattern.Book, opt Options) fs.FS {
	t.Helper()
	out := filepath.Join(t.TempDir(), "out")
	if err := Build(book, out, opt); err != nil {
		t.Fatal(err)
	}
	return os.DirFS(out)
}

func read(t *testing.T, site fs.FS, name string) string {
	t.Helper()
	data, err := fs.ReadFile(site, name)
	if err != nil {
		t.Fatal(err)
	}
	return string(data)
}

// bead is a pattern with a little of everything.
const bead = `
title   = "Glass bead"
summary = "A bead to try things with."
version = "1.1"
date    = 2026-02-03
terms   = "US"
level   = "basic"
for     = "3 years and over"
licence = "CC BY 4.0"
finished_items = "You may sell what you make."
finished_size  = "2 cm across"
contact = "bead@example.org"
notes     = ["Worked tightly."]
materials = ["Bead eyes, 4 mm"]
finishing = ["Hide the end."]
care      = "Wash cold."

[gauge]
stitch   = "sc"
stitches = 24
rounds   = 26
over     = "4 in"

[hook]
size = "2.5 mm"

[[yarn]]
key    = "A"
colour = "sea green"
hex    = "#4f8f7f"
weight = 2
fibre  = "cotton"
metres_per_100g = 340
grams  = 1.5

[[piece]]
name   = "Bead"
rounds = '''
Rnd 1: 6 sc in magic ring (6)
Rnd 2: inc in each st around (12)
Rnds 3-5: sc in each st around (12)
Rnd 6: dec x 6 (6)
'''

[[piece.step]]
after = 4
do    = "eyes"
say   = "Sew the eyes on between rounds 3 and 4."

[[piece.step]]
after = 5
do    = "stuff"

[[piece.step]]
after = 6
do    = "close"
say   = "Close the hole."

[[change]]
version = "1.1"
date    = 2026-02-03
say     = "Round 6: six decreases, not five."

[[change]]
version = "1.0"
date    = 2026-01-02
say     = "First published."
`

func beads(t *testing.T) (*pattern.Book, Options) {
	t.Helper()
	return load(t, fstest.MapFS{
		"book.toml":          {Data: []byte("title = \"Small glass\"\nauthor = \"A. Maker\"\naddress = \"https://beads.example/\"\nlicence = \"CC BY 4.0\"\n")},
		"bead/pattern.toml":  {Data: []byte(bead)},
		"bead/prose.md":      {Data: []byte("It rolls.\n\nAnd *rolls*.\n")},
		"other/pattern.toml": {Data: []byte("title = \"Other\"\nterms = \"UK\"\n[[piece]]\nname = \"Bead\"\nrounds = '''\nRnd 1: 6 dc in magic ring (6)\n'''\n")},
	})
}

var drawings = regexp.MustCompile(`(?s)<svg.*?</svg>`)

func TestPage(t *testing.T) {
	book, opt := beads(t)
	site := build(t, book, opt)
	golden.Check(t, "bead.html", drawings.ReplaceAll([]byte(read(t, site, "bead/index.html")), []byte("[drawing]")))
	golden.Check(t, "bead-plain.html", roundsOf(t, read(t, site, "bead/plain.html")))
	golden.Check(t, "bead.txt", []byte(read(t, site, "bead/bead.txt")))
	golden.Check(t, "index.html", []byte(read(t, site, "index.html")))
	golden.Check(t, "feed.xml", []byte(read(t, site, "feed.xml")))
	golden.Check(t, "sitemap.xml", []byte(read(t, site, "sitemap.xml")))
}

// roundsOf returns the list of rounds on a page.
func roundsOf(t *testing.T, page string) []byte {
	t.Helper()
	_, rest, ok := strings.Cut(page, `<ol class="rounds">`)
	list, _, ok2 := strings.Cut(rest, "</ol>")
	if !ok || !ok2 {
		t.Fatal("the page has no rounds")
	}
	return []byte(list)
}

// TestSameBytes checks that a second build gives the same bytes, in a folder.
func TestSameBytes(t *testing.T) {
	book, opt := demo(t)
	out := filepath.Join(t.TempDir(), "out")
	if err := Build(book, out, opt); err != nil {
		t.Fatal(err)
	}
	want := map[string]string{}
	for name, file := range demoBuilt(t).files {
		want[name] = string(file.Data)
	}
	got := tree(t, out)
	delete(got, manifestName)
	if diff := cmp.Diff(want, got); diff != "" {
		t.Errorf("two builds (-first +second):\n%s", diff)
	}
}

// An element is one start tag of a page.
type element struct {
	name string
	attr map[string]string
}

// elements returns the start tags of a page, in order.
func elements(page string) ([]element, error) {
	d := xml.NewDecoder(strings.NewReader(page))
	d.Strict, d.AutoClose, d.Entity = false, xml.HTMLAutoClose, xml.HTMLEntity
	var out []element
	for {
		token, err := d.Token()
		if errors.Is(err, io.EOF) {
			return out, nil
		}
		if err != nil {
			return nil, err
		}
		if s, ok := token.(xml.StartElement); ok {
			e := element{s.Name.Local, map[string]string{}}
			for _, a := range s.Attr {
				e.attr[a.Name.Local] = a.Value
			}
			out = append(out, e)
		}
	}
}

// pages calls f with every page of a site.
func pages(t *testing.T, site fs.FS, f func(name string, page []element)) {
	t.Helper()
	names, err := fs.Glob(site, "*.html")
	if err != nil {
		t.Fatal(err)
	}
	below, err := fs.Glob(site, "*/*.html")
	if err != nil {
		t.Fatal(err)
	}
	for _, name := range append(names, below...) {
		page, err := elements(read(t, site, name))
		if err != nil {
			t.Fatal(err)
		}
		f(name, page)
	}
}

// TestLinks follows every link of every page of the demo book: to a file of the
// site, to an id that is there once, or to the world outside from the few
// places that may lead there.
func TestLinks(t *testing.T) {
	demo := demoBuilt(t)
	ids := map[string]map[string]int{}
	for name, page := range demo.pages {
		ids[name] = map[string]int{}
		for _, e := range page {
			if id, ok := e.attr["id"]; ok {
				if ids[name][id]++; ids[name][id] > 1 {
					t.Errorf("%s: the id %s stands twice", name, id)
				}
			}
		}
	}
	links := 0
	for name, page := range demo.pages {
		for _, e := range page {
			for _, key := range []string{"href", "src"} {
				address, ok := e.attr[key]
				if !ok {
					continue
				}
				links++
				own, outside := strings.CutPrefix(address, demo.book.Address)
				switch {
				case e.attr["rel"] == "canonical":
					if own != name || !outside {
						t.Errorf("%s: its address is %s", name, address)
					}
					continue
				case strings.HasPrefix(address, "mailto:"):
					continue
				case name == "404.html" && outside:
					address = own
				}
				u, err := url.Parse(address)
				if err != nil || u.Scheme != "" || u.Host != "" || strings.HasPrefix(u.Path, "/") {
					t.Errorf("%s: %s leads out of the site", name, address)
					continue
				}
				to := name
				if u.Path != "" {
					to = path.Join(path.Dir(name), u.Path)
				}
				if info, err := fs.Stat(demo.files, to); err != nil || info.IsDir() {
					t.Errorf("%s: %s leads nowhere", name, address)
				}
				if u.Fragment != "" && e.name != "use" && ids[to][u.Fragment] != 1 {
					t.Errorf("%s: there is no %s", name, address)
				}
				if e.name == "use" && ids[name][u.Fragment] != 1 {
					t.Errorf("%s: the symbol %s is not defined once", name, u.Fragment)
				}
			}
		}
	}
	if links < 1000 {
		t.Errorf("only %d links were followed", links)
	}
}

// TestHeadings checks that headings go down by one level at a time, and that
// every picture has words.
func TestHeadings(t *testing.T) {
	for name, page := range demoBuilt(t).pages {
		level, tops := 0, 0
		for _, e := range page {
			if len(e.name) == 2 && e.name[0] == 'h' && e.name[1] >= '1' && e.name[1] <= '6' {
				n := int(e.name[1] - '0')
				if n > level+1 {
					t.Errorf("%s: h%d after h%d", name, n, level)
				}
				level = n
				if n == 1 {
					tops++
				}
			}
			if _, ok := e.attr["alt"]; e.name == "img" && !ok {
				t.Errorf("%s: %s has no words", name, e.attr["src"])
			}
		}
		if tops != 1 {
			t.Errorf("%s has %d headings of the first level", name, tops)
		}
	}
}

// TestEveryRound checks on every page of every pattern that each round of each
// piece and size has one address and one box to tick, whatever words it is in,
// and that counts and charts are the same on all pages.
func TestEveryRound(t *testing.T) {
	demo := demoBuilt(t)
	for _, p := range demo.book.Patterns {
		w := &work{p: p}
		counts := map[string]string{}
		for _, v := range english.variants(p) {
			name := path.Join(p.Slug, v.file)
			page := demo.pages[name]
			ids, ticks := map[string]int{}, map[string]int{}
			var rings strings.Builder
			for _, e := range page {
				ids[e.attr["id"]]++
				ticks[e.attr["data-tick"]]++
				if n, ok := e.attr["data-count"]; ok {
					fmt.Fprintf(&rings, "%s:%s ", e.attr["data-round"], n)
				}
			}
			counts[v.file] = rings.String()
			rounds := 0
			w.each(func(size *pattern.Size, piece *pattern.Piece) {
				for _, r := range piece.Rounds {
					rounds++
					if id := w.roundID(size, piece, r.Number); ids[id] != 1 {
						t.Errorf("%s: %d elements have the address %s", name, ids[id], id)
					}
					if key := w.key(size, piece) + " " + strconv.Itoa(r.Number); ticks[key] != 1 {
						t.Errorf("%s: round %s has %d boxes to tick", name, key, ticks[key])
					}
				}
			})
			if n := strings.Count(counts[v.file], ":"); n != rounds {
				t.Errorf("%s: %d rounds, %d rings", name, rounds, n)
			}
			if counts[v.file] != counts[Index] {
				t.Errorf("%s: the charts have other counts than on %s", name, Index)
			}
		}
	}
}

// TestNoClaims checks that no page says what a pattern cannot promise.
func TestNoClaims(t *testing.T) {
	claim := regexp.MustCompile(`(?i)\b(is|are|be) safe\b|\bsafe for\b|child-?safe|\bcompl(y|ies|iant)\b|\bcertified\b`)
	for name, file := range demoBuilt(t).files {
		if found := claim.Find(file.Data); found != nil {
			t.Errorf("%s says %q", name, found)
		}
	}
}

// TestEscapes puts markup wherever a maker can put words, and looks for it as
// markup.
func TestEscapes(t *testing.T) {
	const evil = `<script>alert(1)</script>`
	const attr = `" onclick="alert(2)" x="`
	hostile := strings.NewReplacer(
		`"Glass bead"`, `'Glass `+evil+attr+`bead'`,
		`"A bead to try things with."`, `'`+evil+attr+`'`,
		`"1.1"`, `'`+evil+`}</style>'`,
		`"CC BY 4.0"`, `'`+evil+attr+`'`,
		`"You may sell what you make."`, `'`+evil+`'`,
		`"2 cm across"`, `'`+evil+attr+`'`,
		`"bead@example.org"`, `'javascript:alert(3)'`,
		`"Worked tightly."`, `'`+evil+`'`, `"Bead eyes, 4 mm"`, `'`+evil+`'`, `"Hide the end."`, `'`+evil+`'`,
		`"Wash cold."`, `'`+evil+`'`, `"sea green"`, `'`+evil+attr+`'`, `"cotton"`, `'`+evil+`'`,
		`"Bead"`, `'Bead `+evil+attr+`'`,
		`"Close the hole."`, `'`+evil+`'`, `"First published."`, `'`+evil+`'`,
		`"3 years and over"`, `'`+evil+`'`,
	).Replace(bead)
	book, opt := load(t, fstest.MapFS{
		"book.toml":         {Data: []byte("title = '" + evil + attr + "'\nsummary = '" + evil + attr + "'\nauthor = '" + evil + attr + "'\naddress = 'https://x.example/'\n")},
		"bead/pattern.toml": {Data: []byte(hostile)},
		"bead/prose.md":     {Data: []byte("# " + evil + "\n\n" + evil + " <b onclick='alert(4)'>x</b> [x](javascript:alert(5))\n\n```rounds from=1 to=2\n" + evil + "\n```\n")},
	})
	site := build(t, book, opt)
	pages(t, site, func(name string, page []element) {
		for _, e := range page {
			if e.name == "script" && e.attr["src"] == "" {
				t.Errorf("%s has a script of the maker's", name)
			}
			for key, value := range e.attr {
				if strings.HasPrefix(key, "on") {
					t.Errorf("%s: %s has %s=%q", name, e.name, key, value)
				}
				if strings.HasPrefix(strings.TrimSpace(value), "javascript:") {
					t.Errorf("%s: %s leads to %s", name, e.name, value)
				}
			}
		}
	})
	for _, name := range []string{"feed.xml", "sitemap.xml", "bead/chart-bead-script-alert-1-script-onclick-alert-2-x.svg"} {
		wellFormed(t, name, read(t, site, name))
	}
}

// wellFormed checks that text is XML without elements that run.
func wellFormed(t *testing.T, name, text string) {
	t.Helper()
	d := xml.NewDecoder(strings.NewReader(text))
	for {
		token, err := d.Token()
		if errors.Is(err, io.EOF) {
			return
		}
		if err != nil {
			t.Errorf("%s: %v", name, err)
			return
		}
		if s, ok := token.(xml.StartElement); ok {
			if s.Name.Local == "script" {
				t.Errorf("%s has a script", name)
			}
			seen := map[xml.Name]bool{}
			for _, a := range s.Attr {
				if seen[a.Name] {
					t.Errorf("%s: %s has %s twice", name, s.Name.Local, a.Name.Local)
				}
				seen[a.Name] = true
			}
		}
	}
}

// TestProse checks that rounds stand where the prose wants them, once.
func TestProse(t *testing.T) {
	book, opt := load(t, fstest.MapFS{
		"bead/pattern.toml": {Data: []byte(bead)},
		"bead/prose.md": {Data: []byte("Begin small.\n\n```rounds to=2\nThe start.\n```\n\nGo on.\n\n```rounds from=3\n```\n\n" +
			"```chart\nAll of it.\n```\n\n```gauge\n```\n\nAgain:\n\n```rounds to=1\n```\n")},
		"book.toml": {Data: []byte("title = 'x'\n")},
	})
	page := read(t, build(t, book, opt), "bead/index.html")
	at := -1
	for _, part := range []string{"Begin small.", "Rnd 1", "Rnd 2", "The start.", "Go on.", "Rnds 3-4", "Sew the eyes", "Rnd 5", "Rnd 6", "Close the hole", `<figure class="chart-figure">`, "All of it.", "24 sc and 26 rounds", "Again:", "Rnd 1", `id="finishing"`} {
		i := strings.Index(page[at+1:], part)
		if i < 0 {
			t.Fatalf("no %q after what comes before it:\n%s", part, page[max(at, 0):])
		}
		at += 1 + i
	}
	for n := 1; n <= 6; n++ {
		if got := strings.Count(page, fmt.Sprintf(`id="r%d"`, n)); got != 1 {
			t.Errorf("round %d has %d addresses", n, got)
		}
	}
	if strings.Contains(page, `class="side-by-side"`) {
		t.Error("the rounds stand a second time below the prose")
	}
}

func TestBuildErrors(t *testing.T) {
	picture := func(data string) func(*testing.T) (*pattern.Book, Options) {
		return func(t *testing.T) (*pattern.Book, Options) {
			return load(t, fstest.MapFS{
				"book.toml":         {Data: []byte("title = 'x'\n")},
				"bead/pattern.toml": {Data: []byte(bead + "\n[[photo]]\nfile = 'a.svg'\nalt = 'A bead on a table.'\n")},
				"bead/a.svg":        {Data: []byte(data)},
			})
		}
	}
	for _, test := range []struct {
		name string
		book func(*testing.T) (*pattern.Book, Options)
		want string
	}{
		{"a drawing with a script", picture(`<svg xmlns="http://www.w3.org/2000/svg"><script>1</script></svg>`), "bead/a.svg has an element script"},
		{"a drawing that acts", picture(`<svg xmlns="http://www.w3.org/2000/svg" onload="x()"/>`), "has an attribute onload"},
		{"a drawing that fetches", picture(`<svg xmlns="http://www.w3.org/2000/svg"><image href="https://x.example/a.png"/></svg>`), "may refer to its own parts only"},
		{"a drawing whose style fetches", picture(`<svg xmlns="http://www.w3.org/2000/svg"><style>@import url(https://x.example/a.css);</style></svg>`), "may refer to its own parts only"},
		{"a drawing that is none", picture(`<svg`), "is not sound SVG"},
		{"a piece without rounds", func(t *testing.T) (*pattern.Book, Options) {
			book, opt := beads(t)
			book.Patterns[0].Sizes[0].Pieces[0].Rounds = nil
			return book, opt
		}, "Bead has no rounds to draw"},
	} {
		t.Run(test.name, func(t *testing.T) {
			book, opt := test.book(t)
			out := filepath.Join(t.TempDir(), "out")
			err := Build(book, out, opt)
			if err == nil || !strings.Contains(err.Error(), test.want) {
				t.Errorf("got error %v, want one with %q", err, test.want)
			}
			entries, readErr := os.ReadDir(filepath.Dir(out))
			if readErr != nil || len(entries) > 0 {
				t.Errorf("left behind: %v %v", entries, readErr)
			}
		})
	}
}

func TestProgress(t *testing.T) {
	book, opt := beads(t)
	var told []string
	opt.Progress = func(name string) { told = append(told, name) }
	site := build(t, book, opt)
	for _, name := range told {
		if _, err := fs.Stat(site, name); err != nil {
			t.Error(err)
		}
	}
	manifest := strings.Count(read(t, site, manifestName), "\n")
	if manifest != len(told) {
		t.Errorf("%d files were told, %d are listed", len(told), manifest)
	}
}

// TestWithoutAddress checks a book that does not say where it is published: its
// feed has names that last, and there is no site map.
func TestWithoutAddress(t *testing.T) {
	book, opt := beads(t)
	book.Address = ""
	site := build(t, book, opt)
	if _, err := fs.Stat(site, "sitemap.xml"); err == nil {
		t.Error("there is a site map without addresses")
	}
	ids := regexp.MustCompile(`<id>(.*?)</id>`).FindAllStringSubmatch(read(t, site, "feed.xml"), -1)
	seen := map[string]bool{}
	for _, id := range ids {
		if !regexp.MustCompile(`^urn:uuid:[0-9a-f]{8}-[0-9a-f]{4}-5[0-9a-f]{3}-[89ab][0-9a-f]{3}-[0-9a-f]{12}$`).MatchString(id[1]) || seen[id[1]] {
			t.Errorf("the id %s", id[1])
		}
		seen[id[1]] = true
	}
	if len(ids) != 3 {
		t.Errorf("%d ids, want those of the feed and of two versions", len(ids))
	}
	var all bytes.Buffer
	pages(t, site, func(name string, _ []element) { all.WriteString(read(t, site, name)) })
	if strings.Contains(all.String(), "canonical") {
		t.Error("a page without an address says what it is")
	}
}

func BenchmarkBuild(b *testing.B) {
	files := os.DirFS("../testdata/book")
	book, findings := pattern.LoadBook(files, ".")
	if findings.Count(source.Error) > 0 {
		b.Fatal(findings)
	}
	out := filepath.Join(b.TempDir(), "out")
	for b.Loop() {
		if err := Build(book, out, Options{Files: files}); err != nil {
			b.Fatal(err)
		}
	}
}

// TestQuotedRounds checks that some of the rounds in the prose are quoted
// there, while all of them have their place and addresses below the chart.
func TestQuotedRounds(t *testing.T) {
	book, opt := load(t, fstest.MapFS{
		"bead/pattern.toml": {Data: []byte(bead)},
		"bead/prose.md":     {Data: []byte("A story.\n\n```rounds from=2 to=5\n```\n\n```steps\n```\n")},
		"book.toml":         {Data: []byte("title = 'x'\n")},
	})
	page := read(t, build(t, book, opt), "bead/index.html")
	for n := 1; n <= 6; n++ {
		if got := strings.Count(page, fmt.Sprintf(`id="r%d"`, n)); got != 1 {
			t.Errorf("round %d has %d addresses", n, got)
		}
	}
	_, story, ok := strings.Cut(page, "A story.")
	if !ok || !strings.Contains(page[:len(page)-len(story)], `class="side-by-side"`) {
		t.Fatal("the story does not come after the rounds")
	}
	story, _, _ = strings.Cut(story, "</section>")
	for part, want := range map[string]int{"Rnd 1": 0, "Rnd 2": 1, "Rnds 3-4": 1, "Rnd 5": 1, "Rnd 6": 0, "checkbox": 0,
		"Sew the eyes": 2, "Stuff.": 2, "Close the hole": 1} {
		if got := strings.Count(story, part); got != want {
			t.Errorf("%q stands in the story %d times, want %d", part, got, want)
		}
	}
}

// TestNames checks that a page in other names has none of the maker's names in
// what this package writes, and says whose names her own words have.
func TestNames(t *testing.T) {
	book, opt := beads(t)
	site := build(t, book, opt)
	own, other := read(t, site, "bead/index.html"), read(t, site, "bead/uk.html")
	rounds := string(roundsOf(t, other))
	if !strings.Contains(rounds, "6 dc in magic ring") || regexp.MustCompile(`\bsc\b`).MatchString(rounds) {
		t.Errorf("the rounds in UK names:\n%s", rounds)
	}
	for _, part := range []string{"UK: double crochet is dc", "24 dc and 26 rounds", "<dt>dc</dt><dd>double crochet</dd>", `Notes <small>in US names</small>`} {
		if !strings.Contains(other, part) {
			t.Errorf("the page in UK names lacks %q", part)
		}
	}
	if strings.Contains(other, "single crochet") {
		t.Error("the page in UK names has single crochet on it")
	}
	if strings.Contains(own, "in US names</small>") {
		t.Error("the page in the maker's names says whose they are")
	}
}
