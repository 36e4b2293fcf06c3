package pdf

import (
	"fmt"

	"tunwright/pricing/paper"
)

const (
	columnGap = 10  // between columns
	cellPad   = 2.6 // above and below a row's text
	leastRows = 2   // rows that stay with the head, and with the last row
)

// grid is a table's columns on the page.
type grid struct {
	x, width []float64
	columns  []paper.Column
	total    float64
}

// entry is a finished cell.
type entry struct {
	lines []line
	style style
	x     float64 // left edge of the column
	width float64
	align paper.Align
}

func (s *setter) setTable(t paper.Table) error {
	outer := s.where
	defer func() { s.where = outer }()
	s.where = fmt.Sprintf("%s, table %q", outer, t.Label())
	g, err := s.fitColumns(t)
	if err != nil {
		return err
	}
	start := len(s.boxes)
	if t.Title != "" {
		if err := s.setLines(paper.Plain(t.Title), h3Style, 0, s.sheet.measure(), tableGap); err != nil {
			return err
		}
		s.boxes[len(s.boxes)-1].height += 2
	}
	head, err := s.tableHead(t, g)
	if err != nil {
		return err
	}
	s.add(head)
	for i := start; i < len(s.boxes); i++ {
		s.boxes[i].keep = true
	}
	s.space(start, tableGap)
	repeated, err := s.continuedHead(t, head)
	if err != nil {
		return err
	}
	first := len(s.boxes)
	for i, r := range t.Rows {
		b, err := s.tableRow(t, g, i, r)
		if err != nil {
			return err
		}
		b.head = repeated
		s.add(b)
	}
	s.holdRows(t.Rows, first)
	if len(t.Rows) == 0 {
		if err := s.setLines(paper.Plain(s.labels.Empty), cellStyle.in(grey), 0, s.sheet.measure(), 3); err != nil {
			return err
		}
	}
	s.closeTable(g)
	return s.tableNotes(t)
}

// holdRows keeps at least two rows with the head, a group row with its first two
// rows, and a total with the row before it, so that nothing stands alone on a page.
func (s *setter) holdRows(rows []paper.Row, first int) {
	for i, r := range rows {
		b := &s.boxes[first+i]
		last := i == len(rows)-1
		switch {
		case last:
		case i < leastRows-1, i == len(rows)-leastRows:
			b.keep = true
		case r.Kind == paper.Group, i > 0 && rows[i-1].Kind == paper.Group:
			b.keep = true
		case rows[i+1].Kind == paper.Subtotal, rows[i+1].Kind == paper.Total:
			b.keep = true
		}
	}
}

// closeTable draws the rule below the last row.
func (s *setter) closeTable(g grid) {
	b := &s.boxes[len(s.boxes)-1]
	draw, h := b.draw, b.height
	b.draw = func(c *canvas, x, y float64) {
		draw(c, x, y)
		c.rule(x, y+h, x+g.total, y+h, 0.8, ink)
	}
}

// tableHead is the row of column titles, the units below them.
func (s *setter) tableHead(t paper.Table, g grid) (box, error) {
	titles, units := make([]entry, len(t.Columns)), make([]entry, len(t.Columns))
	deepest, anyUnit := 0.0, false
	for i, col := range t.Columns {
		lines, err := s.wrap(paper.Plain(col.Title), headStyle, g.width[i])
		if err != nil {
			return box{}, err
		}
		titles[i] = g.entry(i, lines, headStyle)
		deepest = max(deepest, float64(len(lines))*headStyle.leading)
		if col.Unit == "" {
			continue
		}
		unit, err := s.wrap(paper.Plain(col.Unit), unitStyle, g.width[i])
		if err != nil {
			return box{}, err
		}
		units[i] = g.entry(i, unit, unitStyle)
		anyUnit = true
	}
	height := deepest + 2*cellPad
	if anyUnit {
		height += unitStyle.leading
	}
	return box{height: height, draw: func(c *canvas, x, y float64) {
		c.rule(x, y, x+g.total, y, 0.8, ink)
		bottom := y + height - cellPad
		for i, e := range titles {
			up := float64(len(units[i].lines)) * unitStyle.leading
			e.draw(c, x, bottom-up-float64(len(e.lines))*headStyle.leading)
			units[i].draw(c, x, bottom-up)
		}
		c.rule(x, y+height, x+g.total, y+height, 0.5, ink)
	}}, nil
}

// continuedHead is what stands above the rows on a further page.
func (s *setter) continuedHead(t paper.Table, head box) ([]box, error) {
	head.keep, head.before = false, 0
	title := t.Title
	if title == "" {
		title = t.Name
	}
	out, err := s.continued(title)
	return append(out, head), err
}

