package web

import (
	"encoding/json"
	"fmt"
	"net/http"
	"strings"

	"tunwright/pricing"
	"tunwright/pricing/quotation"
	"tunwright/pricing/register"

	"github.com/gin-gonic/gin"
)

// What a client writes back: words, a wish, or the acceptance.

const longestComment = 4000

func (s *Server) clientComment(c *gin.Context) error {
	return s.writeBack(c, func(o opening, t clientTyped) (json.RawMessage, string, string) {
		if t.Text == "" {
			return nil, "", "Write what you want to tell us."
		}
		return nil, "comment", ""
	})
}

func (s *Server) clientWish(c *gin.Context) error {
	return s.writeBack(c, func(o opening, t clientTyped) (json.RawMessage, string, string) {
		if len(o.Changed) == 0 {
			return nil, "", "Nothing is changed yet: choose something above first, or write a comment."
		}
		text, err := json.Marshal(wish{Edits: o.Changed, Words: o.Words})
		if err != nil {
			return nil, "", "This wish could not be written down. Write it as a comment."
		}
		return text, "wish", ""
	})
}

func typedBack(c *gin.Context) clientTyped {
	return clientTyped{
		Name: strings.TrimSpace(c.PostForm("name")), Text: strings.TrimSpace(c.PostForm("text")),
		Role: strings.TrimSpace(c.PostForm("role")), Order: strings.TrimSpace(c.PostForm("order")),
	}
}

// writeBack enters a comment or a wish. what says what is sent, or what is wrong.
func (s *Server) writeBack(c *gin.Context, what func(opening, clientTyped) (proposal json.RawMessage, said, problem string)) error {
	o, err := s.openLink(c)
	if err != nil {
		return err
	}
	t := typedBack(c)
	var probe clientPage
	probe.choices(s, &o, func(name string) string { return c.PostForm(name) })
	proposal, said, problem := what(o, t)
	switch {
	case problem != "":
	case t.Name == "":
		problem = "Write your name, so that we know whom to answer."
	case len(t.Text) > longestComment || len(t.Name) > 200:
		problem = fmt.Sprintf("At most %d characters, please.", longestComment)
	}
	if problem != "" {
		c.Status(http.StatusUnprocessableEntity)
		o.Changed, o.Words = nil, nil
		return s.showClientPage(c, o, clientPage{Problem: problem, Typed: t}, func(name string) string { return c.PostForm(name) })
	}
	_, err = s.Desk.AddComment(c.Request.Context(), register.Comment{
		QuotationID: o.Link.QuotationID, Letter: o.Rev.Letter, LinkID: o.Link.ID, Author: t.Name + " (client)", At: s.Clock(), Text: t.Text, Proposal: proposal,
	})
	if err != nil {
		return err
	}
	return seeOther(c, "/q/"+o.Token+"?said="+said)
}

// clientAccept enters the acceptance of the revision as it was issued; a changed
// choice is a wish and no acceptance.
func (s *Server) clientAccept(c *gin.Context) error {
	o, err := s.openLink(c)
	if err != nil {
		return err
	}
	t := typedBack(c)
	problem := ""
	switch words, onOffer := s.standing(o); {
	case !onOffer:
		problem = words
	case t.Name == "":
		problem = "Write your name: it stands for your acceptance."
	case c.PostForm("agree") != "yes":
		problem = "Tick that you accept the quotation and its terms."
	case c.PostForm("digest") != o.Rev.Digest:
		problem = "This page is old. Read the quotation again before you accept it."
	}
	if problem != "" {
		c.Status(http.StatusUnprocessableEntity)
		return s.showClientPage(c, o, clientPage{Problem: problem, Typed: t}, c.Query)
	}
	by := register.By{Who: t.Name + " (client)", At: s.Clock()}
	q, err := o.Stored.Quote.Accept(quotation.Acceptance{
		Letter: o.Rev.Letter, Digest: o.Rev.Digest, Name: t.Name, Role: t.Role, Order: t.Order, From: s.address(c),
	}, pricing.DateOf(s.Clock()), by)
	if err != nil {
		return err
	}
	if _, err := s.Desk.Save(c.Request.Context(), q, o.Stored.Version, by); err != nil {
		return err
	}
	return seeOther(c, "/q/"+o.Token+"?said=accepted")
}
