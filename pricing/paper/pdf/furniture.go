package pdf

import (
	"bytes"
	"fmt"
	"image/png"
	"strings"

	"github.com/signintech/gopdf"

	"tunwright/pricing/paper"
)

// logoHeight is how tall the firm's picture stands in the letterhead.
const logoHeight = 40

// setFront sets the letterhead, the title and what identifies the document.
func (s *setter) setFront() error {
	s.where = "letterhead"
	if err := s.setLetterhead(); err != nil {
		return err
	}
	s.where = "title"
	if s.doc.Status != "" {
		if err := s.setStatus(); err != nil {
			return err
		}
	}
	start := len(s.boxes)
	if err := s.setHeading(s.doc.Title, titleStyle.in(s.headingColour()), 26, 1, 0); err != nil {
		return err
	}
	if s.doc.Subtitle != "" {
		if err := s.setLines(paper.Plain(s.doc.Subtitle), leadStyle.in(grey), 0, s.sheet.measure(), 0); err != nil {
			return err
		}
	}
	s.space(start, 26)
	return s.setParties()
}

// setParties sets whom the document is for at the left and what identifies it at
// the right.
func (s *setter) setParties() error {
	const gap, nameShare = 24, 0.38
	width := (s.sheet.measure() - gap) / 2
	left, err := s.append(nil, paper.Plain(s.labels.For), labelStyle, width)
	if err != nil {
		return err
	}
	if left, err = s.append(left, paper.Plain(s.doc.Client.Name), cellStyle.inBold(), width); err != nil {
		return err
	}
	if left, err = s.append(left, paper.Plain(strings.Join(s.doc.Client.Address, "\n")), cellStyle, width); err != nil {
		return err
	}
	facts := []paper.Fact{
		{Name: s.labels.Number, Value: paper.W(s.doc.Number).Bold()},
		{Name: s.labels.Revision, Value: paper.W(s.doc.Revision)},
		{Name: s.labels.Date, Value: paper.W(paper.LongDate(s.doc.Date, s.doc.Locale))},
	}
	if s.doc.Author != "" {
		facts = append(facts, paper.Fact{Name: s.labels.PreparedBy, Value: paper.W(s.doc.Author)})
	}
	right := make([]factEntry, 0, len(facts)+len(s.doc.Facts))
	height := 0.0
	for _, f := range append(facts, s.doc.Facts...) {
		e, err := s.factEntry(f, width*nameShare, width*(1-nameShare)-8)
		if err != nil {
			return err
		}
		right = append(right, e)
		height += e.height()
	}
	addressed := s.doc.Client.Name != ""
	s.add(box{height: max(height, depth(left)+cellPad), before: 14, draw: func(c *canvas, x, y float64) {
		if addressed {
			drawStack(c, left, x, y+cellPad)
		}
		for _, e := range right {
			e.draw(c, x+width+gap, y, width*nameShare, width)
			y += e.height()
		}
	}})
	return nil
}

// setLetterhead sets the firm's picture or name at the left, its address and
// contact at the right (headed by the name if a picture takes its place), and a rule
// in its colour.
func (s *setter) setLetterhead() error {
	firm := s.doc.Firm
	width := s.sheet.measure()
	logo, logoWidth, err := readLogo(firm.Logo)
	if err != nil {
		return err
	}
	nameStyle := style{face: bold, size: 15, leading: 18, colour: s.headingColour()}
	var right []styledLine
	if logo != nil {
		if right, err = s.append(right, paper.Plain(firm.Name), noteStyle.inBold(), width/3); err != nil {
			return err
		}
	}
	for _, text := range append(append([]string(nil), firm.Address...), firm.Contact...) {
		if right, err = s.append(right, paper.Plain(text), noteStyle, width/3); err != nil {
			return err
		}
	}
	var left []styledLine
	if logo == nil {
		if left, err = s.append(left, paper.Plain(firm.Name), nameStyle, width*0.6); err != nil {
			return err
		}
	}
	height := max(depth(left), depth(right))
	if logo != nil {
		height = max(height, logoHeight)
	}
	accent := s.accent
	s.add(box{height: height + 8, draw: func(c *canvas, x, y float64) {
		if logo != nil {
			c.image(logo, x, y, logoWidth, logoHeight)
		}
		drawStack(c, left, x, y)
		down := y
		for _, l := range right {
			c.text(l.line, l.style, x+width-l.line.width, down+l.style.base())
			down += l.style.leading
		}
		c.rule(x, y+height+7, x+width, y+height+7, 1.6, accent)
	}})
	return nil
}

func readLogo(data []byte) (gopdf.ImageHolder, float64, error) {
	if len(data) == 0 {
		return nil, 0, nil
	}
	size, err := png.DecodeConfig(bytes.NewReader(data))
	if err != nil {
		return nil, 0, fmt.Errorf("the firm's logo: %w: a PNG picture is right", err)
	}
	const widest = 220
	width := logoHeight * float64(size.Width) / float64(size.Height)
	if width > widest {
		return nil, 0, fmt.Errorf("the firm's logo is %d by %d pixels: too wide for the letterhead; crop it to at most %.1f times as wide as high", size.Width, size.Height, widest/float64(logoHeight))
	}
	holder, err := gopdf.ImageHolderByBytes(data)
	return holder, width, err
}

