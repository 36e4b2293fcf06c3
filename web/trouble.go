package web

import (
	"errors"
	"fmt"
	"net/http"
	"runtime/debug"
	"unicode"
	"unicode/utf8"

	"tunwright/pricing/quotation"
	"tunwright/pricing/register"

	"github.com/gin-gonic/gin"
)

// trouble is an error that a person is told about: what happened and what to do.
type trouble struct {
	Status int
	Title  string
	Words  string
}

func (t *trouble) Error() string { return t.Title + ": " + t.Words }

var errNoPage = &trouble{http.StatusNotFound, "There is no such page", "Check the address, or go to the enquiries and open it from there."}

// handle is the one place where an error of a handler becomes a status, a page and a
// line in the log.
func (s *Server) handle(h func(*gin.Context) error) gin.HandlerFunc {
	return func(c *gin.Context) {
		err := h(c)
		if err == nil {
			return
		}
		t := asTrouble(err)
		if t.Status >= http.StatusInternalServerError {
			s.Log.Error("request", "method", c.Request.Method, "route", c.FullPath(), "error", err)
		}
		s.showTrouble(c, t)
	}
}

func asTrouble(err error) *trouble {
	if t, ok := errors.AsType[*trouble](err); ok {
		return t
	}
	if _, ok := errors.AsType[*http.MaxBytesError](err); ok {
		return &trouble{http.StatusRequestEntityTooLarge, "That is too much at once", fmt.Sprintf("At most %d MB are read. Send a smaller file.", maxBody>>20)}
	}
	if step, ok := errors.AsType[*quotation.StepError](err); ok {
		return &trouble{http.StatusConflict, "That step is not possible now", sentenceCase(step.Error()) + "."}
	}
	switch {
	case errors.Is(err, register.ErrNotFound):
		return &trouble{http.StatusNotFound, "That is not in the register", "It may have been removed, or the address is incomplete. Go to the list and open it from there."}
	case errors.Is(err, register.ErrConflict):
		return &trouble{http.StatusConflict, "Somebody else was faster", "Nothing was overwritten. Go back, load the page again and make your change once more."}
	case errors.Is(err, register.ErrErased):
		return &trouble{http.StatusGone, "Its content has been erased", "Only the accounts are left: number, dates and sums."}
	case errors.Is(err, register.ErrLocked):
		return &trouble{http.StatusServiceUnavailable, "The register is busy", "Another program holds its file. Nothing was saved; wait a moment and try again."}
	}
	return &trouble{http.StatusInternalServerError, "This could not be done", "Nothing was changed. Try again; if it happens again, tell whoever looks after the server: the reason stands in its log."}
}

type troublePage struct {
	frame
	Status int
	Words  string
}

func (s *Server) showTrouble(c *gin.Context, t *trouble) {
	if c.Writer.Written() {
		return
	}
	c.Status(t.Status)
	if live(c) {
		// The page stays; its script says this beside what was typed.
		c.String(t.Status, "%s. %s", t.Title, t.Words)
		return
	}
	p := troublePage{frame: s.frame(c, t.Title), Status: t.Status, Words: t.Words}
	if err := s.show(c, "trouble", p); err != nil {
		s.Log.Error("error page", "error", err)
		c.String(t.Status, "%s. %s", t.Title, t.Words)
	}
}

// recovered keeps one broken request from taking the others with it.
func (s *Server) recovered(c *gin.Context) {
	defer func() {
		if r := recover(); r != nil {
			s.Log.Error("panic", "route", c.FullPath(), "value", fmt.Sprint(r), "stack", string(debug.Stack()))
			s.showTrouble(c, asTrouble(errors.New("panic")))
			c.Abort()
		}
	}()
	c.Next()
}

// sentenceCase begins a sentence with a capital.
func sentenceCase(text string) string {
	if text == "" {
		return ""
	}
	r, n := utf8.DecodeRuneInString(text)
	return string(unicode.ToUpper(r)) + text[n:]
}
