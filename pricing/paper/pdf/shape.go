package pdf

import (
	"fmt"
	"unicode/utf8"

	"golang.org/x/text/unicode/norm"

	"tunwright/pricing/paper"
)

// style is how a text is set.
type style struct {
	face    faceID
	size    float64 // points
	leading float64 // points from base line to base line
	colour  paper.Colour
}

// base is how far below its top the base line of a line lies: the capitals stand
// in the middle of the leading.
func (st style) base() float64 {
	const capHeight = 0.66 // of the type size, as this face has it
	return st.leading/2 + st.size*capHeight/2
}

// run is a stretch of a line in one face.
type run struct {
	face faceID
	sub  bool
	text string
	x    float64 // from the line's start
}

// An index is set at subScale of the type size, subDrop of it below the base line.
const (
	subScale = 0.72
	subDrop  = 0.16
)

// line is a finished line.
type line struct {
	runs  []run
	width float64
}

// glyph is one character on its way into a line, in thousandths of the type size.
type glyph struct {
	r       rune
	face    faceID
	advance int16
	kern    int16 // against the glyph before
	sub     bool
}

// Characters that steer line breaking and are not printed.
const (
	zeroWidthSpace = '\u200b'
	softHyphen     = '\u00ad'
	byteOrderMark  = '\ufeff'
)

// shape looks up every character of the text, face by face. The result is good
// until the next call.
func (s *setter) shape(t paper.Text, st style) ([]glyph, error) {
	s.glyphs = s.glyphs[:0]
	for _, span := range t {
		want := st.face
		switch {
		case span.Bold:
			want = bold
		case span.Italic && st.face == regular:
			want = italic
		}
		from := len(s.glyphs)
		if err := s.shapeSpan(span.Text, want); err != nil {
			return nil, err
		}
		if span.Sub {
			lower(s.glyphs[from:])
		}
	}
	return s.glyphs, nil
}

// lower makes glyphs an index.
func lower(glyphs []glyph) {
	for i := range glyphs {
		g := &glyphs[i]
		g.sub, g.kern = true, 0
		g.advance = int16(float64(g.advance)*subScale + 0.5)
	}
}

func (s *setter) shapeSpan(text string, want faceID) error {
	if !norm.NFC.IsNormalString(text) {
		text = norm.NFC.String(text) // letters with loose accents, as some systems paste them
	}
	previous, previousFace := rune(-1), want
	for i, r := range text {
		if r == utf8.RuneError && !utf8.ValidString(text[i:]) {
			return fmt.Errorf("%s: text is not valid UTF-8", s.where)
		}
		switch r {
		case '\r', byteOrderMark:
			continue
		case '\t':
			r = ' '
		}
		if r == '\n' || r == zeroWidthSpace || r == softHyphen {
			s.glyphs = append(s.glyphs, glyph{r: r, face: want})
			continue
		}
		face := want
		advance, ok := s.printer.faces[face].width(r)
		if !ok {
			face = symbols
			if advance, ok = s.printer.faces[face].width(r); !ok {
				return &GlyphError{Rune: r, Where: s.where}
			}
		}
		g := glyph{r: r, face: face, advance: advance}
		if face == previousFace && face != symbols {
			g.kern = s.printer.faces[face].kerning(previous, r)
		}
		s.used[face] = true
		s.glyphs = append(s.glyphs, g)
		previous, previousFace = r, face
	}
	return nil
}

// wrap breaks the text into lines no wider than width points.
func (s *setter) wrap(t paper.Text, st style, width float64) ([]line, error) {
	glyphs, err := s.shape(t, st)
	if err != nil {
		return nil, err
	}
	limit := int(width/st.size*emPerThou + 0.5)
	var lines []line
	for start := 0; start < len(glyphs); {
		end, next := breakLine(glyphs[start:], limit)
		if end == 0 && next == 0 {
			return nil, s.overflow(glyphs[start:], st, width)
		}
		lines = append(lines, s.makeLine(glyphs[start:start+end], st))
		start += next
	}
	return lines, nil
}

// breakLine finds where the first line of the glyphs ends and where the next one
// starts. Both are zero when not even a word fits.
func breakLine(glyphs []glyph, limit int) (end, next int) {
	total := 0
	for i, g := range glyphs {
		if g.r == '\n' {
			return i, i + 1
		}
		if g.r == ' ' || g.r == zeroWidthSpace {
			end, next = i, i+1
		}
		total += int(g.advance)
		if i > 0 {
			total += int(g.kern)
		}
		if total > limit && g.r != ' ' {
			return end, next
		}
		if hyphenates(glyphs, i) && total <= limit {
			end, next = i+1, i+1
		}
	}
	return len(glyphs), len(glyphs)
}

