package telegram

import (
	"bytes"
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"net/http"
	"net/url"
	"strings"
	"time"
)

// callTime is how long one call may take; files get their own.
const callTime = 30 * time.Second

// largestAnswer bounds what is read of an answer: a hundred updates are well below it.
const largestAnswer = 32 << 20

// client is the HTTP client under the bot library and under our own calls: it follows no redirect (the
// address holds the token), bounds what it reads, and tells a proxy's page from an answer of the API.
type client struct{ http *http.Client }

func newClient(h *http.Client) client {
	if h == nil {
		h = &http.Client{Transport: transportForMany()}
	}
	own := *h
	own.Timeout = 0 // every call has its own, and an upload takes longer than a poll may
	own.CheckRedirect = func(*http.Request, []*http.Request) error { return http.ErrUseLastResponse }
	return client{&own}
}

func transportForMany() http.RoundTripper {
	t, ok := http.DefaultTransport.(*http.Transport)
	if !ok {
		return http.DefaultTransport
	}
	t = t.Clone()
	t.MaxIdleConnsPerHost = inFlight // else most connections are closed and opened for every call
	return t
}

// Do is http.Client.Do for a call of the Bot API.
func (c client) Do(req *http.Request) (*http.Response, error) {
	if err := whole(req); err != nil {
		return nil, err
	}
	resp, err := c.http.Do(req)
	if err != nil {
		return nil, err
	}
	kind := resp.Header.Get("Content-Type")
	if resp.StatusCode >= 500 || resp.StatusCode == http.StatusRequestEntityTooLarge || !strings.HasPrefix(kind, "application/json") {
		resp.Body.Close()
		return nil, &badAnswer{resp.StatusCode}
	}
	resp.Body = struct {
		io.Reader
		io.Closer
	}{io.LimitReader(resp.Body, largestAnswer), resp.Body}
	return resp, nil
}

// whole reads the body of a call to its end before it is sent. The bot library writes its forms through a
// pipe: sent as they come, every field goes out by itself, in pieces of it, and a connection that was closed
// while it rested fails the call, because a pipe can't be read again.
func whole(req *http.Request) error {
	if req.Body == nil || req.GetBody != nil {
		return nil
	}
	body, err := io.ReadAll(req.Body)
	if err = errors.Join(err, req.Body.Close()); err != nil {
		return fmt.Errorf("write a call: %w", err)
	}
	req.ContentLength = int64(len(body))
	req.GetBody = func() (io.ReadCloser, error) { return io.NopCloser(bytes.NewReader(body)), nil }
	if len(body) == 0 {
		req.GetBody = func() (io.ReadCloser, error) { return http.NoBody, nil }
	}
	req.Body, err = req.GetBody()
	return err
}

// answer is the frame of every answer of the API.
type answer struct {
	OK          bool   `json:"ok"`
	Result      any    `json:"result"` // points to what it is read into
	Code        int    `json:"error_code"`
	Description string `json:"description"`
	Parameters  struct {
		RetryAfter int   `json:"retry_after"`
		MovedTo    int64 `json:"migrate_to_chat_id"`
	} `json:"parameters"`
}

// say calls a method that sends words, or changes those of a message, and returns the message's id.
func (c *Channel) say(ctx context.Context, method string, params any) (id int, err error) {
	var sent struct {
		ID int `json:"message_id"`
	}
	if t := c.call(ctx, method, params, &sent); t != nil {
		return 0, t
	}
	return sent.ID, nil
}

// call makes a call that the bot library does not offer, or is made so often that its way is too long: it
// writes a form of many parts through a pipe, where the channel takes JSON of all that holds no file.
func (c *Channel) call(ctx context.Context, method string, params, result any) *trouble {
	body, err := json.Marshal(params)
	if err != nil {
		return &trouble{kind: refused, why: "parameters can't be written down"}
	}
	req, err := http.NewRequestWithContext(ctx, http.MethodPost, c.server+"/bot"+c.token+"/"+method, bytes.NewReader(body))
	if err != nil {
		return &trouble{kind: refused, why: "the channel's address is no address"}
	}
	req.Header.Set("Content-Type", "application/json")
	resp, err := c.client.Do(req)
	if err != nil {
		return transport(err)
	}
	defer resp.Body.Close()
	body, err = io.ReadAll(resp.Body) // to its end, or the connection can't be used again
	if err != nil {
		return transport(err)
	}
	a := answer{Result: result}
	if err := json.Unmarshal(body, &a); err != nil {
		return &trouble{kind: away, why: "the answer can't be read: " + jsonTrouble(err)}
	}
	return a.trouble()
}

// trouble is what the channel refuses; nil for nothing.
func (a answer) trouble() *trouble {
	switch {
	case a.OK:
		return nil
	case a.Code == http.StatusTooManyRequests:
		return tooMany(a.Parameters.RetryAfter)
	case a.Code == http.StatusBadRequest && a.Parameters.MovedTo != 0:
		return movedTo(a.Parameters.MovedTo)
	}
	t := &trouble{kind: away, why: a.Description}
	switch a.Code {
	case http.StatusForbidden:
		t.kind = gone
	case http.StatusBadRequest, http.StatusNotFound:
		t.kind = refused
	case http.StatusUnauthorized:
		t.kind = badToken
	case http.StatusConflict:
		t.kind = conflict
	}
	return t
}

// checkServer returns the address of a Bot API server without a slash at its end.
func checkServer(address string) (string, error) {
	u, err := url.Parse(address)
	if err != nil || u.Scheme != "https" && u.Scheme != "http" || u.Host == "" || u.RawQuery != "" || u.Fragment != "" || u.User != nil {
		return "", fmt.Errorf("the address of the Bot API server must look like https://host or http://host:port")
	}
	return strings.TrimRight(address, "/"), nil
}

// checkToken reports a token that cannot be one, without showing it.
func checkToken(token string) error {
	id, secret, ok := strings.Cut(token, ":")
	if !ok || id == "" || strings.Trim(id, "0123456789") != "" || secret == "" || strings.Trim(secret, tokenRunes) != "" {
		return fmt.Errorf("the token must look like 123456:ABC-def, as @BotFather gives it")
	}
	return nil
}

const tokenRunes = "ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789_-"
