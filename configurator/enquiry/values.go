package enquiry

import (
	"fmt"
	"reflect"
	"time"

	"tunwright/catalog/strict"
	"tunwright/catalog/unit"

	"go.yaml.in/yaml/v4"
)

// DecodeStrict reads a place on the plan, written [x, y] in metres.
func (p *Point) DecodeStrict(r *strict.Reader, v strict.Value) {
	if v.Node.Kind != yaml.SequenceNode || len(v.Node.Content) != 2 {
		r.Fail(v, "this is not a place on the plan", "write [x, y] in metres, such as [2.4, 6.1]")
		return
	}
	x, y := v, v
	x.Node, y.Node = v.Node.Content[0], v.Node.Content[1]
	r.Into(x.Plain("x"), reflect.ValueOf(&p.X).Elem())
	r.Into(y.Plain("y"), reflect.ValueOf(&p.Y).Elem())
}

// EncodeStrict writes a place on the plan.
func (p Point) EncodeStrict(*unit.Unit) (*yaml.Node, error) {
	x, err := strict.NumberNode(p.X.M())
	if err != nil {
		return nil, err
	}
	y, err := strict.NumberNode(p.Y.M())
	if err != nil {
		return nil, err
	}
	return &yaml.Node{Kind: yaml.SequenceNode, Tag: "!!seq", Style: yaml.FlowStyle, Content: []*yaml.Node{x, y}}, nil
}

// SchemaStrict describes a place in a JSON Schema.
func (p Point) SchemaStrict(func(reflect.Type) map[string]any) map[string]any {
	return map[string]any{"type": "array", "items": map[string]any{"type": "number"}, "minItems": 2, "maxItems": 2}
}

// Date is a civil date without a time of day.
type Date struct {
	Year  int
	Month time.Month
	Day   int
}

// ParseDate reads a date written as 2026-11-25.
func ParseDate(text string) (Date, error) {
	t, err := time.Parse(time.DateOnly, text)
	if err != nil {
		return Date{}, fmt.Errorf("%q is not a date: write it as 2026-11-25", text)
	}
	return DateOf(t), nil
}

// DateOf takes the day out of a time.
func DateOf(t time.Time) Date {
	y, m, d := t.Date()
	return Date{y, m, d}
}

// Time is midnight UTC of the day.
func (d Date) Time() time.Time { return time.Date(d.Year, d.Month, d.Day, 0, 0, 0, 0, time.UTC) }

// AddDays moves a date.
func (d Date) AddDays(n int) Date { return DateOf(d.Time().AddDate(0, 0, n)) }

// Before tells which of two dates comes first.
func (d Date) Before(o Date) bool { return d.Time().Before(o.Time()) }

func (d Date) String() string { return d.Time().Format(time.DateOnly) }

// IsZero tells whether no date is given.
func (d Date) IsZero() bool { return d == Date{} }

// MarshalText writes a date as 2026-11-25.
func (d Date) MarshalText() ([]byte, error) { return []byte(d.String()), nil }

// UnmarshalText reads a date.
func (d *Date) UnmarshalText(text []byte) error {
	got, err := ParseDate(string(text))
	if err != nil {
		return err
	}
	*d = got
	return nil
}
