package main

import (
	"bufio"
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"runtime"
	"strings"
	"sync/atomic"
	"time"
)

// A browser is a headless Chromium, spoken to over a pair of pipes in the
// DevTools protocol: JSON messages, each ended by a zero byte.
type browser struct {
	cmd     *exec.Cmd
	profile string // folder of its own
	to      *os.File
	from    *os.File
	read    *bufio.Reader
	last    int             // number of the last call
	tabs    map[string]*tab // by session
}

// A tab is one page of the browser, with what it was heard to do.
type tab struct {
	b        *browser
	session  string
	target   string
	loaded   bool
	noise    []string // errors and warnings on the console, and exceptions
	requests []string // addresses
}

// patience is how long one answer of the browser may take.
const patience = 60 * time.Second

// A message is what the browser sends: an answer if it has an ID, else an event.
type message struct {
	ID        int             `json:"id,omitempty"`
	SessionID string          `json:"sessionId,omitempty"`
	Method    string          `json:"method,omitempty"`
	Params    json.RawMessage `json:"params,omitempty"`
	Result    json.RawMessage `json:"result,omitempty"`
	Error     *struct {
		Message string `json:"message"`
	} `json:"error,omitempty"`
}

// startBrowser starts program with a profile of its own under dir. It may not
// reach the network beyond this computer.
func startBrowser(ctx context.Context, program, dir string) (*browser, error) {
	profile, err := os.MkdirTemp(dir, "chromium-")
	if err != nil {
		return nil, err
	}
	theirIn, to, err := os.Pipe()
	if err != nil {
		return nil, err
	}
	from, theirOut, err := os.Pipe()
	if err != nil {
		return nil, err
	}
	b := &browser{profile: profile, to: to, from: from, read: bufio.NewReaderSize(from, 1<<16), tabs: map[string]*tab{}}
	b.cmd = exec.CommandContext(ctx, program,
		"--headless", "--remote-debugging-pipe", "--user-data-dir="+profile, "--no-sandbox",
		"--disable-gpu", "--disable-dev-shm-usage", "--disable-quic", "--no-first-run", "--hide-scrollbars",
		"--disable-background-networking", "--disable-component-update", "--disable-sync", "--disable-extensions",
		"--force-color-profile=srgb", "--host-resolver-rules=MAP * ~NOTFOUND, EXCLUDE 127.0.0.1", "about:blank")
	b.cmd.Env = append(os.Environ(), "HOME="+profile, "XDG_CONFIG_HOME="+profile, "XDG_CACHE_HOME="+profile, "TMPDIR="+profile)
	b.cmd.ExtraFiles = []*os.File{theirIn, theirOut} // descriptors 3 and 4
	err = b.cmd.Start()
	theirIn.Close()
	theirOut.Close()
	if err != nil {
		return nil, errors.Join(err, to.Close(), from.Close())
	}
	return b, nil
}

// close ends the browser, kills it if it does not end by itself, and removes its
// folder.
func (b *browser) close() {
	b.call("", "Browser.close", nil, nil) // it may end before it answers
	b.to.Close()
	done := make(chan struct{})
	go func() { b.cmd.Wait(); close(done) }()
	select {
	case <-done:
	case <-time.After(5 * time.Second):
		b.cmd.Process.Kill()
		<-done
	}
	b.from.Close()
	// its helper processes may end a little after it, and write until then
	for range 50 {
		if os.RemoveAll(b.profile) == nil {
			return
		}
		time.Sleep(100 * time.Millisecond)
	}
}

// call asks the browser to do something and decodes its answer into result,
// unless that is nil. Events that come meanwhile are noted.
func (b *browser) call(session, method string, params, result any) error {
	b.last++
	ask := struct {
		ID        int    `json:"id"`
		SessionID string `json:"sessionId,omitempty"`
		Method    string `json:"method"`
		Params    any    `json:"params,omitempty"`
	}{b.last, session, method, params}
	data, err := json.Marshal(ask)
	if err != nil {
		return err
	}
	if _, err := b.to.Write(append(data, 0)); err != nil {
		return err
	}
	for {
		m, err := b.next()
		if err != nil {
			return fmt.Errorf("%s: %w", method, err)
		}
		if m.ID != ask.ID {
			continue
		}
		if m.Error != nil {
			return fmt.Errorf("%s: %s", method, m.Error.Message)
		}
		if result == nil {
			return nil
		}
		return json.Unmarshal(m.Result, result)
	}
}

