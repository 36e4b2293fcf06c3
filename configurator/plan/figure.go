package plan

import (
	"fmt"
	"math"

	"tunwright/catalog/unit"
)

// Form is how a shape is drawn.
type Form string

const (
	FormPolygon Form = "polygon" // closed
	FormLine    Form = "line"    // open
	FormCircle  Form = "circle"  // Points[0], Radius
	FormArc     Form = "arc"     // Points[0], Radius, From, Sweep
	FormText    Form = "text"    // centred on Points[0]
)

// Class is what a shape stands for; a drawing gives each its line and filling. The
// classes come in the order in which they are drawn, the lowest first.
type Class string

const (
	ClassFloor     Class = "floor"     // the room's area
	ClassGrid      Class = "grid"      // metre ticks
	ClassBay       Class = "bay"       // field between members, Level is its use
	ClassMember    Class = "member"    // joist or beam, drawn in parts, Level is the use there
	ClassLow       Class = "low"       // low ceiling
	ClassService   Class = "service"   // service space of a piece
	ClassKeepFree  Class = "keep-free" // before boards and doors
	ClassSwing     Class = "swing"     // sweep of a door leaf
	ClassWall      Class = "wall"      // outline
	ClassColumn    Class = "column"    //
	ClassDoor      Class = "door"      // leaf
	ClassBoard     Class = "board"     //
	ClassGully     Class = "gully"     //
	ClassBody      Class = "body"      // a piece
	ClassConflict  Class = "conflict"  // a piece that clashes
	ClassFoot      Class = "foot"      //
	ClassFront     Class = "front"     // mark of the working side
	ClassLeader    Class = "leader"    // from a tag to its piece
	ClassLabel     Class = "label"     // tag of a piece
	ClassSmall     Class = "small"     // other writing
	ClassDimension Class = "dimension" // dimension line
	ClassScaleBar  Class = "scale-bar" //
)

// Shape is one thing to draw, in metres of the room.
type Shape struct {
	Form   Form
	Class  Class
	Points []Point
	Radius unit.Length
	From   unit.Angle
	Sweep  unit.Angle
	Text   string
	Tag    string // of the piece it belongs to
	Level  Level
	Title  string // what a pointer over it says
}

// Level is how full something is, in steps that a drawing tells apart by hatching or
// by thickness of line, so that it is read without colour.
type Level int

const (
	LevelUnknown Level = iota // nothing was given to measure against
	LevelLow                  // to 50 %
	LevelHalf                 // to 75 %
	LevelHigh                 // to 90 %
	LevelFull                 // to 100 %
	LevelOver                 // beyond
)

// LevelOf sorts a use into its level.
func LevelOf(use unit.Ratio, given bool) Level {
	switch x := use.Value(); {
	case !given:
		return LevelUnknown
	case x <= 0.5:
		return LevelLow
	case x <= 0.75:
		return LevelHalf
	case x <= 0.9:
		return LevelHigh
	case x <= 1:
		return LevelFull
	}
	return LevelOver
}

// Legend names the levels in words, from the lowest.
func Legend() []string {
	return []string{"nothing given", "to 50 %", "to 75 %", "to 90 %", "to 100 %", "over 100 %"}
}

// MemberMark is a member as the figure shows it.
type MemberMark struct {
	Name     string
	From, To Point
	Primary  bool
	Given    bool
	Use      unit.Ratio
	Stations []unit.Ratio // use at equal distances from From to To
}

// BayMark is a bay as the figure shows it.
type BayMark struct {
	Name    string
	Outline Polygon
	Given   bool
	Use     unit.Ratio
	Load    unit.AreaLoad
}

// FootMark is where a foot stands.
type FootMark struct {
	Tag string
	At  Point
	Pad unit.Length
}

// Figure is a drawing without a pen.
type Figure struct {
	Lo, Hi Point // bounds with room for dimensions
	Shapes []Shape
}

// Marks are what other disciplines add to the plan.
type Marks struct {
	Members []MemberMark
	Bays    []BayMark
	Feet    []FootMark
}

// Draw makes the figure of a room with its pieces. The order of the shapes is the
// order of drawing; the same input gives the same figure.
func Draw(r *Room, items []Item, marks Marks) Figure {
	var f Figure
	if len(r.Outline) < 3 {
		return f
	}
	lo, hi := r.Outline.Bounds()
	f.Lo, f.Hi = lo.Sub(P(1.1, 1.2)), hi.Add(P(0.7, 0.4))
	f.polygon(ClassFloor, r.Outline, "", "")
	f.bays(marks.Bays)
	f.members(marks.Members)
	f.fixtures(r)
	clash := map[string]bool{}
	for _, c := range Conflicts(r, items) {
		if c.Kind != KindUnplaced && c.Kind != KindNoHeight {
			clash[c.A] = true
		}
	}
	for i := range items {
		if standing(&items[i]) {
			f.polygon(ClassService, items[i].ServiceZone(*items[i].Place), items[i].Tag, "service space of "+items[i].Tag)
		}
	}
	for i := range items {
		if standing(&items[i]) {
			f.item(&items[i], clash[items[i].Tag])
		}
	}
	for _, m := range marks.Feet {
		f.add(Shape{Form: FormCircle, Class: ClassFoot, Points: []Point{m.At}, Radius: m.Pad / 2, Tag: m.Tag})
	}
	f.dimensions(lo, hi)
	f.names(r, items, marks.Members)
	return f
}

