package main

import (
	"context"
	"net/http"
	"os"
	"path/filepath"
	"strings"
	"syscall"
	"testing"

	"linetender/flow/telegram/apitest"
	"linetender/store"
)

// serving starts serve against a test channel, with its data in dir.
func serving(t *testing.T, srv *apitest.Server, dir string, args ...string) *process {
	t.Helper()
	env := []string{"LINETENDER_TOKEN=" + srv.Token(), "LINETENDER_DATA=" + dir}
	return start(t, env, append([]string{"serve", "--api-url", srv.URL()}, args...)...)
}

// finish stops a serving process and wants it to end well, with the token
// shown nowhere.
func finish(t *testing.T, srv *apitest.Server, p *process) {
	t.Helper()
	p.signal(syscall.SIGTERM)
	if code := p.end(); code != exitDone {
		t.Errorf("exit status %d after SIGTERM, want %d; standard error:\n%s", code, exitDone, p.err)
	}
	secretKept(t, srv, p)
}

func secretKept(t *testing.T, srv *apitest.Server, p *process) {
	t.Helper()
	_, secret, _ := strings.Cut(srv.Token(), ":")
	if all := p.out.String() + p.err.String(); strings.Contains(all, secret) {
		t.Errorf("the token is shown in:\n%s", all)
	}
}

func TestServeRefusesABadToken(t *testing.T) {
	srv := apitest.New(t)
	srv.Revoke()
	p := serving(t, srv, t.TempDir())
	if code := p.end(); code != exitFault {
		t.Errorf("exit status %d, want %d", code, exitFault)
	}
	p.err.see(t, "the channel refuses the token")
	secretKept(t, srv, p)
}

func TestServeFromATokenFile(t *testing.T) {
	srv := apitest.New(t)
	dir := t.TempDir()
	token := filepath.Join(t.TempDir(), "token")
	if err := os.WriteFile(token, []byte(srv.Token()+"\n"), 0o600); err != nil {
		t.Fatal(err)
	}
	p := start(t, []string{"LINETENDER_DATA=" + dir}, "serve", "--api-url", srv.URL(), "--token-file", token)
	srv.Wait("a poll", func() bool { return len(srv.Calls("getUpdates")) > 0 })
	finish(t, srv, p)
	file, err := os.ReadFile(filepath.Join(dir, store.FileName))
	if err != nil {
		t.Fatal(err)
	}
	if strings.Contains(string(file), srv.Token()) {
		t.Error("the token is kept in the store")
	}
}

func TestHealthOfAServingProcess(t *testing.T) {
	srv := apitest.New(t)
	dir := t.TempDir()
	data := []string{"LINETENDER_DATA=" + dir}
	if code, _, err := once(t, data, "", "health"); code != exitFault || !strings.Contains(err, errNobody.Error()) {
		t.Errorf("before: status %d, %q, want %d and %q", code, err, exitFault, errNobody)
	}
	p := serving(t, srv, dir)
	srv.Wait("a poll", func() bool { return len(srv.Calls("getUpdates")) > 0 })
	if code, out, err := once(t, data, "", "health"); code != exitDone || !strings.HasPrefix(out, "well: store: writes;") || !strings.Contains(out, "channel: heard") {
		t.Errorf("status %d, %q, %q, want well", code, out, err)
	}
	// The store is held, and its log can be read all the same.
	if code, out, err := once(t, data, "", "log", "list"); code != exitDone || !strings.HasPrefix(out, "CODE") {
		t.Errorf("log list: status %d, %q, %q, want the list", code, out, err)
	}
	if code, _, err := once(t, data, "", "log", "show", "NOSUCH"); code != exitWrong || !strings.Contains(err, `there is no job "nosuch"`) {
		t.Errorf("log show: status %d, %q, want that there is no such job", code, err)
	}
	finish(t, srv, p)
	if code, _, _ := once(t, data, "", "health"); code != exitFault {
		t.Errorf("after: status %d, want %d", code, exitFault)
	}
}

func TestServeByWebhook(t *testing.T) {
	srv := apitest.New(t)
	dir := t.TempDir()
	data := []string{"LINETENDER_DATA=" + dir}
	p := serving(t, srv, dir, "--anyone", "--webhook", "https://bot.example.org/hook", "--listen", "127.0.0.1:0")
	srv.Wait("the webhook", func() bool { return len(srv.Calls("setWebhook")) > 0 })
	p.err.see(t, "taking what the channel posts")
	_, rest, _ := strings.Cut(p.err.String(), "taking what the channel posts\" at=")
	address, _, _ := strings.Cut(rest, "\n")

	ann := srv.User(11, "Ann").Private()
	ann.Say("/start")
	ctx := context.Background()
	for _, posted := range srv.Deliver(ctx, "http://"+address, apitest.Delivery{Secret: "guessed"}) {
		if posted.Status != http.StatusUnauthorized {
			t.Errorf("with a wrong secret: status %d, %v, want %d", posted.Status, posted.Err, http.StatusUnauthorized)
		}
	}
	for _, posted := range srv.Deliver(ctx, "http://"+address, apitest.Delivery{}) {
		if posted.Status != http.StatusOK {
			t.Errorf("status %d, %v, want %d", posted.Status, posted.Err, http.StatusOK)
		}
	}
	srv.Wait("an answer", func() bool { return len(srv.Said(ann.Chat())) > 0 })
	if code, out, err := once(t, data, "", "health"); code != exitDone {
		t.Errorf("health: status %d, %q, %q, want well", code, out, err)
	}
	first := srv.Calls("setWebhook")[0].Params["secret_token"]
	finish(t, srv, p)
	if all := p.out.String() + p.err.String(); first == "" || strings.Contains(all, first.(string)) {
		t.Errorf("the secret %q is shown, or there is none", first)
	}

	// The secret is the same at the next start.
	p = serving(t, srv, dir, "--webhook", "https://bot.example.org/hook", "--listen", "127.0.0.1:0")
	srv.Wait("the webhook again", func() bool { return len(srv.Calls("setWebhook")) > 1 })
	if second := srv.Calls("setWebhook")[1].Params["secret_token"]; second != first {
		t.Errorf("the secret changed from %q to %q", first, second)
	}
	finish(t, srv, p)
}

