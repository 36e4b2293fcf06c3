// Package unit holds the physical quantities of the house. A quantity is a type
// of its own, so that adding litres to kilograms does not compile; it is held in
// SI and written in the unit of the reader.
//
// quantities.csv is the glossary: each quantity, its units, their symbols and
// the ending a field name carries in YAML and JSON. Temperatures are not
// temperature differences, gauge pressure is not absolute pressure, a conductor's
// cross-section is not a floor area: what shares a dimension but not a meaning
// has its own type.
//
// Begin with a constructor (unit.Kilowatts(12)) and an accessor (p.KW()).
package unit

//go:generate go run ./gen

import (
	"bytes"
	"fmt"
	"math"
	"reflect"
	"strconv"
	"strings"
)

// Quantity is any value with a unit.
type Quantity interface {
	// SI gives the number in the unit held in memory.
	SI() float64
	// Kind tells the units the quantity is written in.
	Kind() *Kind
	// String prints the quantity in its usual unit.
	String() string
}

// Unit is one way to write a quantity: SI value = Factor·number + Offset.
type Unit struct {
	Symbol         string
	Key            string
	Factor, Offset float64
}

// From gives the number of this unit that stands for an SI value.
func (u Unit) From(si float64) float64 { return (si - u.Offset) / u.Factor }

// To gives the SI value of a number of this unit.
func (u Unit) To(x float64) float64 { return x*u.Factor + u.Offset }

// Kind is a quantity's name and units, the first of which is the SI base.
type Kind struct {
	Name     string
	Units    []Unit
	show, us int
}

// Shown is the unit printed by default.
func (k *Kind) Shown() Unit { return k.Units[k.show] }

// Customary is the unit printed for a reader in the United States.
func (k *Kind) Customary() Unit { return k.Units[k.us] }

// ByKey finds a unit by the ending that field names carry.
func (k *Kind) ByKey(key string) (Unit, bool) {
	for _, u := range k.Units {
		if u.Key == key {
			return u, true
		}
	}
	return Unit{}, false
}

// BySymbol finds a unit by its printed symbol.
func (k *Kind) BySymbol(symbol string) (Unit, bool) {
	for _, u := range k.Units {
		if u.Symbol == symbol {
			return u, true
		}
	}
	return Unit{}, false
}

// KeyIn finds the unit a field name ends with: "power_kw" is written in kW.
func (k *Kind) KeyIn(field string) (Unit, bool) {
	best, found := Unit{}, false
	for _, u := range k.Units {
		if (field == u.Key || strings.HasSuffix(field, "_"+u.Key)) && len(u.Key) > len(best.Key) {
			best, found = u, true
		}
	}
	return best, found
}

// Keys lists the endings a field of this kind may carry.
func (k *Kind) Keys() []string {
	keys := make([]string, len(k.Units))
	for i, u := range k.Units {
		keys[i] = u.Key
	}
	return keys
}

// KindOf tells whether a Go type is a quantity, and which.
func KindOf(t reflect.Type) (*Kind, bool) {
	k, ok := kinds[t]
	return k, ok
}

// Text prints a quantity in its usual unit with up to four significant digits.
func Text(q Quantity) string {
	return shown(q.SI(), q.Kind().show, q.Kind())
}

// TextAs prints a quantity in the unit that a field's name ends with, as it was written
// there; where the name has none, or a unit without a symbol, it prints it as Text does.
func TextAs(q Quantity, field string) string {
	u, ok := q.Kind().KeyIn(field)
	if !ok || u.Symbol == "" {
		return Text(q)
	}
	return string(appendSymbol(appendDigits(nil, u.From(q.SI()), 6), u.Symbol))
}

// TextUS prints a quantity in US customary units with up to four significant digits.
func TextUS(q Quantity) string {
	return shown(q.SI(), q.Kind().us, q.Kind())
}

func shown(si float64, which int, k *Kind) string {
	u := &k.Units[which]
	var room [numberRoom]byte
	return string(appendSymbol(appendDigits(room[:0], u.From(si), 4), u.Symbol))
}

// Fixed prints a quantity in its usual unit with a fixed number of decimals.
func Fixed(q Quantity, decimals int) string {
	return fixed(q.SI(), q.Kind().Shown(), decimals)
}

