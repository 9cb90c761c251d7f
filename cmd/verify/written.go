package main

import (
	"bytes"
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"strings"

	"roundelay/chart"
	"roundelay/pattern"
)

// Of the written patterns in testdata one in so many is drawn.
const drawnText = 4

// writtenCharts draws patterns as people write them, of each that is sound its
// largest piece: in the view that suits it, and straight.
func (s *session) writtenCharts() ([]drawn, error) {
	texts, err := filepath.Glob(filepath.Join(s.root, "testdata", "corpus*", "*.truth.tsv"))
	if err != nil {
		return nil, err
	}
	var charts []drawn
	for i := 0; i < len(texts); i += drawnText {
		name, _ := strings.CutSuffix(texts[i], ".truth.tsv")
		p, err := writtenPattern(name)
		if err != nil {
			return nil, err
		}
		if p == nil {
			continue
		}
		piece := slices.MaxFunc(p.Sizes[0].Pieces, func(a, b *pattern.Piece) int { return a.Stitches() - b.Stitches() })
		for _, view := range []chart.View{chart.Auto, chart.Strip} {
			c := drawn{name: fmt.Sprintf("%s, %s, %v", filepath.Base(name), piece.Name, view), opt: chart.Options{View: view, Terms: p.Terms}, once: true}
			var svg bytes.Buffer
			if err := chart.Draw(&svg, p, piece, c.opt); err != nil {
				return nil, fmt.Errorf("%s: %w", c.name, err)
			}
			c.svg = svg.Bytes()
			charts = append(charts, c)
		}
	}
	return charts, nil
}

// writtenPattern returns the pattern that a text holds, named without its end;
// nil if it has no rounds, or some that are not sound.
func writtenPattern(name string) (*pattern.Pattern, error) {
	dir, base := filepath.Split(name)
	for _, end := range []string{".txt", ".md"} {
		if _, err := os.Stat(name + end); err != nil {
			continue
		}
		f, problem := pattern.ReadText(os.DirFS(filepath.Clean(dir)), base+end)
		if problem != nil {
			return nil, fmt.Errorf("%s: %v", name, problem)
		}
		p, findings := pattern.LoadWritten(f, pattern.TranscribeOptions{})
		if p == nil || findings.Err() != nil || len(p.Sizes[0].Pieces) == 0 || len(p.Sizes[0].Pieces[0].Rounds) == 0 {
			return nil, nil
		}
		return p, nil
	}
	return nil, fmt.Errorf("%s has no text", name)
}
