package main

import (
	"bufio"
	"bytes"
	"errors"
	"fmt"
	"io"
	"net"
	"net/http"
	"net/http/httptest"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"
)

// cork begins a book, and returns its folder and the file of its pattern.
func cork(t *testing.T) (dir, file string) {
	t.Helper()
	dir = filepath.Join(t.TempDir(), "shelf")
	if err := beginBook(dir); err != nil {
		t.Fatal(err)
	}
	return dir, filepath.Join(dir, "cork", "pattern.toml")
}

// edit replaces old, which has to be there, in a file.
func edit(t *testing.T, file, old, new string) {
	t.Helper()
	text, err := os.ReadFile(file)
	if err != nil {
		t.Fatal(err)
	}
	if !bytes.Contains(text, []byte(old)) {
		t.Fatalf("%s has no %q", file, old)
	}
	if err := os.WriteFile(file, bytes.Replace(text, []byte(old), []byte(new), 1), 0o644); err != nil {
		t.Fatal(err)
	}
}

// get returns what is at an address.
func get(t *testing.T, address string) string {
	t.Helper()
	response, err := http.Get(address)
	if err != nil {
		t.Fatal(err)
	}
	defer response.Body.Close()
	body, err := io.ReadAll(response.Body)
	if err != nil || response.StatusCode != http.StatusOK {
		t.Fatalf("%s: %s, %v\n%s", address, response.Status, err, body)
	}
	return string(body)
}

// TestPreviewFollows runs the program as a person does: opens a page, makes a
// slip, mends it, and presses Ctrl-C.
func TestPreviewFollows(t *testing.T) {
	dir, file := cork(t)
	cmd := exec.Command("roundelay", "preview", dir, "--port", "0") // see TestMain
	var told bytes.Buffer
	cmd.Stderr = &told
	stdout, err := cmd.StdoutPipe()
	if err != nil {
		t.Fatal(err)
	}
	if err := cmd.Start(); err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { cmd.Process.Kill() })
	line, err := bufio.NewReader(stdout).ReadString('\n')
	if err != nil {
		t.Fatalf("%v\n%s", err, told.String())
	}
	_, address, _ := strings.Cut(line, " at ")
	address, _, ok := strings.Cut(address, " until you press Ctrl-C.")
	if !ok || !strings.HasPrefix(address, "http://127.0.0.1:") {
		t.Fatalf("it says %q", line)
	}
	page := address + "cork/"
	if strings.Contains(get(t, page), "finding") {
		t.Error("the new book has findings")
	}

	response, err := http.Get(address + ".preview/changes")
	if err != nil {
		t.Fatal(err)
	}
	defer response.Body.Close()
	if kind := response.Header.Get("Content-Type"); kind != "text/event-stream" {
		t.Errorf("changes come as %s", kind)
	}
	changes := bufio.NewScanner(response.Body)
	version := func() string {
		t.Helper()
		for changes.Scan() {
			if v, ok := strings.CutPrefix(changes.Text(), "data: "); ok {
				return v
			}
		}
		t.Fatalf("no more changes are told: %v\n%s", changes.Err(), told.String())
		return ""
	}
	first := version()
	if !strings.Contains(get(t, page), fmt.Sprintf("data-version=%q", first)) {
		t.Error("the page is of another state than the first one told")
	}

	edit(t, file, "(12)", "(13)")
	second := version()
	wrong := get(t, page)
	if second == first || !strings.Contains(wrong, fmt.Sprintf("data-version=%q", second)) {
		t.Error("the page is not of the state that was told")
	}
	want := "error: it makes 12 stitches; 13 are declared [count-made]"
	_, row, _ := strings.Cut(wrong, `id="r2"`)
	row, _, _ = strings.Cut(row, "</li>")
	if !strings.Contains(row, file) || !strings.Contains(row, want) {
		t.Errorf("at round 2 stands:\n%s", row)
	}

	edit(t, file, "(13)", "(12)")
	version()
	if strings.Contains(get(t, page), "finding") {
		t.Error("the mended page has findings")
	}

	if err := cmd.Process.Signal(os.Interrupt); err != nil {
		t.Fatal(err)
	}
	if err := cmd.Wait(); err != nil {
		t.Errorf("it ends with %v\n%s", err, told.String())
	}
	if got := told.String(); strings.Count(got, want) != 1 || !strings.HasSuffix(got, "Nothing is wrong any more.\n\n") {
		t.Errorf("it told:\n%s", got)
	}
	entries, err := os.ReadDir(filepath.Dir(dir))
	if err != nil || len(entries) != 1 {
		t.Errorf("beside the book there are %v, %v", entries, err)
	}
}

// TestPreviewNewFolder checks that a pattern in a folder of its own, made after
// the preview began, is followed as well.
func TestPreviewNewFolder(t *testing.T) {
	dir, file := cork(t)
	watch, err := watchFolder(dir)
	if err != nil {
		t.Fatal(err)
	}
	defer watch.close()
	changed := make(chan struct{})
	go watch.follow(t.Context(), func() { changed <- struct{}{} })
	below := filepath.Join(dir, "float")
	if err := os.Mkdir(below, 0o755); err != nil {
		t.Fatal(err)
	}
	<-changed
	if err := os.Rename(file, filepath.Join(below, "pattern.toml")); err != nil {
		t.Fatal(err)
	}
	<-changed
	edit(t, filepath.Join(below, "pattern.toml"), "(12)", "(13)")
	<-changed
}

