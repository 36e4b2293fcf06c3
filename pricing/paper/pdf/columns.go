package pdf

import (
	"fmt"

	"tunwright/pricing/paper"
)

// fitColumns shares the page's width among the columns: by their stated shares or,
// when none is stated, by what stands in them.
func (s *setter) fitColumns(t paper.Table) (grid, error) {
	g := grid{columns: t.Columns, total: s.sheet.measure(), x: make([]float64, len(t.Columns)), width: make([]float64, len(t.Columns))}
	room := g.total - columnGap*float64(len(t.Columns)-1)
	shares := 0.0
	for _, c := range t.Columns {
		shares += float64(c.Width)
	}
	if shares > 0 {
		for i, c := range t.Columns {
			g.width[i] = room * float64(c.Width) / shares
		}
	} else if err := s.fitToContent(t, g.width, room); err != nil {
		return grid{}, err
	}
	x := 0.0
	for i, w := range g.width {
		g.x[i] = x
		x += w + columnGap
	}
	return g, nil
}

// fitToContent gives every column its longest word and shares what is left by how
// much more each would like; room to spare goes to the columns of words.
func (s *setter) fitToContent(t paper.Table, width []float64, room float64) error {
	least, most := make([]float64, len(width)), make([]float64, len(width))
	for i, c := range t.Columns {
		if err := s.widen(&least[i], &most[i], c.Title, headStyle); err != nil {
			return err
		}
		if err := s.widen(&least[i], &most[i], c.Unit, unitStyle); err != nil {
			return err
		}
	}
	for _, r := range t.Rows {
		if r.Kind == paper.Group {
			continue
		}
		for i, cell := range r.Cells {
			if cell.Empty() {
				continue
			}
			st := cellStyle
			if r.Kind != paper.Item || cell.Strong {
				st = st.inBold()
			}
			text := cell.Print(s.doc.Locale, t.Columns[i].Unit != "")
			if err := s.widen(&least[i], &most[i], text, st); err != nil {
				return err
			}
			if t.Columns[i].Kind != paper.Words {
				least[i] = max(least[i], min(most[i], room/3))
			}
		}
	}
	sumLeast, sumMost := sum(least), sum(most)
	if sumLeast > room {
		return &OverflowError{Where: s.where, Word: fmt.Sprintf("%d columns", len(width)), Need: sumLeast, Have: room}
	}
	if sumMost <= room {
		spread(t.Columns, width, most, room-sumMost)
		return nil
	}
	squeeze(width, least, most, room)
	return nil
}

// squeeze shares a room that is too narrow for all: columns that ask for no more
// than their fair share get what they ask, the others share the rest by what they
// ask beyond their longest word.
func squeeze(width, least, most []float64, room float64) {
	served := make([]bool, len(width))
	left, waiting := room, len(width)
	for progress := true; progress && waiting > 0; {
		progress = false
		reserved := 0.0
		for i := range width {
			if !served[i] {
				reserved += least[i]
			}
		}
		fair := left / float64(waiting)
		for i := range width {
			if served[i] || most[i] > fair || left-most[i] < reserved-least[i] {
				continue
			}
			served[i], width[i], progress = true, most[i], true
			left -= most[i]
			reserved -= least[i]
			waiting--
		}
	}
	sumLeast, sumMost := 0.0, 0.0
	for i := range width {
		if !served[i] {
			sumLeast, sumMost = sumLeast+least[i], sumMost+most[i]
		}
	}
	for i := range width {
		if !served[i] {
			width[i] = least[i] + (left-sumLeast)*(most[i]-least[i])/(sumMost-sumLeast)
		}
	}
}

// spread gives what is left over to the columns of words, by their width, or to
// all columns alike when there are none.
func spread(columns []paper.Column, width, natural []float64, left float64) {
	words := 0.0
	for i, c := range columns {
		if c.Kind == paper.Words {
			words += natural[i]
		}
	}
	for i, c := range columns {
		width[i] = natural[i]
		switch {
		case words == 0:
			width[i] += left / float64(len(columns))
		case c.Kind == paper.Words:
			width[i] += left * natural[i] / words
		}
	}
}

func (s *setter) widen(least, most *float64, text string, st style) error {
	if text == "" {
		return nil
	}
	word, row, err := s.extent(paper.Plain(text), st)
	if err != nil {
		return err
	}
	// A hair more than measured, so that rounding never breaks a word that fits.
	const slack = 0.05
	*least, *most = max(*least, word+slack), max(*most, row+slack)
	return nil
}

func sum(values []float64) float64 {
	total := 0.0
	for _, v := range values {
		total += v
	}
	return total
}
