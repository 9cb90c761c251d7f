package main

import (
	"errors"
	"flag"
	"os"
	"path/filepath"
	"strconv"
	"strings"
	"testing"

	"github.com/rogpeppe/go-internal/testscript"
)

var update = flag.Bool("update", false, "rewrite what the scripts expect")

func TestMain(m *testing.M) {
	testscript.Main(m, map[string]func(){"roundelay": main})
}

// The scripts are named verb_case.txtar. Each runs in a folder of its own, with
// the demo book at $BOOK.
func TestScripts(t *testing.T) {
	testscript.Run(t, testscript.Params{
		Dir:                 "../../testdata/scripts",
		UpdateScripts:       *update,
		RequireExplicitExec: true,
		RequireUniqueNames:  true,
		Setup: func(env *testscript.Env) error {
			book, err := filepath.Abs("../../testdata/book")
			env.Setenv("BOOK", book)
			return err
		},
		Cmds: map[string]func(*testscript.TestScript, bool, []string){"repeat": repeat},
	})
}

// repeat is a command of the scripts: "repeat FILE N TEXT" puts N times TEXT at
// the end of a file. It makes what is too long to be written out.
func repeat(ts *testscript.TestScript, neg bool, args []string) {
	if neg || len(args) != 3 {
		ts.Fatalf("usage: repeat FILE N TEXT")
	}
	n, err := strconv.Atoi(args[1])
	ts.Check(err)
	f, err := os.OpenFile(ts.MkAbs(args[0]), os.O_APPEND|os.O_CREATE|os.O_WRONLY, 0o644)
	ts.Check(err)
	_, err = f.WriteString(strings.Repeat(args[2], n))
	ts.Check(errors.Join(err, f.Close()))
}
