package enquiry

import (
	"fmt"
	"reflect"
	"strings"

	"tunwright/catalog/unit"
)

// Line is one fact of the enquiry as papers list it.
type Line struct {
	Path  string // field in the file, such as site.supply.fuse_a
	What  string // the fact in words
	Where string // which step, door, beer it belongs to
	Basis Basis
	Value string
	Why   string // who told it, or why it is assumed
	Ask   string // who can settle it
}

// Facts lists every fact of the project in the order of the file.
func Facts(p Project) []Line {
	var lines []Line
	walk(reflect.ValueOf(p), "", "", &lines)
	return lines
}

// FactAt gives one fact by its path without listing the others.
func FactAt(p Project, path string) (Line, bool) {
	v := reflect.ValueOf(p)
	for {
		name, rest, more := strings.Cut(path, ".")
		field, tag, ok := fieldByName(v, name)
		if !ok {
			return Line{}, false
		}
		if more {
			v, path = field, rest
			continue
		}
		f, ok := field.Interface().(aFact)
		if !ok {
			return Line{}, false
		}
		l := f.line(name)
		l.What, l.Ask = tag.Get("doc"), tag.Get("ask")
		return l, true
	}
}

func fieldByName(v reflect.Value, name string) (reflect.Value, reflect.StructTag, bool) {
	if v.Kind() != reflect.Struct {
		return reflect.Value{}, "", false
	}
	for i := range v.NumField() {
		f := v.Type().Field(i)
		if tag, _, _ := strings.Cut(f.Tag.Get("yaml"), ","); tag == name {
			return v.Field(i), f.Tag, true
		}
	}
	return reflect.Value{}, "", false
}

// Survey lists what must still be found out: each fact that is unknown or assumed.
func Survey(p Project) []Line { return only(p, Unknown, Assumed) }

// Confirm lists what somebody said and nobody measured.
func Confirm(p Project) []Line { return only(p, Told) }

func only(p Project, bases ...Basis) []Line {
	var lines []Line
	for _, l := range Facts(p) {
		for _, b := range bases {
			if l.Basis == b {
				lines = append(lines, l)
			}
		}
	}
	return lines
}

// aFact is what every Fact[T] tells about itself.
type aFact interface{ line(field string) Line }

func (f Fact[T]) line(field string) Line {
	l := Line{Basis: f.Basis, Why: f.By}
	if f.Basis == Assumed {
		l.Why = f.Why
	}
	if f.Basis != Unknown {
		l.Value = valueText(any(f.Value), field)
	}
	return l
}

// valueText is a fact as it was said, in the unit of its field.
func valueText(v any, field string) string {
	switch x := v.(type) {
	case unit.Quantity:
		return unit.TextAs(x, field)
	case bool:
		if x {
			return "yes"
		}
		return "no"
	}
	return fmt.Sprint(v)
}

func walk(v reflect.Value, path, where string, lines *[]Line) {
	switch v.Kind() {
	case reflect.Struct:
		walkFields(v, path, where, lines)
	case reflect.Slice:
		for i := range v.Len() {
			walk(v.Index(i), fmt.Sprintf("%s[%d]", path, i+1), nameOf(v.Index(i), where), lines)
		}
	}
}

func walkFields(v reflect.Value, path, where string, lines *[]Line) {
	t := v.Type()
	for i := range t.NumField() {
		name, _, _ := strings.Cut(t.Field(i).Tag.Get("yaml"), ",")
		if name == "" {
			continue
		}
		at := strings.TrimPrefix(path+"."+name, ".")
		if f, ok := v.Field(i).Interface().(aFact); ok {
			if !Asked(v, name) {
				continue
			}
			l := f.line(name)
			l.Path, l.Where = at, where
			l.What, l.Ask = t.Field(i).Tag.Get("doc"), t.Field(i).Tag.Get("ask")
			*lines = append(*lines, l)
			continue
		}
		walk(v.Field(i), at, where, lines)
	}
}

// nameOf gives the name of a list entry, by which its facts are told apart.
func nameOf(v reflect.Value, outer string) string {
	if v.Kind() != reflect.Struct {
		return outer
	}
	name := v.FieldByName("Name")
	if !name.IsValid() || name.Kind() != reflect.String {
		return outer
	}
	if outer == "" {
		return name.String()
	}
	return outer + ", " + name.String()
}

// stepAsks says which facts matter for a step of each kind; the others are not
// missing, they do not exist.
var stepAsks = map[string]string{
	"door":           " width_mm height_mm ",
	"corridor":       " width_mm height_mm length_mm ",
	"corner":         " width_mm width_out_mm height_mm ",
	"stairs":         " width_mm width_out_mm height_mm ",
	"lift":           " width_mm height_mm car_width_mm car_depth_mm car_height_mm rated_kg ",
	"hatch":          " width_mm length_mm rated_kg ",
	"taking-in-door": " width_mm height_mm rated_kg sill_above_street_m ",
	"upend":          " height_mm ",
}

// Asked tells whether a fact exists for the thing it belongs to. A floor on the
// ground has no beams, a member is given by moment and shear or by an area load.
func Asked(owner reflect.Value, name string) bool {
	switch o := owner.Interface().(type) {
	case Step:
		return name != "wheel_load_kn" && strings.Contains(stepAsks[o.Kind], " "+name+" ") || (name == "wheel_load_kn" && o.FloorLoad.Known())
	case Member:
		byArea := o.Area.Known() || !o.Moment.Known() && !o.Shear.Known()
		return byArea == (name == "area_load_kn_m2")
	case Floor:
		return name != "engineer" || o.Kind == "suspended"
	case Bay:
		return o.Area.Known()
	}
	return true
}
