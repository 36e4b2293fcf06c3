package web

import (
	"bytes"
	"fmt"
	"net/http"
	"path"
	"slices"
	"strconv"
	"strings"

	"tunwright/catalog/strict"
	"tunwright/pricing/offer"
	"tunwright/pricing/pack"
	"tunwright/pricing/paper"
	"tunwright/pricing/paper/sheet"
	"tunwright/pricing/paper/svg"

	"github.com/gin-gonic/gin"
)

// The papers of an enquiry as it stands: the pack, each trade's sheet, and the tables
// that a trade takes into its own program.

func (s *Server) paperRoutes(r *gin.RouterGroup) {
	r.GET("/enquiries/:id/papers/:file", s.handle(s.sendPaper))
}

// paperRow is one paper with the forms it can be had in.
type paperRow struct {
	Title, For string
	Files      []fileLink
	Tables     []fileLink // each as CSV
	Drawings   []fileLink // each as SVG, its label saying what it shows
}

type fileLink struct{ Label, URL string }

// packKey is the file name of the whole pack, enquiryFile that of the enquiry.
const (
	packKey     = "pack"
	enquiryFile = "enquiry.yaml"
)

func papersOf(id string, o offer.Offer) []paperRow {
	base := "/enquiries/" + id + "/papers/"
	rows := []paperRow{{Title: "Everything in one", For: "client and house", Files: []fileLink{{"PDF", base + packKey + ".pdf"}}}}
	for _, p := range pack.Papers() {
		row := paperRow{Title: p.Title, For: p.For, Files: []fileLink{{"PDF", base + p.Key + ".pdf"}}}
		doc := p.Doc(o, offer.Firm{}, pack.Issue{})
		names := tableNames(sheet.Tables(doc))
		if len(names) > 0 {
			row.Files = append(row.Files, fileLink{"XLSX", base + p.Key + ".xlsx"})
		}
		for _, name := range names {
			row.Tables = append(row.Tables, fileLink{"CSV " + name, base + p.Key + ".csv?table=" + name})
		}
		for i, f := range pack.Figures(doc) {
			row.Drawings = append(row.Drawings, fileLink{f.Drawing.Title, fmt.Sprintf("%s%s.svg?figure=%d", base, p.Key, i+1)})
		}
		rows = append(rows, row)
	}
	return append(rows, paperRow{Title: "The enquiry itself", For: "to keep, or to go on with at a terminal", Files: []fileLink{{"YAML", base + enquiryFile}}})
}

// tableNames gives each table of a paper a name of its own.
func tableNames(tables []paper.Table) []string {
	names := make([]string, len(tables))
	seen := map[string]int{}
	for i, t := range tables {
		name := htmlID(t.Label())
		seen[name]++
		if n := seen[name]; n > 1 {
			name = fmt.Sprintf("%s-%d", name, n)
		}
		names[i] = name
	}
	return names
}

func (s *Server) sendPaper(c *gin.Context) error {
	d, err := s.open(c.Request.Context(), c.Param("id"))
	if err != nil {
		return err
	}
	file := c.Param("file")
	if file == enquiryFile {
		text, err := strict.YAML(d.Job)
		if err != nil {
			return err
		}
		return download(c, "application/yaml", d.Project.ID+".yaml", text)
	}
	o, err := s.answerTo(d)
	if err != nil {
		return &trouble{http.StatusConflict, "The papers cannot be made yet", err.Error()}
	}
	ext := path.Ext(file)
	doc, err := s.paper(o, strings.TrimSuffix(file, ext))
	if err != nil {
		return err
	}
	if ext == ".svg" {
		return sendDrawing(c, doc)
	}
	kind, text, err := s.draw(doc, ext, c.Query("table"))
	if err != nil {
		return err
	}
	return download(c, kind, d.Project.ID+"-"+file, text)
}

// paper is a paper of a draft: it has no number of its own yet.
func (s *Server) paper(o offer.Offer, key string) (paper.Doc, error) {
	issue := pack.Issue{Number: "draft", Revision: "–", Status: "Draft", Logo: s.Logo, Program: s.Version}
	if key == packKey {
		return pack.Pack(o, s.firm(), issue), nil
	}
	for _, p := range pack.Papers() {
		if p.Key == key {
			return p.Doc(o, s.firm(), issue), nil
		}
	}
	return paper.Doc{}, errNoPage
}

// draw makes the bytes of a paper in one of its forms.
func (s *Server) draw(doc paper.Doc, ext, table string) (kind string, text []byte, err error) {
	var b bytes.Buffer
	tables := sheet.Tables(doc)
	switch ext {
	case ".pdf":
		err = s.printer.Write(&b, doc)
		return "application/pdf", b.Bytes(), err
	case ".xlsx":
		err = sheet.WriteXLSX(&b, doc, tables...)
		return "application/vnd.openxmlformats-officedocument.spreadsheetml.sheet", b.Bytes(), err
	case ".csv":
		at := slices.Index(tableNames(tables), table)
		if at < 0 {
			return "", nil, errNoPage
		}
		err = sheet.WriteCSV(&b, tables[at])
		return "text/csv; charset=utf-8", b.Bytes(), err
	}
	return "", nil, errNoPage
}

// sendDrawing shows one drawing of a paper as it stands in the paper.
func sendDrawing(c *gin.Context, doc paper.Doc) error {
	figures := pack.Figures(doc)
	n, err := strconv.Atoi(c.Query("figure"))
	if err != nil || n < 1 || n > len(figures) {
		return errNoPage
	}
	var b bytes.Buffer
	if err := svg.Write(&b, figures[n-1].Drawing, svg.Options{}); err != nil {
		return err
	}
	c.Data(http.StatusOK, "image/svg+xml", b.Bytes())
	return nil
}

func download(c *gin.Context, kind, name string, text []byte) error {
	c.Header("Content-Disposition", fmt.Sprintf("attachment; filename=%q", name))
	c.Data(http.StatusOK, kind, text)
	return nil
}
