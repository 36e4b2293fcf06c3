package docx

import (
	"strings"

	"tunwright/pricing/paper"
)

// body writes what the paper says.
type body struct {
	doc    paper.Doc
	labels *paper.Labels
	lists  []bool // each list so far: whether it is numbered
	out    []node
}

func (b *body) put(nodes ...node) { b.out = append(b.out, nodes...) }

// document is the main part: title, sections, and the two lists that close every
// paper. Where the page turns, a section of the format ends.
func (b *body) document() node {
	b.front()
	wide := false
	for _, s := range b.doc.Sections {
		if s.Wide != wide {
			b.put(el("w:p").with(el("w:pPr").with(b.page(wide))))
			wide, s.NewPage = s.Wide, false
		}
		b.put(b.styled("Heading1", s.Title, s.NewPage))
		b.blocks(s.Blocks)
	}
	if wide {
		b.put(el("w:p").with(el("w:pPr").with(b.page(wide))))
	}
	for _, s := range b.doc.Closing() {
		b.put(b.styled("Heading1", s.Title, false))
		b.blocks(s.Blocks)
	}
	return el("w:document").set("xmlns:w", mainSpace).set("xmlns:r", docRels).with(el("w:body").with(b.out...).with(b.page(false)))
}

// front is what stands before the first section.
func (b *body) front() {
	d := b.doc
	b.put(b.styled("Firm", d.Firm.Name, false), b.styled("Title", d.Title, false))
	if d.Subtitle != "" {
		b.put(b.styled("Subtitle", d.Subtitle, false))
	}
	facts := []paper.Fact{{Name: b.labels.Number, Value: paper.W(d.Number)}, {Name: b.labels.Revision, Value: paper.W(d.Revision)}, {Name: b.labels.Date, Value: paper.W(paper.LongDate(d.Date, d.Locale))}}
	if d.Client.Name != "" {
		facts = append(facts, paper.Fact{Name: b.labels.For, Value: paper.W(strings.Join(append([]string{d.Client.Name}, d.Client.Address...), ", "))})
	}
	if d.Author != "" {
		facts = append(facts, paper.Fact{Name: b.labels.PreparedBy, Value: paper.W(d.Author)})
	}
	b.facts(paper.Facts{Facts: append(facts, d.Facts...)})
	if d.Status != "" {
		b.put(b.styled("Caution", d.Status, false))
	}
}

func (b *body) blocks(list []paper.Block) {
	for _, block := range list {
		b.block(block)
	}
}

func (b *body) block(block paper.Block) {
	switch x := block.(type) {
	case paper.Heading:
		style := "Heading2"
		if x.Level == 3 {
			style = "Heading3"
		}
		b.put(b.styled(style, x.Text, false))
	case paper.Paragraph:
		b.put(para(map[paper.Voice]string{paper.Lead: "Lead", paper.Small: "Small"}[x.Voice], x.Text))
	case paper.List:
		b.list(x)
	case paper.Facts:
		b.facts(x)
	case paper.Table:
		b.table(x)
	case paper.Note:
		b.put(para("Note", labelled(b.labels.Note, x.Text)))
	case paper.Caution:
		title := b.labels.Caution
		if x.Title != "" {
			title += ": " + x.Title
		}
		b.put(para("Caution", paper.Text{{Text: title, Bold: true}}))
		for _, l := range x.Lines {
			b.put(para("Caution", l))
		}
	case paper.Findings:
		b.findings(x)
	case paper.Working:
		b.working(x)
	case paper.Sources:
		for _, s := range x.Items {
			b.put(para("Small", labelled(b.labels.Source, paper.Plain(s))))
		}
	case paper.Figure:
		b.figure(x)
	case paper.Signatures:
		b.signatures(x)
	case paper.PageBreak:
		b.put(el("w:p").with(el("w:r").with(el("w:br").set("w:type", "page"))))
	case paper.Together:
		b.blocks(x.Blocks)
	}
}

// labelled is text with a word in bold before it.
func labelled(label string, t paper.Text) paper.Text {
	return append(paper.Text{{Text: label + ": ", Bold: true}}, t...)
}

func (b *body) list(l paper.List) {
	b.lists = append(b.lists, l.Numbered)
	for _, item := range l.Items {
		p := el("w:p").with(el("w:pPr").with(val("w:pStyle", "ListParagraph"), el("w:numPr").with(num("w:ilvl", 0), num("w:numId", len(b.lists)))))
		b.put(p.with(runs(item)...))
	}
}

// figure names a drawing by its words.
func (b *body) figure(f paper.Figure) {
	if f.Drawing.Title != "" {
		b.put(para("Note", labelled(f.Drawing.Title, paper.Plain(f.Drawing.Description))))
	}
	if f.Caption != "" {
		b.put(b.styled("Small", f.Caption, false))
	}
}

func (b *body) findings(f paper.Findings) {
	if len(f.Items) == 0 {
		b.put(b.styled("", b.labels.NoFindings, false))
	}
	for _, x := range f.Items {
		head := b.labels.Gravity(x.Gravity) + ": " + x.Title
		if x.ID != "" {
			head += " (" + x.ID + ")"
		}
		b.put(para("Finding", paper.Text{{Text: head, Bold: true}}))
		for _, line := range [][2]string{{"", x.Subject}, {b.labels.Need, x.Need}, {b.labels.Have, x.Have}, {"", x.Words}} {
			b.line(line[0], line[1])
		}
		for _, r := range x.Remedies {
			b.line(b.labels.Remedies, r)
		}
		b.line(b.labels.Accepted, x.Accepted)
		b.line(b.labels.Source, x.Source)
	}
}

// line is a paragraph of words, with a label before them if there is one.
func (b *body) line(label, words string) {
	switch {
	case words == "":
	case label == "":
		b.put(b.styled("", words, false))
	default:
		b.put(para("", labelled(label, paper.Plain(words))))
	}
}

func (b *body) working(w paper.Working) {
	if w.Title != "" {
		b.put(b.styled("Heading3", w.Title, false))
	}
	for _, s := range w.Steps {
		b.put(para("Finding", paper.Text{{Text: s.Title, Bold: true}}))
		if formula := equation(s.Symbol, s.Formula); formula != "" {
			b.put(para("", paper.Symbols(formula)))
		}
		if len(s.Values) > 0 {
			b.put(para("", paper.Symbols(b.labels.With+" "+strings.Join(s.Values, ", "))))
		}
		if result := equation(s.Symbol, s.Result); result != "" {
			b.put(para("", paper.Symbols(result)))
		}
		b.line("", s.Note)
		b.line(b.labels.Source, s.Source)
	}
}

func equation(symbol, right string) string {
	if symbol == "" || right == "" {
		return right
	}
	return symbol + " = " + right
}

func (b *body) signatures(s paper.Signatures) {
	for _, who := range s.Items {
		b.put(b.styled("Signature", who, false), b.styled("Small", b.labels.Signed, false))
	}
}
