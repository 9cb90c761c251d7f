package pattern

import (
	"cmp"
	"fmt"
	"maps"
	"slices"
	"strconv"
	"strings"

	"roundelay/pattern/notation"
	"roundelay/pattern/source"
)

// sizes works out the pieces in every size.
func (l *loader) sizes(t table) {
	numbers := map[string]int{}
	l.setNumbers(t, numbers, nil)
	tables := t.subs("size")
	if len(tables) == 0 {
		tables = []table{{&node{kind: tableNode}, "size"}}
	}
	base := l.pieceTables(t.subs("piece"))
	names := map[string]bool{}
	work := &workshop{loader: l, worked: map[workKey]*worked{}, plans: map[string]*Plan{}}
	for _, s := range tables {
		name := s.text("name")
		if names[strings.ToLower(name)] {
			l.fault(s.place("name"), "duplicate", "give each size a name of its own", "there is a size %q above already", shortened(name))
		}
		names[strings.ToLower(name)] = true

		size := &Size{
			Name: name, At: s.at,
			FinishedSize: cmp.Or(s.text("finished_size"), l.p.FinishedSize),
			Gauge:        cmp.Or(l.gauge(s), l.p.Gauge),
			Hook:         cmp.Or(l.hook(s), l.p.Hook),
			Yarns:        l.amounts(s),
		}
		own := maps.Clone(numbers)
		l.setNumbers(s, own, numbers)
		overrides := l.overrides(s, base)
		found := &reader{file: l.file}
		for i, piece := range base {
			size.Pieces = append(size.Pieces, work.piece(found, size, i, piece, overrides[i], own))
		}
		l.p.Sizes = append(l.p.Sizes, size)
		work.found = append(work.found, found)
	}
	work.report()
}

// setNumbers puts the numbers of a table into numbers. Where known is not nil,
// only those may be set.
func (l *loader) setNumbers(t table, numbers, known map[string]int) {
	n, ok := t.sub("numbers")
	if !ok {
		return
	}
	for _, name := range n.names() {
		if n.table[name].bad {
			continue
		}
		if _, ok := known[name]; known != nil && !ok {
			hint := "give it there first, with the value that holds where a size says nothing"
			if near := source.Nearest(name, slices.Sorted(maps.Keys(known))); near != "" {
				hint = fmt.Sprintf("did you mean %s?", near)
			}
			l.fault(n.table[name].keyAt, "unknown-key", hint, "there is no %s among the [numbers] of the pattern", shortened(name))
			continue
		}
		numbers[name], _ = n.whole(name)
	}
}

// amounts returns the yarns of the pattern with the amounts that a size states.
func (l *loader) amounts(t table) []Yarn {
	yarns := slices.Clone(l.p.Yarns)
	if len(l.p.Sizes) > 0 { // what was weighed for the pattern was so for its first size
		for i := range yarns {
			yarns[i].BeforeG, yarns[i].AfterG = 0, 0
		}
	}
	for _, y := range t.subs("yarn") {
		key := y.text("key")
		i := slices.IndexFunc(yarns, func(y Yarn) bool { return y.Key == key })
		switch {
		case key == "":
			continue
		case i < 0:
			l.unknownYarn(&l.reader, y.place("key"), key)
			continue
		}
		yarns[i].Grams = cmp.Or(y.number("grams"), yarns[i].Grams)
		yarns[i].Metres = cmp.Or(y.number("metres"), yarns[i].Metres)
		l.weighed(&yarns[i], y)
	}
	return yarns
}

// unknownYarn reports a key that no yarn has.
func (l *loader) unknownYarn(r *reader, at source.Span, key string) {
	hint := "there are no yarns in the file; write a [[yarn]] with that key"
	if keys := l.yarnKeys(); len(keys) > 0 {
		hint = "the yarns are " + listed(keys, "and")
	}
	r.fault(at, "unknown-yarn", hint, "there is no yarn %q", shortened(key))
}

// pieceTables returns the tables of the pieces that have names of their own.
func (l *loader) pieceTables(all []table) []table {
	var out []table
	keys := map[string]bool{}
	for _, t := range all {
		name := t.text("name")
		if name == "" {
			continue
		}
		key := pieceKey(name, len(out))
		if keys[key] {
			l.fault(t.place("name"), "duplicate", "give each piece a name of its own, of letters and digits", "there is a piece %q above already", shortened(name))
			continue
		}
		keys[key] = true
		out = append(out, t)
	}
	return out
}

