package sheet

import (
	"bytes"
	"errors"
	"fmt"
	"io"
	"strings"
	"time"

	"github.com/xuri/excelize/v2"

	"tunwright/pricing/paper"
)

// WriteXLSX writes the document's tables as a workbook: a first sheet that says what
// the document is, what it assumes and what is open, then a sheet for each table.
// With tables given, those are written instead of the document's own.
//
// Figures are numbers with number formats, text stays text, and a cell with a
// formula is computed live; its own value is what shows until then. The same
// document gives the same bytes.
func WriteXLSX(w io.Writer, doc paper.Doc, tables ...paper.Table) error {
	if err := doc.Check(); err != nil {
		return err
	}
	if len(tables) == 0 {
		tables = Tables(doc)
	}
	b := &book{file: excelize.NewFile(), doc: doc, labels: paper.LabelsFor(doc.Locale), styles: map[styleKey]int{}}
	defer b.file.Close()
	if err := b.write(tables); err != nil {
		return fmt.Errorf("workbook %s: %w", doc.Number, err)
	}
	var raw bytes.Buffer
	if err := b.file.Write(&raw); err != nil {
		return fmt.Errorf("workbook %s: %w", doc.Number, err)
	}
	packed, err := repack(raw.Bytes())
	if err != nil {
		return fmt.Errorf("workbook %s: %w", doc.Number, err)
	}
	_, err = w.Write(packed)
	return err
}

// book is a workbook in the making.
type book struct {
	file   *excelize.File
	doc    paper.Doc
	labels *paper.Labels
	styles map[styleKey]int
}

func (b *book) write(tables []paper.Table) error {
	names := sheetNames(tables, frontName(b.doc))
	if err := b.file.SetSheetName("Sheet1", frontName(b.doc)); err != nil {
		return err
	}
	for i, t := range tables {
		if err := t.Check(); err != nil {
			return err
		}
		if _, err := b.file.NewSheet(names[i]); err != nil {
			return err
		}
	}
	if err := b.properties(); err != nil {
		return err
	}
	if err := b.front(names, tables); err != nil {
		return err
	}
	for i, t := range tables {
		if err := b.table(names[i], t); err != nil {
			return fmt.Errorf("table %q: %w", t.Label(), err)
		}
	}
	return nil
}

// properties give the file its document's own date, so that writing again gives the
// same bytes, and have formulas computed when it is opened.
func (b *book) properties() error {
	date := time.Date(b.doc.Date.Year(), b.doc.Date.Month(), b.doc.Date.Day(), 0, 0, 0, 0, time.UTC).Format(time.RFC3339)
	err := b.file.SetDocProps(&excelize.DocProperties{
		Title: b.doc.Title, Subject: b.doc.Subject, Creator: b.doc.Firm.Name, LastModifiedBy: "Tunwright",
		Created: date, Modified: date, Identifier: b.doc.Number, Revision: b.doc.Revision, Language: b.doc.Locale.String(),
	})
	if err != nil {
		return err
	}
	fresh := true
	return b.file.SetCalcProps(&excelize.CalcPropsOptions{FullCalcOnLoad: &fresh})
}

// stream opens a sheet for writing, set up for printing on one page's width with the
// document's number, revision, date and page in the foot.
func (b *book) stream(sheet string, landscape bool) (*excelize.StreamWriter, error) {
	wide, tall, orientation := 1, 0, "portrait"
	if landscape {
		orientation = "landscape"
	}
	size := 9 // A4 (ECMA-376-1, 18.3.1.63, paperSize)
	if b.doc.Size == paper.USLetter {
		size = 1
	}
	fit := true
	if err := b.file.SetSheetProps(sheet, &excelize.SheetPropsOptions{FitToPage: &fit}); err != nil {
		return nil, err
	}
	if err := b.file.SetPageLayout(sheet, &excelize.PageLayoutOptions{Size: &size, Orientation: &orientation, FitToWidth: &wide, FitToHeight: &tall}); err != nil {
		return nil, err
	}
	identity := b.doc.Number + " · " + b.labels.Revision + " " + b.doc.Revision + " · " + paper.ShortDate(b.doc.Date, b.doc.Locale)
	foot := "&L" + strings.ReplaceAll(identity, "&", "&&") + "&R&P / &N"
	if err := b.file.SetHeaderFooter(sheet, &excelize.HeaderFooterOptions{OddFooter: foot}); err != nil {
		return nil, err
	}
	return b.file.NewStreamWriter(sheet)
}

func frontName(d paper.Doc) string {
	if d.Locale == paper.DeDE {
		return "Dokument"
	}
	return "Document"
}

// frontWidths are the columns of the first sheet, in characters.
var frontWidths = []float64{28, 60, 26, 26}

