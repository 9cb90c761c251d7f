// Package notation turns written instructions into stitches and stitches into
// written instructions.
//
// [Read] takes any text and finds the rounds in it; [Expand] works them, one
// after the other, into [Stitch]es, settling by the counts what the text leaves
// open; [Print] writes stitches as the shortest fair instruction, in the terms
// and the style that a reader wants.
package notation
