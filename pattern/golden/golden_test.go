package golden

import (
	"os"
	"strings"
	"testing"
)

// A recorder notes how a check went.
type recorder struct {
	testing.TB
	said string
}

func (r *recorder) Helper() {}

func (r *recorder) Errorf(format string, args ...any) { r.said += "error " + format }

func (r *recorder) Fatalf(format string, args ...any) {
	r.said += "fatal " + format
	panic(r)
}

// TestCheck runs a file through its life: missing, written, the same, another.
func TestCheck(t *testing.T) {
	t.Chdir(t.TempDir())
	if err := os.Mkdir("testdata", 0o755); err != nil {
		t.Fatal(err)
	}
	for _, step := range []struct {
		name, got string
		update    bool
		want      string // start of what is said
	}{
		{"there is no file", "6 sc", false, "fatal"},
		{"it is written", "6 sc", true, ""},
		{"it is the same", "6 sc", false, ""},
		{"it is another", "7 sc", false, "error"},
	} {
		r := &recorder{}
		*update = step.update
		func() {
			defer func() {
				if p := recover(); p != nil && p != any(r) {
					panic(p)
				}
			}()
			Check(r, "round.txt", []byte(step.got))
		}()
		*update = false
		if !strings.HasPrefix(r.said, step.want) || step.want == "" && r.said != "" {
			t.Errorf("%s: it said %q, want %q", step.name, r.said, step.want)
		}
	}
}