// pieceKey returns the name of a piece in lower case letters, digits and
// hyphens; index counts the pieces from 0.
func pieceKey(name string, index int) string {
	return cmp.Or(slugOf(name), fmt.Sprintf("piece-%d", index+1))
}

// overrides returns what a size says about each piece: a table without a node
// where it says nothing.
func (l *loader) overrides(size table, pieces []table) []table {
	out := make([]table, len(pieces))
	for _, t := range size.subs("piece") {
		name := t.text("name")
		i := slices.IndexFunc(pieces, func(p table) bool { return p.text("name") == name })
		switch {
		case name == "":
		case i < 0:
			var names []string
			for _, p := range pieces {
				names = append(names, p.text("name"))
			}
			l.fault(t.place("name"), "unknown-piece", "the pieces are "+listed(names, "and"), "there is no piece %q", shortened(name))
		case out[i].node != nil:
			l.fault(t.place("name"), "duplicate", "put all of it in one place", "this size has the piece %q above already", shortened(name))
		default:
			out[i] = t
		}
	}
	return out
}

// A workshop works out the pieces of one pattern in all its sizes. Rounds that
// read alike in several sizes are worked once.
type workshop struct {
	*loader
	worked   map[workKey]*worked
	stitches int // worked so far
	plans    map[string]*Plan
	toPlan   float64   // about how many stitches were planned so far
	found    []*reader // what was found in each size
}

type workKey struct {
	piece int // index
	from  int // where its rounds stand
	text  string
}

// A worked is the rounds of a piece as worked.
type worked struct {
	lines    []*notation.Line
	rounds   []*notation.Round
	verdicts []notation.Verdict
	yarns    []int
	findings source.Findings
}

// piece works out one piece in one size.
func (w *workshop) piece(r *reader, size *Size, index int, t, over table, numbers map[string]int) *Piece {
	p := &Piece{Name: t.text("name"), At: t.at, Make: 1}
	p.Key = pieceKey(p.Name, index)
	if t.text("style") == "joined" {
		p.Style = Joined
	}
	switch t.text("chain") {
	case "counts":
		p.Chain = notation.ChainCounts
	case "does not count":
		p.Chain = notation.ChainNotCounted
	}
	rounds, steps := t, t.subs("step")
	if n, ok := t.whole("make"); ok {
		p.Make = n
	}
	if over.node != nil {
		if n, ok := over.whole("make"); ok {
			p.Make = n
		}
		if over.given("rounds") {
			rounds = over
		}
		if s := over.subs("step"); s != nil {
			steps = s
		}
	}
	if at, ok := r.shapeTable(t, over); ok {
		w.plan(r, p, index, t, at, size)
	} else {
		w.rounds(r, p, index, t, rounds, numbers)
	}
	for _, s := range steps {
		r.step(p, s, numbers)
	}
	p.planSteps()
	slices.SortStableFunc(p.Steps, func(a, b Step) int { return cmp.Compare(a.After, b.After) })
	does := func(what string) bool {
		return slices.ContainsFunc(p.Steps, func(s Step) bool { return s.Do == what })
	}
	var given bool
	if p.Stuffed, given = t.flag("stuffed"); !given {
		p.Stuffed = does("stuff")
	}
	p.Hollow = given && !p.Stuffed
	p.Firmness, p.FillingG = firmnessNamed(t.text("firmness")), t.number("filling_grams")
	if flat, given := t.flag("flat"); given {
		p.Flat = &flat
	}
	if p.Closed, given = t.flag("closed"); !given {
		p.Closed = does("close")
	}
	w.outline(r, p, t)
	return p
}

// outline reads what outline the chart of a piece has. Corners have to be there to
// be drawn.
func (w *workshop) outline(r *reader, p *Piece, t table) {
	if t.text("outline") != cornered {
		return
	}
	p.Cornered = true
	if len(p.Rounds) > 0 && len(r.findings) == 0 && FindCorners(p.Rounds).Count == 0 && !isFoundation(p.Rounds[0]) {
		r.fault(t.get("outline").at, "outline-corners", `say "round", or leave it out`, "the rounds of %q do not grow at corners, one over the other, so its chart can only be round", shortened(p.Name))
	}
}

