package main

import "roundelay/pattern/source"

// didYouMean returns " (did you mean x?)" with the word that is most like the
// one given, or "" if none is.
func didYouMean(word string, known []string) string {
	if like := source.Nearest(word, known); like != "" {
		return " (did you mean " + like + "?)"
	}
	return ""
}
