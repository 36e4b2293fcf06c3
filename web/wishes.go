package web

import (
	"encoding/json"
	"fmt"
	"net/http"
	"strconv"

	"tunwright/pricing/offer"

	"github.com/gin-gonic/gin"
)

// What came back from a client, and what the salesperson makes of it.

type wishRow struct {
	ID                       int64
	Author, At, Letter, Text string
	Changes                  []string
	State, SettledBy         string
	Open, Proposal           bool
}

// wish is what a client would rather have, as edits of the enquiry and in words.
type wish struct {
	Edits []Edit   `json:"edits"`
	Words []string `json:"words"`
}

func readWish(text json.RawMessage) (wish, error) {
	var w wish
	if len(text) == 0 {
		return w, nil
	}
	if err := json.Unmarshal(text, &w); err != nil {
		return w, fmt.Errorf("wish: %w", err)
	}
	return w, nil
}

// settleWish adopts a wish into the enquiry, or refuses it.
func (s *Server) settleWish(c *gin.Context) error {
	ctx, id := c.Request.Context(), c.Param("id")
	comments, err := s.Desk.Comments(ctx, id)
	if err != nil {
		return err
	}
	adopt := c.PostForm("adopt") == "yes"
	for _, one := range comments {
		if strconv.FormatInt(one.ID, 10) != c.Param("wish") {
			continue
		}
		w, err := readWish(one.Proposal)
		if err != nil {
			return err
		}
		if adopt && len(w.Edits) > 0 {
			if err := s.adopt(c, id, one.Author, w); err != nil {
				return err
			}
		}
		if err := s.Desk.Settle(ctx, one.ID, adopt, s.by(c)); err != nil {
			return err
		}
		said := "refused"
		if adopt {
			said = "adopted"
		}
		return seeOther(c, "/quotations/"+id+"?said="+said)
	}
	return errNoPage
}

func (s *Server) adopt(c *gin.Context, id, author string, w wish) error {
	_, err := s.change(c.Request.Context(), id, s.who(c), func(d draft) (offer.Job, string, error) {
		job, err := offer.Apply(d.Job, w.Edits...)
		if err != nil {
			return offer.Job{}, "", &trouble{http.StatusConflict, "The wish does not fit the enquiry any more", sentenceCase(err.Error()) + ". The enquiry has changed since; change it by hand and refuse the wish with a word to the client."}
		}
		return job, "wish of " + author, nil
	})
	return err
}
