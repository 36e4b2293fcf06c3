package register

import (
	"context"
	"database/sql"
	"errors"
	"fmt"
	"strings"
)

// Client is who asks for a brewery.
type Client struct {
	ID      int64
	Name    string
	Contact string
	Email   string
	Phone   string
	Address string
	Erased  bool
}

// SaveClient enters a client, or changes one that has an id, and returns the id.
func (r *Register) SaveClient(ctx context.Context, c Client, by By) (id int64, err error) {
	err = r.write(ctx, "save client", func(tx *sql.Tx) error {
		if strings.TrimSpace(c.Name) == "" {
			return errors.New("a client has a name")
		}
		if c.ID == 0 {
			err := tx.QueryRowContext(ctx, "INSERT INTO clients (name, contact, email, phone, address, created_at) VALUES (?, ?, ?, ?, ?, ?) RETURNING id",
				c.Name, c.Contact, c.Email, c.Phone, c.Address, stamp(by.At)).Scan(&id)
			if err != nil {
				return err
			}
			return note(ctx, tx, by, "add client", fmt.Sprintf("client %d", id), "")
		}
		id = c.ID
		res, err := tx.ExecContext(ctx, "UPDATE clients SET name = ?, contact = ?, email = ?, phone = ?, address = ? WHERE id = ? AND erased_at IS NULL",
			c.Name, c.Contact, c.Email, c.Phone, c.Address, c.ID)
		if err != nil {
			return err
		}
		if err := changedOne(res, ErrNotFound); err != nil {
			return err
		}
		return note(ctx, tx, by, "change client", fmt.Sprintf("client %d", id), "")
	})
	return id, err
}

const clientColumns = "id, name, contact, email, phone, address, erased_at IS NOT NULL"

func scanClient(row interface{ Scan(...any) error }) (c Client, err error) {
	err = row.Scan(&c.ID, &c.Name, &c.Contact, &c.Email, &c.Phone, &c.Address, &c.Erased)
	return c, err
}

// Client returns a client.
func (r *Register) Client(ctx context.Context, id int64) (c Client, err error) {
	err = r.read(ctx, fmt.Sprintf("client %d", id), func(tx *sql.Tx) error {
		c, err = scanClient(tx.QueryRowContext(ctx, "SELECT "+clientColumns+" FROM clients WHERE id = ?", id))
		return err
	})
	return c, err
}

// Clients lists the clients by name.
func (r *Register) Clients(ctx context.Context) (out []Client, err error) {
	err = r.read(ctx, "clients", func(tx *sql.Tx) error {
		rows, err := tx.QueryContext(ctx, "SELECT "+clientColumns+" FROM clients WHERE erased_at IS NULL ORDER BY name, id")
		out, err = collect(rows, err, func(rows *sql.Rows) (Client, error) { return scanClient(rows) })
		return err
	})
	return out, err
}
