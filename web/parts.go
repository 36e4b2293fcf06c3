package web

import (
	"crypto/sha256"
	"encoding/base64"
	"encoding/json"
	"strings"

	"github.com/gin-gonic/gin"
)

// The answer beside an enquiry is long, and a change moves little of it. Each part has
// a digest of what it shows; the page's script says which digests it has, and gets
// those parts without their content.

// part is what an element of the answer carries. Templates leave the content out where
// the page shows it already.
type part struct {
	As   string `json:"-"` // digest of what it shows
	Kept bool   `json:"-"`
}

// haveHeader is where the page's script names the digests it has; mergeHeader tells it
// that an answer is to be put in part by part.
const (
	haveHeader  = "X-Have"
	mergeHeader = "X-Merge"
)

// shown are the digests of the parts that a page has.
type shown map[string]bool

func shownBy(c *gin.Context) shown {
	out := shown{}
	if !live(c) {
		return out
	}
	for as := range strings.FieldsSeq(c.GetHeader(haveHeader)) {
		out[as] = true
	}
	return out
}

// part makes the part that shows some data. The kind tells parts apart that show the
// same.
func (h shown) part(kind string, data any) (part, error) {
	text, err := json.Marshal(data)
	if err != nil {
		return part{}, err
	}
	const enough = 9 // bytes: of some hundred parts no two are mistaken for each other
	sum := sha256.Sum256(append([]byte(kind+"\x00"), text...))
	as := base64.RawURLEncoding.EncodeToString(sum[:enough])
	return part{As: as, Kept: h[as]}, nil
}

// mark gives every part of the answer its digest.
func (v *answerView) mark(have shown) error {
	var err error
	mark := func(p *part, kind string, data ...any) {
		if err == nil {
			*p, err = have.part(kind, data)
		}
	}
	mark(&v.Gist, "gist", v.Verdict.Kind, v.Verdict.Words, v.Price.Net)
	mark(&v.Judged, "verdict", v.Trouble, v.Verdict, v.Gaps, v.Passed)
	mark(&v.Priced, "price", v.Price, v.NoPrice)
	mark(&v.Grows, "room", v.Room)
	for i := range v.Full {
		mark(&v.Full[i].part, "full", v.Full[i])
	}
	for k := range v.Kinds {
		for i := range v.Kinds[k].Open {
			mark(&v.Kinds[k].Open[i].part, "point", v.ID, v.Kinds[k].Open[i])
		}
	}
	return err
}

// merge writes fragments that the page's script puts in part by part.
func (s *Server) merge(c *gin.Context, page, name string, data any) error {
	c.Header(mergeHeader, "yes")
	return s.write(c, page, name, data)
}
