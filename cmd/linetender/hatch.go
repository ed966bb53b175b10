package main

import (
	"context"
	"crypto/rand"
	"crypto/subtle"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"net"
	"net/http"
	"os"
	"path/filepath"
	"time"
)

// One process at a time holds the store. A hatch is how a second call of the
// program, by the same user, speaks with the one that holds it: how it is
// doing, what stands in the log, and a conversation of its own (join). It
// listens on a local socket in a folder that only its user can enter, and
// answers only who can read the note that it leaves in the data folder. A note
// whose process has died leads to a refused connection or to a stranger who
// lacks the key, and both read as: nobody is there.

// hatchNote is the file in the data folder that says where the hatch is.
const hatchNote = "running.json"

// errNobody is returned when no running process keeps the data folder.
var errNobody = errors.New("no running linetender keeps this data folder")

// A note says where the hatch is. The key is asked for though nobody else can
// reach the socket: folders get copied, and permissions with them.
type note struct {
	Socket  string `json:"socket"`
	Key     string `json:"key"`
	Process int    `json:"process"`
}

type hatch struct {
	server *http.Server
	note   string
	socket string
	done   chan error
}

// openHatch answers at a new socket with routes and leaves the note in dir.
// Only who holds the store in dir may call it: what another process has left
// there is cleared away.
func openHatch(dir string, routes http.Handler) (*hatch, error) {
	if old, err := readNote(dir); err == nil {
		clearSocket(dir, old.Socket)
	}
	l, err := listenPrivately(dir)
	if err != nil {
		return nil, fmt.Errorf("open the hatch: %w", err)
	}
	n := note{Socket: l.Addr().String(), Key: rand.Text(), Process: os.Getpid()}
	h := &hatch{note: filepath.Join(dir, hatchNote), socket: n.Socket, done: make(chan error, 1)}
	ctx, cancel := context.WithCancel(context.Background())
	h.server = &http.Server{
		ReadHeaderTimeout: 5 * time.Second,
		BaseContext:       func(net.Listener) context.Context { return ctx },
		Handler: http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
			if subtle.ConstantTimeCompare([]byte(r.Header.Get("Authorization")), []byte("Bearer "+n.Key)) != 1 {
				http.Error(w, "the key is missing", http.StatusUnauthorized)
				return
			}
			w.Header().Set("Linetender-Process", fmt.Sprint(n.Process))
			routes.ServeHTTP(w, r)
		}),
	}
	// What waits at the hatch for something to happen is let go first.
	h.server.RegisterOnShutdown(cancel)
	if err := writeNote(h.note, n); err != nil {
		cancel()
		return nil, errors.Join(fmt.Errorf("open the hatch: %w", err), l.Close(), dropFolder(h.socket))
	}
	go func() { h.done <- h.server.Serve(l) }()
	return h, nil
}

func readNote(dir string) (n note, err error) {
	text, err := os.ReadFile(filepath.Join(dir, hatchNote))
	if err != nil {
		return note{}, err
	}
	err = json.Unmarshal(text, &n)
	return n, err
}

// writeNote gives the note its name only once it is whole.
func writeNote(path string, n note) error {
	text, err := json.Marshal(n)
	if err != nil {
		return err
	}
	f, err := os.CreateTemp(filepath.Dir(path), hatchNote+".*") // made for its owner only
	if err != nil {
		return err
	}
	_, err = f.Write(text)
	if err = errors.Join(err, f.Close()); err == nil {
		err = os.Rename(f.Name(), path)
	}
	if err != nil {
		return errors.Join(err, os.Remove(f.Name()))
	}
	return nil
}

// close lets questions under way be answered for a moment and takes the note
// and the socket away.
func (h *hatch) close() error {
	ctx, cancel := context.WithTimeout(context.Background(), 2*time.Second)
	defer cancel()
	err := h.server.Shutdown(ctx)
	if served := <-h.done; !errors.Is(served, http.ErrServerClosed) {
		err = errors.Join(err, served)
	}
	return errors.Join(err, os.Remove(h.note), dropFolder(h.socket))
}

