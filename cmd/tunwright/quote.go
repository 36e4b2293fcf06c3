package main

import (
	"bytes"
	"fmt"
	"path/filepath"

	"tunwright/configurator"
	"tunwright/pricing/offer"
	"tunwright/pricing/pack"
	"tunwright/pricing/pack/workbook"
	"tunwright/pricing/paper"
	"tunwright/pricing/paper/docx"
	"tunwright/pricing/paper/ifc"
	"tunwright/pricing/paper/pdf"
	"tunwright/pricing/paper/sheet"
	"tunwright/pricing/ubl"
)

type quoteCmd struct {
	houseFlags
	File   string `arg:"" optional:"" help:"Enquiry file; left out, the built-in demo."`
	Out    string `short:"o" help:"Folder for the papers; left out, pack/NAME." placeholder:"DIR"`
	Date   string `help:"Day of the quotation as 2026-11-25, or today; left out, the date in the file." placeholder:"DATE"`
	Number string `help:"Number on the papers." default:"draft"`
	Each   bool   `help:"Also write a PDF and a workbook for each trade."`
}

func (quoteCmd) Help() string {
	return `Examples:
  tunwright quote                              the built-in demo, into pack/weaving-mill
  tunwright quote farm.yaml --out farm         the papers of farm.yaml
  tunwright quote farm.yaml --date today --each

Exit code 1 tells that papers were written although a stopping finding stands.`
}

// Run checks, prices and writes the papers.
func (c quoteCmd) Run(con *console) error {
	house, logo, err := c.open()
	if err != nil {
		return err
	}
	job, err := readJob(c.File)
	if err != nil {
		return err
	}
	if job, err = dated(job, c.Date, con.today()); err != nil {
		return err
	}
	fmt.Fprintf(con.err, "Checking and pricing %s …\n", job.Title)
	if job.Project, err = configurator.Arrange(job.Project, house.Catalogue); err != nil {
		return err
	}
	o, err := offer.Make(job, house)
	if err != nil {
		return err
	}
	dir := c.folder()
	files, err := writePapers(dir, o, house.Firm, pack.Issue{Number: c.Number, Revision: "A", Logo: logo, Program: version}, c.Each)
	if err != nil {
		return err
	}
	for _, f := range files {
		fmt.Fprintln(con.out, filepath.Join(dir, f))
	}
	c.closing(con, o)
	if o.Report.Stopped() {
		return errStopped
	}
	return nil
}

func (c quoteCmd) folder() string {
	if c.Out != "" {
		return c.Out
	}
	if c.File == "" {
		return filepath.Join("pack", "weaving-mill")
	}
	name := filepath.Base(c.File)
	return filepath.Join("pack", name[:len(name)-len(filepath.Ext(name))])
}

// closing says what came out and what to try next.
func (c quoteCmd) closing(con *console, o offer.Offer) {
	n := o.Report.Count()
	fmt.Fprintf(con.out, "\n%s without tax, valid until %s. %d stop, %d warn, %d unknown, %d in order.\n",
		o.Quotation.Totals.Net.Format(paper.EnGB), o.Quotation.ValidUntil.Long(paper.EnGB), n.Stops, n.Warnings, n.Unknown, n.Passed)
	for _, f := range o.Flags {
		fmt.Fprintf(con.out, "Decide before issue: %s\n", f.Title)
	}
	if c.File == "" {
		fmt.Fprint(con.out, `
Next:
  go run ./cmd/tunwright check                              what was checked, on the terminal
  go run ./cmd/tunwright sample hill-farm > farm.yaml       another enquiry, to edit
  go run ./cmd/tunwright quote farm.yaml --each             its papers, one for each trade too
  go run ./cmd/tunwright serve                              the same in a web page
`)
	}
}

// writePapers writes the pack, the trades' sheets where asked, and the tables that
// trades take into their own programs.
func writePapers(dir string, o offer.Offer, firm offer.Firm, issue pack.Issue, each bool) ([]string, error) {
	printer, err := pdf.New()
	if err != nil {
		return nil, err
	}
	out, err := newFolder(dir)
	if err != nil {
		return nil, err
	}
	defer out.drop()
	if err := writePDF(out, printer, "pack.pdf", pack.Pack(o, firm, issue)); err != nil {
		return nil, err
	}
	for _, p := range pack.Papers() {
		doc := p.Doc(o, firm, issue)
		if each {
			if err := writeEach(out, printer, p.Key, doc); err != nil {
				return nil, err
			}
		}
		if err := writeTables(out, p.Key, doc); err != nil {
			return nil, err
		}
	}
	if err := writeExchange(out, o, firm, issue); err != nil {
		return nil, err
	}
	names := append([]string{}, out.names...)
	return names, out.finish()
}

// writeExchange writes what other programs read: the quotation as UBL and, where the
// room's height is known, the model of the room.
func writeExchange(out *folder, o offer.Offer, firm offer.Firm, issue pack.Issue) error {
	var book bytes.Buffer
	if err := workbook.Write(&book, pack.Papers()[0].Doc(o, firm, issue), o.Quotation); err != nil {
		return err
	}
	if err := out.write("quotation.xlsx", book.Bytes()); err != nil {
		return err
	}
	var b bytes.Buffer
	if err := ubl.Write(&b, o.Quotation, pack.UBL(o, firm, issue)); err != nil {
		return err
	}
	if err := out.write("quotation.xml", b.Bytes()); err != nil {
		return err
	}
	if !o.Report.Project.Site.Room.Height.Known() {
		return nil
	}
	m, err := pack.Model(o, firm, issue)
	if err != nil {
		return err
	}
	var model bytes.Buffer
	if err := ifc.Write(&model, m); err != nil {
		return err
	}
	return out.write("room.ifc", model.Bytes())
}

// writeEach writes one trade's paper as PDF and its tables as a workbook.
func writeEach(out *folder, printer *pdf.Printer, key string, doc paper.Doc) error {
	if err := writePDF(out, printer, key+".pdf", doc); err != nil {
		return err
	}
	if len(sheet.Tables(doc)) == 0 || key == "quotation" {
		return nil
	}
	var b bytes.Buffer
	if err := sheet.WriteXLSX(&b, doc); err != nil {
		return fmt.Errorf("%s.xlsx: %w", key, err)
	}
	if err := out.write(key+".xlsx", b.Bytes()); err != nil {
		return err
	}
	if key != "food-safety" {
		return nil
	}
	// The food business owns its plan and goes on writing it.
	var word bytes.Buffer
	if err := docx.Write(&word, doc); err != nil {
		return fmt.Errorf("%s.docx: %w", key, err)
	}
	return out.write(key+".docx", word.Bytes())
}

func writePDF(out *folder, printer *pdf.Printer, name string, doc paper.Doc) error {
	var b bytes.Buffer
	if err := printer.Write(&b, doc); err != nil {
		return fmt.Errorf("%s: %w", name, err)
	}
	return out.write(name, b.Bytes())
}

// csvPapers are the papers whose tables are written as CSV by themselves.
var csvPapers = map[string]bool{"electrical": true, "structure": true}

func writeTables(out *folder, key string, doc paper.Doc) error {
	if !csvPapers[key] {
		return nil
	}
	for _, t := range sheet.Tables(doc) {
		var b bytes.Buffer
		if err := sheet.WriteCSV(&b, t); err != nil {
			return fmt.Errorf("%s.csv: %w", t.Label(), err)
		}
		if err := out.write(t.Label()+".csv", b.Bytes()); err != nil {
			return err
		}
	}
	return nil
}
