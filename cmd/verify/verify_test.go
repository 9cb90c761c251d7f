package main

import (
	"bytes"
	"errors"
	"fmt"
	"image"
	"image/color"
	"image/png"
	"math"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"testing/fstest"

	"roundelay/chart"
	"roundelay/pattern/notation"
	"roundelay/pattern/stitch"
)

// wantError fails the test unless err holds the words; "" wants no error.
func wantError(t *testing.T, err error, words string) {
	t.Helper()
	switch {
	case words == "" && err != nil:
		t.Errorf("got %v, want no error", err)
	case words != "" && err == nil:
		t.Errorf("got no error, want one with %q", words)
	case words != "" && !strings.Contains(err.Error(), words):
		t.Errorf("got %v, want an error with %q", err, words)
	}
}

func TestWellFormed(t *testing.T) {
	for _, test := range []struct{ name, xml, want string }{
		{"sound", `<?xml version="1.0"?><svg><g a="1" b="1"/></svg>`, ""},
		{"namespaces", `<svg xmlns:x="u" x:href="1" href="1"/>`, ""},
		{"attribute twice", "<svg>\n<g style=\"a\" style=\"b\"/></svg>", "2:25: attribute style is given twice"},
		{"not closed", `<svg><g></svg>`, "closed by </svg>"},
		{"ends early", `<svg>`, "unexpected EOF"},
		{"two roots", `<svg/><svg/>`, "2 root elements"},
		{"text outside", `<svg/>x`, "text outside"},
		{"bare ampersand", `<a href="?a=1&b=2"/>`, "invalid character entity"},
		{"empty", ``, "0 root elements"},
	} {
		t.Run(test.name, func(t *testing.T) { wantError(t, wellFormed([]byte(test.xml)), test.want) })
	}
}

func TestFollow(t *testing.T) {
	site := fstest.MapFS{
		"index.html":      {Data: []byte(`<p id="top"><i id="twice"></i><b id="twice"></b><a href="buoy/index.html#rnd-1">`)},
		"buoy/index.html": {Data: []byte(`<ol><li id="rnd-1"></ol><img src="a.png" srcset="a.png 1x, b.png 2x">`)},
		"style.css":       {},
	}
	pages, err := readPages(site)
	if err != nil {
		t.Fatal(err)
	}
	if got := strings.Join(pages["buoy/index.html"].addresses, " "); got != "a.png a.png b.png" {
		t.Errorf("addresses: %s", got)
	}
	for _, test := range []struct{ from, address, want string }{
		{"index.html", "buoy/index.html#rnd-1", ""},
		{"index.html", "#top", ""},
		{"index.html", "style.css", ""},
		{"index.html", "https://harbour.example/", ""},
		{"buoy/index.html", "../index.html#top", ""},
		{"index.html", "#rnd-1", "0 elements in index.html"},
		{"index.html", "#twice", "2 elements"},
		{"index.html", "buoy/", "leads to a folder"},
		{"index.html", "buoy", "no such file"},
		{"index.html", "../style.css", "no such file"},
		{"buoy/index.html", "/style.css", "begins at the root"},
		{"index.html", "//harbour.example/x", "not an address"},
		{"index.html", "javascript:alert(1)", "not an address"},
		{"index.html", "%zz", "invalid URL escape"},
	} {
		t.Run(test.from+" "+test.address, func(t *testing.T) {
			wantError(t, follow(pages[test.from], test.address, pages, site), test.want)
		})
	}
}

func TestReadNu(t *testing.T) {
	got, err := readNu([]byte(`{"messages":[
		{"type":"error","url":"file:/s/a.html","lastLine":3,"lastColumn":7,"message":"Stray end tag.","extract":"</p>"},
		{"type":"info","subType":"warning","url":"file:/s/a.html","lastLine":4,"lastColumn":1,"message":"Empty heading."},
		{"type":"info","url":"file:/s/b.html","message":"Trailing slash."}]}`))
	if err != nil {
		t.Fatal(err)
	}
	if len(got) != 1 || len(got["/s/a.html"]) != 2 || got["/s/a.html"][0] != "3:7: Stray end tag.: </p>" {
		t.Errorf("got %q", got)
	}
	_, err = readNu([]byte(`{"messages":[{"type":"non-document-error","message":"no such file"}]}`))
	wantError(t, err, "no such file")
}

func TestCountTests(t *testing.T) {
	var sum tally
	countTests([]testEvent{
		{Action: "pass", Package: "a", Test: "TestOne"},
		{Action: "pass", Package: "a"},
		{Action: "output", Package: "b", Test: "TestTwo", Output: "7, want 8"},
		{Action: "fail", Package: "b", Test: "TestTwo"},
		{Action: "fail", Package: "b"},
		{Action: "build-output", ImportPath: "c", Output: "undefined: x"},
		{Action: "build-fail", ImportPath: "c"},
	}, &sum)
	if want := []string{"b TestTwo: 7, want 8", "c: undefined: x"}; sum.passed != 1 || strings.Join(sum.failed, "|") != strings.Join(want, "|") {
		t.Errorf("passed %d, failed %q", sum.passed, sum.failed)
	}
}

