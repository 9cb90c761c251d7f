package source

import "strings"

// maxCompared is how much of a word Nearest looks at, in bytes.
const maxCompared = 32

// Nearest returns the one of known that word is most likely a slip of: the
// first of those that the fewest letters added, dropped or replaced make of it,
// capitals taken for small letters. It returns "" if none is near.
func Nearest(word string, known []string) string {
	best, least := "", min(len(word), maxCompared)/3+2
	for _, k := range known {
		if d := distance(strings.ToLower(word), strings.ToLower(k)); d < least {
			best, least = k, d
		}
	}
	return best
}

// distance returns how many bytes of a must be added, dropped or replaced to
// make b of it, as far as maxCompared.
func distance(a, b string) int {
	a, b = a[:min(len(a), maxCompared)], b[:min(len(b), maxCompared)]
	row := make([]int, len(b)+1) // from the first i bytes of a to each start of b
	for j := range row {
		row[j] = j
	}
	for i := range len(a) {
		diagonal := row[0]
		row[0] = i + 1
		for j := range len(b) {
			replaced := diagonal
			if a[i] != b[j] {
				replaced++
			}
			diagonal = row[j+1]
			row[j+1] = min(replaced, row[j]+1, row[j+1]+1)
		}
	}
	return row[len(b)]
}