// In prints a quantity in the unit with the given key; an unknown key falls back
// to the usual unit, which still carries its symbol and so cannot be misread.
func In(q Quantity, key string, decimals int) string {
	u, ok := q.Kind().ByKey(key)
	if !ok {
		u = q.Kind().Shown()
	}
	return fixed(q.SI(), u, decimals)
}

func fixed(si float64, u Unit, decimals int) string {
	var room [numberRoom]byte
	return string(appendSymbol(strconv.AppendFloat(room[:0], u.From(si), 'f', decimals, 64), u.Symbol))
}

// numberRoom holds an ordinary number with its unit.
const numberRoom = 40

// Digits prints a number with up to n significant digits, never in exponent
// form between 1e-4 and 1e9, and never cuts the digits left of the point.
func Digits(x float64, n int) string {
	var room [numberRoom]byte
	return string(appendDigits(room[:0], x, n))
}

func appendDigits(b []byte, x float64, n int) []byte {
	if x == 0 || math.IsNaN(x) || math.IsInf(x, 0) {
		return strconv.AppendFloat(b, x, 'f', -1, 64)
	}
	mag := int(math.Floor(math.Log10(math.Abs(x)))) + 1
	if mag < -3 || mag > 9 {
		return strconv.AppendFloat(b, x, 'g', n, 64)
	}
	decimals := max(n-mag, 0)
	b = strconv.AppendFloat(b, x, 'f', decimals, 64)
	if decimals > 0 {
		b = bytes.TrimRight(bytes.TrimRight(b, "0"), ".")
	}
	if string(b) == "-0" {
		return b[1:]
	}
	return b
}

func appendSymbol(number []byte, symbol string) []byte {
	switch symbol {
	case "":
		return number
	case "%", "°":
		return append(number, symbol...)
	}
	return append(append(number, ' '), symbol...)
}

// RangeError says that a value lies outside the range a formula, a table or a
// field is valid for, and what the range is.
type RangeError struct {
	Name     string
	Value    float64
	Min, Max float64
	Unit     string
}

func (e *RangeError) Error() string {
	v, lo, hi := e.text(e.Value), e.text(e.Min), e.text(e.Max)
	switch {
	case math.IsInf(e.Max, 1):
		return fmt.Sprintf("%s is %s: it must be at least %s", e.Name, v, lo)
	case math.IsInf(e.Min, -1):
		return fmt.Sprintf("%s is %s: it must be at most %s", e.Name, v, hi)
	}
	return fmt.Sprintf("%s is %s: it must lie between %s and %s", e.Name, v, lo, hi)
}

func (e *RangeError) text(x float64) string {
	return string(appendSymbol(appendDigits(nil, x, 6), e.Unit))
}

// InRange checks a bare number against the closed range [min, max]; NaN and
// infinities are always outside.
func InRange(name string, x, min, max float64) error {
	if math.IsNaN(x) || math.IsInf(x, 0) || x < min || x > max {
		return &RangeError{Name: name, Value: x, Min: min, Max: max}
	}
	return nil
}

// Within checks a quantity against the closed range [min, max] of its own kind.
func Within[Q Quantity](name string, q, min, max Q) error {
	if InRange(name, q.SI(), min.SI(), max.SI()) == nil {
		return nil
	}
	u := q.Kind().Shown()
	return &RangeError{Name: name, Value: u.From(q.SI()), Min: u.From(min.SI()), Max: u.From(max.SI()), Unit: u.Symbol}
}

// Positive checks that a quantity is finite and greater than zero.
func Positive(name string, q Quantity) error {
	x := q.SI()
	if x > 0 && !math.IsInf(x, 0) {
		return nil
	}
	u := q.Kind().Shown()
	return fmt.Errorf("%s is %s: it must be greater than 0 %s", name, q, u.Symbol)
}

// NotNegative checks that a quantity is finite and not below zero.
func NotNegative(name string, q Quantity) error {
	x := q.SI()
	if x >= 0 && !math.IsInf(x, 0) {
		return nil
	}
	return fmt.Errorf("%s is %s: it must not be negative", name, q)
}
