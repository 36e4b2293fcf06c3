// Package trace holds the working of a calculation: each step with its symbol,
// formula, the values put in, the result and the source, so that a reader with a
// pocket calculator can follow a figure on a paper back to the book it came from.
package trace

import (
	"tunwright/catalog/source"
	"tunwright/catalog/unit"
)

// Value is one named quantity in a step.
type Value struct {
	Symbol   string
	Quantity unit.Quantity
}

// V names a quantity for a step.
func V(symbol string, q unit.Quantity) Value { return Value{Symbol: symbol, Quantity: q} }

// Step is one formula put to use.
type Step struct {
	Title   string // what it computes, in words
	Symbol  string // the result's symbol
	Formula string // in symbols, such as "P / (√3 · U · cos φ)"
	Values  []Value
	Result  unit.Quantity
	Source  source.Ref
	Note    string // limits or what was left out
}

// Trace is a working: its steps in the order they were taken.
type Trace []Step

// Add appends a step.
func (t *Trace) Add(s Step) { *t = append(*t, s) }
