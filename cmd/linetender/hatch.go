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
// program, by the same user, asks the one that holds it: how it is doing, and
// what stands in the log. It listens on loopback only, at a port that the
// system picks, and answers only who can read the note that it leaves in the
// data folder. A note whose process has died leads to a refused connection or
// to a stranger who lacks the key, and both read as: nobody is there.

// hatchNote is the file in the data folder that says where the hatch is.
const hatchNote = "running.json"

// errNobody is returned when no running process keeps the data folder.
var errNobody = errors.New("no running linetender keeps this data folder")

type note struct {
	Address string `json:"address"`
	Key     string `json:"key"`
	Process int    `json:"process"`
}

type hatch struct {
	server *http.Server
	note   string
	done   chan error
}

// openHatch answers at a new address with routes and leaves the note in dir.
func openHatch(dir string, routes http.Handler) (*hatch, error) {
	l, err := net.Listen("tcp", "127.0.0.1:0")
	if err != nil {
		return nil, fmt.Errorf("open the hatch: %w", err)
	}
	n := note{Address: l.Addr().String(), Key: rand.Text(), Process: os.Getpid()}
	h := &hatch{note: filepath.Join(dir, hatchNote), done: make(chan error, 1)}
	h.server = &http.Server{
		ReadHeaderTimeout: 5 * time.Second,
		Handler: http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
			if subtle.ConstantTimeCompare([]byte(r.Header.Get("Authorization")), []byte("Bearer "+n.Key)) != 1 {
				http.Error(w, "the key is missing", http.StatusUnauthorized)
				return
			}
			w.Header().Set("Linetender-Process", fmt.Sprint(n.Process))
			routes.ServeHTTP(w, r)
		}),
	}
	if err := writeNote(h.note, n); err != nil {
		return nil, errors.Join(fmt.Errorf("open the hatch: %w", err), l.Close())
	}
	go func() { h.done <- h.server.Serve(l) }()
	return h, nil
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
// away.
func (h *hatch) close() error {
	ctx, cancel := context.WithTimeout(context.Background(), 2*time.Second)
	defer cancel()
	err := h.server.Shutdown(ctx)
	if served := <-h.done; !errors.Is(served, http.ErrServerClosed) {
		err = errors.Join(err, served)
	}
	return errors.Join(err, os.Remove(h.note))
}

// askHatch puts one question to the process that keeps dir and copies a good
// answer to out.
//
// Errors: errNobody; *hatchRefusal with what that process said.
func askHatch(ctx context.Context, dir, question string, out io.Writer) error {
	text, err := os.ReadFile(filepath.Join(dir, hatchNote))
	if errors.Is(err, fs.ErrNotExist) {
		return errNobody
	}
	if err != nil {
		return err
	}
	var n note
	if err := json.Unmarshal(text, &n); err != nil || n.Key == "" {
		return errNobody
	}
	r, err := http.NewRequestWithContext(ctx, http.MethodGet, "http://"+n.Address+question, nil)
	if err != nil {
		return errNobody
	}
	r.Header.Set("Authorization", "Bearer "+n.Key)
	client := &http.Client{
		// The address is this machine's; a proxy has no part in it.
		Transport: &http.Transport{Proxy: nil, DisableKeepAlives: true},
		Timeout:   hatchPatience,
	}
	answer, err := client.Do(r)
	if err != nil {
		if ctx.Err() != nil {
			return ctx.Err()
		}
		var slow net.Error
		if errors.As(err, &slow) && slow.Timeout() {
			return fmt.Errorf("process %d keeps this data folder and does not answer", n.Process)
		}
		return errNobody
	}
	defer answer.Body.Close()
	if answer.Header.Get("Linetender-Process") != fmt.Sprint(n.Process) {
		return errNobody
	}
	if answer.StatusCode != http.StatusOK {
		said, err := io.ReadAll(io.LimitReader(answer.Body, 4<<10))
		if err != nil {
			return err
		}
		return &hatchRefusal{status: answer.StatusCode, said: oneLine(string(said))}
	}
	_, err = io.Copy(out, answer.Body)
	return err
}

// hatchPatience is how long an answer may take, a long log included.
const hatchPatience = 30 * time.Second

// A hatchRefusal is what the running process said instead of an answer.
type hatchRefusal struct {
	status int
	said   string
}

func (e *hatchRefusal) Error() string { return e.said }
