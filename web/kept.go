package web

import (
	"slices"
	"sync"

	"tunwright/configurator"
	"tunwright/pricing/offer"
)

// What was read and worked out of the enquiries that are on the desk just now, so that
// a change pays for itself alone: not for reading the file it saved the moment before,
// nor for checking the same state again for its remedies. A state never changes once it
// is saved, so that what is kept of it holds until the firm's terms or prices change.

// keptStates is how many states are kept; each is some hundred kilobytes.
const keptStates = 24

// state names what an enquiry was at one revision.
type state struct {
	id       string
	revision int
}

// memory keeps the states looked at last, the newest first.
type memory struct {
	mu   sync.Mutex
	list []*remembered
}

type remembered struct {
	state
	draft  draft
	worked *worked
}

// worked is the answer to a state; a state that cannot be worked out gives its error.
type worked struct {
	offer offer.Offer
	err   error
}

func (m *memory) find(st state) *remembered {
	at := slices.IndexFunc(m.list, func(r *remembered) bool { return r.state == st })
	if at < 0 {
		return nil
	}
	r := m.list[at]
	m.list = slices.Insert(slices.Delete(m.list, at, at+1), 0, r)
	return r
}

// draft gives what was kept of a state.
func (m *memory) draft(st state) (draft, bool) {
	m.mu.Lock()
	defer m.mu.Unlock()
	r := m.find(st)
	if r == nil {
		return draft{}, false
	}
	return r.draft, true
}

func (m *memory) keep(d draft) {
	m.mu.Lock()
	defer m.mu.Unlock()
	st := state{d.Project.ID, d.Project.Revision}
	if m.find(st) != nil {
		return
	}
	m.list = slices.Insert(m.list, 0, &remembered{state: st, draft: d})
	m.list = m.list[:min(len(m.list), keptStates)]
}

// answer gives the answer to a state, worked out once. Two who ask at the same moment
// may both work it out, which does no harm.
func (m *memory) answer(st state, work func() (offer.Offer, error)) (offer.Offer, error) {
	m.mu.Lock()
	r := m.find(st)
	if r != nil && r.worked != nil {
		defer m.mu.Unlock()
		return r.worked.offer, r.worked.err
	}
	m.mu.Unlock()
	o, err := work()
	if r != nil {
		m.mu.Lock()
		defer m.mu.Unlock()
		r.worked = &worked{o, err}
	}
	return o, err
}

// before gives the report of the state of an enquiry that was looked at last, by which
// another one is checked sooner.
func (m *memory) before(id string) configurator.Report {
	m.mu.Lock()
	defer m.mu.Unlock()
	for _, r := range m.list {
		if r.id == id && r.worked != nil {
			return r.worked.offer.Report
		}
	}
	return configurator.Report{}
}

// forget drops everything, since terms or prices have changed.
func (m *memory) forget() {
	m.mu.Lock()
	defer m.mu.Unlock()
	m.list = nil
}

// answerTo checks and prices a draft as it was saved.
func (s *Server) answerTo(d draft) (offer.Offer, error) {
	return s.kept.answer(state{d.Project.ID, d.Project.Revision}, func() (offer.Offer, error) {
		return s.make(d.Job, s.kept.before(d.Project.ID))
	})
}
