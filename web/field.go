package web

import (
	"strings"

	"tunwright/configurator/enquiry"
	"tunwright/web/form"
)

// viewGroup makes what the template shows of a run of fields.
func viewGroup(id string, g form.Group, pl place, taken map[string]enquiry.Line) groupView {
	v := groupView{Title: g.Title, Path: g.Path, Entry: g.List, Inner: pl.List != nil && g.Path != strings.SplitAfterN(g.Path, "]", 2)[0]}
	if pl.List != nil && !pl.List.Named && v.Entry {
		v.Title = sentenceCase(pl.List.Word) + " " + g.Title
	}
	v.Summary = summaryOf(g)
	for _, f := range g.Fields {
		fv := viewField(id, f, g.Title, taken)
		v.Fields = append(v.Fields, fv)
		v.Open = v.Open || f.Error != "" || f.Fact && f.Basis == enquiry.Unknown
	}
	if pl.Path == "site.routes" && !v.Inner {
		v.Add = &addView{Path: g.Path + ".steps", Word: "step"}
	}
	return v
}

// viewField makes what the template shows of a field. Without an enquiry's id the field
// is saved by the button of its form alone.
func viewField(id string, f form.Field, entry string, taken map[string]enquiry.Line) fieldView {
	v := fieldView{Field: f, Shown: f.Shown(entry), Hint: hint(f)}
	if id != "" {
		v.URL = "/enquiries/" + id + "/facts"
	}
	input := f.Input()
	switch f.Kind {
	case form.YesNo:
		v.Choices = []option{{"yes", "yes", input == "yes"}, {"no", "no", input == "no"}}
		if f.Fact {
			v.Choices = append([]option{{"", "not known", input == ""}}, v.Choices...)
		}
	case form.Choice:
		// Without a blank a browser would send the first answer for a field that
		// nobody has touched.
		if !f.Required || f.Value == "" {
			v.Choices = append(v.Choices, option{"", blank(f.Path), input == ""})
		}
		for _, o := range f.Options {
			v.Choices = append(v.Choices, option{o, strings.ReplaceAll(o, "-", " "), input == o})
		}
	}
	if !f.Fact {
		return v
	}
	for _, b := range form.Bases() {
		v.Bases = append(v.Bases, option{string(b), b.Word(), b == f.Basis})
	}
	if l, ok := taken[f.Path]; ok && f.Basis == enquiry.Unknown && l.Basis == enquiry.Assumed {
		v.Taken = l.Value + ", " + l.Why
	}
	return v
}

// blank is the answer of a choice that nobody has made.
func blank(path string) string {
	if strings.HasPrefix(path, "commercial.") || path == "site.delivery_term" {
		return "as the firm's terms"
	}
	return "usual"
}

// summaryOf says what is in a folded entry: its first few values.
func summaryOf(g form.Group) string {
	const shown = 3
	var parts []string
	for _, f := range g.Fields {
		switch {
		case len(parts) == shown:
			return strings.Join(parts, " · ")
		case f.Value == "" || f.Value == "no" || f.Value == g.Title || f.Kind == form.Place:
		case f.Kind == form.YesNo:
			parts = append(parts, strings.ToLower(f.Label))
		default:
			parts = append(parts, strings.TrimSpace(strings.ReplaceAll(f.Value, "-", " ")+" "+f.Unit))
		}
	}
	return strings.Join(parts, " · ")
}

// hint says what the figure is and who on site can tell it.
func hint(f form.Field) string {
	var parts []string
	if f.Means != "" && !strings.EqualFold(f.Means, f.Label) {
		parts = append(parts, f.Means)
	}
	switch f.Kind {
	case form.Place:
		parts = append(parts, "written x; y from the south-west corner")
	case form.Outline:
		parts = append(parts, "written x; y / x; y / …")
	case form.Numbers:
		parts = append(parts, "written 250; 315")
	}
	if f.Ask != "" {
		parts = append(parts, "ask: "+f.Ask)
	}
	return strings.Join(parts, " · ")
}
