// Package enquiry holds what is asked and what is known: the client's brief, the
// site and the equipment chosen so far. Every fact of a site is measured, told,
// assumed or unknown, and says so; what is not known for certain becomes a line
// of the survey list.
//
// Begin with Read and Project.
package enquiry

import (
	"fmt"
	"reflect"
	"strings"

	"tunwright/catalog/strict"
	"tunwright/catalog/unit"

	"go.yaml.in/yaml/v4"
)

// Basis tells how a fact came to be known. The zero value is unknown.
type Basis string

const (
	Unknown  Basis = ""
	Measured Basis = "measured"
	Told     Basis = "told"
	Assumed  Basis = "assumed"
)

// Word prints a basis.
func (b Basis) Word() string {
	if b == Unknown {
		return "unknown"
	}
	return string(b)
}

// Fact is a value with the way it came to be known. In a file it is written
// {measured: 3150, by: "laser, 12 May"}, {told: 80, by: landlord's agent},
// {assumed: 30, why: "city roof in summer"} or unknown.
type Fact[T any] struct {
	Value T
	Basis Basis
	By    string // who measured or told it
	Why   string // the reason for an assumption
}

// Assume makes an assumed fact.
func Assume[T any](v T, why string) Fact[T] { return Fact[T]{Value: v, Basis: Assumed, Why: why} }

// Known tells whether there is a value at all.
func (f Fact[T]) Known() bool { return f.Basis != Unknown }

// Ptr gives the value, or nil where it is unknown.
func (f Fact[T]) Ptr() *T {
	if f.Basis == Unknown {
		return nil
	}
	v := f.Value
	return &v
}

// Or gives the value, or another where it is unknown.
func (f Fact[T]) Or(other T) T {
	if f.Basis == Unknown {
		return other
	}
	return f.Value
}

// Wrapped tells the type inside, whose unit the field name carries.
func (f Fact[T]) Wrapped() reflect.Type { return reflect.TypeFor[T]() }

// DecodeStrict reads a fact.
func (f *Fact[T]) DecodeStrict(r *strict.Reader, v strict.Value) {
	const form = `write {measured: …, by: …}, {told: …, by: …}, {assumed: …, why: …} or unknown`
	if v.Node.Kind == yaml.ScalarNode && v.Node.Value == "unknown" {
		return
	}
	if v.Node.Kind != yaml.MappingNode {
		r.Fail(v, "this fact does not say how it is known", form)
		return
	}
	for i := 0; i+1 < len(v.Node.Content); i += 2 {
		key, val := v.Node.Content[i], v.Node.Content[i+1]
		at := v
		at.Node = val
		switch b := Basis(key.Value); b {
		case Measured, Told, Assumed:
			if f.Basis != Unknown {
				r.Fail(v, "this fact is said to be known in two ways", "keep one of them")
				return
			}
			f.Basis = b
			r.Into(at, reflect.ValueOf(&f.Value).Elem())
		case "by":
			r.Into(at.Plain("by"), reflect.ValueOf(&f.By).Elem())
		case "why":
			r.Into(at.Plain("why"), reflect.ValueOf(&f.Why).Elem())
		default:
			r.Fail(v, fmt.Sprintf("%q is not a way to know a fact", key.Value), form)
		}
	}
	f.complete(r, v, form)
}

func (f *Fact[T]) complete(r *strict.Reader, v strict.Value, form string) {
	switch {
	case f.Basis == Unknown:
		r.Fail(v, "this fact has no value", form)
	case f.Basis == Assumed && strings.TrimSpace(f.Why) == "":
		r.Fail(v, "an assumption must give its reason", "add why: …")
	case f.Basis != Assumed && strings.TrimSpace(f.By) == "":
		r.Fail(v, "a "+string(f.Basis)+" fact must say by whom", "add by: …")
	}
}

// EncodeStrict writes a fact.
func (f Fact[T]) EncodeStrict(u *unit.Unit) (*yaml.Node, error) {
	if f.Basis == Unknown {
		return &yaml.Node{Kind: yaml.ScalarNode, Tag: "!!str", Value: "unknown"}, nil
	}
	n := &yaml.Node{Kind: yaml.MappingNode, Tag: "!!map", Style: yaml.FlowStyle}
	val, err := strict.ToNode(reflect.ValueOf(f.Value), u)
	if err != nil {
		return nil, err
	}
	add := func(key string, val *yaml.Node) { n.Content = append(n.Content, strict.TextNode(key), val) }
	add(string(f.Basis), val)
	if f.By != "" {
		add("by", strict.TextNode(f.By))
	}
	if f.Why != "" {
		add("why", strict.TextNode(f.Why))
	}
	return n, nil
}

// SchemaStrict describes a fact in a JSON Schema.
func (f Fact[T]) SchemaStrict(inner func(reflect.Type) map[string]any) map[string]any {
	way := func(basis, reason string) map[string]any {
		return map[string]any{
			"type": "object", "additionalProperties": false, "required": []string{basis, reason},
			"properties": map[string]any{basis: inner(reflect.TypeFor[T]()), "by": map[string]any{"type": "string"}, "why": map[string]any{"type": "string"}},
		}
	}
	return map[string]any{"oneOf": []any{
		map[string]any{"const": "unknown"}, way("measured", "by"), way("told", "by"), way("assumed", "why"),
	}}
}