func (c *canvas) image(img gopdf.ImageHolder, x, y, w, h float64) {
	if err := c.gp.ImageByHolder(img, x, y, &gopdf.Rect{W: w, H: h}); err != nil && c.err == nil {
		c.err = fmt.Errorf("draw the logo: %w", err)
	}
}

// setStatus sets the document's status in a frame under the letterhead.
func (s *setter) setStatus() error {
	st := style{face: bold, size: 13, leading: 16, colour: black}
	text := strings.ToUpper(s.doc.Status)
	l, err := s.one(text, st, s.sheet.measure()-20)
	if err != nil {
		return err
	}
	s.add(box{height: 26, before: 10, draw: func(c *canvas, x, y float64) {
		c.frame(x, y, l.width+20, 24, 1.6, black)
		c.text(l, st, x+10, y+4+st.base())
	}})
	return nil
}

// setFurniture makes the running head and foot of every page. Every page names the
// document's number, revision, date and its own place among the pages.
func (s *setter) setFurniture(pages []page) ([]func(*canvas), error) {
	s.where = "page head and foot"
	var both [2]furniture
	for i, wide := range []bool{false, true} {
		f, err := s.furniture(sheetFor(s.doc.Size, wide))
		if err != nil {
			return nil, err
		}
		both[i] = f
	}
	out := make([]func(*canvas), len(pages))
	for i, pg := range pages {
		f := both[0]
		if pg.wide() {
			f = both[1]
		}
		count, err := s.one(s.labels.Page(i+1, len(pages)), noteStyle.in(ink), f.sheet.measure()*0.25)
		if err != nil {
			return nil, err
		}
		out[i] = func(c *canvas) {
			if i > 0 {
				f.drawHead(c, s.accent)
			}
			f.drawFoot(c, count)
		}
	}
	return out, nil
}

// furniture is what stands on every page of one shape.
type furniture struct {
	sheet                    sheet
	name, client, mark, foot line
	legal                    []line
}

func (s *setter) furniture(sh sheet) (furniture, error) {
	d, width := s.doc, sh.measure()
	identity := d.Number + "  ·  " + s.labels.Revision + " " + d.Revision + "  ·  " + paper.ShortDate(d.Date, d.Locale)
	f := furniture{sheet: sh}
	var err error
	if f.mark, err = s.one(strings.ToUpper(d.Status), markStyle, width/3); err != nil {
		return f, err
	}
	if f.name, err = s.clipped(d.Title, noteStyle.in(ink), width*0.62-f.mark.width); err != nil {
		return f, err
	}
	if f.client, err = s.clipped(d.Client.Name, noteStyle, width*0.36); err != nil {
		return f, err
	}
	if f.foot, err = s.clipped(identity, noteStyle, width*0.75); err != nil {
		return f, err
	}
	if f.legal, err = s.wrap(paper.Plain(d.Firm.Legal), noteStyle, width); err != nil {
		return f, err
	}
	const most = 2
	if len(f.legal) > most {
		return f, &OverflowError{Where: "the firm's legal line", Word: d.Firm.Legal, Need: float64(len(f.legal)) * width, Have: most * width}
	}
	return f, nil
}

func (f furniture) drawHead(c *canvas, accent paper.Colour) {
	sh, right := f.sheet, f.sheet.left+f.sheet.measure()
	c.text(f.name, noteStyle.in(ink), sh.left, sh.headLine)
	c.text(f.client, noteStyle, right-f.client.width, sh.headLine)
	if f.mark.width > 0 {
		x := sh.left + f.name.width + 14
		c.frame(x-5, sh.headLine-9.5, f.mark.width+10, 13, 1, black)
		c.text(f.mark, markStyle, x, sh.headLine)
	}
	c.rule(sh.left, sh.headLine+6, right, sh.headLine+6, 0.5, accent)
}

func (f furniture) drawFoot(c *canvas, count line) {
	sh, right := f.sheet, f.sheet.left+f.sheet.measure()
	c.rule(sh.left, sh.footLine-12, right, sh.footLine-12, 0.5, pale)
	c.text(f.foot, noteStyle, sh.left, sh.footLine)
	c.text(count, noteStyle.in(ink), right-count.width, sh.footLine)
	for k, l := range f.legal {
		c.text(l, noteStyle, sh.left, sh.footLine+noteStyle.leading*float64(k+1))
	}
}

// clipped sets a text on one line and shortens it with an ellipsis if it must; the
// first page carries it in full.
func (s *setter) clipped(text string, st style, width float64) (line, error) {
	full, err := s.one(text, st, 1e6)
	if err != nil || full.width <= width {
		return full, err
	}
	letters := []rune(text)
	for n := len(letters) - 1; n > 0; n-- {
		l, err := s.one(strings.TrimRight(string(letters[:n]), " ·")+"…", st, 1e6)
		if err != nil || l.width <= width {
			return l, err
		}
	}
	return line{}, &OverflowError{Where: s.where, Word: text, Need: full.width, Have: width}
}
