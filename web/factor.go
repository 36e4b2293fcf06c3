package web

import (
	"bytes"
	"crypto/rand"
	"crypto/subtle"
	"encoding/base32"
	"encoding/base64"
	"errors"
	"fmt"
	"html/template"
	"image/png"
	"net/http"
	"strconv"
	"strings"
	"sync"
	"time"

	"tunwright/pricing/register"

	"github.com/gin-gonic/gin"
	"github.com/pquerna/otp"
	"github.com/pquerna/otp/totp"
)

// The second factor: a code of six digits that a person's own device works out from a
// shared secret and the time (RFC 6238), and ten codes on paper for when the device is
// lost.

func (s *Server) factorRoutes(r *gin.RouterGroup) {
	r.GET("/account/factor", s.handle(s.showFactor))
	r.POST("/account/factor", s.handle(s.setFactor))
	r.POST("/account/factor/off", s.handle(s.dropFactor))
}

const (
	// factorStep is how long a code holds. Source: RFC 6238, 5.2.
	factorStep = 30 * time.Second
	// factorSkew is how many steps a device's clock may be off, either way. Source:
	// RFC 6238, 5.2 and 6.
	factorSkew = 1
	// factorWait is how long a person may take to set it up or to type a code.
	factorWait = 10 * time.Minute
	// factorTries is how many codes may be tried after one right password.
	factorTries   = 5
	recoveryCodes = 10
	recoveryBytes = 10 // 80 bits: no list of their hashes is ever guessed through
	pictureSide   = 232
)

// stepOf is the time step of a code for a secret, if the code is right about now. No
// step up to the one used last is right any more.
func stepOf(secret, code string, now time.Time) (step int64, ok bool) {
	code = strings.ReplaceAll(strings.TrimSpace(code), " ", "")
	for off := -factorSkew; off <= factorSkew; off++ {
		at := now.Add(time.Duration(off) * factorStep)
		want, err := totp.GenerateCodeCustom(secret, at, totp.ValidateOpts{Period: uint(factorStep / time.Second), Digits: otp.DigitsSix, Algorithm: otp.AlgorithmSHA1})
		if err == nil && subtle.ConstantTimeCompare([]byte(want), []byte(code)) == 1 {
			step, ok = at.Unix()/int64(factorStep/time.Second), true
		}
	}
	return step, ok
}

// newRecovery makes codes to be kept on paper.
func newRecovery() []string {
	codes := make([]string, recoveryCodes)
	for i := range codes {
		codes[i] = recoveryForm(rand.Text())
	}
	return codes
}

// recoveryForm writes a code as it is kept: groups of four, so that it is copied without
// a mistake. Anything a person leaves out or adds between the letters does not matter.
func recoveryForm(typed string) string {
	var letters []rune
	for _, r := range strings.ToLower(typed) {
		if r >= 'a' && r <= 'z' || r >= '2' && r <= '7' {
			letters = append(letters, r)
		}
	}
	letters = letters[:min(len(letters), recoveryBytes*8/5)]
	var b strings.Builder
	for i, r := range letters {
		if i > 0 && i%4 == 0 {
			b.WriteByte('-')
		}
		b.WriteRune(r)
	}
	return b.String()
}

// waiting holds what a person has begun and not finished, in memory alone: a second
// factor that is not proved yet, a sign-in whose code is not typed yet.
type waiting struct {
	mu    sync.Mutex
	byKey map[string]begun
}

// begun is one of them.
type begun struct {
	person register.Person
	secret string
	to     string
	tries  int
	until  time.Time
}

func (w *waiting) put(key string, b begun, now time.Time) {
	w.mu.Lock()
	defer w.mu.Unlock()
	if w.byKey == nil {
		w.byKey = map[string]begun{}
	}
	for k, old := range w.byKey {
		if !now.Before(old.until) {
			delete(w.byKey, k)
		}
	}
	b.until = now.Add(factorWait)
	w.byKey[key] = b
}

// find gives what was begun, without counting a try.
func (w *waiting) find(key string, now time.Time) (begun, bool) {
	w.mu.Lock()
	defer w.mu.Unlock()
	b, ok := w.byKey[key]
	return b, ok && now.Before(b.until)
}

