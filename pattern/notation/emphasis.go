package notation

// emphasisedCount takes off the stars that set the count at the end of a line in
// bold, "**(18)**", and makes them the brackets that they stand for where it has
// none: "... in each st. *18 sts*".
func emphasisedCount(toks []token) []token {
	var stop []token
	if n := len(toks); n > 0 && toks[n-1].sym == sStop {
		toks, stop = toks[:n-1], toks[n-1:]
	}
	end := len(toks)
	for end > 0 && toks[end-1].sym == sStar && len(toks)-end < 2 {
		end--
	}
	stars := len(toks) - end
	whole := append(toks[:len(toks):len(toks)], stop...)
	if stars == 0 || end == 0 || !toks[end].glued {
		return whole
	}
	if toks[end-1].sym == sClose {
		return append(plainBracket(toks, end), stop...)
	}
	n := end // where the count begins
	for n > 1 && end-n < 5 && (toks[n-1].sym == sSt || toks[n-1].sym == sStitch || toks[n-1].sym == sTotal || toks[n-1].sym == sNumber) {
		n--
	}
	if n == end || toks[n].sym != sNumber || toks[n].decimal || n < stars+1 || !toks[n].glued || starsBefore(toks, n) < stars {
		return whole
	}
	before := toks[n-stars-1]
	if before.sym != sStop && before.sym != sClose && (toks[end-1].sym != sSt || toks[n-stars].glued) {
		return whole
	}
	out := append([]token(nil), toks[:n-stars]...)
	open, shut := toks[n-stars], toks[end]
	open.sym, open.text, shut.sym, shut.text = sOpen, "(", sClose, ")"
	out = append(append(append(out, open), toks[n:end]...), shut)
	return append(out, stop...)
}

// plainBracket takes off the stars round the bracket that ends before the token
// end, if it begins with a number.
func plainBracket(toks []token, end int) []token {
	const most = 16 // words and signs of a count
	for n := end - 1; n >= 0 && end-n <= most; n-- {
		if namesChain(toks[n]) && toks[n+1].sym == sNumber {
			break // "(2 dc, ch 2, 2 dc)" is a group
		}
		if toks[n].sym != sOpen {
			continue
		}
		if toks[n+1].sym != sNumber {
			break
		}
		stars := min(starsBefore(toks, n), len(toks)-end)
		return append(append([]token(nil), toks[:n-stars]...), toks[n:end]...)
	}
	return toks
}

// starsBefore returns how many stars stand before the token i.
func starsBefore(toks []token, i int) int {
	n := 0
	for n < i && toks[i-n-1].sym == sStar {
		n++
	}
	return n
}
