package site

import (
	"bytes"
	"cmp"
	"fmt"
	"html/template"
	"io/fs"
	"path"
	"slices"
	"strconv"
	"strings"
	"unicode/utf8"

	"roundelay/pattern"
	"roundelay/pattern/notation"
	"roundelay/pattern/proof"
	"roundelay/pattern/prose"
	"roundelay/pattern/stitch"
)

// A variant is one of the pages of a pattern: the same rounds in other words.
type variant struct {
	file  string
	name  string // of the link to it; as "UK names"
	terms stitch.Terms
	lang  string // of the rounds; "" for English
	style notation.Style
	say   string // what a reader has to know about it
	left  bool   // for the left hand
	large bool   // in large print
}

// variants returns the pages of a pattern, its own words first.
func (l language) variants(p *pattern.Pattern) []variant {
	if l != english {
		return l.ownVariants(p)
	}
	other := otherTerms(p.Terms)
	return []variant{
		{file: Index, name: p.Terms.String() + " names", terms: p.Terms},
		{file: strings.ToLower(other.String()) + ".html", name: other.String() + " names", terms: other,
			say: fmt.Sprintf("Rounds, gauge, abbreviations and charts on this page are in %s names. Notes, steps and finishing are the maker's own words, and keep %s names.", other, p.Terms)},
		{file: "plain.html", name: "Rounds in whole words", terms: p.Terms, style: notation.PlainWords,
			say: fmt.Sprintf("This page has the rounds in whole words and short sentences, in %s names.", p.Terms)},
		{file: "left.html", name: "Left-handed", terms: p.Terms, left: true,
			say: "This page is for the left hand: charts and drawings are mirrored, words of direction are swapped, and the stitches are the same."},
		{file: "large.html", name: "Large print", terms: p.Terms, style: notation.PlainWords, large: true},
	}
}

// ownVariants returns the pages of a pattern in a book that is not in English:
// the rounds in its language, and in both systems of English names.
func (l language) ownVariants(p *pattern.Pattern) []variant {
	out := []variant{{file: Index, name: l.say("In our own words"), terms: p.Terms, lang: l.code}}
	for _, t := range []stitch.Terms{stitch.US, stitch.UK} {
		out = append(out, variant{file: strings.ToLower(t.String()) + ".html", name: l.say("English, %s names", t), terms: t,
			say: l.say("The rounds on this page are in English, in %s names.", t)})
	}
	return append(out,
		variant{file: "left.html", name: l.say("Left-handed"), terms: p.Terms, lang: l.code, left: true,
			say: l.say("This page is for the left hand: charts and drawings are mirrored.")},
		variant{file: "large.html", name: l.say("Large print"), terms: p.Terms, lang: l.code, large: true})
}

// other returns the language of the rounds on the page, if that is not the
// language of the page.
func (l language) other(v variant) string {
	if l.code != "" && v.lang == "" {
		return "en"
	}
	return ""
}

// wording returns the wording of the rounds on the page.
func (v variant) wording() notation.Wording {
	return notation.Wording{Terms: v.terms, Language: v.lang, Style: v.style}
}

// A work is a pattern on its way to its pages.
type work struct {
	*builder
	p         *pattern.Pattern
	prose     *prose.Document // nil if there is none
	estimates map[*pattern.Size]*pattern.Estimate
	drawn     map[drawingKey]*drawing
	symbols   []byte               // of all charts, for a page
	extras    []link               // pages beside those with the rounds
	found     map[string][]finding // of a preview, by the place on the page
}

// path returns the path of a file of the pattern in the site.
func (w *work) path(name string) string { return path.Join(w.p.Slug, name) }

func (w *work) textFile() string { return w.p.Slug + ".txt" }

type patternPage struct {
	page
	Name          string
	Summary       string
	Variant       string
	MakerNames    string // whose names the maker's own words have: "US names"; "" if the page has them too
	Long          bool   // the rounds are in whole words
	Left          bool   // for the left hand
	Hero          *picture
	Facts         []fact
	FirstRound    string // id
	Ways          []link
	Correction    *change
	Cautions      []proof.Caution
	Materials     *materials
	Gauge         *gaugeWords
	Abbreviations []notation.Abbreviation
	WordsLang     string // of those and of the rounds, if the page has another
	Notes         []string
	Pieces        []piecePart
	Finishing     []string
	Care          string
	Made          *made
	Sizes         []sizeRows
	Places        []placeTable
	Prose         template.HTML
	ProseFirst    bool // the prose has rounds in it, and stands where they do
	Pictures      []picture
	Licence       string
	FinishedItems string
	Credit        string
	Changes       []change
	Contact       *link
	Before, After *link
	Symbols       template.HTML
	Stale         bool                 // of a preview: errors keep the newest state of the pattern from being shown
	Found         map[string][]finding // of a preview, by the place on the page
	Elsewhere     []link               // to those of them that stand at rounds
}

