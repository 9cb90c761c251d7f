package chart

import (
	"bytes"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"roundelay/pattern"
)

// A sample is a chart small enough to look at.
type sample struct {
	name  string
	style pattern.Style
	specs []string
}

// samples are charts of many kinds.
var samples = []sample{
	{"round1", pattern.Spiral, []string{"6*sc", "6*sc.2"}},
	{"ball", pattern.Spiral, ball(6, 6, 5)},
	{"bigball", pattern.Spiral, ball(6, 8, 8)},
	{"pebble", pattern.Joined, []string{"CH 6*sc join", "CH 6*sc.2 join", "CH 6*(sc sc.2) join", "CH 18*sc join", "CH 6*(sc sc2tog) join", "CH 6*invdec join"}},
	{"coaster", pattern.Joined, []string{"ring4 CH CH CH! 11*dc join", "st{CH CH CH! dc} 11*dc.2 join", "CH CH CH! dc.2 11*(dc dc.2) join", "CH CH CH! dc dc.2 11*(2*dc dc.2) join"}},
	{"granny", pattern.Joined, []string{
		"ring4 CH CH CH! 2*dc 3*(ch ch 3*dc) ch ch join",
		"CH CH CH! 2*dc 3*(sp{3*dc ch ch 3*dc} ch) sp{3*dc ch ch} join"}},
	{"doily", pattern.Joined, []string{
		"ring6 CH CH CH! 15*dc join",
		"CH 8*(sc ch ch ch sk) join",
		"8*(sp{sc hdc 3*dc hdc sc}) join",
		"8*(sk sk sk sc picot3 sk sk sk ch ch ch ch ch) join",
		"8*(tr.5 sp{2*dc ch 2*dc})"}},
	{"bobbles", pattern.Spiral, []string{"8*sc", "8*sc.2", "8*(dc5bo sc)", "8*(dc4cl hdc3puff)", "8*(dc5pop fpdc)", "5*(bpdc dc2tog) ", "4*(dc2tog) 2*dc3cl"}},
	{"loops", pattern.Spiral, []string{"6*sc", "6*sc.2", "12*sc.b", "12*sc.f", "4*sc3tog"}},
	{"stripes", pattern.Joined, []string{"CH 6*sc join", "CH yarn1 6*sc.2 join", "CH 3*(yarn0 sc sc.2 yarn1 sc sc.2) join", "CH yarn2 18*sc join", "CH yarn3 18*sc join"}},
	{"oval", pattern.Spiral, []string{"oval 7", "sk 5*sc sc.3 under sk 4*sc sc.2", "sc.2 4*sc 3*sc.2 4*sc 2*sc.2", "3*sc.2 4*sc 5*sc.2 4*sc 4*sc"}},
}

type bookPiece struct {
	pattern *pattern.Pattern
	*pattern.Piece
}

// bookPieces returns all pieces of the demo book.
func bookPieces(t *testing.T) map[string]bookPiece {
	t.Helper()
	book, findings := pattern.LoadBook(os.DirFS("../testdata/book"), ".")
	if err := findings.Err(); err != nil {
		t.Fatal(err)
	}
	out := map[string]bookPiece{}
	for _, p := range book.Patterns {
		for _, s := range p.Sizes {
			for _, piece := range s.Pieces {
				out[strings.Trim(p.Slug+"-"+s.Name+"-"+piece.Key, "-")] = bookPiece{p, piece}
			}
		}
	}
	return out
}

// TestBook draws every piece of the demo book and reads it back.
func TestBook(t *testing.T) {
	for name, p := range bookPieces(t) {
		for _, v := range []View{Whole, Halves} {
			checkDrawing(t, name, drawn(t, p.Piece, Options{View: v}), p.Rounds)
			checkViewReadsBack(t, name, p.Rounds, Options{View: v, Hand: Left})
			checkViewReadsBack(t, name, p.Rounds, Options{View: v})
		}
	}
}

// TestLook writes the samples where ROUNDELAY_LOOK says, to be looked at.
func TestLook(t *testing.T) {
	dir := os.Getenv("ROUNDELAY_LOOK")
	if dir == "" {
		t.Skip("ROUNDELAY_LOOK is not set")
	}
	pieces := bookPieces(t)
	for _, s := range samples {
		pieces[s.name] = bookPiece{&pattern.Pattern{}, piece(s.style, worked(s.specs...))}
	}
	for name, p := range pieces {
		var picture, sheet bytes.Buffer
		if err := PNG(&picture, p.pattern, p.Piece, 800, Options{}); err != nil {
			t.Fatal(err)
		}
		if err := PDF(&sheet, p.pattern, p.Piece, Sheet{}, Options{}); err != nil {
			t.Fatal(err)
		}
		os.WriteFile(filepath.Join(dir, name+"-gg.png"), picture.Bytes(), 0o644)
		os.WriteFile(filepath.Join(dir, name+".pdf"), sheet.Bytes(), 0o644)
		for _, v := range []View{Auto, Repeat, Strip} {
			var b bytes.Buffer
			if err := Draw(&b, p.pattern, p.Piece, Options{View: v}); err != nil {
				t.Log(err)
				continue
			}
			if err := os.WriteFile(filepath.Join(dir, name+"-"+v.String()+".svg"), b.Bytes(), 0o644); err != nil {
				t.Fatal(err)
			}
		}
	}
}
