package docx

import (
	"fmt"

	"tunwright/pricing/paper"
)

// look is a paragraph style: sizes in half points, spaces in twentieths of a point.
type look struct {
	id, name      string
	size          int
	bold          bool
	before, after int
	colour        string // six hexadecimal digits; empty for black
	outline       int    // level of the outline from 1; 0 for none
	keep          bool   // with the next paragraph
	rules         string // sides with a rule: "box", "left", "top"
}

// looks are the styles in the order of the file.
var looks = []look{
	{id: "Firm", name: "Firm", size: 24, bold: true, after: 360},
	{id: "Title", name: "Title", size: 40, bold: true, after: 60},
	{id: "Subtitle", name: "Subtitle", size: 24, after: 240, colour: "5A6066"},
	{id: "Heading1", name: "heading 1", size: 28, bold: true, before: 360, after: 120, outline: 1, keep: true},
	{id: "Heading2", name: "heading 2", size: 23, bold: true, before: 240, after: 80, outline: 2, keep: true},
	{id: "Heading3", name: "heading 3", size: 20, bold: true, before: 180, after: 60, outline: 3, keep: true},
	{id: "Lead", name: "Lead", size: 24, after: 120},
	{id: "Small", name: "Small", size: 16, after: 40, colour: "5A6066"},
	{id: "Note", name: "Note", size: 19, before: 60, after: 120, rules: "left"},
	{id: "Caution", name: "Caution", size: 19, after: 0, rules: "box"},
	{id: "Finding", name: "Finding", size: 20, before: 160, after: 20, keep: true},
	{id: "Signature", name: "Signature", size: 18, before: 900, after: 0, rules: "top"},
	{id: "ListParagraph", name: "List Paragraph", size: 20, after: 40},
	{id: "TableHead", name: "Table Head", size: 17, bold: true, before: 20, after: 20},
	{id: "TableCell", name: "Table Cell", size: 17, before: 20, after: 20},
	{id: "Gap", name: "Gap", size: 8, after: 60},
}

func styles(doc paper.Doc) node {
	root := el("w:styles").set("xmlns:w", mainSpace)
	root.add(el("w:docDefaults").with(
		el("w:rPrDefault").with(el("w:rPr").with(fonts(), num("w:sz", 20), num("w:szCs", 20), val("w:lang", language(doc.Locale)))),
		el("w:pPrDefault").with(el("w:pPr").with(spacing(0, 100))),
	))
	root.add(el("w:style").set("w:type", "paragraph").set("w:default", "1").set("w:styleId", "Normal").with(val("w:name", "Normal"), el("w:qFormat")))
	for _, l := range looks {
		root.add(l.style(doc.Firm.Colour))
	}
	return root
}

func (l look) style(accent paper.Colour) node {
	p := el("w:pPr")
	if l.keep {
		p.add(el("w:keepNext"))
	}
	if l.rules != "" {
		p.add(borders(l.rules))
	}
	p.add(spacing(l.before, l.after))
	if l.outline > 0 {
		p.add(num("w:outlineLvl", l.outline-1))
	}
	r := el("w:rPr")
	if l.bold {
		r.add(el("w:b"))
	}
	switch {
	case l.colour != "":
		r.add(val("w:color", l.colour))
	case l.outline == 1 || l.id == "Firm":
		r.add(val("w:color", fmt.Sprintf("%02X%02X%02X", accent.R, accent.G, accent.B)))
	}
	r.add(num("w:sz", l.size), num("w:szCs", l.size))
	return el("w:style").set("w:type", "paragraph").set("w:styleId", l.id).with(
		val("w:name", l.name), val("w:basedOn", "Normal"), el("w:qFormat"), p, r)
}

func fonts() node {
	f := el("w:rFonts")
	for _, slot := range []string{"ascii", "hAnsi", "cs", "eastAsia"} {
		f = f.set("w:"+slot, "Arial")
	}
	return f
}

func spacing(before, after int) node {
	return el("w:spacing").set("w:before", fmt.Sprint(before)).set("w:after", fmt.Sprint(after))
}

// borders are rules around a paragraph. Those of a caution are heavy at the left, so
// that nobody misses it on a black-and-white print.
func borders(rules string) node {
	side := func(name string, size int) node {
		return el("w:"+name).set("w:val", "single").set("w:sz", fmt.Sprint(size)).set("w:space", "6").set("w:color", "262B30")
	}
	b := el("w:pBdr")
	switch rules {
	case "box":
		b.add(side("top", 6), side("left", 36), side("bottom", 6), side("right", 6))
	case "left":
		b.add(side("left", 12))
	case "top":
		b.add(side("top", 6))
	}
	return b
}

// language is the locale as the format names it.
func language(l paper.Locale) string {
	switch l {
	case paper.DeDE:
		return "de-DE"
	case paper.EnUS:
		return "en-US"
	case paper.EnIE:
		return "en-IE"
	}
	return "en-GB"
}

// numbering defines each list on its own, so that every numbered list begins at one.
func numbering(lists []bool) node {
	root := el("w:numbering").set("xmlns:w", mainSpace)
	level := func(format, text string) node {
		return el("w:lvl").set("w:ilvl", "0").with(
			num("w:start", 1), val("w:numFmt", format), val("w:lvlText", text), val("w:lvlJc", "left"),
			el("w:pPr").with(el("w:ind").set("w:left", "397").set("w:hanging", "284")))
	}
	for i, numbered := range lists {
		l := level("bullet", "•")
		if numbered {
			l = level("decimal", "%1.")
		}
		root.add(el("w:abstractNum").set("w:abstractNumId", fmt.Sprint(i)).with(val("w:multiLevelType", "singleLevel"), l))
	}
	for i := range lists {
		root.add(el("w:num").set("w:numId", fmt.Sprint(i+1)).with(num("w:abstractNumId", i)))
	}
	return root
}
