package register

import (
	"context"
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"sync"
	"testing"
)

func TestExportAndImportOnAnotherMachine(t *testing.T) {
	ctx := context.Background()
	here, there := open(t), open(t)
	issue(t, here, addDraft(t, here, "q0", "First", 0))
	issue(t, here, addDraft(t, here, "q1", "Mill Loft", 0))
	data, err := here.Export(ctx, "q1")
	if err != nil {
		t.Fatal(err)
	}
	q, err := there.Import(ctx, "q1.json", data, by("Bob", 5))
	if err != nil || q.Number != "Q-2026-0002" {
		t.Fatalf("%s, %v", q.Number, err)
	}
	again, err := there.Export(ctx, "q1")
	if err != nil || string(again) != string(data) {
		t.Errorf("exported again it differs, %v", err)
	}
	if _, err := there.Import(ctx, "q1.json", data, by("Bob", 6)); !errors.Is(err, ErrExists) {
		t.Errorf("twice: %v", err)
	}
	if next := issue(t, there, addDraft(t, there, "q9", "Barn", 0)); next.Quote.Number != "Q-2026-0003" {
		t.Errorf("a number that came with an import was given out again, or one left out: %s", next.Quote.Number)
	}
	third := open(t)
	issue(t, third, addDraft(t, third, "q8", "Mine", 0))
	if _, err := third.Import(ctx, "q1.json", data, by("Bob", 6)); err != nil {
		t.Fatal(err)
	}
	if next := issue(t, third, addDraft(t, third, "q9", "Barn", 0)); next.Quote.Number != "Q-2026-0003" {
		t.Errorf("after an import: %s", next.Quote.Number)
	}
	sound(t, there)
	if _, err := there.Import(ctx, "q1.json", []byte(strings.Replace(string(data), "Mill Loft", "Hill Loft", 1)), by("Bob", 7)); err == nil {
		t.Error("a changed file was imported")
	}
}

func TestRestoreDrill(t *testing.T) {
	ctx := context.Background()
	dir := t.TempDir()
	r := openAt(t, filepath.Join(dir, "register.db"))
	issue(t, r, addDraft(t, r, "q1", "Mill Loft", 0))
	stop := make(chan struct{})
	var wg sync.WaitGroup
	wg.Go(func() { // work goes on during the backup
		for i := 0; ; i++ {
			select {
			case <-stop:
				return
			default:
				addDraft(t, r, fmt.Sprintf("busy%d", i), "Busy", 0)
			}
		}
	})
	backup := filepath.Join(dir, "backup.db")
	err := r.BackUp(ctx, backup)
	close(stop)
	wg.Wait()
	if err != nil {
		t.Fatal(err)
	}
	before, err := r.Quotation(ctx, "q1")
	if err != nil {
		t.Fatal(err)
	}
	if err := r.BackUp(ctx, backup); err == nil {
		t.Error("a backup was written over")
	}
	if err := Restore(ctx, backup, r.Path()); err == nil {
		t.Error("a register was written over")
	}
	fresh := filepath.Join(dir, "new machine", "register.db")
	if err := Restore(ctx, backup, fresh); err != nil {
		t.Fatal(err)
	}
	restored := openAt(t, fresh)
	after, err := restored.Quotation(ctx, "q1")
	if err != nil {
		t.Fatal(err)
	}
	if string(after.Quote.Revisions[0].Snapshot.Papers[0].Bytes) != string(before.Quote.Revisions[0].Snapshot.Papers[0].Bytes) {
		t.Error("the restored paper differs")
	}
	sound(t, restored)
	if next := issue(t, restored, addDraft(t, restored, "q2", "Barn", 0)); next.Quote.Number != "Q-2026-0002" {
		t.Errorf("next number %s", next.Quote.Number)
	}
	left, err := filepath.Glob(filepath.Join(dir, "*", "*.part*"))
	if err != nil || len(left) > 0 {
		t.Errorf("left behind: %v", left)
	}
}

func TestRestoreRefusesADamagedBackup(t *testing.T) {
	ctx := context.Background()
	dir := t.TempDir()
	r := openAt(t, filepath.Join(dir, "register.db"))
	for i := range 30 {
		issue(t, r, addDraft(t, r, fmt.Sprintf("q%d", i), "Loft", 0))
	}
	backup := filepath.Join(dir, "backup.db")
	if err := r.BackUp(ctx, backup); err != nil {
		t.Fatal(err)
	}
	data, err := os.ReadFile(backup)
	if err != nil {
		t.Fatal(err)
	}
	for name, damage := range map[string]func([]byte) []byte{
		"cut":         func(b []byte) []byte { return b[:len(b)/2] },
		"overwritten": func(b []byte) []byte { copy(b[len(b)/3:], strings.Repeat("damage ", 3000)); return b },
		"one figure": func(b []byte) []byte {
			return []byte(strings.Replace(string(b), `\"net\":\"100.00\"`, `\"net\":\"900.00\"`, 1))
		},
		"not a backup": func([]byte) []byte {
			return []byte("a letter to the brewer, longer than the header of a database file is, so that it gets read")
		},
		"another price": func(b []byte) []byte {
			return []byte(strings.Replace(string(b), `{"net":"100.00"}`, `{"net":"900.00"}`, 1))
		},
	} {
		bad := damage(slices.Clone(data))
		if string(bad) == string(data) {
			continue // this layout of the JSON does not occur in the file
		}
		file := filepath.Join(dir, "bad.db")
		if err := os.WriteFile(file, bad, 0o600); err != nil {
			t.Fatal(err)
		}
		target := filepath.Join(dir, "target.db")
		if err := Restore(ctx, file, target); err == nil {
			t.Errorf("%s: a damaged backup was restored", name)
		}
		if _, err := os.Stat(target); !errors.Is(err, os.ErrNotExist) {
			t.Errorf("%s: a half-restored register was left", name)
		}
	}
}

func TestADamagedRegisterSaysSo(t *testing.T) {
	ctx := context.Background()
	path := filepath.Join(t.TempDir(), "register.db")
	r, err := Open(ctx, path)
	if err != nil {
		t.Fatal(err)
	}
	for i := range 30 {
		issue(t, r, addDraft(t, r, fmt.Sprintf("q%d", i), "Loft", 0))
	}
	if err := r.Close(); err != nil {
		t.Fatal(err)
	}
	data, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	damage := func(from, to int) {
		bad := slices.Clone(data)
		for i := from; i < to; i++ {
			bad[i] = 0xa5
		}
		if err := os.WriteFile(path, bad, 0o600); err != nil {
			t.Fatal(err)
		}
	}
	damage(0, 100)
	if _, err := Open(ctx, path); !errors.Is(err, ErrNotRegister) {
		t.Errorf("damaged heading: %v", err)
	}
	damage(100, 1000)
	if _, err := Open(ctx, path); !errors.Is(err, ErrCorrupt) {
		t.Errorf("damaged table of tables: %v", err)
	}
	damage(len(data)/2, len(data)/2+40_000)
	hurt, err := Open(ctx, path)
	if errors.Is(err, ErrCorrupt) {
		return // the damage was met on opening already
	}
	if err != nil {
		t.Fatal(err)
	}
	defer hurt.Close()
	if problems, err := hurt.Check(ctx); len(problems) == 0 && !errors.Is(err, ErrCorrupt) {
		t.Errorf("damaged in the middle: %v, %v", problems, err)
	}
}
