package register

import (
	"context"
	"database/sql"
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"
)

func TestOpenSaysWhatIsWrong(t *testing.T) {
	ctx := context.Background()
	dir := t.TempDir()
	text := filepath.Join(dir, "letter.txt")
	if err := os.WriteFile(text, []byte(strings.Repeat("not a database ", 100)), 0o600); err != nil {
		t.Fatal(err)
	}
	if _, err := Open(ctx, text); !errors.Is(err, ErrNotRegister) {
		t.Errorf("a text: %v", err)
	}
	foreign := filepath.Join(dir, "foreign.db")
	db, err := sql.Open("sqlite", foreign)
	if err != nil {
		t.Fatal(err)
	}
	if _, err := db.ExecContext(ctx, "CREATE TABLE recipes (name TEXT)"); err != nil {
		t.Fatal(err)
	}
	if err := db.Close(); err != nil {
		t.Fatal(err)
	}
	if _, err := Open(ctx, foreign); !errors.Is(err, ErrNotRegister) {
		t.Errorf("another program's database: %v", err)
	}
	newer := filepath.Join(dir, "newer.db")
	r := openAt(t, newer)
	if _, err := r.writer.ExecContext(ctx, "PRAGMA user_version = 99"); err != nil {
		t.Fatal(err)
	}
	if _, err := Open(ctx, newer); !errors.Is(err, ErrNewer) {
		t.Errorf("a newer version: %v", err)
	}
}

// The refusal comes after the busy timeout of five seconds.
func TestLockedRegisterSaysSo(t *testing.T) {
	ctx := context.Background()
	r := open(t)
	holder, err := sql.Open("sqlite", dsn(r.Path(), "_txlock=immediate"))
	if err != nil {
		t.Fatal(err)
	}
	defer holder.Close()
	tx, err := holder.BeginTx(ctx, nil)
	if err != nil {
		t.Fatal(err)
	}
	defer tx.Rollback() // only held for the lock
	if _, err := r.SaveProject(ctx, Project{ID: "p1", Title: "x", Document: "x"}, by("Ann", 1)); !errors.Is(err, ErrLocked) {
		t.Errorf("got %v, want ErrLocked", err)
	}
	if _, err := r.Projects(ctx, 10); err != nil {
		t.Errorf("reading while another writes: %v", err)
	}
}

// A file of every past version is brought up to date with what is in it.
func TestUpgradeFromEveryPastVersion(t *testing.T) {
	ctx := context.Background()
	steps, err := migrations()
	if err != nil {
		t.Fatal(err)
	}
	for version := 1; version < len(steps); version++ {
		t.Run(fmt.Sprintf("from version %d", version), func(t *testing.T) {
			path := filepath.Join(t.TempDir(), "old.db")
			db, err := sql.Open("sqlite", dsn(path, pragmas+"&_txlock=immediate"))
			if err != nil {
				t.Fatal(err)
			}
			if err := migrate(ctx, db, steps[:version]); err != nil {
				t.Fatal(err)
			}
			_, err = db.ExecContext(ctx, "INSERT INTO quotations (id, number, title, client, state, version, updated_at) VALUES ('old', 'Q-2025-0007', 'Old barn', 'Old brewer', 'enquiry', 1, '2025-01-01T00:00:00.000Z')")
			const withWords = 4 // the version that keeps the words a quotation is found by
			if version >= withWords {
				_, wordsErr := db.ExecContext(ctx, "INSERT INTO quotation_words (id, number, title, client) VALUES ('old', 'Q-2025-0007', 'Old barn', 'Old brewer')")
				err = errors.Join(err, wordsErr)
			}
			if err := errors.Join(err, db.Close()); err != nil {
				t.Fatal(err)
			}
			r := openAt(t, path)
			found, err := r.Search(ctx, Query{Words: "barn"})
			if err != nil || len(found) != 1 || found[0].Number != "Q-2025-0007" {
				t.Errorf("found %+v, %v", found, err)
			}
			issue(t, r, addDraft(t, r, "new", "New barn", 0))
			sound(t, r)
		})
	}
}

func TestAFailedMigrationLeavesTheVersionBefore(t *testing.T) {
	ctx := context.Background()
	steps, err := migrations()
	if err != nil {
		t.Fatal(err)
	}
	path := filepath.Join(t.TempDir(), "register.db")
	db, err := sql.Open("sqlite", dsn(path, pragmas+"&_txlock=immediate"))
	if err != nil {
		t.Fatal(err)
	}
	bad := append(slices.Clone(steps[:1]), migration{2, "0002_bad.sql", "CREATE TABLE half (a INTEGER) STRICT; CREATE TABLE wrong ("})
	if err := migrate(ctx, db, bad); err == nil {
		t.Fatal("a migration with an error went through")
	}
	var version, half int
	if err := db.QueryRowContext(ctx, "SELECT user_version FROM pragma_user_version").Scan(&version); err != nil {
		t.Fatal(err)
	}
	if err := db.QueryRowContext(ctx, "SELECT count(*) FROM sqlite_schema WHERE name = 'half'").Scan(&half); err != nil {
		t.Fatal(err)
	}
	if version != 1 || half != 0 {
		t.Errorf("version %d, half a table: %d", version, half)
	}
	if err := db.Close(); err != nil {
		t.Fatal(err)
	}
	sound(t, openAt(t, path))
}

func TestOnlyTheOwnerReadsTheFile(t *testing.T) {
	r := open(t)
	addDraft(t, r, "q1", "Mill Loft", 0)
	for _, suffix := range []string{"", "-wal"} {
		info, err := os.Stat(r.Path() + suffix)
		if err != nil || info.Mode().Perm() != 0o600 {
			t.Errorf("register%s: %v, %v", suffix, info.Mode(), err)
		}
	}
}
