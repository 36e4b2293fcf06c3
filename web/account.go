package web

import (
	"net/http"

	"tunwright/pricing/register"

	"github.com/gin-gonic/gin"
)

// A person's own password.

func (s *Server) accountRoutes(r *gin.RouterGroup) {
	r.GET("/account", s.handle(s.showAccount))
	r.POST("/account", s.handle(s.changeOwnPassword))
}

type accountPage struct {
	frame
	Email, Role        string
	OldError, NewError string
	Said               string
}

func (s *Server) showAccount(c *gin.Context) error {
	p := accountPage{}
	if c.Query("said") == "changed" {
		p.Said = "The new password holds. You are signed out everywhere else."
	}
	return s.showAccountPage(c, p)
}

func (s *Server) showAccountPage(c *gin.Context, p accountPage) error {
	who := person(c)
	p.frame = s.frame(c, "Your account")
	p.Email, p.Role = who.Email, string(who.Role)
	return s.show(c, "account", p)
}

// changeOwnPassword asks for the old one, so that an unguarded screen is not enough.
func (s *Server) changeOwnPassword(c *gin.Context) error {
	who := person(c)
	if !s.tries.take("own "+who.Email, s.Clock()) {
		return errTooOften
	}
	p := accountPage{NewError: refusePassword(c.PostForm("new"), who.Name, who.Email)}
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