// continued is the line that names what goes on from the page before.
func (s *setter) continued(title string) ([]box, error) {
	if title == "" {
		return nil, nil
	}
	lines, err := s.wrap(paper.Plain(title+" ("+s.labels.Continued+")"), labelStyle, s.sheet.measure())
	if err != nil {
		return nil, err
	}
	var out []box
	for _, l := range lines {
		out = append(out, box{height: labelStyle.leading + 1, draw: func(c *canvas, x, y float64) {
			c.text(l, labelStyle, x, y+labelStyle.base())
		}})
	}
	return out, nil
}

func (s *setter) tableRow(t paper.Table, g grid, i int, r paper.Row) (box, error) {
	if r.Kind == paper.Group {
		return s.groupRow(g, r)
	}
	strong := r.Kind != paper.Item
	entries := make([]entry, 0, len(r.Cells))
	deepest := 1
	outer := s.where
	for k, cell := range r.Cells {
		if cell.Empty() {
			continue
		}
		st := cellStyle
		if strong || cell.Strong {
			st = st.inBold()
		}
		s.where = fmt.Sprintf("%s, row %d, column %q", outer, i+1, t.Columns[k].Name())
		lines, err := s.wrap(paper.Plain(cell.Print(s.doc.Locale, t.Columns[k].Unit != "")), st, g.width[k])
		if err != nil {
			return box{}, err
		}
		entries = append(entries, g.entry(k, lines, st))
		deepest = max(deepest, len(lines))
	}
	s.where = outer
	height := float64(deepest)*cellStyle.leading + 2*cellPad
	kind, first := r.Kind, i == 0
	return box{height: height, draw: func(c *canvas, x, y float64) {
		switch kind {
		case paper.Total:
			c.area(x, y, g.total, height, mist)
			c.rule(x, y, x+g.total, y, 0.8, ink)
		case paper.Subtotal:
			c.rule(x, y, x+g.total, y, 0.5, ink)
		default:
			if !first {
				c.rule(x, y, x+g.total, y, 0.25, pale)
			}
		}
		for _, e := range entries {
			e.draw(c, x, y+cellPad)
		}
	}}, nil
}

func (s *setter) groupRow(g grid, r paper.Row) (box, error) {
	st := cellStyle.inBold()
	lines, err := s.wrap(paper.Plain(r.Cells[0].Print(s.doc.Locale, false)), st, g.total-8)
	if err != nil {
		return box{}, err
	}
	const above = 3
	height := float64(len(lines))*st.leading + 2*cellPad + above
	e := entry{lines: lines, style: st, width: g.total, align: paper.Left}
	return box{height: height, draw: func(c *canvas, x, y float64) {
		c.area(x, y+above, g.total, height-above, mist)
		e.draw(c, x+4, y+above+cellPad)
	}}, nil
}

func (s *setter) tableNotes(t paper.Table) error {
	above := 4.0
	for _, n := range t.Notes {
		if err := s.setNoteBelow(n, above); err != nil {
			return err
		}
		above = 1
	}
	for i, src := range t.Sources {
		lead := s.labels.Source
		if len(t.Sources) > 1 {
			lead = s.labels.Sources
		}
		if i > 0 {
			lead = ""
		} else {
			lead += ": "
		}
		if err := s.setNoteBelow(lead+src, above); err != nil {
			return err
		}
		above = 1
	}
	return nil
}

// setNoteBelow sets small text that stays with the box above it.
func (s *setter) setNoteBelow(text string, above float64) error {
	s.boxes[len(s.boxes)-1].keep = true
	start := len(s.boxes)
	if err := s.setLines(paper.Plain(text), noteStyle, 0, s.sheet.measure(), above); err != nil {
		return err
	}
	for i := start; i < len(s.boxes)-1; i++ {
		s.boxes[i].keep = true
	}
	return nil
}

func (g grid) entry(column int, lines []line, st style) entry {
	return entry{lines: lines, style: st, x: g.x[column], width: g.width[column], align: g.columns[column].SetAlign()}
}

// draw puts the cell's lines down, the first one's top at y.
func (e entry) draw(c *canvas, x, y float64) {
	for i, l := range e.lines {
		left := x + e.x
		switch e.align {
		case paper.Right:
			left += e.width - l.width
		case paper.Centre:
			left += (e.width - l.width) / 2
		}
		c.text(l, e.style, left, y+float64(i)*e.style.leading+e.style.base())
	}
}
