// Package shape is the geometry of a piece worked in the round, on plain
// numbers: how large it comes out, how round it is, where it will not lie flat,
// what yarn and filling it takes, and which counts make a wanted shape.
//
// A piece is a [Schedule]: for each round a count, the rest length of the hoop
// that its stitches form, and the height of its stitches. From it come
//
//   - [Schedule.Rest], the shape of the empty piece, and [Schedule.Slopes],
//     where it cups or ruffles;
//   - [Stuff], the shape of the filled piece;
//   - [Profile], either of them, with its measures, and [Profile.Sphere], the
//     best ball in it.
//
// The other way round, [NewPlan] finds counts for a wanted profile such as
// [Ball] or [Cone]. [Placer] says where in a round to increase or decrease,
// [Yarn] and [Filling] estimate material.
//
// # Model
//
// A round of N stitches, each w wide and h high, is a hoop of rest length L =
// N w; a link of rest length h joins it to the hoop before. The hoop is the top
// edge of the round: every stitch has its loop at the top, and a flat round i
// at k more stitches a round has k i of them, which is a radius of i h. Edge 0
// is the start, drawn shut to a point unless the schedule says otherwise; a
// closed piece ends in a point too. All links and hoops are linear springs.
//
// The model knows neither how stiff a fabric is along the round against across
// it nor how hard it is filled. Both are inputs, and they matter: see
// [AcrossBand]. A spiral rises by one height per turn and differs from the
// closed rounds of the model by at most half a height anywhere.
//
// # Units and sources
//
// Lengths are millimetres, areas mm², volumes mm³, angles radians, masses
// grams, lengths of yarn metres; names say so. Ratios are plain fractions, not
// per cent.
//
// Constants and rules carry where they come from: "derived" from the model,
// "handbook", "common practice", "published" with the place, or "judgement",
// which is a guess not yet measured on real pieces.
package shape
