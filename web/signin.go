package web

import (
	"context"
	"crypto/rand"
	"crypto/sha256"
	"crypto/subtle"
	"errors"
	"net"
	"net/http"
	"net/url"
	"slices"
	"strings"
	"sync"
	"time"

	"tunwright/pricing/register"

	"github.com/gin-gonic/gin"
)

// Signing in and out, and the first person.

func (s *Server) signInRoutes(r *gin.Engine) {
	r.GET("/sign-in", s.handle(s.showSignIn))
	r.POST("/sign-in", s.handle(s.signIn))
	r.GET("/sign-in/second", s.handle(s.showSecond))
	r.POST("/sign-in/second", s.handle(s.takeSecond))
	r.POST("/sign-out", s.handle(s.signOut))
	r.GET("/first/:token", s.handle(s.showFirst))
	r.POST("/first/:token", s.handle(s.makeFirst))
}

const (
	personKey  = "person"
	sessionKey = "session"
	// seenEvery is how exactly the register knows when a session was used: more would
	// write to it with each request.
	seenEvery = time.Minute
	// othersRoute is asked for by the page itself, whether or not somebody is there.
	othersRoute = "/enquiries/:id/others"
)

// cookieName binds the cookie to this host and to TLS where there is TLS.
func (s *Server) cookieName() string {
	if s.Secure {
		return "__Host-tunwright"
	}
	return "tunwright"
}

func (s *Server) setCookie(c *gin.Context, token string, life time.Duration) {
	s.setNamedCookie(c, s.cookieName(), token, life)
}

func (s *Server) setNamedCookie(c *gin.Context, name, token string, life time.Duration) {
	http.SetCookie(c.Writer, &http.Cookie{
		Name: name, Value: token, Path: "/", MaxAge: int(life / time.Second), HttpOnly: true, Secure: s.Secure, SameSite: http.SameSiteLaxMode,
	})
}

func (s *Server) token(c *gin.Context) string {
	cookie, err := c.Request.Cookie(s.cookieName())
	if err != nil {
		return ""
	}
	return cookie.Value
}

// person is who is signed in; the zero person where nobody is.
func person(c *gin.Context) register.Person {
	p, _ := c.Get(personKey)
	who, _ := p.(register.Person)
	return who
}

// who is the name that a change is entered under.
func (s *Server) who(c *gin.Context) string { return person(c).Name }

func (s *Server) by(c *gin.Context) register.By { return register.By{Who: s.who(c), At: s.Clock()} }

// only lets people of some roles in; others are told where their own door is.
func (s *Server) only(roles ...register.Role) gin.HandlerFunc {
	return func(c *gin.Context) {
		p, session, err := s.seen(c)
		switch {
		case errors.Is(err, register.ErrNotFound):
			s.sendToSignIn(c)
			c.Abort()
			return
		case err != nil:
			s.handle(func(*gin.Context) error { return err })(c)
			c.Abort()
			return
		}
		c.Set(personKey, p)
		c.Set(sessionKey, session)
		if p.Factor == "" && s.access().Factor && !strings.HasPrefix(c.FullPath(), "/account") {
			s.sendToFactor(c)
			c.Abort()
			return
		}
		if !slices.Contains(roles, p.Role) {
			s.showTrouble(c, &trouble{http.StatusForbidden, "This door is not yours", "Your role is " + string(p.Role) + ". Ask the owner if you need to get in here."})
			c.Abort()
			return
		}
		c.Next()
	}
}

// seen finds who a request comes from and notes that the session is in use, unless the
// page asks by itself.
func (s *Server) seen(c *gin.Context) (register.Person, register.Session, error) {
	ctx, now := c.Request.Context(), s.Clock()
	p, session, err := s.Desk.SessionPerson(ctx, s.token(c), now, s.access().idle())
	if err == nil && c.FullPath() != othersRoute && now.Sub(session.Seen) >= seenEvery {
		err = s.Desk.SeeSession(ctx, s.token(c), now)
	}
	return p, session, err
}

// sendToFactor leads somebody who still needs a second factor to where it is set up.
func (s *Server) sendToFactor(c *gin.Context) {
	if live(c) || c.Request.Method != http.MethodGet {
		s.showTrouble(c, &trouble{http.StatusForbidden, "The firm asks for a second factor", "Set it up in another window, under your name, then send this once more."})
		return
	}
	c.Redirect(http.StatusSeeOther, "/account/factor")
}

// sendToSignIn keeps where a person wanted to go. A script is told with a status, so
// that what was typed stays on its page.
func (s *Server) sendToSignIn(c *gin.Context) {
	if live(c) || c.Request.Method != http.MethodGet {
		c.Status(http.StatusUnauthorized)
		s.showTrouble(c, &trouble{http.StatusUnauthorized, "You are not signed in any more", "Sign in again in another window, then go back to this one and send the form once more: what you typed is still in it."})
		return
	}
	c.Redirect(http.StatusSeeOther, "/sign-in?to="+url.QueryEscape(c.Request.URL.RequestURI()))
}

type signInPage struct {
	frame
	Email, To, Error string
}

func (s *Server) showSignIn(c *gin.Context) error {
	return s.show(c, "signin", signInPage{frame: s.frame(c, "Sign in"), To: ownPath(c.Query("to"))})
}

