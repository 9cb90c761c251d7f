package site

import (
	"fmt"
	"html/template"
	"slices"
	"strings"

	"roundelay/pattern/notation"
	"roundelay/templates"
)

// A language is that of a book: its pages speak it, as far as labels has their
// words. The zero value is English.
type language struct {
	code string // one of notation.Languages, or "" for English
	at   int    // of its words in labels
}

var english language

// languageOf returns the language of a tag such as "de-AT"; English for one
// that the rounds can't be written in.
func languageOf(tag string) language {
	code, _, _ := strings.Cut(tag, "-")
	i := slices.Index(notation.Languages(), code)
	if i < 1 {
		return english
	}
	return language{code, i - 1}
}

// say returns an English format in the language, with the args put in. What
// labels lacks stays English.
func (l language) say(format string, args ...any) string {
	if l.code != "" {
		if own, ok := labels[format]; ok {
			format = own[l.at]
		}
	}
	if len(args) == 0 {
		return format
	}
	return fmt.Sprintf(format, args...)
}

// inEnglish returns the attribute of an element that is English whatever the
// language of the page.
func (l language) inEnglish() template.HTMLAttr {
	if l.code == "" {
		return ""
	}
	return ` lang="en"`
}

// pages returns the templates in the language.
func (l language) pages() *template.Template {
	return templates.Pages(template.FuncMap{"say": l.say, "inEnglish": l.inEnglish})
}
