// Package form makes the fields of a page from the enquiry's own types and turns
// what was typed into edits. The labels, units, ranges and hints are the tags that
// the file reader uses, so that a form and a file ask for the same thing.
//
// Begin with Fields and Edits.
package form

import (
	"fmt"
	"reflect"
	"strings"

	"tunwright/catalog/unit"
	"tunwright/configurator/enquiry"
)

// Kind is how a field is asked for.
type Kind string

const (
	Text   Kind = "text"
	Number Kind = "number"
	Choice Kind = "choice"
	YesNo  Kind = "yesno"
	Day    Kind = "day"
	// Place is a point of the plan, typed "x; y"; Outline is several of them.
	Place   Kind = "place"
	Outline Kind = "outline"
)

// Field is one value on a page.
type Field struct {
	Path    string // where it stands in the enquiry
	Label   string
	Unit    string
	Kind    Kind
	Value   string
	Options []string
	// A fact also says how it is known, and by whom or why.
	Fact  bool
	Basis enquiry.Basis
	Why   string
	Ask   string // who can settle it
	Error string
}

// Bases are the ways a fact can be known, in the order a form offers them.
func Bases() []enquiry.Basis {
	return []enquiry.Basis{enquiry.Unknown, enquiry.Assumed, enquiry.Told, enquiry.Measured}
}

// Group is a run of fields under one title, such as one beer or one door.
type Group struct {
	Title  string
	Path   string
	List   bool // an entry of a list, which can be removed
	Fields []Field
}

// Fields lists the fields below a place in a project, grouped by list entry.
func Fields(p any, path string) ([]Group, error) {
	v, err := at(reflect.ValueOf(p), path)
	if err != nil {
		return nil, err
	}
	var groups []Group
	collect(v, path, "", false, &groups)
	return groups, nil
}

// at walks to a place by the names of the file.
func at(v reflect.Value, path string) (reflect.Value, error) {
	for name := range strings.SplitSeq(path, ".") {
		next, ok := fieldNamed(v, name)
		if !ok {
			return reflect.Value{}, fmt.Errorf("the enquiry has no %s", path)
		}
		v = next
	}
	return v, nil
}

func fieldNamed(v reflect.Value, name string) (reflect.Value, bool) {
	if v.Kind() != reflect.Struct {
		return reflect.Value{}, false
	}
	for i := range v.NumField() {
		if tagName(v.Type().Field(i)) == name {
			return v.Field(i), true
		}
		if v.Type().Field(i).Anonymous {
			if inner, ok := fieldNamed(v.Field(i), name); ok {
				return inner, true
			}
		}
	}
	return reflect.Value{}, false
}

func tagName(f reflect.StructField) string {
	name, _, _ := strings.Cut(f.Tag.Get("yaml"), ",")
	return name
}

// collect gathers the plain fields of a struct as one group and its lists after it.
func collect(v reflect.Value, path, title string, list bool, groups *[]Group) {
	if v.Kind() == reflect.Slice {
		collectList(v, path, groups)
		return
	}
	if v.Kind() != reflect.Struct {
		return
	}
	g := Group{Title: title, Path: path, List: list}
	var later []func()
	for i := range v.NumField() {
		sf := v.Type().Field(i)
		name := tagName(sf)
		if name == "" {
			continue
		}
		child := path + "." + name
		if f, ok := newField(sf, v.Field(i), child); ok {
			if enquiry.Asked(v, name) {
				g.Fields = append(g.Fields, f)
			}
			continue
		}
		fv := v.Field(i)
		later = append(later, func() { collect(fv, child, words(name), false, groups) })
	}
	if len(g.Fields) > 0 {
		*groups = append(*groups, g)
	}
	for _, f := range later {
		f()
	}
}

func collectList(v reflect.Value, path string, groups *[]Group) {
	if v.Type().Elem().Kind() != reflect.Struct {
		return
	}
	for i := range v.Len() {
		title := fmt.Sprintf("%d", i+1)
		if name, ok := fieldNamed(v.Index(i), "name"); ok && name.Kind() == reflect.String {
			title = name.String()
		}
		collect(v.Index(i), fmt.Sprintf("%s[%d]", path, i+1), title, true, groups)
	}
}