// A fact is a line of the strip at the head of a page.
type fact struct {
	Name   string
	Values []string
}

type change struct{ Version, Date, Say string }

type materials struct {
	Yarns  []yarnRow
	Others []string
}

type yarnRow struct{ Hex, Name, What, Amount string }

type gaugeWords struct{ Say, Check string }

// SizeRows are the pieces of one size, in the table of sizes.
type sizeRows struct {
	Name   string
	Pieces []sizeRow
}

type sizeRow struct {
	ID, Name                 string // of the piece
	Rounds, Widest, Stitches int
}

// A piecePart is a piece in one size: its chart and its rounds.
type piecePart struct {
	ID     string
	Name   string
	Say    string
	Chart  *chartPart
	Rounds []roundRow
}

type chartPart struct {
	SVG     template.HTML
	Key     template.HTML // what its symbols mean
	Tall    bool          // it does not go on a screen whole
	File    string        // beside the page
	Name    string        // of the piece
	Caption string
	Strip   picture // its rounds laid straight, for a narrow screen
}

// A roundRow is a round, a range of rounds, or, if Do is not empty, a step.
type roundRow struct {
	ID          string // "" where the round has its address elsewhere on the page
	First, Last int
	Label, Many string // as "Rnds 3-5" and "(3 rounds)"
	Words, Lang string // and their language, if the page has another
	Wordy       bool   // the words need a line of their own
	Count       int
	Unit        string
	Change      string
	InProse     bool // and there has its address
	Advice      []string
	Ticks       []tick
	Found       []finding // of a preview

	Do, DoWord, Step string
}

type tick struct{ ID, Key, Label, Name string }

type placeTable struct {
	Name string // of the piece; "" if there is only one
	Rows []placeRow
}

// A placeRow is a count with the rounds that end with it.
type placeRow struct {
	Count  string
	Rounds []place
}

type place struct{ ID, Label string }

// page makes one of the pages of the pattern.
func (w *work) page(v variant) (*patternPage, error) {
	p := w.p
	out := &patternPage{
		page:          w.builder.page(w.path(v.file), p.Title),
		Name:          p.Title,
		Summary:       p.Summary,
		Variant:       v.say,
		Long:          v.style != notation.Short,
		Left:          v.left,
		Facts:         w.facts(p, v.wording()),
		Cautions:      proof.Cautions(p),
		Materials:     w.materialsOf(p),
		Gauge:         w.gaugeOf(p, v.wording()),
		Abbreviations: w.abbreviations(v),
		WordsLang:     w.other(v),
		Notes:         p.Notes,
		Finishing:     p.Finishing,
		Care:          p.Care,
		Made:          w.comesTo(v),
		Sizes:         w.sizes(),
		Licence:       p.Licence,
		FinishedItems: p.FinishedItems,
		Credit:        w.credit(),
		Contact:       contact(p),
		Symbols:       html(w.symbols),
		Found:         w.found,
	}
	if w.live != nil {
		out.Stale, out.Elsewhere = w.live.stale[p.Slug], w.elsewhere()
	}
	out.Large = v.large
	out.Description = p.Summary
	out.Social = w.social()
	out.Author = p.Author
	out.PrintFoot = p.Title
	if p.Version != "" {
		out.PrintFoot += w.say(", version %s", p.Version)
	}
	if v.terms != p.Terms && w.language == english {
		out.MakerNames = p.Terms.String() + " names"
	}
	if v.file != Index {
		out.Title = p.Title + " (" + v.name + ")"
	}
	pictures, err := w.shown()
	if err != nil {
		return nil, err
	}
	if len(pictures) > 0 {
		out.Hero, out.Pictures = &pictures[0], pictures[1:]
	} else {
		out.Hero = w.picture(v.left)
	}
	for _, other := range w.variants(p) {
		if other.file != v.file {
			out.Ways = append(out.Ways, link{other.file, other.name})
		}
	}
	out.Ways = append(append(out.Ways, link{w.textFile(), w.say("Plain text")}), w.extras...)
	if v.left && w.language == english {
		out.Notes, out.Finishing = otherHands(p.Notes, p.Terms), otherHands(p.Finishing, p.Terms)
	}
	out.Changes, out.Correction = w.changes(p)
	out.Before, out.After = w.neighbours()
	w.pieces(out, v)
	if len(out.Pieces) > 0 {
		out.Ways = slices.Insert(out.Ways, 0, link{"#" + out.Pieces[0].ID, w.say("Chart")})
	}
	if v.file == Index && w.prose != nil {
		if err := w.tell(out, v); err != nil {
			return nil, err
		}
	} else if w.found != nil { // what is found in the prose stands at the head
		out.Found = map[string][]finding{atHead: slices.Concat(w.found[atHead], w.found[atProse])}
	}
	return out, nil
}

