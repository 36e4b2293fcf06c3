package main

import (
	"os"
	"testing"
	"time"

	"github.com/rogpeppe/go-internal/testscript"
)

func TestMain(m *testing.M) {
	testscript.Main(m, map[string]func(){
		"tunwright": func() {
			os.Exit(run(os.Args[1:], os.Stdout, os.Stderr, func() time.Time { return time.Date(2026, 11, 25, 9, 0, 0, 0, time.UTC) }))
		},
	})
}

// The commands as a person types them, one script a file.
func TestScripts(t *testing.T) {
	testscript.Run(t, testscript.Params{Dir: "testdata/script", Setup: bigFile})
}

// bigFile lays a file of 200 MB down that takes no room on the disk.
func bigFile(env *testscript.Env) error {
	f, err := os.Create(env.WorkDir + "/big.yaml")
	if err != nil {
		return err
	}
	if err := f.Truncate(200 << 20); err != nil {
		return err
	}
	return f.Close()
}
