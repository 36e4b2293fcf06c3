package web

import (
	"fmt"
	"slices"
	"strconv"

	"tunwright/configurator/enquiry"
	"tunwright/pricing"
	"tunwright/pricing/money"
	"tunwright/pricing/offer"
	"tunwright/web/form"

	"github.com/gin-gonic/gin"
)

// The salesperson's desk: the enquiry in sheets on one side, the answer beside it.

func (s *Server) deskRoutes(r *gin.RouterGroup) {
	r.GET("/enquiries/:id", s.handle(s.showDesk))
	r.GET(othersRoute, s.handle(s.showOthers))
	r.POST("/enquiries/:id/facts", s.handle(s.changeFacts))
	r.POST("/enquiries/:id/entries", s.handle(s.changeEntries))
	r.POST("/enquiries/:id/undo", s.handle(s.stepBack))
	r.POST("/enquiries/:id/redo", s.handle(s.stepForth))
	r.GET("/enquiries/:id/mends", s.handle(s.showMends))
	r.POST("/enquiries/:id/mend", s.handle(s.mend))
}

// deskSheet is one page of the enquiry. Its sections are places in the file.
type deskSheet struct {
	Key, Title string
	Places     []place
}

// place is a part of the enquiry on a sheet.
type place struct {
	Path  string
	Title string
	Deep  bool // with what lies below it
	List  *list
}

// list is a place that holds entries, and what a new one begins with.
type list struct {
	Path  string
	Word  string // such as beer
	Entry string // %d is replaced by a number that makes its name its own
	Named bool
}

var deskSheets = []deskSheet{
	{Key: "brief", Title: "Brief", Places: []place{
		{Title: "Job"},
		{Path: "client", Title: "Client"},
		{Path: "brief", Title: "How they want to brew"},
		{Path: "brief.beers", Title: "Beers", Deep: true, List: &list{"brief.beers", "beer", `{name: "beer %d", kind: keg-ale, yearly_hl: {assumed: 50, why: "to be agreed with the client"}, original_extract_plato: 11.2, final_extract_plato: 2.4, package: keg}`, true}},
	}},
	{Key: "building", Title: "Building", Places: []place{
		{Path: "site", Title: "Site"},
		{Path: "site.room", Title: "Room"},
		{Path: "site.room.columns", Title: "Columns", Deep: true, List: &list{"site.room.columns", "column", `{at_m: [1, 1], width_mm: 200}`, false}},
		{Path: "site.room.doors", Title: "Doors", Deep: true, List: &list{"site.room.doors", "door", `{name: "door %d", at_m: [0, 1], width_mm: unknown}`, true}},
		{Path: "site.room.drains", Title: "Gullies", Deep: true, List: &list{"site.room.drains", "gully", `{at_m: [1, 1]}`, false}},
		{Path: "site.room.keep_clear", Title: "Ground to keep clear", Deep: true, List: &list{"site.room.keep_clear", "area", `{name: "area %d", from_m: [0, 0], to_m: [1, 1]}`, true}},
	}},
	{Key: "floor", Title: "Floor", Places: []place{
		{Path: "site.floor", Title: "What it may carry"},
		{Path: "site.floor.build_up", Title: "Added build-up", Deep: true, List: &list{"site.floor.build_up", "layer", `{name: "layer %d", thickness_mm: 40, weight_kn_m3: 21}`, true}},
		{Path: "site.floor.bays", Title: "Bays", Deep: true, List: &list{"site.floor.bays", "bay", `{name: "bay %d", from_m: [0, 0], to_m: [3, 3]}`, true}},
		{Path: "site.floor.members", Title: "Beams and joists", Deep: true, List: &list{"site.floor.members", "member", `{name: "beam %d", from_m: [0, 0], to_m: [0, 4], tributary_m: 3}`, true}},
	}},
	{Key: "way-in", Title: "Way in", Places: []place{
		{Path: "site.routes", Title: "Routes", Deep: true, List: &list{"site.routes", "route", `{name: "route %d", steps: [{name: door, kind: door}]}`, true}},
	}},
	{Key: "plan", Title: "Plan"},
	{Key: "services", Title: "Services", Places: []place{
		{Path: "site.supply", Title: "Electricity"},
		{Path: "site.water", Title: "Water"},
		{Path: "site.drainage", Title: "Drainage"},
		{Path: "site.ventilation", Title: "Ventilation"},
		{Path: "site.climate", Title: "Climate"},
		{Path: "site.chiller_place", Title: "Place of the chiller"},
	}},
	{Key: "equipment", Title: "Equipment"},
	{Key: "price", Title: "Price", Places: []place{
		{Path: "commercial", Title: "Terms of this job"},
		{Path: ratePath, Title: "Rate of exchange"},
		{Path: "commercial.delivery", Title: "Delivery"},
		{Path: "commercial.lines", Title: "Terms of single lines", Deep: true, List: &list{"commercial.lines", "line", "", true}},
		{Path: "commercial.stages", Title: "Payment stages, where they differ from the firm's", Deep: true, List: &list{"commercial.stages", "stage", `{name: "stage %d", event: "to be agreed", percent: "100"}`, true}},
	}},
	{Key: "survey", Title: "Survey list"},
	{Key: "papers", Title: "Papers"},
}

