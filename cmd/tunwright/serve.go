package main

import (
	"context"
	"errors"
	"fmt"
	"log/slog"
	"net"
	"net/http"
	"os"
	"os/signal"
	"path/filepath"
	"syscall"
	"time"

	"tunwright/catalog"
	"tunwright/configurator"
	"tunwright/configurator/propose"
	"tunwright/pricing/offer"
	"tunwright/pricing/register"
	"tunwright/web"
)

type serveCmd struct {
	houseFlags
	Address string `help:"Address to listen on; the default is this machine only." default:"127.0.0.1:8080"`
	Data    string `help:"Folder of the register (SQLite); made where it is missing." default:"tunwright-data" placeholder:"DIR"`
}

func (serveCmd) Help() string {
	return `Examples:
  tunwright serve                                the demo, on http://127.0.0.1:8080
  tunwright serve --data our-desk --firm firm.yaml --prices prices.yaml

The page listens on this machine only. Put a proxy with TLS before it to reach it from others.`
}

// Limits of one request and of closing down.
const (
	headerTime = 5 * time.Second
	readTime   = 30 * time.Second
	writeTime  = time.Minute
	idleTime   = 2 * time.Minute
	closeTime  = 10 * time.Second
	headerSize = 64 << 10
)

// Run opens the page and stays until it is interrupted.
func (c serveCmd) Run(con *console) error {
	ctx, stop := signal.NotifyContext(context.Background(), os.Interrupt, syscall.SIGTERM)
	defer stop()
	house, logo, err := c.open()
	if err != nil {
		return err
	}
	if err := os.MkdirAll(c.Data, 0o700); err != nil {
		return fmt.Errorf("make the folder %s: %w", c.Data, err)
	}
	path := filepath.Join(c.Data, "register.db")
	reg, err := register.Open(ctx, path)
	if err != nil {
		return err
	}
	defer reg.Close()
	pages, err := web.New(web.Config{
		House: house, Logo: logo, Desk: reg, Clock: con.today, Version: version,
		Log: slog.New(slog.NewTextHandler(con.err, nil)), Mends: mends(house.Catalogue),
	})
	if err != nil {
		return err
	}
	if err := pages.LoadDemo(ctx); err != nil {
		return err
	}
	return c.listen(ctx, con, pages.Handler(), path)
}

func (c serveCmd) listen(ctx context.Context, con *console, pages http.Handler, path string) error {
	ln, err := net.Listen("tcp", c.Address)
	if err != nil {
		return fmt.Errorf("listen on %s: %w; choose another with --address", c.Address, err)
	}
	srv := &http.Server{
		Handler: pages, ReadHeaderTimeout: headerTime, ReadTimeout: readTime, WriteTimeout: writeTime, IdleTimeout: idleTime, MaxHeaderBytes: headerSize,
	}
	fmt.Fprintf(con.out, "Open http://%s/ in a browser. Drafts are kept in %s. Stop with Ctrl-C.\n", ln.Addr(), path)
	failed := make(chan error, 1)
	go func() { failed <- srv.Serve(ln) }()
	select {
	case err := <-failed:
		return fmt.Errorf("serve: %w", err)
	case <-ctx.Done():
	}
	closing, cancel := context.WithTimeout(context.Background(), closeTime)
	defer cancel()
	if err := srv.Shutdown(closing); err != nil && !errors.Is(err, context.DeadlineExceeded) {
		return fmt.Errorf("close the page: %w", err)
	}
	return nil
}

// mends offers remedies that can be made with one key.
func mends(c *catalog.Catalogue) func(offer.Job, configurator.Finding) []web.Mend {
	return func(j offer.Job, f configurator.Finding) []web.Mend {
		r, err := configurator.Check(j.Project, c)
		if err != nil {
			return nil
		}
		var out []web.Mend
		for _, m := range propose.Mends(j.Project, c, r, f) {
			out = append(out, web.Mend{Words: m.Words, Edits: m.Edits})
		}
		return out
	}
}
