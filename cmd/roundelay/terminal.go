package main

import (
	"fmt"
	"io"
	"os"

	"golang.org/x/term"
)

// A progress tells, on one line of a terminal, how far a long task is. On
// anything but a terminal it says nothing.
type progress struct {
	w     io.Writer // nil if nobody is looking
	width int
}

func newProgress(w io.Writer) *progress {
	f, ok := w.(*os.File)
	if !ok || !term.IsTerminal(int(f.Fd())) || os.Getenv("TERM") == "dumb" {
		return &progress{}
	}
	width, _, err := term.GetSize(int(f.Fd()))
	if err != nil || width < 20 {
		width = 80
	}
	return &progress{f, width}
}

// at says what is being worked on.
func (p *progress) at(what string) {
	if p.w == nil {
		return
	}
	line := []rune(what)
	fmt.Fprintf(p.w, "\r\x1b[K%s", string(line[:min(len(line), p.width-1)]))
}

// done clears the line.
func (p *progress) done() {
	if p.w != nil {
		fmt.Fprint(p.w, "\r\x1b[K")
	}
}