// names writes what things are called: the tags first, since they have least choice.
func (f *Figure) names(r *Room, items []Item, members []MemberMark) {
	w := f.writing(r, items)
	for i := range items {
		if standing(&items[i]) {
			w.label(&items[i])
		}
	}
	for _, d := range r.Doors {
		w.door(r, d)
	}
	for _, b := range r.Boards {
		lo, hi := b.body().polygon().Bounds()
		w.beside(b.Name, b.body().c, lo, hi)
	}
	for _, g := range r.Gullies {
		at := g.At
		if g.To != nil {
			at = between(g.At, *g.To, 0.5)
		}
		rim := Point{gullyRadius, gullyRadius}
		w.beside(g.Name, at.Add(P(0, gullyRadius.M()+w.high)), at.Sub(rim), at.Add(rim))
	}
	for _, l := range r.Low {
		lo, hi := l.Area.Bounds()
		w.beside(fmt.Sprintf("%s %.2f m", l.Name, l.Clear.M()), l.Area.Centroid(), lo, hi)
	}
	for i := range members {
		m := &members[i]
		text := m.Name
		if m.Given {
			text = fmt.Sprintf("%s  %.0f %%", m.Name, m.Use.Pct())
		}
		w.member(m, text)
	}
}

func (f *Figure) add(s Shape) { f.Shapes = append(f.Shapes, s) }

func (f *Figure) polygon(c Class, g Polygon, tag, title string) {
	f.add(Shape{Form: FormPolygon, Class: c, Points: g, Tag: tag, Title: title})
}

func (f *Figure) line(c Class, a, b Point) {
	f.add(Shape{Form: FormLine, Class: c, Points: []Point{a, b}})
}

func (f *Figure) text(c Class, at Point, text, tag string) {
	f.add(Shape{Form: FormText, Class: c, Points: []Point{at}, Text: text, Tag: tag})
}

func (f *Figure) bays(bays []BayMark) {
	for _, b := range bays {
		s := Shape{Form: FormPolygon, Class: ClassBay, Points: b.Outline, Level: LevelOf(b.Use, b.Given), Title: fmt.Sprintf("bay %s: equipment at work %s", b.Name, unit.Fixed(b.Load, 2))}
		f.add(s)
	}
}

func (f *Figure) members(members []MemberMark) {
	for _, m := range members {
		title := "member " + m.Name
		if m.Given {
			title = fmt.Sprintf("member %s: %.0f %% of what was given", m.Name, m.Use.Pct())
		}
		n := len(m.Stations) - 1
		if n < 1 {
			f.add(Shape{Form: FormLine, Class: ClassMember, Points: []Point{m.From, m.To}, Title: title})
		}
		for k := range max(n, 0) {
			f.add(Shape{
				Form: FormLine, Class: ClassMember, Title: title, Level: LevelOf(max(m.Stations[k], m.Stations[k+1]), m.Given),
				Points: []Point{between(m.From, m.To, float64(k)/float64(n)), between(m.From, m.To, float64(k+1)/float64(n))},
			})
		}
	}
}

func between(a, b Point, t float64) Point { return a.Add(b.Sub(a).Scale(unit.Ratio(t))) }

