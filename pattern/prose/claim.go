package prose

import (
	"cmp"
	"regexp"
	"slices"
	"strconv"
	"strings"

	"roundelay/pattern/source"
)

// A Claim is something that a text says about the pattern and that can be
// checked against it.
type Claim struct {
	Kind     ClaimKind
	At       source.Span
	Sentence source.Span // what it stands in

	From, To int     // the rounds it names; From 0 if it names none
	N        int     // of Increases, Decreases, Total and Through: how many
	Do       string  // of Event: what is done, in the word of a step: "stuff", "close", "eyes"
	What     string  // of Measure: "across", "tall", "around" or "long"
	MM       float64 // of Measure: the length
	AlsoMM   float64 // of Measure: the same length in other units, as in "3 in (7.5 cm)"; 0 if it is given once
}

// A ClaimKind is a kind of claim.
type ClaimKind uint8

// The kinds of claims.
const (
	Reference ClaimKind = iota // "see round 7": rounds From to To exist
	Event                      // "stuff after round 9": Do is done after round From, or (From 0) before the first
	Increases                  // "36 increases": in round From, or in some one round or in all if From is 0
	Decreases
	Total   // "20 rounds in all": the piece has N rounds
	Through // "through the 6 stitches", "gather the last 6 stitches": round From, or the last, has N stitches
	Measure // "7 cm across"
)

const (
	numberWord = `(\d{1,5}|one|two|three|four|five|six|seven|eight|nine|ten|eleven|twelve)`
	roundWord  = `(?:rounds?|rnds?\.?|R)\s*`
	lengthWord = `(\d{1,4}(?:[.,]\d{1,2})?|\d{0,3}\s?[½¼¾⅛⅜⅝⅞⅓⅔])\s*(mm|cm|inch(?:es)?|in\b|["″])`
)

var (
	roundPattern   = regexp.MustCompile(`(?i)\b` + roundWord + `(\d{1,4})(?:\s*(?:-|–|—|to|through|and|&)\s*(?:` + roundWord + `)?(\d{1,4}))?\b`)
	changePattern  = regexp.MustCompile(`(?i)\b` + numberWord + `\s+(increase|decrease)s\b`)
	totalPattern   = regexp.MustCompile(`(?i)\b` + numberWord + `\s+rounds\s+(?:in all|in total|altogether)\b`)
	throughPattern = regexp.MustCompile(`(?i)\b(?:through|gather|(?:pick|draw) up|loops?(?:\s+only)?\s+of)\s+(?:(?:the|all|each|both|front|back|outer|loops?|only|of)\s+)*(?:(?:last|remaining|final)\s+)?` + numberWord + `\s+(?:(?:last|remaining|final)\s+)?(?:stitches|sts?\b)`)
	lengthPattern  = regexp.MustCompile(`(?i)(?:\b(diameter|width|height|circumference|length)\s*(?::|of|is)?\s*(?:about\s+|approx(?:\.|imately)?\s+)?)?` +
		lengthWord + `(?:\s*\(\s*(?:about\s+)?` + lengthWord + `\s*\)|\s*/\s*` + lengthWord + `)?\s*((?:in\s+)?(?:diameter|width|height|circumference|length)|across|wide|square|tall|high|thick|deep|around|long)?`)
	eventPattern = regexp.MustCompile(`(?i)\b(stuff|fill|close|gather|(?:place|fix|insert|add|sew on)\s+(?:\w+\s+){0,2}eyes)(?:s|es|ed|ing)?\b`)
	whenPattern  = regexp.MustCompile(`(?i)\b(after|before)\s+(?:the\s+|working\s+)?` + roundWord + `(\d{1,4})\b`)
	inAll        = regexp.MustCompile(`(?i)\b(in all|in total|altogether)\b`)
	perRound     = regexp.MustCompile(`(?i)\b(each|every|per|a) (?:round|rnd)\b|\beach time\b|\bhalf\b`)
)

// maxClaims is how many claims of one text are found; all after them are left.
const maxClaims = 1000

// Claims finds the claims in a text as a reader sees it, in the order of their
// places, the first thousand. A line break ends a sentence.
func Claims(text string) []Claim {
	var claims []Claim
	for _, s := range sentences(text) {
		if len(claims) > maxClaims {
			break
		}
		claims = append(claims, sentence(text, s)...)
	}
	slices.SortStableFunc(claims, func(a, b Claim) int { return cmp.Compare(a.At.From, b.At.From) })
	return claims[:min(len(claims), maxClaims)]
}

// sentences cuts text at full stops, semicolons and ends of blocks.
func sentences(text string) []source.Span {
	var all []source.Span
	from := 0
	for i := 0; i < len(text); i++ {
		ends := false
		switch text[i] {
		case '.', '!', '?':
			ends = i+1 == len(text) || text[i+1] == ' ' || text[i+1] == '\n'
			if ends && i >= 3 && strings.EqualFold(text[i-3:i], "rnd") {
				ends = false
			}
		case ';', '\n':
			ends = true
		}
		if ends {
			all = append(all, source.Span{From: from, To: i})
			from = i + 1
		}
	}
	return append(all, source.Span{From: from, To: len(text)})
}

