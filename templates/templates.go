// Package templates holds the pages of a site, its style sheet and its script.
package templates

import (
	"embed"
	"html/template"
)

//go:embed *.html
var pages embed.FS

// Style is the style sheet of every page.
//
//go:embed style.css
var Style []byte

// Script keeps the ticks of the rounds and shows the round at hand on the
// chart. Pages are whole without it.
//
//go:embed rounds.js
var Script []byte

// Pages are the templates "index", "pattern", "colours", "circles" and "missing". What each of them
// reads is the page of that name in package site.
var Pages = template.Must(template.ParseFS(pages, "*.html"))
