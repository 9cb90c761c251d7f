package site_test

import (
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing/fstest"

	"roundelay/pattern"
	"roundelay/site"
)

func ExampleBuild() {
	files := fstest.MapFS{
		"book.toml": {Data: []byte(`title = "The shelf"`)},
		"bead/pattern.toml": {Data: []byte(`
title = "Bead"
terms = "US"
[[piece]]
name = "Bead"
rounds = '''
Rnd 1: 6 sc in magic ring (6)
Rnd 2: inc in each st around (12)
'''
`)},
	}
	book, findings := pattern.LoadBook(files, ".")
	if err := findings.Err(); err != nil {
		fmt.Println(err)
		return
	}
	dir, err := os.MkdirTemp("", "example")
	if err != nil {
		fmt.Println(err)
		return
	}
	defer os.RemoveAll(dir)
	err = site.Build(book, filepath.Join(dir, "out"), site.Options{
		Files:    files,
		Progress: func(name string) { fmt.Println(name) },
	})
	if err != nil {
		fmt.Println(err)
	}
	// Output:
	// bead/chart-bead.svg
	// bead/chart-bead-straight.svg
	// bead/left-chart-bead.svg
	// bead/left-chart-bead-straight.svg
	// bead/index.html
	// bead/uk.html
	// bead/plain.html
	// bead/left.html
	// bead/large.html
	// bead/bead.txt
	// index.html
	// 404.html
	// style.css
	// icon.svg
	// rounds.js
	// feed.xml
}

func ExamplePreview() {
	files := fstest.MapFS{"bead/pattern.toml": {Data: []byte(`
title = "Bead"
terms = "US"
[[piece]]
name = "Bead"
rounds = '''
Rnd 1: 6 sc in magic ring (6)
Rnd 2: inc in each st around (13)
'''
`)}}
	book, findings := pattern.LoadBook(files, "bead")
	var preview site.Preview
	preview.Show(site.State{Book: book, Files: files, Findings: findings, Version: "1"})
	page, err := preview.File("bead/index.html")
	if err != nil {
		fmt.Println(err)
		return
	}
	_, atRound2, _ := strings.Cut(string(page), `id="r2"`)
	fmt.Println(strings.Contains(atRound2, "it makes 12 stitches; 13 are declared"))
	// Output: true
}
