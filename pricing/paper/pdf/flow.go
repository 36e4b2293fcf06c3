package pdf

import "tunwright/pricing/paper"

// box is the smallest part that is never split over two pages.
type box struct {
	height float64
	before float64 // space above it, dropped at the top of a page
	keep   bool    // stays on one page with the next box
	soft   bool    // stays with the next box if the whole group fits a page
	fresh  bool    // starts a page
	apart  bool    // starts a page unless most of the one before is free
	wide   bool    // on a page turned sideways
	head   []box   // repeated above it when it starts a page
	mark   *bookmark
	where  string
	draw   func(c *canvas, x, y float64)
	y      float64 // filled while laying out
}

// page is the boxes on one page, in order.
type page []box

// wide tells whether the page is turned sideways; no page is empty.
func (p page) wide() bool { return p[0].wide }

// setter turns a document into boxes and pages. It serves one document.
type setter struct {
	printer *Printer
	doc     *paper.Doc
	labels  *paper.Labels
	sheet   sheet
	accent  paper.Colour
	boxes   []box
	used    [faceCount]bool
	where   string // what is being set, for messages
	turn    bool   // the next box starts a page
	heading int    // how many boxes there were after the last heading
	marks   []*bookmark

	glyphs  []glyph // reused from text to text
	letters []byte
}

func newSetter(p *Printer, doc *paper.Doc) *setter {
	return &setter{
		printer: p, doc: doc, labels: paper.LabelsFor(doc.Locale), sheet: sheetFor(doc.Size, false),
		accent: doc.Firm.Colour, boxes: make([]box, 0, 512), where: "document",
	}
}

func (s *setter) add(b box) {
	b.where = s.where
	b.fresh = b.fresh || s.turn
	b.wide = s.sheet.wide
	s.turn = false
	s.boxes = append(s.boxes, b)
}

// space widens the gap above a box; the larger gap wins. Below a heading only a
// small one is left, so that the heading belongs to what it heads.
func (s *setter) space(from int, gap float64) {
	if from >= len(s.boxes) {
		return
	}
	if from == s.heading && from > 0 {
		gap = min(gap, gapBelowHeading)
	}
	s.boxes[from].before = max(s.boxes[from].before, gap)
}

// apartBelow is how much of a page's text area is taken when a part that begins on a page
// of its own turns to it; with less on it the page would be left nearly empty.
const apartBelow = 0.6

// paginate puts the boxes on pages. A group held together by keep moves to the next
// page as one; a soft group does so unless it is taller than a page.
func (s *setter) paginate() ([]page, error) {
	var (
		pages   []page
		current page
		y       = s.sheet.firstTop
	)
	turn := func() {
		pages = append(pages, current)
		current, y = nil, s.sheet.top
	}
	for i := 0; i < len(s.boxes); {
		n := s.group(i)
		sh := sheetFor(s.doc.Size, s.boxes[i].wide)
		limit := sh.height - sh.bottom
		if (s.boxes[i].fresh || s.boxes[i].apart && y > sh.top+apartBelow*sh.depth()) && len(current) > 0 || len(current) > 0 && y+s.height(i, n, false) > limit {
			turn()
		}
		atTop := len(current) == 0
		if atTop {
			for _, h := range s.boxes[i].head {
				h.y, h.wide = y, s.boxes[i].wide
				current = append(current, h)
				y += h.height
			}
		}
		for k, b := range s.boxes[i : i+n] {
			if k > 0 || !atTop {
				y += b.before
			}
			b.y = y
			y += b.height
			if b.mark != nil {
				b.mark.page = len(pages) + 1
			}
			current = append(current, b)
		}
		if y > limit+0.01 {
			return nil, &TallError{Where: s.boxes[i].where, Need: y - s.sheet.top, Have: limit - s.sheet.top}
		}
		i += n
	}
	return append(pages, current), nil
}

// group is how many boxes from i on move together.
func (s *setter) group(i int) int {
	depth := sheetFor(s.doc.Size, s.boxes[i].wide).depth()
	soft := s.reach(i, func(b box) bool { return b.keep || b.soft })
	if s.height(i, soft, true) <= depth {
		return soft
	}
	hard := s.reach(i, func(b box) bool { return b.keep })
	if s.height(i, hard, true) <= depth {
		return hard
	}
	return 1
}

func (s *setter) reach(i int, held func(box) bool) int {
	n := 1
	for i+n < len(s.boxes) && held(s.boxes[i+n-1]) && !s.boxes[i+n].fresh {
		n++
	}
	return n
}

// height is how tall n boxes from i on are; atTop leaves out the first gap and adds
// the repeated head.
func (s *setter) height(i, n int, atTop bool) float64 {
	h := 0.0
	if atTop {
		for _, b := range s.boxes[i].head {
			h += b.height
		}
	}
	for k, b := range s.boxes[i : i+n] {
		h += b.height
		if k > 0 || !atTop {
			h += b.before
		}
	}
	return h
}
