package pricing

import (
	"bytes"
	"encoding/csv"
	"fmt"
	"strconv"
	"strings"

	"tunwright/pricing/money"

	"github.com/xuri/excelize/v2"
)

// guarded marks a text that a spreadsheet would take for a formula with an
// apostrophe in front. Numbers are not guarded: −5 stays a number.
//
// Source: OWASP ASVS 5.0, 1.2.10; CWE-1236.
func guarded(text string) string {
	if text != "" && strings.ContainsRune(guardedStarts, rune(text[0])) {
		return "'" + text
	}
	return text
}

const guardedStarts = "=+-@\t\r\x00'"

// unguard takes the apostrophe off again.
func unguard(text string) string {
	if len(text) > 1 && text[0] == '\'' && strings.ContainsRune(guardedStarts, rune(text[1])) {
		return text[1:]
	}
	return text
}

// rows are the prices as a spreadsheet; numeric tells which columns hold numbers.
func (b *Book) rows() (rows [][]string, numeric map[string]bool) {
	rows = append(rows, sheetColumns)
	for _, p := range b.prices {
		rows = append(rows, p.row())
	}
	return rows, map[string]bool{"list": true, "cost": true, "per": true, "lead_weeks": true}
}

func (p Price) row() []string {
	fixed := func(a money.Amount) string {
		if a.Currency() == "" {
			return ""
		}
		return a.Fixed()
	}
	breaks := make([]string, len(p.Breaks))
	for i, b := range p.Breaks {
		breaks[i] = b.Quantity.String() + "=" + fixed(b.List)
		if b.Cost.Currency() != "" {
			breaks[i] += "/" + fixed(b.Cost)
		}
	}
	obsolete := ""
	if p.Obsolete {
		obsolete = "yes"
	}
	lead := ""
	if p.LeadWeeks > 0 {
		lead = strconv.Itoa(p.LeadWeeks)
	}
	return []string{
		guarded(p.Code), fixed(p.List), fixed(p.Cost), p.Unit, p.Per.String(), p.From.String(), p.To.String(), lead,
		guarded(strings.Join(breaks, "; ")), obsolete, guarded(p.ReplacedBy), guarded(p.Note),
	}
}

// CSV writes the book as RFC 4180 CSV that ImportCSV reads back.
func (b *Book) CSV() ([]byte, error) {
	var out bytes.Buffer
	w := csv.NewWriter(&out)
	w.UseCRLF = true
	rows, _ := b.rows()
	if err := w.WriteAll(rows); err != nil {
		return nil, fmt.Errorf("price book %s as CSV: %w", b.ID, err)
	}
	return out.Bytes(), nil
}

// XLSX writes the book as a workbook that ImportXLSX reads back. The same book
// gives the same bytes. Costs are in it: it is for the house.
func (b *Book) XLSX() ([]byte, error) {
	f := excelize.NewFile()
	defer f.Close()
	const sheet = "prices"
	if err := f.SetSheetName("Sheet1", sheet); err != nil {
		return nil, fmt.Errorf("price book %s as workbook: %w", b.ID, err)
	}
	stamp := b.From.String() + "T00:00:00Z" // the book's own date, so that bytes repeat
	props := &excelize.DocProperties{Title: "Price book " + b.ID, Creator: "Tunwright", LastModifiedBy: "Tunwright", Created: stamp, Modified: stamp}
	if err := f.SetDocProps(props); err != nil {
		return nil, fmt.Errorf("price book %s as workbook: %w", b.ID, err)
	}
	rows, numeric := b.rows()
	for y, row := range rows {
		for x, text := range row {
			cell, err := excelize.CoordinatesToCellName(x+1, y+1)
			if err != nil {
				return nil, err
			}
			// SetCellDefault stores the digits as they are; a float would change them.
			set := f.SetCellStr
			if y > 0 && numeric[sheetColumns[x]] {
				set = f.SetCellDefault
			}
			if err := set(sheet, cell, text); err != nil {
				return nil, fmt.Errorf("price book %s, cell %s: %w", b.ID, cell, err)
			}
		}
	}
	var out bytes.Buffer
	if _, err := f.WriteTo(&out); err != nil {
		return nil, fmt.Errorf("price book %s as workbook: %w", b.ID, err)
	}
	return out.Bytes(), nil
}