// pieces puts the pieces of every size on the page, with the table of counts.
func (w *work) pieces(out *patternPage, v variant) {
	w.each(func(size *pattern.Size, piece *pattern.Piece) {
		part := piecePart{
			ID:     w.pieceID(size, piece),
			Name:   w.name(size, piece),
			Say:    w.pieceWords(piece),
			Chart:  w.chart(size, piece, v),
			Rounds: w.rounds(size, piece, v),
		}
		rows := w.places(part.Rounds)
		if len(rows) > 0 {
			out.Places = append(out.Places, placeTable{part.Name, rows})
		}
		out.Pieces = append(out.Pieces, part)
	})
	if len(out.Places) == 1 {
		out.Places[0].Name = ""
	}
	for _, part := range out.Pieces {
		for _, row := range part.Rounds {
			if out.FirstRound == "" {
				out.FirstRound = row.ID
			}
		}
	}
}

// each calls f for every piece in every size.
func (w *work) each(f func(*pattern.Size, *pattern.Piece)) {
	for _, size := range w.p.Sizes {
		for _, piece := range size.Pieces {
			f(size, piece)
		}
	}
}

// key names a piece in a size by lower case letters, digits and hyphens.
func (w *work) key(size *pattern.Size, piece *pattern.Piece) string {
	if len(w.p.Sizes) > 1 {
		return fmt.Sprintf("%s-size-%d", piece.Key, slices.Index(w.p.Sizes, size)+1)
	}
	return piece.Key
}

// pieceID returns the address of a piece on the page.
func (w *work) pieceID(size *pattern.Size, piece *pattern.Piece) string {
	return "piece-" + w.key(size, piece)
}

func (w *work) name(size *pattern.Size, piece *pattern.Piece) string {
	if len(w.p.Sizes) > 1 {
		return piece.Name + ", " + size.Name
	}
	return piece.Name
}

// roundID returns the address of a round on the page: "r3", with the key of the
// piece where there are several.
func (w *work) roundID(size *pattern.Size, piece *pattern.Piece, number int) string {
	id := "r" + strconv.Itoa(number)
	if len(w.p.Sizes) > 1 || len(w.p.Sizes[0].Pieces) > 1 {
		id += "-" + w.key(size, piece)
	}
	return id
}

