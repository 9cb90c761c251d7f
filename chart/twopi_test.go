//go:build unix

package chart

import (
	"bytes"
	"io"
	"os/exec"
	"strconv"
	"syscall"
	"testing"
	"time"

	"roundelay/pattern"
	"roundelay/pattern/notation"
)

// graph returns rounds as a graph in the DOT language: a node for each stitch,
// joined to what it is worked into.
func graph(rounds []*notation.Round) []byte {
	b := []byte("graph{root=m;node[shape=point]\n")
	start := make([]int, len(rounds)) // the number of the first node of each
	n := 0
	for i, r := range rounds {
		start[i] = n
		for _, s := range r.Stitches {
			if k := s.Into.Round; k < 0 {
				b = append(b, "m--"...)
			} else {
				b = strconv.AppendInt(b, int64(start[k]+int(s.Into.First)), 10)
				b = append(b, "--"...)
			}
			b = strconv.AppendInt(b, int64(n), 10)
			b = append(b, '\n')
			n++
		}
	}
	return append(b, "}\n"...)
}

// spent returns the processor time that this program has used.
func spent(b *testing.B) time.Duration {
	b.Helper()
	var u syscall.Rusage
	if err := syscall.Getrusage(syscall.RUSAGE_SELF, &u); err != nil {
		b.Fatal(err)
	}
	return time.Duration(u.Utime.Nano() + u.Stime.Nano())
}

// BenchmarkTwopi draws a disc of 10,000 stitches, and by its side the same
// graph with the radial layout of Graphviz, a general-purpose program. It
// compares the processor time of both: its times/op says how often ours is
// drawn in the time of one of those.
func BenchmarkTwopi(b *testing.B) {
	twopi, err := exec.LookPath("twopi")
	if err != nil {
		b.Skip("twopi is not installed; it is in the Debian package graphviz")
	}
	rounds := disc(10_000)
	dot := graph(rounds)
	p := piece(pattern.Spiral, rounds)
	var ours, theirs time.Duration
	for b.Loop() {
		before := spent(b)
		if err := Draw(io.Discard, &pattern.Pattern{}, p, Options{}); err != nil {
			b.Fatal(err)
		}
		ours += spent(b) - before
		cmd := exec.Command(twopi, "-Tsvg")
		cmd.Stdin, cmd.Stdout = bytes.NewReader(dot), io.Discard
		if err := cmd.Run(); err != nil {
			b.Fatal(err)
		}
		theirs += cmd.ProcessState.UserTime() + cmd.ProcessState.SystemTime()
	}
	b.ReportMetric(float64(ours.Microseconds())/1000/float64(b.N), "ms-ours/op")
	b.ReportMetric(float64(theirs.Microseconds())/1000/float64(b.N), "ms-twopi/op")
	b.ReportMetric(float64(theirs)/float64(ours), "times/op")
}
