package web

import (
	"encoding/base64"
	"errors"
	"fmt"
	"io"
	"net/http"
	"path"
	"strings"

	"tunwright/pricing"
	"tunwright/pricing/register"

	"github.com/gin-gonic/gin"
)

// Price books: the office reads a new version in, looks at what changes and takes it
// over. A version never changes afterwards.

func (s *Server) bookRoutes(r *gin.RouterGroup) {
	r.GET("/books", s.handle(s.showBooks))
	r.GET("/books/:id", s.handle(s.sendBook))
	r.POST("/books", s.handle(s.readBook))
	r.POST("/books/take", s.handle(s.takeBook))
}

type booksPage struct {
	frame
	Books    []bookRow
	Form     bookForm
	Problems []fieldProblem
	Preview  *bookPreview
	Said     string
}

type bookRow struct {
	ID, Currency, From, To, Note string
	Prices                       int
	InForce                      bool
	URL                          string
}

type bookForm struct{ ID, From, To, Note string }

// bookPreview is what changes when the new book takes the place of the one in force.
// The file travels with the form, so that what is taken over is what was looked at.
type bookPreview struct {
	Form    bookForm
	File    string
	Data    string
	Summary string
	Changes []bookChange
}

type bookChange struct {
	Code, Field, Was, Now, Percent string
	Confirm                        bool
}

func (s *Server) showBooks(c *gin.Context) error {
	p := booksPage{}
	if c.Query("said") == "taken" {
		p.Said = "Taken over. It counts from its first day on."
	}
	return s.showBooksPage(c, p)
}

func (s *Server) showBooksPage(c *gin.Context, p booksPage) error {
	books, err := s.Desk.Books(c.Request.Context())
	if err != nil {
		return err
	}
	p.frame = s.frame(c, "Prices")
	p.Nav = "books"
	inForce := s.house(pricing.DateOf(s.Clock())).Book
	all := append(pricing.Shelf{s.House.Book}, books...)
	for i := len(all) - 1; i >= 0; i-- {
		b := all[i]
		row := bookRow{ID: b.ID, Currency: string(b.Currency), From: b.From.String(), To: b.To.String(), Note: b.Note, Prices: len(b.Prices()), InForce: b.ID == inForce.ID}
		if b.To.IsZero() {
			row.To = "open"
		}
		row.URL = "/books/" + b.ID
		p.Books = append(p.Books, row)
	}
	return s.show(c, "books", p)
}

// sendBook gives a book as a spreadsheet to be changed and read in again.
func (s *Server) sendBook(c *gin.Context) error {
	books, err := s.Desk.Books(c.Request.Context())
	if err != nil {
		return err
	}
	for _, b := range append(pricing.Shelf{s.House.Book}, books...) {
		if b.ID == c.Param("id") {
			text, err := b.CSV()
			if err != nil {
				return err
			}
			return download(c, "text/csv; charset=utf-8", "prices-"+htmlID(b.ID)+".csv", text)
		}
	}
	return errNoPage
}

func readBookForm(c *gin.Context) bookForm {
	return bookForm{ID: strings.TrimSpace(c.PostForm("id")), From: strings.TrimSpace(c.PostForm("from")), To: strings.TrimSpace(c.PostForm("to")), Note: strings.TrimSpace(c.PostForm("note"))}
}

func (s *Server) readBook(c *gin.Context) error {
	f := readBookForm(c)
	name, data, err := uploaded(c)
	if err != nil {
		return s.refuseBook(c, f, err)
	}
	book, err := s.bookFrom(f, name, data)
	if err != nil {
		return s.refuseBook(c, f, err)
	}
	changes := pricing.Preview(s.house(pricing.DateOf(s.Clock())).Book, book)
	v := &bookPreview{Form: f, File: name, Data: base64.StdEncoding.EncodeToString(data), Summary: pricing.Summary(changes)}
	for _, ch := range changes {
		row := bookChange{Code: ch.Code, Field: ch.Field, Was: ch.Was, Now: ch.Now, Confirm: ch.Confirm}
		if !ch.Percent.IsZero() {
			row.Percent = ch.Percent.String() + " %"
		}
		v.Changes = append(v.Changes, row)
	}
	return s.showBooksPage(c, booksPage{Form: f, Preview: v})
}

var errNoFile = errors.New("no file was chosen: choose the price book as CSV or XLSX")

func uploaded(c *gin.Context) (name string, data []byte, err error) {
	header, err := c.FormFile("file")
	if err != nil {
		if _, large := errors.AsType[*http.MaxBytesError](err); large {
			return "", nil, err
		}
		return "", nil, errNoFile
	}
	f, err := header.Open()
	if err != nil {
		return "", nil, fmt.Errorf("read %s: %w", header.Filename, err)
	}
	defer f.Close()
	data, err = io.ReadAll(f)
	return path.Base(header.Filename), data, err
}

// bookFrom makes the book of a file, in the currency of the house.
func (s *Server) bookFrom(f bookForm, name string, data []byte) (*pricing.Book, error) {
	h := pricing.Header{ID: f.ID, Currency: s.House.Book.Currency, Note: f.Note}
	var err error
	if h.From, err = pricing.ParseDate(f.From); err != nil {
		return nil, fmt.Errorf("first day: %w", err)
	}
	if f.To != "" {
		if h.To, err = pricing.ParseDate(f.To); err != nil {
			return nil, fmt.Errorf("first day it no longer holds: %w", err)
		}
	}
	if strings.EqualFold(path.Ext(name), ".xlsx") {
		return pricing.ImportXLSX(name, data, h).Book()
	}
	return pricing.ImportCSV(name, data, h).Book()
}

// refuseBook shows the form again with everything that is wrong with the file.
func (s *Server) refuseBook(c *gin.Context, f bookForm, err error) error {
	p := booksPage{Form: f}
	switch problems, ok := errors.AsType[pricing.Problems](err); {
	case ok:
		for _, one := range problems {
			p.Problems = append(p.Problems, fieldProblem{Message: one.Error()})
		}
	default:
		if _, large := errors.AsType[*http.MaxBytesError](err); large {
			return err
		}
		p.Problems = []fieldProblem{{Message: err.Error()}}
	}
	c.Status(http.StatusUnprocessableEntity)
	return s.showBooksPage(c, p)
}

func (s *Server) takeBook(c *gin.Context) error {
	f, name := readBookForm(c), path.Base(c.PostForm("name"))
	data, err := base64.StdEncoding.DecodeString(c.PostForm("data"))
	if err != nil {
		return s.refuseBook(c, f, errNoFile)
	}
	book, err := s.bookFrom(f, name, data)
	if err != nil {
		return s.refuseBook(c, f, err)
	}
	switch err := s.Desk.AddBook(c.Request.Context(), book, name, data, s.by(c)); {
	case errors.Is(err, register.ErrExists):
		return s.refuseBook(c, f, fmt.Errorf("there is a book called %s already: give this version a name of its own", f.ID))
	case err != nil:
		return err
	}
	if err := s.reload(c.Request.Context()); err != nil {
		return err
	}
	return seeOther(c, "/books?said=taken")
}