// rounds returns the rounds of a piece with the steps between them.
func (w *work) rounds(size *pattern.Size, piece *pattern.Piece, v variant) []roundRow {
	var breaks []int
	for _, s := range piece.Steps {
		breaks = append(breaks, s.After)
	}
	var out []roundRow
	steps := func(after int) {
		for _, s := range piece.StepsAfter(after) {
			if v.left && w.language == english {
				s.Say = otherHand(s.Say, v.terms)
			}
			out = append(out, w.stepRow(s))
		}
	}
	steps(0)
	advice := w.advice(size, piece)
	wording := v.wording()
	wording.Breaks = breaks
	for _, line := range notation.Print(piece.Rounds, w.p.YarnNames(piece, v.style), wording) {
		row := roundRow{
			ID:    w.roundID(size, piece, line.First),
			First: line.First, Last: line.Last,
			Words:  line.Text,
			Lang:   w.other(v),
			Wordy:  utf8.RuneCountInString(line.Text) > maxBeside,
			Unit:   w.say("st"),
			Change: w.signed(line.Change),
		}
		row.Label, row.Many = splitLabel(line.Label)
		if i := slices.IndexFunc(piece.Rounds, func(r *notation.Round) bool { return r.Number == line.First }); i >= 0 {
			row.Count = piece.Rounds[i].Made
			if piece.Rounds[i].Below < 0 {
				row.Change = ""
			}
		}
		if row.Count != 1 {
			row.Unit = w.say("sts")
		}
		if v.style != notation.Short {
			row.Unit = strings.TrimLeft(w.stitches(row.Count), "0123456789 ")
		}
		for n := line.First; n <= line.Last; n++ {
			row.Advice = append(row.Advice, advice[n]...)
			row.Found = append(row.Found, w.found[w.roundID(size, piece, n)]...)
			t := tick{Key: fmt.Sprintf("%s %d", w.key(size, piece), n), Name: w.say("Round %d done", n)}
			if line.Last > line.First {
				t.Label = strconv.Itoa(n)
			}
			if n > line.First {
				t.ID = w.roundID(size, piece, n)
			}
			row.Ticks = append(row.Ticks, t)
		}
		out = append(out, row)
		steps(line.Last)
	}
	return out
}

// maxBeside is how many characters of words stand well between the label of a
// round and its count.
const maxBeside = 48

// splitLabel splits the label of a range, such as "Rnds 3-5 (3 rounds)", before
// what says how many rounds it is.
func splitLabel(label string) (rounds, many string) {
	for _, before := range []string{" (", ", "} {
		if i := strings.Index(label, before); i >= 0 {
			return strings.TrimRight(label[:i+1], " "), strings.TrimLeft(label[i+1:], " ")
		}
	}
	return label, ""
}

// signed writes a change of the count: "+6", "−6", "even".
func (l language) signed(n int) string {
	switch {
	case n > 0:
		return "+" + strconv.Itoa(n)
	case n < 0:
		return "−" + strconv.Itoa(-n)
	}
	return l.say("even")
}

// minHalf is how many rounds a piece has to have for its middle to be worth
// telling.
const minHalf = 12

// halfWay returns the number of the round in which half of all stitches are
// worked; -1 if the piece is short.
func halfWay(piece *pattern.Piece) int {
	if len(piece.Rounds) < minHalf {
		return -1
	}
	sum := 0
	for _, r := range piece.Rounds {
		if sum += r.Made; 2*sum >= piece.Stitches() {
			return r.Number
		}
	}
	return -1
}

var doWords = map[string]string{
	"stuff": "Stuff", "close": "Close", "eyes": "Eyes", "yarn": "Yarn", "turn": "Turn",
	"mark": "Mark", "fasten off": "Fasten off", "note": "",
}

// stepRow returns a step as a row. Its word is left out where the maker's own
// words begin with it.
func (l language) stepRow(s pattern.Step) roundRow {
	row := roundRow{Do: s.Do, DoWord: l.say(doWords[s.Do]), Step: s.Say}
	if row.Step == "" {
		row.DoWord, row.Step = "", row.DoWord+"."
	} else if strings.HasPrefix(strings.ToLower(row.Step), strings.ToLower(row.DoWord)) {
		row.DoWord = ""
	}
	return row
}

// places returns the counts that rounds end with, in rising order, each with
// its rounds.
func (l language) places(rows []roundRow) []placeRow {
	by := map[int][]place{}
	var counts []int
	for _, r := range rows {
		if r.Do != "" {
			continue
		}
		label := strconv.Itoa(r.First)
		if r.Last > r.First {
			label += "–" + strconv.Itoa(r.Last)
		}
		if by[r.Count] == nil {
			counts = append(counts, r.Count)
		}
		by[r.Count] = append(by[r.Count], place{r.ID, label})
	}
	slices.Sort(counts)
	var out []placeRow
	for _, n := range counts {
		out = append(out, placeRow{l.stitches(n), by[n]})
	}
	return out
}

// pieceWords says what to know about a piece as a whole.
func (l language) pieceWords(piece *pattern.Piece) string {
	var out []string
	if piece.Make > 1 {
		out = append(out, l.say("Make %d.", piece.Make))
	}
	if piece.Style == pattern.Joined {
		out = append(out, l.say("Worked in joined rounds"))
	} else {
		out = append(out, l.say("Worked in a spiral"))
	}
	n := len(piece.Rounds)
	s := l.say("%d rounds, %s in all.", n, l.stitches(piece.Stitches()))
	if n == 1 {
		s = l.say("1 round, %s.", l.stitches(piece.Stitches()))
	}
	out[len(out)-1] += ": " + s
	return strings.Join(out, " ")
}

