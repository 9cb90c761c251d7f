package chart_test

import (
	"bytes"
	"fmt"
	"os"
	"strings"

	"roundelay/chart"
	"roundelay/pattern"
)

func ExampleDraw() {
	p, findings := pattern.Load(os.DirFS("../testdata/book/sea-urchin"), "pattern.toml")
	if err := findings.Err(); err != nil {
		fmt.Println(err)
		return
	}
	var svg bytes.Buffer
	if err := chart.Draw(&svg, p, p.Sizes[0].Pieces[0], chart.Options{View: chart.Whole}); err != nil {
		fmt.Println(err)
		return
	}
	fmt.Println(strings.Count(svg.String(), "data-round="), "rings")
	// Output: 16 rings
}
