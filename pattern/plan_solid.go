package pattern

import (
	"fmt"
	"math"
	"strings"

	"roundelay/pattern/shape"
	"roundelay/pattern/source"
)

// A Solid is a shape that the rounds of a piece are to be worked out for, with
// what the maker wants of them. Form and what the form needs have to be set;
// the rest is chosen if it is left at zero.
type Solid struct {
	Form       string // one of Forms
	AcrossMM   float64
	HeightMM   float64
	BaseMM     float64       // across the base of a cup or basket; 0 for a straight wall
	Points     []shape.Point // of the form points, from the start to the end
	Start, End string        // "open", "flat" or "domed", where the form leaves it open; "" for what is usual
	Filled     bool
	Firmness   Firmness

	First     int  // stitches of the first round
	Multiple  int  // every count is a multiple of it
	Widest    int  // stitches of the widest round
	Rounds    int  // how many rounds
	Symmetric bool // the counts have to be the same backwards
}

// A form is one kind of solid.
type form struct {
	name        string
	needs       []string // keys that it has to have
	takes       []string // keys that it may have besides
	start, end  string   // its usual ends, where they may be chosen
	profile     func(s *Solid) shape.Profile
	description string
}

// forms are the solids that can be planned.
var forms = []form{
	{name: "ball", needs: []string{"across"}, description: "a ball",
		profile: func(s *Solid) shape.Profile { return shape.Ball(s.AcrossMM) }},
	{name: "egg", needs: []string{"across", "height"}, description: "an egg, begun at its blunt end",
		profile: func(s *Solid) shape.Profile { return shape.Egg(s.AcrossMM, s.HeightMM) }},
	{name: "ellipsoid", needs: []string{"across", "height"}, description: "a flattened or long ball",
		profile: func(s *Solid) shape.Profile { return shape.Ellipsoid(s.AcrossMM, s.HeightMM) }},
	{name: "cone", needs: []string{"across", "height"}, takes: []string{"end"}, end: "open", description: "a cone, begun at its point",
		profile: func(s *Solid) shape.Profile { return shape.Cone(s.AcrossMM, s.HeightMM, endNamed(s.End)) }},
	{name: "dome", needs: []string{"across", "height"}, takes: []string{"end"}, end: "open", description: "a dome, begun at its top",
		profile: func(s *Solid) shape.Profile { return shape.Dome(s.AcrossMM, s.HeightMM, endNamed(s.End)) }},
	{name: "cylinder", needs: []string{"across", "height"}, takes: []string{"start", "end"}, start: "flat", end: "flat", description: "a cylinder",
		profile: func(s *Solid) shape.Profile {
			return shape.Cylinder(s.AcrossMM, s.HeightMM, endNamed(s.Start), endNamed(s.End))
		}},
	{name: "disc", needs: []string{"across"}, description: "a flat disc",
		profile: func(s *Solid) shape.Profile { return shape.Disc(s.AcrossMM) }},
	{name: "cup", needs: []string{"across", "height"}, takes: []string{"base"}, description: "a cup, begun in the middle of its base; across is its rim", profile: cupProfile},
	{name: "basket", needs: []string{"across", "height"}, takes: []string{"base"}, description: "the same as a cup", profile: cupProfile},
	{name: "points", needs: []string{"points"}, description: "any outline, by its width at some heights",
		profile: func(s *Solid) shape.Profile { return shape.Profile(s.Points) }},
}

func cupProfile(s *Solid) shape.Profile {
	base := s.BaseMM
	if base == 0 {
		base = s.AcrossMM
	}
	return shape.Cup(base, s.AcrossMM, s.HeightMM)
}

// Forms are the names of the solids that can be planned.
var Forms = func() []string {
	var names []string
	for _, f := range forms {
		names = append(names, f.name)
	}
	return names
}()