// abbreviations returns those of all rounds in all sizes, each once.
func (w *work) abbreviations(v variant) []notation.Abbreviation {
	var out []notation.Abbreviation
	w.each(func(_ *pattern.Size, piece *pattern.Piece) {
		for _, a := range notation.Abbreviations(piece.Rounds, v.wording()) {
			if !slices.Contains(out, a) {
				out = append(out, a)
			}
		}
	})
	slices.SortStableFunc(out, func(a, b notation.Abbreviation) int {
		return strings.Compare(strings.ToLower(cmp.Or(a.Abbr, a.Term)), strings.ToLower(cmp.Or(b.Abbr, b.Term)))
	})
	return out
}

// neighbours returns links to the patterns before and after this one.
func (w *work) neighbours() (before, after *link) {
	i := slices.Index(w.book.Patterns, w.p)
	to := func(i int) *link {
		if i < 0 || i >= len(w.book.Patterns) {
			return nil
		}
		return &link{"../" + home(w.book.Patterns[i]), w.book.Patterns[i].Title}
	}
	return to(i - 1), to(i + 1)
}

// credit returns the line by which others name the pattern.
func (w *work) credit() string {
	p := w.p
	parts := []string{"“" + p.Title + "”"}
	if p.Author != "" {
		parts[0] = w.say("%s by %s", parts[0], p.Author)
	}
	if p.Version != "" {
		parts = append(parts, w.say("version %s", p.Version))
	}
	if p.Licence != "" {
		parts = append(parts, p.Licence)
	}
	if w.book.Address != "" {
		parts = append(parts, w.book.Address+home(p))
	}
	return strings.Join(parts, ", ")
}

// contact returns a link by which a reader can report a slip; nil if the
// pattern has no contact that can be linked to.
func contact(p *pattern.Pattern) *link {
	switch c := p.Contact; {
	case c == "":
		return nil
	case strings.HasPrefix(c, "https://"), strings.HasPrefix(c, "http://"):
		return &link{c, c}
	case strings.Count(c, "@") == 1 && !strings.ContainsAny(c, " <>?&:/"):
		return &link{"mailto:" + c + "?subject=" + strings.ReplaceAll(template.URLQueryEscaper(p.Title, ", version ", cmp.Or(p.Version, "?"), ", round "), "+", "%20"), c}
	}
	return &link{"", p.Contact}
}

// changes returns the versions of a pattern and, if the newest is a correction,
// that one.
func (l language) changes(p *pattern.Pattern) (all []change, correction *change) {
	for _, c := range versions(p) {
		say := c.Say
		if len(p.Changes) == 0 {
			say = l.say("First published.")
		}
		if c.Version == "" && c.Date.IsZero() {
			continue
		}
		all = append(all, change{c.Version, l.day(c.Date), say})
	}
	if len(p.Changes) > 1 && p.Changes[0].Version == p.Version {
		c := p.Changes[0]
		correction = &change{c.Version, l.day(c.Date), c.Say}
	}
	return all, correction
}

// tell puts the maker's prose on the page, with the parts that it asks for. A
// piece that has all its rounds in the prose has them there only, with their
// addresses; the prose then stands in the place of the rounds. Else it is a
// story at the end, and rounds in it are quoted.
func (w *work) tell(out *patternPage, v variant) error {
	told := map[string]bool{} // addresses of the rounds in the prose
	for _, d := range w.prose.Directives {
		if d.Kind == prose.Rounds {
			for _, m := range w.matching(d) {
				for _, r := range within(w.rounds(m.size, m.piece, v), d) {
					told[r.ID] = true
				}
			}
		}
	}
	home := map[string]bool{} // those that have their address in the prose
	out.Pieces = slices.DeleteFunc(out.Pieces, func(part piecePart) bool {
		if slices.ContainsFunc(part.Rounds, func(r roundRow) bool { return r.Do == "" && !told[r.ID] }) {
			return false
		}
		for _, r := range part.Rounds {
			home[r.ID] = true
		}
		out.ProseFirst = true
		return true
	})
	var failed error
	text, err := w.prose.HTML(3, func(d *prose.Directive) template.HTML {
		part, err := w.part(out, d, v, home)
		failed = cmp.Or(failed, err)
		return part
	})
	out.Prose = text
	return cmp.Or(err, failed)
}