// ownPath keeps a path of this server and nothing else.
func ownPath(to string) string {
	if strings.HasPrefix(to, "/") && !strings.HasPrefix(to, "//") && !strings.ContainsAny(to, "\\\r\n") {
		return to
	}
	return "/"
}

// address is where a request comes from: what the proxy wrote last, or the other end
// of the connection.
func (s *Server) address(c *gin.Context) string {
	if s.ProxyHeader != "" {
		chain := strings.Split(strings.Join(c.Request.Header.Values(s.ProxyHeader), ","), ",")
		return strings.TrimSpace(chain[len(chain)-1])
	}
	host, _, err := net.SplitHostPort(c.Request.RemoteAddr)
	if err != nil {
		return c.Request.RemoteAddr
	}
	return host
}

var errTooOften = &trouble{http.StatusTooManyRequests, "Too many tries", "Wait a quarter of an hour, then try again."}

func (s *Server) signIn(c *gin.Context) error {
	email, to := strings.ToLower(strings.TrimSpace(c.PostForm("email"))), ownPath(c.PostForm("to"))
	now := s.Clock()
	if !s.tries.allows("from "+s.address(c), now) || !s.tries.allows("for "+email, now) {
		c.Header("Retry-After", "900")
		return errTooOften
	}
	p, err := s.Desk.PersonByEmail(c.Request.Context(), email)
	if err != nil && !errors.Is(err, register.ErrNotFound) {
		return err
	}
	stored := nobody
	if err == nil && !p.Disabled && p.PasswordHash != "" {
		stored = p.PasswordHash
	}
	if !checkPassword(stored, c.PostForm("password")) || stored == nobody {
		s.tries.take("from "+s.address(c), now)
		s.tries.take("for "+email, now)
		s.Log.Warn("sign-in refused", "from", s.address(c))
		c.Status(http.StatusUnprocessableEntity)
		return s.show(c, "signin", signInPage{frame: s.frame(c, "Sign in"), Email: c.PostForm("email"), To: to, Error: "This address and password do not belong together. Check both; after ten tries there is a pause."})
	}
	if p.Factor != "" {
		return s.askSecond(c, p, to)
	}
	return s.startSession(c, p, to)
}

func (s *Server) startSession(c *gin.Context, p register.Person, to string) error {
	if old := s.token(c); old != "" {
		if err := s.Desk.EndSession(c.Request.Context(), old); err != nil {
			return err
		}
	}
	life := s.access().life()
	token, err := s.Desk.StartSession(c.Request.Context(), p.ID, browserWords(c.Request.UserAgent()), s.Clock(), life)
	if err != nil {
		return err
	}
	s.setCookie(c, token, life)
	if to == "/" {
		to = front(p.Role)
	}
	return seeOther(c, to)
}

// front is the first page of a role.
func front(r register.Role) string {
	if r == register.Office {
		return "/quotations"
	}
	return "/enquiries"
}

func (s *Server) signOut(c *gin.Context) error {
	if err := s.Desk.EndSession(c.Request.Context(), s.token(c)); err != nil {
		return err
	}
	s.setCookie(c, "", -time.Second)
	c.Header("Clear-Site-Data", `"cache", "storage"`)
	return seeOther(c, "/sign-in")
}

// firstLink is the one-time link by which the first owner comes in. Its secret lives
// in memory only and is new at each start.
type firstLink struct {
	mu   sync.Mutex
	hash [32]byte
	open bool
}

// FirstLink gives the path of the one-time link while nobody works here yet; it is
// empty once somebody does. The caller prints it on the terminal.
func (s *Server) FirstLink(ctx context.Context) (string, error) {
	people, err := s.Desk.People(ctx)
	if err != nil || len(people) > 0 {
		return "", err
	}
	token := rand.Text()
	s.first.mu.Lock()
	defer s.first.mu.Unlock()
	s.first.hash, s.first.open = sha256.Sum256([]byte(token)), true
	return "/first/" + token, nil
}

func (f *firstLink) fits(token string) bool {
	hash := sha256.Sum256([]byte(token))
	return f.open && subtle.ConstantTimeCompare(hash[:], f.hash[:]) == 1
}

var errFirstUsed = &trouble{http.StatusGone, "This link has been used or is not complete", "It works once, while nobody works here yet. Start the program again: it prints a new one if it is still needed."}

type firstPage struct {
	frame
	Form personForm
}

func (s *Server) showFirst(c *gin.Context) error {
	s.first.mu.Lock()
	fits := s.first.fits(c.Param("token"))
	s.first.mu.Unlock()
	if !fits {
		return errFirstUsed
	}
	return s.show(c, "first", firstPage{frame: s.frame(c, "The first person")})
}

func (s *Server) makeFirst(c *gin.Context) error {
	s.first.mu.Lock()
	defer s.first.mu.Unlock()
	if !s.first.fits(c.Param("token")) {
		return errFirstUsed
	}
	form := readPerson(c)
	form.Role = string(register.Owner)
	if form.check(s); form.bad() {
		c.Status(http.StatusUnprocessableEntity)
		return s.show(c, "first", firstPage{frame: s.frame(c, "The first person"), Form: form})
	}
	people, err := s.Desk.People(c.Request.Context())
	if err != nil {
		return err
	}
	if len(people) > 0 {
		return errFirstUsed
	}
	p, err := s.addPerson(c.Request.Context(), form, register.By{Who: form.Name, At: s.Clock()})
	if err != nil {
		return err
	}
	s.first.open = false
	return s.startSession(c, p, "/")
}
