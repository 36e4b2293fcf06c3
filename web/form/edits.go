package form

import (
	"encoding/json"
	"fmt"
	"strconv"
	"strings"

	"tunwright/catalog/strict"
	"tunwright/configurator/enquiry"
)

// Names of the inputs of one field: its value, how a fact is known, the person or
// reason behind it, and what the page showed when the person began to type.
func ValueName(path string) string { return "v:" + path }
func BasisName(path string) string { return "b:" + path }
func WhyName(path string) string   { return "w:" + path }
func ShownName(path string) string { return "o:" + path }

// seen is what a page showed of a field, so that a change by somebody else in the
// meantime is neither overwritten nor taken for this person's own.
type seen struct{ Value, Basis, Why, Entry string }

// Shown is the text of the input that carries what the page shows. The entry tells a
// field of a list apart when entries before it were taken away.
func (f Field) Shown(entry string) string {
	text, err := json.Marshal([4]string{f.Value, string(f.Basis), f.Why, entry})
	if err != nil {
		return "" // four strings always marshal
	}
	return string(text)
}

func (f Field) seen(entry string, get func(string) (string, bool)) seen {
	now := seen{f.Value, string(f.Basis), f.Why, entry}
	text, sent := get(ShownName(f.Path))
	var parts [4]string
	if !sent || json.Unmarshal([]byte(text), &parts) != nil {
		return now
	}
	return seen{parts[0], parts[1], parts[2], parts[3]}
}

// Clash is a field that somebody else changed while this person typed.
type Clash struct {
	Path  string
	Typed string
	Was   string // what the page showed
	Now   string // what stands there now
}

// Edits compares what was typed with what the page showed and gives an edit for each
// field that changed. A field that somebody else changed in the meantime as well is a
// clash and no edit. get returns an input by name and whether it was sent.
func Edits(groups []Group, get func(name string) (string, bool)) ([]enquiry.Edit, []Clash) {
	var edits []enquiry.Edit
	var clashes []Clash
	for _, g := range groups {
		for _, f := range g.Fields {
			typed, sent := typedIn(f, get)
			if !sent {
				continue
			}
			was, now := f.seen(g.Title, get), seen{f.Value, string(f.Basis), f.Why, g.Title}
			e, changed := f.edit(typed, was)
			switch {
			case !changed || typed.Value == now.Value && typed.Basis == now.Basis && typed.Why == now.Why:
			case was != now && !(was.Entry != now.Entry && f.Path == g.Path+".name"):
				clashes = append(clashes, Clash{Path: f.Path, Typed: typed.Value, Was: was.Value, Now: now.Value})
			default:
				edits = append(edits, e)
			}
		}
	}
	return edits, clashes
}

// typedIn gathers the inputs of a field as a person left them.
func typedIn(f Field, get func(string) (string, bool)) (seen, bool) {
	value, sent := get(ValueName(f.Path))
	if !sent {
		return seen{}, false
	}
	t := seen{Value: strings.TrimSpace(strings.ReplaceAll(value, "\r\n", "\n"))}
	if f.Fact {
		basis, _ := get(BasisName(f.Path))
		why, _ := get(WhyName(f.Path))
		t.Basis, t.Why = strings.TrimSpace(basis), strings.TrimSpace(why)
	}
	return t, true
}

func (f Field) edit(typed, was seen) (enquiry.Edit, bool) {
	if f.Fact {
		return f.factEdit(typed, was)
	}
	if typed.Value == was.Value {
		return enquiry.Edit{}, false
	}
	if typed.Value == "" {
		return enquiry.Edit{Op: enquiry.Remove, Path: f.Path}, true
	}
	return enquiry.Edit{Op: enquiry.Set, Path: f.Path, Text: written(f, typed.Value)}, true
}

