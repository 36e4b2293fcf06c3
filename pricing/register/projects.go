package register

import (
	"context"
	"database/sql"
	"errors"
	"fmt"
	"time"
)

// Project is an enquiry being worked on. The document is the owner's text; the
// register keeps it and never looks inside.
type Project struct {
	ID        string
	Title     string
	ClientID  int64 // 0 when no client is entered
	Document  string
	Revision  int // counts the savings
	UpdatedAt time.Time
	UpdatedBy string
}

// keptRevisions is how many earlier versions of a project can be gone back to.
const keptRevisions = 200

// SaveProject saves a project that was made from revision p.Revision, 0 for a new
// one, and returns the new revision. If somebody else saved in between it is
// ErrConflict, and nothing of either is lost: the other's is in the register, the
// caller's is still in hand.
func (r *Register) SaveProject(ctx context.Context, p Project, by By) (revision int, err error) {
	what := "save project " + p.ID
	if p.ID == "" {
		return 0, errors.New("save project: it has no id")
	}
	err = r.write(ctx, what, func(tx *sql.Tx) error {
		if err := checkBy(by); err != nil {
			return err
		}
		if revision, err = storeProject(ctx, tx, p, by); err != nil {
			return err
		}
		if _, err := tx.ExecContext(ctx, "INSERT INTO project_history (project_id, revision, document, saved_at, saved_by) VALUES (?, ?, ?, ?, ?)",
			p.ID, revision, p.Document, stamp(by.At), by.Who); err != nil {
			return err
		}
		_, err := tx.ExecContext(ctx, "DELETE FROM project_history WHERE project_id = ? AND revision <= ?", p.ID, revision-keptRevisions)
		return err
	})
	return revision, err
}

func storeProject(ctx context.Context, tx *sql.Tx, p Project, by By) (revision int, err error) {
	client := sql.NullInt64{Int64: p.ClientID, Valid: p.ClientID != 0}
	if p.Revision == 0 {
		_, err := tx.ExecContext(ctx, `INSERT INTO projects (id, title, client_id, document, revision, updated_at, updated_by)
			VALUES (?, ?, ?, ?, 1, ?, ?)`, p.ID, p.Title, client, p.Document, stamp(by.At), by.Who)
		if isUnique(err) {
			return 0, ErrConflict
		}
		return 1, err
	}
	res, err := tx.ExecContext(ctx, `UPDATE projects SET title = ?, client_id = ?, document = ?, revision = revision + 1, updated_at = ?, updated_by = ?
		WHERE id = ? AND revision = ?`, p.Title, client, p.Document, stamp(by.At), by.Who, p.ID, p.Revision)
	if err != nil {
		return 0, err
	}
	var now int
	if err := tx.QueryRowContext(ctx, "SELECT revision FROM projects WHERE id = ?", p.ID).Scan(&now); err != nil {
		return 0, err
	}
	conflict := fmt.Errorf("%w: revision %d was opened, %d is the newest", ErrConflict, p.Revision, now)
	return p.Revision + 1, changedOne(res, conflict)
}

// Project returns a project as it was saved last.
func (r *Register) Project(ctx context.Context, id string) (Project, error) {
	var p Project
	err := r.read(ctx, "project "+id, func(tx *sql.Tx) error {
		var client sql.NullInt64
		var at string
		row := tx.QueryRowContext(ctx, "SELECT id, title, client_id, document, revision, updated_at, updated_by FROM projects WHERE id = ?", id)
		if err := row.Scan(&p.ID, &p.Title, &client, &p.Document, &p.Revision, &at, &p.UpdatedBy); err != nil {
			return err
		}
		p.ClientID = client.Int64
		var err error
		p.UpdatedAt, err = parseStamp(at)
		return err
	})
	return p, err
}

// ProjectAt returns the document of an earlier revision.
func (r *Register) ProjectAt(ctx context.Context, id string, revision int) (document string, err error) {
	err = r.read(ctx, fmt.Sprintf("project %s, revision %d", id, revision), func(tx *sql.Tx) error {
		return tx.QueryRowContext(ctx, "SELECT document FROM project_history WHERE project_id = ? AND revision = ?", id, revision).Scan(&document)
	})
	return document, err
}

// Projects lists the projects without their documents, the last saved first.
func (r *Register) Projects(ctx context.Context, limit int) ([]Project, error) {
	var out []Project
	err := r.read(ctx, "projects", func(tx *sql.Tx) error {
		rows, err := tx.QueryContext(ctx, "SELECT id, title, client_id, revision, updated_at, updated_by FROM projects ORDER BY updated_at DESC, id LIMIT ?", limit)
		out, err = collect(rows, err, func(rows *sql.Rows) (p Project, err error) {
			var client sql.NullInt64
			var at string
			if err := rows.Scan(&p.ID, &p.Title, &client, &p.Revision, &at, &p.UpdatedBy); err != nil {
				return p, err
			}
			p.ClientID = client.Int64
			p.UpdatedAt, err = parseStamp(at)
			return p, err
		})
		return err
	})
	return out, err
}