// saidTo reports whether the program has said text in a chat.
func saidTo(srv *apitest.Server, chat int64, text string) func() bool {
	return func() bool {
		for _, m := range srv.Said(chat) {
			if strings.Contains(m.Text, text) {
				return true
			}
		}
		return false
	}
}

func TestServeLetsOnlyTheInvitedIn(t *testing.T) {
	srv := apitest.New(t)
	dir := t.TempDir()
	p := serving(t, srv, dir)
	p.out.see(t, "from your own chat: ")
	_, code, _ := strings.Cut(p.out.String(), "from your own chat: ")
	code = strings.TrimSpace(code)

	bob := srv.User(12, "Bob").Private()
	bob.Say("/start")
	srv.Wait("Bob to be turned away", saidTo(srv, bob.Chat(), "for invited crews"))
	ann := srv.User(11, "Ann").Private()
	ann.Say(code)
	srv.Wait("Ann to be let in", saidTo(srv, ann.Chat(), "owner"))
	srv.Wait("the first question", saidTo(srv, ann.Chat(), "Is anyone hurt"))
	// A code works once.
	bob.Say(code)
	srv.Wait("Bob to be turned away again", saidTo(srv, bob.Chat(), "used up"))
	finish(t, srv, p)

	p = serving(t, srv, dir)
	p.out.see(t, "Serving as @"+apitest.BotName)
	ann.Say("none")
	srv.Wait("the conversation to go on", saidTo(srv, ann.Chat(), "What does it weigh"))
	finish(t, srv, p)
	if strings.Contains(p.out.String(), "code") {
		t.Errorf("there is an owner, and a code is printed all the same: %s", p.out)
	}
	if all := p.err.String(); strings.Contains(all, code) {
		t.Errorf("the code is in the log:\n%s", all)
	}
	soundStore(t, dir)
}

// TestServeKilled kills the process again and again while several people
// talk to it: every answer counts once, in order, and each chat stands where
// its own words led.
func TestServeKilled(t *testing.T) {
	t.Parallel()
	srv := apitest.New(t)
	dir := t.TempDir()
	answers := []string{"/start", "none of these", "5200 lbs off the plate", "1 in 5 by eye"}
	asks := []string{"Is anyone hurt", "What does it weigh", "How steep is the ground", "What is it standing on"}
	var seats []*apitest.Seat
	for i := range 4 {
		seats = append(seats, srv.User(int64(21+i), "Ada").Private())
	}
	for i, answer := range answers {
		p := serving(t, srv, dir, "--anyone")
		for _, s := range seats {
			s.Say(answer)
		}
		// Not all may have been answered when the process dies.
		srv.Wait(asks[i], saidTo(srv, seats[i%len(seats)].Chat(), asks[i]))
		p.signal(syscall.SIGKILL)
		p.end()
	}
	// What it left in the data folder does not pass for a running process.
	if code, _, err := once(t, []string{"LINETENDER_DATA=" + dir}, "", "health"); code != exitFault || !strings.Contains(err, errNobody.Error()) {
		t.Errorf("health of a killed process: status %d, %q, want %d and %q", code, err, exitFault, errNobody)
	}
	p := serving(t, srv, dir, "--anyone")
	p.out.see(t, "Serving as @") // the questions may all be there from before
	for _, s := range seats {
		srv.Wait("the last question", saidTo(srv, s.Chat(), asks[len(asks)-1]))
	}
	finish(t, srv, p)
	soundStore(t, dir)

	code, list, errs := once(t, []string{"LINETENDER_DATA=" + dir}, "", "log", "list")
	if code != exitDone {
		t.Fatalf("log list: status %d, %s", code, errs)
	}
	jobs := codePattern.FindAllString(list, -1)
	if len(jobs) != len(seats) {
		t.Fatalf("there are %d jobs, want one for each of %d people:\n%s", len(jobs), len(seats), list)
	}
	for _, job := range jobs {
		_, shown, _ := once(t, []string{"LINETENDER_DATA=" + dir}, "", "log", "show", job, "--all")
		at := 0
		for _, answer := range answers {
			if n := strings.Count(shown, " heard    "+answer+"\n"); n != 1 {
				t.Errorf("job %s heard %q %d times, want once:\n%s", job, answer, n, shown)
			}
			if i := strings.Index(shown, answer); i < at {
				t.Errorf("job %s heard %q out of order:\n%s", job, answer, shown)
			} else {
				at = i
			}
		}
	}
}

// TestServeStopsWhileTheChannelIsAway: SIGTERM ends it well before it has ever
// reached the channel.
func TestServeStopsWhileTheChannelIsAway(t *testing.T) {
	srv := apitest.New(t)
	srv.Close()
	p := serving(t, srv, t.TempDir())
	p.err.see(t, "trying again")
	finish(t, srv, p)
}
