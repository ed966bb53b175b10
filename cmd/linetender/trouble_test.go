package main

import (
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"linetender/flow/telegram/apitest"
	"linetender/store"
)

// oneSentence wants a failed call's standard error to be one line that has
// all the parts.
func oneSentence(t *testing.T, what, errs string, parts ...string) {
	t.Helper()
	if strings.Count(errs, "\n") != 1 {
		t.Errorf("%s: want one line, got %q", what, errs)
	}
	for _, part := range parts {
		if !strings.Contains(errs, part) {
			t.Errorf("%s: want %q in %q", what, part, errs)
		}
	}
}

// keptJob makes a data folder with one job in it and returns its file.
func keptJob(t *testing.T) (dir, file string) {
	t.Helper()
	dir = t.TempDir()
	if code, _, errs := once(t, []string{"LINETENDER_DATA=" + dir}, "none of these\n2.4 t off the plate\n"); code != exitDone {
		t.Fatalf("status %d: %s", code, errs)
	}
	return dir, filepath.Join(dir, store.FileName)
}

// TestDamagedStore: whatever happened to the file, every command that needs it
// says so in one sentence with what to do, and changes nothing in it.
func TestDamagedStore(t *testing.T) {
	_, good := keptJob(t)
	whole, err := os.ReadFile(good)
	if err != nil {
		t.Fatal(err)
	}
	flipped := append([]byte{}, whole...)
	for i := range flipped {
		flipped[i] ^= 0x55 // every page of it
	}
	srv := apitest.New(t)
	for _, c := range []struct {
		name, says string
		content    []byte
	}{
		{"cut short", "put the latest backup in its place", whole[:3*os.Getpagesize()]},
		{"cut to nothing", "put the latest backup in its place", nil},
		{"flipped", "use the release that wrote it", flipped},
		{"another program's", "use the release that wrote it", []byte(strings.Repeat("some other text\n", 4096))},
	} {
		dir := t.TempDir()
		file := filepath.Join(dir, store.FileName)
		if err := os.WriteFile(file, c.content, 0o600); err != nil {
			t.Fatal(err)
		}
		data := []string{"LINETENDER_DATA=" + dir, "LINETENDER_TOKEN=" + srv.Token()}
		for _, call := range [][]string{{}, {"serve", "--api-url", srv.URL()}, {"log", "list"}, {"backup", filepath.Join(dir, "copy")}} {
			code, _, errs := once(t, data, "", call...)
			if code != exitFault {
				t.Errorf("%s: %q ends with status %d, want %d", c.name, call, code, exitFault)
			}
			if !strings.Contains(errs, "latest backup in its place") && !strings.Contains(errs, "use the release that wrote it") {
				t.Errorf("%s: %q does not say what to do: %q", c.name, call, errs)
			}
			oneSentence(t, c.name, errs, store.FileName)
		}
		if code, out, _ := once(t, append(data, "LINETENDER_TOKEN="), "", "doctor"); code != exitFault || !strings.Contains(out, "WRONG  store") {
			t.Errorf("%s: doctor ends with status %d:\n%s", c.name, code, out)
		}
		if after, err := os.ReadFile(file); err != nil || string(after) != string(c.content) {
			t.Errorf("%s: the file was changed (%v)", c.name, err)
		}
		if _, err := os.Stat(filepath.Join(dir, "copy")); err == nil {
			t.Errorf("%s: a backup was made of it", c.name)
		}
	}
}

// TestBackupWhileServing: the copy of a serving process is whole and is what
// was kept at that moment; no file is replaced.
func TestBackupWhileServing(t *testing.T) {
	t.Parallel()
	srv := apitest.New(t)
	dir := filepath.Join(t.TempDir(), "data")
	data := []string{"LINETENDER_DATA=" + dir}
	copied := filepath.Join(t.TempDir(), "copy.db")
	if code, _, errs := once(t, data, "", "backup", copied); code != exitWrong {
		t.Errorf("with nothing kept: status %d, %q, want %d", code, errs, exitWrong)
	}
	p := serving(t, srv, dir, "--anyone")
	ann := srv.User(11, "Ann").Private()
	ann.Say("/start")
	srv.Wait("an answer", saidTo(srv, ann.Chat(), "Is anyone hurt"))
	if code, out, errs := once(t, data, "", "backup", copied); code != exitDone || out != copied+"\n" {
		t.Errorf("status %d, %q, %q, want the file's name", code, out, errs)
	}
	code, _, errs := once(t, data, "", "backup", copied)
	if code != exitWrong {
		t.Errorf("over a file: status %d, want %d", code, exitWrong)
	}
	oneSentence(t, "over a file", errs, "choose another name, nothing was replaced")
	if code, out, errs := once(t, data, "", "doctor"); code != exitDone || !strings.Contains(out, "well   store    sound; a running process has it") {
		t.Errorf("doctor beside it: status %d\n%s%s", code, out, errs)
	}
	// A second process gets no hold of it.
	code, _, errs = once(t, append(data, "LINETENDER_TOKEN="+srv.Token()), "", "serve", "--api-url", srv.URL())
	if code != exitFault {
		t.Errorf("a second serve: status %d, want %d", code, exitFault)
	}
	oneSentence(t, "a second serve", errs, "another process")
	finish(t, srv, p)

	restored := t.TempDir()
	if err := os.Rename(copied, filepath.Join(restored, store.FileName)); err != nil {
		t.Fatal(err)
	}
	soundStore(t, restored)
	if _, out, _ := once(t, []string{"LINETENDER_DATA=" + restored}, "", "log", "list"); len(codePattern.FindAllString(out, -1)) != 1 {
		t.Errorf("the copy has not the one job:\n%s", out)
	}
	if left, _ := filepath.Glob(filepath.Join(dir, ".doctor-*")); len(left) > 0 {
		t.Errorf("doctor left %q", left)
	}
}

