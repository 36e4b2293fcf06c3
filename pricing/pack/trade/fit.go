package trade

import (
	"strings"
	"unicode/utf8"

	"tunwright/pricing/paper"
)

// Sheet is the width of the text on a page, in points.
type Sheet float64

// The widths that tables are fitted to: the narrower of A4 and US letter, upright and
// turned sideways.
const (
	Upright  Sheet = 487
	Sideways Sheet = 683
)

// Letters as the pages set them: points a letter takes, with something to spare, the
// gap between columns, and the most that a cell of words asks before it wraps.
const (
	letter   = 5.1
	gap      = 10.5
	mostWish = 170
)

// Fit shares a table's width by the letters in its columns and lets titles wrap: every
// column has its longest word and its figures whole, what is left goes to the columns
// whose words would wrap. A wide table of short figures so does not pay for its heads.
func Fit(t paper.Table, on Sheet) paper.Table {
	room := float64(on) - gap*float64(len(t.Columns)-1)
	least, more := make([]float64, len(t.Columns)), make([]float64, len(t.Columns))
	sum, wish := 0.0, 0.0
	for i := range t.Columns {
		least[i], more[i] = asks(t, i)
		sum, wish = sum+least[i], wish+more[i]
	}
	spare := max(room-sum, 0)
	columns := make([]paper.Column, len(t.Columns))
	for i, c := range t.Columns {
		extra := spare / float64(len(columns))
		if wish > 0 {
			extra = more[i] * spare / wish
		}
		c.Width = paper.Share(least[i] + extra)
		columns[i] = c
	}
	t.Columns = columns
	return t
}

// asks is what a column needs so that no word breaks, and what it would like on top.
func asks(t paper.Table, i int) (least, more float64) {
	c := t.Columns[i]
	word, line := max(longestWord(c.Title), longestWord(c.Unit), 2), utf8.RuneCountInString(c.Title)/2
	for _, r := range t.Rows {
		if r.Kind == paper.Group || i >= len(r.Cells) {
			continue
		}
		if f := r.Cells[i].Figure; f != "" {
			whole, _, _ := strings.Cut(f, ".")
			word = max(word, len(f)+(len(whole)-1)/3) // with a sign between thousands
			continue
		}
		word, line = max(word, longestWord(r.Cells[i].Text)), max(line, utf8.RuneCountInString(r.Cells[i].Text))
	}
	least = letter*float64(word) + 1
	return least, max(min(letter*float64(line), mostWish)-least, 0)
}

func longestWord(s string) int {
	n := 0
	for _, w := range strings.Split(s, " ") { // a no-break space holds together
		n = max(n, utf8.RuneCountInString(w))
	}
	return n
}
