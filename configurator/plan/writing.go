package plan

import (
	"math"
	"slices"
	"strings"
	"unicode"

	"tunwright/catalog/unit"
)

// The size of the writing for which places are sought: that of the screen, where it is
// larger than on paper. Whoever draws it smaller leaves more white (common practice, no
// source).
const (
	lettersAcross = 64   // heights of a letter across the figure
	letterWidth   = 0.55 // of its height
	capitalWidth  = 0.72
	smallType     = 0.84 // small writing over the tags'
	lineHeight    = 1.15 // of a line over its letters
	whiteAround   = 0.25 // between writing and what it belongs to, in heights
)

// writing puts the words of a figure where they cover neither a piece nor each other.
type writing struct {
	f     *Figure
	high  float64 // of a tag's letters, m
	taken []shape // bodies, walls and what is already written
}

// words are the words to be placed, as a box.
type words struct {
	class      Class
	text, tag  string
	wide, tall float64
}

func (f *Figure) writing(r *Room, items []Item) *writing {
	w := &writing{f: f, high: f.letters()}
	for i, a := range r.Outline {
		w.line(a, r.Outline[(i+1)%len(r.Outline)])
	}
	for _, s := range f.Shapes {
		if s.Class == ClassDimension && s.Form == FormLine {
			w.line(s.Points[0], s.Points[1])
		}
	}
	for _, c := range r.Columns {
		w.taken = append(w.taken, c.shape())
	}
	for _, b := range r.Boards {
		w.taken = append(w.taken, boxShape(b.body()))
	}
	for _, g := range r.Gullies {
		if g.To == nil {
			w.taken = append(w.taken, circle(g.At, gullyRadius.M()))
		}
	}
	for i := range items {
		if standing(&items[i]) {
			w.taken = append(w.taken, items[i].body(*items[i].Place))
		}
	}
	return w
}

// line keeps writing off a line.
func (w *writing) line(a, b Point) {
	d := b.Sub(a)
	w.taken = append(w.taken, boxShape(newBox(between(a, b, 0.5), unit.Radians(math.Atan2(d.Y.M(), d.X.M())), a.Distance(b).M(), 0.05)))
}

func (w *writing) words(c Class, text, tag string) words {
	high := w.high
	if c != ClassLabel {
		high *= smallType
	}
	return words{class: c, text: text, tag: tag, wide: high * lettersWide(text), tall: high * lineHeight}
}

// lettersWide is how wide words are, in heights of a letter.
func lettersWide(text string) float64 {
	sum := 0.0
	for _, r := range text {
		if unicode.IsUpper(r) {
			sum += capitalWidth
			continue
		}
		sum += letterWidth
	}
	return sum
}

func (w *writing) write(x words, at Point) {
	w.taken = append(w.taken, boxShape(newBox(at, 0, x.wide, x.tall)))
	w.f.text(x.class, at, x.text, x.tag)
}

// covers tells whether words at a place lie on something.
func (w *writing) covers(x words, at Point) bool {
	b := boxShape(newBox(at, 0, x.wide, x.tall))
	return slices.ContainsFunc(w.taken, func(o shape) bool { return near(b, o, 0) && gap(b, o) < 0 })
}

// free tells whether words at a place cover nothing and stay on the sheet.
func (w *writing) free(x words, at Point) bool {
	lo, hi := x.bounds(at)
	return lo.X >= w.f.Lo.X && lo.Y >= w.f.Lo.Y && hi.X <= w.f.Hi.X && hi.Y <= w.f.Hi.Y && !w.covers(x, at)
}

func (x words) bounds(at Point) (lo, hi Point) {
	half := P(x.wide/2, x.tall/2)
	return at.Sub(half), at.Add(half)
}

// place writes small words at the first free one of some places; where there is none
// the sheet grows.
func (w *writing) place(text string, at ...Point) {
	x := w.words(ClassSmall, text, "")
	k := slices.IndexFunc(at, func(p Point) bool { return w.free(x, p) })
	if k < 0 {
		k = max(0, slices.IndexFunc(at, func(p Point) bool { return !w.covers(x, p) }))
		lo, hi := x.bounds(at[k])
		w.f.Lo, w.f.Hi = Point{min(w.f.Lo.X, lo.X), min(w.f.Lo.Y, lo.Y)}, Point{max(w.f.Hi.X, hi.X), max(w.f.Hi.Y, hi.Y)}
	}
	w.write(x, at[k])
}

// rings is how many lines away from a thing its name may stand.
const rings = 3

