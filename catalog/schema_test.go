package catalog_test

import (
	"encoding/json"
	"errors"
	"flag"
	"fmt"
	"io/fs"
	"os"
	"regexp"
	"slices"
	"strings"
	"testing"

	"tunwright/catalog"

	"go.yaml.in/yaml/v4"
)

var update = flag.Bool("update", false, "write the published schema anew")

const schemaFile = "data/product.schema.json"

func TestPublishedSchemaIsCurrent(t *testing.T) {
	want, err := catalog.Schema()
	if err != nil {
		t.Fatal(err)
	}
	if *update {
		if err := os.WriteFile(schemaFile, want, 0o644); err != nil {
			t.Fatal(err)
		}
	}
	got, err := os.ReadFile(schemaFile)
	if err != nil || string(got) != string(want) {
		t.Errorf("%s is not current (%v): run go test ./catalog -run Schema -update", schemaFile, err)
	}
}

func schema(t *testing.T) map[string]any {
	t.Helper()
	text, err := catalog.Schema()
	if err != nil {
		t.Fatal(err)
	}
	var s map[string]any
	if err := json.Unmarshal(text, &s); err != nil {
		t.Fatal(err)
	}
	return s
}

// TestSchemaTakesTheCatalogue checks each built-in file against the schema with a
// small reading of JSON Schema 2020-12: type, properties, patternProperties,
// additionalProperties, required, items, enum, minimum and maximum.
func TestSchemaTakesTheCatalogue(t *testing.T) {
	s := schema(t)
	names, err := fs.Glob(dataFolder, "*.yaml")
	if err != nil || len(names) < 15 {
		t.Fatalf("got %d files, %v", len(names), err)
	}
	for _, name := range names {
		text, err := fs.ReadFile(dataFolder, name)
		if err != nil {
			t.Fatal(err)
		}
		if err := conforms(s, string(text)); err != nil {
			t.Errorf("%s: %v", name, err)
		}
	}
}

// TestSchemaRefusesWhatTheReaderRefuses: the schema and the reader agree on single
// fields. A quantity may be written in any unit of its kind, so that a missing one is
// the reader's alone.
func TestSchemaRefusesWhatTheReaderRefuses(t *testing.T) {
	s := schema(t)
	cases := []struct{ name, old, with string }{
		{"unknown field", "summary:", "colour: red\n    summary:"},
		{"unit missing", "empty_kg", "empty"},
		{"out of range", "length_mm: 400", "length_mm: -400"},
		{"unknown class", "class: spreading-plate", "class: plate"},
		{"word for a number", "empty_kg: 25", "empty_kg: heavy"},
		{"required word missing", "        mass_basis: maker\n", ""},
		{"value for a list", "          - {name: plate, length_mm: 400, width_mm: 400, height_mm: 20, mass_kg: 25}", "          one"},
	}
	if err := conforms(s, plate); err != nil {
		t.Fatalf("the sample itself: %v", err)
	}
	for _, c := range cases {
		text := strings.Replace(plate, c.old, c.with, 1)
		if err := conforms(s, text); err == nil {
			t.Errorf("%s: the schema lets it pass", c.name)
		}
		if _, err := catalog.Open(folder("own.yaml", text)); err == nil {
			t.Errorf("%s: the reader lets it pass", c.name)
		}
	}
	if err := conforms(s, strings.Replace(plate, "empty_kg: 25", "empty_g: 25000", 1)); err != nil {
		t.Errorf("another unit of the same kind: %v", err)
	}
}

func conforms(schema map[string]any, text string) error {
	var v any
	if err := yaml.Unmarshal([]byte(text), &v); err != nil {
		return err
	}
	return fit(schema, v, "")
}

// fit checks one value; at is its path.
func fit(schema map[string]any, v any, at string) error {
	if want, ok := schema["type"].(string); ok && !isType(want, v) {
		return fmt.Errorf("%s: %v is not of type %s", at, v, want)
	}
	if words, ok := schema["enum"].([]any); ok && !slices.Contains(words, v) {
		return fmt.Errorf("%s: %v is not in the list", at, v)
	}
	if x, ok := number(v); ok {
		lo, hasLo := schema["minimum"].(float64)
		hi, hasHi := schema["maximum"].(float64)
		if hasLo && x < lo || hasHi && x > hi {
			return fmt.Errorf("%s: %v lies outside %v to %v", at, x, lo, hi)
		}
	}
	switch v := v.(type) {
	case map[string]any:
		return fitGroup(schema, v, at)
	case []any:
		items, _ := schema["items"].(map[string]any)
		for i, e := range v {
			if err := fit(items, e, fmt.Sprintf("%s[%d]", at, i+1)); err != nil {
				return err
			}
		}
	}
	return nil
}

func fitGroup(schema, v map[string]any, at string) error {
	var wrong []error
	required, _ := schema["required"].([]any)
	for _, name := range required {
		if _, ok := v[name.(string)]; !ok {
			wrong = append(wrong, fmt.Errorf("%s: %s is missing", at, name))
		}
	}
	for name, e := range v {
		inner := property(schema, name)
		if inner == nil {
			wrong = append(wrong, fmt.Errorf("%s: %s is not known", at, name))
			continue
		}
		wrong = append(wrong, fit(inner, e, at+"."+name))
	}
	return errors.Join(wrong...)
}

func property(schema map[string]any, name string) map[string]any {
	props, _ := schema["properties"].(map[string]any)
	if p, ok := props[name].(map[string]any); ok {
		return p
	}
	patterns, _ := schema["patternProperties"].(map[string]any)
	for expr, p := range patterns {
		if regexp.MustCompile(expr).MatchString(name) {
			return p.(map[string]any)
		}
	}
	return nil
}

func isType(want string, v any) bool {
	switch want {
	case "object":
		_, ok := v.(map[string]any)
		return ok
	case "array":
		_, ok := v.([]any)
		return ok
	case "string":
		_, ok := v.(string)
		return ok
	case "boolean":
		_, ok := v.(bool)
		return ok
	case "integer":
		_, ok := v.(int)
		return ok
	}
	_, ok := number(v)
	return ok
}

func number(v any) (float64, bool) {
	switch v := v.(type) {
	case int:
		return float64(v), true
	case float64:
		return v, true
	}
	return 0, false
}
