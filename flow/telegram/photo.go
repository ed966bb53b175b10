package telegram

import (
	"bytes"
	"context"
	"crypto/sha256"
	"encoding/hex"
	"errors"
	"fmt"
	"io"
	"net/http"
	"os"
	"path"
	"path/filepath"
	"slices"
	"strings"
	"sync"
	"time"

	tg "github.com/go-telegram/bot"

	"linetender/flow"
)

// Where the operator wants it, the bytes of a picture are kept in a folder, under their SHA-256. They
// are fetched in the turn, before it begins, and for a few seconds only: the log then says in the
// same entry what the bytes are, and no file lies there that no entry knows. What does not come
// in that time is not lost: the channel hands it out for ever by the id that the entry has.

const (
	fetchTime    = 4 * time.Second // that a turn waits for a picture at most
	largestFetch = 20 << 20        // what the channel hands out. Source: the published Bot API, getFile
	mostFetched  = 1000            // digests that are remembered, for turns that begin again
)

// album is the folder for pictures.
type album struct {
	dir string

	mu   sync.Mutex
	sums map[string]string // by the channel's mark of equal bytes
}

// Complete is flow.Desk.Complete: it keeps the pictures that came with an input and notes their
// digests, where Config.Photos says so.
func (c *Channel) Complete(ctx context.Context, in flow.Input) flow.Input {
	if c.album.dir == "" || !slices.ContainsFunc(in.Files, isPicture) {
		return in
	}
	ctx, cancel := context.WithTimeout(ctx, fetchTime)
	defer cancel()
	in.Files = slices.Clone(in.Files)
	for i, f := range in.Files {
		if !isPicture(f) {
			continue
		}
		sum, err := c.keepPhoto(ctx, f)
		if err != nil {
			c.log.Warn("a picture is not kept; its id is", "chat", in.Chat, "update", in.Update, "why", err)
			continue
		}
		in.Files[i].Sum = sum
	}
	return in
}

func isPicture(f flow.File) bool {
	return f.Kind == flow.OtherPhoto || f.Kind == flow.OtherFile && strings.HasPrefix(f.Type, "image/")
}

func (c *Channel) keepPhoto(ctx context.Context, f flow.File) (sum string, err error) {
	if f.Size > largestFetch {
		return "", fmt.Errorf("it has %d bytes; the channel hands out %d at most", f.Size, largestFetch)
	}
	c.album.mu.Lock()
	sum = c.album.sums[f.Same]
	c.album.mu.Unlock()
	if sum != "" && f.Same != "" {
		return sum, nil
	}
	bits, err := c.fetch(ctx, f.ID)
	if err != nil {
		return "", err
	}
	if sum, err = c.album.keep(bits); err != nil {
		return "", err
	}
	c.album.mu.Lock()
	defer c.album.mu.Unlock()
	if c.album.sums == nil || len(c.album.sums) >= mostFetched {
		c.album.sums = map[string]string{}
	}
	c.album.sums[f.Same] = sum
	return sum, nil
}

// fetch returns the bytes of a file of the channel. The address has the token in it: no error of this
// function holds one.
func (c *Channel) fetch(ctx context.Context, id string) ([]byte, error) {
	file, err := c.api.GetFile(ctx, &tg.GetFileParams{FileID: id})
	if err != nil {
		return nil, judge(err)
	}
	if file.FileSize > largestFetch {
		return nil, fmt.Errorf("it has %d bytes; the channel hands out %d at most", file.FileSize, largestFetch)
	}
	// A server of one's own that runs in local mode gives a path on its disk, which is none of ours.
	if file.FilePath == "" || path.IsAbs(file.FilePath) || !filepath.IsLocal(file.FilePath) {
		return nil, errors.New("the channel gives no address for it")
	}
	req, err := http.NewRequestWithContext(ctx, http.MethodGet, c.server+"/file/bot"+c.token+"/"+file.FilePath, nil)
	if err != nil {
		return nil, errors.New("the channel gives no address for it")
	}
	resp, err := c.client.http.Do(req)
	if err != nil {
		return nil, transport(err)
	}
	defer resp.Body.Close()
	if resp.StatusCode != http.StatusOK {
		return nil, &badAnswer{resp.StatusCode}
	}
	bits, err := io.ReadAll(io.LimitReader(resp.Body, largestFetch+1))
	switch {
	case ctx.Err() != nil:
		return nil, transport(ctx.Err())
	case err != nil:
		return nil, transport(err)
	case len(bits) > largestFetch:
		return nil, fmt.Errorf("it has more than %d bytes", largestFetch)
	case len(bits) == 0:
		return nil, errors.New("it is empty")
	}
	return bits, nil
}

// endings are those of the kinds of picture that are known by their bytes; what was said of a file has
// no say in its name.
var endings = map[string]string{"image/jpeg": ".jpg", "image/png": ".png", "image/webp": ".webp", "image/gif": ".gif"}

// keep writes bytes under their digest, for the owner of the folder only, whole or not at all.
func (a *album) keep(bits []byte) (sum string, err error) {
	digest := sha256.Sum256(bits)
	sum = hex.EncodeToString(digest[:])
	ending, ok := endings[http.DetectContentType(bits)]
	if !ok {
		ending = ".bin"
	}
	if err := os.MkdirAll(a.dir, 0o700); err != nil {
		return "", fmt.Errorf("make the folder for pictures: %w", err)
	}
	name := filepath.Join(a.dir, sum+ending)
	if old, err := os.ReadFile(name); err == nil && bytes.Equal(old, bits) {
		return sum, nil
	}
	f, err := os.CreateTemp(a.dir, ".new-*") // made for its owner only
	if err != nil {
		return "", fmt.Errorf("keep a picture: %w", err)
	}
	_, err = f.Write(bits)
	err = errors.Join(err, f.Sync(), f.Close())
	if err == nil {
		err = os.Rename(f.Name(), name)
	}
	if err != nil {
		return "", fmt.Errorf("keep a picture: %w", errors.Join(err, os.Remove(f.Name())))
	}
	if d, err := os.Open(a.dir); err == nil { // where a folder can be synced, its new name outlives a loss of power
		_ = d.Sync()
		_ = d.Close()
	}
	return sum, nil
}

// tidy removes what a process that died in the middle of keeping a picture has left.
func (a *album) tidy() error {
	if a.dir == "" {
		return nil
	}
	left, err := filepath.Glob(filepath.Join(a.dir, ".new-*"))
	for _, name := range left {
		err = errors.Join(err, os.Remove(name))
	}
	return err
}
