package web

import (
	"html/template"
	"testing"

	"github.com/jba/templatecheck"
)

// Each page's template is checked against the struct it is given, so that a renamed
// field shows here and not to a client.
func TestTemplatesFitTheirPages(t *testing.T) {
	a, err := newAssets()
	if err != nil {
		t.Fatal(err)
	}
	p, err := newPages(a)
	if err != nil {
		t.Fatal(err)
	}
	checked := map[string]bool{}
	for _, tt := range []struct {
		set, name string
		data      any
	}{
		{"list", "page", listPage{}},
		{"start", "page", startPage{}},
		{"trouble", "page", troublePage{}},
		{"signin", "page", signInPage{}},
		{"first", "page", firstPage{}},
		{"account", "page", accountPage{}},
		{"factor", "page", factorPage{}},
		{"second", "page", secondPage{}},
		{"people", "page", peoplePage{}},
		{"issue", "page", issuePage{}},
		{"register", "page", registerPage{}},
		{"quotation", "page", quotationPage{}},
		{"client", "page", clientPage{}},
		{"client", "client-live", clientPage{}},
		{"trail", "page", trailPage{}},
		{"desk", "others", ""},
		{"compare", "page", comparePage{}},
		{"mends", "page", mendsPage{}},
		{"mends", "mends", mendView{}},
		{"books", "page", booksPage{}},
		{"settings", "page", settingsPage{}},
		{"desk", "page", deskPage{}},
		{"desk", "sheet-and-answer", deskPage{}},
		{"desk", "changes", changesView{}},
	} {
		var set *template.Template
		if set = p.sets[tt.set].Lookup(tt.name); set == nil {
			t.Errorf("%s has no template %s", tt.set, tt.name)
			continue
		}
		if err := templatecheck.CheckHTML(set, tt.data); err != nil {
			t.Errorf("%s, %s: %v", tt.set, tt.name, err)
		}
		checked[tt.set] = true
	}
	for name := range p.sets {
		if !checked[name] {
			t.Errorf("the page %s is not checked", name)
		}
	}
}