// rounds works the rounds of a piece, which stand in one table, while what else
// is said about it stands in t.
func (w *workshop) rounds(r *reader, p *Piece, index int, t, rounds table, numbers map[string]int) {
	n := rounds.get("rounds")
	text, ok := n.value.(string)
	if !ok {
		if !rounds.given("rounds") {
			r.fault(t.at, "missing-key", "add rounds = ''' and the rounds, one a line, and ''' at the end, or [piece.shape] to have them planned", "the piece %q has no rounds", shortened(p.Name))
		}
		return
	}
	at := inside(w.file.Text, n.at)
	if strings.ReplaceAll(w.file.Text[at.From:at.To], "\r\n", "\n") != strings.ReplaceAll(text, "\r\n", "\n") {
		r.fault(n.at, "rounds-quotes", "write them between three single quotes: rounds = ''' ... '''", "these rounds are written with escapes, so that their stitches have no place in the file")
		return
	}
	first := w.firstYarn(r, t)
	before := len(r.findings)
	f := r.withNumbers(w.file, at, numbers)
	if len(r.findings) > before {
		return // rounds with a sum that says nothing can't be worked
	}
	w.workIn(r, p, index, f, n.at, first)
}

// firstYarn returns the index of the yarn that a piece begins with.
func (w *workshop) firstYarn(r *reader, t table) int {
	key := t.text("yarn")
	if key == "" {
		return 0
	}
	i := slices.IndexFunc(w.p.Yarns, func(y Yarn) bool { return y.Key == key })
	if i < 0 {
		w.unknownYarn(r, t.place("yarn"), key)
	}
	return max(0, i)
}

// workIn works the rounds in f, which stand, or have what they are planned for,
// at the given place.
func (w *workshop) workIn(r *reader, p *Piece, index int, f *source.File, at source.Span, first int) {
	key := workKey{index, at.From, f.Text}
	done := w.worked[key]
	if done == nil && w.stitches > maxWorkedAll {
		r.fault(at, "too-many", "", "the pieces and sizes above have more than %d stitches in all; these rounds are not worked", maxWorkedAll)
		return
	}
	if done == nil {
		done = w.work(f, p, first)
		w.worked[key] = done
	}
	p.Lines, p.Rounds, p.Verdicts, p.Yarns = done.lines, done.rounds, done.verdicts, done.yarns
	for _, f := range done.findings {
		r.report(f)
	}
}

// step reads a step of a piece whose rounds are worked.
func (r *reader) step(p *Piece, t table, numbers map[string]int) {
	s := Step{Do: cmp.Or(t.text("do"), "note"), At: t.at}
	s.Say = r.textWithNumbers(t.text("say"), t.place("say"), numbers)
	switch v := t.value("after").(type) {
	case int64:
		s.After = int(v)
	case string:
		text := r.textWithNumbers(v, t.place("after"), numbers)
		after, err := strconv.Atoi(strings.TrimSpace(text))
		if err != nil || after < 0 || after > maxStepped {
			r.fault(t.place("after"), "wrong-type", "write the number of a round, or a sum in braces of names under [numbers]", "after is %q; it should be a whole number", shortened(text))
			return
		}
		s.After = after
	default:
		return // said already
	}
	if s.Do == "note" && s.Say == "" {
		wrong := func(name string) bool { return t.given(name) && t.text(name) == "" }
		if !wrong("do") && !wrong("say") { // else it was said
			r.fault(t.at, "missing-key", `add say = "..."`, "this step says nothing to do")
		}
		return
	}
	if n := len(p.Verdicts); n > 0 && s.After > 0 && !slices.ContainsFunc(p.Verdicts, func(v notation.Verdict) bool { return v.First <= s.After && s.After <= v.Last }) {
		r.fault(t.place("after"), "step-round", "after is the number of one of its rounds", "the piece %q has no round %d; its last is round %d", shortened(p.Name), s.After, p.Verdicts[n-1].Last)
		return
	}
	p.Steps = append(p.Steps, s)
}

// report passes on what was found in the sizes. What was found in all of them
// is told once; all else names its size.
func (w *workshop) report() {
	in := map[string]int{} // how many sizes have the finding
	for _, r := range w.found {
		r.findings.Sort() // drops repeats
		for _, f := range r.findings {
			in[f.String()]++
		}
	}
	for i, r := range w.found {
		for _, f := range r.findings {
			if in[f.String()] < len(w.found) {
				f.Message = fmt.Sprintf("in size %s: %s", w.p.Sizes[i].Name, f.Message)
			} else if i > 0 {
				continue
			}
			w.loader.report(f)
		}
	}
}