// sentence finds the claims of one sentence of text.
func sentence(text string, s source.Span) []Claim {
	words := text[s.From:s.To]
	place := func(m []int) source.Span { return source.Span{From: s.From + m[0], To: s.From + m[1]} }
	group := func(m []int, i int) string {
		if m[2*i] < 0 {
			return ""
		}
		return words[m[2*i]:m[2*i+1]]
	}
	var claims []Claim
	rounds := roundPattern.FindAllStringSubmatchIndex(words, -1)
	for _, m := range rounds {
		c := Claim{Kind: Reference, At: place(m), From: count(group(m, 1))}
		c.To = c.From
		if last := group(m, 2); last != "" {
			c.To = count(last)
		}
		claims = append(claims, c)
	}
	if events, whens := eventPattern.FindAllStringSubmatchIndex(words, -1), whenPattern.FindAllStringSubmatchIndex(words, -1); len(events) == 1 && len(whens) == 1 {
		c := Claim{Kind: Event, At: place(events[0]).Join(place(whens[0])), From: count(group(whens[0], 2))}
		if strings.EqualFold(group(whens[0], 1), "before") {
			c.From--
		}
		switch verb := strings.ToLower(group(events[0], 1)); {
		case verb == "stuff" || verb == "fill":
			c.Do = "stuff"
		case verb == "close" || verb == "gather":
			c.Do = "close"
		default:
			c.Do = "eyes"
		}
		claims = append(claims, c)
	}
	if !perRound.MatchString(words) && len(rounds) <= 1 {
		for _, m := range changePattern.FindAllStringSubmatchIndex(words, -1) {
			c := Claim{Kind: Increases, At: place(m), N: count(group(m, 1))}
			if strings.EqualFold(group(m, 2), "decrease") {
				c.Kind = Decreases
			}
			if len(rounds) == 1 && !inAll.MatchString(words) {
				if group(rounds[0], 2) != "" {
					continue
				}
				c.From = count(group(rounds[0], 1))
			}
			claims = append(claims, c)
		}
	}
	for _, m := range totalPattern.FindAllStringSubmatchIndex(words, -1) {
		claims = append(claims, Claim{Kind: Total, At: place(m), N: count(group(m, 1))})
	}
	for _, m := range throughPattern.FindAllStringSubmatchIndex(words, -1) {
		c := Claim{Kind: Through, At: place(m), N: count(group(m, 1))}
		if len(rounds) == 1 && group(rounds[0], 2) == "" {
			c.From = count(group(rounds[0], 1))
		}
		claims = append(claims, c)
	}
	for _, m := range lengthPattern.FindAllStringSubmatchIndex(words, -1) {
		c := Claim{Kind: Measure, At: place(m), MM: lengthMM(group(m, 2), group(m, 3)), What: direction(cmp.Or(group(m, 8), group(m, 1)))}
		for i := 4; i <= 6; i += 2 {
			if also := group(m, i); also != "" {
				c.AlsoMM = lengthMM(also, group(m, i+1))
			}
		}
		if c.What == "" && c.AlsoMM == 0 {
			continue // a length of something: a tail, a hook
		}
		claims = append(claims, c)
	}
	for i := range claims {
		claims[i].Sentence = s
	}
	return claims
}

// direction returns the word that [Claim.What] has for what was measured.
func direction(word string) string {
	words := strings.Fields(strings.ToLower(word))
	if len(words) == 0 {
		return ""
	}
	return directions[words[len(words)-1]]
}

var directions = map[string]string{
	"across": "across", "diameter": "across", "wide": "across", "width": "across", "square": "across",
	"tall": "tall", "high": "tall", "height": "tall", "thick": "tall", "deep": "tall",
	"around": "around", "circumference": "around", "long": "long", "length": "long",
}

var numberWords = []string{"one", "two", "three", "four", "five", "six", "seven", "eight", "nine", "ten", "eleven", "twelve"}

// count returns the number that a figure or a word stands for.
func count(s string) int {
	if i := slices.Index(numberWords, strings.ToLower(s)); i >= 0 {
		return i + 1
	}
	n, _ := strconv.Atoi(s)
	return n
}

var fractions = map[string]float64{
	"½": 1. / 2, "⅓": 1. / 3, "⅔": 2. / 3, "¼": 1. / 4, "¾": 3. / 4,
	"⅛": 1. / 8, "⅜": 3. / 8, "⅝": 5. / 8, "⅞": 7. / 8,
}

// mmPerInch is exact.
const mmPerInch = 25.4

// lengthMM returns a length in millimetres.
func lengthMM(figure, unit string) float64 {
	var extra float64
	for sign, part := range fractions {
		if rest, ok := strings.CutSuffix(figure, sign); ok {
			figure, extra = strings.TrimSpace(rest), part
		}
	}
	n, _ := strconv.ParseFloat(strings.ReplaceAll(figure, ",", "."), 64)
	switch n += extra; strings.ToLower(unit) {
	case "mm":
		return n
	case "cm":
		return 10 * n
	}
	return mmPerInch * n
}
