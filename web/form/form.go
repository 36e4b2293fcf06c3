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
