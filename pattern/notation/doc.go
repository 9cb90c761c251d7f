// Package notation turns written instructions into stitches and stitches into
// written instructions.
//
// [Read] takes any text and finds the rounds in it; [Expand] works them, one
// after the other, into [Stitch]es, settling by the counts what the text leaves
// open; [Print] writes stitches as the shortest fair instruction, in the terms
// and the style that a reader wants.
//
// How a text goes through it, and the files:
//
//   - words: scan (text to tokens), lexicon and english, german ... (which word
//     says what), stops, emphasis, longhand (decreases step by step), legend (what a text says of its own words),
//     language and terms (which of them it is in),
//     reword (turns of phrase that English has not);
//   - lines: read (a text to lines), label, table, told (is this line a round?),
//     define (words and stitches that it explains), prose and retell (rounds told
//     in sentences), text (lines to pieces);
//   - one line: parse, series (its instructions, one word after the other), item
//     (one instruction), kind (which stitch), place (into what), compose (the two
//     together), groups, bracket, repeat, refer ("as round 4"), pieces (legs joined), branches (tentacles), count, aside, tidy;
//     ast and nodes are what comes out;
//   - its stitches: work (on the round below), fabric (the round below), into
//     (finding the place), close (the end of the round), worked (what comes out);
//   - all lines: expand, labelled (numbers of rounds), settle (which reading fits
//     the counts), repair (what would make it right);
//   - and back: print, print_english ..., compress (stitches to repeats).
package notation
