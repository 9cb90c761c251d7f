// Package proof is the editor: it looks a pattern over for what would leave a
// reader stuck, and says where it is and what would make it right.
//
// Each [Check] looks for one kind of mistake; [Checks] are all of them. What is
// wrong with the counts of the rounds was found when the rounds were worked, and
// is passed on; no check counts again.
package proof
