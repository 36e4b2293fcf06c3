package web

import (
	"errors"
	"net/http"
	"strconv"

	"tunwright/pricing/register"

	"github.com/gin-gonic/gin"
)

// A person's own password, where they are signed in, and their second factor.

func (s *Server) accountRoutes(r *gin.RouterGroup) {
	r.GET("/account", s.handle(s.showAccount))
	r.POST("/account", s.handle(s.changeOwnPassword))
	r.POST("/account/sessions", s.handle(s.endSessions))
	r.POST("/account/ours", s.handle(s.turnOurs))
	s.factorRoutes(r)
}

type accountPage struct {
	frame
	Email, Role        string
	OldError, NewError string
	Said               string
	Sessions           []sessionRow
	Others             bool
	Factor, Must       bool
	Idle, Life         string
}

// sessionRow is one browser that the person is signed in with.
type sessionRow struct {
	Key, Browser, Since, Seen string
	Here                      bool
}

func (s *Server) showAccount(c *gin.Context) error {
	p := accountPage{}
	p.Said = map[string]string{
		"changed": "The new password holds. You are signed out everywhere else.",
		"ended":   "Signed out there.",
		"dropped": "The second factor is gone; the password is enough from now on.",
	}[c.Query("said")]
	return s.showAccountPage(c, p)
}

func (s *Server) showAccountPage(c *gin.Context, p accountPage) error {
	who := person(c)
	p.frame = s.frame(c, "Your account")
	p.Email, p.Role = who.Email, string(who.Role)
	a := s.access()
	p.Factor, p.Must, p.Idle, p.Life = who.Factor != "", a.Factor, strconv.Itoa(a.IdleMinutes), strconv.Itoa(a.LifeHours)
	sessions, err := s.Desk.Sessions(c.Request.Context(), who.ID, s.Clock(), a.idle())
	if err != nil {
		return err
	}
	here, _ := c.Get(sessionKey)
	own, _ := here.(register.Session)
	for _, one := range sessions {
		p.Sessions = append(p.Sessions, sessionRow{one.Key, one.Browser, stampWords(one.Created), stampWords(one.Seen), one.Key == own.Key})
	}
	p.Others = len(p.Sessions) > 1
	return s.show(c, "account", p)
}

// endSessions signs the person out of one other browser, or of all others.
func (s *Server) endSessions(c *gin.Context) error {
	ctx, who := c.Request.Context(), person(c)
	var err error
	if key := c.PostForm("key"); key != "" {
		err = s.Desk.EndSessionOf(ctx, who.ID, key, s.by(c))
	} else {
		err = s.Desk.EndOtherSessions(ctx, who.ID, s.token(c), s.by(c))
	}
	if err != nil && !errors.Is(err, register.ErrNotFound) {
		return err
	}
	return seeOther(c, "/account?said=ended")
}

// changeOwnPassword asks for the old one, so that an unguarded screen is not enough.
func (s *Server) changeOwnPassword(c *gin.Context) error {
	who := person(c)
	if !s.tries.take("own "+who.Email, s.Clock()) {
		return errTooOften
	}
	p := accountPage{NewError: s.refusePassword(c.PostForm("new"), who.Name, who.Email)}
	if !checkPassword(who.PasswordHash, c.PostForm("old")) {
		p.OldError = "this is not your password"
	}
	if p.OldError+p.NewError != "" {
		c.Status(http.StatusUnprocessableEntity)
		return s.showAccountPage(c, p)
	}
	if err := s.Desk.SetPassword(c.Request.Context(), who.ID, hashPassword(c.PostForm("new")), s.by(c)); err != nil {
		return err
	}
	return s.startSession(c, register.Person{ID: who.ID, Role: who.Role}, "/account?said=changed")
}
