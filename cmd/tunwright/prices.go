package main

import (
	"errors"
	"fmt"
	"path/filepath"
	"strings"
	"text/tabwriter"

	"tunwright/pricing"
	"tunwright/pricing/money"
)

type pricesCmd struct {
	Export  pricesExportCmd  `cmd:"" help:"Write a price book as CSV or XLSX."`
	Preview pricesPreviewCmd `cmd:"" help:"Read a changed price book and say what would change, before anything does."`
}

func (pricesCmd) Help() string {
	return `Examples:
  tunwright prices export prices.xlsx
  tunwright prices preview prices.xlsx --id 2027 --from 2027-01-01`
}

type pricesExportCmd struct {
	pricesFlags
	To string `arg:"" help:"File to write, ending in .csv or .xlsx."`
}

// Run writes the book.
func (c pricesExportCmd) Run(con *console) error {
	book, err := c.book()
	if err != nil {
		return err
	}
	var text []byte
	switch strings.ToLower(filepath.Ext(c.To)) {
	case ".csv":
		text, err = book.CSV()
	case ".xlsx":
		text, err = book.XLSX()
	default:
		return fmt.Errorf("%s ends in neither .csv nor .xlsx", c.To)
	}
	if err != nil {
		return err
	}
	out, err := newFolder(filepath.Dir(c.To))
	if err != nil {
		return err
	}
	defer out.drop()
	if err := out.write(filepath.Base(c.To), text); err != nil {
		return err
	}
	return out.finish()
}

type pricesPreviewCmd struct {
	pricesFlags
	File string `arg:"" help:"Changed prices as .csv or .xlsx."`
	ID   string `name:"id" required:"" help:"Name of the new version."`
	From string `required:"" help:"First day it may be quoted from, as 2027-01-01."`
	To   string `help:"First day it no longer may."`
}

// Run names every bad row, or else what changes.
func (c pricesPreviewCmd) Run(con *console) error {
	old, err := c.book()
	if err != nil {
		return err
	}
	im, err := c.read(old.Currency)
	if err != nil {
		return err
	}
	book, err := im.Book()
	if err != nil {
		return err
	}
	changes := pricing.Preview(old, book)
	w := tabwriter.NewWriter(con.out, 0, 4, 2, ' ', 0)
	for _, ch := range changes {
		look := ""
		if ch.Confirm {
			look = "look again: moved by more than a fifth"
		}
		fmt.Fprintf(w, "%s\t%s\t%s\t%s\t%s\n", ch.Code, ch.Field, ch.Was, ch.Now, look)
	}
	if err := w.Flush(); err != nil {
		return err
	}
	fmt.Fprintln(con.out, pricing.Summary(changes))
	return nil
}

func (c pricesPreviewCmd) read(currency money.Currency) (pricing.Import, error) {
	h := pricing.Header{ID: c.ID, Currency: currency}
	var errFrom, errTo error
	h.From, errFrom = pricing.ParseDate(c.From)
	if c.To != "" {
		h.To, errTo = pricing.ParseDate(c.To)
	}
	if err := errors.Join(errFrom, errTo); err != nil {
		return pricing.Import{}, err
	}
	text, err := readText(c.File)
	if err != nil {
		return pricing.Import{}, err
	}
	if strings.EqualFold(filepath.Ext(c.File), ".xlsx") {
		return pricing.ImportXLSX(c.File, text, h), nil
	}
	return pricing.ImportCSV(c.File, text, h), nil
}
