package apitest

import (
	"bytes"
	"context"
	"io"
	"math/rand/v2"
	"net/http"
	"net/url"
	"slices"
	"strings"
	"sync"
)

// SecretHeader carries the webhook's secret.
const SecretHeader = "X-Telegram-Bot-Api-Secret-Token"

type hook struct {
	url    string
	secret string
	most   int64
}

var hookPorts = []string{"", "443", "80", "88", "8443"}

const secretRunes = "ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789_-"

func setWebhook(s *Server, p params, _ map[string]Upload) (any, error) {
	if p.text("url") == "" {
		return deleteWebhook(s, p, nil)
	}
	u, err := url.Parse(p.text("url"))
	if err != nil || u.Scheme != "https" || u.Host == "" {
		return nil, s.breach(p, "bad webhook: An HTTPS URL must be provided for webhook")
	}
	if !slices.Contains(hookPorts, u.Port()) {
		return nil, s.breach(p, "bad webhook: Webhook can be set up only on ports 80, 88, 443 or 8443")
	}
	if strings.Trim(p.text("secret_token"), secretRunes) != "" {
		return nil, s.breach(p, "secret token contains unallowed characters")
	}
	s.takeAllowed(p)
	if p.flag("drop_pending_updates") {
		s.intake.queue = nil
	}
	most := p.number("max_connections")
	if most == 0 {
		most = 40
	}
	s.intake.hook = hook{url: p.text("url"), secret: p.text("secret_token"), most: most}
	if s.intake.poll != nil {
		close(s.intake.poll)
		s.intake.poll = nil
	}
	return true, nil
}

func deleteWebhook(s *Server, p params, _ map[string]Upload) (any, error) {
	if p.flag("drop_pending_updates") {
		s.intake.queue = nil
	}
	s.intake.hook = hook{}
	return true, nil
}

func webhookInfo(s *Server, _ params, _ map[string]Upload) (any, error) {
	return map[string]any{
		"url": s.intake.hook.url, "has_custom_certificate": false,
		"pending_update_count": len(s.intake.queue), "max_connections": s.intake.hook.most,
	}, nil
}

// Delivery is how Deliver posts.
type Delivery struct {
	Copies   int    // how often each update is posted; 0 is once
	Parallel int    // posts at a time; 0 is as many as setWebhook allowed
	Shuffle  uint64 // a seed to post in another order; 0 keeps it
	Secret   string // in place of the secret that setWebhook gave
}

// Posted is the answer to one post.
type Posted struct {
	Update int64
	Status int
	Err    error
}

// Deliver posts every pending update to the webhook, which listens at target (behind what the
// bot named to setWebhook). As on the channel, an update is done with on any 2xx and otherwise
// stays pending, for the next Deliver.
func (s *Server) Deliver(ctx context.Context, target string, how Delivery) []Posted {
	s.mu.Lock()
	hook := s.intake.hook
	var posts []update
	for _, u := range s.intake.queue {
		for range max(1, how.Copies) {
			posts = append(posts, u)
		}
	}
	s.mu.Unlock()
	if how.Shuffle != 0 {
		order := rand.New(rand.NewPCG(how.Shuffle, 0))
		order.Shuffle(len(posts), func(i, j int) { posts[i], posts[j] = posts[j], posts[i] })
	}
	secret := hook.secret
	if how.Secret != "" {
		secret = how.Secret
	}
	parallel := how.Parallel
	if parallel == 0 {
		parallel = int(max(1, hook.most))
	}

	answers := make([]Posted, len(posts))
	slots := make(chan struct{}, parallel)
	var wg sync.WaitGroup
	for i, u := range posts {
		slots <- struct{}{}
		wg.Go(func() {
			defer func() { <-slots }()
			answers[i] = post(ctx, target, secret, u)
		})
	}
	wg.Wait()

	s.mu.Lock()
	defer s.mu.Unlock()
	for _, a := range answers {
		if a.Status/100 == 2 {
			s.intake.queue = slices.DeleteFunc(s.intake.queue, func(u update) bool { return u.id == a.Update })
		}
	}
	s.notify()
	return answers
}

func post(ctx context.Context, target, secret string, u update) Posted {
	req, err := http.NewRequestWithContext(ctx, http.MethodPost, target, bytes.NewReader(u.body))
	if err != nil {
		return Posted{Update: u.id, Err: err}
	}
	req.Header.Set("Content-Type", "application/json")
	if secret != "" {
		req.Header.Set(SecretHeader, secret)
	}
	resp, err := http.DefaultClient.Do(req)
	if err != nil {
		return Posted{Update: u.id, Err: err}
	}
	defer resp.Body.Close()
	io.Copy(io.Discard, resp.Body)
	return Posted{Update: u.id, Status: resp.StatusCode}
}
