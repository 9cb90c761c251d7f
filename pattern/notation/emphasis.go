package notation

// emphasisedCount makes the stars round a count at the end of a line the brackets
// that they stand for: "... in each st. *18 sts*".
func emphasisedCount(toks []token) []token {
	end := len(toks)
	for end > 0 && toks[end-1].sym == sStar && len(toks)-end < 2 {
		end--
	}
	stars := len(toks) - end
	i := end - 1
	for i > 0 && end-i < 6 && (toks[i].sym == sSt || toks[i].sym == sStitch || toks[i].sym == sTotal || toks[i].sym == sNumber) {
		i--
	}
	n := i + 1 // where the count begins
	if stars == 0 || n == end || toks[n].sym != sNumber || toks[n].decimal || n < stars+1 || !toks[n].glued || !toks[end].glued {
		return toks
	}
	for k := 1; k <= stars; k++ {
		if toks[n-k].sym != sStar {
			return toks
		}
	}
	before := toks[n-stars-1]
	if before.sym != sStop && before.sym != sClose && (toks[end-1].sym != sSt || toks[n-stars].glued) {
		return toks
	}
	out := append([]token(nil), toks[:n-stars]...)
	open, shut := toks[n-stars], toks[end]
	open.sym, open.text, shut.sym, shut.text = sOpen, "(", sClose, ")"
	return append(append(append(out, open), toks[n:end]...), shut)
}
