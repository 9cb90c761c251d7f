package pattern

import (
	"os"
	"testing"
)

func TestDemo(t *testing.T) {
	b, fs := LoadBook(os.DirFS("../testdata/book"), ".")
	fs.Print(os.Stderr)
	for _, p := range b.Patterns {
		t.Logf("%s %s %v", p.Slug, p.Title, p.Date)
		for _, pc := range p.Sizes[0].Pieces {
			t.Logf("  %+v", *pc)
		}
	}
}
