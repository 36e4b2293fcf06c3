// Package strict reads and writes the house's YAML and JSON files. Nothing is
// guessed: an unknown field, a missing unit, a word where a number belongs or a
// value outside its range is reported with file, line, field and what would be
// right, and all of them at once rather than one by one.
//
// The unit of a quantity is the ending of its field name (power_kw: 12). A struct
// field of a unit type states the usual ending in its tag; any other ending of
// the same kind (power_w) is read too.
//
// Tags: `yaml:"name"` or `yaml:"name,required"`, `range:"min..max"` in the unit of
// the tag, `enum:"a|b|c"`, `doc:"what the field means"`.
//
// Begin with Decode. Schema publishes the same rules as a JSON Schema.
package strict

import (
	"bytes"
	"encoding"
	"errors"
	"fmt"
	"io"
	"math"
	"reflect"
	"sort"
	"strconv"
	"strings"

	"tunwright/catalog/unit"

	"go.yaml.in/yaml/v4"
)

// MaxBytes is the largest file read. A large site file is some 50 kB, so that a
// bigger one is a mistake, and refusing it keeps the program responsive.
const MaxBytes = 4 << 20

// Problem is one thing wrong in a file.
type Problem struct {
	File      string
	Line      int
	Field     string
	Message   string
	WouldHelp string
}

func (p Problem) Error() string {
	var b strings.Builder
	b.WriteString(p.File)
	if p.Line > 0 {
		fmt.Fprintf(&b, ":%d", p.Line)
	}
	if p.Field != "" {
		fmt.Fprintf(&b, ": %s", p.Field)
	}
	fmt.Fprintf(&b, ": %s", p.Message)
	if p.WouldHelp != "" {
		fmt.Fprintf(&b, "; %s", p.WouldHelp)
	}
	return b.String()
}

// Problems are all the things wrong in a file, in the order of its lines.
type Problems []Problem

func (ps Problems) Error() string {
	lines := make([]string, len(ps))
	for i, p := range ps {
		lines[i] = p.Error()
	}
	return strings.Join(lines, "\n")
}

// Value is a place in a file: its node, its path and the unit its name ends with.
type Value struct {
	Node *yaml.Node
	Path string
	Unit *unit.Unit
	tags fieldTags
}

// Custom is a type that reads itself, such as a fact that carries its basis.
type Custom interface {
	DecodeStrict(r *Reader, v Value)
}

// Wrapper is a type whose field name carries the unit of the type it wraps.
type Wrapper interface {
	Wrapped() reflect.Type
}

// Reader collects the problems of one file.
type Reader struct {
	file     string
	problems Problems
}

// Decode reads YAML or JSON into the struct that into points to.
func Decode(file string, data []byte, into any) error {
	if len(data) > MaxBytes {
		return Problems{{File: file, Message: fmt.Sprintf("the file has %d bytes", len(data)), WouldHelp: fmt.Sprintf("at most %d bytes are read", MaxBytes)}}
	}
	root, err := parse(file, data)
	if err != nil {
		return err
	}
	return DecodeNode(file, root, into)
}

// DecodeNode reads a value that is already in nodes, such as an edited file.
func DecodeNode(file string, root *yaml.Node, into any) error {
	r := &Reader{file: file}
	r.Into(Value{Node: root}, reflect.ValueOf(into).Elem())
	if len(r.problems) == 0 {
		return nil
	}
	sort.SliceStable(r.problems, func(i, j int) bool { return r.problems[i].Line < r.problems[j].Line })
	return r.problems
}

func parse(file string, data []byte) (*yaml.Node, error) {
	var doc, more yaml.Node
	dec := yaml.NewDecoder(bytes.NewReader(data))
	err := dec.Decode(&doc)
	if err != nil && !errors.Is(err, io.EOF) {
		return nil, unreadable(file, err)
	}
	if doc.Kind != yaml.DocumentNode || len(doc.Content) == 0 {
		return nil, Problems{{File: file, Line: 1, Message: "the file is empty", WouldHelp: "write the fields it needs, or start from one of the samples"}}
	}
	switch err := dec.Decode(&more); {
	case err == nil:
		return nil, Problems{{File: file, Line: more.Line, Message: "a second document begins here", WouldHelp: "keep one document in a file: delete the line ---"}}
	case !errors.Is(err, io.EOF):
		return nil, unreadable(file, err)
	}
	return doc.Content[0], nil
}

func unreadable(file string, err error) Problems {
	return Problems{{File: file, Line: lineOf(err), Message: "this is not readable as YAML: " + tidy(err), WouldHelp: "check indentation, colons and quotes around that line"}}
}

func tidy(err error) string {
	s := strings.TrimPrefix(err.Error(), "yaml: ")
	return strings.TrimSpace(strings.ReplaceAll(s, "\n", " "))
}

func lineOf(err error) int {
	_, rest, ok := strings.Cut(err.Error(), "line ")
	if !ok {
		return 0
	}
	digits := rest[:len(rest)-len(strings.TrimLeft(rest, "0123456789"))]
	n, convErr := strconv.Atoi(digits)
	if convErr != nil {
		return 0
	}
	return n
}

