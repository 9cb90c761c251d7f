package main

import (
	"errors"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"runtime"
	"slices"
	"strings"
)

// A tool is a program, or a file, from outside that some steps need.
type tool struct {
	name     string
	commands []string // any of them will do; looked for on the PATH
	apt      []string // Debian packages that bring it
	npm      string   // package and version on the npm registry, for a tool that is a file
	file     string   // of that package
	about    string
}

// The versions are pinned where we can choose them.
var tools = []tool{
	{name: "chromium", commands: []string{"chromium", "chromium-browser", "google-chrome"},
		apt: []string{"chromium", "fonts-dejavu-core"}, about: "opens the pages and charts"},
	{name: "rsvg-convert", commands: []string{"rsvg-convert"},
		apt: []string{"librsvg2-bin"}, about: "draws the charts a second way"},
	{name: "java", commands: []string{"java"},
		apt: []string{"default-jre-headless"}, about: "runs the Nu HTML checker"},
	{name: "npm", commands: []string{"npm"},
		apt: []string{"npm"}, about: "fetches those that follow"},
	{name: "node", commands: []string{"node", "nodejs"},
		apt: []string{"nodejs"}, about: "runs resvg"},
	{name: "resvg", npm: "@resvg/resvg-js@2.6.2", file: "index.js", about: "draws the charts a third way"},
	{name: "vnu", npm: "vnu-jar@26.9.27", file: "build/dist/vnu.jar", about: "the Nu HTML checker"},
	{name: "axe", npm: "axe-core@4.14.1", file: "axe.min.js", about: "finds what keeps people out of a page"},
}

// install sets up what the steps need, says what it does, and returns the
// names of the tools that are missing still.
func (s *session) install(chosen []step) (missing []string) {
	var wanted []tool
	fetch := false
	for _, t := range slices.Backward(tools) {
		needed := slices.ContainsFunc(chosen, func(st step) bool { return slices.Contains(st.needs, t.name) })
		if t.npm != "" && needed {
			fetch = fetch || !s.fetched(t)
		}
		if needed || t.name == "npm" && fetch {
			wanted = append(wanted, t)
		}
	}
	slices.Reverse(wanted)

	if packages := s.lookUp(wanted); len(packages) > 0 {
		if err := s.aptInstall(packages); err != nil {
			fmt.Fprintf(s.out, "Could not install: %v\n", err)
		}
		s.lookUp(wanted)
	}
	var files []string
	for _, t := range wanted {
		if t.npm != "" && !s.fetched(t) {
			files = append(files, t.npm)
		}
	}
	if len(files) > 0 && s.tools["npm"] != "" {
		if err := s.npmInstall(files); err != nil {
			fmt.Fprintf(s.out, "Could not fetch: %v\n", err)
		}
	}
	for _, t := range wanted {
		if t.npm != "" && s.fetched(t) {
			s.tools[t.name] = s.npmFile(t)
		}
		if s.tools[t.name] == "" {
			missing = append(missing, t.name)
			fmt.Fprintf(s.out, "Missing: %s, which %s. Install it by hand: %s\n", t.name, t.about, byHand(t))
		}
	}
	return missing
}

// release returns the package and the version of a tool from npm: those of
// "@resvg/resvg-js@2.6.2" are the parts beside its last @.
func (t tool) release() (name, version string) {
	at := strings.LastIndexByte(t.npm, '@')
	return t.npm[:at], t.npm[at+1:]
}

func byHand(t tool) string {
	if t.npm != "" {
		return "it comes with npm, see there"
	}
	return fmt.Sprintf("apt-get install %s, or what brings the command %s on your system",
		strings.Join(t.apt, " "), strings.Join(t.commands, " or "))
}

// lookUp notes the commands that are there, and returns the Debian packages of
// those that are not.
func (s *session) lookUp(wanted []tool) (packages []string) {
	for _, t := range wanted {
		for _, c := range t.commands {
			if path, err := exec.LookPath(c); err == nil {
				s.tools[t.name] = path
				break
			}
		}
		if s.tools[t.name] == "" {
			packages = append(packages, t.apt...)
		}
	}
	return packages
}

func (s *session) aptInstall(packages []string) error {
	apt, err := exec.LookPath("apt-get")
	if err != nil {
		return fmt.Errorf("%s: this system (%s) has no apt-get", strings.Join(packages, ", "), runtime.GOOS)
	}
	if os.Geteuid() != 0 {
		return fmt.Errorf("%s: only root may; run: sudo apt-get install %[1]s", strings.Join(packages, " "))
	}
	fmt.Fprintf(s.out, "Installing by apt-get: %s\n", strings.Join(packages, " "))
	for _, args := range [][]string{
		{"update", "-q"},
		append([]string{"install", "-q", "-y", "--no-install-recommends"}, packages...),
	} {
		cmd := exec.CommandContext(s.ctx, apt, args...)
		cmd.Env = append(os.Environ(), "DEBIAN_FRONTEND=noninteractive")
		if err := run(cmd); err != nil {
			return err
		}
	}
	return nil
}

func (s *session) npmInstall(packages []string) error {
	dir := filepath.Join(s.cache, "npm")
	fmt.Fprintf(s.out, "Fetching by npm into %s: %s\n", dir, strings.Join(packages, " "))
	if err := os.MkdirAll(dir, 0o755); err != nil {
		return err
	}
	args := []string{"install", "--prefix", dir, "--save-exact", "--ignore-scripts", "--no-audit", "--no-fund"}
	return run(exec.CommandContext(s.ctx, s.tools["npm"], append(args, packages...)...))
}

// npmFile returns where the file of a tool lies once it is fetched.
func (s *session) npmFile(t tool) string {
	name, _ := t.release()
	return filepath.Join(s.cache, "npm", "node_modules", name, filepath.FromSlash(t.file))
}

// fetched reports whether the file of a tool is there in the pinned version.
func (s *session) fetched(t tool) bool {
	name, version := t.release()
	about, err := os.ReadFile(filepath.Join(s.cache, "npm", "node_modules", name, "package.json"))
	if err != nil || !strings.Contains(string(about), fmt.Sprintf(`"version": %q`, version)) {
		return false
	}
	_, err = os.Stat(s.npmFile(t))
	return err == nil
}

// run runs a command; an error holds what it printed.
func run(cmd *exec.Cmd) error {
	out, err := cmd.CombinedOutput()
	if err != nil {
		return fmt.Errorf("%s: %w\n%s", strings.Join(cmd.Args, " "), err, tail(string(out), 40))
	}
	return nil
}

// tail returns the last n lines of a text.
func tail(text string, n int) string {
	lines := strings.Split(strings.TrimRight(text, "\n"), "\n")
	return strings.Join(lines[max(0, len(lines)-n):], "\n")
}

// goTool returns a go command to be run in the checkout.
func (s *session) goTool(args ...string) *exec.Cmd {
	cmd := exec.CommandContext(s.ctx, "go", args...)
	cmd.Dir = s.root
	// An interrupt reaches go and what it has started; give them time to end.
	cmd.Cancel = func() error { return cmd.Process.Signal(os.Interrupt) }
	return cmd
}

var errNotBuilt = errors.New("the site was not built")
