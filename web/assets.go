package web

import (
	"compress/gzip"
	"crypto/sha256"
	"embed"
	"encoding/hex"
	"fmt"
	"io/fs"
	"mime"
	"net/http"
	"path"
	"strings"

	"github.com/gin-gonic/gin"
)

//go:embed static
var staticFiles embed.FS

// assets are the style sheet, scripts and fonts, each under an address that changes
// with its content, so that a browser may keep it for ever.
type assets struct {
	files map[string][]byte
	small map[string][]byte // gzip, of those that get smaller by it
	marks map[string]string
}

func newAssets() (*assets, error) {
	a := &assets{files: map[string][]byte{}, small: map[string][]byte{}, marks: map[string]string{}}
	err := fs.WalkDir(staticFiles, "static", func(name string, d fs.DirEntry, err error) error {
		if err != nil || d.IsDir() {
			return err
		}
		text, err := staticFiles.ReadFile(name)
		if err != nil {
			return err
		}
		short := strings.TrimPrefix(name, "static/")
		sum := sha256.Sum256(text)
		a.files[short], a.marks[short] = text, hex.EncodeToString(sum[:6])
		small, err := squeezed(text, gzip.BestCompression)
		if len(text) >= worthSqueezing && len(small) < len(text)*9/10 {
			a.small[short] = small
		}
		return err
	})
	if err != nil {
		return nil, fmt.Errorf("static files: %w", err)
	}
	return a, nil
}

// url is the address of a file of static.
func (a *assets) url(name string) (string, error) {
	mark, ok := a.marks[name]
	if !ok {
		return "", fmt.Errorf("there is no static file %s", name)
	}
	return "/static/" + name + "?" + mark, nil
}

func (a *assets) serve(c *gin.Context) {
	name := strings.TrimPrefix(c.Param("name"), "/")
	text, ok := a.files[name]
	if !ok {
		c.String(http.StatusNotFound, "no such file")
		return
	}
	kind := mime.TypeByExtension(path.Ext(name))
	if path.Ext(name) == ".woff2" {
		kind = "font/woff2"
	}
	if c.Request.URL.RawQuery == a.marks[name] {
		c.Header("Cache-Control", "public, max-age=31536000, immutable")
	}
	c.Header("Vary", "Accept-Encoding")
	if small, ok := a.small[name]; ok && acceptsGzip(c.Request) {
		c.Header("Content-Encoding", "gzip")
		text = small
	}
	c.Data(http.StatusOK, kind, text)
}