// around gives the places beside the box from lo to hi: above and below it in the
// middle and flush with its ends, then to its right and left, then the same a line
// further out.
func (w *writing) around(lo, hi Point, wide, tall float64) []Point {
	var out []Point
	mid, white := between(lo, hi, 0.5), w.high*whiteAround
	for line := range rings {
		off := white + tall*(0.5+float64(line))
		for _, y := range [...]unit.Length{lo.Y - unit.Metres(off), hi.Y + unit.Metres(off)} {
			for _, x := range [...]unit.Length{mid.X, lo.X + unit.Metres(wide/2+white), hi.X - unit.Metres(wide/2+white)} {
				out = append(out, Point{x, y})
			}
		}
		side := unit.Metres(white + w.high*float64(line) + wide/2)
		out = append(out, Point{hi.X + side, mid.Y}, Point{lo.X - side, mid.Y})
	}
	return out
}

// beside writes small words near the box from lo to hi, first at a place asked for.
func (w *writing) beside(text string, first, lo, hi Point) {
	x := w.words(ClassSmall, text, "")
	w.place(text, append([]Point{first}, w.around(lo, hi, x.wide, x.tall)...)...)
}

// label writes the tag of a piece on it, with as much of its second part below as there
// is room for. A tag that is wider than the piece stands beside it, with a line to the
// piece where another tag lies between.
func (w *writing) label(it *Item) {
	p := it.Place.At
	lo, hi := it.Outline(*it.Place).Bounds()
	tag, rest, _ := strings.Cut(it.Tag, " ")
	x := w.words(ClassLabel, tag, it.Tag)
	if rest != "" {
		x.wide += 2 * letterWidth * w.high // a page tells the parts of one item apart by a letter
	}
	small := w.words(ClassSmall, rest, it.Tag)
	room := func(lines float64) float64 { return chord(it, lo, hi, x.tall*lines) }
	small.text = wholeWords(rest, int(room(2)/(w.high*smallType*letterWidth)))
	switch {
	case small.text != "" && x.wide < room(2):
		w.write(x, p.Add(P(0, x.tall/2)))
		w.write(small, p.Sub(P(0, x.tall/2)))
		return
	case x.wide < room(1):
		w.write(x, p)
		return
	}
	places := w.around(lo, hi, x.wide, x.tall)
	k := slices.IndexFunc(places, func(at Point) bool { return w.free(x, at) })
	if k < 0 {
		w.write(x, p)
		return
	}
	if at := places[k]; k >= len(places)/rings {
		left, right := x.bounds(at)
		from := within(p, left, right)
		w.f.add(Shape{Form: FormLine, Class: ClassLeader, Tag: it.Tag, Points: []Point{from, within(from, lo, hi)}})
	}
	w.write(x, places[k])
}

// within is the place of a box from lo to hi that is nearest to a point.
func within(p, lo, hi Point) Point {
	return Point{max(lo.X, min(hi.X, p.X)), max(lo.Y, min(hi.Y, p.Y))}
}

// chord is how wide a piece is over a height in its middle; 0 where it is lower.
func chord(it *Item, lo, hi Point, tall float64) float64 {
	if tall > (hi.Y - lo.Y).M() {
		return 0
	}
	if it.Round {
		d := it.Length.M()
		return math.Sqrt(d*d - tall*tall)
	}
	return (hi.X - lo.X).M()
}

// wholeWords keeps as many words as there is room for, in letters.
func wholeWords(s string, letters int) string {
	for len([]rune(s)) > letters {
		cut := strings.LastIndexByte(s, ' ')
		if cut < 0 {
			return ""
		}
		s = strings.TrimSuffix(s[:cut], " and")
	}
	return s
}

// door writes the name of a door outside the wall, or near its sweep.
func (w *writing) door(r *Room, d Door) {
	name := d.Name
	if d.Exit {
		name += " exit"
	}
	x := w.words(ClassSmall, name, "")
	out := d.Middle().Sub(r.threshold(d).c)
	away := out.Scale(unit.Ratio(1 / out.Distance(Point{}).M()))
	step := w.high*whiteAround + (math.Abs(away.X.M())*x.wide+math.Abs(away.Y.M())*x.tall)/2
	lo, hi := Polygon{d.Hinge, d.Latch, r.leaf(d)}.Bounds()
	w.beside(name, d.Middle().Add(away.Scale(unit.Ratio(step))), lo, hi)
}

// member writes the name and use of a member where it begins, or else along it.
func (w *writing) member(m *MemberMark, text string) {
	d := m.To.Sub(m.From)
	l := max(m.To.Distance(m.From).M(), 1e-9)
	at := []Point{m.From.Sub(d.Scale(unit.Ratio(0.35 / l)))}
	x := w.words(ClassSmall, text, "")
	aside := P(x.wide/2+w.high*whiteAround, 0)
	const steps = 20
	for k := range steps {
		on := between(m.From, m.To, (float64(k)+0.5)/steps)
		at = append(at, on, on.Add(aside), on.Sub(aside))
	}
	w.place(text, at...)
}
