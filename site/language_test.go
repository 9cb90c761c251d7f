package site

import (
	"fmt"
	"io/fs"
	"os"
	"regexp"
	"slices"
	"strings"
	"testing"
	"testing/fstest"

	"roundelay/pattern"
	"roundelay/pattern/golden"
	"roundelay/pattern/notation"
)

// tongues are the languages of labels.
func tongues() []string { return notation.Languages()[1:] }

var verb = regexp.MustCompile(`%[a-z%]`)

// TestLabels checks that a label is there in every language, and takes what the
// English one takes, in the same order.
func TestLabels(t *testing.T) {
	if n := len(tongues()); n != 9 {
		t.Fatalf("rounds are written in %d languages, labels are in 9", n)
	}
	for key, own := range labels {
		for i, code := range tongues() {
			if strings.TrimSpace(own[i]) == "" {
				t.Errorf("%q is missing in %s", key, code)
			}
			if want, got := verb.FindAllString(key, -1), verb.FindAllString(own[i], -1); !slices.Equal(want, got) {
				t.Errorf("%q in %s, %q, takes %v, not %v", key, code, own[i], got, want)
			}
		}
	}
}

// sources returns the text of the templates and of this package, without that
// of labels and of tests.
func sources(t *testing.T) string {
	t.Helper()
	var b strings.Builder
	for _, dir := range []string{".", "../templates"} {
		names, err := fs.Glob(os.DirFS(dir), "*.*")
		if err != nil {
			t.Fatal(err)
		}
		for _, name := range names {
			if name == "labels.go" || name == "language.go" || strings.HasSuffix(name, "_test.go") {
				continue
			}
			text, err := os.ReadFile(dir + "/" + name)
			if err != nil {
				t.Fatal(err)
			}
			b.Write(text)
		}
	}
	return b.String()
}

// TestLabelsUsed checks that all that is said is a label, and that every label
// is said.
func TestLabelsUsed(t *testing.T) {
	text := sources(t)
	said := regexp.MustCompile(`[^"\w]say[( ]("(?:[^"\\]|\\.)*")`).FindAllStringSubmatch(text, -1)
	if len(said) < 50 {
		t.Fatalf("only %d labels are said", len(said))
	}
	for _, m := range said {
		if key := strings.Trim(m[1], `"`); labels[key] == [9]string{} {
			t.Errorf("%q is said, and no label", key)
		}
	}
	for _, word := range doWords {
		if word != "" && labels[word] == [9]string{} {
			t.Errorf("%q is no label", word)
		}
	}
	elsewhere := []string{"Basic", "Easy", "Intermediate", "Complex"} // levels
	for b := pattern.ByStitch; b <= pattern.Weighed; b++ {
		elsewhere = append(elsewhere, b.String())
	}
	for key := range labels {
		if !strings.Contains(text, `"`+key+`"`) && !slices.Contains(elsewhere, key) {
			t.Errorf("the label %q is never said", key)
		}
	}
	for _, key := range elsewhere {
		if labels[key] == [9]string{} {
			t.Errorf("%q is no label", key)
		}
	}
}

func TestLanguage(t *testing.T) {
	german := languageOf("de-AT")
	for _, test := range []struct{ got, want string }{
		{german.say("Materials"), "Material"},
		{german.say("class %d", 3), "Klasse 3"},
		{german.say("no such label"), "no such label"},
		{german.number(3.25), "3,25"},
		{german.length(52), "5\u00a0cm"},
		{german.stitches(6), "6 Maschen"},
		{languageOf("en-GB").say("Materials"), "Materials"},
		{languageOf("cy").say("Materials"), "Materials"},
		{languageOf("").say("%d sizes", 2), "2 sizes"},
	} {
		if test.got != test.want {
			t.Errorf("got %q, want %q", test.got, test.want)
		}
	}
}

// beadsIn returns the site of a book of one bead in a language.
func beadsIn(t *testing.T, code string) fs.FS {
	t.Helper()
	book, opt := load(t, fstest.MapFS{
		"book.toml":         {Data: fmt.Appendf(nil, "title = \"Glas\"\nauthor = \"A. M.\"\nlanguage = %q\n", code)},
		"bead/pattern.toml": {Data: []byte(bead)},
		"bead/prose.md":     {Data: []byte("Glas.\n")},
	})
	return build(t, book, opt)
}

// TestOwnLanguage checks that pages of a book in another language have no
// English label, and have rounds and abbreviations in that language.
func TestOwnLanguage(t *testing.T) {
	for i, code := range tongues() {
		site := beadsIn(t, code)
		for _, name := range []string{"index.html", "404.html", "bead/index.html", "bead/us.html", "bead/uk.html", "bead/left.html", "bead/large.html", "bead/circles.html", "bead/colours.html"} {
			if _, err := fs.Stat(site, name); err != nil && strings.Contains(name, "circles") {
				continue // of a bead that begins too small
			}
			page := read(t, site, name)
			if !strings.Contains(page, `<html lang="`+code+`">`) {
				t.Errorf("%s does not say that it is in %s", name, code)
			}
			for key, own := range labels {
				if key == "First published." {
					continue // the maker says so, too
				}
				if own[i] != key && (strings.Contains(page, ">"+key+"<") || strings.Contains(page, `aria-label="`+key+`"`)) {
					t.Errorf("%s in %s has the English label %q", name, code, key)
				}
			}
		}
		if _, err := fs.Stat(site, "bead/plain.html"); err == nil {
			t.Errorf("there is a page with whole words in %s", code)
		}
		page := read(t, site, "bead/index.html")
		pattern, _ := load(t, fstest.MapFS{"pattern.toml": {Data: []byte(bead)}})
		rounds := pattern.Patterns[0].Sizes[0].Pieces[0].Rounds
		wording := notation.Wording{Language: code}
		for _, line := range notation.Print(rounds[:2], nil, wording) {
			if !strings.Contains(page, line.Label+"</a>") || !strings.Contains(page, `<p class="words">`+strings.ReplaceAll(line.Text, "'", "&#39;")+"</p>") {
				t.Errorf("the page in %s lacks %v", code, line)
			}
		}
		for _, a := range notation.Abbreviations(rounds, wording) {
			if a.Abbr != "" && !strings.Contains(page, "<dt>"+a.Abbr+"</dt>") {
				t.Errorf("the page in %s does not explain %s", code, a.Abbr)
			}
		}
		if us := read(t, site, "bead/us.html"); !strings.Contains(us, `<p class="words" lang="en">6 sc in magic ring</p>`) {
			t.Errorf("the page in US names of a book in %s has other rounds", code)
		}
	}
}

// TestGermanPage keeps a page in view.
func TestGermanPage(t *testing.T) {
	site := beadsIn(t, "de")
	golden.Check(t, "bead-de.html", drawings.ReplaceAll([]byte(read(t, site, "bead/index.html")), []byte("[drawing]")))
	golden.Check(t, "bead-de.txt", []byte(read(t, site, "bead/bead.txt")))
}
