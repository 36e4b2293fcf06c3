package web

import (
	"context"
	"errors"
	"fmt"
	"sync"

	"tunwright/configurator"
	"tunwright/pricing"
	"tunwright/pricing/offer"
	"tunwright/pricing/register"
)

// current is what the firm has set and which price books it has taken in. It is read
// from the register at the start and after each change.
type current struct {
	mu     sync.RWMutex
	firm   offer.Firm
	shelf  pricing.Shelf
	access access
}

// firmSetting is the setting that holds the firm's own file.
const firmSetting = "firm"

func (s *Server) reload(ctx context.Context) error {
	firm := s.House.Firm
	var text string
	switch err := s.Desk.Setting(ctx, firmSetting, &text); {
	case errors.Is(err, register.ErrNotFound):
	case err != nil:
		return err
	default:
		if firm, err = offer.ReadFirm("settings", []byte(text)); err != nil {
			return fmt.Errorf("settings of the firm: %w", err)
		}
	}
	shelf, err := s.Desk.Books(ctx)
	if err != nil {
		return err
	}
	access, err := s.readAccess(ctx)
	if err != nil {
		return err
	}
	s.now.mu.Lock()
	defer s.now.mu.Unlock()
	s.now.firm, s.now.shelf, s.now.access = firm, shelf, access
	s.kept.forget()
	return nil
}

func (s *Server) firm() offer.Firm {
	s.now.mu.RLock()
	defer s.now.mu.RUnlock()
	return s.now.firm
}

// house is what a job of a day is judged and priced by. Of the books that were taken
// in and hold on that day the one that began last counts; before the first of them it
// is the one the program was started with.
func (s *Server) house(on pricing.Date) offer.House {
	s.now.mu.RLock()
	defer s.now.mu.RUnlock()
	h := s.House
	h.Firm = s.now.firm
	var best *pricing.Book
	for _, b := range s.now.shelf {
		if b.Currency == s.House.Book.Currency && b.Holds(on) && (best == nil || !b.From.Before(best.From)) {
			best = b
		}
	}
	if best != nil {
		h.Book = best
	}
	return h
}

// make checks and prices a job, sooner by the report of a similar one. Where only the
// price cannot be worked out, the offer still holds the report beside the error.
func (s *Server) make(job offer.Job, before configurator.Report) (offer.Offer, error) {
	h := s.house(pricing.DateOf(job.Date.Time()))
	job = offer.WithTerm(job, h)
	report, err := configurator.Recheck(before, job.Project, h.Catalogue)
	if err != nil {
		return offer.Offer{}, err
	}
	o, err := offer.Price(job, h, report)
	if err != nil {
		return offer.Offer{Job: job, Report: report}, err
	}
	return o, nil
}
