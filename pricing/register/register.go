// Package register keeps quotations, projects, people, links and price books in one
// SQLite file.
//
// All SQL of the program is here. A Register has one connection that writes and a
// small pool that reads; exported methods open their own transaction. Whoever saves
// something says which version it was made from, and gets ErrConflict when somebody
// else was faster.
//
// Numbers are given out in the transaction that issues a revision, so that they have
// neither gaps nor doubles. Issued revisions and both audit trails are protected by
// triggers besides.
//
// Begin with Open. Check tells whether the file is sound; BackUp copies it while it
// is in use; Restore puts a copy back.
package register

import (
	"context"
	"database/sql"
	"errors"
	"fmt"
	"net/url"
	"os"
	"path/filepath"
	"time"

	"tunwright/pricing/quotation"

	"modernc.org/sqlite"
	sqlite3 "modernc.org/sqlite/lib"
)

// What a caller decides on.
var (
	ErrNotFound = errors.New("not in the register")
	// ErrConflict says that somebody else has saved in between.
	ErrConflict = errors.New("somebody else has changed it in the meantime")
	ErrExists   = errors.New("it is in the register already")
	// ErrLocked says that another program holds the file.
	ErrLocked = errors.New("the register is held by another program; close that one, or wait and try again")
	// ErrCorrupt says that the file is damaged.
	ErrCorrupt = errors.New("the register file is damaged; keep it as it is, and restore the last backup beside it")
	// ErrNotRegister says that the file is something else.
	ErrNotRegister = errors.New("the file is not a register of this program")
	// ErrNewer says that a newer version of the program has written the file.
	ErrNewer = errors.New("the register was written by a newer version of the program; install that one")
	// ErrErased says that the content was erased at the client's wish.
	ErrErased = errors.New("its content has been erased; only the accounts are left")
)

const (
	// applicationID marks the file as ours: "TUNW" in ASCII.
	applicationID = 0x54554e57
	readers       = 3 // two processors and one; more would starve the writer
	pragmas       = "_pragma=busy_timeout(5000)&_pragma=foreign_keys(1)&_pragma=synchronous(NORMAL)&_pragma=secure_delete(1)&_pragma=trusted_schema(0)"
)

// By is who does something and when.
type By = quotation.By

// Register is an open register file.
type Register struct {
	path   string
	writer *sql.DB
	reader *sql.DB
}

// Open opens the register, makes it if there is none, and brings it up to date.
func Open(ctx context.Context, path string) (*Register, error) {
	if err := os.MkdirAll(filepath.Dir(path), 0o700); err != nil {
		return nil, fmt.Errorf("open register %s: %w", path, err)
	}
	if err := touch(path); err != nil {
		return nil, fmt.Errorf("open register %s: %w", path, err)
	}
	writer, err := sql.Open("sqlite", dsn(path, pragmas+"&_pragma=journal_mode(WAL)&_txlock=immediate"))
	if err != nil {
		return nil, fmt.Errorf("open register %s: %w", path, err)
	}
	writer.SetMaxOpenConns(1)
	if err := prepare(ctx, writer); err != nil {
		return nil, fmt.Errorf("open register %s: %w", path, errors.Join(plain(err), writer.Close()))
	}
	reader, err := sql.Open("sqlite", dsn(path, pragmas+"&_pragma=query_only(1)"))
	if err != nil {
		return nil, fmt.Errorf("open register %s: %w", path, errors.Join(err, writer.Close()))
	}
	reader.SetMaxOpenConns(readers)
	return &Register{path: path, writer: writer, reader: reader}, nil
}

// touch makes an empty file that only its owner reads, if there is none; the
// database's own files beside it take after it.
func touch(path string) error {
	f, err := os.OpenFile(path, os.O_RDONLY|os.O_CREATE, 0o600)
	if err != nil {
		return err
	}
	return f.Close()
}

func dsn(path, query string) string {
	u := url.URL{Scheme: "file", Opaque: (&url.URL{Path: filepath.ToSlash(path)}).EscapedPath(), RawQuery: query}
	return u.String()
}

