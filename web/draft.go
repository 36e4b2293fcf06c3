package web

import (
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"slices"

	"tunwright/catalog/strict"
	"tunwright/pricing/offer"
	"tunwright/pricing/register"
)

// Edit is one change to a job, in the words of its file.
type Edit = strict.Edit

// draft is an enquiry on the desk with the way back and forth through its states.
type draft struct {
	Project register.Project
	Job     offer.Job
	Back    []mark // the newest last
	Forth   []mark
}

// mark is a state that can be gone back to: the revision it stood at before a change,
// and what the change was.
type mark struct {
	Revision int    `json:"revision"`
	Words    string `json:"words"`
	Who      string `json:"who"`
}

// keptMarks is how many steps can be taken back; the register keeps more states.
const keptMarks = 100

// document is what the register holds of a draft.
type document struct {
	Enquiry string `json:"enquiry"` // the job as its file
	Back    []mark `json:"back,omitempty"`
	Forth   []mark `json:"forth,omitempty"`
}

func (s *Server) open(ctx context.Context, id string) (draft, error) {
	p, err := s.Desk.Project(ctx, id)
	if err != nil {
		return draft{}, err
	}
	if d, ok := s.kept.draft(state{id, p.Revision}); ok {
		return d, nil
	}
	d := draft{Project: p}
	var doc document
	if err := json.Unmarshal([]byte(p.Document), &doc); err != nil {
		return draft{}, fmt.Errorf("enquiry %s: %w", id, err)
	}
	d.Back, d.Forth = doc.Back, doc.Forth
	if d.Job, err = offer.Read("enquiry "+id, []byte(doc.Enquiry)); err != nil {
		return draft{}, err
	}
	s.kept.keep(d)
	return d, nil
}

// keep saves a draft as it stands.
func (s *Server) keep(ctx context.Context, d draft, who string) (draft, error) {
	text, err := strict.YAML(d.Job)
	if err != nil {
		return draft{}, fmt.Errorf("write enquiry %s: %w", d.Project.ID, err)
	}
	doc, err := json.Marshal(document{Enquiry: string(text), Back: d.Back, Forth: d.Forth})
	if err != nil {
		return draft{}, fmt.Errorf("write enquiry %s: %w", d.Project.ID, err)
	}
	d.Project.Title, d.Project.Document = d.Job.Title, string(doc)
	by := register.By{Who: who, At: s.Clock()}
	if d.Project.Revision, err = s.Desk.SaveProject(ctx, d.Project, by); err != nil {
		return draft{}, err
	}
	d.Project.UpdatedAt, d.Project.UpdatedBy = by.At, by.Who
	return d, nil
}

// errNothing says that a change leaves everything as it was.
var errNothing = errors.New("nothing changed")

// change makes one change to the newest state of a draft and saves it. When somebody
// saves at the same moment it is made again on their state: a change names fields, so
// that both stand. What make gives is what reading its file gives again.
func (s *Server) change(ctx context.Context, id, who string, make func(draft) (offer.Job, string, error)) (draft, error) {
	const tries = 5
	for i := 0; ; i++ {
		d, err := s.open(ctx, id)
		if err != nil {
			return draft{}, err
		}
		job, words, err := make(d)
		if errors.Is(err, errNothing) {
			return d, nil
		}
		if err != nil {
			return d, err
		}
		next := draft{Project: d.Project, Job: job, Back: pushed(d.Back, mark{d.Project.Revision, words, who})}
		next, err = s.keep(ctx, next, who)
		if errors.Is(err, register.ErrConflict) && i < tries {
			continue
		}
		if err != nil {
			return draft{}, err
		}
		s.kept.keep(next)
		return next, nil
	}
}

func pushed(marks []mark, m mark) []mark {
	out := append(slices.Clone(marks), m)
	return out[max(0, len(out)-keptMarks):]
}

// undo goes back one step; redo goes forth again.
func (s *Server) undo(ctx context.Context, id, who string) (draft, error) {
	return s.travel(ctx, id, who, func(d *draft) (mark, bool) {
		m, ok := popped(&d.Back)
		if ok {
			d.Forth = pushed(d.Forth, mark{d.Project.Revision, m.Words, m.Who})
		}
		return m, ok
	})
}

func (s *Server) redo(ctx context.Context, id, who string) (draft, error) {
	return s.travel(ctx, id, who, func(d *draft) (mark, bool) {
		m, ok := popped(&d.Forth)
		if ok {
			d.Back = pushed(d.Back, mark{d.Project.Revision, m.Words, m.Who})
		}
		return m, ok
	})
}

func (s *Server) travel(ctx context.Context, id, who string, take func(*draft) (mark, bool)) (draft, error) {
	d, err := s.open(ctx, id)
	if err != nil {
		return draft{}, err
	}
	m, ok := take(&d)
	if !ok {
		return d, nil
	}
	text, err := s.Desk.ProjectAt(ctx, id, m.Revision)
	if errors.Is(err, register.ErrNotFound) {
		return draft{}, &trouble{410, "That step is too old", "The register no longer keeps that state. What you see is saved; nothing was changed."}
	}
	if err != nil {
		return draft{}, err
	}
	var doc document
	if err := json.Unmarshal([]byte(text), &doc); err != nil {
		return draft{}, fmt.Errorf("enquiry %s, revision %d: %w", id, m.Revision, err)
	}
	if d.Job, err = offer.Read("enquiry "+id, []byte(doc.Enquiry)); err != nil {
		return draft{}, err
	}
	return s.keep(ctx, d, who)
}

func popped(marks *[]mark) (mark, bool) {
	list := *marks
	if len(list) == 0 {
		return mark{}, false
	}
	*marks = slices.Clone(list[:len(list)-1])
	return list[len(list)-1], true
}
