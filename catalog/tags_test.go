package catalog_test

import (
	"reflect"
	"regexp"
	"strings"
	"testing"

	"tunwright/catalog/unit"
)

var span = regexp.MustCompile(`^-?[0-9.]+\.\.-?[0-9.]+$`)

// checkTag holds one field of a catalogue type to the rules of the reader.
func checkTag(t *testing.T, typ reflect.Type, f reflect.StructField) {
	t.Helper()
	at := typ.Name() + "." + f.Name
	tag, ok := f.Tag.Lookup("yaml")
	if !ok {
		t.Errorf("%s has no yaml tag and would never be read", at)
		return
	}
	name, _, _ := strings.Cut(tag, ",")
	inner := f.Type
	if inner.Kind() == reflect.Pointer {
		inner = inner.Elem()
	}
	if kind, ok := unit.KindOf(inner); ok {
		if _, ok := kind.KeyIn(name); !ok {
			t.Errorf("%s: %q does not end in a unit of %s, one of %v", at, name, kind.Name, kind.Keys())
		}
		if f.Tag.Get("range") == "" {
			t.Errorf("%s: a quantity states the range it can lie in", at)
		}
	}
	if r := f.Tag.Get("range"); r != "" && !span.MatchString(r) {
		t.Errorf("%s: the range %q cannot be read", at, r)
	}
}
