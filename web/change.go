package web

import (
	"errors"
	"fmt"
	"net/http"
	"slices"
	"strings"

	"tunwright/catalog/strict"
	"tunwright/pricing/offer"
	"tunwright/web/form"

	"github.com/gin-gonic/gin"
)

// changeFacts saves what was typed on a sheet. What can't be saved comes back with
// what was typed and why; the rest is saved.
func (s *Server) changeFacts(c *gin.Context) error {
	if err := c.Request.ParseForm(); err != nil {
		return err
	}
	key := c.PostForm("sheet")
	get := func(name string) (string, bool) { return c.GetPostForm(name) }
	back := &returned{get: get, problems: map[string]string{}}
	var touched []string
	d, err := s.change(c.Request.Context(), c.Param("id"), s.who(c), func(d draft) (offer.Job, string, error) {
		*back = returned{get: get, problems: map[string]string{}}
		groups, err := s.fieldsOf(d, key)
		if err != nil {
			return offer.Job{}, "", err
		}
		edits, clashes := form.Edits(groups, get)
		touched = back.clashed(clashes)
		for _, e := range edits {
			touched = append(touched, e.Path)
		}
		job, done := back.apply(d.Job, edits)
		if len(done) == 0 {
			return offer.Job{}, "", errNothing
		}
		return job, inWords(groups, done), nil
	})
	if err != nil {
		return err
	}
	bad := len(back.problems)+len(back.general) > 0
	if live(c) {
		return s.showChanges(c, d, key, back, touched)
	}
	if bad {
		c.Status(http.StatusUnprocessableEntity)
		return s.showSheet(c, d, key, back)
	}
	return seeOther(c, deskURL(d.Project.ID, key))
}

// fieldsOf gives every field a sheet can change.
func (s *Server) fieldsOf(d draft, key string) ([]form.Group, error) {
	switch key {
	case "equipment":
		return form.Fields(d.Job, "equipment")
	case "survey":
		return surveyFields(d.Job)
	}
	var out []form.Group
	for _, pl := range sheetOf(key).Places {
		groups, err := groupsOf(d.Job, pl)
		if err != nil {
			return nil, err
		}
		out = append(out, groups...)
	}
	return out, nil
}

func (r *returned) clashed(clashes []form.Clash) []string {
	var paths []string
	for _, c := range clashes {
		now := c.Now
		if now == "" {
			now = "nothing"
		}
		r.problems[c.Path] = fmt.Sprintf("somebody else wrote %s here while you typed; what you typed is kept: change it once more to put it in the place of %s", now, now)
		paths = append(paths, c.Path)
	}
	return paths
}

// apply makes the edits together, since two figures may only be right with each
// other; where that fails it makes those that are right by themselves.
func (r *returned) apply(job offer.Job, edits []Edit) (offer.Job, []Edit) {
	if len(edits) == 0 {
		return job, nil
	}
	all, err := offer.Apply(job, edits...)
	if err == nil {
		return all, edits
	}
	if len(edits) == 1 {
		r.note(edits[0], err)
		return job, nil
	}
	var done []Edit
	for _, e := range edits {
		next, err := offer.Apply(job, e)
		if err != nil {
			r.note(e, err)
			continue
		}
		job, done = next, append(done, e)
	}
	return job, done
}

// note puts the reader's problems to the field that was edited, since a rule between
// two fields may name the other one.
func (r *returned) note(e Edit, err error) {
	problems, ok := errors.AsType[strict.Problems](err)
	if !ok {
		r.problems[e.Path] = err.Error()
		return
	}
	var words []string
	for _, p := range problems {
		text := p.Message
		if p.Field != e.Path && !strings.HasPrefix(p.Field, e.Path) {
			text = p.Field + ": " + text
		}
		if p.WouldHelp != "" {
			text += "; " + p.WouldHelp
		}
		words = append(words, text)
	}
	r.problems[e.Path] = strings.Join(words, ". ")
}

// assign puts the reader's problems to the fields they name.
func (r *returned) assign(groups []form.Group, err error) {
	problems, ok := errors.AsType[strict.Problems](err)
	if !ok {
		r.general = append(r.general, err.Error())
		return
	}
	for _, p := range problems {
		words := strings.TrimSuffix(p.Message+"; "+p.WouldHelp, "; ")
		if form.Find(groups, p.Field) == nil {
			r.general = append(r.general, words)
			continue
		}
		r.problems[p.Field] = words
	}
}

// inWords says what an undo would take back.
func inWords(groups []form.Group, edits []Edit) string {
	if len(edits) > 1 {
		return fmt.Sprintf("%d changes", len(edits))
	}
	for _, g := range groups {
		for _, f := range g.Fields {
			if f.Path == edits[0].Path {
				return strings.TrimSpace(strings.ToLower(f.Label) + " " + g.Title)
			}
		}
	}
	return edits[0].Path
}