// Close closes the file.
func (r *Register) Close() error {
	return errors.Join(r.reader.Close(), r.writer.Close())
}

// Path is where the file lies.
func (r *Register) Path() string { return r.path }

// write runs f in a transaction and commits it; an error or panic rolls it back.
func (r *Register) write(ctx context.Context, what string, f func(tx *sql.Tx) error) error {
	tx, err := r.writer.BeginTx(ctx, nil)
	if err != nil {
		return fmt.Errorf("%s: %w", what, plain(err))
	}
	defer tx.Rollback() // does nothing once committed
	if err := f(tx); err != nil {
		return fmt.Errorf("%s: %w", what, plain(err))
	}
	if err := tx.Commit(); err != nil {
		return fmt.Errorf("%s: %w", what, plain(err))
	}
	return nil
}

// read runs f on one consistent view of the file.
func (r *Register) read(ctx context.Context, what string, f func(tx *sql.Tx) error) error {
	tx, err := r.reader.BeginTx(ctx, &sql.TxOptions{ReadOnly: true})
	if err != nil {
		return fmt.Errorf("%s: %w", what, plain(err))
	}
	defer tx.Rollback() // nothing to keep of a reading transaction
	if err := f(tx); err != nil {
		return fmt.Errorf("%s: %w", what, plain(err))
	}
	return nil
}

// plain puts what the database says into words that tell what to do.
func plain(err error) error {
	if errors.Is(err, sql.ErrNoRows) {
		return ErrNotFound
	}
	e, ok := errors.AsType[*sqlite.Error](err)
	if !ok {
		return err
	}
	const primary = 0xff
	switch e.Code() & primary {
	case sqlite3.SQLITE_BUSY, sqlite3.SQLITE_LOCKED:
		return fmt.Errorf("%w (%w)", ErrLocked, err)
	case sqlite3.SQLITE_CORRUPT:
		return fmt.Errorf("%w (%w)", ErrCorrupt, err)
	case sqlite3.SQLITE_NOTADB:
		return fmt.Errorf("%w, or it is damaged at its beginning (%w)", ErrNotRegister, err)
	case sqlite3.SQLITE_FULL:
		return fmt.Errorf("the disk is full; nothing was saved: make room and try again (%w)", err)
	case sqlite3.SQLITE_READONLY, sqlite3.SQLITE_PERM:
		return fmt.Errorf("the register may not be written; check the rights of its file and folder (%w)", err)
	case sqlite3.SQLITE_CANTOPEN:
		return fmt.Errorf("the register cannot be opened; check that its folder exists and may be written (%w)", err)
	}
	return err
}

// stamp writes a time as it is stored: RFC 3339 of one width, so that the order of
// the text is the order in time.
func stamp(t time.Time) string { return t.UTC().Format("2006-01-02T15:04:05.000Z") }

func parseStamp(s string) (time.Time, error) {
	t, err := time.Parse(time.RFC3339Nano, s)
	if err != nil {
		return time.Time{}, fmt.Errorf("time %q in the register: %w", s, err)
	}
	return t, nil
}

// nullStamp reads a time that may be missing.
func nullStamp(s sql.NullString) (time.Time, error) {
	if !s.Valid {
		return time.Time{}, nil
	}
	return parseStamp(s.String)
}

func checkBy(by By) error {
	if by.Who == "" || by.At.IsZero() {
		return errors.New("who does it and when is missing")
	}
	return nil
}

// isUnique tells whether a row of that key is there already.
func isUnique(err error) bool {
	e, ok := errors.AsType[*sqlite.Error](err)
	return ok && (e.Code() == sqlite3.SQLITE_CONSTRAINT_UNIQUE || e.Code() == sqlite3.SQLITE_CONSTRAINT_PRIMARYKEY)
}

// changedOne turns an update that met no row into an error.
func changedOne(res sql.Result, none error) error {
	n, err := res.RowsAffected()
	if err != nil {
		return err
	}
	if n == 0 {
		return none
	}
	return nil
}