func (f Field) factEdit(typed, was seen) (enquiry.Edit, bool) {
	basis := enquiry.Basis(typed.Basis)
	if typed.Value != "" && basis == enquiry.Unknown && typed.Value != was.Value {
		// A figure typed in a call without saying how it is known is what the person
		// on the phone was told.
		basis = enquiry.Told
	}
	if typed.Value == was.Value && string(basis) == was.Basis && typed.Why == was.Why {
		return enquiry.Edit{}, false
	}
	if typed.Value == "" || basis == enquiry.Unknown {
		return enquiry.Edit{Op: enquiry.Set, Path: f.Path, Text: "unknown"}, was.Basis != string(enquiry.Unknown)
	}
	reason := "by"
	if basis == enquiry.Assumed {
		reason = "why"
	}
	why := typed.Why
	if why == "" || why == defaultWhy(enquiry.Basis(was.Basis)) {
		why = defaultWhy(basis)
	}
	text := fmt.Sprintf("{%s: %s, %s: %s}", basis, written(f, typed.Value), reason, strconv.Quote(why))
	return enquiry.Edit{Op: enquiry.Set, Path: f.Path, Text: text}, true
}

// defaultWhy is what the sheet prints where nobody was named.
func defaultWhy(b enquiry.Basis) string {
	switch b {
	case enquiry.Unknown:
		return ""
	case enquiry.Assumed:
		return "assumed during the call"
	case enquiry.Measured:
		return "measured, by whom not noted"
	}
	return "told during the call, by whom not noted"
}

// written is a typed text as it would stand in a file. Numbers may be typed with a
// decimal comma; three digits behind the only comma could be a thousands mark as
// well, so that the reader is left to refuse it rather than to guess.
func written(f Field, typed string) string {
	switch f.Kind {
	case Number:
		return number(typed)
	case Numbers:
		return list(strings.Split(typed, ";"), number)
	case Lines:
		return list(strings.Split(typed, "\n"), strconv.Quote)
	case Place:
		return place(typed)
	case Outline:
		return list(strings.Split(typed, "/"), place)
	case YesNo:
		return strconv.FormatBool(typed == "yes")
	}
	return strconv.Quote(typed)
}

func list(parts []string, write func(string) string) string {
	var out []string
	for _, p := range parts {
		if p = strings.TrimSpace(p); p != "" {
			out = append(out, write(p))
		}
	}
	return "[" + strings.Join(out, ", ") + "]"
}

func number(typed string) string {
	whole, decimals, comma := strings.Cut(typed, ",")
	if comma && len(decimals) != 3 && !strings.ContainsAny(decimals, ",.") && !strings.Contains(whole, ".") {
		typed = whole + "." + decimals
	}
	if strings.Trim(typed, "+-.0123456789eE") != "" {
		return strconv.Quote(typed)
	}
	return typed
}

// place writes "2,4; 6.1" as a point of the file; anything else is quoted, so that
// the reader refuses it with its own words.
func place(typed string) string {
	x, y, ok := strings.Cut(typed, ";")
	x, y = strings.TrimSpace(x), strings.TrimSpace(y)
	x, y = strings.Replace(x, ",", ".", 1), strings.Replace(y, ",", ".", 1)
	_, errX := strconv.ParseFloat(x, 64)
	_, errY := strconv.ParseFloat(y, 64)
	if !ok || errX != nil || errY != nil {
		return strconv.Quote(typed)
	}
	return "[" + x + ", " + y + "]"
}

// Restore puts what was typed back into the fields of a page that is shown again.
func Restore(groups []Group, get func(string) (string, bool)) {
	for gi := range groups {
		for fi := range groups[gi].Fields {
			f := &groups[gi].Fields[fi]
			if typed, sent := typedIn(*f, get); sent {
				f.Typed = &typed.Value
			}
		}
	}
}

// Assign puts the problems of a refused edit to their fields and returns those that
// belong to none of them.
func Assign(groups []Group, problems strict.Problems) strict.Problems {
	var rest strict.Problems
	for _, p := range problems {
		if !assignOne(groups, p) {
			rest = append(rest, p)
		}
	}
	return rest
}

func assignOne(groups []Group, p strict.Problem) bool {
	f := Find(groups, p.Field)
	if f == nil {
		return false
	}
	f.Error = p.Message
	if p.WouldHelp != "" {
		f.Error += "; " + p.WouldHelp
	}
	return true
}

// Find gives the field of a path, or the one whose value has a part at that path.
func Find(groups []Group, path string) *Field {
	for gi := range groups {
		for fi := range groups[gi].Fields {
			f := &groups[gi].Fields[fi]
			if f.Path == path || strings.HasPrefix(path, f.Path+".") || strings.HasPrefix(path, f.Path+"[") {
				return f
			}
		}
	}
	return nil
}