// changesView are the fragments after a change: the answer, the title block, and the
// state of the fields that were touched. The inputs themselves are left alone, so
// that nobody loses what they go on typing.
type changesView struct {
	Head   headView
	Tabs   []tab
	Answer answerView
	Fields []fieldView
	Rate   *section  // where the currency was changed
	Sums   []sumView // of the items, on the sheet of the equipment
}

type sumView struct{ Tag, Price string }

func (s *Server) showChanges(c *gin.Context, d draft, key string, back *returned, touched []string) error {
	o, err := s.answerTo(d)
	v := changesView{Head: headOf(d), Tabs: tabs(d.Project.ID, key, o), Answer: s.answer(d, o, err)}
	groups, err := s.fieldsOf(d, key)
	if err != nil {
		return err
	}
	back.restore(groups)
	taken := takenFacts(o)
	for _, g := range groups {
		for _, f := range g.Fields {
			for _, path := range touched {
				if f.Path == path {
					v.Fields = append(v.Fields, viewField(d.Project.ID, f, g.Title, taken))
				}
			}
		}
	}
	if slices.Contains(touched, "commercial.currency") {
		sec, err := s.section(d, place{Path: ratePath, Title: "Rate of exchange"}, taken, back)
		if err != nil {
			return err
		}
		v.Rate = &sec
	}
	if key == "equipment" {
		for _, l := range o.Quotation.Lines {
			v.Sums = append(v.Sums, sumView{l.Ref, l.Net.Format(localeOf(d.Job))})
		}
	}
	v.Answer.Price.put(putAway(c))
	if err := v.Answer.mark(shownBy(c)); err != nil {
		return err
	}
	return s.merge(c, "desk", "changes", v)
}

// changeEntries adds an entry to a list or takes one out.
func (s *Server) changeEntries(c *gin.Context) error {
	add, remove, product := c.PostForm("add"), c.PostForm("remove"), c.PostForm("product")
	d, err := s.change(c.Request.Context(), c.Param("id"), s.who(c), func(d draft) (offer.Job, string, error) {
		edit, words, err := s.entryEdit(d, add, remove, product)
		if err != nil {
			return offer.Job{}, "", err
		}
		job, err := offer.Apply(d.Job, edit)
		if problems, ok := errors.AsType[strict.Problems](err); ok {
			return offer.Job{}, "", &trouble{http.StatusUnprocessableEntity, "That cannot be done", sentence(problems)}
		}
		return job, words, err
	})
	return s.afterChange(c, d, err)
}

func sentence(problems strict.Problems) string {
	var out []string
	for _, p := range problems {
		out = append(out, strings.TrimSuffix(p.Message+"; "+p.WouldHelp, "; "))
	}
	return strings.Join(out, ". ") + "."
}

func (s *Server) entryEdit(d draft, add, remove, product string) (Edit, string, error) {
	switch {
	case remove != "":
		return Edit{Op: strict.Remove, Path: remove}, "remove " + remove, nil
	case add == "equipment.items":
		return s.newItem(d.Job, product)
	}
	if strings.HasPrefix(add, "site.routes[") && strings.HasSuffix(add, "].steps") {
		return Edit{Op: strict.Add, Path: add, Text: `{name: new step, kind: door}`}, "add a step", nil
	}
	if add == "commercial.lines" {
		return lineEdit(d.Job)
	}
	for _, sh := range deskSheets {
		for _, pl := range sh.Places {
			if pl.List != nil && pl.List.Path == add {
				return Edit{Op: strict.Add, Path: add, Text: pl.List.entry(d.Job)}, "add a " + pl.List.Word, nil
			}
		}
	}
	return Edit{}, "", &trouble{http.StatusUnprocessableEntity, "Nothing was added", "The page asked for an entry that the enquiry does not have. Load it again."}
}

// entry is a new entry under a name that no other has.
func (l list) entry(job offer.Job) string {
	if !l.Named {
		return l.Entry
	}
	taken := map[string]bool{}
	groups, err := form.Fields(job, l.Path)
	if err != nil {
		return fmt.Sprintf(l.Entry, 1)
	}
	for _, g := range groups {
		taken[g.Title] = true
	}
	n := 1
	for taken[fmt.Sprintf("%s %d", l.nameStem(), n)] {
		n++
	}
	return fmt.Sprintf(l.Entry, n)
}

// nameStem is the name in the entry's text without its number.
func (l list) nameStem() string {
	_, after, _ := strings.Cut(l.Entry, `name: "`)
	stem, _, _ := strings.Cut(after, " %d")
	return stem
}

// lineEdit begins terms of the first item that has none.
func lineEdit(job offer.Job) (Edit, string, error) {
	taken := map[string]bool{}
	for _, l := range job.Terms.Lines {
		taken[l.Tag] = true
	}
	for _, item := range job.Chosen.Items {
		if !taken[item.Tag] {
			return Edit{Op: strict.Add, Path: "commercial.lines", Text: fmt.Sprintf("{tag: %q}", item.Tag)}, "terms of " + item.Tag, nil
		}
	}
	return Edit{}, "", &trouble{http.StatusUnprocessableEntity, "Every line has terms of its own", "Change the ones that stand there."}
}
