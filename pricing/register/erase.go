package register

import (
	"context"
	"database/sql"
	"errors"
	"fmt"
	"strings"
)

const erased = "(erased)"

// EraseClient deletes what is known of a client as a person: name and addresses, the
// content and papers of the quotations, their trails, drafts, projects, comments,
// links and recipients. The accounts stay: number, revision, dates, currency, net,
// tax and total, state and digest of every revision.
//
// The bytes are overwritten in the file (secure_delete) and the write-ahead log is
// emptied. Backups made before still hold them: those have a life of their own.
//
// Source: GDPR art. 17 (erasure) and art. 5(1)(e); accounting records are kept, for
// example six years in the United Kingdom (HMRC Notice 700/21).
func (r *Register) EraseClient(ctx context.Context, id int64, reason string, by By) error {
	if strings.TrimSpace(reason) == "" {
		return errors.New("erase client: say why, for the record")
	}
	err := r.write(ctx, fmt.Sprintf("erase client %d", id), func(tx *sql.Tx) error {
		res, err := tx.ExecContext(ctx, "UPDATE clients SET name = ?, contact = '', email = '', phone = '', address = '', erased_at = ? WHERE id = ? AND erased_at IS NULL",
			erased, stamp(by.At), id)
		if err != nil {
			return err
		}
		if err := changedOne(res, ErrNotFound); err != nil {
			return err
		}
		for _, s := range eraseSteps {
			args := []any{id}
			if s.timed {
				args = append(args, stamp(by.At))
			}
			if _, err := tx.ExecContext(ctx, s.text, args...); err != nil {
				return fmt.Errorf("%.30s…: %w", s.text, err)
			}
		}
		return note(ctx, tx, by, "erase client", fmt.Sprintf("client %d", id), reason)
	})
	if err != nil {
		return err
	}
	return r.emptyLog(ctx)
}

const clientsQuotations = "(SELECT id FROM quotations WHERE client_id = ?1)"

// eraseSteps delete everything that hangs on the client's quotations and projects.
// Their parameters are the client and, where it is used, the time.
var eraseSteps = []struct {
	text  string
	timed bool
}{
	{"DELETE FROM quotation_words WHERE id IN " + clientsQuotations, false},
	{"DELETE FROM events WHERE quotation_id IN " + clientsQuotations, false},
	{"DELETE FROM comments WHERE quotation_id IN " + clientsQuotations, false},
	{"UPDATE links SET revoked_at = coalesce(revoked_at, ?2), opened = '{}' WHERE quotation_id IN " + clientsQuotations, true},
	{"UPDATE transmittals SET recipient = '" + erased + "' WHERE quotation_id IN " + clientsQuotations, false},
	{"UPDATE revisions SET snapshot = NULL, acceptance = NULL, closing = '', approvals = 'null' WHERE quotation_id IN " + clientsQuotations, false},
	{"UPDATE quotations SET title = '" + erased + "', client = '" + erased + "', draft = NULL, erased_at = ?2, version = version + 1 WHERE client_id = ?1", true},
	{"DELETE FROM project_history WHERE project_id IN (SELECT id FROM projects WHERE client_id = ?1)", false},
	{"UPDATE projects SET title = '" + erased + "', document = '', revision = revision + 1, updated_at = ?2 WHERE client_id = ?1", true},
}

// ErasePerson removes name and address of somebody who worked here. What the person
// did stays in the trails under the name used there, which is the house's own record.
func (r *Register) ErasePerson(ctx context.Context, id int64, by By) error {
	err := r.write(ctx, fmt.Sprintf("erase person %d", id), func(tx *sql.Tx) error {
		res, err := tx.ExecContext(ctx, "UPDATE people SET name = ?, email = 'erased-' || id || '@invalid', password_hash = '', factor = '', disabled_at = ?, erased_at = ? WHERE id = ? AND erased_at IS NULL",
			erased, stamp(by.At), stamp(by.At), id)
		if err != nil {
			return err
		}
		if err := changedOne(res, ErrNotFound); err != nil {
			return err
		}
		for _, table := range []string{"sessions", "recovery_codes"} {
			if _, err := tx.ExecContext(ctx, "DELETE FROM "+table+" WHERE person_id = ?", id); err != nil {
				return err
			}
		}
		return note(ctx, tx, by, "erase person", fmt.Sprintf("person %d", id), "")
	})
	if err != nil {
		return err
	}
	return r.emptyLog(ctx)
}

// emptyLog moves the write-ahead log into the file and cuts it, so that no erased
// bytes stay behind in it. It waits for readers, but not for ever.
func (r *Register) emptyLog(ctx context.Context) error {
	var busy, pages, moved int
	if err := r.writer.QueryRowContext(ctx, "PRAGMA wal_checkpoint(TRUNCATE)").Scan(&busy, &pages, &moved); err != nil {
		return fmt.Errorf("empty the write-ahead log: %w", plain(err))
	}
	if busy != 0 {
		return fmt.Errorf("it is done, but its traces stay in %s-wal until everybody has closed the register: %w", r.path, ErrLocked)
	}
	return nil
}
