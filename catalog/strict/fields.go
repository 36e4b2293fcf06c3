package strict

import (
	"fmt"
	"reflect"
	"strconv"
	"strings"
	"sync"

	"tunwright/catalog/unit"

	"go.yaml.in/yaml/v4"
)

// fieldTags is what the tags of a struct field say.
type fieldTags struct {
	name     string
	required bool
	omit     bool
	ranged   bool
	min, max float64
	enum     []string
	doc      string
	unit     *unit.Unit // that the name ends with; nil where the field is no quantity
}

type field struct {
	tags  fieldTags
	index []int
	typ   reflect.Type
	kind  *unit.Kind
	stem  string
}

var fieldCache sync.Map

// fieldsOf lists the readable fields of a struct type, embedded ones inlined.
// The cache holds what reflection finds, which cannot change while running.
func fieldsOf(t reflect.Type) []field {
	if got, ok := fieldCache.Load(t); ok {
		return got.([]field)
	}
	fs := collect(t, nil)
	fieldCache.Store(t, fs)
	return fs
}

func collect(t reflect.Type, prefix []int) []field {
	var fs []field
	for i := range t.NumField() {
		sf := t.Field(i)
		index := append(append([]int{}, prefix...), i)
		tag, tagged := sf.Tag.Lookup("yaml")
		if sf.Anonymous && !tagged && sf.Type.Kind() == reflect.Struct {
			fs = append(fs, collect(sf.Type, index)...)
			continue
		}
		if !tagged || tag == "-" {
			continue
		}
		fs = append(fs, newField(sf, tag, index))
	}
	return fs
}

func newField(sf reflect.StructField, tag string, index []int) field {
	parts := strings.Split(tag, ",")
	f := field{index: index, typ: sf.Type, tags: fieldTags{name: parts[0], doc: sf.Tag.Get("doc")}}
	for _, opt := range parts[1:] {
		f.tags.required = f.tags.required || opt == "required"
		f.tags.omit = f.tags.omit || opt == "omitempty"
	}
	if span, ok := sf.Tag.Lookup("range"); ok {
		f.tags.min, f.tags.max, f.tags.ranged = parseSpan(span)
	}
	if words, ok := sf.Tag.Lookup("enum"); ok {
		f.tags.enum = strings.Split(words, "|")
	}
	f.kind = kindIn(sf.Type)
	f.stem = f.tags.name
	if f.kind != nil {
		u, ok := f.kind.KeyIn(f.tags.name)
		if ok {
			f.stem = strings.TrimSuffix(strings.TrimSuffix(f.tags.name, u.Key), "_")
		} else {
			u = f.kind.Units[0]
		}
		f.tags.unit = &u
	}
	return f
}

// parseSpan reads "0..50". A malformed span is a mistake in our own source, held
// by the test over all tags, so that it simply does not limit here.
func parseSpan(span string) (lo, hi float64, ok bool) {
	a, b, found := strings.Cut(span, "..")
	if !found {
		return 0, 0, false
	}
	lo, errLo := strconv.ParseFloat(a, 64)
	hi, errHi := strconv.ParseFloat(b, 64)
	return lo, hi, errLo == nil && errHi == nil
}

// kindIn finds the quantity inside pointers, lists and wrappers.
func kindIn(t reflect.Type) *unit.Kind {
	for {
		if k, ok := unit.KindOf(t); ok {
			return k
		}
		if w, ok := reflect.New(t).Interface().(Wrapper); ok {
			t = w.Wrapped()
			continue
		}
		if t.Kind() != reflect.Pointer && t.Kind() != reflect.Slice {
			return nil
		}
		t = t.Elem()
	}
}

// match tells whether a name in a file means this field, and in which unit.
func (f field) match(name string) (*unit.Unit, bool) {
	if name == f.tags.name {
		return f.tags.unit, true
	}
	if f.kind == nil || !strings.HasPrefix(name, f.stem) {
		return nil, false
	}
	for i, u := range f.kind.Units {
		if name == f.stem+"_"+u.Key || (f.stem == "" && name == u.Key) {
			return &f.kind.Units[i], true
		}
	}
	return nil, false
}

func (r *Reader) intoStruct(v Value, target reflect.Value) {
	if v.Node.Kind != yaml.MappingNode {
		r.Fail(v, describe(v.Node)+" is not a group of fields", "write name: value lines, indented")
		return
	}
	fs := fieldsOf(target.Type())
	seen := make([]bool, len(fs))
	for i := 0; i+1 < len(v.Node.Content); i += 2 {
		r.intoField(v, v.Node.Content[i], v.Node.Content[i+1], fs, seen, target)
	}
	for i, f := range fs {
		if f.tags.required && !seen[i] {
			r.Fail(Value{Node: v.Node, Path: join(v.Path, f.tags.name)}, "this field is missing", wanted(f))
		}
	}
}

func (r *Reader) intoField(v Value, key, val *yaml.Node, fs []field, seen []bool, target reflect.Value) {
	at := Value{Node: key, Path: join(v.Path, key.Value)}
	for i, f := range fs {
		u, ok := f.match(key.Value)
		if !ok {
			continue
		}
		if seen[i] {
			r.Fail(at, "this field stands here twice", "keep one of them")
			return
		}
		seen[i] = true
		r.Into(Value{Node: val, Path: at.Path, Unit: u, tags: f.tags}, target.FieldByIndex(f.index))
		return
	}
	r.Fail(at, "this field is not known here", advise(key.Value, fs))
}

func wanted(f field) string {
	switch {
	case len(f.tags.enum) > 0:
		return "write one of: " + strings.Join(f.tags.enum, ", ")
	case f.tags.doc != "":
		return "it is " + f.tags.doc
	case f.kind != nil:
		return "write a number in " + f.tags.unit.Symbol
	}
	switch f.typ.Kind() {
	case reflect.Slice:
		return "write a list, each entry with a dash"
	case reflect.Int, reflect.Float64:
		return "write a number"
	case reflect.Bool:
		return "write true or false"
	case reflect.String:
		return "write a word or a quoted text"
	}
	return "write a group of fields, indented"
}

// advise tells what an unknown name was likely meant to be.
func advise(name string, fs []field) string {
	for _, f := range fs {
		if f.kind != nil && (name == f.stem || strings.HasPrefix(name, f.stem+"_") && f.stem != "") {
			return fmt.Sprintf("the unit is missing or not one of this kind: write %s", f.tags.name)
		}
	}
	names := make([]string, len(fs))
	for i, f := range fs {
		names[i] = f.tags.name
	}
	if at, ok := Nearest(name, names); ok {
		return "did you mean " + at + "?"
	}
	return "known here: " + strings.Join(names, ", ")
}

// Nearest finds the known word that differs from a mistyped one by at most three
// letters; of several equally near it takes the first.
func Nearest(word string, known []string) (string, bool) {
	const tooFar = 4
	best, at := tooFar, ""
	if len(word) > 200 {
		return "", false
	}
	for _, k := range known {
		if d := distance(word, k); d < best {
			best, at = d, k
		}
	}
	return at, best < tooFar
}

// distance is the number of letters to change, add or drop between two words.
func distance(a, b string) int {
	prev := make([]int, len(b)+1)
	for j := range prev {
		prev[j] = j
	}
	for i := range len(a) {
		cur := make([]int, len(b)+1)
		cur[0] = i + 1
		for j := range len(b) {
			cost := 1
			if a[i] == b[j] {
				cost = 0
			}
			cur[j+1] = min(prev[j]+cost, prev[j+1]+1, cur[j]+1)
		}
		prev = cur
	}
	return prev[len(b)]
}
