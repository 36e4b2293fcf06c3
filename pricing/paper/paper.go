// Package paper holds what a document says, as a tree: sections of headings,
// paragraphs, tables with units, findings, workings, cautions and figures. The
// writers below it (pdf, sheet, svg) only draw; every figure on a page comes from
// the tree, and no writer does arithmetic.
//
// Begin with Doc. A table's cell carries words, a number with its decimals or an
// exact amount of money, so that a page prints it by the reader's locale while a
// spreadsheet gets a real number. Check tells whether a tree can be drawn.
//
// Left out: what each paper says. Builders of papers lie in their own packages.
package paper

import (
	"time"

	"tunwright/pricing/paper/drawing"
)

// Doc is one document.
type Doc struct {
	Title    string
	Subtitle string // such as the project's name and place
	Number   string // the document's own number, such as "Q-2026-0042-EL"
	Revision string // such as "B"
	Date     time.Time
	Subject  string // for the file's properties
	Author   string // person who prepared it
	Firm     Firm
	Client   Party
	Status   string // a mark on every page, such as "Superseded"; empty for none
	Facts    []Fact // further lines under the title, such as validity or reference

	Locale   Locale
	Size     PageSize
	Contents bool // print a page of contents
	Numbered bool // number sections and second-level headings

	Sections []Section

	// Data are tables with every column, for spreadsheets alone: the pages show of them
	// what a reader needs.
	Data []Table

	// Every document closes with these two lists; empty ones say so in words. A document
	// that lists in its sections what it rests on says in FactsStand where; that stands
	// in place of the lists.
	Assumptions []Assumption
	OpenPoints  []OpenPoint
	FactsStand  string
}

// Colour is a colour of the firm's letterhead.
type Colour = drawing.Colour

// Firm is the letterhead of the house that issues the document.
type Firm struct {
	Name    string
	Address []string
	Contact []string // telephone, post, web: a line each
	Colour  Colour   // of rules and headings; black when zero
	Logo    []byte   // a PNG picture; empty for the name in type
	Legal   string   // the small line at the foot of every page
}

// Party is somebody a document is addressed to.
type Party struct {
	Name    string
	Address []string
}

// PageSize is the sheet that a document is laid out for.
type PageSize uint8

// The sheets on offer.
const (
	A4 PageSize = iota
	USLetter
)

// Section is a first-level part of a document with an entry in its outline.
type Section struct {
	Title   string
	NewPage bool // begins on a fresh page, unless two fifths of the last one are free
	Wide    bool // on pages turned sideways, for tables of many columns
	Blocks  []Block
}

// Assumption is something taken as true that somebody has to confirm.
type Assumption struct {
	Text    string
	Basis   string // where it came from: told, assumed, read off a drawing
	Confirm string // who confirms it
}

// OpenPoint is a question without an answer yet.
type OpenPoint struct {
	Text string
	Who  string // who can answer
	When string // by when, in words
}
