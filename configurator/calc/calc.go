// Package calc makes each calculation of a discipline reachable by name, with
// JSON in and out: the sales engineer runs one in a call, and a check from outside
// compares it with a book.
//
// A discipline lists its calculations with New; input and output structs carry
// `yaml` tags whose endings are units (power_kw), read by catalog/strict.
package calc

import (
	"bytes"
	"fmt"
	"reflect"

	"tunwright/catalog/source"
	"tunwright/catalog/strict"
	"tunwright/configurator/trace"
)

// Calculation is one calculation that can be listed, described and run by name.
type Calculation struct {
	ID      string // such as "electrical.line-current"
	Title   string
	Formula string
	Source  source.Ref
	Example string // JSON that runs as it stands
	input   reflect.Type
	output  reflect.Type
	run     func(in any) (any, trace.Trace, error)
}

// New describes a calculation. The example must run.
func New[I, O any](id, title, formula string, src source.Ref, example string, f func(I) (O, trace.Trace, error)) Calculation {
	return Calculation{
		ID: id, Title: title, Formula: formula, Source: src, Example: example,
		input: reflect.TypeFor[I](), output: reflect.TypeFor[O](),
		run: func(in any) (any, trace.Trace, error) { return f(*in.(*I)) },
	}
}

// Run reads the JSON input, calculates and gives the output struct with its working.
func (c Calculation) Run(input []byte) (any, trace.Trace, error) {
	in := reflect.New(c.input)
	if err := strict.Decode("input", input, in.Interface()); err != nil {
		return nil, nil, err
	}
	out, steps, err := c.run(in.Interface())
	if err != nil {
		return nil, steps, fmt.Errorf("%s: %w", c.ID, err)
	}
	return out, steps, nil
}

// InputSchema and OutputSchema describe the fields with their units.
func (c Calculation) InputSchema() ([]byte, error) {
	return strict.Schema(c.ID+" input", reflect.Zero(c.input).Interface())
}

// OutputSchema describes the fields of the result with their units.
func (c Calculation) OutputSchema() ([]byte, error) {
	return strict.Schema(c.ID+" output", reflect.Zero(c.output).Interface())
}

// Verify runs the examples of a discipline's list; each discipline's test calls it.
func Verify(list []Calculation) error {
	seen := map[string]bool{}
	for _, c := range list {
		if c.ID == "" || c.Title == "" || c.Source.IsZero() || seen[c.ID] {
			return fmt.Errorf("calculation %q: id must be unique; title and source must be said", c.ID)
		}
		seen[c.ID] = true
		out, _, err := c.Run([]byte(c.Example))
		if err != nil {
			return fmt.Errorf("calculation %s: its example does not run: %w", c.ID, err)
		}
		text, err := strict.JSON(out)
		if err != nil || bytes.Equal(text, []byte("{}")) {
			return fmt.Errorf("calculation %s: its example gives nothing: %v", c.ID, err)
		}
	}
	return nil
}
