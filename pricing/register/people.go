package register

import (
	"context"
	"crypto/sha256"
	"database/sql"
	"errors"
	"fmt"
	"strings"
	"time"
)

// Role is what a person may do.
type Role string

// The roles.
const (
	Sales    Role = "sales"
	Approver Role = "approver" // may say yes where the policy asks for a second person
	Office   Role = "office"
	Owner    Role = "owner"
)

// Person works here.
type Person struct {
	ID           int64
	Email        string
	Name         string
	Role         Role
	PasswordHash string // made by the caller, argon2id
	Disabled     bool
}

// AddPerson enters a person.
func (r *Register) AddPerson(ctx context.Context, p Person, by By) (id int64, err error) {
	err = r.write(ctx, "add person", func(tx *sql.Tx) error {
		if strings.TrimSpace(p.Name) == "" || !strings.Contains(p.Email, "@") {
			return errors.New("a person has a name and an e-mail address")
		}
		err := tx.QueryRowContext(ctx, "INSERT INTO people (email, name, role, password_hash, created_at) VALUES (?, ?, ?, ?, ?) RETURNING id",
			strings.TrimSpace(p.Email), strings.TrimSpace(p.Name), string(p.Role), p.PasswordHash, stamp(by.At)).Scan(&id)
		if isUnique(err) {
			return fmt.Errorf("%w: a person with this e-mail address", ErrExists)
		}
		if err != nil {
			return err
		}
		return note(ctx, tx, by, "add person", fmt.Sprintf("person %d", id), string(p.Role))
	})
	return id, err
}

// SetPassword stores a new hash and ends every session of the person.
func (r *Register) SetPassword(ctx context.Context, id int64, hash string, by By) error {
	return r.changePerson(ctx, id, by, "set password", "UPDATE people SET password_hash = ?2 WHERE id = ?1", hash)
}

// Disable keeps a person from signing in and ends every session.
func (r *Register) Disable(ctx context.Context, id int64, by By) error {
	return r.changePerson(ctx, id, by, "disable person", "UPDATE people SET disabled_at = ?2 WHERE id = ?1", stamp(by.At))
}

func (r *Register) changePerson(ctx context.Context, id int64, by By, did, update, value string) error {
	return r.write(ctx, did, func(tx *sql.Tx) error {
		res, err := tx.ExecContext(ctx, update, id, value)
		if err != nil {
			return err
		}
		if err := changedOne(res, ErrNotFound); err != nil {
			return err
		}
		if _, err := tx.ExecContext(ctx, "DELETE FROM sessions WHERE person_id = ?", id); err != nil {
			return err
		}
		return note(ctx, tx, by, did, fmt.Sprintf("person %d", id), "")
	})
}

const personColumns = "p.id, p.email, p.name, p.role, p.password_hash, p.disabled_at IS NOT NULL"

func scanPerson(row interface{ Scan(...any) error }) (p Person, err error) {
	var role string
	err = row.Scan(&p.ID, &p.Email, &p.Name, &role, &p.PasswordHash, &p.Disabled)
	p.Role = Role(role)
	return p, err
}

// PersonByEmail finds who signs in.
func (r *Register) PersonByEmail(ctx context.Context, email string) (p Person, err error) {
	err = r.read(ctx, "person", func(tx *sql.Tx) error {
		p, err = scanPerson(tx.QueryRowContext(ctx, "SELECT "+personColumns+" FROM people p WHERE p.email = ? AND p.erased_at IS NULL", strings.TrimSpace(email)))
		return err
	})
	return p, err
}

// People lists everyone by name.
func (r *Register) People(ctx context.Context) (out []Person, err error) {
	err = r.read(ctx, "people", func(tx *sql.Tx) error {
		rows, err := tx.QueryContext(ctx, "SELECT "+personColumns+" FROM people p WHERE p.erased_at IS NULL ORDER BY p.name, p.id")
		out, err = collect(rows, err, func(rows *sql.Rows) (Person, error) { return scanPerson(rows) })
		return err
	})
	return out, err
}

// StartSession makes a session and returns its token, which is nowhere stored.
func (r *Register) StartSession(ctx context.Context, person int64, now time.Time, life time.Duration) (token string, err error) {
	token, hash := newToken()
	err = r.write(ctx, "start session", func(tx *sql.Tx) error {
		if _, err := tx.ExecContext(ctx, "DELETE FROM sessions WHERE expires_at <= ?", stamp(now)); err != nil {
			return err
		}
		_, err := tx.ExecContext(ctx, "INSERT INTO sessions (token_hash, person_id, created_at, expires_at) VALUES (?, ?, ?, ?)",
			hash[:], person, stamp(now), stamp(now.Add(life)))
		return err
	})
	return token, err
}

// SessionPerson returns who a session belongs to. A session that has expired, was
// ended or never was is ErrNotFound; so is that of a disabled person.
func (r *Register) SessionPerson(ctx context.Context, token string, now time.Time) (p Person, err error) {
	hash := sha256.Sum256([]byte(token))
	err = r.read(ctx, "session", func(tx *sql.Tx) error {
		row := tx.QueryRowContext(ctx, "SELECT "+personColumns+` FROM sessions s JOIN people p ON p.id = s.person_id
			WHERE s.token_hash = ? AND s.expires_at > ? AND p.disabled_at IS NULL`, hash[:], stamp(now))
		p, err = scanPerson(row)
		return err
	})
	return p, err
}

// EndSession ends a session.
func (r *Register) EndSession(ctx context.Context, token string) error {
	hash := sha256.Sum256([]byte(token))
	return r.write(ctx, "end session", func(tx *sql.Tx) error {
		_, err := tx.ExecContext(ctx, "DELETE FROM sessions WHERE token_hash = ?", hash[:])
		return err
	})
}
