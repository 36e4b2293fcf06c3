package register

import (
	"context"
	"database/sql"
	"embed"
	"fmt"
	"io/fs"
	"slices"
	"strconv"
	"strings"
)

//go:embed migrations/*.sql
var migrationFiles embed.FS

type migration struct {
	version int
	name    string
	text    string
}

// migrations returns the steps in order; step n leads from version n−1 to n.
func migrations() ([]migration, error) {
	names, err := fs.Glob(migrationFiles, "migrations/*.sql")
	if err != nil {
		return nil, err
	}
	slices.Sort(names)
	var out []migration
	for i, name := range names {
		text, err := migrationFiles.ReadFile(name)
		if err != nil {
			return nil, err
		}
		number, _, _ := strings.Cut(strings.TrimPrefix(name, "migrations/"), "_")
		version, err := strconv.Atoi(number)
		if err != nil || version != i+1 {
			return nil, fmt.Errorf("migration %s: number %d was expected", name, i+1)
		}
		out = append(out, migration{version, name, string(text)})
	}
	return out, nil
}

// prepare recognises the file and brings it to the newest version. Each step is a
// transaction of its own, so that a step that fails leaves the version before it.
func prepare(ctx context.Context, db *sql.DB) error {
	steps, err := migrations()
	if err != nil {
		return err
	}
	return migrate(ctx, db, steps)
}

func migrate(ctx context.Context, db *sql.DB, steps []migration) error {
	for {
		done, err := step(ctx, db, steps)
		if err != nil || done {
			return err
		}
	}
}

// step applies the next migration; done when there is none. It looks at the version
// inside the transaction, because another process may open the file at the same time.
func step(ctx context.Context, db *sql.DB, steps []migration) (done bool, err error) {
	tx, err := db.BeginTx(ctx, nil)
	if err != nil {
		return false, err
	}
	defer tx.Rollback() // does nothing once committed
	version, err := recognise(ctx, tx)
	if err != nil {
		return false, err
	}
	if version > len(steps) {
		return false, fmt.Errorf("%w (version %d, this program knows %d)", ErrNewer, version, len(steps))
	}
	if version == len(steps) {
		return true, nil
	}
	next := steps[version]
	if _, err := tx.ExecContext(ctx, next.text); err != nil {
		return false, fmt.Errorf("%s: %w", next.name, err)
	}
	// PRAGMA takes no parameters; both are numbers of our own.
	pragma := fmt.Sprintf("PRAGMA user_version = %d; PRAGMA application_id = %d", next.version, applicationID)
	if _, err := tx.ExecContext(ctx, pragma); err != nil {
		return false, fmt.Errorf("%s: %w", next.name, err)
	}
	return false, tx.Commit()
}

// recognise returns the version of the file. A file that is neither empty nor ours
// is left alone.
func recognise(ctx context.Context, tx *sql.Tx) (version int, err error) {
	var application, tables int
	if err := tx.QueryRowContext(ctx, "PRAGMA user_version").Scan(&version); err != nil {
		return 0, err
	}
	if err := tx.QueryRowContext(ctx, "PRAGMA application_id").Scan(&application); err != nil {
		return 0, err
	}
	if err := tx.QueryRowContext(ctx, "SELECT count(*) FROM sqlite_schema").Scan(&tables); err != nil {
		return 0, err
	}
	if application == applicationID || application == 0 && version == 0 && tables == 0 {
		return version, nil
	}
	return 0, ErrNotRegister
}
