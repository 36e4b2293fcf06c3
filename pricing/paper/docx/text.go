package docx

import (
	"strconv"
	"strings"

	"tunwright/pricing/paper"
)

// styled is a paragraph of plain words in a style.
func (b *body) styled(style, words string, newPage bool) node {
	if !newPage {
		return para(style, paper.Plain(words))
	}
	return el("w:p").with(el("w:pPr").with(val("w:pStyle", style), el("w:pageBreakBefore"))).with(runs(paper.Plain(words))...)
}

// para is a paragraph in a style; the empty style is that of running text.
func para(style string, t paper.Text) node {
	p := el("w:p")
	if style != "" {
		p.add(el("w:pPr").with(val("w:pStyle", style)))
	}
	return p.with(runs(t)...)
}

// runs are the spans of a text, each in one style.
func runs(t paper.Text) []node {
	var out []node
	for _, s := range t {
		if s.Text == "" {
			continue
		}
		r := el("w:r")
		if s.Bold || s.Italic || s.Sub {
			look := el("w:rPr")
			if s.Bold {
				look.add(el("w:b"))
			}
			if s.Italic {
				look.add(el("w:i"))
			}
			if s.Sub {
				look.add(val("w:vertAlign", "subscript"))
			}
			r.add(look)
		}
		for i, line := range strings.Split(s.Text, "\n") {
			if i > 0 {
				r.add(el("w:br"))
			}
			if line != "" {
				r.add(el("w:t").set("xml:space", "preserve").text(line))
			}
		}
		out = append(out, r)
	}
	return out
}

// Pages in twentieths of a point.
const (
	margins   = 1134 // 20 mm
	a4Short   = 11906
	a4Long    = 16838
	usShort   = 12240
	usLong    = 15840
	textWidth = a4Short - 2*margins
)

// page ends a section of the format: the sheet, upright or turned.
func (b *body) page(wide bool) node {
	w, h := a4Short, a4Long
	if b.doc.Size == paper.USLetter {
		w, h = usShort, usLong
	}
	size := el("w:pgSz")
	if wide {
		size = size.set("w:w", strconv.Itoa(h)).set("w:h", strconv.Itoa(w)).set("w:orient", "landscape")
	} else {
		size = size.set("w:w", strconv.Itoa(w)).set("w:h", strconv.Itoa(h))
	}
	edge := el("w:pgMar")
	for _, side := range []string{"top", "right", "bottom", "left"} {
		edge = edge.set("w:"+side, strconv.Itoa(margins))
	}
	edge = edge.set("w:header", "567").set("w:footer", "567").set("w:gutter", "0")
	return el("w:sectPr").with(
		el("w:headerReference").set("w:type", "default").set("r:id", headerID),
		el("w:footerReference").set("w:type", "default").set("r:id", footerID),
		size, edge)
}

// header is the title on every page, with the mark of a paper that no longer holds.
func (b *body) header() node {
	words := b.doc.Title
	if b.doc.Status != "" {
		words += " · " + b.doc.Status
	}
	return el("w:hdr").set("xmlns:w", mainSpace).set("xmlns:r", docRels).with(para("Small", paper.Plain(words)))
}

// footer is number, revision, date and the page on every page.
func (b *body) footer() node {
	d := b.doc
	words := strings.Join([]string{d.Number, b.labels.Revision + " " + d.Revision, paper.ShortDate(d.Date, d.Locale)}, " · ") + " · "
	p := para("Small", paper.Plain(words))
	p.add(field("PAGE"), el("w:r").with(el("w:t").set("xml:space", "preserve").text(" / ")), field("NUMPAGES"))
	return el("w:ftr").set("xmlns:w", mainSpace).set("xmlns:r", docRels).with(p)
}

func field(name string) node {
	return el("w:fldSimple").set("w:instr", " "+name+" ").with(el("w:r").with(el("w:t").text("1")))
}