// Fail notes a problem at a place.
func (r *Reader) Fail(v Value, message, wouldHelp string) {
	line := 0
	if v.Node != nil {
		line = v.Node.Line
	}
	r.problems = append(r.problems, Problem{File: r.file, Line: line, Field: v.Path, Message: message, WouldHelp: wouldHelp})
}

// Count is the number of problems noted so far, so that a Custom type can tell
// whether what it read is sound before it judges it.
func (r *Reader) Count() int { return len(r.problems) }

// At finds a place below v by its path, such as "bodies[1].vessel.gross_l". Where
// the file does not hold it, the line is that of the nearest group around it.
func (v Value) At(path string) Value {
	at := Value{Node: v.Node, Path: join(v.Path, path)}
	for _, step := range strings.Split(path, ".") {
		name, index, _ := strings.Cut(strings.TrimSuffix(step, "]"), "[")
		next := child(at.Node, name)
		if next == nil {
			return at
		}
		at.Node = next
		if n, err := strconv.Atoi(index); err == nil && n >= 1 && n <= len(next.Content) {
			at.Node = next.Content[n-1]
		}
	}
	return at
}

func child(n *yaml.Node, name string) *yaml.Node {
	if n == nil || n.Kind != yaml.MappingNode {
		return nil
	}
	for i := 0; i+1 < len(n.Content); i += 2 {
		if n.Content[i].Value == name {
			return n.Content[i+1]
		}
	}
	return nil
}

// Into reads one value into a Go value, by its type.
func (r *Reader) Into(v Value, target reflect.Value) {
	if v.Node.Kind == yaml.AliasNode {
		r.Fail(v, "anchors and aliases are not used here", "write the value out")
		return
	}
	if target.Kind() == reflect.Pointer {
		r.intoPointer(v, target)
		return
	}
	if target.CanAddr() {
		switch t := target.Addr().Interface().(type) {
		case Custom:
			t.DecodeStrict(r, v)
			return
		case encoding.TextUnmarshaler:
			r.intoText(v, t)
			return
		}
	}
	if kind, ok := unit.KindOf(target.Type()); ok {
		r.intoQuantity(v, kind, target)
		return
	}
	r.intoPlain(v, target)
}

func (r *Reader) intoPointer(v Value, target reflect.Value) {
	if v.Node.Kind == yaml.ScalarNode && v.Node.Tag == "!!null" {
		if v.tags.required {
			r.Fail(v, "this field is empty", "give it a value")
		}
		return
	}
	fresh := reflect.New(target.Type().Elem())
	r.Into(v, fresh.Elem())
	target.Set(fresh)
}

func (r *Reader) intoText(v Value, t encoding.TextUnmarshaler) {
	if v.Node.Kind != yaml.ScalarNode {
		r.Fail(v, "a single value belongs here, not a list or a group", "")
		return
	}
	if err := t.UnmarshalText([]byte(v.Node.Value)); err != nil {
		r.Fail(v, err.Error(), "")
	}
}

func (r *Reader) intoQuantity(v Value, kind *unit.Kind, target reflect.Value) {
	x, ok := r.number(v)
	if !ok {
		return
	}
	u := kind.Units[0]
	if v.Unit != nil {
		u = *v.Unit
	}
	if !r.inRange(v, kind, u, x) {
		return
	}
	target.SetFloat(u.To(x))
}

func (r *Reader) inRange(v Value, kind *unit.Kind, u unit.Unit, x float64) bool {
	if !v.tags.ranged {
		return true
	}
	// The range is stated in the unit of the tag; the file may use another one.
	si := u.To(x)
	tu := kind.Units[0]
	if v.tags.unit != nil {
		tu = *v.tags.unit
	}
	lo, hi := tu.To(v.tags.min), tu.To(v.tags.max)
	const slack = 1e-9
	if si < lo-slack*math.Abs(lo) || si > hi+slack*math.Abs(hi) {
		r.Fail(v, fmt.Sprintf("%s %s cannot be right", unit.Digits(x, 8), u.Symbol),
			fmt.Sprintf("it must lie between %s and %s %s", unit.Digits(u.From(lo), 6), unit.Digits(u.From(hi), 6), u.Symbol))
		return false
	}
	return true
}

func (r *Reader) number(v Value) (float64, bool) {
	if v.Node.Kind != yaml.ScalarNode || (v.Node.Tag != "!!int" && v.Node.Tag != "!!float") {
		r.Fail(v, fmt.Sprintf("%s is not a number", describe(v.Node)), "write digits with a point, without unit or thousands mark")
		return 0, false
	}
	x, err := strconv.ParseFloat(strings.ReplaceAll(v.Node.Value, "_", ""), 64)
	if err != nil || math.IsNaN(x) || math.IsInf(x, 0) {
		r.Fail(v, fmt.Sprintf("%s is not a finite number", describe(v.Node)), "write digits with a point")
		return 0, false
	}
	return x, true
}

