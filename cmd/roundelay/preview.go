package main

import (
	"bytes"
	"context"
	"errors"
	"flag"
	"fmt"
	"io/fs"
	"net"
	"net/http"
	"os"
	"os/signal"
	"path"
	"path/filepath"
	"strconv"
	"strings"
	"sync"
	"syscall"
	"time"

	"roundelay/pattern/source"
	"roundelay/site"
	"roundelay/templates"
)

// defaultPort is the port of a preview that is asked for no other.
const defaultPort = 8735

var preview = &command{
	name:  "preview",
	usage: "[BOOK] [--port N]",
	short: "the pages in your browser, following your edits, with findings in place",
	long: `Shows the site of BOOK at an address of this computer, which only this computer
can open. BOOK is as for build. Whenever a file of the book changes, what you look
at is made anew, with what a proofreader finds at the round that it is about. A
pattern with errors is shown as it was before them, or else as far as it can be.
Nothing is written.

Findings are told here, too. To end the preview, press Ctrl-C.`,
	setup: func(flags *flag.FlagSet) func(streams, []string) error {
		port := flags.Int("port", defaultPort, fmt.Sprintf("the port of the address, `N`, %d if left out; 0 for any that is free", defaultPort))
		return func(std streams, names []string) error {
			if len(names) == 0 {
				names = []string{"."}
			}
			name, err := one(names, "book")
			if err != nil {
				return err
			}
			if *port < 0 || *port > 65535 {
				return usageError(fmt.Sprintf("--port %d: a port is a number from 0 to 65535", *port))
			}
			ctx, stop := signal.NotifyContext(context.Background(), os.Interrupt, syscall.SIGTERM)
			defer stop()
			return previewBook(ctx, std, name, *port)
		}
	},
}

// previewBook shows a book until ctx ends.
func previewBook(ctx context.Context, std streams, name string, port int) error {
	v := &viewer{std: std, name: name, changed: make(chan struct{})}
	if _, err := load(name); err != nil {
		return fmt.Errorf("%w\n\n%s", err, noBook)
	}
	watch, err := watchFolder(folderOf(name))
	if err != nil {
		return err
	}
	defer watch.close()
	v.look()
	door, err := net.Listen("tcp", net.JoinHostPort("127.0.0.1", strconv.Itoa(port)))
	if errors.Is(err, syscall.EADDRINUSE) {
		return usageError(fmt.Sprintf("port %d is taken, perhaps by another preview; choose one with --port, or have one found with --port 0", port))
	}
	if err != nil {
		return fmt.Errorf("open port %d: %w", port, err)
	}
	ctx, stop := context.WithCancel(ctx)
	server := &http.Server{
		Handler:           v,
		ReadHeaderTimeout: 10 * time.Second,
		BaseContext:       func(net.Listener) context.Context { return ctx },
	}
	served := make(chan error, 1)
	go func() {
		served <- server.Serve(door)
		stop()
	}()
	fmt.Fprintf(std.out, "Showing %s at http://%s/ until you press Ctrl-C.\n", name, door.Addr())
	err = watch.follow(ctx, v.look)
	stop() // which ends what waits for changes
	ending, cancel := context.WithTimeout(context.Background(), 5*time.Second)
	defer cancel()
	err = errors.Join(err, server.Shutdown(ending))
	if why := <-served; !errors.Is(why, http.ErrServerClosed) {
		err = errors.Join(err, why)
	}
	return err
}

// folderOf returns the folder of a book that is named by it or by a file in it.
func folderOf(name string) string {
	if info, err := os.Stat(name); err == nil && !info.IsDir() {
		return filepath.Dir(name)
	}
	return name
}

// A viewer shows a book to browsers.
type viewer struct {
	std  streams
	name string // of the book
	site site.Preview
	told string // the findings that were printed last

	mu      sync.Mutex
	version string        // of what is shown
	changed chan struct{} // closed when there is another
}

