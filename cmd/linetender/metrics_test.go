package main

import (
	"io"
	"net/http"
	"strings"
	"testing"

	"linetender/flow/telegram/apitest"
)

// TestMetrics: off unless asked for; then they count what was done, hold
// nothing of anybody, and the log is JSON when that was asked for.
func TestMetrics(t *testing.T) {
	srv := apitest.New(t)
	env := []string{"LINETENDER_TOKEN=" + srv.Token(), "LINETENDER_DATA=" + t.TempDir(), "LINETENDER_API_URL=" + srv.URL(),
		"LINETENDER_ANYONE=true", "LINETENDER_METRICS=127.0.0.1:0", "LINETENDER_LOG=json"}
	p := start(t, env, "serve")
	p.out.see(t, "Serving as @")
	p.err.see(t, `"msg":"metrics and health","at":"`)
	_, rest, _ := strings.Cut(p.err.String(), `"msg":"metrics and health","at":"`)
	at, _, _ := strings.Cut(rest, `"`)
	ann := srv.User(987654321, "Wilhelmina").Private()
	ann.Say("/start")
	srv.Wait("the first question", saidTo(srv, ann.Chat(), "Is anyone hurt"))
	get := func(path string) (int, string) {
		t.Helper()
		answer, err := http.Get("http://" + at + path)
		if err != nil {
			t.Fatal(err)
		}
		defer answer.Body.Close()
		body, err := io.ReadAll(answer.Body)
		if err != nil {
			t.Fatal(err)
		}
		return answer.StatusCode, string(body)
	}
	code, body := get("/metrics")
	for _, want := range []string{"linetender_updates_accepted_total 1\n", "linetender_turns_total 1\n", "linetender_commit_seconds_count 1\n",
		`linetender_messages_total{outcome="dropped"} 0`, "linetender_store_bytes ", "go_goroutines "} {
		if code != http.StatusOK || !strings.Contains(body, want) {
			t.Errorf("status %d, want %q in\n%s", code, want, body)
		}
	}
	_, secret, _ := strings.Cut(srv.Token(), ":")
	for _, never := range []string{"987654321", "Wilhelmina", secret} {
		if strings.Contains(body, never) {
			t.Errorf("the metrics hold %q", never)
		}
	}
	if code, body := get("/health"); code != http.StatusOK || !strings.Contains(body, `"store"`) {
		t.Errorf("health: status %d, %q", code, body)
	}
	finish(t, srv, p)
	for _, call := range [][]string{{"serve", "--metrics", "nowhere"}, {"serve", "--log", "loud"}} {
		if code, _, errs := once(t, env[:2], "", call...); code != exitWrong || !strings.Contains(errs, "; write ") {
			t.Errorf("%q: status %d, %q", call, code, errs)
		}
	}
}
