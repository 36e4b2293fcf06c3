package web

import (
	"context"
	"errors"
	"net/http"
	"net/mail"
	"strconv"
	"strings"

	"tunwright/pricing/register"

	"github.com/gin-gonic/gin"
)

// Who works here: the owner enters people, gives them a new password or lets them go.

func (s *Server) peopleRoutes(r *gin.RouterGroup) {
	r.GET("/people", s.handle(s.showPeople))
	r.GET("/trail", s.handle(s.showTrail))
	r.POST("/people", s.handle(s.addOne))
	r.POST("/people/:id/password", s.handle(s.newPassword))
	r.POST("/people/:id/disable", s.handle(s.letGo))
	r.POST("/people/:id/factor", s.handle(s.takeFactor))
}

type peoplePage struct {
	frame
	People []personRow
	Form   personForm
	Roles  []option
	Said   string
}

type personRow struct {
	ID                int64
	Name, Email, Role string
	Disabled, Self    bool
	Factor            bool
	PasswordError     string
}

// personForm is what is typed of a person. The password never goes back to the page.
type personForm struct {
	Name, Email, Role, password                     string
	NameError, EmailError, RoleError, PasswordError string
}

var roleWords = []struct {
	Role  register.Role
	Words string
}{
	{register.Sales, "sales: enquiries, quotations, links"},
	{register.Approver, "approver: sales, and says yes where a second person is asked"},
	{register.Office, "office: register, papers, price books"},
	{register.Owner, "owner: everything, people and settings too"},
}

func readPerson(c *gin.Context) personForm {
	return personForm{
		Name: strings.TrimSpace(c.PostForm("name")), Email: strings.TrimSpace(c.PostForm("email")), Role: c.PostForm("role"), password: c.PostForm("password"),
	}
}

func (f *personForm) check(s *Server) {
	if f.Name == "" {
		f.NameError = "a name is needed: it stands beside everything the person does"
	}
	if a, err := mail.ParseAddress(f.Email); err != nil || a.Address != f.Email {
		f.EmailError = "this is not an e-mail address: write it as name@firm.example"
	}
	known := false
	for _, r := range roleWords {
		known = known || string(r.Role) == f.Role
	}
	if !known {
		f.RoleError = "choose one of the roles"
	}
	f.PasswordError = s.refusePassword(f.password, f.Name, f.Email)
}

func (f *personForm) bad() bool {
	return f.NameError+f.EmailError+f.RoleError+f.PasswordError != ""
}

func (s *Server) addPerson(ctx context.Context, f personForm, by register.By) (register.Person, error) {
	p := register.Person{Name: f.Name, Email: strings.ToLower(f.Email), Role: register.Role(f.Role), PasswordHash: hashPassword(f.password)}
	var err error
	p.ID, err = s.Desk.AddPerson(ctx, p, by)
	return p, err
}

func (s *Server) showPeople(c *gin.Context) error {
	return s.showPeoplePage(c, peoplePage{Said: map[string]string{"added": "The person can sign in now.", "password": "The new password holds; the person is signed out everywhere.", "disabled": "The person is signed out everywhere and cannot sign in any more.", "factor": "The second factor is gone and the person is signed out everywhere; the password is enough until a new one is set up."}[c.Query("said")]})
}

func (s *Server) showPeoplePage(c *gin.Context, p peoplePage) error {
	people, err := s.Desk.People(c.Request.Context())
	if err != nil {
		return err
	}
	p.frame = s.frame(c, "People")
	p.Nav = "people"
	rows := p.People
	p.People = nil
	for _, one := range people {
		row := personRow{ID: one.ID, Name: one.Name, Email: one.Email, Role: string(one.Role), Disabled: one.Disabled, Self: one.ID == person(c).ID, Factor: one.Factor != ""}
		for _, r := range rows {
			if r.ID == one.ID {
				row.PasswordError = r.PasswordError
			}
		}
		p.People = append(p.People, row)
	}
	for _, r := range roleWords {
		p.Roles = append(p.Roles, option{string(r.Role), r.Words, string(r.Role) == p.Form.Role})
	}
	return s.show(c, "people", p)
}

func (s *Server) addOne(c *gin.Context) error {
	f := readPerson(c)
	if f.check(s); !f.bad() {
		_, err := s.addPerson(c.Request.Context(), f, s.by(c))
		if err == nil {
			return seeOther(c, "/people?said=added")
		}
		if !errors.Is(err, register.ErrExists) {
			return err
		}
		f.EmailError = "somebody with this address is entered already"
	}
	c.Status(http.StatusUnprocessableEntity)
	return s.showPeoplePage(c, peoplePage{Form: f})
}

func (s *Server) personOf(c *gin.Context) (register.Person, error) {
	id, err := strconv.ParseInt(c.Param("id"), 10, 64)
	if err != nil {
		return register.Person{}, errNoPage
	}
	people, err := s.Desk.People(c.Request.Context())
	if err != nil {
		return register.Person{}, err
	}
	for _, p := range people {
		if p.ID == id {
			return p, nil
		}
	}
	return register.Person{}, errNoPage
}

func (s *Server) newPassword(c *gin.Context) error {
	p, err := s.personOf(c)
	if err != nil {
		return err
	}
	if words := s.refusePassword(c.PostForm("password"), p.Name, p.Email); words != "" {
		c.Status(http.StatusUnprocessableEntity)
		return s.showPeoplePage(c, peoplePage{People: []personRow{{ID: p.ID, PasswordError: words}}})
	}
	if err := s.Desk.SetPassword(c.Request.Context(), p.ID, hashPassword(c.PostForm("password")), s.by(c)); err != nil {
		return err
	}
	return seeOther(c, "/people?said=password")
}

func (s *Server) letGo(c *gin.Context) error {
	p, err := s.personOf(c)
	if err != nil {
		return err
	}
	if p.ID == person(c).ID {
		return &trouble{http.StatusConflict, "You cannot let yourself go", "Another owner does that, so that somebody is always left who can let people in."}
	}
	if err := s.Desk.Disable(c.Request.Context(), p.ID, s.by(c)); err != nil {
		return err
	}
	return seeOther(c, "/people?said=disabled")
}

// takeFactor takes the second factor of somebody away who has lost the device and the
// codes on paper.
func (s *Server) takeFactor(c *gin.Context) error {
	p, err := s.personOf(c)
	if err != nil {
		return err
	}
	if p.ID == person(c).ID {
		return &trouble{http.StatusConflict, "Your own second factor is changed in your account", "There the password is asked for, so that an unguarded screen is not enough."}
	}
	if err := s.Desk.SetFactor(c.Request.Context(), p.ID, "", 0, nil, "", s.by(c)); err != nil {
		return err
	}
	return seeOther(c, "/people?said=factor")
}

type trailPage struct {
	frame
	Rows []logRow
}

// shownEntries is how much of the trail one page shows, the newest first.
const shownEntries = 300

func (s *Server) showTrail(c *gin.Context) error {
	entries, err := s.Desk.Audit(c.Request.Context(), "", shownEntries)
	if err != nil {
		return err
	}
	p := trailPage{frame: s.frame(c, "Trail")}
	p.Nav = "people"
	for _, e := range entries {
		p.Rows = append(p.Rows, logRow{At: e.At, Who: e.Who, Did: e.Did, Detail: strings.TrimSpace(e.What + " " + e.Detail)})
	}
	return s.show(c, "trail", p)
}
