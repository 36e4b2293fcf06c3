// Package form makes the fields of a page from the enquiry's own types and turns
// what was typed into edits. The labels, units, ranges and hints are the tags that
// the file reader uses, so that a form and a file ask for the same thing.
//
// Begin with Fields and Edits.
package form

import (
	"fmt"
	"reflect"
	"strconv"
	"strings"

	"tunwright/catalog/unit"
	"tunwright/configurator/enquiry"

	"github.com/shopspring/decimal"
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
	// Lines are texts, one a line; Numbers are several figures, typed "250; 315".
	Lines   Kind = "lines"
	Numbers Kind = "numbers"
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
	Means string // what the figure is, where the label alone does not say it
	Range string // the values the reader accepts
	// Required marks what an enquiry cannot do without.
	Required bool
	Error    string
	// Typed is what stands in the input when a page comes back; nil shows the value.
	Typed *string
}

// Input is what stands in the input.
func (f Field) Input() string {
	if f.Typed != nil {
		return *f.Typed
	}
	return f.Value
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

// Own lists the plain fields of a place alone, without what lies below it. The empty
// path is the project itself.
func Own(p any, path string) (Group, error) {
	v, err := at(reflect.ValueOf(p), path)
	if err != nil {
		return Group{}, err
	}
	g, _ := own(v, path)
	return g, nil
}

// One gives the field at a path, such as site.supply.fuse_a.
func One(p any, path string) (Field, error) {
	end := strings.LastIndex(path, ".")
	owner := ""
	if end >= 0 {
		owner = path[:end]
	}
	g, err := Own(p, owner)
	if err != nil {
		return Field{}, err
	}
	for _, f := range g.Fields {
		if f.Path == path {
			return f, nil
		}
	}
	return Field{}, fmt.Errorf("the enquiry has no field %s", path)
}

// at walks to a place by the names of the file.
func at(v reflect.Value, path string) (reflect.Value, error) {
	if path == "" {
		return v, nil
	}
	for name := range strings.SplitSeq(path, ".") {
		next, ok := step(v, name)
		if !ok {
			return reflect.Value{}, fmt.Errorf("the enquiry has no %s", path)
		}
		v = next
	}
	return v, nil
}

// step goes to a field, or to an entry of a list field as in beers[2].
func step(v reflect.Value, name string) (reflect.Value, bool) {
	name, index, isEntry := strings.Cut(strings.TrimSuffix(name, "]"), "[")
	next, ok := fieldNamed(v, name)
	if !ok || !isEntry {
		return settled(next), ok
	}
	n, err := strconv.Atoi(index)
	if err != nil || next.Kind() != reflect.Slice || n < 1 || n > next.Len() {
		return reflect.Value{}, false
	}
	return next.Index(n - 1), true
}

// settled looks through the pointer of an optional group; one that is not there yet
// shows as empty fields.
func settled(v reflect.Value) reflect.Value {
	if v.Kind() != reflect.Pointer || v.Type().Elem().Kind() != reflect.Struct {
		return v
	}
	if v.IsNil() {
		return reflect.Zero(v.Type().Elem())
	}
	return v.Elem()
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
	g, below := own(v, path)
	g.Title, g.List = title, list
	if len(g.Fields) > 0 {
		*groups = append(*groups, g)
	}
	for _, name := range below {
		fv, _ := fieldNamed(v, name)
		collect(settled(fv), join(path, name), words(name), false, groups)
	}
}

// own gives the plain fields of a struct and the names of its groups and lists. The
// fields of an embedded struct are its own.
func own(v reflect.Value, path string) (Group, []string) {
	g := Group{Path: path}
	var below []string
	for i := range v.NumField() {
		sf := v.Type().Field(i)
		name := tagName(sf)
		if sf.Anonymous {
			inner, more := own(v.Field(i), path)
			g.Fields, below = append(g.Fields, inner.Fields...), append(below, more...)
			continue
		}
		if name == "" {
			continue
		}
		f, ok := newField(sf, v.Field(i), join(path, name))
		switch {
		case !ok:
			below = append(below, name)
		case !f.Fact || enquiry.Asked(v, name):
			g.Fields = append(g.Fields, f)
		}
	}
	return g, below
}

func join(path, name string) string { return strings.TrimPrefix(path+"."+name, ".") }

func collectList(v reflect.Value, path string, groups *[]Group) {
	if v.Type().Elem().Kind() != reflect.Struct {
		return
	}
	for i := range v.Len() {
		title := fmt.Sprintf("%d", i+1)
		for _, key := range []string{"tag", "name"} {
			if name, ok := fieldNamed(v.Index(i), key); ok && name.Kind() == reflect.String && name.String() != "" {
				title = name.String()
				break
			}
		}
		collect(v.Index(i), fmt.Sprintf("%s[%d]", path, i+1), title, true, groups)
	}
}

// newField makes a field of a plain value or a fact; structs and lists of them are
// groups of their own.
func newField(sf reflect.StructField, v reflect.Value, path string) (Field, bool) {
	name := tagName(sf)
	f := Field{
		Path: path, Label: label(sf, name), Ask: sf.Tag.Get("ask"), Means: sf.Tag.Get("doc"),
		Range: strings.Replace(sf.Tag.Get("range"), "..", " to ", 1), Required: strings.HasSuffix(sf.Tag.Get("yaml"), ",required"),
	}
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
	case reflect.TypeFor[decimal.Decimal]():
		f.Kind = Number
		if strings.HasSuffix(name, "pct") || name == "percent" {
			f.Unit = "%"
		}
		return true
	case reflect.TypeFor[[]string]():
		f.Kind = Lines
		return true
	}
	if kind, ok := unit.KindOf(elem(typ)); ok && typ.Kind() == reflect.Slice {
		f.Kind, f.Unit = Numbers, unitIn(kind, name).Symbol
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

func elem(t reflect.Type) reflect.Type {
	if t.Kind() == reflect.Slice {
		return t.Elem()
	}
	return t
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
	case Lines:
		return strings.Join(v.Interface().([]string), "\n")
	case Numbers:
		kind, _ := unit.KindOf(typ.Elem())
		parts := make([]string, v.Len())
		for i := range parts {
			parts[i] = unit.Digits(unitIn(kind, name).From(v.Index(i).Float()), 8)
		}
		return strings.Join(parts, "; ")
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
	text = strings.TrimSuffix(text, " m")
	text = strings.TrimSuffix(text, " pct")
	if text == "" {
		text = words(name)
	}
	return text
}

func innerKind(t reflect.Type) *unit.Kind {
	if w, ok := reflect.Zero(t).Interface().(interface{ Wrapped() reflect.Type }); ok && t.Kind() == reflect.Struct {
		t = w.Wrapped()
	}
	if t.Kind() == reflect.Pointer || t.Kind() == reflect.Slice {
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
	text = strings.ReplaceAll(text, "vat ", "VAT ")
	return strings.ToUpper(text[:1]) + text[1:]
}

// Rows is how high an input of several lines is.
func (f Field) Rows() int {
	const least, most = 3, 14
	rows := 1
	for line := range strings.SplitSeq(f.Input(), "\n") {
		const across = 80
		rows += 1 + len(line)/across
	}
	return min(max(rows, least), most)
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
