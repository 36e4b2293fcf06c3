package structure

import (
	"fmt"
	"slices"
	"strings"

	"tunwright/catalog/unit"
	"tunwright/configurator"
	"tunwright/configurator/enquiry"
	"tunwright/configurator/floor"
	"tunwright/configurator/plan"
	"tunwright/pricing/paper/drawing"
)

// zones marks ground that must stay free.
func (s *Sheet) zones(r configurator.Report) {
	for _, z := range r.Project.Site.Room.Zones {
		a, b := s.View.At(z.From.X, z.To.Y), s.View.At(z.To.X, z.From.Y)
		s.Drawing.Add(drawing.Rect(a.X, a.Y, b.X-a.X, b.Y-a.Y, zonePen, drawing.Fill{}))
		lines := wrap(z.Name, b.X-a.X)
		for k, w := range lines {
			s.write(drawing.P((a.X+b.X)/2, (a.Y+b.Y)/2+0.8+(drawing.MM(k)-drawing.MM(len(lines)-1)/2)*2.7), w, drawing.SmallType, false)
		}
	}
}

// wrap breaks words into lines of a width; a word of its own may be wider.
func wrap(s string, width drawing.MM) []string {
	var lines []string
	for _, w := range strings.Fields(s) {
		if n := len(lines); n > 0 && wordWidth(lines[n-1]+" "+w) <= width {
			lines[n-1] += " " + w
			continue
		}
		lines = append(lines, w)
	}
	return lines
}

// names writes the tag of each piece, with its part and the load on its foot where
// there is room: on the piece, else beside it.
func (s *Sheet) names(r configurator.Report, items []plan.Item, kind Kind) {
	s.fixtures(r, kind)
	for i := range items {
		if it := &items[i]; onFloor(it) {
			s.bodies = append(s.bodies, s.body(it))
		}
	}
	for i := range items {
		it := &items[i]
		if !onFloor(it) || kind&Unnamed != 0 {
			continue
		}
		at, wide, tall := s.At(it.Place.At), s.onSheet(it).X, s.onSheet(it).Y
		lines := []string{r.Pieces[i].Item}
		if w := short(r.Pieces[i].Part, wide); w != "" && tall > 8 {
			lines = append(lines, w)
		}
		if w := footWords(r.Floor, it.Tag); kind&Loads != 0 && w != "" && tall > 5.5 && wordWidth(w) < wide {
			lines = append(lines, w)
		}
		if len(lines) == 1 && wordWidth(lines[0]) > wide*tagShare {
			s.beside(lines[0], at, s.body(it))
			continue
		}
		for k, w := range lines {
			s.write(at.Add(0, 0.8+(drawing.MM(k)-drawing.MM(len(lines)-1)/2)*2.7), w, drawing.SmallType, k == 0)
		}
	}
}

// tagShare is how much of a piece's width its tag may take: a round piece is narrower
// where the letters end.
const tagShare = 0.85

// beside writes the tag of a piece that is too small for it at the first place around
// that covers no piece and no word, or else on it.
func (s *Sheet) beside(tag string, at drawing.Point, b span) {
	side := wordWidth(tag)/2 + 1
	places := []drawing.Point{
		{X: at.X, Y: b.y1 + 2.6}, {X: at.X, Y: b.y0 - 0.8}, {X: b.x0 - side, Y: at.Y + 0.8}, {X: b.x1 + side, Y: at.Y + 0.8}, {X: at.X, Y: b.y1 + 5.2}, {X: at.X, Y: b.y0 - 3.4},
	}
	for _, p := range places {
		if s.Free(p, tag, drawing.SmallType) && !slices.ContainsFunc(s.bodies, boxOf(p, tag, drawing.SmallType).meets) {
			s.write(p, tag, drawing.SmallType, true)
			return
		}
	}
	s.write(at.Add(0, 0.8), tag, drawing.SmallType, true)
}

func onFloor(it *plan.Item) bool { return it.Place != nil && !it.Wall && !it.Outside }

// body is the box of a piece on the sheet.
func (s *Sheet) body(it *plan.Item) span {
	at, size := s.At(it.Place.At), s.onSheet(it)
	return span{at.X - size.X/2, at.Y - size.Y/2, at.X + size.X/2, at.Y + size.Y/2}
}

// onSheet is a piece's extent across and up the sheet.
func (s *Sheet) onSheet(it *plan.Item) drawing.Point {
	g := it.Outline(*it.Place)
	lo, hi := g.Bounds()
	return drawing.P(s.View.MM(hi.X-lo.X), s.View.MM(hi.Y-lo.Y))
}

// footWords says what a foot brings, at work.
func footWords(f *floor.Result, tag string) string {
	if f == nil {
		return ""
	}
	for i := range f.Items {
		if x := &f.Items[i]; x.Tag == tag && x.Feet != nil {
			return fmt.Sprintf("%.1f kN", x.Feet.Operating.KN())
		}
	}
	return ""
}