// next reads one message, and notes it if it is an event.
func (b *browser) next() (message, error) {
	var m message
	if err := b.from.SetReadDeadline(time.Now().Add(patience)); err != nil {
		return m, err
	}
	data, err := b.read.ReadBytes(0)
	if err != nil {
		return m, err
	}
	if err := json.Unmarshal(data[:len(data)-1], &m); err != nil {
		return m, err
	}
	if t := b.tabs[m.SessionID]; t != nil && m.ID == 0 {
		return m, t.hear(m)
	}
	return m, nil
}

// hear notes an event of the tab.
func (t *tab) hear(m message) error {
	var p struct {
		Type string // of a console call
		Args []struct {
			Value       any
			Description string
		}
		ExceptionDetails struct {
			Text      string
			Exception struct{ Description string }
		}
		Entry   struct{ Level, Text, URL string }
		Request struct{ URL string }
	}
	switch m.Method {
	case "Page.loadEventFired":
		t.loaded = true
	case "Runtime.consoleAPICalled", "Runtime.exceptionThrown", "Log.entryAdded", "Network.requestWillBeSent":
		if err := json.Unmarshal(m.Params, &p); err != nil {
			return err
		}
	}
	switch m.Method {
	case "Runtime.consoleAPICalled":
		if p.Type == "error" || p.Type == "warning" {
			var words []string
			for _, a := range p.Args {
				words = append(words, strings.TrimSpace(fmt.Sprint(a.Value, " ", a.Description)))
			}
			t.noise = append(t.noise, p.Type+": "+strings.Join(words, " "))
		}
	case "Runtime.exceptionThrown":
		t.noise = append(t.noise, p.ExceptionDetails.Text+" "+p.ExceptionDetails.Exception.Description)
	case "Log.entryAdded":
		if p.Entry.Level == "error" || p.Entry.Level == "warning" {
			t.noise = append(t.noise, p.Entry.Level+": "+p.Entry.Text+" "+p.Entry.URL)
		}
	case "Network.requestWillBeSent":
		t.requests = append(t.requests, p.Request.URL)
	}
	return nil
}

// A screen is how a page is shown.
type screen struct {
	width, height int
	dark, print   bool
	noScripts     bool
}

// open opens a file in a new tab: see show and load.
func (b *browser) open(file string, sc screen) (*tab, error) {
	t, err := b.newTab()
	if err != nil {
		return nil, err
	}
	return t, t.load(file, sc)
}

// newTab opens an empty tab.
func (b *browser) newTab() (*tab, error) {
	t := &tab{b: b}
	var made struct{ TargetID, SessionID string }
	if err := b.call("", "Target.createTarget", map[string]any{"url": "about:blank"}, &made); err != nil {
		return nil, err
	}
	t.target = made.TargetID
	if err := b.call("", "Target.attachToTarget", map[string]any{"targetId": t.target, "flatten": true}, &made); err != nil {
		return nil, err
	}
	t.session = made.SessionID
	b.tabs[t.session] = t
	for _, domain := range []string{"Page", "Runtime", "Log", "Network"} {
		if err := t.call(domain+".enable", nil, nil); err != nil {
			return nil, err
		}
	}
	return t, nil
}

// load goes to a file, shown on the screen, and waits until it is loaded. What
// is asked of the page later has it laid out first; what was heard before is
// forgotten.
func (t *tab) load(file string, sc screen) error {
	return t.visit("file://"+filepath.ToSlash(file), sc)
}

// visit does the same with an address.
func (t *tab) visit(address string, sc screen) error {
	if err := t.show(sc); err != nil {
		return err
	}
	t.loaded, t.noise, t.requests = false, nil, nil
	var went struct{ ErrorText string }
	if err := t.call("Page.navigate", map[string]any{"url": address}, &went); err != nil {
		return err
	}
	if went.ErrorText != "" {
		return errors.New(went.ErrorText)
	}
	return t.awaitLoad()
}