// look reads the book and shows what there is now.
func (v *viewer) look() {
	var s site.State
	if l, err := load(v.name); err == nil {
		r := l.proofread()
		s = site.State{Book: l.Book, Files: l.fsys, Findings: r.Findings}
	} else {
		s.Findings = source.Findings{{Severity: source.Error, Code: "unreadable", Message: err.Error()}}
	}
	s.Findings.Sort()
	s.Version = strconv.FormatInt(time.Now().UnixNano(), 36)
	v.site.Show(s)
	v.tell(s.Findings)

	v.mu.Lock()
	defer v.mu.Unlock()
	v.version = s.Version
	close(v.changed)
	v.changed = make(chan struct{})
}

// tell prints the findings, unless they are those printed last.
func (v *viewer) tell(found source.Findings) {
	var b strings.Builder
	found.Print(&b) // which does not fail
	if b.String() == v.told {
		return
	}
	v.told = b.String()
	if len(found) == 0 {
		b.WriteString("Nothing is wrong any more.\n")
	}
	fmt.Fprintf(v.std.err, "%s\n", b.String())
}

// ServeHTTP answers a browser on this computer.
func (v *viewer) ServeHTTP(w http.ResponseWriter, r *http.Request) {
	w.Header().Set("Cache-Control", "no-store")
	switch {
	case !isLocal(r.Host): // another site's name that leads here
		http.Error(w, "A preview is shown at localhost only.", http.StatusForbidden)
	case r.Method != http.MethodGet && r.Method != http.MethodHead:
		http.Error(w, "A preview can only be read.", http.StatusMethodNotAllowed)
	case r.URL.Path == "/.preview/changes":
		v.tellChanges(w, r)
	case r.URL.Path == "/.preview/preview.css":
		serve(w, r, templates.LiveStyle)
	case r.URL.Path == "/.preview/preview.js":
		serve(w, r, templates.LiveScript)
	default:
		v.serveFile(w, r)
	}
}

// isLocal reports whether an address, with its port or without, names this
// computer.
func isLocal(host string) bool {
	if name, _, err := net.SplitHostPort(host); err == nil {
		host = name
	}
	switch host {
	case "localhost", "127.0.0.1":
		return true
	}
	return false
}

// serve answers with data of the type that the path asked for ends with.
func serve(w http.ResponseWriter, r *http.Request, data []byte) {
	http.ServeContent(w, r, path.Base(r.URL.Path), time.Time{}, bytes.NewReader(data))
}

// serveFile answers with a file of the site.
func (v *viewer) serveFile(w http.ResponseWriter, r *http.Request) {
	name := strings.TrimPrefix(path.Clean("/"+r.URL.Path), "/")
	if strings.HasSuffix(r.URL.Path, "/") || name == "" {
		name = path.Join(name, site.Index)
		r.URL.Path = "/" + name // which tells its type
	}
	data, err := v.site.File(name)
	if errors.Is(err, fs.ErrNotExist) {
		if _, err := v.site.File(path.Join(name, site.Index)); err == nil {
			http.Redirect(w, r, "/"+name+"/", http.StatusFound)
			return
		}
		if data, err = v.site.File("404.html"); err == nil {
			w.Header().Set("Content-Type", "text/html; charset=utf-8")
			w.WriteHeader(http.StatusNotFound)
			w.Write(data)
			return
		}
	}
	if err != nil {
		http.Error(w, err.Error(), http.StatusInternalServerError)
		return
	}
	serve(w, r, data)
}

// tellChanges tells a page the version of what is shown, and each new one, as
// events from the server (HTML Living Standard, 9.2), until the page is closed.
func (v *viewer) tellChanges(w http.ResponseWriter, r *http.Request) {
	w.Header().Set("Content-Type", "text/event-stream")
	for {
		v.mu.Lock()
		version, changed := v.version, v.changed
		v.mu.Unlock()
		fmt.Fprintf(w, "data: %s\n\n", version)
		if err := http.NewResponseController(w).Flush(); err != nil {
			return
		}
		select {
		case <-changed:
		case <-r.Context().Done():
			return
		}
	}
}
