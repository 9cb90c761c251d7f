package stitch

// baseTable says what each post is. Names are those of the Craft Yarn Council,
// Standards & Guidelines for Crochet and Knitting, 2018-02-05, master list and
// US/UK term table (testdata/abbreviations.tsv has the rows they are tested
// against). Heights are ratios of row heights in published gauges: sc, hdc and
// dc at 13 stitches to 4 in of class 4 yarn are 7.26, 10.16 and 12.70 mm high,
// which is 1 : 1.40 : 1.75; tr is 2.75 by one sheet (PAC0125-002711M, 10 x 4);
// taller ones go on by the step from dc to tr. Starting chains: dummies.com,
// how to crochet a turning chain; sheets BRC0234-030779M, BRC0502-031867M. The
// convention for hdc is disputed; where a pattern is silent it does not count.
var baseTable = [bases]struct {
	id      string
	abbr    [2]string // US, UK
	term    [2]string
	height  float64 // against sc
	chains  int     // starting chains
	counts  bool    // they count as a stitch unless the pattern says otherwise
	slashes int     // across the stem of the symbol
	post    bool    // can be worked round a post
	source  string
}{
	Chain:          {"ch", [2]string{"ch", "ch"}, [2]string{"chain", "chain"}, 0.4, 0, false, 0, false, "CYC master list; height common practice"},
	Slip:           {"slst", [2]string{"sl st", "sl st"}, [2]string{"slip stitch", "slip stitch"}, 0.2, 0, false, 0, false, "CYC master list; height common practice"},
	Single:         {"sc", [2]string{"sc", "dc"}, [2]string{"single crochet", "double crochet"}, 1, 1, false, 0, true, "CYC master list"},
	Half:           {"hdc", [2]string{"hdc", "htr"}, [2]string{"half double crochet", "half treble crochet"}, 1.40, 2, false, 0, true, "CYC master list"},
	Double:         {"dc", [2]string{"dc", "tr"}, [2]string{"double crochet", "treble crochet"}, 1.75, 3, true, 1, true, "CYC master list"},
	Treble:         {"tr", [2]string{"tr", "dtr"}, [2]string{"treble crochet", "double treble crochet"}, 2.75, 4, true, 2, true, "CYC master list"},
	DoubleTreble:   {"dtr", [2]string{"dtr", "trtr"}, [2]string{"double treble crochet", "triple treble crochet"}, 3.75, 5, true, 3, true, "CYC master list; height from memory"},
	TripleTreble:   {"trtr", [2]string{"trtr", "qtr"}, [2]string{"triple treble crochet", "quadruple treble crochet"}, 4.75, 6, true, 4, false, "from memory"},
	ExtendedSingle: {"esc", [2]string{"esc", "edc"}, [2]string{"extended single crochet", "extended double crochet"}, 1.30, 2, false, 0, false, "CYC master list; UK name and height from memory"},
	ExtendedHalf:   {"ehdc", [2]string{"ehdc", "ehtr"}, [2]string{"extended half double crochet", "extended half treble crochet"}, 1.60, 2, false, 0, false, "from memory"},
	ExtendedDouble: {"edc", [2]string{"edc", "etr"}, [2]string{"extended double crochet", "extended treble crochet"}, 2.10, 3, true, 1, false, "from memory"},
	ExtendedTreble: {"etr", [2]string{"etr", "edtr"}, [2]string{"extended treble crochet", "extended double treble crochet"}, 3.10, 4, true, 2, false, "from memory"},
	ReverseSingle:  {"revsc", [2]string{"rev sc", "rev dc"}, [2]string{"reverse single crochet", "reverse double crochet"}, 1, 1, false, 0, false, "CYC master list; UK name from memory"},
}

// formTable says how posts go together.
var formTable = [forms]struct {
	id, name string
	min, max uint8 // posts
	post     bool  // can be worked round posts
	base     func(Base) bool
	source   string
}{
	Plain:     {"", "", 0, 0, true, nil, "CYC master list"},
	Together:  {"tog", "together", 2, MaxTogether, true, tall(Single), "CYC master list; more than 3 by the same rule"},
	Invisible: {"inv", "invisible decrease", 2, 3, false, tall(Single), "53stitches.com; theodoreandrose.com; not on the CYC list"},
	Cluster:   {"cl", "cluster", 2, MaxTogether, false, tall(Half), "CYC master list (CL)"},
	Popcorn:   {"pop", "popcorn", 3, MaxTogether, false, tall(Half), "CYC master list (pc), from memory"},
	Puff:      {"puff", "puff", 2, MaxTogether, false, func(b Base) bool { return b == Half }, "UK book page 2015 (PS); US side from memory"},
	Bobble:    {"bo", "bobble", 2, MaxTogether, false, tall(Half), "CYC master list (bo)"},
	Picot:     {"picot", "picot", 2, MaxTogether, false, func(b Base) bool { return b == Chain }, "common practice: chains closed by a slip stitch"},
	Shell:     {"shell", "shell", 3, MaxTogether, false, tall(Half), "CYC master list (sh), from memory"},
}

// tall returns a function that tells posts of at least the height of low from
// lower ones and from those that are not worked together by custom.
func tall(low Base) func(Base) bool {
	return func(b Base) bool { return b >= low && b <= TripleTreble }
}