// ratePath is where the rate of exchange stands. Its fields are asked for only where the
// job is in another currency than the price book.
const ratePath = "commercial.exchange_rate"

// foreign tells whether a job is in another currency than its price book.
func (s *Server) foreign(job offer.Job) bool {
	want := money.Currency(job.Terms.Currency)
	return want != "" && want != s.house(pricing.DateOf(job.Date.Time())).Book.Currency
}

func sheetOf(key string) deskSheet {
	at := slices.IndexFunc(deskSheets, func(s deskSheet) bool { return s.Key == key })
	return deskSheets[max(0, at)]
}

// deskPage is all that the desk's template shows.
type deskPage struct {
	frame
	Head     headView
	Tabs     []tab
	Sheet    string
	Heading  string
	Sections []section
	Items    *itemsView
	Survey   []surveyRow
	Lines    *linesView
	Papers   []paperRow
	Plan     *planView
	Problems []fieldProblem
	Answer   answerView
}

// headView is the title block and the way back and forth.
type headView struct {
	ID, Title, Client, Site, Author, Date string
	Revision                              int
	Saved, By                             string
	Undo, Redo                            string // what would be taken back or done again; empty where nothing
}

type tab struct {
	Key, Title, URL string
	Current         bool
	Facts           int // how many facts the sheet asks for
}

// section is a place with its fields.
type section struct {
	ID     string // where a change elsewhere on the sheet may show or hide it
	Note   string
	Title  string
	Groups []groupView
	Add    *addView
}

type addView struct{ Path, Word string }

// groupView is a run of fields. An entry of a list can be folded and removed.
type groupView struct {
	Title   string
	Summary string
	Path    string
	Entry   bool
	Inner   bool // an entry within an entry, such as a step of a route
	Open    bool
	Fields  []fieldView
	Add     *addView
}

// fieldView is a field with what the report reckons with where it is unknown.
type fieldView struct {
	form.Field
	Shown   string
	URL     string
	Choices []option
	Bases   []option
	Taken   string
	Hint    string
}

func deskURL(id, sheet string) string {
	if sheet == "" {
		return "/enquiries/" + id
	}
	return "/enquiries/" + id + "?sheet=" + sheet
}

func (s *Server) showDesk(c *gin.Context) error {
	d, err := s.open(c.Request.Context(), c.Param("id"))
	if err != nil {
		return err
	}
	return s.showSheet(c, d, c.Query("sheet"), nil)
}

// showSheet shows a sheet of the desk, with what was typed when a form comes back.
func (s *Server) showSheet(c *gin.Context, d draft, key string, back *returned) error {
	o, err := s.answerTo(d)
	p, viewErr := s.deskView(c, d, o, err, key, back)
	if viewErr != nil {
		return viewErr
	}
	if live(c) {
		return s.merge(c, "desk", "sheet-and-answer", p)
	}
	return s.show(c, "desk", p)
}

// returned is a form that could not be saved as a whole.
type returned struct {
	get      func(string) (string, bool)
	problems map[string]string // by path
	general  []string
}

func (s *Server) deskView(c *gin.Context, d draft, o offer.Offer, makeErr error, key string, back *returned) (deskPage, error) {
	sh := sheetOf(key)
	p := deskPage{
		frame: s.frame(c, d.Job.Title), Head: headOf(d), Sheet: sh.Key, Heading: sh.Title,
		Answer: s.answer(d, o, makeErr),
	}
	p.Nav = "enquiries"
	p.Tabs = tabs(d.Project.ID, sh.Key, o)
	taken := takenFacts(o)
	for _, pl := range sh.Places {
		sec, err := s.section(d, pl, taken, back)
		if err != nil {
			return p, err
		}
		p.Sections = append(p.Sections, sec)
	}
	var err error
	switch sh.Key {
	case "equipment":
		p.Items, err = s.items(d, o, back)
	case "survey":
		p.Survey, err = s.survey(d, o, back)
	case "plan":
		p.Plan = planOf(d.Project.ID, o.Report)
	case "price":
		p.Lines = s.lines(o, putAway(c))
	case "papers":
		if makeErr != nil {
			o = offer.Offer{}
		}
		p.Papers = papersOf(d.Project.ID, o)
	}
	if err != nil {
		return p, err
	}
	p.Problems = p.summary(back)
	p.Answer.Price.put(putAway(c))
	return p, p.Answer.mark(shownBy(c))
}

// showOthers warns a person whose page is older than what somebody else has saved.
func (s *Server) showOthers(c *gin.Context) error {
	p, err := s.Desk.Project(c.Request.Context(), c.Param("id"))
	if err != nil {
		return err
	}
	words := ""
	if strconv.Itoa(p.Revision) != c.Query("state") && p.UpdatedBy != s.who(c) {
		words = fmt.Sprintf("%s has saved a change at %s.", p.UpdatedBy, p.UpdatedAt.Local().Format("15:04:05"))
	}
	return s.write(c, "desk", "others", words)
}

