// Package chart draws a piece worked in the round as a chart of rings: each
// round a ring of stitch symbols, each symbol standing over what the stitch is
// worked into.
//
// The way from rounds to a picture has three steps, and no step knows of the
// next. The layout gives every stitch a place on its ring (layout.go, with the
// spacing in space.go and the shape of the rings in track.go and outline.go).
// The scene is what is to be seen: marks, lines and words, placed and inked, in
// reading order (scene.go, compose.go). A canvas puts a scene on paper: as SVG
// (canvas.go), PNG (png.go) or PDF (pdf.go). The symbols are drawn once, as
// paths, in glyph.go.
//
// Lengths are in widths of a single crochet symbol unless a name says
// otherwise.
package chart
