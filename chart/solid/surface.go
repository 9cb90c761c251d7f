package solid

import (
	"cmp"
	"math"

	"roundelay/pattern"
)

// A vec is a place or a direction in space: x to the right, y away from the
// viewer, z up.
type vec struct{ x, y, z float64 }

func (a vec) plus(b vec) vec      { return vec{a.x + b.x, a.y + b.y, a.z + b.z} }
func (a vec) minus(b vec) vec     { return vec{a.x - b.x, a.y - b.y, a.z - b.z} }
func (a vec) times(f float64) vec { return vec{a.x * f, a.y * f, a.z * f} }
func (a vec) dot(b vec) float64   { return a.x*b.x + a.y*b.y + a.z*b.z }
func (a vec) cross(b vec) vec     { return vec{a.y*b.z - a.z*b.y, a.z*b.x - a.x*b.z, a.x*b.y - a.y*b.x} }
func (a vec) unit() vec           { return a.times(1 / math.Max(math.Sqrt(a.dot(a)), 1e-12)) }

// A surface is a piece standing or lying on a table, z = 0.
type surface struct {
	r, z    []float64 // of each edge, from the start; z as worked, upwards
	nr, nz  []float64 // outward normal at each edge
	length  float64   // of the straight middle of an oval
	corners int       // of a square and the like; 0 of what is round
	corner  float64   // in turns, where one of them is
	startUp bool      // the start is at the top
	low     float64   // z of what stands on the table, as it is turned
	middle  float64   // height of the middle above the table
	widest  float64
	reach   float64 // farthest from the middle
}

func newSurface(e *pattern.PieceEstimate) *surface {
	s := &surface{length: e.MiddleMM, corners: e.Corners.Count, startUp: startUp(e)}
	for _, p := range e.Profile {
		s.r, s.z = append(s.r, p.R), append(s.z, p.Z)
		s.widest = math.Max(s.widest, p.R)
	}
	last := len(s.r) - 1
	low, high := math.Inf(1), math.Inf(-1)
	for i := range s.r {
		// The tangent is that between the neighbours.
		a, b := max(i-1, 0), min(i+1, last)
		dr, dz := s.r[b]-s.r[a], s.z[b]-s.z[a]
		if s.r[i] < 1e-9 && (i == 0 || i == last) { // a point: the normal is the axis
			dr, dz = 1, 0
			if i == last {
				dr = -1
			}
		}
		l := math.Max(math.Hypot(dr, dz), 1e-12)
		s.nr, s.nz = append(s.nr, dz/l), append(s.nz, -dr/l)
		low, high = math.Min(low, s.z[i]), math.Max(high, s.z[i])
	}
	s.low = low
	if s.startUp {
		s.low = -high
	}
	s.middle = (high - low) / 2
	farthest := s.widest + s.length/2
	if s.corners > 0 {
		farthest /= math.Cos(math.Pi / float64(s.corners))
	}
	s.reach = math.Hypot(farthest, s.middle)
	return s
}

// deepWall is how high a wall is over the radius of the rim, from where on an
// open piece with a flat start is taken for a cup.
const cupBase = 0.55

// startUp tells which way round a piece stands. A disc shows its right side. An
// open piece that is not filled stands on a flat start, like a cup, unless it is
// by its name to stand on its rim; else on its rim, like a shell. Any other has
// its wider half below.
func startUp(e *pattern.PieceEstimate) bool {
	p := e.Profile
	last := p[len(p)-1]
	switch {
	case e.Finish == pattern.LaidFlat:
		return true
	case e.Finish == pattern.Standing && last.R > 0:
		if e.Worn {
			return true
		}
		// How far out the profile runs while it lies flatter than 30°.
		first := 0
		if e.MiddleMM > 0 { // it begins along both sides of a chain
			first = 1
		}
		base := p[first].R
		for i := first + 1; i < len(p) && p[i].R-p[i-1].R > 1.7*math.Abs(p[i].Z-p[i-1].Z); i++ {
			base = p[i].R
		}
		return base < cupBase*p.AcrossMM()/2
	}
	sum, moment := 0.0, 0.0
	for i := 1; i < len(p); i++ {
		v := (p[i].R + p[i-1].R) * (p[i].R + p[i-1].R) * (p[i].Z - p[i-1].Z)
		sum, moment = sum+v, moment+v*(p[i].Z+p[i-1].Z)/2
	}
	if sum == 0 {
		return false
	}
	return moment/sum > (p[0].Z+last.Z)/2*1.0001
}

// seam is the angle at which rounds begin, from straight before the viewer to
// the right: in sight, at the side.
const seam = 50 * math.Pi / 180

// at returns a place on the surface and the normal there, raised above the
// surface by some millimetres. edge runs from 0 at the start to the last edge,
// turn once around in the direction of work.
func (s *surface) at(edge, turn, raised float64) (place, normal vec) {
	last := float64(len(s.r) - 1)
	edge = math.Min(math.Max(edge, 0), last)
	i := min(int(edge), len(s.r)-2)
	f := edge - float64(i)
	mix := func(a []float64) float64 { return a[i] + (a[i+1]-a[i])*f }
	r, z, nr, nz := mix(s.r), mix(s.z), mix(s.nr), mix(s.nz)

	angle, along := s.around(r, turn)
	cos, sin := math.Cos(angle), math.Sin(angle)
	place = vec{r * cos, r * sin, z}.plus(along)
	normal = vec{nr * cos, nr * sin, nz}.unit()
	place = s.stood(place.plus(normal.times(raised)))
	place.z -= s.low
	return place, s.stood(normal)
}

