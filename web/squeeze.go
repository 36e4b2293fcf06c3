package web

import (
	"bytes"
	"compress/gzip"
	"net/http"
	"strconv"
	"strings"

	"github.com/gin-gonic/gin"
)

// Pages and static files go out compressed, for the client on a slow line. No page holds
// a secret beside something that a stranger can have it repeat: the cookie is not sent
// from other sites, and the client's page is found by its own secret alone.

// worthSqueezing is the size below which a response fits into one packet anyway.
const worthSqueezing = 1400

// acceptsGzip tells whether a request takes gzip.
func acceptsGzip(r *http.Request) bool {
	for coding := range strings.SplitSeq(strings.Join(r.Header.Values("Accept-Encoding"), ","), ",") {
		name, weight, weighted := strings.Cut(coding, ";")
		if strings.TrimSpace(name) != "gzip" {
			continue
		}
		q, err := strconv.ParseFloat(strings.TrimPrefix(strings.TrimSpace(weight), "q="), 64)
		return !weighted || err == nil && q > 0
	}
	return false
}

func squeezed(text []byte, level int) ([]byte, error) {
	var b bytes.Buffer
	w, err := gzip.NewWriterLevel(&b, level)
	if err != nil {
		return nil, err
	}
	if _, err := w.Write(text); err != nil {
		return nil, err
	}
	if err := w.Close(); err != nil {
		return nil, err
	}
	return b.Bytes(), nil
}

// send writes a response, compressed where that helps and the browser takes it.
func send(c *gin.Context, status int, kind string, text []byte) error {
	c.Header("Vary", "Accept-Encoding")
	if len(text) < worthSqueezing || !acceptsGzip(c.Request) {
		c.Data(status, kind, text)
		return nil
	}
	small, err := squeezed(text, gzip.BestSpeed)
	if err != nil {
		return err
	}
	c.Header("Content-Encoding", "gzip")
	c.Data(status, kind, small)
	return nil
}