// short keeps as many whole words of a part as fit a width.
func short(part string, width drawing.MM) string {
	for wordWidth(part) > width {
		cut := strings.LastIndexByte(part, ' ')
		if cut < 0 {
			return ""
		}
		part = strings.TrimSuffix(part[:cut], " and")
	}
	return part
}

func wordWidth(s string) drawing.MM {
	return drawing.MM(len([]rune(s))) * drawing.SmallType * 0.54
}

// fixtures writes the names of doors, gullies and boards.
func (s *Sheet) fixtures(r configurator.Report, kind Kind) {
	room := configurator.Room(r.Project)
	for _, d := range room.Doors {
		m := d.Middle()
		words := fmt.Sprintf("%s %.0f", d.Name, d.Width().MM())
		if d.Exit {
			words += ", way out"
		}
		at := s.At(m)
		s.door(d)
		// Beside the wall on the side that has no axis, along it where it stands upright.
		along := d.Latch.Sub(d.Hinge)
		if abs(along.Y) > abs(along.X) {
			const right = 3.3
			s.Drawing.Add(drawing.Text{At: at.Add(right, 0), Text: words, Size: drawing.SmallType, Anchor: drawing.Middle, Turn: -90, Colour: drawing.Ink, Halo: true})
			continue
		}
		s.write(at.Add(0, -2), words, drawing.SmallType, false)
	}
	for _, g := range room.Gullies {
		s.write(s.At(g.At).Add(0, 4.6), g.Name, drawing.SmallType, false)
	}
	for _, b := range room.Boards {
		if kind&Spaces == 0 || !slices.ContainsFunc(r.Project.Site.Room.Zones, func(z enquiry.Zone) bool { return z.Name == b.Name }) {
			at := s.At(b.At)
			inward := wordWidth(b.Name)/2 + 3
			if at.X > s.Drawing.Width/2 {
				inward = -inward
			}
			s.Write(b.Name, false, at.Add(inward, 0.8), at.Add(inward, 4), at.Add(inward, -3))
		}
	}
}

// door draws the opening as two jambs and a thin leaf line over the gap in the wall.
func (s *Sheet) door(d plan.Door) {
	a, b := s.At(d.Hinge), s.At(d.Latch)
	s.Drawing.Add(drawing.Line{From: a, To: b, Pen: drawing.Fine})
	for _, p := range [...]drawing.Point{a, b} {
		s.Drawing.Add(drawing.Circle{Centre: p, Radius: 0.6, Fill: drawing.Tint(drawing.Ink)})
	}
}

func abs(l unit.Length) unit.Length { return max(l, -l) }

// span is the box of a word on the sheet.
type span struct{ x0, y0, x1, y1 drawing.MM }

func (b span) meets(t span) bool {
	return b.x0 < t.x1 && t.x0 < b.x1 && b.y0 < t.y1 && t.y0 < b.y1
}

// write puts a word centred on a point, on a white ground.
func (s *Sheet) write(at drawing.Point, words string, size drawing.MM, bold bool) {
	s.taken = append(s.taken, boxOf(at, words, size))
	s.Drawing.Add(drawing.Text{At: at, Text: words, Size: size, Anchor: drawing.Middle, Bold: bold, Colour: drawing.Ink, Halo: true})
}

func boxOf(at drawing.Point, words string, size drawing.MM) span {
	half := drawing.MM(len([]rune(words))) * size * 0.27
	return span{at.X - half, at.Y - size, at.X + half, at.Y + size*0.3}
}

// Free tells whether a word finds room at a point beside those already written.
func (s *Sheet) Free(at drawing.Point, words string, size drawing.MM) bool {
	b := boxOf(at, words, size)
	if b.x0 < 0 || b.y0 < 0 || b.x1 > s.Drawing.Width || b.y1 > s.Drawing.Height {
		return false
	}
	return !slices.ContainsFunc(s.taken, b.meets)
}

// Write puts a word at the first of some points that is free, else at the last.
func (s *Sheet) Write(words string, bold bool, at ...drawing.Point) drawing.Point {
	for _, p := range at {
		if s.Free(p, words, drawing.SmallType) {
			s.write(p, words, drawing.SmallType, bold)
			return p
		}
	}
	last := at[len(at)-1]
	s.write(last, words, drawing.SmallType, bold)
	return last
}

// Mark says that the piece at a place has been named by a trade's own mark.
func (s *Sheet) Mark(at plan.Point) { s.marked = append(s.marked, at) }

// Rest writes the tags of the pieces that nobody has marked.
func (s *Sheet) Rest(r configurator.Report) {
	for _, p := range r.Pieces {
		it := r.PlanItem(p)
		if it.Place == nil || it.Wall || it.Outside || slices.Contains(s.marked, it.Place.At) {
			continue
		}
		tall := s.onSheet(&it).Y
		at := s.At(it.Place.At)
		s.Write(p.Item, false, at.Add(0, 0.8), at.Add(0, -tall/2-0.8), at.Add(0, tall/2+2.6))
	}
}