// around returns the angle at which a place on a round of some radius stands, and
// how far it is moved from there where the round is no circle.
func (s *surface) around(r, turn float64) (angle float64, along vec) {
	switch {
	case s.length > 0:
		angle, along.x = s.oval(r, turn)
		return angle, along
	case s.corners > 0:
		return s.side(r, turn)
	}
	// Seen from outside with the later rounds above, a right hand works to the
	// left, which is clockwise from above.
	return -2 * math.Pi * turn, vec{}
}

// stood turns a place or a direction of the piece as worked the way that the piece
// stands before the viewer.
func (s *surface) stood(v vec) vec {
	turned := -math.Pi/2 + seam
	switch {
	case s.length > 0:
		turned = -math.Pi / 9 // a long thing is seen from its side
	case s.corners > 0:
		turned = s.cornerTurned()
	}
	if s.startUp { // over the x axis
		v = vec{v.x, -v.y, -v.z}
	}
	return v.turned(turned)
}

// outline returns the outline on the table of the piece at some radius.
func (s *surface) outline(r float64) []vec {
	out := make([]vec, cmp.Or(s.corners, 48)) // between corners it is straight
	for i := range out {
		angle, along := s.around(r, s.corner+float64(i)/float64(len(out)))
		sin, cos := math.Sincos(angle)
		v := s.stood(vec{r * cos, r * sin, 0}.plus(along))
		out[i] = vec{v.x, v.y, 0}
	}
	return out
}

// oval returns the angle, and the shift along the long axis, of a place on a
// round of an oval. Rounds begin at the middle of an end.
func (s *surface) oval(r, turn float64) (angle, shift float64) {
	around := 2*math.Pi*r + 2*s.length
	d := math.Mod(math.Mod(turn, 1)+1, 1) * around
	quarter := math.Pi * r / 2
	half := s.length / 2
	switch {
	case d < quarter:
		return -d / math.Max(r, 1e-9), half
	case d < quarter+s.length:
		return -math.Pi / 2, half - (d - quarter)
	case d < 3*quarter+s.length:
		return -math.Pi/2 - (d-quarter-s.length)/math.Max(r, 1e-9), -half
	case d < 3*quarter+2*s.length:
		return -3 * math.Pi / 2, -half + (d - 3*quarter - s.length)
	}
	return -2*math.Pi + (around-d)/math.Max(r, 1e-9), half
}

// side returns the angle at which the side stands that a place on a round with
// corners lies on, and how far along the side it is from the middle of that.
func (s *surface) side(r, turn float64) (angle float64, along vec) {
	n := float64(s.corners)
	k, part := math.Modf(math.Mod(math.Mod(turn-s.corner, 1)+1, 1) * n)
	angle = -2 * math.Pi * (s.corner + (k+0.5)/n)
	from := (part - 0.5) * 2 * r * math.Tan(math.Pi/n)
	return angle, vec{math.Sin(angle) * from, -math.Cos(angle) * from, 0}
}

// cornerTurned is how a piece with corners is turned: one side nearly before the
// viewer.
func (s *surface) cornerTurned() float64 {
	const aside = math.Pi / 15
	corner := -2 * math.Pi * s.corner
	if s.startUp {
		corner = -corner
	}
	return -math.Pi/2 + math.Pi/float64(s.corners) + aside - corner
}

// turned turns v about the z axis.
func (a vec) turned(angle float64) vec {
	cos, sin := math.Cos(angle), math.Sin(angle)
	return vec{a.x*cos - a.y*sin, a.x*sin + a.y*cos, a.z}
}

// A camera looks at the middle of a surface.
type camera struct {
	to, up vec // towards the viewer; up in the picture
	middle vec
	away   float64 // distance from the middle
}

// How high the camera stands: over things that stand, and over a disc.
const (
	lookDown  = 20 * math.Pi / 180
	lookOnto  = 58 * math.Pi / 180
	distances = 7 // of the camera, over half the size of the thing
)

func newCamera(s *surface, flat bool) camera {
	a := lookDown
	if flat {
		a = lookOnto
	}
	cos, sin := math.Cos(a), math.Sin(a)
	return camera{
		to: vec{0, -cos, sin}, up: vec{0, sin, cos},
		middle: vec{0, 0, s.middle},
		away:   distances * s.reach,
	}
}

// see returns where a place stands in the picture.
func (c camera) see(p vec) point {
	d := p.minus(c.middle)
	scale := c.away / (c.away - d.dot(c.to))
	return point{d.x * scale, -d.dot(c.up) * scale}
}

// faces returns the cosine between a normal and the way to the camera.
func (c camera) faces(p, normal vec) float64 {
	return normal.dot(c.middle.plus(c.to.times(c.away)).minus(p).unit())
}

// sun is where the light comes from.
var sun = vec{-0.5, -0.62, 0.72}.unit()

// shades is how many steps of light are told apart, so that neighbours can
// share a colour.
const shades = 20

// light returns the light on a surface with some normal, from 0.5 to 1.05.
func light(normal vec) float64 {
	l := 0.48 + 0.57*math.Pow(0.5+0.5*normal.dot(sun), 1.15)
	return math.Round(l*shades) / shades
}
