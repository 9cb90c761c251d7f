package main

import (
	"errors"
	"os"
	"os/exec"
	"path/filepath"
	"strconv"
	"strings"
	"testing"

	"github.com/rogpeppe/go-internal/testscript"

	"roundelay/pattern/golden"
)

func TestMain(m *testing.M) {
	testscript.Main(m, map[string]func(){"roundelay": main})
}

// The scripts are named verb_case.txtar. Each runs in a folder of its own, with
// the demo book at $BOOK.
func TestScripts(t *testing.T) {
	testscript.Run(t, testscript.Params{
		Dir:                 "../../testdata/scripts",
		UpdateScripts:       golden.Update(),
		RequireExplicitExec: true,
		RequireUniqueNames:  true,
		Setup: func(env *testscript.Env) error {
			book, err := filepath.Abs("../../testdata/book")
			env.Setenv("BOOK", book)
			return err
		},
		Cmds: map[string]func(*testscript.TestScript, bool, []string){
			"repeat": repeat, "binary": binary, "status": execStatus,
		},
	})
}

// repeat is a command of the scripts: "repeat FILE N TEXT" puts N times TEXT at
// the end of a file, with \n for the end of a line. It makes what is too long to
// be written out.
func repeat(ts *testscript.TestScript, neg bool, args []string) {
	if neg || len(args) != 3 {
		ts.Fatalf("usage: repeat FILE N TEXT")
	}
	n, err := strconv.Atoi(args[1])
	ts.Check(err)
	f, err := os.OpenFile(ts.MkAbs(args[0]), os.O_APPEND|os.O_CREATE|os.O_WRONLY, 0o644)
	ts.Check(err)
	_, err = f.WriteString(strings.Repeat(strings.ReplaceAll(args[2], `\n`, "\n"), n))
	ts.Check(errors.Join(err, f.Close()))
}

// binary is a command of the scripts: "binary FILE" makes a file that is no text.
func binary(ts *testscript.TestScript, neg bool, args []string) {
	if neg || len(args) != 1 {
		ts.Fatalf("usage: binary FILE")
	}
	var data []byte
	for i := range 4096 {
		data = append(data, byte(i))
	}
	ts.Check(os.WriteFile(ts.MkAbs(args[0]), data, 0o644))
}

// execStatus is a command of the scripts: "status N PROGRAM ARGS..." is exec, and
// the program has to end with the exit status N.
func execStatus(ts *testscript.TestScript, neg bool, args []string) {
	if neg || len(args) < 2 {
		ts.Fatalf("usage: status N PROGRAM ARGS...")
	}
	want, err := strconv.Atoi(args[0])
	ts.Check(err)
	got := 0
	if err := ts.Exec(args[1], args[2:]...); err != nil {
		exit := (*exec.ExitError)(nil)
		if !errors.As(err, &exit) {
			ts.Fatalf("%v", err)
		}
		got = exit.ExitCode()
	}
	if got != want {
		ts.Fatalf("the exit status is %d, not %d:\n%s", got, want, ts.ReadFile("stderr"))
	}
}
