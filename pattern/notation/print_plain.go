package notation

// spoken puts brackets where text in plain words says what they would: "Do this
// 6 times in all. ... End of the 6 times." is read as "( ... ) 6 times", and
// "Work a group in the next stitch. ... End of the group." as "( ... ) in the
// next stitch". See [PlainWords].
func spoken(toks []token) []token {
	plain := false
	for i := range toks {
		plain = plain || says(toks[i:], "do", "this", "", "times", "in") || says(toks[i:], "work", "a", "group")
	}
	if !plain {
		return toks
	}
	out := make([]token, 0, len(toks))
	var places [][]token // of the groups that are open; nil for repeats
	for i := 0; i < len(toks); {
		rest := toks[i:]
		switch {
		case says(rest, "do", "this", "", "times", "in"):
			out = append(out, bracket(sOpen, "(", rest[:5]))
			places = append(places, nil)
			i += 5
		case says(rest, "work", "a", "group"):
			end := 3
			for end < len(rest) && rest[end].sym != sStop && rest[end].line == rest[0].line {
				end++
			}
			out = append(out, bracket(sOpen, "(", rest[:3]))
			places = append(places, rest[3:end])
			i += end
		case len(places) > 0 && says(rest, "end", "of", "the"):
			place := places[len(places)-1]
			places = places[:len(places)-1]
			i += 3
			if place != nil {
				i = min(i+1, len(toks))
			}
			out = append(out, bracket(sClose, ")", rest[:3]))
			for _, t := range place {
				t.from, t.to = rest[0].from, rest[2].to // where it takes effect
				out = append(out, t)
			}
		default:
			if len(out) > 0 && out[len(out)-1].line != rest[0].line {
				places = nil
			}
			out = append(out, rest[0])
			i++
		}
	}
	return out
}

// says reports whether toks begins with the words given, of a phrase its first
// word; "" is any number.
func says(toks []token, words ...string) bool {
	if len(toks) < len(words) {
		return false
	}
	for i, w := range words {
		if t := toks[i]; t.text != w && !(w == "" && t.sym == sNumber) || t.line != toks[0].line {
			return false
		}
	}
	return true
}

func bracket(s sym, text string, words []token) token {
	return token{sym: s, text: text, from: words[0].from, to: words[len(words)-1].to, line: words[0].line}
}
