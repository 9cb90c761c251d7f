package chart

import (
	"bytes"
	"encoding/xml"
	"regexp"
	"slices"
	"strings"
	"testing"

	"roundelay/pattern"
	"roundelay/pattern/notation"
)

var verb = regexp.MustCompile(`%[a-z]`)

// TestCaptions checks that every caption is there in every language, with the
// same things to put in.
func TestCaptions(t *testing.T) {
	if n := len(notation.Languages()) - 1; n != len(captions["magic ring"]) {
		t.Fatalf("there are %d languages beside English", n)
	}
	for english, of := range captions {
		want := verb.FindAllString(english, -1)
		for i, caption := range of {
			if caption == "" || caption == english || !slices.Equal(verb.FindAllString(caption, -1), want) {
				t.Errorf("%s: %q is %q", notation.Languages()[i+1], english, caption)
			}
		}
	}
}

// TestLanguage checks that key, captions and sentences are in the language asked
// for, and that the drawing is tidy in each.
func TestLanguage(t *testing.T) {
	rounds := worked(ball(6, 4, 2)...)
	p := piece(pattern.Spiral, rounds)
	texts := func(opt Options) string {
		root := parseSVG(t, drawn(t, p, opt))
		checkTidy(t, opt.Language, root)
		var b strings.Builder
		root.walk(func(e *element) {
			if e.name == "text" || e.name == "title" {
				b.WriteString(e.text + "\n")
			}
		})
		return b.String()
	}
	english := texts(Options{View: Halves})
	for _, lang := range notation.Languages()[1:] {
		opt := Options{View: Halves, Language: lang}
		got := texts(opt)
		for _, line := range strings.Split(english, "\n") {
			if strings.Count(line, " ") > 1 && strings.Contains(got, line) {
				t.Errorf("%s: %q is English", lang, line)
			}
		}
		if name := opt.wording().Term(rounds[0].Stitches[0].Kind); !strings.Contains(got, name+"\n") {
			t.Errorf("%s: the key lacks %q", lang, name)
		}
	}
	for lang, want := range map[string]string{"de-AT": "feste Masche\n", "xx": "single crochet\n"} {
		if got := texts(Options{Language: lang}); !strings.Contains(got, want) {
			t.Errorf("%s: the key lacks %q", lang, want)
		}
	}
}

// TestKey checks that the list for a page has an entry for each symbol, in the
// words of the key of the chart, and draws none as a stitch.
func TestKey(t *testing.T) {
	for _, s := range samples {
		p := piece(s.style, worked(s.specs...))
		for _, opt := range []Options{{}, {Hand: Left, Guide: 5}, {Language: "de"}} {
			var list bytes.Buffer
			if err := Key(&list, &pattern.Pattern{}, p, opt); err != nil {
				t.Fatal(err)
			}
			var root struct {
				Entries []struct {
					Text string `xml:",chardata"`
					SVG  struct {
						Inner string `xml:",innerxml"`
					} `xml:"svg"`
				} `xml:"li"`
			}
			if err := xml.Unmarshal(list.Bytes(), &root); err != nil {
				t.Fatal(err)
			}
			sc, err := newScene(&pattern.Pattern{}, p, opt)
			if err != nil {
				t.Fatal(err)
			}
			if len(root.Entries) != len(sc.entries) {
				t.Fatalf("%s: %d entries, want %d", s.name, len(root.Entries), len(sc.entries))
			}
			for i, e := range root.Entries {
				if got := strings.TrimSpace(e.Text); got != sc.entries[i].text {
					t.Errorf("%s: %q, want %q", s.name, got, sc.entries[i].text)
				}
				if !strings.Contains(e.SVG.Inner, "<path") || strings.Contains(e.SVG.Inner, "<use") {
					t.Errorf("%s: %q is drawn as %q", s.name, e.Text, e.SVG.Inner)
				}
			}
		}
	}
}
