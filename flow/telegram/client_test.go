package telegram

import (
	"encoding/json"
	"errors"
	"io"
	"net/http"
	"strings"
	"testing"

	tg "github.com/go-telegram/bot"
)

// trip is a way to the channel.
type trip func(*http.Request) (*http.Response, error)

func (f trip) RoundTrip(r *http.Request) (*http.Response, error) { return f(r) }

// TestACallGoesOutWhole: what the bot library writes piece by piece has its
// length when it is sent, and can be sent again where a connection was found
// closed.
func TestACallGoesOutWhole(t *testing.T) {
	var said []string
	c := newClient(&http.Client{Transport: trip(func(r *http.Request) (*http.Response, error) {
		for _, again := range []bool{false, true} {
			body := r.Body
			if again {
				var err error
				if body, err = r.GetBody(); err != nil {
					t.Fatal(err)
				}
			}
			b, err := io.ReadAll(body)
			if err != nil || int64(len(b)) != r.ContentLength {
				t.Errorf("%d bytes of %d, %v", len(b), r.ContentLength, err)
			}
			said = append(said, string(b))
		}
		return &http.Response{StatusCode: http.StatusOK, Header: http.Header{"Content-Type": {"application/json"}}, Body: http.NoBody}, nil
	})})
	for _, parts := range [][]string{{"one", "two", "three"}, {}} {
		said = nil
		r, w := io.Pipe()
		go func() {
			for _, p := range parts {
				_, _ = io.WriteString(w, p) // its end of the pipe is looked at above
			}
			_ = w.Close()
		}()
		req, err := http.NewRequestWithContext(t.Context(), http.MethodPost, "http://channel.test/", r)
		if err != nil {
			t.Fatal(err)
		}
		if _, err := c.Do(req); err != nil {
			t.Fatal(err)
		}
		if want := strings.Join(parts, ""); len(said) != 2 || said[0] != want || said[1] != want {
			t.Errorf("said %q, want %q twice", said, want)
		}
	}
}

// TestACallThatCantBeWritten: what the bot library can't write is not sent.
func TestACallThatCantBeWritten(t *testing.T) {
	c := newClient(&http.Client{Transport: trip(func(*http.Request) (*http.Response, error) {
		t.Error("it was sent")
		return nil, errors.New("sent")
	})})
	broken := errors.New("a form that can't be written")
	r, w := io.Pipe()
	go func() { _ = w.CloseWithError(broken) }()
	req, err := http.NewRequestWithContext(t.Context(), http.MethodPost, "http://channel.test/", r)
	if err != nil {
		t.Fatal(err)
	}
	if _, err := c.Do(req); !errors.Is(err, broken) {
		t.Errorf("got %v, want %v", err, broken)
	}
}

// TestWordsGoAsTheLibrarysWould: words that are sent without the bot library say the
// same, and what the channel answers is read as the library reads it.
func TestWordsGoAsTheLibrarysWould(t *testing.T) {
	for _, answered := range []string{
		`{"ok":true,"result":{"message_id":7,"date":1,"chat":{"id":-5,"type":"group"}}}`,
		`{"ok":true,"result":true}`, `{"ok":true,"result":{"message_id":"7"}}`, `{"ok":`, `[]`, ``,
		`{"ok":false,"error_code":400,"description":"Bad Request: message text is empty"}`,
		`{"ok":false,"error_code":400,"description":"Bad Request: group chat was upgraded","parameters":{"migrate_to_chat_id":-1005}}`,
		`{"ok":false,"error_code":401,"description":"Unauthorized"}`,
		`{"ok":false,"error_code":403,"description":"Forbidden: bot was blocked by the user"}`,
		`{"ok":false,"error_code":404,"description":"Not Found"}`,
		`{"ok":false,"error_code":409,"description":"Conflict"}`,
		`{"ok":false,"error_code":418,"description":"I'm a teapot"}`,
		`{"ok":false,"error_code":429,"description":"Too Many Requests","parameters":{"retry_after":9}}`,
	} {
		var body, kind string
		c, err := New(Config{Token: "1:a", HTTP: &http.Client{Transport: trip(func(r *http.Request) (*http.Response, error) {
			b, err := io.ReadAll(r.Body)
			body, kind = string(b), r.Header.Get("Content-Type")
			head := http.Header{"Content-Type": {"application/json"}}
			return &http.Response{StatusCode: http.StatusOK, Header: head, Body: io.NopCloser(strings.NewReader(answered))}, err
		})}})
		if err != nil {
			t.Fatal(err)
		}
		p := &tg.SendMessageParams{ChatID: int64(-5), Text: "hold <it>", LinkPreviewOptions: noPreview()}
		sent, err := c.api.SendMessage(t.Context(), p)
		want := judge(err)
		id, err := c.say(t.Context(), "sendMessage", p)
		got := judge(err)
		switch {
		case (got == nil) != (want == nil), got == nil && id != sent.ID:
			t.Errorf("%s: message %d, %v; the library has %d, %v", answered, id, got, sent.ID, want)
		case got != nil && (got.kind != want.kind || got.after != want.after || got.to != want.to):
			t.Errorf("%s: %+v; the library has %+v", answered, got, want)
		}
		var said struct {
			Chat    int64  `json:"chat_id"`
			Text    string `json:"text"`
			Preview struct {
				Off bool `json:"is_disabled"`
			} `json:"link_preview_options"`
		}
		if err := json.Unmarshal([]byte(body), &said); err != nil || said.Chat != -5 || said.Text != p.Text || !said.Preview.Off || kind != "application/json" {
			t.Fatalf("said %s as %s, %v", body, kind, err)
		}
	}
}
