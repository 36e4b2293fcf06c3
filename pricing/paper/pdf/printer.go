// Package pdf draws a paper.Doc as a PDF file with embedded fonts, an outline and
// selectable text. The same tree gives the same bytes.
//
// Begin with Write, or make a Printer once and keep it: it holds the parsed fonts.
// Writing fails, rather than leave something out, when a font lacks a character
// (*GlyphError), a word is wider than its column (*OverflowError) or something that
// may not be split is taller than a page (*TallError).
//
// Lines are broken here by cached widths; gopdf only puts finished lines down.
package pdf

import (
	"bytes"
	"compress/zlib"
	_ "embed"
	"fmt"
	"io"
	"sync"
	"sync/atomic"
	"time"

	"github.com/signintech/gopdf"

	"tunwright/pricing/paper"
)

// The fonts are cut-down copies under their own names; the licences lie beside them.
var (
	//go:embed fonts/text-regular.ttf
	regularTTF []byte
	//go:embed fonts/text-bold.ttf
	boldTTF []byte
	//go:embed fonts/text-italic.ttf
	italicTTF []byte
	//go:embed fonts/symbols.ttf
	symbolsTTF []byte
)

// Printer holds the parsed fonts. It is safe for concurrent use.
type Printer struct {
	container gopdf.FontContainer
	faces     [faceCount]face
	missed    atomic.Int32
}

var shared = sync.OnceValues(New)

// Write draws the document with a printer made on first use.
func Write(w io.Writer, doc paper.Doc) error {
	p, err := shared()
	if err != nil {
		return err
	}
	return p.Write(w, doc)
}

// New parses the fonts.
func New() (*Printer, error) {
	p := &Printer{}
	for id, ttf := range [faceCount][]byte{regular: regularTTF, bold: boldTTF, italic: italicTTF, symbols: symbolsTTF} {
		option := gopdf.TtfOption{UseKerning: faceID(id) != symbols, OnGlyphNotFound: func(rune) { p.missed.Add(1) }}
		if err := p.container.AddTTFFontDataWithOption(families[id], ttf, option); err != nil {
			return nil, fmt.Errorf("parse font %s: %w", families[id], err)
		}
		if err := p.faces[id].read(ttf); err != nil {
			return nil, fmt.Errorf("measure font %s: %w", families[id], err)
		}
	}
	return p, nil
}

// Write draws the document. Nothing is written unless the whole of it can be drawn.
func (p *Printer) Write(w io.Writer, doc paper.Doc) error {
	if err := doc.Check(); err != nil {
		return err
	}
	s := newSetter(p, &doc)
	if err := s.setDocument(); err != nil {
		return fmt.Errorf("document %s: %w", doc.Number, err)
	}
	pages, err := s.paginate()
	if err != nil {
		return fmt.Errorf("document %s: %w", doc.Number, err)
	}
	var buffer bytes.Buffer
	if err := s.print(&buffer, pages); err != nil {
		return fmt.Errorf("document %s: %w", doc.Number, err)
	}
	_, err = w.Write(buffer.Bytes())
	return err
}

// print puts the pages down.
func (s *setter) print(buffer *bytes.Buffer, pages []page) error {
	furniture, err := s.setFurniture(pages)
	if err != nil {
		return err
	}
	upright := sheetFor(s.doc.Size, false)
	gp := &gopdf.GoPdf{}
	gp.Start(gopdf.Config{PageSize: gopdf.Rect{W: upright.width, H: upright.height}})
	// The usual level takes a third longer for a file hardly smaller.
	gp.SetCompressLevel(zlib.BestSpeed)
	gp.SetInfo(gopdf.PdfInfo{
		Title: s.doc.Title, Author: s.author(), Subject: s.doc.Subject,
		Creator: "Tunwright", Producer: "Tunwright", CreationDate: creationDate(s.doc.Date),
	})
	for id := range s.used {
		if !s.used[id] {
			continue
		}
		if err := gp.AddTTFFontFromFontContainer(families[id], &s.printer.container); err != nil {
			return fmt.Errorf("embed font %s: %w", families[id], err)
		}
	}
	c := newCanvas(gp)
	var marks outline
	for i, pg := range pages {
		sh := sheetFor(s.doc.Size, pg.wide())
		c.newPage(sh)
		furniture[i](c)
		for _, b := range pg {
			if b.mark != nil {
				marks.add(gp, b.mark, b.y+upright.height-sh.height)
			}
			if b.draw != nil {
				b.draw(c, sh.left, b.y)
			}
		}
	}
	marks.link()
	if c.err != nil {
		return c.err
	}
	if s.printer.missed.Swap(0) != 0 {
		return &GlyphError{Where: "a text that was not measured"}
	}
	if _, err := gp.WriteTo(buffer); err != nil {
		return fmt.Errorf("write PDF: %w", err)
	}
	return nil
}

// author is who the file's properties name: the person, else the firm.
func (s *setter) author() string {
	if s.doc.Author != "" {
		return s.doc.Author
	}
	return s.doc.Firm.Name
}

// creationDate is the document's own date, so that printing again gives the same
// bytes. It is written as UTC.
func creationDate(d time.Time) time.Time {
	return time.Date(d.Year(), d.Month(), d.Day(), 0, 0, 0, 0, time.UTC)
}
