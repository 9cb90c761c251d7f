package pattern

import (
	"errors"
	"fmt"
	"maps"

	"roundelay/pattern/notation"
	"roundelay/pattern/source"
)

// shapeTable returns the table that says what a piece is planned for in a size:
// that of the piece, with what the size says anew. It is false if the piece has
// rounds in this size, or neither.
func (r *reader) shapeTable(t, over table) (table, bool) {
	base, planned := t.sub("shape")
	if over.node == nil {
		return base, planned
	}
	if over.given("rounds") {
		return table{}, false
	}
	own, ok := over.sub("shape")
	if !ok {
		return base, planned
	}
	if !planned {
		base = table{newTable(own.keyAt, own.at), own.path}
	}
	both := newTable(own.keyAt, own.at)
	maps.Copy(both.table, base.table)
	maps.Copy(both.table, own.table)
	return table{both, base.path}, true
}

// solid reads a table shape.
func (r *reader) solid(t table) (Solid, bool) {
	s := Solid{Form: t.text("form"), Start: t.text("start"), End: t.text("end")}
	for name, mm := range map[string]*float64{"across": &s.AcrossMM, "height": &s.HeightMM, "base": &s.BaseMM} {
		*mm, _ = ParseLengthMM(t.text(name))
	}
	for name, n := range map[string]*int{"first": &s.First, "multiple": &s.Multiple, "widest": &s.Widest, "rounds": &s.Rounds} {
		*n, _ = t.whole(name)
	}
	s.Symmetric, _ = t.flag("symmetric")
	for _, item := range t.get("points").list {
		p, err := ParsePoint(item.value.(string))
		if err != nil {
			r.fault(item.at, "bad-value", `write a width at a height, as in "60 mm at 25 mm"`, "points: %v", err)
			return s, false
		}
		s.Points = append(s.Points, p)
	}
	for _, n := range t.table {
		if n.bad {
			return s, false // said already
		}
	}
	return s, true
}

// plan works out the rounds of a piece, which stands in t, for the shape at.
func (w *workshop) plan(r *reader, p *Piece, index int, t, at table, size *Size) {
	if t.given("rounds") && t.given("shape") {
		r.fault(t.place("shape"), "conflict", "take one of them out", "the piece %q has both rounds and a shape", shortened(p.Name))
		return
	}
	if p.Chain == notation.ChainCounts {
		r.fault(t.place("chain"), "conflict", `write chain = "does not count", or write the rounds yourself`, "the starting chains of planned rounds do not count as stitches")
		return
	}
	s, ok := r.solid(at)
	if !ok {
		return
	}
	first := w.firstYarn(r, t)
	var given bool
	if s.Filled, given = t.flag("stuffed"); !given {
		s.Filled = s.Shut()
	}
	s.Firmness = firmnessNamed(t.text("firmness"))
	worked := &Piece{Stuffed: s.Filled}
	if len(w.p.Yarns) > 0 {
		worked.Yarns = w.yarnsFrom(first)
	}
	fabric, ok := size.Fabric(worked)
	if !ok {
		r.fault(at.at, "no-gauge", "add [gauge] with stitches, rounds and over", "rounds can't be planned without a gauge")
		return
	}
	plan, err := w.planned(s, fabric, p.Style)
	var wrong *SolidError
	switch {
	case errors.As(err, &wrong):
		place := at.at
		if at.given(wrong.Key) {
			place = at.place(wrong.Key)
		}
		r.fault(place, "bad-shape", wrong.Hint, "%s", wrong.Message)
		return
	case err != nil:
		r.fault(at.at, "bad-shape", "", "no rounds can be planned: %v", err)
		return
	}
	if fabric.Basis != Stated {
		r.report(source.Finding{
			At: at.at, Severity: source.Warning, Code: "gauge-estimated", Hint: "add [gauge] with stitches, rounds and over",
			Message: fmt.Sprintf("the rounds of the piece %q are planned by a gauge that is %s", shortened(p.Name), fabric.Basis),
		})
	}
	p.Plan, p.Chain, p.Stuffed, p.Hollow = plan, notation.ChainNotCounted, s.Filled, !s.Filled
	w.workIn(r, p, index, w.file.Section(at.at, source.Edit{Span: at.at, Text: plan.Written(w.p.Terms)}), at.at, first)
}

// maxPlans is the most shapes of a pattern that are planned.
const maxPlans = 200

// planned returns the plan for a solid, of which one is made only once.
func (w *workshop) planned(s Solid, f Fabric, style Style) (*Plan, error) {
	key := fmt.Sprint(s, f, style)
	if p := w.plans[key]; p != nil {
		return p, nil
	}
	_, outline, err := s.complete()
	if err != nil {
		return nil, err
	}
	size := f.Stitch(f.Gauge.Stitch)
	stitches := outline.AreaMM2() / size.WidthMM / size.HeightMM
	if !(w.toPlan+stitches <= maxWorkedAll) {
		return nil, fmt.Errorf("it takes about %.0f stitches; all that is planned for a pattern may take %d", stitches, maxWorkedAll)
	}
	if len(w.plans) == maxPlans {
		return nil, fmt.Errorf("there are more than %d different shapes in all pieces and sizes", maxPlans)
	}
	w.toPlan += stitches
	p, err := NewPlan(s, f, style)
	if err == nil {
		w.plans[key] = p
	}
	return p, err
}

// planSteps adds those steps of the plan that the maker's own do not have.
func (p *Piece) planSteps() {
	if p.Plan == nil {
		return
	}
	does := map[string]bool{}
	for _, s := range p.Steps {
		does[s.Do] = true
	}
	for _, s := range p.Plan.Steps {
		if !does[s.Do] && !(s.Do == "fasten off" && does["close"]) {
			p.Steps = append(p.Steps, s)
		}
	}
}