// hyphenates tells whether a line may end behind the glyph: at a soft hyphen, or
// after a hyphen or dash that has letters enough on both sides.
func hyphenates(glyphs []glyph, i int) bool {
	switch glyphs[i].r {
	case softHyphen:
		return true
	case '-', '–', '—':
	default:
		return false
	}
	const before, behind = 4, 4
	if i < before || i+behind >= len(glyphs) {
		return false
	}
	for _, g := range glyphs[i-before : i] {
		if !letter(g.r) {
			return false
		}
	}
	for _, g := range glyphs[i+1 : i+1+behind] {
		if !letter(g.r) {
			return false
		}
	}
	return true
}

func letter(r rune) bool {
	return r >= 'A' && r <= 'Z' || r >= 'a' && r <= 'z' || r >= 0xc0 && r < 0x250
}

// makeLine joins glyphs into runs of one face.
func (s *setter) makeLine(glyphs []glyph, st style) line {
	for len(glyphs) > 0 && glyphs[len(glyphs)-1].r == ' ' {
		glyphs = glyphs[:len(glyphs)-1]
	}
	var l line
	total, started := 0, 0
	s.letters = s.letters[:0]
	flush := func(last glyph) {
		if len(s.letters) > 0 {
			l.runs = append(l.runs, run{face: last.face, sub: last.sub, text: string(s.letters), x: float64(started) * st.size / emPerThou})
			s.letters = s.letters[:0]
		}
	}
	for i, g := range glyphs {
		if g.r == zeroWidthSpace || g.r == softHyphen && i < len(glyphs)-1 {
			continue
		}
		if g.r == softHyphen {
			g.r = '-'
			g.advance, _ = s.printer.faces[g.face].width('-')
		}
		if len(s.letters) > 0 && (glyphs[i-1].face != g.face || glyphs[i-1].sub != g.sub) {
			flush(glyphs[i-1])
			started = total
		} else if len(s.letters) > 0 {
			total += int(g.kern)
		}
		s.letters = utf8.AppendRune(s.letters, g.r)
		total += int(g.advance)
	}
	if len(glyphs) > 0 {
		flush(glyphs[len(glyphs)-1])
	}
	l.width = float64(total) * st.size / emPerThou
	return l
}

// overflow names the word that doesn't fit.
func (s *setter) overflow(glyphs []glyph, st style, have float64) error {
	var word []rune
	total := 0
	for _, g := range glyphs {
		if g.r == ' ' || g.r == '\n' || g.r == zeroWidthSpace {
			break
		}
		word = append(word, g.r)
		total += int(g.advance) + int(g.kern)
	}
	return &OverflowError{Where: s.where, Word: string(word), Need: float64(total) * st.size / emPerThou, Have: have}
}

// extent is how wide a text is at least (its longest word) and at most (its longest
// line), in points.
func (s *setter) extent(t paper.Text, st style) (least, most float64, err error) {
	glyphs, err := s.shape(t, st)
	if err != nil {
		return 0, 0, err
	}
	word, row, maxWord, maxRow := 0, 0, 0, 0
	for i, g := range glyphs {
		switch {
		case g.r == '\n':
			word, row = 0, 0
			continue
		case g.r == ' ' || g.r == zeroWidthSpace:
			word = 0
			row += int(g.advance)
			continue
		}
		word += int(g.advance) + int(g.kern)
		row += int(g.advance) + int(g.kern)
		maxWord, maxRow = max(maxWord, word), max(maxRow, row)
		if hyphenates(glyphs, i) {
			word = 0
		}
	}
	return float64(maxWord) * st.size / emPerThou, float64(maxRow) * st.size / emPerThou, nil
}

// one sets a text on a single line, which must be no wider than width.
func (s *setter) one(text string, st style, width float64) (line, error) {
	glyphs, err := s.shape(paper.Plain(text), st)
	if err != nil {
		return line{}, err
	}
	l := s.makeLine(glyphs, st)
	if l.width > width+0.05 {
		return line{}, &OverflowError{Where: s.where, Word: text, Need: l.width, Have: width}
	}
	return l, nil
}
