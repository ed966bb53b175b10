package etcd

import (
	"fmt"
	"io"
	"net/http"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strings"
	"syscall"
	"testing"
	"time"

	"linetender/flow/telegram/apitest"
)

// programArgs is how the program is built that can use etcd, as the guide has it.
var programArgs = []string{"build", "-overlay", "program.json", "-o"}

// TestProgram builds the program that can use etcd, runs two of it on one cluster, polling, and
// kills the one that polls: the other goes on in the same job.
func TestProgram(t *testing.T) {
	if os.Getenv("LINETENDER_LONG") == "" {
		t.Skip("it builds the program; LINETENDER_LONG=short runs it")
	}
	program := filepath.Join(t.TempDir(), "linetender")
	if out, err := exec.Command("go", append(programArgs, program, "linetender/cmd/linetender")...).CombinedOutput(); err != nil {
		t.Fatalf("build: %v\n%s", err, out)
	}
	srv := apitest.New(t)
	address := oneMember(t).address(fmt.Sprint("t", names.Add(1))) + "?term=2s"
	start := func(name string) (p *exec.Cmd, metrics string) {
		ports, err := freePorts(1)
		must(t, err)
		metrics = fmt.Sprintf("127.0.0.1:%d", ports[0])
		p = exec.Command(program, "serve", "--data", filepath.Join(t.TempDir(), name), "--store", address, "--api-url", srv.URL(), "--anyone", "--metrics", metrics)
		p.Env = append(os.Environ(), "LINETENDER_TOKEN="+srv.Token())
		p.Stderr = os.Stderr
		must(t, p.Start())
		t.Cleanup(func() {
			_ = p.Process.Signal(syscall.SIGTERM)
			_ = p.Wait()
		})
		return p, metrics
	}
	read := func(metrics, name string) string {
		answer, err := http.Get("http://" + metrics + "/metrics")
		if err != nil {
			return ""
		}
		defer answer.Body.Close()
		text, err := io.ReadAll(answer.Body)
		must(t, err)
		for _, line := range strings.Split(string(text), "\n") {
			if value, ok := strings.CutPrefix(line, "linetender_"+name+" "); ok {
				return value
			}
		}
		return ""
	}
	first, one := start("one")
	until(t, "the first holds all", func() bool { return read(one, "shards") == fmt.Sprint(Shards) })
	second, two := start("two")
	until(t, "two share", func() bool {
		return read(one, "shards") == fmt.Sprint(Shards/2) && read(two, "shards") == fmt.Sprint(Shards/2)
	})
	var seats []*apitest.Seat
	for i := range 8 { // so that each has some of them
		s := srv.User(firstSeat+int64(i), "Ada").Private()
		s.Say("/start")
		seats = append(seats, s)
	}
	answered := func(n int) func() bool {
		return func() bool {
			for _, s := range seats {
				if len(srv.Said(s.Chat())) < n {
					return false
				}
			}
			return true
		}
	}
	srv.Wait("all are greeted", answered(1))
	said := map[int64]int{}
	for _, s := range seats {
		said[s.Chat()] = len(srv.Said(s.Chat()))
	}
	if read(two, "replicas") != "2" {
		t.Errorf("the second sees %s replicas, want 2", read(two, "replicas"))
	}
	must(t, first.Process.Signal(syscall.SIGKILL))
	_ = first.Wait()
	for _, s := range seats {
		s.Say("stop")
	}
	srv.Wait("all have heard the stop", func() bool {
		for _, s := range seats {
			if !strings.Contains(srv.Last(s.Chat()).Text, "STOP") {
				return false
			}
		}
		return true
	})
	carry(t, program, address)

	// An orderly end hands over at once and says so with status 0.
	begun := time.Now()
	must(t, second.Process.Signal(syscall.SIGTERM))
	if err := second.Wait(); err != nil {
		t.Errorf("after %v: %v", time.Since(begun), err)
	}
}

// carry takes jobs from the cluster to a file and from there to another cluster, by export and
// import and by a move, and has the chains of each verified.
func carry(t *testing.T, program, address string) {
	t.Helper()
	dir := t.TempDir()
	call := func(store string, args ...string) string {
		t.Helper()
		c := exec.Command(program, args...)
		c.Env = append(os.Environ(), "LINETENDER_STORE="+store)
		var errs strings.Builder
		c.Stderr = &errs
		out, err := c.Output()
		if err != nil {
			t.Fatalf("%v: %v\n%s%s", args, err, out, errs.String())
		}
		return string(out)
	}
	jobs := call(address, "log", "list")
	if n := len(jobCode.FindAllString(jobs, -1)); n < 8 {
		t.Fatalf("%d jobs, want one for each of 8 people:\n%s", n, jobs)
	}
	file, folder, there := filepath.Join(dir, "jobs.jsonl"), filepath.Join(dir, "data"), oneMember(t).address(fmt.Sprint("t", names.Add(1)))
	if said := call(address, "doctor"); !strings.Contains(said, "well   store    sound: ") {
		t.Errorf("doctor says:\n%s", said)
	}
	call(address, "log", "verify")
	call(address, "log", "export", "--chats", "--out", file)
	call("", "log", "import", "--chats", "--data", folder, file)
	call("", "log", "verify", "--data", folder)
	call("", "move", "--data", folder, "--to", there)
	call(there, "log", "verify")
	if got := call(there, "log", "list"); len(jobCode.FindAllString(got, -1)) != len(jobCode.FindAllString(jobs, -1)) {
		t.Errorf("jobs there:\n%s\nwant\n%s", got, jobs)
	}
	again := filepath.Join(dir, "again.jsonl")
	call(there, "log", "export", "--chats", "--out", again)
	first, err := os.ReadFile(file)
	must(t, err)
	second, err := os.ReadFile(again)
	must(t, err)
	if lines := func(b []byte) []string { return sorted(string(b)) }; !slices.Equal(lines(first), lines(second)) {
		t.Errorf("the export of what was carried is not the one that it came from:\n%s\nand\n%s", first, second)
	}
}

// sorted returns the lines that are entries and summaries, in order; where a log stands in the list of
// changes doesn't count.
func sorted(text string) []string {
	lines := strings.Split(text, "\n")
	slices.Sort(lines)
	return slices.DeleteFunc(lines, func(l string) bool { return strings.Contains(l, "\"format\"") || l == "" })
}
