package notation

import "roundelay/pattern/stitch"

// An elem is one place of the round below.
type elem struct {
	first, last int32 // the stitches it is made of
	chain       bool  // a chain of a space
	counts      bool  // "each st" is worked into it
	run         int32 // of a chain: how many more of its space come after it
	into        int32 // stitches worked into one place have one number
	group       int32 // stitches worked into one place together, such as a shell, have one number; 0 for a stitch alone
	place       Place
}

// A fabric is the round below, as places to work into, in the order in which
// they are met.
type fabric struct {
	elems    []elem
	round    int32 // index of the round; -1 if it is only a number of stitches
	stitches int   // how many of elems are no chains
	guessed  bool  // its spaces are those of the repair that was proposed, which may be another
	known    bool  // false: nothing is known of it, not even its count
	spaced   bool  // it has chain spaces
	grouped  bool  // some of elems are of a group
	paired   bool  // no stitch is alone: all are two or more in one place
	inner    bool  // some chain spaces are inside a group: corners, shells
	outer    bool  // some chain spaces are inside none

	runs [10]bool // there are spaces of so many chains
}

// places returns the places of a round. A turned round is met from its end.
func places(r *Round, index int) fabric {
	f := fabric{elems: make([]elem, 0, len(r.Stitches)), round: int32(index), known: true}
	for i := range r.Stitches {
		s := &r.Stitches[i]
		e := elem{first: int32(i), last: int32(i), place: IntoStitch}
		switch {
		case s.Role == Joining, s.Kind.Form == stitch.Picot:
			continue
		case s.Role == StartingChain:
			if !s.Counts {
				continue
			}
		case s.Kind == stitch.Ch:
			e.chain, f.spaced = true, true
		}
		e.counts = s.Counts
		if e.counts {
			f.stitches++
		}
		f.elems = append(f.elems, e)
	}
	if r.Turned {
		for i, j := 0, len(f.elems)-1; i < j; i, j = i+1, j-1 {
			f.elems[i], f.elems[j] = f.elems[j], f.elems[i]
		}
	}
	f.group(r.Stitches)
	run := int32(0)
	for i := len(f.elems) - 1; i >= 0; i-- {
		if !f.elems[i].chain {
			run = 0
			continue
		}
		f.elems[i].run = run
		f.outer = f.outer || f.elems[i].group == 0
		run++
		if int(run) < len(f.runs) && (i == 0 || !f.elems[i-1].chain) {
			f.runs[run] = true
		}
	}
	return f
}

// group numbers the elems that were worked into one place together, three
// stitches or more, or two with chains between them.
func (f *fabric) group(stitches []Stitch) {
	alone := func(e elem) bool {
		s := stitches[e.first]
		return s.Role == StartingChain || s.Into.Where == IntoRing || s.Into.Where == IntoNothing || s.Into.elsewhere()
	}
	for i := range f.elems {
		if i == 0 {
			continue
		}
		a, b := &stitches[f.elems[i-1].first], &stitches[f.elems[i].first]
		f.elems[i].into = f.elems[i-1].into
		if a.Into != b.Into && a.Role != StartingChain {
			f.elems[i].into++
		}
	}
	f.paired = f.pairs()
	id := int32(0)
	for i := 0; i < len(f.elems); {
		if f.elems[i].chain || alone(f.elems[i]) {
			i++
			continue
		}
		into := stitches[f.elems[i].first].Into
		end, posts, chains := i+1, 1, 0
		for j := i + 1; j < len(f.elems); j++ {
			if f.elems[j].chain {
				continue
			}
			if alone(f.elems[j]) || stitches[f.elems[j].first].Into != into {
				break
			}
			chains += j - end
			end, posts = j+1, posts+1
		}
		if posts >= 3 || posts == 2 && chains > 0 {
			id++
			for j := i; j < end; j++ {
				f.elems[j].group = id
			}
			f.grouped = true
			f.inner = f.inner || chains > 0
		}
		i = end
	}
	if f.grouped || !f.spaced {
		return
	}
	// "the centre dc of next group", where chains part the groups
	for i := 0; i < len(f.elems); {
		end := i
		for end < len(f.elems) && !f.elems[end].chain {
			end++
		}
		if end-i >= 3 {
			id++
			f.grouped = true
			for j := i; j < end; j++ {
				f.elems[j].group = id
			}
		}
		i = max(end, i+1)
	}
}

