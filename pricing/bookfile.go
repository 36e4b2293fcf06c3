package pricing

import (
	"bytes"
	"errors"
	"fmt"
	"io"
	"strconv"

	"tunwright/pricing/money"

	"github.com/shopspring/decimal"
	"go.yaml.in/yaml/v4"
)

// maxBookBytes is the largest price book read; one of 5000 products is about 1 MB.
const maxBookBytes = 8 << 20

// ReadBook reads a price book from YAML:
//
//	book: 2026-spring
//	currency: GBP
//	from: 2026-03-01          # first day
//	to: 2026-09-01            # first day it no longer holds
//	prices:
//	  FV-20:
//	    list: "9845.50"
//	    cost: "6970.00"
//	    lead_weeks: 14
//	    breaks:
//	      - {quantity: "4", list: "9600.00"}
//	  PIPE-DN40: {list: "64.35", cost: "39.46", unit: MTR}
//
// A price may also be a list of such blocks with from and to, one for each period.
// Unknown fields, repeated codes and anything that cannot be a price are reported
// with file, line and field, all at once as Problems.
func ReadBook(file string, text []byte) (*Book, error) {
	if len(text) > maxBookBytes {
		return nil, Problems{{File: file, Message: fmt.Sprintf("larger than %d MB; a price book is not that long", maxBookBytes>>20)}}
	}
	var doc, second yaml.Node
	dec := yaml.NewDecoder(bytes.NewReader(text))
	if err := dec.Decode(&doc); errors.Is(err, io.EOF) || err == nil && len(doc.Content) != 1 {
		return nil, Problems{{File: file, Message: "empty; a price book has book, currency, from and prices"}}
	} else if err != nil {
		return nil, Problems{{File: file, Message: err.Error()}}
	}
	if err := dec.Decode(&second); !errors.Is(err, io.EOF) {
		return nil, Problems{{File: file, Line: second.Line, Message: "a second document; a file holds one price book"}}
	}
	r := bookReader{file: file, lines: make(map[string]int)}
	header, prices := r.book(doc.Content[0])
	if err := r.problems.err(); err != nil {
		return nil, err
	}
	book, err := NewBook(header, prices)
	if err != nil {
		return nil, r.locate(err)
	}
	return book, nil
}

type bookReader struct {
	file     string
	problems Problems
	currency money.Currency
	lines    map[string]int // field to the line it stands on
}

func (r *bookReader) add(n *yaml.Node, where, format string, args ...any) {
	r.problems = append(r.problems, Problem{File: r.file, Line: n.Line, Where: where, Message: fmt.Sprintf(format, args...)})
}

// locate puts file and line to problems found after reading; a field that is not in
// the file gets the line of the block it is missing from.
func (r *bookReader) locate(err error) error {
	problems, ok := errors.AsType[Problems](err)
	if !ok {
		return fmt.Errorf("%s: %w", r.file, err)
	}
	for i := range problems {
		problems[i].File = r.file
		where := problems[i].Where
		for where != "" && r.lines[where] == 0 {
			where = parent(where)
		}
		problems[i].Line = r.lines[where]
	}
	return problems
}

func parent(where string) string {
	for i := len(where) - 1; i > 0; i-- {
		if where[i] == '.' || where[i] == '[' {
			return where[:i]
		}
	}
	return ""
}

// fields walks a mapping and calls take for each key; a key that take does not know
// or that comes twice is a problem.
func (r *bookReader) fields(n *yaml.Node, where string, take func(key string, value *yaml.Node, at string) bool) {
	if n.Kind != yaml.MappingNode {
		r.add(n, where, "a block of fields is wanted here")
		return
	}
	seen := make(map[string]int, len(n.Content)/2)
	for i := 0; i+1 < len(n.Content); i += 2 {
		key, value := n.Content[i], n.Content[i+1]
		at := key.Value
		if where != "" {
			at = where + "." + key.Value
		}
		if first, twice := seen[key.Value]; twice {
			r.add(key, at, "stands on line %d already", first)
			continue
		}
		seen[key.Value] = key.Line
		r.lines[at] = key.Line
		if !take(key.Value, value, at) {
			r.add(key, at, "unknown field")
		}
	}
}