func describe(n *yaml.Node) string {
	switch n.Kind {
	case yaml.MappingNode:
		return "a group of fields"
	case yaml.SequenceNode:
		return "a list"
	}
	if n.Value == "" {
		return "an empty value"
	}
	text := []rune(n.Value)
	if len(text) > 40 {
		text = append(text[:40], '…')
	}
	return strconv.Quote(string(text))
}

func (r *Reader) intoPlain(v Value, target reflect.Value) {
	switch target.Kind() {
	case reflect.Struct:
		r.intoStruct(v, target)
	case reflect.Slice:
		r.intoSlice(v, target)
	case reflect.Map:
		r.intoMap(v, target)
	case reflect.String:
		r.intoString(v, target)
	case reflect.Bool:
		r.intoBool(v, target)
	case reflect.Int, reflect.Int64:
		r.intoInt(v, target)
	case reflect.Float64:
		r.intoFloat(v, target)
	default:
		r.Fail(v, "this field cannot be read from a file", "")
	}
}

func (r *Reader) intoFloat(v Value, target reflect.Value) {
	x, ok := r.number(v)
	if !ok || !r.plainRange(v, x) {
		return
	}
	target.SetFloat(x)
}

func (r *Reader) intoInt(v Value, target reflect.Value) {
	x, ok := r.number(v)
	if !ok || !r.plainRange(v, x) {
		return
	}
	if x != math.Trunc(x) || math.Abs(x) > 1<<53 {
		r.Fail(v, unit.Digits(x, 8)+" is not a whole number", "write a whole number")
		return
	}
	if words := v.tags.enum; len(words) > 0 && !contains(words, unit.Digits(x, 8)) {
		r.Fail(v, unit.Digits(x, 8)+" is not possible here", "write one of: "+strings.Join(words, ", "))
		return
	}
	target.SetInt(int64(x))
}

func (r *Reader) plainRange(v Value, x float64) bool {
	if v.tags.ranged && (x < v.tags.min || x > v.tags.max) {
		r.Fail(v, unit.Digits(x, 8)+" cannot be right", fmt.Sprintf("it must lie between %s and %s", unit.Digits(v.tags.min, 6), unit.Digits(v.tags.max, 6)))
		return false
	}
	return true
}

func (r *Reader) intoString(v Value, target reflect.Value) {
	if v.Node.Kind != yaml.ScalarNode || v.Node.Tag == "!!null" {
		r.Fail(v, describe(v.Node)+" is not a text", "write a word or a quoted text")
		return
	}
	text := v.Node.Value
	if len(v.tags.enum) > 0 && !contains(v.tags.enum, text) {
		r.Fail(v, fmt.Sprintf("%q is not known here", text), "write one of: "+strings.Join(v.tags.enum, ", "))
		return
	}
	target.SetString(text)
}

func (r *Reader) intoBool(v Value, target reflect.Value) {
	if v.Node.Kind != yaml.ScalarNode || v.Node.Tag != "!!bool" {
		r.Fail(v, describe(v.Node)+" is neither true nor false", "write true or false")
		return
	}
	target.SetBool(v.Node.Value == "true" || v.Node.Value == "True" || v.Node.Value == "TRUE")
}

func (r *Reader) intoSlice(v Value, target reflect.Value) {
	if v.Node.Kind != yaml.SequenceNode {
		r.Fail(v, describe(v.Node)+" is not a list", "start each entry with a dash")
		return
	}
	out := reflect.MakeSlice(target.Type(), len(v.Node.Content), len(v.Node.Content))
	for i, n := range v.Node.Content {
		r.Into(Value{Node: n, Path: fmt.Sprintf("%s[%d]", v.Path, i+1), Unit: v.Unit, tags: v.tags}, out.Index(i))
	}
	target.Set(out)
}

func (r *Reader) intoMap(v Value, target reflect.Value) {
	if v.Node.Kind != yaml.MappingNode {
		r.Fail(v, describe(v.Node)+" is not a group of fields", "write name: value lines, indented")
		return
	}
	out := reflect.MakeMap(target.Type())
	for i := 0; i+1 < len(v.Node.Content); i += 2 {
		key, val := v.Node.Content[i], v.Node.Content[i+1]
		k := reflect.ValueOf(key.Value).Convert(target.Type().Key())
		if out.MapIndex(k).IsValid() {
			r.Fail(Value{Node: key, Path: join(v.Path, key.Value)}, "this name stands here twice", "keep one of them")
			continue
		}
		elem := reflect.New(target.Type().Elem()).Elem()
		r.Into(Value{Node: val, Path: join(v.Path, key.Value)}, elem)
		out.SetMapIndex(k, elem)
	}
	target.Set(out)
}

func contains(list []string, s string) bool {
	for _, x := range list {
		if x == s {
			return true
		}
	}
	return false
}

func join(path, name string) string {
	if path == "" {
		return name
	}
	return path + "." + name
}

// Plain is a place below this one whose name carries no unit.
func (v Value) Plain(name string) Value {
	return Value{Node: v.Node, Path: join(v.Path, name)}
}
