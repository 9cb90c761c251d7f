package notation

import (
	"fmt"

	"roundelay/pattern/stitch"
)

// terms tells from the words of a text in which system its stitches are named,
// and says by what.
func terms(toks []token) (stitch.Terms, string) {
	us, uk := 0, 0
	usWord, ukWord := "", ""
	dc, oneChain, threeChains := 0, 0, 0
	for i, t := range toks {
		if t.sym != sWord {
			continue
		}
		word := func(j int) string {
			if i+j >= 0 && i+j < len(toks) {
				return toks[i+j].text
			}
			return ""
		}
		switch t.text {
		case "us", "american", "usa":
			if w := word(1); w == "terms" || w == "terminology" || w == "crochet" || w == "stitch" || w == "abbreviations" {
				return stitch.US, fmt.Sprintf("it says %q", t.text+" "+w)
			}
		case "uk", "british", "english":
			if w := word(1); w == "terms" || w == "terminology" || w == "crochet" || w == "stitch" || w == "abbreviations" {
				return stitch.UK, fmt.Sprintf("it says %q", t.text+" "+w)
			}
		case "sc", "hdc", "blsc":
			us++
			usWord = t.text
		case "single":
			if word(1) == "crochet" {
				us++
				usWord = "single crochet"
			}
		case "htr", "trtr", "miss", "tension", "yrh":
			if t.text != "miss" && t.text != "tension" {
				uk += 2
			} else {
				uk++
			}
			ukWord = t.text
		case "dc":
			dc++
			if word(-1) == "ch" || word(-2) == "ch" || word(-3) == "ch" {
				for j := i - 4; j < i; j++ {
					if j < 0 || toks[j].sym != sNumber {
						continue
					}
					switch toks[j].num {
					case 1:
						oneChain++
					case 3:
						threeChains++
					}
				}
			}
		}
	}
	switch {
	case us > uk:
		return stitch.US, fmt.Sprintf("it uses %q", usWord)
	case uk > 0:
		return stitch.UK, fmt.Sprintf("it uses %q and never \"sc\"", ukWord)
	case dc > 0 && oneChain > threeChains:
		return stitch.UK, "its rounds of dc begin with one chain"
	}
	return stitch.US, ""
}
