package register

import (
	"context"
	"database/sql"
	"encoding/json"
	"fmt"
)

// Setting reads a setting of the firm into a value; ErrNotFound if it was never set.
func (r *Register) Setting(ctx context.Context, key string, to any) error {
	return r.read(ctx, "setting "+key, func(tx *sql.Tx) error {
		var text string
		if err := tx.QueryRowContext(ctx, "SELECT value FROM settings WHERE key = ?", key).Scan(&text); err != nil {
			return err
		}
		return json.Unmarshal([]byte(text), to)
	})
}

// Set stores a setting as JSON.
func (r *Register) Set(ctx context.Context, key string, value any, by By) error {
	text, err := json.Marshal(value)
	if err != nil {
		return fmt.Errorf("setting %s: %w", key, err)
	}
	return r.write(ctx, "setting "+key, func(tx *sql.Tx) error {
		_, err := tx.ExecContext(ctx, `INSERT INTO settings (key, value, updated_at, updated_by) VALUES (?, ?, ?, ?)
			ON CONFLICT (key) DO UPDATE SET value = excluded.value, updated_at = excluded.updated_at, updated_by = excluded.updated_by`,
			key, string(text), stamp(by.At), by.Who)
		if err != nil {
			return err
		}
		return note(ctx, tx, by, "set", "setting "+key, "")
	})
}
