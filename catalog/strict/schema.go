package strict

import (
	"encoding"
	"encoding/json"
	"reflect"
	"strings"

	"tunwright/catalog/unit"
)

// SchemaType is a type that describes itself in a JSON Schema.
type SchemaType interface {
	SchemaStrict(inner func(reflect.Type) map[string]any) map[string]any
}

// Schema gives the JSON Schema (draft 2020-12) of the files that Decode reads
// into the type of v, so that an editor can check and complete them.
func Schema(title string, v any) ([]byte, error) {
	s := schemaOf(reflect.TypeOf(v), fieldTags{})
	s["$schema"] = "https://json-schema.org/draft/2020-12/schema"
	s["title"] = title
	return json.MarshalIndent(s, "", "  ")
}

func schemaOf(t reflect.Type, tags fieldTags) map[string]any {
	if t.Kind() == reflect.Pointer {
		return schemaOf(t.Elem(), tags)
	}
	if st, ok := reflect.New(t).Interface().(SchemaType); ok {
		return st.SchemaStrict(func(inner reflect.Type) map[string]any { return schemaOf(inner, tags) })
	}
	if _, ok := reflect.New(t).Interface().(encoding.TextUnmarshaler); ok {
		return map[string]any{"type": []string{"string", "number"}}
	}
	if _, ok := unit.KindOf(t); ok || t.Kind() == reflect.Float64 {
		return numberSchema("number", tags)
	}
	switch t.Kind() {
	case reflect.Struct:
		return structSchema(t)
	case reflect.Slice:
		return map[string]any{"type": "array", "items": schemaOf(t.Elem(), tags)}
	case reflect.Map:
		return map[string]any{"type": "object", "additionalProperties": schemaOf(t.Elem(), fieldTags{})}
	case reflect.Bool:
		return map[string]any{"type": "boolean"}
	case reflect.Int, reflect.Int64:
		return numberSchema("integer", tags)
	}
	s := map[string]any{"type": "string"}
	if len(tags.enum) > 0 {
		s["enum"] = tags.enum
	}
	return s
}

func numberSchema(typ string, tags fieldTags) map[string]any {
	s := map[string]any{"type": typ}
	if tags.ranged {
		s["minimum"], s["maximum"] = tags.min, tags.max
	}
	return s
}

func structSchema(t reflect.Type) map[string]any {
	props, patterns, required := map[string]any{}, map[string]any{}, []string{}
	for _, f := range fieldsOf(t) {
		p := schemaOf(f.typ, f.tags)
		if doc := describeField(f); doc != "" {
			p["description"] = doc
		}
		props[f.tags.name] = p
		if others := otherNames(f); others != "" {
			// Another unit of the same kind is read too; its range differs, so none is stated.
			patterns[others] = schemaOf(f.typ, fieldTags{})
		}
		if f.tags.required && f.kind == nil {
			required = append(required, f.tags.name)
		}
	}
	s := map[string]any{"type": "object", "properties": props, "additionalProperties": false}
	if len(patterns) > 0 {
		s["patternProperties"] = patterns
	}
	if len(required) > 0 {
		s["required"] = required
	}
	return s
}

func describeField(f field) string {
	if f.kind == nil {
		return f.tags.doc
	}
	return strings.TrimSpace(f.tags.doc + " [" + f.tags.unit.Symbol + "]")
}

func otherNames(f field) string {
	if f.kind == nil || f.stem == "" {
		return ""
	}
	var keys []string
	for _, k := range f.kind.Keys() {
		if f.stem+"_"+k != f.tags.name {
			keys = append(keys, k)
		}
	}
	if len(keys) == 0 {
		return ""
	}
	return "^" + f.stem + "_(" + strings.Join(keys, "|") + ")$"
}
