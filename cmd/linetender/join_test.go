package main

import (
	"errors"
	"image/png"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"syscall"
	"testing"
	"time"

	"linetender/flow/script"
	"linetender/flow/telegram/apitest"
)

// joinPattern finds a code that lets into a job, and seatPattern what a
// terminal that joined is called.
var (
	joinPattern = regexp.MustCompile(`\b[a-z]+-[a-z]+-[a-z]+-[a-z]+-\d\d\b`)
	seatPattern = regexp.MustCompile(`(?m)^You are terminal ([a-z0-9]+) here; after a break: linetender join --as ([a-z0-9]+)$`)
)

// leadWithCode starts a conversation in which the lead has asked for a code.
func leadWithCode(t *testing.T, env []string) (lead *process, code string) {
	t.Helper()
	lead = start(t, env)
	lead.write("none\n")
	lead.out.see(t, "What does it weigh")
	lead.write("crew code\n")
	lead.out.see(t, "It is good for")
	if code = joinPattern.FindString(lead.out.String()); code == "" {
		t.Fatalf("there is no code in:\n%s", lead.out)
	}
	if dir := strings.TrimPrefix(env[0], dataEnv+"="); !strings.Contains(lead.out.String(), "\nlinetender join "+code+" --data "+dir+"\n") {
		t.Fatalf("what another terminal types is not said whole in:\n%s", lead.out)
	}
	return lead, code
}

// seatOf waits for what a terminal that joined is called.
func seatOf(t *testing.T, p *process) string {
	t.Helper()
	p.err.see(t, "\n")
	m := seatPattern.FindStringSubmatch(p.err.String())
	if m == nil || m[1] != m[2] {
		t.Fatalf("it is not said what this terminal is called: %q", p.err)
	}
	return m[1]
}

// TestJoin: what a second terminal says reaches the first though nobody writes
// a line there, a stop too; who leaves can come back as the same.
func TestJoin(t *testing.T) {
	env := []string{"LINETENDER_DATA=" + t.TempDir()}
	lead, code := leadWithCode(t, env)
	ben := start(t, env, "join", code, "--name", "Ben")
	seat := seatOf(t, ben)
	ben.out.see(t, "as Ben")
	lead.out.see(t, "Ben has joined")
	// As it was heard: in words of their own, with a capital.
	said := strings.Fields(strings.ReplaceAll(code, "-", " "))
	said[0] = strings.ToUpper(said[0])
	cy := start(t, env, append([]string{"join", "--name", "Cy"}, said...)...)
	cy.out.see(t, "as Cy")
	if other := seatOf(t, cy); other == seat {
		t.Errorf("two terminals are both called %s", seat)
	}

	// The voice is Ben's for as long as he sits there.
	if status, _, err := once(t, env, "", "join", "--as", seat); status != exitWrong || strings.Count(err, "\n") != 1 || !strings.Contains(err, "another terminal speaks as "+seat) {
		t.Errorf("a second one as %s: status %d, %q, want %d and one line that says why", seat, status, err, exitWrong)
	}

	ben.write("stop, it slips\n")
	for name, p := range map[string]*process{"the lead": lead, "Cy": cy, "Ben": ben} {
		p.out.see(t, "STOP. Everybody stop and hold.")
		p.out.see(t, "Ben called it")
		if strings.ContainsAny(p.out.String(), "\x1b\r") {
			t.Errorf("the transcript of %s holds control signs", name)
		}
	}
	if strings.Contains(cy.out.String(), "> ") || strings.Count(lead.out.String(), "\n> ") != 2 {
		t.Errorf("a stop was shown only with a line; Cy has\n%s\nthe lead has\n%s", cy.out, lead.out)
	}

	if err := ben.in.Close(); err != nil {
		t.Fatal(err)
	}
	if status := ben.end(); status != exitDone {
		t.Errorf("Ben left with status %d, %s", status, ben.err)
	}
	lead.write("note chocks moved\n")
	lead.out.see(t, "> note chocks moved")
	status, out, err := once(t, env, "", "join", "--as", "terminal/"+seat)
	if status != exitDone || !strings.Contains(err, seat) {
		t.Errorf("back as %s: status %d, %s", seat, status, err)
	}
	if !strings.HasPrefix(out, "STOP.") || !regexp.MustCompile(`(?s)^STOP.*Ben called it, in these words: stop, it slips.*You are in job [a-z]+-\d\d, as Ben\.\n`).MatchString(out) {
		t.Errorf("who comes back while a stop is on is told\n%s", out)
	}
	if strings.Contains(lead.out.String(), "start\n") {
		t.Errorf("that somebody came back is told as their words:\n%s", lead.out)
	}
	cy.signal(syscall.SIGTERM)
	if status := cy.end(); status != exitDone {
		t.Errorf("SIGTERM: status %d, %s", status, cy.err)
	}
	if err := lead.in.Close(); err != nil {
		t.Fatal(err)
	}
	if status := lead.end(); status != exitDone {
		t.Errorf("the lead left with status %d, %s", status, lead.err)
	}
	soundStore(t, strings.TrimPrefix(env[0], "LINETENDER_DATA="))
}

// TestJoinWrongCode: it is said so, nothing of the job is, and a stop is heard
// all the same.
func TestJoinWrongCode(t *testing.T) {
	env := []string{"LINETENDER_DATA=" + t.TempDir()}
	lead, code := leadWithCode(t, env)
	wrong := code[:len(code)-2] + "00"
	if wrong == code {
		wrong = code[:len(code)-2] + "01"
	}
	status, out, _ := once(t, env, "stop\n", "join", wrong, "--name", "Eve")
	if status != exitDone || strings.Contains(out, "You are in job") || !strings.Contains(out, "STOP.") {
		t.Errorf("with a wrong code: status %d, it says\n%s", status, out)
	}
	if strings.Contains(lead.out.String(), "Eve") {
		t.Errorf("who has a wrong code reaches the lead:\n%s", lead.out)
	}
}