// newField makes a field of a plain value or a fact; structs and lists of them are
// groups of their own.
func newField(sf reflect.StructField, v reflect.Value, path string) (Field, bool) {
	name := tagName(sf)
	f := Field{Path: path, Label: label(sf, name), Ask: sf.Tag.Get("ask")}
	typ := sf.Type
	if w, ok := reflect.Zero(typ).Interface().(interface{ Wrapped() reflect.Type }); ok {
		f.Fact = true
		f.Basis = enquiry.Basis(v.FieldByName("Basis").String())
		f.Why = v.FieldByName("By").String() + v.FieldByName("Why").String()
		typ, v = w.Wrapped(), v.FieldByName("Value")
	}
	known := !f.Fact || f.Basis != enquiry.Unknown
	if typ.Kind() == reflect.Pointer {
		typ, known = typ.Elem(), !v.IsNil()
		if known {
			v = v.Elem()
		}
	}
	if !describe(&f, sf, typ, name) {
		return Field{}, false
	}
	if known {
		f.Value = valueText(f, v, typ, name)
	}
	return f, true
}

// describe fills kind, unit and choices by type; it refuses what is not one value.
func describe(f *Field, sf reflect.StructField, typ reflect.Type, name string) bool {
	if kind, ok := unit.KindOf(typ); ok {
		f.Kind, f.Unit = Number, unitIn(kind, name).Symbol
		return true
	}
	switch typ {
	case reflect.TypeFor[enquiry.Date]():
		f.Kind = Day
		return true
	case reflect.TypeFor[enquiry.Point]():
		f.Kind, f.Unit = Place, "m"
		return true
	case reflect.TypeFor[[]enquiry.Point]():
		f.Kind, f.Unit = Outline, "m"
		return true
	}
	switch typ.Kind() {
	case reflect.Bool:
		f.Kind = YesNo
	case reflect.Int, reflect.Float64:
		f.Kind = Number
	case reflect.String:
		f.Kind = Text
		if words := sf.Tag.Get("enum"); words != "" {
			f.Kind, f.Options = Choice, strings.Split(words, "|")
		}
	default:
		return false
	}
	return true
}

func unitIn(kind *unit.Kind, name string) unit.Unit {
	if u, ok := kind.KeyIn(name); ok {
		return u
	}
	return kind.Units[0]
}

func valueText(f Field, v reflect.Value, typ reflect.Type, name string) string {
	if kind, ok := unit.KindOf(typ); ok {
		if v.Float() == 0 && !f.Fact {
			return ""
		}
		return unit.Digits(unitIn(kind, name).From(v.Float()), 8)
	}
	switch f.Kind {
	case Place:
		return pointText(v.Interface().(enquiry.Point))
	case Outline:
		return outlineText(v.Interface().([]enquiry.Point))
	case YesNo:
		if v.Bool() {
			return "yes"
		}
		return "no"
	case Number:
		if v.IsZero() && !f.Fact {
			return ""
		}
	}
	return fmt.Sprint(v.Interface())
}

// label is the field's meaning in words; a short one comes from its name.
func label(sf reflect.StructField, name string) string {
	text := words(name)
	if kind := innerKind(sf.Type); kind != nil {
		if u, ok := kind.KeyIn(name); ok {
			text = words(strings.TrimSuffix(strings.TrimSuffix(name, u.Key), "_"))
		}
	}
	if text == "" {
		text = words(name)
	}
	return text
}

func innerKind(t reflect.Type) *unit.Kind {
	if w, ok := reflect.Zero(t).Interface().(interface{ Wrapped() reflect.Type }); ok && t.Kind() == reflect.Struct {
		t = w.Wrapped()
	}
	if t.Kind() == reflect.Pointer {
		t = t.Elem()
	}
	k, ok := unit.KindOf(t)
	if !ok {
		return nil
	}
	return k
}

func words(name string) string {
	text := strings.ReplaceAll(name, "_", " ")
	if text == "" {
		return ""
	}
	return strings.ToUpper(text[:1]) + text[1:]
}

func pointText(p enquiry.Point) string {
	return unit.Digits(p.X.M(), 8) + "; " + unit.Digits(p.Y.M(), 8)
}

func outlineText(ps []enquiry.Point) string {
	parts := make([]string, len(ps))
	for i, p := range ps {
		parts[i] = pointText(p)
	}
	return strings.Join(parts, " / ")
}
