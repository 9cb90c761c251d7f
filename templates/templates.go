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

// Icon stands beside the title of a page in a browser.
//
//go:embed icon.svg
var Icon []byte

// Script keeps the ticks of the rounds and shows the round at hand on the
// chart. Pages are whole without it.
//
//go:embed rounds.js
var Script []byte

// LiveStyle and LiveScript are what the pages of a preview have beside those: how
// findings look, and the loading anew of a page when the book has changed.
//
//go:embed preview.css
var LiveStyle []byte

//go:embed preview.js
var LiveScript []byte

// Pages returns the templates "index", "pattern", "colours", "circles", "missing"
// and, for a preview, "unbuilt". What each of them reads is the page of that
// name in package site. funcs has "say", which says an English format in the
// language of the pages, and "inEnglish", the attribute of what is English
// whatever that is.
func Pages(funcs template.FuncMap) *template.Template {
	return template.Must(template.New("").Funcs(funcs).ParseFS(pages, "*.html"))
}
