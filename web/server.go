// Package web is the pages: the salesperson's desk, the client's view by link and
// the office's register. It parses what was typed, calls the pure side and shows
// what comes back; it holds no engineering and no arithmetic of money.
//
// Begin with New and Config. A file holds one page: its routes, what its template is
// given, its handlers.
package web

import (
	"context"
	"errors"
	"log/slog"
	"net/http"
	"time"

	"tunwright/configurator"
	"tunwright/pricing/offer"
	"tunwright/pricing/paper/pdf"
	"tunwright/pricing/register"

	"github.com/gin-gonic/gin"
)

// Mend is a change that was tried and mends a finding.
type Mend struct {
	Words string
	Edits []Edit
	After configurator.Report // of the job once it is made
}

// Config is what a server is made of.
type Config struct {
	House   offer.House
	Logo    []byte // PNG of the letterhead, where the firm has one
	Desk    Register
	Clock   func() time.Time
	Version string       // of the program, printed on papers
	Log     *slog.Logger // nil keeps no log
	// Secure says that people reach the server by TLS, its own or a proxy's.
	Secure bool
	// ProxyHeader is the header in which the proxy before this server writes the
	// address a request came from; empty where there is no proxy. Set it only behind
	// a proxy that overwrites it.
	ProxyHeader string
	// Mends tries changes against a finding; nil leaves the remedies as words.
	Mends func(offer.Job, configurator.Report, configurator.Finding) []Mend
}

// Server answers the requests of all pages.
type Server struct {
	Config
	pages   *pages
	assets  *assets
	printer *pdf.Printer
	engine  *gin.Engine
	first   firstLink
	now     current
	kept    memory
	common  commonWords
	begun   waiting
	tries   *limiter // of passwords
	misses  *limiter // of links that open nothing
	turns   *limiter // of clients
}

// New makes a server. It reads every template and asset once, so that a mistake in
// one shows at the start and not at a client.
func New(c Config) (*Server, error) {
	if c.Desk == nil || c.House.Catalogue == nil || c.House.Book == nil {
		return nil, errors.New("web: a catalogue, a price book and a register are needed")
	}
	if c.Clock == nil {
		c.Clock = time.Now
	}
	if c.Log == nil {
		c.Log = slog.New(slog.DiscardHandler)
	}
	const pause = 15 * time.Minute
	s := &Server{Config: c, tries: newLimiter(10, pause), misses: newLimiter(20, pause), turns: newLimiter(300, time.Minute)}
	var err error
	if s.assets, err = newAssets(); err != nil {
		return nil, err
	}
	if s.pages, err = newPages(s.assets); err != nil {
		return nil, err
	}
	if s.printer, err = pdf.New(); err != nil {
		return nil, err
	}
	if err := s.reload(context.Background()); err != nil {
		return nil, err
	}
	s.common = newCommonWords(passwordFile)
	s.engine = s.routes()
	return s, nil
}

// Handler answers requests. Browsers' cross-origin posts are refused before any page
// sees them.
func (s *Server) Handler() http.Handler {
	return http.NewCrossOriginProtection().Handler(http.MaxBytesHandler(s.engine, maxBody))
}

// maxBody holds the largest form, and a price book of some thousand lines.
const maxBody = 4 << 20

func (s *Server) routes() *gin.Engine {
	gin.SetMode(gin.ReleaseMode)
	r := gin.New()
	r.HandleMethodNotAllowed = true
	r.Use(s.recovered, headers)
	r.NoRoute(s.handle(func(*gin.Context) error { return errNoPage }))
	r.NoMethod(s.handle(func(*gin.Context) error { return errNoPage }))
	r.GET("/static/*name", s.assets.serve)
	s.signInRoutes(r)
	s.clientRoutes(r)

	everybody := r.Group("/", s.only(register.Sales, register.Approver, register.Office, register.Owner))
	everybody.GET("/", s.handle(func(c *gin.Context) error { return seeOther(c, front(person(c).Role)) }))
	s.quotationRoutes(everybody)
	s.accountRoutes(everybody)

	sales := r.Group("/", s.only(register.Sales, register.Approver, register.Owner))
	s.listRoutes(sales)
	s.deskRoutes(sales)
	s.planRoutes(sales)
	s.compareRoutes(sales)
	s.paperRoutes(sales)
	s.issueRoutes(sales)
	s.linkRoutes(sales)

	s.approvalRoutes(r.Group("/", s.only(register.Approver, register.Owner)))
	s.bookRoutes(r.Group("/", s.only(register.Office, register.Owner)))

	owner := r.Group("/", s.only(register.Owner))
	s.peopleRoutes(owner)
	s.settingsRoutes(owner)
	return r
}

// headers tell the browser to run nothing but our own files and to tell nobody where
// a person came from.
func headers(c *gin.Context) {
	h := c.Writer.Header()
	h.Set("Content-Security-Policy", "default-src 'none'; script-src 'self'; style-src 'self'; img-src 'self' data:; font-src 'self'; connect-src 'self'; form-action 'self'; base-uri 'none'; frame-ancestors 'none'")
	h.Set("X-Content-Type-Options", "nosniff")
	h.Set("Referrer-Policy", "same-origin")
	h.Set("Cross-Origin-Opener-Policy", "same-origin")
	h.Set("Cross-Origin-Resource-Policy", "same-origin")
	h.Set("Permissions-Policy", "camera=(), geolocation=(), microphone=()")
	h.Set("Cache-Control", "no-store")
	c.Next()
}