// small mounts a file system of so many kilobytes for a test.
func small(t *testing.T, kilobytes string, options string) string {
	t.Helper()
	dir := t.TempDir()
	if out, err := exec.Command("mount", "-t", "tmpfs", "-o", "size="+kilobytes+"k"+options, "none", dir).CombinedOutput(); err != nil {
		t.Skipf("this user may not mount a small file system: %s", out)
	}
	t.Cleanup(func() {
		if out, err := exec.Command("umount", "-l", dir).CombinedOutput(); err != nil {
			t.Errorf("%v: %s", err, out)
		}
	})
	return dir
}

// TestReadOnlyFolder: what is kept can still be read, and what would write
// says what to do.
func TestReadOnlyFolder(t *testing.T) {
	dir := small(t, "4096", "")
	data := []string{"LINETENDER_DATA=" + dir}
	if code, _, errs := once(t, data, "none of these\n"); code != exitDone {
		t.Fatalf("status %d: %s", code, errs)
	}
	if out, err := exec.Command("mount", "-o", "remount,ro", dir).CombinedOutput(); err != nil {
		t.Skipf("this user may not mount for reading only: %s", out)
	}
	code, _, errs := once(t, data, "2 t\n")
	if code != exitFault {
		t.Errorf("status %d, want %d", code, exitFault)
	}
	oneSentence(t, "the conversation", errs, "give this user write access")
	if code, out, errs := once(t, data, "", "log", "list"); code != exitDone || !strings.Contains(out, "Ada") && len(codePattern.FindAllString(out, -1)) != 1 {
		t.Errorf("log list: status %d, %q, %q, want the one job", code, out, errs)
	}
	if code, out, _ := once(t, data, "", "doctor"); code != exitFault || !strings.Contains(out, "WRONG  folder") {
		t.Errorf("doctor: status %d\n%s", code, out)
	}
}

// TestDoctor: each thing that can be wrong around the program is found and
// named with what to do; the token is shown nowhere.
func TestDoctor(t *testing.T) {
	srv := apitest.New(t)
	dir, _ := keptJob(t)
	if err := os.Chmod(dir, 0o700); err != nil {
		t.Fatal(err)
	}
	_, secret, _ := strings.Cut(srv.Token(), ":")
	env := []string{"LINETENDER_DATA=" + dir, "LINETENDER_TOKEN=" + srv.Token()}
	look := func(what string, want int, says string, args ...string) {
		t.Helper()
		code, out, errs := once(t, env, "", append([]string{"doctor"}, args...)...)
		if code != want || !strings.Contains(out, says) {
			t.Errorf("%s: status %d, want %d and %q:\n%s%s", what, code, want, says, out, errs)
		}
		if strings.Contains(out+errs, secret) {
			t.Errorf("%s: the token is shown:\n%s%s", what, out, errs)
		}
	}
	look("all well", exitDone, "good for @"+apitest.BotName, "--api-url", srv.URL())
	look("all well", exitDone, "within 1m0s of the channel's", "--api-url", srv.URL())
	look("nothing answers", exitFault, "WRONG  reach", "--api-url", "http://127.0.0.1:1")
	look("no token file", exitFault, "WRONG  token", "--token-file", filepath.Join(dir, "nosuch"))
	if err := os.Chmod(dir, 0o755); err != nil {
		t.Fatal(err)
	}
	look("a folder for all eyes", exitFault, "chmod 700", "--api-url", srv.URL())
	if err := os.Chmod(dir, 0o700); err != nil {
		t.Fatal(err)
	}
	srv.Revoke()
	look("a revoked token", exitFault, "WRONG  token", "--api-url", srv.URL())
	env[1] = "LINETENDER_TOKEN="
	look("no token at all", exitDone, "the terminal needs none")
	env[0] = "LINETENDER_DATA=" + filepath.Join(dir, "new")
	look("nothing kept yet", exitDone, "the first start makes it")
}

// TestDoctorFindsAClockThatWentBack by what was written last.
func TestDoctorFindsAClockThatWentBack(t *testing.T) {
	dir, _ := keptJob(t)
	d := doctor{dir: dir, now: func() time.Time { return time.Now().Add(-time.Hour) }}
	found := d.kept(t.Context())
	if last := found[len(found)-1]; last.well || last.about != "clock" || !strings.Contains(last.said, "the clock was put back") {
		t.Errorf("found %+v", found)
	}
	d.now = time.Now
	for _, f := range d.kept(t.Context()) {
		if !f.well {
			t.Errorf("at the right time: %+v", f)
		}
	}
}