// FormWords returns each form with what it is, one a line.
func FormWords() string {
	var b strings.Builder
	for _, f := range forms {
		fmt.Fprintf(&b, "%-9s %s; it needs %s", f.name, f.description, listed(f.needs, "and"))
		if len(f.takes) > 0 {
			fmt.Fprintf(&b, ", and takes %s", listed(f.takes, "and"))
		}
		b.WriteByte('\n')
	}
	return b.String()
}

// endWords are the ends of a solid, as [shape.End] counts them.
var endWords = []string{"open", "flat", "domed"}

func endNamed(s string) shape.End {
	for i, w := range endWords {
		if w == s {
			return shape.End(i)
		}
	}
	return shape.Open
}

// A SolidError is what is wrong with a solid.
type SolidError struct {
	Key     string // of the table shape, and the name of the flag
	Message string
	Hint    string // "" if there is none
}

func (e *SolidError) Error() string { return e.Message }

// complete returns s with the usual ends, and its outline.
func (s Solid) complete() (Solid, shape.Profile, error) {
	no := func(key, hint, message string, args ...any) (Solid, shape.Profile, error) {
		return s, nil, &SolidError{Key: key, Hint: hint, Message: fmt.Sprintf(message, args...)}
	}
	var f *form
	for i := range forms {
		if forms[i].name == s.Form {
			f = &forms[i]
		}
	}
	if f == nil {
		hint := "it may be " + listed(Forms, "or")
		if near := source.Nearest(s.Form, Forms); near != "" {
			hint = fmt.Sprintf("did you mean %q? %s", near, hint)
		}
		return no("form", hint, "there is no form %q", shortened(s.Form))
	}
	given := map[string]bool{
		"across": s.AcrossMM > 0, "height": s.HeightMM > 0, "base": s.BaseMM > 0,
		"points": len(s.Points) > 0, "start": s.Start != "", "end": s.End != "",
	}
	for _, key := range f.needs {
		if !given[key] {
			return no(key, "", "%s needs %s", f.name, listed(f.needs, "and"))
		}
		delete(given, key)
	}
	for _, key := range f.takes {
		delete(given, key)
	}
	for _, key := range []string{"across", "height", "base", "points", "start", "end"} {
		if given[key] {
			return no(key, "take it out", "%s has no %s", f.name, key)
		}
	}
	if s.Start == "" {
		s.Start = f.start
	}
	if s.End == "" {
		s.End = f.end
	}
	p := f.profile(&s)
	if s.Symmetric && !sameBackwards(p) {
		return no("symmetric", "take it out, or choose a form with two ends alike", "%s is not the same from both ends", f.name)
	}
	return s, p, nil
}

// Shut reports whether both ends of the solid are shut, so that it is usually
// filled. It is false for a solid that is not sound.
func (s Solid) Shut() bool {
	_, p, err := s.complete()
	return err == nil && p[0].R == 0 && p[len(p)-1].R == 0
}

// sameBackwards reports whether an outline is its own mirror image.
func sameBackwards(p shape.Profile) bool {
	q := p.Reversed()
	near := 1e-6 * (p.AcrossMM() + p.HeightMM())
	for i := range p {
		if math.Abs(p[i].R-q[i].R) > near || math.Abs(p[i].Z-q[i].Z) > near {
			return false
		}
	}
	return true
}

// ParsePoint reads a point of an outline, its width at a height above the
// start, such as "60 mm at 25 mm" or "0 at 4 cm".
func ParsePoint(s string) (shape.Point, error) {
	width, height, ok := strings.Cut(s, " at ")
	if !ok {
		return shape.Point{}, fmt.Errorf("%q is not a width at a height", shortened(strings.TrimSpace(s)))
	}
	across, err := lengthOrZeroMM(width)
	if err != nil {
		return shape.Point{}, err
	}
	z, err := lengthOrZeroMM(height)
	return shape.Point{R: across / 2, Z: z}, err
}

func lengthOrZeroMM(s string) (float64, error) {
	if strings.TrimSpace(s) == "0" {
		return 0, nil
	}
	return ParseLengthMM(s)
}