func (f *Figure) fixtures(r *Room) {
	for _, l := range r.Low {
		f.polygon(ClassLow, l.Area, "", fmt.Sprintf("%s, clear height %.0f mm", l.Name, l.Clear.MM()))
	}
	for _, b := range r.Boards {
		f.polygon(ClassKeepFree, b.workplace().polygon(), "", "working space of "+b.Name)
	}
	for _, d := range r.Doors {
		if s, ok := r.sweep(d); ok {
			f.add(Shape{Form: FormArc, Class: ClassSwing, Points: []Point{s.c}, Radius: unit.Length(s.r), From: unit.Radians(s.from), Sweep: unit.Radians(s.wide), Title: "sweep of " + d.Name})
		}
	}
	f.polygon(ClassWall, r.Outline, "", "")
	for _, c := range r.Columns {
		if c.Round {
			f.add(Shape{Form: FormCircle, Class: ClassColumn, Points: []Point{c.At}, Radius: c.A / 2, Title: "column " + c.Name})
			continue
		}
		f.polygon(ClassColumn, c.shape().polygon(), "", "column "+c.Name)
	}
	for _, d := range r.Doors {
		f.add(Shape{Form: FormLine, Class: ClassDoor, Points: []Point{d.Hinge, d.Latch}, Title: fmt.Sprintf("door %s, %.0f mm", d.Name, d.Width().MM())})
		if leaf := r.leaf(d); leaf != d.Latch {
			f.line(ClassDoor, d.Hinge, leaf)
		}
	}
	for _, b := range r.Boards {
		f.polygon(ClassBoard, b.body().polygon(), "", "board "+b.Name)
	}
	for _, g := range r.Gullies {
		if g.To != nil {
			f.add(Shape{Form: FormLine, Class: ClassGully, Points: []Point{g.At, *g.To}, Title: "channel " + g.Name})
			continue
		}
		f.add(Shape{Form: FormCircle, Class: ClassGully, Points: []Point{g.At}, Radius: gullyRadius, Title: "gully " + g.Name})
	}
}

// gullyRadius is how large a gully is drawn.
const gullyRadius = unit.Length(0.1)

// leaf is the end of a door's leaf as drawn: open where it opens into the room.
func (r *Room) leaf(d Door) Point {
	s, ok := r.sweep(d)
	if !ok {
		return d.Latch
	}
	sin, cos := math.Sincos(s.from + s.wide)
	return s.c.Add(P(cos*s.r, sin*s.r))
}

func (f *Figure) item(it *Item, clash bool) {
	p := *it.Place
	class := ClassBody
	if clash {
		class = ClassConflict
	}
	title := fmt.Sprintf("%s %s: %.0f × %.0f × %.0f mm", it.Tag, it.Name, it.Length.MM(), it.width()*1000, it.Height.MM())
	if it.Round {
		title = fmt.Sprintf("%s %s: ⌀ %.0f, %.0f mm high", it.Tag, it.Name, it.Length.MM(), it.Height.MM())
		f.add(Shape{Form: FormCircle, Class: class, Points: []Point{p.At}, Radius: it.Length / 2, Tag: it.Tag, Title: title})
	} else {
		f.add(Shape{Form: FormPolygon, Class: class, Points: it.Outline(p), Tag: it.Tag, Title: title})
	}
	h := it.width() / 2
	tip := p.At.Add(P(0, -h).Turned(p.Turn))
	f.add(Shape{Form: FormLine, Class: ClassFront, Tag: it.Tag, Points: []Point{
		p.At.Add(P(-0.12, -h+0.12).Turned(p.Turn)), tip, p.At.Add(P(0.12, -h+0.12).Turned(p.Turn)),
	}})
}

// letters is how high a letter of a tag is, in m.
func (f *Figure) letters() float64 { return (f.Hi.X - f.Lo.X).M() / lettersAcross }

func (f *Figure) dimensions(lo, hi Point) {
	w, h := hi.X-lo.X, hi.Y-lo.Y
	const tick = 0.06
	y, x := lo.Y-0.6, lo.X-0.6
	high := f.letters() * smallType
	beside := func(text string) float64 { return high * (lettersWide(text)/2 + whiteAround) }
	f.line(ClassDimension, Point{lo.X, y}, Point{hi.X, y})
	f.text(ClassDimension, Point{(lo.X + hi.X) / 2, y}.Sub(P(0, tick+high*(lineHeight/2+whiteAround))), fmt.Sprintf("%.2f m", w.M()), "")
	f.line(ClassDimension, Point{x, lo.Y}, Point{x, hi.Y})
	depth := fmt.Sprintf("%.2f m", h.M())
	f.text(ClassDimension, Point{x, lo.Y + h/4}.Sub(P(tick+beside(depth), 0)), depth, "")
	for t := lo.X; t <= hi.X+1e-9; t++ {
		f.line(ClassGrid, Point{t, y - tick}, Point{t, y + tick})
	}
	for t := lo.Y; t <= hi.Y+1e-9; t++ {
		f.line(ClassGrid, Point{x - tick, t}, Point{x + tick, t})
	}
	bar := min(unit.Metres(5), unit.Metres(max(1, math.Floor(w.M()))))
	base := Point{lo.X, lo.Y - 1.1}
	for k := unit.Length(0); k < bar; k++ {
		f.add(Shape{Form: FormPolygon, Class: ClassScaleBar, Level: Level(int(k) % 2), Points: []Point{
			base.Add(Point{k, 0}), base.Add(Point{k + 1, 0}), base.Add(Point{k + 1, 0.06}), base.Add(Point{k, 0.06}),
		}})
	}
	length := fmt.Sprintf("%.0f m", bar.M())
	f.text(ClassScaleBar, base.Add(Point{bar, 0.03}).Add(P(beside(length), 0)), length, "")
}