// cutOffs are the ways in which the process that holds the jobs ends.
var cutOffs = map[string]func(*testing.T, *process){
	"killed": func(_ *testing.T, p *process) { p.signal(syscall.SIGKILL) },
	"left": func(t *testing.T, p *process) {
		if err := p.in.Close(); err != nil {
			t.Fatal(err)
		}
	},
}

// TestJoinCutOff: when the process that holds the jobs ends, whichever way, a
// terminal that joined says so in one sentence and ends with a fault.
func TestJoinCutOff(t *testing.T) {
	for name, end := range cutOffs {
		t.Run(name, func(t *testing.T) {
			t.Parallel()
			dir := t.TempDir()
			env := []string{"LINETENDER_DATA=" + dir}
			lead, code := leadWithCode(t, env)
			ben := start(t, env, "join", code, "--name", "Ben")
			seat := seatOf(t, ben)
			ben.out.see(t, "as Ben")
			lead.out.see(t, "Ben has joined")
			end(t, lead)
			lead.end()
			if status := ben.end(); status != exitFault {
				t.Errorf("status %d, want %d", status, exitFault)
			}
			lines := strings.Split(strings.TrimSuffix(ben.err.String(), "\n"), "\n")
			if len(lines) != 2 || !strings.Contains(lines[1], "has ended") || !strings.HasSuffix(lines[1], "linetender join --as "+seat) {
				t.Errorf("it says %q, want one sentence after the first line, with the way back", lines)
			}
			// Nothing that was left stands in the way of the next one.
			again := start(t, env)
			again.out.see(t, "is where you left it")
			back := start(t, env, "join", "--as", seat)
			back.out.see(t, "as Ben") // what follows hangs on whether the lead had let go, and has come back
			back.write("stop\n")
			again.out.see(t, "STOP. Everybody stop and hold.")
		})
	}
}

// TestJoinAService: a terminal comes into a job that is held on the channel,
// and a stop goes both ways. Each waits for what the other has caused.
func TestJoinAService(t *testing.T) {
	t.Parallel()
	srv := apitest.New(t)
	dir := t.TempDir()
	env := []string{"LINETENDER_DATA=" + dir}
	p := serving(t, srv, dir, "--anyone")
	ann := srv.User(11, "Ann").Private()
	said := func(text string) { srv.Wait(text, saidTo(srv, ann.Chat(), text)) }
	ann.Say("/start")
	said("Is anyone hurt")
	ann.Say("none")
	said("What does it weigh")
	ann.Say("crew code")
	said("It is good for")
	code := ""
	for _, m := range srv.Said(ann.Chat()) {
		if c := joinPattern.FindString(m.Text); c != "" {
			code = c
		}
	}
	ben := start(t, env, "join", code, "--name", "Ben")
	ben.out.see(t, "as Ben")
	said("Ben has joined")
	ben.write("the strap looks worn\n")
	said("the strap looks worn")
	ben.write("stop\n")
	said("Ben called it")
	// The channel tells whole seconds, and nobody answers a stop within the same one.
	called := time.Now().Unix()
	srv.Wait("the next second", func() bool { return time.Now().Unix() > called })
	ann.Say("the strap was worn, changed and looked over")
	ben.out.see(t, "the stop is over: the strap was worn, changed and looked over")
	ann.Say("stop")
	ben.out.see(t, "Ann called it")
	if err := ben.in.Close(); err != nil {
		t.Fatal(err)
	}
	if status := ben.end(); status != exitDone {
		t.Errorf("Ben left with status %d, %s", status, ben.err)
	}
	if _, err := os.Stat(filepath.Join(dir, hatchNote)); err != nil {
		t.Error(err)
	}
	finish(t, srv, p)
	soundStore(t, dir)
}

// TestPicturesOfAPlan: a plan that is reckoned comes with its pictures: files
// in the data folder, with what they show in words, at the terminal that holds
// the jobs.
func TestPicturesOfAPlan(t *testing.T) {
	t.Parallel()
	scripts, err := script.Folder("../../testdata/talk")
	if err != nil {
		t.Fatal(err)
	}
	at := slices.IndexFunc(scripts, func(s script.Script) bool { return s.Name == "s01-go-two-parts" })
	if at < 0 {
		t.Fatal("the conversation that ends in a go is gone")
	}
	var said strings.Builder
	for _, step := range scripts[at].Steps[1:] {
		said.WriteString(step.Input + "\n")
	}
	dir := t.TempDir()
	status, out, errs := once(t, []string{"LINETENDER_DATA=" + dir}, said.String())
	if status != exitDone {
		t.Fatalf("status %d, %s", status, errs)
	}
	for _, what := range []string{"rig", "force"} {
		paths := regexp.MustCompile(`(?m)^Picture: (`+regexp.QuoteMeta(filepath.Join(dir, "pictures"))+`/[a-z]+-\d+-`+what+`-\d+\.png)$`).FindAllStringSubmatch(out, -1)
		if len(paths) == 0 {
			t.Errorf("no picture of the %s in:\n%s%s", what, out, errs)
			continue
		}
		f, err := os.Open(paths[0][1])
		if err != nil {
			t.Fatal(err)
		}
		m, err := png.Decode(f)
		if err = errors.Join(err, f.Close()); err != nil || m.Bounds().Dx() < 1000 {
			t.Errorf("%s: %v", paths[0][1], err)
		}
	}
	if strings.Contains(errs, "could not be made") {
		t.Error(errs)
	}
}
