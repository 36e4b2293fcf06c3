package rigging

import (
	"slices"
	"strings"

	"tunwright/pricing/paper"
)

// packed is a transport piece by the tag of its equipment and its own name.
type packed struct{ tag, piece string }

// name is one piece, or several that are alike: "FV1, FV2: vessel lying on a skid".
func name(of []packed) string {
	var tags []string
	for _, p := range of {
		if !slices.Contains(tags, p.tag) {
			tags = append(tags, p.tag)
		}
	}
	joined := strings.Join(tags, ", ")
	if of[0].piece == "" {
		return joined
	}
	return joined + ": " + of[0].piece
}

// merged gathers rows that say the same of pieces of the same name, in the order of
// the first of each. The first cell of a row is its piece; with counted, the second is
// how many there are.
type merged struct {
	counted bool
	pieces  [][]packed
	rows    []paper.Row
}

func (m *merged) add(p packed, row paper.Row) {
	for i, r := range m.rows {
		if m.pieces[i][0].piece == p.piece && slices.Equal(r.Cells, row.Cells) {
			m.pieces[i] = append(m.pieces[i], p)
			return
		}
	}
	m.pieces, m.rows = append(m.pieces, []packed{p}), append(m.rows, row)
}

func (m *merged) table() []paper.Row {
	out := make([]paper.Row, len(m.rows))
	for i, r := range m.rows {
		first := paper.W(name(m.pieces[i]))
		if len(r.Cells) > 0 {
			first.Strong = r.Cells[0].Strong
		}
		cells := []paper.Cell{first}
		if m.counted {
			n := paper.I(len(m.pieces[i]))
			cells = append(cells, n)
		}
		out[i] = paper.Row{Cells: append(cells, r.Cells...)}
	}
	return out
}
