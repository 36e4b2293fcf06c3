package main

import (
	"context"
	"fmt"
	"os"
	"path/filepath"

	"tunwright/pricing/register"
)

type registerCmd struct {
	Check   registerCheckCmd   `cmd:"" help:"Check the register: its structure, references, digests and numbers."`
	Backup  registerBackupCmd  `cmd:"" help:"Copy the register while it is in use."`
	Restore registerRestoreCmd `cmd:"" help:"Put a backup in place of a register that is gone."`
	Export  registerExportCmd  `cmd:"" help:"Write one quotation as portable JSON."`
	Import  registerImportCmd  `cmd:"" help:"Take a quotation in from another machine."`
}

func (registerCmd) Help() string {
	return `Examples:
  tunwright register check
  tunwright register backup 2026-11-25.db
  tunwright register restore 2026-11-25.db --data new-desk
  tunwright register export Q-2026-0001 > quote.json
  tunwright register import quote.json --data other-desk`
}

// dataFlag names the folder that holds the register.
type dataFlag struct {
	Data string `help:"Folder of the register." default:"tunwright-data" placeholder:"DIR"`
}

func (f dataFlag) path() string { return filepath.Join(f.Data, "register.db") }

// existing opens a register that must be there: a typing mistake in the folder does
// not make a new one.
func (f dataFlag) existing(ctx context.Context) (*register.Register, error) {
	if _, err := os.Stat(f.path()); err != nil {
		return nil, fmt.Errorf("there is no register in %s: name its folder with --data", f.Data)
	}
	return register.Open(ctx, f.path())
}

type registerCheckCmd struct{ dataFlag }

// Run checks the register.
func (c registerCheckCmd) Run(con *console) error {
	ctx := context.Background()
	reg, err := c.existing(ctx)
	if err != nil {
		return err
	}
	defer reg.Close()
	faults, err := reg.Check(ctx)
	if err != nil {
		return err
	}
	for _, f := range faults {
		fmt.Fprintln(con.out, f)
	}
	if len(faults) > 0 {
		return fmt.Errorf("%d faults in %s: restore a backup, or ask for help before going on", len(faults), c.path())
	}
	fmt.Fprintf(con.out, "%s is in order.\n", c.path())
	return nil
}

type registerBackupCmd struct {
	dataFlag
	To string `arg:"" help:"File to write; it must not exist."`
}

// Run copies the register.
func (c registerBackupCmd) Run(con *console) error {
	ctx := context.Background()
	reg, err := c.existing(ctx)
	if err != nil {
		return err
	}
	defer reg.Close()
	if err := reg.BackUp(ctx, c.To); err != nil {
		return err
	}
	fmt.Fprintln(con.out, c.To)
	return nil
}

type registerRestoreCmd struct {
	dataFlag
	From string `arg:"" type:"existingfile" help:"The backup."`
}

// Run puts a backup in place.
func (c registerRestoreCmd) Run(con *console) error {
	if err := os.MkdirAll(c.Data, 0o700); err != nil {
		return fmt.Errorf("make the folder %s: %w", c.Data, err)
	}
	if err := register.Restore(context.Background(), c.From, c.path()); err != nil {
		return err
	}
	fmt.Fprintln(con.out, c.path())
	return nil
}

type registerExportCmd struct {
	dataFlag
	Number string `arg:"" help:"Number of the quotation, such as Q-2026-0001."`
}

// Run prints one quotation.
func (c registerExportCmd) Run(con *console) error {
	ctx := context.Background()
	reg, err := c.existing(ctx)
	if err != nil {
		return err
	}
	defer reg.Close()
	found, err := reg.ByNumber(ctx, c.Number)
	if err != nil {
		return err
	}
	text, err := reg.Export(ctx, found.Quote.ID)
	if err != nil {
		return err
	}
	_, err = con.out.Write(text)
	return err
}

type registerImportCmd struct {
	dataFlag
	File string `arg:"" help:"The portable quotation."`
	By   string `help:"Who takes it in." default:"the command line"`
}

// Run takes a quotation in.
func (c registerImportCmd) Run(con *console) error {
	text, err := readText(c.File)
	if err != nil {
		return err
	}
	ctx := context.Background()
	if err := os.MkdirAll(c.Data, 0o700); err != nil {
		return fmt.Errorf("make the folder %s: %w", c.Data, err)
	}
	reg, err := register.Open(ctx, c.path())
	if err != nil {
		return err
	}
	defer reg.Close()
	q, err := reg.Import(ctx, c.File, text, register.By{Who: c.By, At: con.today()})
	if err != nil {
		return err
	}
	fmt.Fprintln(con.out, q.Number)
	return nil
}