// try gives what was begun and counts a try; after the last one it is gone.
func (w *waiting) try(key string, now time.Time) (begun, bool) {
	w.mu.Lock()
	defer w.mu.Unlock()
	b, ok := w.byKey[key]
	if !ok || !now.Before(b.until) || b.tries >= factorTries {
		delete(w.byKey, key)
		return begun{}, false
	}
	b.tries++
	w.byKey[key] = b
	return b, true
}

func (w *waiting) drop(key string) {
	w.mu.Lock()
	defer w.mu.Unlock()
	delete(w.byKey, key)
}

type factorPage struct {
	frame
	Must       bool // the firm asks for it
	Picture    template.URL
	Secret     string
	CodeError  string
	Recovery   []string // shown once
	OldError   string
	HasAlready bool
}

// setupKey names a person's own beginning.
func setupKey(p register.Person) string { return "set up " + strconv.FormatInt(p.ID, 10) }

// showFactor shows the secret that is to be proved. It stays the same while the person
// looks at it, so that a second look does not undo the first.
func (s *Server) showFactor(c *gin.Context) error {
	return s.showFactorPage(c, factorPage{})
}

func (s *Server) showFactorPage(c *gin.Context, p factorPage) error {
	who := person(c)
	p.frame = s.frame(c, "Second factor")
	p.Must, p.HasAlready = s.access().Factor, who.Factor != ""
	if p.HasAlready || len(p.Recovery) > 0 {
		return s.show(c, "factor", p)
	}
	b, ok := s.begun.find(setupKey(who), s.Clock())
	if !ok {
		key, err := totp.Generate(totp.GenerateOpts{Issuer: "Tunwright", AccountName: who.Email})
		if err != nil {
			return fmt.Errorf("second factor: %w", err)
		}
		b = begun{person: who, secret: key.Secret()}
		s.begun.put(setupKey(who), b, s.Clock())
	}
	p.Secret = groupsOfFour(b.secret)
	var err error
	p.Picture, err = factorPicture(b.secret, who.Email)
	if err != nil {
		return err
	}
	return s.show(c, "factor", p)
}

// factorPicture is the code that a phone reads off the screen.
func factorPicture(secret, email string) (template.URL, error) {
	raw, err := base32.StdEncoding.WithPadding(base32.NoPadding).DecodeString(secret)
	if err != nil {
		return "", fmt.Errorf("second factor: %w", err)
	}
	key, err := totp.Generate(totp.GenerateOpts{Issuer: "Tunwright", AccountName: email, Secret: raw})
	if err != nil {
		return "", fmt.Errorf("second factor: %w", err)
	}
	img, err := key.Image(pictureSide, pictureSide)
	if err != nil {
		return "", fmt.Errorf("second factor: %w", err)
	}
	var b bytes.Buffer
	if err := png.Encode(&b, img); err != nil {
		return "", fmt.Errorf("second factor: %w", err)
	}
	return template.URL("data:image/png;base64," + base64.StdEncoding.EncodeToString(b.Bytes())), nil
}

func groupsOfFour(text string) string {
	var parts []string
	for len(text) > 4 {
		parts, text = append(parts, text[:4]), text[4:]
	}
	return strings.Join(append(parts, text), " ")
}

// setFactor takes the secret over once a code of it and the password were right.
func (s *Server) setFactor(c *gin.Context) error {
	who, now := person(c), s.Clock()
	if who.Factor != "" {
		return seeOther(c, "/account/factor")
	}
	if !s.tries.take("own "+who.Email, now) {
		return errTooOften
	}
	b, ok := s.begun.find(setupKey(who), now)
	if !ok {
		return seeOther(c, "/account/factor")
	}
	p := factorPage{}
	if !checkPassword(who.PasswordHash, c.PostForm("old")) {
		p.OldError = "this is not your password"
	}
	step, right := stepOf(b.secret, c.PostForm("code"), now)
	if !right {
		p.CodeError = "this is not the code of now: wait for the next one; the clock of the device must be right"
	}
	if p.OldError+p.CodeError != "" {
		c.Status(http.StatusUnprocessableEntity)
		return s.showFactorPage(c, p)
	}
	p.Recovery = newRecovery()
	if err := s.Desk.SetFactor(c.Request.Context(), who.ID, b.secret, step, p.Recovery, s.token(c), s.by(c)); err != nil {
		return err
	}
	s.begun.drop(setupKey(who))
	return s.showFactorPage(c, p)
}

