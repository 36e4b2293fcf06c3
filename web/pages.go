package web

import (
	"bytes"
	"embed"
	"fmt"
	"html/template"
	"io/fs"
	"net/http"
	"path"
	"strings"

	"tunwright/pricing/register"

	"github.com/gin-gonic/gin"
)

//go:embed templates/*.html
var templateFiles embed.FS

// pages holds a set of templates for each page: the frame, the shared parts and the
// page itself.
type pages struct {
	sets map[string]*template.Template
}

// frame is what stands around every page.
type frame struct {
	Title  string
	Firm   string
	Nav    string // which door is marked
	Doors  []door
	Viewer string // who is looking
	Ours   string // whether the house's own figures are shown, where there are any
}

// door is an entry of the navigation.
type door struct{ Key, Title, URL string }

func (s *Server) frame(c *gin.Context, title string) frame {
	p := person(c)
	return frame{Title: title, Firm: s.firm().Name, Viewer: p.Name, Doors: doors(p.Role), Ours: ours(c, p.Role)}
}

// doors are the parts of the house that a role gets into.
func doors(r register.Role) []door {
	enquiries, quotations := door{"enquiries", "Enquiries", "/enquiries"}, door{"quotations", "Quotations", "/quotations"}
	books, people, settings := door{"books", "Prices", "/books"}, door{"people", "People", "/people"}, door{"settings", "Firm", "/settings"}
	switch r {
	case register.Sales, register.Approver:
		return []door{enquiries, quotations}
	case register.Office:
		return []door{quotations, books}
	case register.Owner:
		return []door{enquiries, quotations, books, people, settings}
	}
	return nil
}

// newPages parses all templates. Names that start with an underscore are parts.
func newPages(a *assets) (*pages, error) {
	parts, err := template.New("").Funcs(functions(a)).ParseFS(templateFiles, "templates/_*.html")
	if err != nil {
		return nil, fmt.Errorf("templates: %w", err)
	}
	files, err := fs.Glob(templateFiles, "templates/[a-z]*.html")
	if err != nil {
		return nil, fmt.Errorf("templates: %w", err)
	}
	p := &pages{sets: map[string]*template.Template{}}
	for _, file := range files {
		set, err := parts.Clone()
		if err != nil {
			return nil, fmt.Errorf("templates: %w", err)
		}
		if set, err = set.ParseFS(templateFiles, file); err != nil {
			return nil, fmt.Errorf("templates: %w", err)
		}
		p.sets[strings.TrimSuffix(path.Base(file), ".html")] = set
	}
	return p, nil
}

// functions are the only formatting that templates do.
func functions(a *assets) template.FuncMap {
	return template.FuncMap{
		"asset": a.url,
		"id":    htmlID,
		"when":  stampWords,
		"join":  strings.Join,
	}
}

// htmlID makes an element's id of a path: site.supply.fuse_a becomes site-supply-fuse_a.
func htmlID(path string) string {
	return strings.Map(func(r rune) rune {
		switch {
		case r >= 'a' && r <= 'z', r >= 'A' && r <= 'Z', r >= '0' && r <= '9', r == '_':
			return r
		}
		return '-'
	}, path)
}

// show writes a whole page.
func (s *Server) show(c *gin.Context, page string, data any) error {
	return s.write(c, page, "page", data)
}

// write executes a template into memory first, so that a mistake half-way through
// shows an error page and not half a page.
func (s *Server) write(c *gin.Context, page, name string, data any) error {
	set, ok := s.pages.sets[page]
	if !ok {
		return fmt.Errorf("there is no page %s", page)
	}
	var b bytes.Buffer
	if err := set.ExecuteTemplate(&b, name, data); err != nil {
		return fmt.Errorf("page %s: %w", page, err)
	}
	return send(c, c.Writer.Status(), "text/html; charset=utf-8", b.Bytes())
}

// live tells whether the page's script asks for a fragment.
func live(c *gin.Context) bool { return c.GetHeader("HX-Request") == "true" }

// seeOther sends the browser to a page after a form, so that a reload repeats nothing.
func seeOther(c *gin.Context, to string) error {
	c.Redirect(http.StatusSeeOther, to)
	return nil
}
