package strict

import (
	"bytes"
	"encoding"
	"encoding/json"
	"fmt"
	"math"
	"reflect"
	"sort"
	"strconv"

	"tunwright/catalog/unit"

	"go.yaml.in/yaml/v4"
)

// CustomWriter is a type that writes itself, the other half of Custom.
type CustomWriter interface {
	EncodeStrict(u *unit.Unit) (*yaml.Node, error)
}

// YAML writes a value with the field names and units of its tags, so that Decode
// reads the same value back.
func YAML(v any) ([]byte, error) {
	n, err := ToNode(reflect.ValueOf(v), nil)
	if err != nil {
		return nil, err
	}
	var b bytes.Buffer
	enc := yaml.NewEncoder(&b)
	enc.SetIndent(2)
	if err := enc.Encode(n); err != nil {
		return nil, fmt.Errorf("write YAML: %w", err)
	}
	if err := enc.Close(); err != nil {
		return nil, fmt.Errorf("write YAML: %w", err)
	}
	return b.Bytes(), nil
}

// JSON writes a value like YAML does, as indented JSON in the order of the fields.
func JSON(v any) ([]byte, error) {
	n, err := ToNode(reflect.ValueOf(v), nil)
	if err != nil {
		return nil, err
	}
	var raw, out bytes.Buffer
	if err := nodeJSON(&raw, n); err != nil {
		return nil, err
	}
	if err := json.Indent(&out, raw.Bytes(), "", "  "); err != nil {
		return nil, fmt.Errorf("write JSON: %w", err)
	}
	return out.Bytes(), nil
}

// ToNode builds the node of one value; u is the unit its field name ends with.
func ToNode(v reflect.Value, u *unit.Unit) (*yaml.Node, error) {
	if v.Kind() == reflect.Pointer || v.Kind() == reflect.Interface {
		if v.IsNil() {
			return scalar("!!null", "null"), nil
		}
		return ToNode(v.Elem(), u)
	}
	switch t := v.Interface().(type) {
	case CustomWriter:
		return t.EncodeStrict(u)
	case encoding.TextMarshaler:
		text, err := t.MarshalText()
		if err != nil {
			return nil, err
		}
		return scalar("!!str", string(text)), nil
	}
	if kind, ok := unit.KindOf(v.Type()); ok {
		at := kind.Units[0]
		if u != nil {
			at = *u
		}
		return number(at.From(v.Float()))
	}
	return plainNode(v, u)
}

func plainNode(v reflect.Value, u *unit.Unit) (*yaml.Node, error) {
	switch v.Kind() {
	case reflect.Struct:
		return structNode(v)
	case reflect.Slice, reflect.Array:
		return listNode(v, u)
	case reflect.Map:
		return mapNode(v)
	case reflect.String:
		return scalar("!!str", v.String()), nil
	case reflect.Bool:
		return scalar("!!bool", strconv.FormatBool(v.Bool())), nil
	case reflect.Int, reflect.Int64:
		return scalar("!!int", strconv.FormatInt(v.Int(), 10)), nil
	case reflect.Float64:
		return number(v.Float())
	}
	return nil, fmt.Errorf("a %s cannot be written", v.Type())
}

func scalar(tag, text string) *yaml.Node {
	return &yaml.Node{Kind: yaml.ScalarNode, Tag: tag, Value: text}
}

func number(x float64) (*yaml.Node, error) {
	if math.IsNaN(x) || math.IsInf(x, 0) {
		return nil, fmt.Errorf("%v is not a finite number", x)
	}
	// Unit conversion leaves a last-digit residue (0.3 m is 299.99999999999994 mm);
	// fifteen digits are what a float64 holds for certain.
	rounded, err := strconv.ParseFloat(strconv.FormatFloat(x, 'g', 15, 64), 64)
	if err != nil {
		return nil, err
	}
	if math.Abs(rounded) < 1e15 && rounded == math.Trunc(rounded) {
		return scalar("!!int", strconv.FormatFloat(rounded, 'f', 0, 64)), nil
	}
	text := strconv.FormatFloat(rounded, 'g', -1, 64)
	if math.Abs(rounded) >= 1e-6 && math.Abs(rounded) < 1e15 {
		text = strconv.FormatFloat(rounded, 'f', -1, 64)
	}
	return scalar("!!float", text), nil
}

