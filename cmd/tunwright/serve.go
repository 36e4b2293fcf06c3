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
	Cert    string `help:"TLS certificate file; with --key the page is served by TLS." type:"existingfile" placeholder:"FILE"`
	Key     string `help:"TLS key file." type:"existingfile" placeholder:"FILE"`
	Behind  string `name:"behind-proxy" help:"Header in which a TLS proxy before the page writes the address a request came from, such as X-Forwarded-For." placeholder:"HEADER"`
	Data    string `help:"Folder of the register (SQLite); made where it is missing." default:"tunwright-data" placeholder:"DIR"`
}

func (serveCmd) Help() string {
	return `Examples:
  tunwright serve                                the demo, on http://127.0.0.1:8080
  tunwright serve --data our-desk --firm firm.yaml --prices prices.yaml

The page listens on this machine only. To reach it from others give it a certificate with --cert and
--key, or put a proxy with TLS before it and name its header with --behind-proxy.`
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
	if (c.Cert == "") != (c.Key == "") {
		return fmt.Errorf("--cert and --key go together")
	}
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
		Secure: c.Cert != "" || c.Behind != "", ProxyHeader: c.Behind,
	})
	if err != nil {
		return err
	}
	if err := pages.LoadDemo(ctx); err != nil {
		return err
	}
	first, err := pages.FirstLink(ctx)
	if err != nil {
		return err
	}
	return c.listen(ctx, con, pages.Handler(), path, first)
}

func (c serveCmd) listen(ctx context.Context, con *console, pages http.Handler, path, first string) error {
	ln, err := net.Listen("tcp", c.Address)
	if err != nil {
		return fmt.Errorf("listen on %s: %w; choose another with --address", c.Address, err)
	}
	srv := &http.Server{
		Handler: pages, ReadHeaderTimeout: headerTime, ReadTimeout: readTime, WriteTimeout: writeTime, IdleTimeout: idleTime, MaxHeaderBytes: headerSize,
	}
	scheme := "http"
	if c.Cert != "" {
		scheme = "https"
	}
	fmt.Fprintf(con.out, "Open %s://%s/ in a browser. The register is %s. Stop with Ctrl-C.\n", scheme, ln.Addr(), path)
	if first != "" {
		fmt.Fprintf(con.out, "Nobody works here yet. Become the owner at %s://%s%s ; the link works once.\n", scheme, ln.Addr(), first)
	}
	failed := make(chan error, 1)
	go func() {
		if c.Cert != "" {
			failed <- srv.ServeTLS(ln, c.Cert, c.Key)
			return
		}
		failed <- srv.Serve(ln)
	}()
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
func mends(c *catalog.Catalogue) func(offer.Job, configurator.Report, configurator.Finding) []web.Mend {
	return func(j offer.Job, r configurator.Report, f configurator.Finding) []web.Mend {
		var out []web.Mend
		for _, m := range propose.Mends(j.Project, c, r, f) {
			out = append(out, web.Mend{Words: m.Words, Edits: m.Edits, After: m.After.Report})
		}
		return out
	}
}
