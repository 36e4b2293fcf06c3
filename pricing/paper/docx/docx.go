// Package docx writes a paper as a word-processor document that its reader may edit:
// headings by outline level, tables with repeating heads, lists, boxes of caution, the
// number and the revision on every page. The same paper gives the same bytes.
//
// Begin with Write. Figures are named by title, description and caption alone: a
// drawing is printed from the PDF, where it is exact. Formulas of cells are left out,
// since a spreadsheet is their place.
//
// Source: ECMA-376, Office Open XML, WordprocessingML and open packaging conventions.
package docx

import (
	"archive/zip"
	"bytes"
	"fmt"
	"io"
	"time"

	"tunwright/pricing/paper"
)

// Write writes the paper. Nothing is written unless the whole of it can be.
func Write(w io.Writer, doc paper.Doc) error {
	if err := doc.Check(); err != nil {
		return fmt.Errorf("document %s: %w", doc.Number, err)
	}
	var b bytes.Buffer
	z := zip.NewWriter(&b)
	for _, p := range parts(doc) {
		text, err := p.root.document()
		if err != nil {
			return fmt.Errorf("document %s, part %s: %w", doc.Number, p.name, err)
		}
		// A fixed time keeps the bytes alike; the date of the paper stands in it.
		f, err := z.CreateHeader(&zip.FileHeader{Name: p.name, Method: zip.Deflate, Modified: time.Date(1980, 1, 1, 0, 0, 0, 0, time.UTC)})
		if err != nil {
			return fmt.Errorf("document %s: %w", doc.Number, err)
		}
		if _, err := f.Write(text); err != nil {
			return fmt.Errorf("document %s: %w", doc.Number, err)
		}
	}
	if err := z.Close(); err != nil {
		return fmt.Errorf("document %s: %w", doc.Number, err)
	}
	_, err := w.Write(b.Bytes())
	return err
}

// part is one file of the package.
type part struct {
	name string
	root node
}

// The namespaces of the parts.
const (
	mainSpace  = "http://schemas.openxmlformats.org/wordprocessingml/2006/main"
	docRels    = "http://schemas.openxmlformats.org/officeDocument/2006/relationships"
	typesSpace = "http://schemas.openxmlformats.org/package/2006/content-types"
	relsSpace  = "http://schemas.openxmlformats.org/package/2006/relationships"
	coreProps  = "http://schemas.openxmlformats.org/package/2006/metadata/core-properties"
	wordType   = "application/vnd.openxmlformats-officedocument.wordprocessingml."
)

// parts lists the files in the order in which a reader needs them.
func parts(doc paper.Doc) []part {
	b := &body{doc: doc, labels: paper.LabelsFor(doc.Locale)}
	document := b.document() // counts the lists, which the numbering then defines
	return []part{
		{"[Content_Types].xml", contentTypes()},
		{"_rels/.rels", relations([]relation{
			{docRels + "/officeDocument", "word/document.xml"},
			{"http://schemas.openxmlformats.org/package/2006/relationships/metadata/core-properties", "docProps/core.xml"},
		})},
		{"docProps/core.xml", core(doc)},
		{"word/document.xml", document},
		{"word/_rels/document.xml.rels", relations([]relation{
			{docRels + "/styles", "styles.xml"}, {docRels + "/numbering", "numbering.xml"}, {docRels + "/header", "header1.xml"}, {docRels + "/footer", "footer1.xml"},
		})},
		{"word/styles.xml", styles(doc)},
		{"word/numbering.xml", numbering(b.lists)},
		{"word/header1.xml", b.header()},
		{"word/footer1.xml", b.footer()},
	}
}

func contentTypes() node {
	root := el("Types").set("xmlns", typesSpace)
	root.add(
		el("Default").set("Extension", "rels").set("ContentType", "application/vnd.openxmlformats-package.relationships+xml"),
		el("Default").set("Extension", "xml").set("ContentType", "application/xml"),
	)
	for _, o := range [][2]string{
		{"/word/document.xml", wordType + "document.main+xml"},
		{"/word/styles.xml", wordType + "styles+xml"},
		{"/word/numbering.xml", wordType + "numbering+xml"},
		{"/word/header1.xml", wordType + "header+xml"},
		{"/word/footer1.xml", wordType + "footer+xml"},
		{"/docProps/core.xml", "application/vnd.openxmlformats-package.core-properties+xml"},
	} {
		root.add(el("Override").set("PartName", o[0]).set("ContentType", o[1]))
	}
	return root
}

// relation is one link from a part to another.
type relation struct{ kind, target string }

func relations(list []relation) node {
	root := el("Relationships").set("xmlns", relsSpace)
	for i, r := range list {
		root.add(el("Relationship").set("Id", relID(i)).set("Type", r.kind).set("Target", r.target))
	}
	return root
}

func relID(i int) string { return fmt.Sprintf("rId%d", i+1) }

// The places of header and footer among the document's relations.
var (
	headerID = relID(2)
	footerID = relID(3)
)

// core is the file's properties, dated by the paper itself.
func core(doc paper.Doc) node {
	date := doc.Date.UTC().Format("2006-01-02T15:04:05Z")
	root := el("cp:coreProperties").set("xmlns:cp", coreProps).set("xmlns:dc", "http://purl.org/dc/elements/1.1/").
		set("xmlns:dcterms", "http://purl.org/dc/terms/").set("xmlns:xsi", "http://www.w3.org/2001/XMLSchema-instance")
	stamp := func(name string) node { return el(name).set("xsi:type", "dcterms:W3CDTF").text(date) }
	root.add(
		el("dc:title").text(doc.Title), el("dc:subject").text(doc.Subject), el("dc:creator").text(doc.Author),
		el("cp:keywords").text(doc.Number), stamp("dcterms:created"), stamp("dcterms:modified"),
	)
	return root
}