func TestPreviewPortTaken(t *testing.T) {
	dir, _ := cork(t)
	door, err := net.Listen("tcp", "127.0.0.1:0")
	if err != nil {
		t.Fatal(err)
	}
	defer door.Close()
	_, port, _ := net.SplitHostPort(door.Addr().String())
	var out, told bytes.Buffer
	if got := run([]string{"preview", dir, "--port", port}, nil, &out, &told); got != exitUsage {
		t.Errorf("exit status %d, want %d", got, exitUsage)
	}
	if want := "port " + port + " is taken"; !strings.Contains(told.String(), want) || out.Len() > 0 {
		t.Errorf("it says %q and %q, want %q", out.String(), told.String(), want)
	}
}

// TestPreviewAnswers checks what a browser is answered.
func TestPreviewAnswers(t *testing.T) {
	dir, _ := cork(t)
	v := &viewer{std: streams{out: io.Discard, err: io.Discard}, name: dir, changed: make(chan struct{})}
	v.look()
	for _, test := range []struct {
		method, host, path string
		status             int
		header, want       string
	}{
		{"GET", "localhost:8735", "/", 200, "Content-Type", "text/html; charset=utf-8"},
		{"GET", "127.0.0.1", "/cork/", 200, "Content-Type", "text/html; charset=utf-8"},
		{"HEAD", "127.0.0.1", "/cork/index.html", 200, "Cache-Control", "no-store"},
		{"GET", "127.0.0.1", "/cork", 302, "Location", "/cork/"},
		{"GET", "127.0.0.1", "/cork/picture.svg", 200, "Content-Type", "image/svg+xml"},
		{"GET", "127.0.0.1", "/cork/../style.css", 200, "Content-Type", "text/css; charset=utf-8"},
		{"GET", "127.0.0.1", "/.preview/preview.css", 200, "Content-Type", "text/css; charset=utf-8"},
		{"GET", "127.0.0.1", "/.preview/preview.js", 200, "Content-Type", "text/javascript; charset=utf-8"},
		{"GET", "127.0.0.1", "/nothing", 404, "Content-Type", "text/html; charset=utf-8"},
		{"GET", "127.0.0.1", "/book.toml", 404, "", ""},
		{"GET", "127.0.0.1", "/../cork/pattern.toml", 404, "", ""},
		{"GET", "127.0.0.1", "/.roundelay-files", 404, "", ""},
		{"GET", "127.0.0.1", "//example.org", 404, "", ""},
		{"GET", "harbour.example", "/", 403, "", ""},
		{"GET", "harbour.example:8735", "/.preview/changes", 403, "", ""},
		{"POST", "127.0.0.1", "/", 405, "", ""},
	} {
		r := httptest.NewRequest(test.method, "http://"+test.host+test.path, nil)
		w := httptest.NewRecorder()
		v.ServeHTTP(w, r)
		if w.Code != test.status {
			t.Errorf("%s %s%s: status %d, want %d", test.method, test.host, test.path, w.Code, test.status)
		}
		if got := w.Header().Get(test.header); got != test.want {
			t.Errorf("%s %s%s: %s is %q, want %q", test.method, test.host, test.path, test.header, got, test.want)
		}
		if kind := w.Header().Get("Content-Type"); test.status == 200 && test.method == "GET" && w.Body.Len() == 0 {
			t.Errorf("%s is empty %s", test.path, kind)
		}
	}
}

// TestPreviewLost checks that a book that can't be found any more is told of,
// beside the last state of it.
func TestPreviewLost(t *testing.T) {
	dir, _ := cork(t)
	v := &viewer{std: streams{out: io.Discard, err: io.Discard}, name: dir, changed: make(chan struct{})}
	v.look()
	if err := os.Rename(dir, dir+"-away"); err != nil {
		t.Fatal(err)
	}
	v.look()
	w := httptest.NewRecorder()
	v.ServeHTTP(w, httptest.NewRequest("GET", "http://localhost/cork/", nil))
	for _, part := range []string{"there is no such file or folder [unreadable]", "This is the last state without errors", `id="r2"`} {
		if !strings.Contains(w.Body.String(), part) {
			t.Errorf("the page lacks %q", part)
		}
	}
}

// TestWatchBounds checks that a folder that is no book is not watched for ever.
func TestWatchBounds(t *testing.T) {
	dir := t.TempDir()
	for i := range maxFolders {
		if err := os.Mkdir(filepath.Join(dir, fmt.Sprint(i)), 0o755); err != nil {
			t.Fatal(err)
		}
	}
	if w, err := watchFolder(dir); err == nil || !strings.Contains(err.Error(), "more than 2000 folders") {
		t.Errorf("%v, want an error about 2000 folders", err)
		if w != nil {
			w.close()
		}
	}
	if _, err := watchFolder(filepath.Join(dir, "nowhere")); !errors.Is(err, os.ErrNotExist) {
		t.Errorf("a folder that is not there: %v", err)
	}
}
