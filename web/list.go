package web

import (
	"context"
	"crypto/rand"
	"fmt"
	"net/http"
	"strings"
	"time"

	"tunwright/configurator"
	"tunwright/pricing/offer"
	"tunwright/pricing/register"
	"tunwright/testdata/projects"

	"github.com/gin-gonic/gin"
)

// The list of enquiries, and how a new one begins: from a few facts or from a sample.

func (s *Server) listRoutes(r *gin.RouterGroup) {
	r.GET("/enquiries", s.handle(s.showList))
	r.GET("/enquiries/new", s.handle(s.showStart))
	r.POST("/enquiries", s.handle(s.startFromFacts))
	r.POST("/enquiries/sample", s.handle(s.startFromSample))
}

type listPage struct {
	frame
	Enquiries []listRow
	Samples   []sampleRow
}

type listRow struct {
	ID, Title, By string
	Revision      int
	At            time.Time
}

type sampleRow struct{ Key, Title, Kind string }

// sampleKinds say what each sample is a case of.
var sampleKinds = map[string]string{
	"weaving-mill":    "an upper floor, reached by a taking-in door and a goods lift",
	"hotel-basement":  "a cellar reached by a light well",
	"hill-farm":       "a barn on a single-phase supply",
	"industrial-unit": "a 20 hL plant with steam on a ground-bearing slab",
}

const listedAtMost = 500

func (s *Server) showList(c *gin.Context) error {
	found, err := s.Desk.Projects(c.Request.Context(), listedAtMost)
	if err != nil {
		return err
	}
	p := listPage{frame: s.frame(c, "Enquiries")}
	p.Nav = "enquiries"
	for _, f := range found {
		p.Enquiries = append(p.Enquiries, listRow{ID: f.ID, Title: f.Title, By: f.UpdatedBy, Revision: f.Revision, At: f.UpdatedAt})
	}
	if p.Samples, err = samples(); err != nil {
		return err
	}
	return s.show(c, "list", p)
}

func samples() ([]sampleRow, error) {
	var rows []sampleRow
	for _, name := range projects.Names() {
		job, err := sample(name)
		if err != nil {
			return nil, err
		}
		rows = append(rows, sampleRow{Key: name, Title: job.Title, Kind: sampleKinds[name]})
	}
	return rows, nil
}

// arranged gives a job its first layout, so that the desk begins with the same figures
// as a check of the file.
func (s *Server) arranged(job offer.Job) (offer.Job, error) {
	p, err := configurator.Arrange(job.Project, s.House.Catalogue)
	if err != nil {
		return job, fmt.Errorf("lay out %s: %w", job.Title, err)
	}
	job.Project = p
	return job, nil
}

func sample(name string) (offer.Job, error) {
	text, err := projects.Text(name)
	if err != nil {
		return offer.Job{}, err
	}
	return offer.Read(name+".yaml", text)
}

func (s *Server) startFromSample(c *gin.Context) error {
	job, err := sample(c.PostForm("sample"))
	if err != nil {
		return &trouble{http.StatusUnprocessableEntity, "There is no such sample", err.Error()}
	}
	return s.begin(c, job)
}

// begin puts a new enquiry on the desk and opens it.
func (s *Server) begin(c *gin.Context, job offer.Job) error {
	job, err := s.arranged(job)
	if err != nil {
		return err
	}
	d, err := s.keep(c.Request.Context(), draft{Project: register.Project{ID: newID()}, Job: job}, s.who(c))
	if err != nil {
		return err
	}
	return seeOther(c, deskURL(d.Project.ID, ""))
}

// newID is short enough to be read over the phone.
func newID() string { return strings.ToLower(rand.Text()[:8]) }

// LoadDemo puts the built-in demo on an empty desk, so that a first visit has
// something to try.
func (s *Server) LoadDemo(ctx context.Context) error {
	found, err := s.Desk.Projects(ctx, 1)
	if err != nil || len(found) > 0 {
		return err
	}
	job, err := sample(projects.Demo)
	if err != nil {
		return err
	}
	if job, err = s.arranged(job); err != nil {
		return err
	}
	if _, err := s.keep(ctx, draft{Project: register.Project{ID: projects.Demo}, Job: job}, "the program"); err != nil {
		return fmt.Errorf("load the demo: %w", err)
	}
	return nil
}
