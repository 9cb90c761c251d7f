package solid

import (
	"bytes"
	"os"
	"testing"

	"roundelay/pattern"
)

func demo(t testing.TB) []*pattern.Pattern {
	book, findings := pattern.LoadBook(os.DirFS("../../testdata/book"), ".")
	if book == nil {
		t.Fatal(findings)
	}
	return book.Patterns
}

func TestLook(t *testing.T) {
	dir := os.Getenv("LOOK")
	for _, p := range demo(t) {
		for i, s := range p.Sizes {
			if i > 0 {
				continue
			}
			e, err := p.Estimate(s)
			if err != nil {
				t.Error(err)
				continue
			}
			var b, c, pl bytes.Buffer
			if err := PNG(&b, e, 900, 700, Options{}); err != nil {
				t.Error(err)
			}
			if err := SVG(&c, e, p.Title, Options{}); err != nil {
				t.Error(err)
			}
			SVG(&pl, e, p.Title, Options{Plain: true})
			var th bytes.Buffer
			PNG(&th, e, 288, 288, Options{})
			t.Log(th.Len(), p.Slug, b.Len(), c.Len(), pl.Len())
			if dir != "" {
				var pr bytes.Buffer
				Profile(&pr, e.Pieces[0], e, p.Title, Options{})
				os.WriteFile(dir+"/"+p.Slug+"-profile.svg", pr.Bytes(), 0o644)
				os.WriteFile(dir+"/"+p.Slug+"-thumb.png", th.Bytes(), 0o644)
				os.WriteFile(dir+"/"+p.Slug+".png", b.Bytes(), 0o644)
				os.WriteFile(dir+"/"+p.Slug+".svg", c.Bytes(), 0o644)
				os.WriteFile(dir+"/"+p.Slug+"-plain.svg", pl.Bytes(), 0o644)
			}
		}
	}
}