func headOf(d draft) headView {
	h := headView{
		ID: d.Project.ID, Title: d.Job.Title, Client: d.Job.Client.Name, Site: d.Job.Site.Name, Author: d.Job.Author, Date: d.Job.Date.String(),
		Revision: d.Project.Revision, By: d.Project.UpdatedBy, Saved: d.Project.UpdatedAt.Local().Format("15:04:05"),
	}
	if n := len(d.Back); n > 0 {
		h.Undo = d.Back[n-1].Words
	}
	if n := len(d.Forth); n > 0 {
		h.Redo = d.Forth[n-1].Words
	}
	return h
}

func tabs(id, current string, o offer.Offer) []tab {
	out := make([]tab, len(deskSheets))
	for i, sh := range deskSheets {
		out[i] = tab{Key: sh.Key, Title: sh.Title, URL: deskURL(id, sh.Key), Current: sh.Key == current}
		if sh.Key == "survey" {
			out[i].Facts = len(enquiry.Survey(o.Report.Project))
		}
	}
	return out
}

// takenFacts are the values the report reckons with, by path.
func takenFacts(o offer.Offer) map[string]enquiry.Line {
	out := map[string]enquiry.Line{}
	for _, l := range enquiry.Facts(o.Report.Project) {
		out[l.Path] = l
	}
	return out
}

func (s *Server) section(d draft, pl place, taken map[string]enquiry.Line, back *returned) (section, error) {
	sec := section{Title: pl.Title}
	id := d.Project.ID
	if pl.Path == ratePath {
		sec.ID = "rate"
		if !s.foreign(d.Job) {
			return sec, nil
		}
		if d.Job.Terms.Rate == nil {
			// A rate is told whole or not at all: its fields are saved together.
			book := s.house(pricing.DateOf(d.Job.Date.Time())).Book.Currency
			sec.Note, id = fmt.Sprintf("The price book is in %s. The value is what 1 %s is worth in %s; fill in value, source, date and until, then press Save.", book, book, d.Job.Terms.Currency), ""
		}
	}
	groups, err := groupsOf(d.Job, pl)
	if err != nil {
		return sec, err
	}
	if f := form.Find(groups, ratePath+".to"); f != nil && d.Job.Terms.Rate == nil {
		f.Typed = &d.Job.Terms.Currency
	}
	back.restore(groups)
	for _, g := range groups {
		sec.Groups = append(sec.Groups, viewGroup(id, g, pl, taken))
	}
	if pl.List != nil {
		sec.Add = &addView{Path: pl.List.Path, Word: pl.List.Word}
	}
	return sec, nil
}

// groupsOf gives the fields of a place.
func groupsOf(job offer.Job, pl place) ([]form.Group, error) {
	if pl.Deep {
		return form.Fields(job, pl.Path)
	}
	g, err := form.Own(job, pl.Path)
	return []form.Group{g}, err
}

func (r *returned) restore(groups []form.Group) {
	if r == nil {
		return
	}
	form.Restore(groups, r.get)
	for path, words := range r.problems {
		if f := form.Find(groups, path); f != nil {
			f.Error = words
		}
	}
}

// summary lists the problems of a form in the order of its fields.
func (p deskPage) summary(back *returned) []fieldProblem {
	if back == nil {
		return nil
	}
	var out []fieldProblem
	for _, f := range p.fields() {
		if f.Error != "" {
			out = append(out, fieldProblem{ID: "v-" + htmlID(f.Path), Label: f.Label, Message: f.Error})
		}
	}
	for _, words := range back.general {
		out = append(out, fieldProblem{Message: words})
	}
	return out
}

func (p deskPage) fields() []fieldView {
	var out []fieldView
	for _, sec := range p.Sections {
		for _, g := range sec.Groups {
			out = append(out, g.Fields...)
		}
	}
	for _, row := range p.Survey {
		out = append(out, row.Field)
	}
	if p.Items != nil {
		for _, g := range p.Items.Groups {
			for _, row := range g.Rows {
				out = append(out, row.Product, row.Count)
			}
		}
	}
	return out
}

func (s *Server) stepBack(c *gin.Context) error {
	d, err := s.undo(c.Request.Context(), c.Param("id"), s.who(c))
	return s.afterChange(c, d, err)
}

func (s *Server) stepForth(c *gin.Context) error {
	d, err := s.redo(c.Request.Context(), c.Param("id"), s.who(c))
	return s.afterChange(c, d, err)
}

// afterChange shows the whole sheet again: as a fragment to a script, else by way of
// a redirect.
func (s *Server) afterChange(c *gin.Context, d draft, err error) error {
	if err != nil {
		return err
	}
	key := c.PostForm("sheet")
	if live(c) {
		return s.showSheet(c, d, key, nil)
	}
	return seeOther(c, deskURL(d.Project.ID, key))
}
