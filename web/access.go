package web

import (
	"context"
	"errors"
	"net/http"
	"strconv"
	"strings"
	"time"

	"tunwright/pricing/register"

	"github.com/gin-gonic/gin"
)

// How people get in: how long a session lasts, and whether everybody needs a second
// factor. The owner sets it.

// accessSetting is the setting that holds it.
const accessSetting = "access"

// access is what the owner has set.
type access struct {
	IdleMinutes int  `json:"idleMinutes"` // a session ends when nobody used it for so long
	LifeHours   int  `json:"lifeHours"`   // and after so long in any case
	Factor      bool `json:"factor"`      // everybody needs a second factor
}

// Usual times, and what the owner may set.
//
// Source: NIST SP 800-63B-4, level 2: at most an hour of rest and a day in all (from
// memory); a working day in place of the day.
const (
	usualIdle, leastIdle, mostIdle = 60, 5, 12 * 60
	usualLife, leastLife, mostLife = 12, 1, 24
)

func (a access) idle() time.Duration { return time.Duration(a.IdleMinutes) * time.Minute }
func (a access) life() time.Duration { return time.Duration(a.LifeHours) * time.Hour }

func (s *Server) access() access {
	s.now.mu.RLock()
	defer s.now.mu.RUnlock()
	return s.now.access
}

func (s *Server) readAccess(ctx context.Context) (access, error) {
	a := access{IdleMinutes: usualIdle, LifeHours: usualLife}
	err := s.Desk.Setting(ctx, accessSetting, &a)
	if errors.Is(err, register.ErrNotFound) {
		err = nil
	}
	return a, err
}

// accessView is the form of it on the page of the firm.
type accessView struct {
	Idle, Life           string
	Factor               bool
	IdleError, LifeError string
}

func (a access) view() accessView {
	return accessView{Idle: strconv.Itoa(a.IdleMinutes), Life: strconv.Itoa(a.LifeHours), Factor: a.Factor}
}

// read takes the form; what is wrong stands in it.
func (v *accessView) read() access {
	a := access{Factor: v.Factor}
	var ok bool
	if a.IdleMinutes, ok = whole(v.Idle, leastIdle, mostIdle); !ok {
		v.IdleError = "write minutes between " + strconv.Itoa(leastIdle) + " and " + strconv.Itoa(mostIdle)
	}
	if a.LifeHours, ok = whole(v.Life, leastLife, mostLife); !ok {
		v.LifeError = "write hours between " + strconv.Itoa(leastLife) + " and " + strconv.Itoa(mostLife)
	}
	return a
}

func whole(text string, least, most int) (int, bool) {
	n, err := strconv.Atoi(strings.TrimSpace(text))
	return n, err == nil && n >= least && n <= most
}

func (s *Server) saveAccess(c *gin.Context) error {
	v := accessView{Idle: c.PostForm("idle"), Life: c.PostForm("life"), Factor: c.PostForm("factor") == "yes"}
	a := v.read()
	if v.IdleError+v.LifeError != "" {
		c.Status(http.StatusUnprocessableEntity)
		return s.showSettingsPage(c, settingsPage{Access: v}, nil)
	}
	if err := s.Desk.Set(c.Request.Context(), accessSetting, a, s.by(c)); err != nil {
		return err
	}
	if err := s.reload(c.Request.Context()); err != nil {
		return err
	}
	return seeOther(c, "/settings?said=access")
}

// browserWords name a browser to its person: enough to tell a phone from a desk.
func browserWords(agent string) string {
	find := func(names ...string) string {
		for _, pair := range names {
			sign, words, _ := strings.Cut(pair, "=")
			if strings.Contains(agent, sign) {
				return words
			}
		}
		return ""
	}
	name := find("Edg/=Edge", "OPR/=Opera", "Firefox/=Firefox", "Chrome/=Chrome", "Safari/=Safari")
	system := find("Android=Android", "iPhone=iPhone", "iPad=iPad", "Windows=Windows", "Mac OS X=Mac", "Linux=Linux")
	switch {
	case name == "":
		return "a browser that does not say which"
	case system == "":
		return name
	}
	return name + ", " + system
}