func structNode(v reflect.Value) (*yaml.Node, error) {
	n := &yaml.Node{Kind: yaml.MappingNode, Tag: "!!map"}
	for _, f := range fieldsOf(v.Type()) {
		fv := v.FieldByIndex(f.index)
		if skip(f, fv) {
			continue
		}
		child, err := ToNode(fv, f.tags.unit)
		if err != nil {
			return nil, fmt.Errorf("%s: %w", f.tags.name, err)
		}
		n.Content = append(n.Content, scalar("!!str", f.tags.name), child)
	}
	return n, nil
}

// skip leaves out what was never given: nil, empty lists and, where the tag says
// so, zero values.
func skip(f field, v reflect.Value) bool {
	switch v.Kind() {
	case reflect.Pointer, reflect.Interface:
		return v.IsNil()
	case reflect.Slice, reflect.Map:
		return v.Len() == 0
	}
	return f.tags.omit && v.IsZero()
}

func listNode(v reflect.Value, u *unit.Unit) (*yaml.Node, error) {
	n := &yaml.Node{Kind: yaml.SequenceNode, Tag: "!!seq"}
	simple := true
	for i := range v.Len() {
		child, err := ToNode(v.Index(i), u)
		if err != nil {
			return nil, fmt.Errorf("[%d]: %w", i+1, err)
		}
		simple = simple && child.Kind == yaml.ScalarNode
		n.Content = append(n.Content, child)
	}
	if simple {
		n.Style = yaml.FlowStyle
	}
	return n, nil
}

func mapNode(v reflect.Value) (*yaml.Node, error) {
	n := &yaml.Node{Kind: yaml.MappingNode, Tag: "!!map"}
	keys := v.MapKeys()
	sort.Slice(keys, func(i, j int) bool { return keys[i].String() < keys[j].String() })
	for _, k := range keys {
		child, err := ToNode(v.MapIndex(k), nil)
		if err != nil {
			return nil, fmt.Errorf("%s: %w", k, err)
		}
		n.Content = append(n.Content, scalar("!!str", k.String()), child)
	}
	return n, nil
}

func nodeJSON(b *bytes.Buffer, n *yaml.Node) error {
	switch n.Kind {
	case yaml.MappingNode:
		return groupJSON(b, n)
	case yaml.SequenceNode:
		b.WriteByte('[')
		for i, c := range n.Content {
			if i > 0 {
				b.WriteByte(',')
			}
			if err := nodeJSON(b, c); err != nil {
				return err
			}
		}
		b.WriteByte(']')
		return nil
	}
	if n.Tag != "!!str" {
		b.WriteString(n.Value)
		return nil
	}
	return textJSON(b, n.Value)
}

func groupJSON(b *bytes.Buffer, n *yaml.Node) error {
	b.WriteByte('{')
	for i := 0; i+1 < len(n.Content); i += 2 {
		if i > 0 {
			b.WriteByte(',')
		}
		if err := textJSON(b, n.Content[i].Value); err != nil {
			return err
		}
		b.WriteByte(':')
		if err := nodeJSON(b, n.Content[i+1]); err != nil {
			return err
		}
	}
	b.WriteByte('}')
	return nil
}

func textJSON(b *bytes.Buffer, s string) error {
	text, err := json.Marshal(s)
	if err != nil {
		return err
	}
	b.Write(text)
	return nil
}

// TextNode writes a text so that it is read back as a text.
func TextNode(text string) *yaml.Node { return scalar("!!str", text) }

// NumberNode writes a finite number.
func NumberNode(x float64) (*yaml.Node, error) { return number(x) }