// A knock is how a call of the program reaches the hatch.
type knock struct {
	note
	client *http.Client
}

// atHatch finds the way to the process that keeps dir. Whether somebody is
// there shows when something is asked.
//
// Errors: errNobody.
func atHatch(dir string) (*knock, error) {
	n, err := readNote(dir)
	if err != nil && !errors.Is(err, fs.ErrNotExist) {
		var path *fs.PathError
		if errors.As(err, &path) {
			return nil, err
		}
	}
	// The key is shown only to a socket that nobody else can have put there.
	if err != nil || n.Key == "" || !private(filepath.Dir(n.Socket)) {
		return nil, errNobody
	}
	return &knock{note: n, client: &http.Client{Transport: &http.Transport{
		DisableKeepAlives: true,
		DialContext: func(ctx context.Context, _, _ string) (net.Conn, error) {
			return new(net.Dialer).DialContext(ctx, "unix", n.Socket)
		},
	}}}, nil
}

// ask puts a question and returns the answer, whose body is the caller's to
// close. Something to hand in makes it a post.
//
// Errors: errNobody; *hatchRefusal with what that process said.
func (k *knock) ask(ctx context.Context, question string, in io.Reader) (*http.Response, error) {
	method := http.MethodGet
	if in != nil {
		method, in = http.MethodPost, io.NopCloser(in) // the caller's to close
	}
	r, err := http.NewRequestWithContext(ctx, method, "http://hatch"+question, in)
	if err != nil {
		return nil, errNobody
	}
	r.Header.Set("Authorization", "Bearer "+k.Key)
	answer, err := k.client.Do(r)
	if err != nil {
		if ctx.Err() != nil {
			return nil, ctx.Err()
		}
		return nil, errNobody
	}
	if answer.Header.Get("Linetender-Process") != fmt.Sprint(k.Process) {
		answer.Body.Close()
		return nil, errNobody
	}
	if answer.StatusCode >= http.StatusBadRequest {
		defer answer.Body.Close()
		said, err := io.ReadAll(io.LimitReader(answer.Body, 4<<10))
		if err != nil {
			return nil, err
		}
		return nil, &hatchRefusal{status: answer.StatusCode, said: oneLine(string(said))}
	}
	return answer, nil
}

// askHatch puts one question to the process that keeps dir and copies a good
// answer to out.
//
// Errors: errNobody; *hatchRefusal with what that process said.
func askHatch(ctx context.Context, dir, question string, out io.Writer) error {
	_, err := putHatch(ctx, dir, question, nil, hatchPatience, out)
	return err
}

// hatchFound is the trailer in which an answer that has begun says how it ended.
const hatchFound = "Linetender-Found"

// putHatch is askHatch with something to hand in, nil for nothing, and with so
// much patience, 0 for any. found is what the answer came to, where it said so.
func putHatch(ctx context.Context, dir, question string, in io.Reader, patience time.Duration, out io.Writer) (found string, err error) {
	k, err := atHatch(dir)
	if err != nil {
		return "", err
	}
	limited, cancel := ctx, context.CancelFunc(func() {})
	if patience > 0 {
		limited, cancel = context.WithTimeout(ctx, patience)
	}
	defer cancel()
	answer, err := k.ask(limited, question, in)
	if err == nil {
		_, err = io.Copy(out, answer.Body)
		err = errors.Join(err, answer.Body.Close())
	}
	switch {
	case err == nil:
		return answer.Trailer.Get(hatchFound), nil
	case ctx.Err() == nil && limited.Err() != nil:
		return "", fmt.Errorf("process %d keeps this data folder and does not answer", k.Process)
	}
	return "", err
}

// hatchPatience is how long an answer may take, a long log included.
const hatchPatience = 30 * time.Second

// A hatchRefusal is what the running process said instead of an answer.
type hatchRefusal struct {
	status int
	said   string
}

func (e *hatchRefusal) Error() string { return e.said }