// awaitLoad waits until a page is loaded, if none was since t.loaded was false.
func (t *tab) awaitLoad() error {
	for !t.loaded {
		if _, err := t.b.next(); err != nil {
			return err
		}
	}
	return nil
}

// show changes the screen of the tab.
func (t *tab) show(sc screen) error {
	scheme, media := "light", ""
	if sc.dark {
		scheme = "dark"
	}
	if sc.print {
		media = "print"
	}
	return errors.Join(
		t.call("Emulation.setDeviceMetricsOverride", map[string]any{
			"width": sc.width, "height": sc.height, "deviceScaleFactor": 1, "mobile": sc.width < 700}, nil),
		t.call("Emulation.setEmulatedMedia", map[string]any{"media": media, "features": []map[string]string{
			{"name": "prefers-color-scheme", "value": scheme}, {"name": "prefers-reduced-motion", "value": "reduce"}}}, nil),
		t.call("Emulation.setScriptExecutionDisabled", map[string]any{"value": sc.noScripts}, nil))
}

func (t *tab) call(method string, params, result any) error {
	return t.b.call(t.session, method, params, result)
}

// eval works out an expression on the page, waits for it if it is a promise,
// and decodes its value into result, unless that is nil.
func (t *tab) eval(expression string, result any) error {
	var got struct {
		Result           struct{ Value json.RawMessage }
		ExceptionDetails *struct {
			Text      string
			Exception struct{ Description string }
		}
	}
	err := t.call("Runtime.evaluate", map[string]any{"expression": expression, "awaitPromise": true, "returnByValue": true}, &got)
	if err != nil {
		return err
	}
	if e := got.ExceptionDetails; e != nil {
		return fmt.Errorf("%s %s", e.Text, e.Exception.Description)
	}
	if result == nil {
		return nil
	}
	return json.Unmarshal(got.Result.Value, result)
}

// pdf prints the page on A4 paper.
func (t *tab) pdf() ([]byte, error) {
	var got struct{ Data []byte }
	err := t.call("Page.printToPDF", map[string]any{"paperWidth": 8.27, "paperHeight": 11.69, "printBackground": false}, &got)
	return got.Data, err
}

// picture returns the part of the page from its corner to width and height, in
// CSS pixels, as a PNG.
func (t *tab) picture(width, height float64) ([]byte, error) {
	var got struct{ Data []byte }
	err := t.call("Page.captureScreenshot", map[string]any{"format": "png", "captureBeyondViewport": true,
		"clip": map[string]any{"x": 0, "y": 0, "width": width, "height": height, "scale": 1}}, &got)
	return got.Data, err
}

// close closes the tab.
func (t *tab) close() error {
	delete(t.b.tabs, t.session)
	return t.b.call("", "Target.closeTarget", map[string]any{"targetId": t.target}, nil)
}

// maxBrowsers is how many browsers share work at most: each takes much memory.
const maxBrowsers = 4

// share does every job in a browser, with as many browsers as there are
// processors. What the jobs count goes to sum in the order of the jobs. After
// an error no more of them are begun.
func share[T any](s *session, sum *tally, jobs []T, do func(t *tab, job T, sum *tally) error) error {
	tallies := make([]tally, len(jobs))
	var next atomic.Int64
	work := func() (err error) {
		b, err := startBrowser(s.ctx, s.tools["chromium"], s.temp)
		if err != nil {
			return err
		}
		defer b.close()
		t, err := b.newTab()
		if err != nil {
			return err
		}
		for {
			i := int(next.Add(1)) - 1
			if i >= len(jobs) {
				return nil
			}
			if err := do(t, jobs[i], &tallies[i]); err != nil {
				next.Store(int64(len(jobs)))
				return err
			}
		}
	}
	n := min(runtime.NumCPU(), maxBrowsers, len(jobs))
	ended := make(chan error, n)
	for range n {
		go func() { ended <- work() }()
	}
	var errs []error
	for range n {
		errs = append(errs, <-ended)
	}
	for _, t := range tallies {
		sum.passed += t.passed
		sum.failed = append(sum.failed, t.failed...)
	}
	return errors.Join(errs...)
}
