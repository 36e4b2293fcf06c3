package register

import (
	"context"
	"database/sql"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"
)

// BackUp copies the register to a new file while it is in use. The copy is one
// consistent state, compact, and complete in one file; it appears under its name
// only once it is whole. An existing file is not written over.
func (r *Register) BackUp(ctx context.Context, to string) (err error) {
	what := "back up to " + to
	if _, err := os.Lstat(to); !errors.Is(err, fs.ErrNotExist) {
		return fmt.Errorf("%s: the file exists; choose another name", what)
	}
	part := to + ".part"
	if err := os.Remove(part); err != nil && !errors.Is(err, fs.ErrNotExist) {
		return fmt.Errorf("%s: %w", what, err)
	}
	defer func() {
		if err != nil {
			err = errors.Join(err, removeIfThere(part))
		}
	}()
	if err := r.vacuumInto(ctx, part); err != nil {
		return fmt.Errorf("%s: %w", what, plain(err))
	}
	if err := os.Chmod(part, 0o600); err != nil {
		return fmt.Errorf("%s: %w", what, err)
	}
	if err := syncFile(part); err != nil {
		return fmt.Errorf("%s: %w", what, err)
	}
	return os.Rename(part, to)
}

// vacuumInto copies over a connection of its own, so that the writer stays free.
func (r *Register) vacuumInto(ctx context.Context, to string) error {
	return r.apart(func(db *sql.DB) error {
		_, err := db.ExecContext(ctx, "VACUUM INTO ?", to)
		return err
	})
}

// apart lends a connection of its own, closed afterwards.
func (r *Register) apart(f func(db *sql.DB) error) error {
	db, err := sql.Open("sqlite", dsn(r.path, pragmas))
	if err != nil {
		return err
	}
	db.SetMaxOpenConns(1)
	return errors.Join(f(db), db.Close())
}

func removeIfThere(path string) error {
	if err := os.Remove(path); err != nil && !errors.Is(err, fs.ErrNotExist) {
		return err
	}
	return nil
}

func syncFile(path string) error {
	f, err := os.OpenFile(path, os.O_RDWR, 0)
	if err != nil {
		return err
	}
	return errors.Join(f.Sync(), f.Close())
}

// Restore puts a backup in place as the register at path. It looks the backup over
// first. A register that lies there is not written over: move it away, it may hold
// what the backup does not. The backup itself is not touched.
func Restore(ctx context.Context, backup, path string) (err error) {
	what := fmt.Sprintf("restore %s as %s", backup, path)
	for _, there := range []string{path, path + "-wal", path + "-shm"} {
		if _, err := os.Lstat(there); !errors.Is(err, fs.ErrNotExist) {
			return fmt.Errorf("%s: %s exists; move it away first, it may hold what the backup does not", what, there)
		}
	}
	if err := os.MkdirAll(filepath.Dir(path), 0o700); err != nil {
		return fmt.Errorf("%s: %w", what, err)
	}
	part := path + ".part"
	defer func() {
		for _, suffix := range []string{"", "-wal", "-shm"} {
			err = errors.Join(err, removeIfThere(part+suffix))
		}
	}()
	if err := copyFile(backup, part); err != nil {
		return fmt.Errorf("%s: %w", what, err)
	}
	if err := lookOver(ctx, part); err != nil {
		return fmt.Errorf("%s: %w", what, err)
	}
	if err := os.Rename(part, path); err != nil {
		return fmt.Errorf("%s: %w", what, err)
	}
	return nil
}

func copyFile(from, to string) error {
	in, err := os.Open(from)
	if err != nil {
		return err
	}
	defer in.Close()
	out, err := os.OpenFile(to, os.O_WRONLY|os.O_CREATE|os.O_TRUNC, 0o600)
	if err != nil {
		return err
	}
	_, err = io.Copy(out, in)
	return errors.Join(err, out.Sync(), out.Close())
}

// lookOver brings a copied file up to date and refuses it unless it is sound.
func lookOver(ctx context.Context, path string) error {
	r, err := Open(ctx, path)
	if err != nil {
		return err
	}
	problems, err := r.Check(ctx)
	if err == nil && len(problems) > 0 {
		err = fmt.Errorf("%w: %s (%d problems in all)", ErrCorrupt, problems[0], len(problems))
	}
	return errors.Join(err, r.emptyLog(ctx), r.Close())
}

// Check looks the whole register over: the file's own structure, references between
// tables, the digests of every issued revision, both trails, and the numbering. It
// returns what is wrong, in words; nothing when the register is sound.
func (r *Register) Check(ctx context.Context) ([]string, error) {
	out, err := r.structure(ctx)
	if err != nil {
		return nil, fmt.Errorf("check: %w", plain(err))
	}
	err = r.read(ctx, "check", func(tx *sql.Tx) error {
		for _, look := range []func(context.Context, *sql.Tx) ([]string, error){references, verifyQuotations, verifyAudit, missingNumbers} {
			found, err := look(ctx, tx)
			if err != nil {
				return err
			}
			out = append(out, found...)
		}
		return nil
	})
	return out, err
}

// structure asks the database itself. It does so over a fresh connection: one that
// has read the full-text index before compares it with what it remembers.
func (r *Register) structure(ctx context.Context) (found []string, err error) {
	err = r.apart(func(db *sql.DB) error {
		rows, err := db.QueryContext(ctx, "PRAGMA integrity_check(20)")
		found, err = collect(rows, err, func(rows *sql.Rows) (s string, err error) { return s, rows.Scan(&s) })
		return err
	})
	if err != nil || len(found) == 1 && found[0] == "ok" {
		return nil, err
	}
	for i := range found {
		found[i] = "file structure: " + found[i]
	}
	return found, nil
}

func references(ctx context.Context, tx *sql.Tx) ([]string, error) {
	rows, err := tx.QueryContext(ctx, "PRAGMA foreign_key_check")
	return collect(rows, err, func(rows *sql.Rows) (string, error) {
		var table, parent string
		var row sql.NullInt64
		var key int
		if err := rows.Scan(&table, &row, &parent, &key); err != nil {
			return "", err
		}
		return fmt.Sprintf("%s, row %d: refers to a row of %s that is not there", table, row.Int64, parent), nil
	})
}

func verifyQuotations(ctx context.Context, tx *sql.Tx) ([]string, error) {
	rows, err := tx.QueryContext(ctx, "SELECT id FROM quotations WHERE erased_at IS NULL ORDER BY id")
	ids, err := collect(rows, err, func(rows *sql.Rows) (id string, err error) { return id, rows.Scan(&id) })
	if err != nil {
		return nil, err
	}
	var out []string
	for _, id := range ids {
		s, err := loadQuotation(ctx, tx, id)
		if err == nil {
			err = s.Quote.Verify()
		}
		if err != nil {
			out = append(out, fmt.Sprintf("quotation %s: %v", id, err))
		}
	}
	return out, nil
}

func missingNumbers(ctx context.Context, tx *sql.Tx) ([]string, error) {
	gaps, err := numberGaps(ctx, tx)
	for i := range gaps {
		gaps[i] = "number " + gaps[i] + " was given out but no quotation has it"
	}
	return gaps, err
}