// front is the sheet that says what the workbook is.
func (b *book) front(names []string, tables []paper.Table) error {
	sw, err := b.stream(frontName(b.doc), false)
	if err != nil {
		return err
	}
	for i, width := range frontWidths {
		if err := sw.SetColWidth(i+1, i+1, width); err != nil {
			return err
		}
	}
	l := b.labels
	out := &rows{book: b, sw: sw}
	out.add(styleKey{title: true}, b.doc.Title)
	out.add(styleKey{}, b.doc.Subtitle)
	out.add(styleKey{})
	out.pair(l.Number, b.doc.Number)
	out.pair(l.Revision, b.doc.Revision)
	out.pair(l.Date, paper.LongDate(b.doc.Date, b.doc.Locale))
	if b.doc.Status != "" {
		out.pair("Status", b.doc.Status)
	}
	out.pair(l.For, strings.Join(append([]string{b.doc.Client.Name}, b.doc.Client.Address...), ", "))
	out.pair(l.PreparedBy, strings.Trim(b.doc.Author+", "+b.doc.Firm.Name, ", "))
	for _, f := range b.doc.Facts {
		out.pair(f.Name, strings.TrimSpace(f.Value.Print(b.doc.Locale, f.Unit != "")+" "+f.Unit))
	}
	out.add(styleKey{})
	out.add(styleKey{bold: true}, l.Tables)
	for i, t := range tables {
		out.add(styleKey{wrap: true}, names[i], t.Title)
	}
	out.add(styleKey{})
	b.closing(out)
	if out.err != nil {
		return out.err
	}
	return sw.Flush()
}

// closing is what the document takes as true and what is open, or where that stands.
func (b *book) closing(out *rows) {
	l := b.labels
	if b.doc.FactsStand != "" {
		out.add(styleKey{bold: true}, l.FactsStand)
		out.across(b.doc.FactsStand, frontWidths)
		return
	}
	out.add(styleKey{bold: true}, l.Assumptions, "", l.Basis, l.Confirm)
	if len(b.doc.Assumptions) == 0 {
		out.add(styleKey{}, l.NoneAssumed)
	}
	for i, a := range b.doc.Assumptions {
		out.add(styleKey{wrap: true}, fmt.Sprint(i+1), a.Text, a.Basis, a.Confirm)
	}
	out.add(styleKey{})
	out.add(styleKey{bold: true}, l.OpenPoints, "", l.Who, l.When)
	if len(b.doc.OpenPoints) == 0 {
		out.add(styleKey{}, l.NoneOpen)
	}
	for i, p := range b.doc.OpenPoints {
		out.add(styleKey{wrap: true}, fmt.Sprint(i+1), p.Text, p.Who, p.When)
	}
}

// rows writes rows of words below each other and keeps the first error.
type rows struct {
	book *book
	sw   *excelize.StreamWriter
	n    int
	err  error
}

func (r *rows) pair(name, value string) { r.add(styleKey{wrap: true}, name, value) }

func (r *rows) add(key styleKey, words ...string) {
	r.n++
	if r.err != nil {
		return
	}
	values, deep := make([]any, len(words)), 1
	for i, w := range words {
		if key.wrap && i < len(frontWidths) {
			deep = max(deep, wrapped(w, frontWidths[i]))
		}
		cell, err := r.book.words(w, key)
		if err != nil {
			r.err = err
			return
		}
		values[i] = cell
	}
	at, err := excelize.CoordinatesToCellName(1, r.n)
	if err == nil {
		err = r.sw.SetRow(at, values, tall(deep)...)
	}
	r.err = err
}

// across writes a text over columns of some widths joined into one cell, so that a long
// line does not make the sheet as wide as itself.
func (r *rows) across(text string, widths []float64) {
	r.n++
	if r.err != nil {
		return
	}
	const least = 60 // characters, for a table narrower than its notes
	sum, n := 0.0, 0
	for n < len(widths) || sum < least {
		if n < len(widths) {
			sum += widths[n]
		} else {
			sum += defaultWidth
		}
		n++
	}
	cell, err := r.book.words(text, styleKey{wrap: true})
	if err != nil {
		r.err = err
		return
	}
	from, err := excelize.CoordinatesToCellName(1, r.n)
	if err == nil {
		err = r.sw.SetRow(from, []any{cell}, tall(wrapped(text, sum))...)
	}
	to, errTo := excelize.CoordinatesToCellName(n, r.n)
	if err = errors.Join(err, errTo); err == nil && n > 1 {
		err = r.sw.MergeCell(from, to)
	}
	r.err = err
}

// defaultWidth is that of a column nobody set, in characters.
const defaultWidth = 9

// words is a cell of text that stays text: its style carries the mark by which a
// spreadsheet keeps it so even after somebody edits it (ECMA-376-1, 18.8.45,
// quotePrefix).
func (b *book) words(s string, key styleKey) (excelize.Cell, error) {
	if n := len([]rune(s)); n > excelize.TotalCellChars {
		return excelize.Cell{}, fmt.Errorf("a text of %d characters: a spreadsheet's cell holds %d", n, excelize.TotalCellChars)
	}
	key.quote = Guard(s) != s
	style, err := b.style(key)
	return excelize.Cell{StyleID: style, Value: s}, err
}
