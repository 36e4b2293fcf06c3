package web

import (
	"net/http"
	"net/url"
	"time"

	"tunwright/pricing/register"

	"github.com/gin-gonic/gin"
)

// The house's own figures — cost, margin, lowest price, and why a second person must
// approve — can be put away while a client looks at the screen. A browser remembers it.
// What is put away is not sent to the page at all.

const (
	oursCookie = "tunwright-ours"
	oursHidden = "hidden"
	oursShown  = "shown"
	oursLife   = 365 * 24 * time.Hour
)

// ours tells whether a person's pages show the house's own figures; empty for those
// whose pages have none.
func ours(c *gin.Context, r register.Role) string {
	if r != register.Sales && r != register.Approver && r != register.Owner {
		return ""
	}
	if cookie, err := c.Request.Cookie(oursCookie); err == nil && cookie.Value == oursHidden {
		return oursHidden
	}
	return oursShown
}

// putAway tells whether the house's own figures are put away.
func putAway(c *gin.Context) bool { return ours(c, person(c).Role) != oursShown }

// turnOurs puts them away or fetches them back, and goes on where the person was.
func (s *Server) turnOurs(c *gin.Context) error {
	value := oursShown
	if c.PostForm("hide") == "yes" {
		value = oursHidden
	}
	s.setNamedCookie(c, oursCookie, value, oursLife)
	to := "/"
	if from, err := url.Parse(c.GetHeader("Referer")); err == nil && from.Host == c.Request.Host {
		to = ownPath(from.RequestURI())
	}
	c.Redirect(http.StatusSeeOther, to)
	return nil
}

// put leaves out of a price what the house alone sees.
func (v *priceView) put(away bool) {
	if !away {
		return
	}
	v.Margin, v.Percent, v.Cost, v.Floor = "", "", "", ""
	v.Needs = generally(v.Needs)
}

// generally says that there are reasons and not which.
func generally(needs []string) []string {
	if len(needs) == 0 {
		return nil
	}
	return []string{"the reason stands among our own figures"}
}
