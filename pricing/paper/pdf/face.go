package pdf

import (
	"github.com/signintech/gopdf"
	"github.com/signintech/gopdf/fontmaker/core"
)

type faceID uint8

// The faces, and the order they are tried in for a character: the one asked for,
// then symbols.
const (
	regular faceID = iota
	bold
	italic
	symbols
	faceCount
)

// families carry the tag of six letters that PDF asks for on a subset font
// (ISO 32000-1, 9.6.4).
var families = [faceCount]string{
	regular: "TWTEXT TunwrightText-Regular",
	bold:    "TWTEXT TunwrightText-Bold",
	italic:  "TWTEXT TunwrightText-Italic",
	symbols: "TWSYMB TunwrightSymbols-Regular",
}

const (
	lastRune   = 0x27ff
	kernRunes  = 0x80
	emPerThou  = 1000 // widths are in thousandths of the type size, as PDF has them
	noSuchRune = -1
)

// face holds what line breaking needs of a font.
type face struct {
	widths [lastRune + 1]int16 // noSuchRune where the font lacks the character
	kern   [kernRunes][kernRunes]int16
}

func (f *face) read(ttf []byte) error {
	var font gopdf.SubsetFontObj
	font.SetTtfFontOption(gopdf.TtfOption{UseKerning: true})
	if err := font.SetTTFData(ttf); err != nil {
		return err
	}
	glyphs := font.GetTTFParser().Chars()
	known := 0
	for r := range f.widths {
		f.widths[r] = noSuchRune
		if glyph := glyphs[r]; glyph != 0 {
			f.widths[r] = int16(font.GlyphIndexToPdfWidth(glyph))
			known++
		}
	}
	if known == 0 {
		return errNotRead
	}
	f.readKerning(glyphs, font.GetTTFParser())
	return nil
}

func (f *face) readKerning(glyphs map[int]uint, parser *core.TTFParser) {
	table := parser.Kern()
	if table == nil {
		return
	}
	perEm := int(parser.UnitsPerEm())
	for left := range kernRunes {
		pairs, ok := table.Kerning[glyphs[left]]
		if !ok {
			continue
		}
		for right := range kernRunes {
			if ok, v := pairs.ValueByRight(glyphs[right]); ok {
				f.kern[left][right] = int16(int(v) * emPerThou / perEm)
			}
		}
	}
}

// width is the character's width in thousandths of the type size.
func (f *face) width(r rune) (int16, bool) {
	if r < 0 || r > lastRune {
		return 0, false
	}
	w := f.widths[r]
	return w, w != noSuchRune
}

// kerning is how much closer the second character stands to the first.
func (f *face) kerning(left, right rune) int16 {
	if left >= kernRunes || right >= kernRunes || left < 0 {
		return 0
	}
	return f.kern[left][right]
}
