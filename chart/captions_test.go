package chart

import (
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
