package register

import (
	"context"
	"database/sql"
	"errors"
	"fmt"
	"strings"
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
	Factor       string // secret of the second factor, empty where there is none
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

const personColumns = "p.id, p.email, p.name, p.role, p.password_hash, p.disabled_at IS NOT NULL, p.factor"

// fields are the places of personColumns.
func (p *Person) fields() []any {
	return []any{&p.ID, &p.Email, &p.Name, &p.Role, &p.PasswordHash, &p.Disabled, &p.Factor}
}

func scanPerson(row interface{ Scan(...any) error }) (p Person, err error) {
	err = row.Scan(p.fields()...)
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