func (r *bookReader) book(n *yaml.Node) (Header, []Price) {
	var h Header
	var prices *yaml.Node
	r.fields(n, "", func(key string, value *yaml.Node, at string) bool {
		switch key {
		case "book":
			h.ID = r.text(value, at)
		case "currency":
			h.Currency = money.Currency(r.text(value, at))
		case "from":
			h.From = r.date(value, at)
		case "to":
			h.To = r.date(value, at)
		case "note":
			h.Note = r.text(value, at)
		case "prices":
			prices = value
		default:
			return false
		}
		return true
	})
	if !h.Currency.Valid() {
		r.add(n, "currency", "%q is not a currency code; write GBP, EUR or another of ISO 4217", string(h.Currency))
		return h, nil
	}
	r.currency = h.Currency
	if prices == nil {
		r.add(n, "prices", "missing; a block of product codes")
		return h, nil
	}
	var out []Price
	r.fields(prices, "prices", func(code string, value *yaml.Node, at string) bool {
		blocks := []*yaml.Node{value}
		if value.Kind == yaml.SequenceNode {
			blocks = value.Content
		}
		for _, block := range blocks {
			out = append(out, r.price(code, block, at))
		}
		return true
	})
	return h, out
}

func (r *bookReader) price(code string, n *yaml.Node, where string) Price {
	p := Price{Code: code}
	r.fields(n, where, func(key string, value *yaml.Node, at string) bool {
		switch key {
		case "list":
			p.List = r.amount(value, at)
		case "cost":
			p.Cost = r.amount(value, at)
		case "unit":
			p.Unit = r.text(value, at)
		case "per":
			p.Per = r.number(value, at)
		case "from":
			p.From = r.date(value, at)
		case "to":
			p.To = r.date(value, at)
		case "lead_weeks":
			p.LeadWeeks = r.count(value, at)
		case "breaks":
			p.Breaks = r.breaks(value, at)
		case "obsolete":
			p.Obsolete = r.truth(value, at)
		case "replaced_by":
			p.ReplacedBy = r.text(value, at)
		case "note":
			p.Note = r.text(value, at)
		default:
			return false
		}
		return true
	})
	return p
}

func (r *bookReader) breaks(n *yaml.Node, where string) []Break {
	if n.Kind != yaml.SequenceNode {
		r.add(n, where, "a list of {quantity, list} is wanted here")
		return nil
	}
	var out []Break
	for i, block := range n.Content {
		var b Break
		r.fields(block, fmt.Sprintf("%s[%d]", where, i), func(key string, value *yaml.Node, at string) bool {
			switch key {
			case "quantity":
				b.Quantity = r.number(value, at)
			case "list":
				b.List = r.amount(value, at)
			case "cost":
				b.Cost = r.amount(value, at)
			default:
				return false
			}
			return true
		})
		out = append(out, b)
	}
	return out
}

// text reads a scalar as it is written. A number is taken from its digits, never
// through a floating-point value. Aliases are refused: they make files that grow.
func (r *bookReader) text(n *yaml.Node, where string) string {
	if n.Kind != yaml.ScalarNode {
		r.add(n, where, "a single value is wanted here")
		return ""
	}
	return n.Value
}

func (r *bookReader) amount(n *yaml.Node, where string) money.Amount {
	a, err := money.New(r.text(n, where), r.currency)
	if err != nil {
		r.add(n, where, "%v", err)
	}
	return a
}

func (r *bookReader) number(n *yaml.Node, where string) decimal.Decimal {
	d, err := money.ParseDecimal(r.text(n, where))
	if err != nil {
		r.add(n, where, "%v", err)
	}
	return d
}

func (r *bookReader) date(n *yaml.Node, where string) Date {
	d, err := ParseDate(r.text(n, where))
	if err != nil {
		r.add(n, where, "%v", err)
	}
	return d
}

func (r *bookReader) count(n *yaml.Node, where string) int {
	i, err := strconv.Atoi(r.text(n, where))
	if err != nil {
		r.add(n, where, "%q is not a whole number", n.Value)
	}
	return i
}

func (r *bookReader) truth(n *yaml.Node, where string) bool {
	switch r.text(n, where) {
	case "true":
		return true
	case "false":
		return false
	}
	r.add(n, where, "%q is neither true nor false", n.Value)
	return false
}
