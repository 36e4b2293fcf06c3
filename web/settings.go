package web

import (
	"net/http"
	"slices"

	"tunwright/catalog/strict"
	"tunwright/pricing/offer"
	"tunwright/web/form"

	"github.com/gin-gonic/gin"
	"github.com/shopspring/decimal"
)

// The firm's letterhead, terms and limits.

func (s *Server) settingsRoutes(r *gin.RouterGroup) {
	r.GET("/settings", s.handle(s.showSettings))
	r.POST("/settings", s.handle(s.saveSettings))
	r.POST("/settings/access", s.handle(s.saveAccess))
}

type settingsPage struct {
	frame
	Sections []section
	Problems []fieldProblem
	Said     string
	Access   accessView
}

// firmPlaces are the parts of the firm's file on the page.
var firmPlaces = []place{
	{Title: "Letterhead and limits"}, {Path: "delivery", Title: "Delivery"}, {Path: "stages", Title: "Payment stages", Deep: true},
}

func (s *Server) showSettings(c *gin.Context) error {
	p := settingsPage{Access: s.access().view()}
	switch c.Query("said") {
	case "saved":
		p.Said = "Saved. Papers made from now on carry it; issued ones stay as they are."
	case "access":
		p.Said = "Saved. It holds for everybody who signs in from now on."
	}
	return s.showSettingsPage(c, p, nil)
}

func firmGroups(f offer.Firm, pl place) ([]form.Group, error) {
	if pl.Deep {
		return form.Fields(f, pl.Path)
	}
	g, err := form.Own(f, pl.Path)
	// The logo is a file of the one who starts the program.
	g.Fields = slices.DeleteFunc(g.Fields, func(f form.Field) bool { return f.Path == "logo" })
	return []form.Group{g}, err
}

func (s *Server) showSettingsPage(c *gin.Context, p settingsPage, back *returned) error {
	p.frame = s.frame(c, "Firm")
	p.Nav = "settings"
	for _, pl := range firmPlaces {
		groups, err := firmGroups(s.firm(), pl)
		if err != nil {
			return err
		}
		back.restore(groups)
		sec := section{Title: pl.Title}
		for _, g := range groups {
			v := groupView{Title: g.Title}
			for _, f := range g.Fields {
				fv := viewField("", f, g.Title, nil)
				if f.Error != "" {
					p.Problems = append(p.Problems, fieldProblem{ID: "v-" + htmlID(f.Path), Label: f.Label, Message: f.Error})
				}
				v.Fields = append(v.Fields, fv)
			}
			sec.Groups = append(sec.Groups, v)
		}
		p.Sections = append(p.Sections, sec)
	}
	if back != nil {
		for _, words := range back.general {
			p.Problems = append(p.Problems, fieldProblem{Message: words})
		}
	}
	return s.show(c, "settings", p)
}

// saveSettings takes all changes or none: half a set of terms is no set of terms.
func (s *Server) saveSettings(c *gin.Context) error {
	get := func(name string) (string, bool) { return c.GetPostForm(name) }
	back := &returned{get: get, problems: map[string]string{}}
	var groups []form.Group
	for _, pl := range firmPlaces {
		more, err := firmGroups(s.firm(), pl)
		if err != nil {
			return err
		}
		groups = append(groups, more...)
	}
	edits, clashes := form.Edits(groups, get)
	back.clashed(clashes)
	var firm offer.Firm
	err := strict.Apply("settings", s.firm(), &firm, edits...)
	if err == nil {
		err = stagesSum(firm)
	}
	if err != nil {
		back.assign(groups, err)
	}
	if len(back.problems)+len(back.general) > 0 {
		c.Status(http.StatusUnprocessableEntity)
		return s.showSettingsPage(c, settingsPage{Access: s.access().view()}, back)
	}
	text, err := strict.YAML(firm)
	if err != nil {
		return err
	}
	if err := s.Desk.Set(c.Request.Context(), firmSetting, string(text), s.by(c)); err != nil {
		return err
	}
	if err := s.reload(c.Request.Context()); err != nil {
		return err
	}
	return seeOther(c, "/settings?said=saved")
}

// stagesSum holds the stages to the whole: a quotation could not be made otherwise.
func stagesSum(f offer.Firm) error {
	sum := decimal.Zero
	for _, st := range f.Stages {
		sum = sum.Add(st.Percent)
	}
	if sum.Equal(decimal.New(100, 0)) {
		return nil
	}
	return strict.Problems{{Field: "stages", Message: "the stages sum to " + sum.String() + " per cent", WouldHelp: "change them until they sum to 100"}}
}
