package register

import (
	"context"
	"crypto/sha256"
	"database/sql"
	"fmt"
)

// SetFactor stores the secret of a person's second factor, the time step of the code
// that proved it, and the codes that stand in for the device when it is lost; an empty
// secret takes the factor away. It ends every session but the one of the token.
func (r *Register) SetFactor(ctx context.Context, id int64, secret string, step int64, recovery []string, token string, by By) error {
	did := "set second factor"
	if secret == "" {
		did = "remove second factor"
	}
	hash := sha256.Sum256([]byte(token))
	return r.write(ctx, did, func(tx *sql.Tx) error {
		res, err := tx.ExecContext(ctx, "UPDATE people SET factor = ?, factor_step = ? WHERE id = ? AND erased_at IS NULL", secret, step, id)
		if err != nil {
			return err
		}
		if err := changedOne(res, ErrNotFound); err != nil {
			return err
		}
		if _, err := tx.ExecContext(ctx, "DELETE FROM recovery_codes WHERE person_id = ?", id); err != nil {
			return err
		}
		for _, code := range recovery {
			sum := sha256.Sum256([]byte(code))
			if _, err := tx.ExecContext(ctx, "INSERT INTO recovery_codes (person_id, code_hash) VALUES (?, ?)", id, sum[:]); err != nil {
				return err
			}
		}
		if _, err := tx.ExecContext(ctx, "DELETE FROM sessions WHERE person_id = ? AND token_hash <> ?", id, hash[:]); err != nil {
			return err
		}
		return note(ctx, tx, by, did, fmt.Sprintf("person %d", id), "")
	})
}

// UseStep notes the time step of a code that was used; ErrConflict where it, or a newer
// one, was used before.
func (r *Register) UseStep(ctx context.Context, id, step int64) error {
	return r.write(ctx, "use a code", func(tx *sql.Tx) error {
		res, err := tx.ExecContext(ctx, "UPDATE people SET factor_step = ?2 WHERE id = ?1 AND factor_step < ?2", id, step)
		if err != nil {
			return err
		}
		return changedOne(res, ErrConflict)
	})
}

// UseRecovery uses a recovery code up and tells how many are left; ErrNotFound where
// the person has none like it.
func (r *Register) UseRecovery(ctx context.Context, id int64, code string, by By) (left int, err error) {
	sum := sha256.Sum256([]byte(code))
	err = r.write(ctx, "use a recovery code", func(tx *sql.Tx) error {
		res, err := tx.ExecContext(ctx, "DELETE FROM recovery_codes WHERE person_id = ? AND code_hash = ?", id, sum[:])
		if err != nil {
			return err
		}
		if err := changedOne(res, ErrNotFound); err != nil {
			return err
		}
		if err := tx.QueryRowContext(ctx, "SELECT count(*) FROM recovery_codes WHERE person_id = ?", id).Scan(&left); err != nil {
			return err
		}
		return note(ctx, tx, by, "use a recovery code", fmt.Sprintf("person %d", id), fmt.Sprintf("%d left", left))
	})
	return left, err
}