// part returns what a directive of the prose asks for. It takes the addresses
// that it gives to rounds out of home, so that no round has two.
func (w *work) part(out *patternPage, d *prose.Directive, v variant, home map[string]bool) (template.HTML, error) {
	var b bytes.Buffer
	var err error
	put := func(name string, data any) {
		if err == nil {
			err = w.pages.ExecuteTemplate(&b, name, data)
		}
	}
	switch d.Kind {
	case prose.Materials:
		if out.Materials != nil {
			put("materials", out.Materials)
		}
	case prose.Gauge:
		if out.Gauge != nil {
			put("gauge", out.Gauge)
		}
	case prose.Abbreviations:
		put("abbreviations", out.Abbreviations)
	case prose.Notes:
		put("notes", out.Notes)
	case prose.Finishing:
		put("finishing", out.Finishing)
	case prose.Rounds, prose.Steps, prose.Chart:
		for _, m := range w.matching(d) {
			switch d.Kind {
			case prose.Chart:
				c := w.chart(m.size, m.piece, v)
				c.Caption = d.Caption
				put("chart", c)
			default:
				rows := within(w.rounds(m.size, m.piece, v), d)
				for i := range rows {
					if r := &rows[i]; home[r.ID] {
						r.InProse = true
						delete(home, r.ID)
					} else {
						r.ID, r.Ticks, r.Found = "", nil, nil
					}
				}
				put("rounds", rows)
			}
		}
		if d.Kind != prose.Chart && d.Caption != "" {
			put("caption", d.Caption)
		}
	}
	return html(b.Bytes()), err
}

type sizedPiece struct {
	size  *pattern.Size
	piece *pattern.Piece
}

// matching returns the pieces that a directive names, in the size that it
// names or the first.
func (w *work) matching(d *prose.Directive) []sizedPiece {
	var out []sizedPiece
	for i, size := range w.p.Sizes {
		if !strings.EqualFold(size.Name, d.Size) && !(d.Size == "" && i == 0) {
			continue
		}
		for _, piece := range size.Pieces {
			if d.Piece == "" || strings.EqualFold(piece.Name, d.Piece) || piece.Key == d.Piece {
				out = append(out, sizedPiece{size, piece})
			}
		}
	}
	return out
}

// within returns the rows that a directive asks for: a range of rounds with the
// steps after each, or the steps alone.
func within(rows []roundRow, d *prose.Directive) []roundRow {
	var out []roundRow
	number := 0 // of the round that a step comes after
	for _, r := range rows {
		isRound := r.Do == ""
		first := number
		if isRound {
			first, number = r.First, r.Last
		}
		if number < d.From || d.To > 0 && first > d.To || isRound && d.Kind == prose.Steps {
			continue
		}
		out = append(out, r)
	}
	return out
}

// picture is an image of a page.
type picture struct {
	Src, Alt      string
	Width, Height int  // in pixels; 0 if unknown
	Drawn         bool // from the stitches
}

// pictures copies the pictures of the pattern and of its prose into the site.
func (w *work) pictures() error {
	var files []string
	for _, photo := range w.p.Photos {
		files = append(files, photo.File)
	}
	if w.p.Prose != nil {
		w.prose = prose.Parse(w.p.Prose)
		for _, image := range w.prose.Images {
			files = append(files, image.File)
		}
	}
	slices.Sort(files)
	for _, file := range slices.Compact(files) {
		if !fs.ValidPath(file) {
			return fmt.Errorf("%q is no picture of this pattern", file)
		}
		if err := w.copy(w.path(file), path.Join(w.p.Dir, file)); err != nil {
			return err
		}
	}
	return nil
}

// shown returns the photos of the pattern as pictures of its page.
func (w *work) shown() ([]picture, error) {
	var out []picture
	for _, photo := range w.p.Photos {
		pic := picture{Src: photo.File, Alt: photo.Alt}
		data, err := readPicture(w.opt.Files, path.Join(w.p.Dir, photo.File))
		if err != nil {
			return nil, err
		}
		pic.Width, pic.Height = pixels(data)
		out = append(out, pic)
	}
	return out, nil
}
