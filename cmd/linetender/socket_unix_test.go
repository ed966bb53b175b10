//go:build unix

package main

import (
	"context"
	"errors"
	"io"
	"io/fs"
	"net"
	"net/http"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"syscall"
	"testing"
)

var echo = http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) { io.WriteString(w, "well") })

// answers wants the hatch of dir to answer, or nobody to be there.
func answers(t *testing.T, dir string, want bool) {
	t.Helper()
	var got strings.Builder
	err := askHatch(context.Background(), dir, "/", &got)
	if want && (err != nil || got.String() != "well") {
		t.Errorf("the hatch says %q, %v", got.String(), err)
	}
	if !want && !errors.Is(err, errNobody) {
		t.Errorf("the hatch says %q, %v, want %v", got.String(), err, errNobody)
	}
}

// socketOf returns where the hatch of dir is, and wants it private.
func socketOf(t *testing.T, dir string) string {
	t.Helper()
	n, err := readNote(dir)
	if err != nil {
		t.Fatal(err)
	}
	for path, want := range map[string]fs.FileMode{n.Socket: fs.ModeSocket | 0o600, filepath.Dir(n.Socket): fs.ModeDir | 0o700} {
		info, err := os.Lstat(path)
		if err != nil {
			t.Fatal(err)
		}
		if info.Mode() != want {
			t.Errorf("%s has mode %v, want %v", path, info.Mode(), want)
		}
	}
	return n.Socket
}

func gone(t *testing.T, path string) {
	t.Helper()
	if _, err := os.Lstat(path); !errors.Is(err, fs.ErrNotExist) {
		t.Errorf("%s is still there (%v)", path, err)
	}
}

// TestSocketPlaces: in the data folder where that fits, else in a short folder
// of its own, and gone after the end.
func TestSocketPlaces(t *testing.T) {
	runtime := t.TempDir()
	for _, test := range []struct {
		name, runtime, under string
		long                 bool
	}{
		{name: "the data folder"},
		{name: "the runtime folder", long: true, runtime: runtime, under: runtime},
		{name: "a runtime folder that is not there", long: true, runtime: filepath.Join(runtime, "none"), under: os.TempDir()},
		{name: "no runtime folder", long: true, under: os.TempDir()},
	} {
		t.Run(test.name, func(t *testing.T) {
			if err := os.Chmod(runtime, 0o700); err != nil {
				t.Fatal(err)
			}
			t.Setenv("XDG_RUNTIME_DIR", test.runtime)
			dir := t.TempDir()
			if test.long {
				dir = filepath.Join(dir, strings.Repeat("deep", 30))
			}
			if err := os.MkdirAll(dir, 0o755); err != nil { // as a user may have made it
				t.Fatal(err)
			}
			h, err := openHatch(dir, echo)
			if err != nil {
				t.Fatal(err)
			}
			socket := socketOf(t, dir)
			if test.under == "" {
				test.under = dir
			}
			if rel, err := filepath.Rel(test.under, socket); err != nil || strings.HasPrefix(rel, "..") {
				if test.runtime != "" || test.under == dir { // without one the system's own may be there
					t.Errorf("the socket is %s, want it under %s", socket, test.under)
				}
			}
			answers(t, dir, true)
			if err := h.close(); err != nil {
				t.Error(err)
			}
			answers(t, dir, false)
			gone(t, filepath.Dir(socket))
		})
	}
}

// TestSocketLeft: what a killed process has left of its hatch is cleared away
// by the next, and nothing else is.
func TestSocketLeft(t *testing.T) {
	for _, long := range []bool{false, true} {
		dir := t.TempDir()
		if long {
			dir = filepath.Join(dir, strings.Repeat("deep", 30))
		}
		if err := os.MkdirAll(dir, 0o700); err != nil {
			t.Fatal(err)
		}
		l, err := listenPrivately(dir)
		if err != nil {
			t.Fatal(err)
		}
		l.(*net.UnixListener).SetUnlinkOnClose(false) // as a killed process leaves it
		socket := l.Addr().String()
		if err := errors.Join(l.Close(), writeNote(filepath.Join(dir, hatchNote), note{Socket: socket, Key: "k", Process: 7})); err != nil {
			t.Fatal(err)
		}
		answers(t, dir, false)
		h, err := openHatch(dir, echo)
		if err != nil {
			t.Fatal(err)
		}
		if long {
			gone(t, filepath.Dir(socket))
		}
		answers(t, dir, true)
		if err := h.close(); err != nil {
			t.Error(err)
		}
		gone(t, filepath.Dir(socket))
	}

	dir := t.TempDir()
	keep := filepath.Join(dir, "kept")
	if err := os.WriteFile(keep, []byte("mine"), 0o600); err != nil {
		t.Fatal(err)
	}
	for _, socket := range []string{keep, dir, filepath.Join(dir, "none"), ""} {
		clearSocket(dir, socket)
	}
	if text, err := os.ReadFile(keep); err != nil || string(text) != "mine" {
		t.Errorf("a note that names a file costs that file: %q, %v", text, err)
	}
}

// strangerEnv makes the test binary a stranger that tries to connect.
const strangerEnv = "LINETENDER_TEST_STRANGER"

// TestSocketIsClosedToOthers: another user of the machine cannot connect.
func TestSocketIsClosedToOthers(t *testing.T) {
	if path := os.Getenv(strangerEnv); path != "" {
		c, err := net.Dial("unix", path)
		if err != nil {
			t.Fatal(err)
		}
		c.Close()
		return
	}
	if os.Getuid() != 0 {
		t.Skip("only the superuser can act as a stranger; the modes are looked at in TestSocketPlaces")
	}
	// Below here anybody may enter: only what the hatch itself sets keeps them out.
	open, err := os.MkdirTemp("", "stranger-*")
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { _ = os.RemoveAll(open) })
	if err := os.Chmod(open, 0o755); err != nil {
		t.Fatal(err)
	}
	self, err := os.Executable()
	if err != nil {
		t.Fatal(err)
	}
	bits, err := os.ReadFile(self)
	if err != nil {
		t.Fatal(err)
	}
	program := filepath.Join(open, "stranger")
	if err := os.WriteFile(program, bits, 0o755); err != nil {
		t.Fatal(err)
	}
	try := func(path string) (string, error) {
		cmd := exec.Command(program, "-test.run", "^TestSocketIsClosedToOthers$")
		cmd.Dir, cmd.Env = "/", append(os.Environ(), strangerEnv+"="+path)
		cmd.SysProcAttr = &syscall.SysProcAttr{Credential: &syscall.Credential{Uid: 65534, Gid: 65534}}
		out, err := cmd.CombinedOutput()
		return string(out), err
	}
	// The stranger itself works: a socket that is open to all lets it in.
	l, err := net.Listen("unix", filepath.Join(open, "all"))
	if err != nil {
		t.Fatal(err)
	}
	defer l.Close()
	if err := os.Chmod(filepath.Join(open, "all"), 0o666); err != nil {
		t.Fatal(err)
	}
	if out, err := try(filepath.Join(open, "all")); err != nil {
		t.Fatalf("a socket for all keeps the stranger out: %v\n%s", err, out)
	}
	data := filepath.Join(open, "data")
	if err := os.Mkdir(data, 0o755); err != nil {
		t.Fatal(err)
	}
	h, err := openHatch(data, echo)
	if err != nil {
		t.Fatal(err)
	}
	defer h.close()
	if out, err := try(socketOf(t, data)); err == nil || !strings.Contains(out, "permission denied") {
		t.Errorf("a stranger at the hatch: %v\n%s\nwant permission denied", err, out)
	}
	answers(t, data, true)
}
