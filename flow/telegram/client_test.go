package telegram

import (
	"errors"
	"io"
	"net/http"
	"strings"
	"testing"
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