// pairs reports whether the stitches of f are worked in pairs, or more, into
// several places.
func (f *fabric) pairs() bool {
	e := f.elems
	if len(e) < 4 || e[0].into == e[len(e)-1].into {
		return false
	}
	for i := range e {
		if (i == 0 || e[i-1].into != e[i].into) && (i == len(e)-1 || e[i+1].into != e[i].into) {
			return false
		}
	}
	return true
}

// middles returns at which elems the middle stitch of a group stands.
func (f *fabric) middles() map[int]bool {
	if f.spaced || !f.grouped {
		return nil
	}
	m := map[int]bool{}
	for i := 0; i < len(f.elems); {
		end := i + 1
		for end < len(f.elems) && f.elems[i].group != 0 && f.elems[end].group == f.elems[i].group {
			end++
		}
		if f.elems[i].group != 0 {
			m[i+(end-i)/2] = true
		}
		i = end
	}
	return m
}

// plainFabric is a round below of which only the count is known.
func plainFabric(n int) fabric {
	n = min(n, MaxRound)
	f := fabric{elems: make([]elem, n), round: -1, stitches: n, known: true}
	for i := range f.elems {
		f.elems[i] = elem{first: int32(i), last: int32(i), place: IntoStitch, counts: true}
	}
	return f
}

// declaredFabric is a round below of n stitches, with such spaces as l declares.
func declaredFabric(l *Line, n int) fabric {
	if d := l.Declared; d != nil && d.Total == n {
		return spacedFabric(n, d.Spaces, d.Chain)
	}
	return plainFabric(n)
}

// spacedFabric is a round below of which only the counts are known, of stitches
// and of spaces of so many chains: each space comes after as many stitches.
func spacedFabric(n, spaces, chains int) fabric {
	f := plainFabric(n)
	if spaces <= 0 || n%spaces != 0 || chains > 9 || n+spaces*chains > MaxRound {
		return f
	}
	each, plain := n/spaces, f.elems
	chains = max(chains, 1)
	f.elems, f.spaced, f.outer, f.runs[chains] = nil, true, true, true
	for len(plain) > 0 {
		f.elems = append(f.elems, plain[:each]...)
		plain = plain[each:]
		for run := chains - 1; run >= 0; run-- {
			f.elems = append(f.elems, elem{chain: true, run: int32(run), place: IntoStitch})
		}
	}
	for i := range f.elems {
		f.elems[i].first, f.elems[i].last = int32(i), int32(i)
	}
	return f
}

// ringFabric is a ring of n chains that are worked into one by one.
func ringFabric(n, index int) fabric {
	f := fabric{round: int32(index), known: true, stitches: n}
	for i := range n {
		f.elems = append(f.elems, elem{first: int32(i), last: int32(i), place: IntoChain, counts: true})
	}
	return f
}

// foundationFabric is both sides of a foundation chain of n, from the k-th chain from the hook.
func foundationFabric(n, k, index int) fabric {
	f := fabric{round: int32(index), known: true}
	for i := n - k; i >= 0; i-- {
		f.elems = append(f.elems, elem{first: int32(i), last: int32(i), place: IntoChain, counts: true})
	}
	for i := 1; i <= n-k; i++ {
		f.elems = append(f.elems, elem{first: int32(i), last: int32(i), place: IntoUnder, counts: true})
	}
	f.stitches = len(f.elems)
	return f
}

// named reports whether a space as t names it begins at the elem i: of those
// inside groups if there are some and a corner or shell is asked for, of as many
// chains as t says if there are some.
func (f *fabric) named(i int, t Target) bool {
	e := f.elems[i]
	switch {
	case !e.chain:
		return false
	case t.Where == Corner && f.inner:
		return e.group != 0
	case t.Chain > 0 && t.Chain < len(f.runs) && f.runs[t.Chain]:
		return int(e.run)+1 == t.Chain && (i == 0 || !f.elems[i-1].chain || f.elems[i-1].run == 0)
	}
	return true
}

// from returns f as it is met from the elem at on, all round.
func (f fabric) from(at int) fabric {
	e := f.elems
	f.elems = append(append(make([]elem, 0, len(e)), e[at:]...), e[:at]...)
	return f
}