// dropFactor takes it away again, where the firm does not ask for it.
func (s *Server) dropFactor(c *gin.Context) error {
	who := person(c)
	if s.access().Factor {
		return &trouble{http.StatusForbidden, "The firm asks for a second factor", "To change the device, ask the owner to take the old one away; you set up the new one when you sign in next."}
	}
	if !s.tries.take("own "+who.Email, s.Clock()) {
		return errTooOften
	}
	if !checkPassword(who.PasswordHash, c.PostForm("old")) {
		c.Status(http.StatusUnprocessableEntity)
		return s.showFactorPage(c, factorPage{OldError: "this is not your password"})
	}
	if err := s.Desk.SetFactor(c.Request.Context(), who.ID, "", 0, nil, s.token(c), s.by(c)); err != nil {
		return err
	}
	return seeOther(c, "/account?said=dropped")
}

type secondPage struct {
	frame
	Error string
}

// secondCookie names the sign-in that waits for its code.
func (s *Server) secondCookie() string { return s.cookieName() + "-second" }

// askSecond keeps who gave the right password, and asks for the code.
func (s *Server) askSecond(c *gin.Context, p register.Person, to string) error {
	ticket := rand.Text()
	s.begun.put("sign in "+ticket, begun{person: p, to: to}, s.Clock())
	s.setNamedCookie(c, s.secondCookie(), ticket, factorWait)
	return seeOther(c, "/sign-in/second")
}

func (s *Server) ticket(c *gin.Context) string {
	cookie, err := c.Request.Cookie(s.secondCookie())
	if err != nil {
		return ""
	}
	return "sign in " + cookie.Value
}

func (s *Server) showSecond(c *gin.Context) error {
	if _, ok := s.begun.find(s.ticket(c), s.Clock()); !ok {
		return seeOther(c, "/sign-in")
	}
	return s.show(c, "second", secondPage{frame: s.frame(c, "Your code")})
}

func (s *Server) takeSecond(c *gin.Context) error {
	now := s.Clock()
	b, ok := s.begun.try(s.ticket(c), now)
	if !ok {
		return seeOther(c, "/sign-in")
	}
	if !s.tries.take("second "+b.person.Email, now) {
		c.Header("Retry-After", "900")
		return errTooOften
	}
	right, err := s.rightSecond(c, b.person, c.PostForm("code"))
	if err != nil {
		return err
	}
	if !right {
		s.Log.Warn("second factor refused", "from", s.address(c))
		c.Status(http.StatusUnprocessableEntity)
		return s.show(c, "second", secondPage{frame: s.frame(c, "Your code"), Error: "This is not the code of now, or it was used already. Wait for the next one and type that."})
	}
	s.begun.drop(s.ticket(c))
	s.setNamedCookie(c, s.secondCookie(), "", -time.Second)
	return s.startSession(c, b.person, b.to)
}

// rightSecond tells whether a code of the device or one from paper is right, and uses
// it up.
func (s *Server) rightSecond(c *gin.Context, p register.Person, code string) (bool, error) {
	ctx := c.Request.Context()
	if step, ok := stepOf(p.Factor, code, s.Clock()); ok {
		err := s.Desk.UseStep(ctx, p.ID, step)
		if errors.Is(err, register.ErrConflict) {
			return false, nil
		}
		return err == nil, err
	}
	_, err := s.Desk.UseRecovery(ctx, p.ID, recoveryForm(code), register.By{Who: p.Name, At: s.Clock()})
	if errors.Is(err, register.ErrNotFound) {
		return false, nil
	}
	return err == nil, err
}
