package form

import (
	"fmt"
	"reflect"
	"strings"

	"tunwright/catalog/unit"
	"tunwright/configurator/enquiry"

	"github.com/shopspring/decimal"
)

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

// labels are those that the name of the field does not make.
var labels = map[string]string{
	"agreed_kva": "Agreed capacity", "offers_a": "Larger supplies offered", "ze_ohm": "Earth loop impedance Ze",
}

// label is the field's meaning in words; a short one comes from its name.
func label(sf reflect.StructField, name string) string {
	if own := labels[name]; own != "" {
		return own
	}
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
	text = strings.ToUpper(text[:1]) + text[1:]
	return strings.NewReplacer("Vat ", "VAT ", "vat ", "VAT ", "Co2", "CO₂", "co2", "CO₂").Replace(text)
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
