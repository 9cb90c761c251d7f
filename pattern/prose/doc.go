// Package prose reads the Markdown that a maker writes beside her rounds: the
// places where she wants rounds, charts and lists put ([Directive]), the rounds
// that she wrote out by hand ([Passage]), and what she says about the pattern
// that can be checked against it ([Claim]).
//
// It changes nothing that she wrote. Raw HTML in the Markdown is left out.
package prose