func TestUnchanged(t *testing.T) {
	dir := t.TempDir()
	put := func(name, text string) {
		t.Helper()
		name = filepath.Join(dir, name)
		if err := errors.Join(os.MkdirAll(filepath.Dir(name), 0o755), os.WriteFile(name, []byte(text), 0o644)); err != nil {
			t.Fatal(err)
		}
	}
	put("kept", "1")
	put("edited", "1")
	put("dropped", "1")
	put(".git/index", "1")
	before, err := snapshot(dir)
	if err != nil {
		t.Fatal(err)
	}
	put(".git/index", "22")
	wantError(t, unchanged(dir, before), "")
	put("edited", "22")
	put("made/new", "1")
	if err := os.Remove(filepath.Join(dir, "dropped")); err != nil {
		t.Fatal(err)
	}
	wantError(t, unchanged(dir, before), "dropped is gone\nedited has changed\nmade is new\nmade/new is new")
}

func TestSameStitches(t *testing.T) {
	sc := notation.Stitch{Kind: stitch.SC}
	rounds := []*notation.Round{{Number: 1, Made: 2, Stitches: []notation.Stitch{sc, sc}}}
	shown := func(number, count int, kinds ...string) []shownRound {
		r := shownRound{Round: number, Count: count}
		for _, k := range kinds {
			r.Stitches = append(r.Stitches, shownStitch{Kind: k})
		}
		return []shownRound{r}
	}
	wantError(t, sameStitches(shown(1, 2, "sc", "sc"), rounds), "")
	wantError(t, sameStitches(shown(1, 2, "sc"), rounds), "-1 sc")
	wantError(t, sameStitches(shown(1, 2, "sc", "sc", "dc"), rounds), "+1 dc")
	wantError(t, sameStitches(shown(1, 3, "sc", "sc"), rounds), "as round 1 with 3")
	wantError(t, sameStitches(nil, rounds), "0 rounds are shown")
}

func TestInOrder(t *testing.T) {
	ring := func(number int, radius float64, turns ...float64) shownRound {
		r := shownRound{Round: number}
		for _, turn := range turns {
			sin, cos := math.Sincos(2 * math.Pi * turn)
			r.Stitches = append(r.Stitches, shownStitch{X: radius * cos, Y: -radius * sin})
		}
		return r
	}
	wantError(t, inOrder([]shownRound{ring(1, 10, 0.1, 0.4, 0.7), ring(2, 20, 0.3, 0.6, 0.9, 1.2)}, chart.Right), "")
	wantError(t, inOrder([]shownRound{ring(1, 10, 0.1, 0.4, 0.7), ring(2, 9, 0.1, 0.4, 0.7)}, chart.Right), "round 2 stands at 9.0")
	wantError(t, inOrder([]shownRound{ring(1, 10, 0.7, 0.4, 0.1)}, chart.Right), "round 1 runs -216 degrees")
	wantError(t, inOrder([]shownRound{ring(1, 10, 0, 0.4, 0.8, 1.2)}, chart.Right), "round 1 runs 432 degrees")
	wantError(t, inOrder([]shownRound{ring(1, 10, 0.7, 0.4, 0.1)}, chart.Left), "")
}

func TestAlike(t *testing.T) {
	draw := func(width int, marks ...image.Point) *image.Gray {
		img := image.NewRGBA(image.Rect(0, 0, width, 60))
		for _, at := range marks {
			for i := range 25 {
				img.Set(at.X+i%5, at.Y+i/5, color.Black)
			}
		}
		var b bytes.Buffer
		if err := png.Encode(&b, img); err != nil {
			t.Fatal(err)
		}
		grey, err := ink(b.Bytes())
		if err != nil {
			t.Fatal(err)
		}
		return grey
	}
	both := draw(60, image.Pt(10, 20), image.Pt(40, 40))
	wantError(t, alike(both, both), "")
	wantError(t, alike(both, draw(60, image.Pt(11, 21), image.Pt(40, 40))), "") // a pixel off
	wantError(t, alike(both, draw(60, image.Pt(10, 20))), "the second lacks ink")
	wantError(t, alike(draw(60, image.Pt(10, 20)), both), "the first lacks ink")
	wantError(t, alike(both, draw(60)), "nothing is drawn")
	wantError(t, alike(both, draw(70, image.Pt(10, 20), image.Pt(40, 40))), "one is (60,60), the other (70,60)")
}

func TestClip(t *testing.T) {
	if got := clip("a\nb\na\nc"); got != "a\nb\nc" {
		t.Errorf("got %q", got)
	}
	var b strings.Builder
	for i := range 100 {
		fmt.Fprintf(&b, "%d\n", i)
	}
	got := strings.Split(clip(b.String()), "\n")
	if len(got) != 22 || got[0] != "0" || got[10] != "(80 lines more)" || got[20] != "99" {
		t.Errorf("got %q", got)
	}
}
