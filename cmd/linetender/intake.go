package main

import (
	"context"
	"crypto/rand"
	"errors"
	"fmt"
	"log/slog"
	"net"
	"net/http"
	"time"
)

// run starts intake, desk and sender, and stops them in that order.
func (v *service) run(ctx context.Context) error {
	ctx, fail := context.WithCancel(ctx)
	defer fail()
	if err := v.ch.Start(ctx); err != nil {
		return orderly(ctx, err)
	}
	if err := v.greet(); err != nil {
		return err
	}
	sent, taken := make(chan error, 1), make(chan error, 1)
	go func() {
		err := v.ch.Sender().Run(ctx)
		fail() // at an orderly end it has been called already
		sent <- err
	}()
	go func() {
		err := v.take(ctx)
		fail()
		taken <- err
	}()
	err := v.desk.Run(ctx)
	if err = errors.Join(<-taken, err, <-sent); err != nil {
		return err
	}
	drain, cancel := context.WithTimeout(context.WithoutCancel(ctx), drainTime)
	defer cancel()
	return v.ch.Sender().Drain(drain)
}

// orderly makes a stop that was asked for no error.
func orderly(ctx context.Context, err error) error {
	if ctx.Err() != nil && errors.Is(err, context.Canceled) {
		return nil
	}
	return err
}

// take brings in what people send until ctx ends.
func (v *service) take(ctx context.Context) error {
	if v.webhook == "" {
		return v.store.leading(ctx, "poll", func(ctx context.Context) error { return v.ch.Poll(ctx, v.desk.Arrived) })
	}
	secret, err := v.store.Secret(hookSecret, func() ([]byte, error) { return []byte(rand.Text()), nil })
	if err != nil {
		return err
	}
	hook, err := v.ch.Webhook(string(secret), v.desk.Arrived)
	if err != nil {
		return err
	}
	l, err := net.Listen("tcp", v.listen)
	if err != nil {
		return fmt.Errorf("listen for what the channel posts: %w", err)
	}
	server := &http.Server{
		Handler: hook, ReadTimeout: hookTime, WriteTimeout: hookTime,
		ErrorLog: slog.NewLogLogger(v.log.Handler(), slog.LevelWarn),
	}
	served := make(chan error, 1)
	go func() { served <- server.Serve(l) }()
	at := l.Addr().String()
	v.hook.Store(&at)
	v.log.Info("taking what the channel posts", "at", at)

	// The server goes first, so that nothing is posted to a closed door.
	err = orderly(ctx, v.ch.SetWebhook(ctx, v.webhook, string(secret)))
	if err == nil {
		select {
		case <-ctx.Done():
		case err := <-served:
			return fmt.Errorf("take what the channel posts: %w", err)
		}
	}
	end, cancel := context.WithTimeout(context.WithoutCancel(ctx), drainTime)
	defer cancel()
	err = errors.Join(err, server.Shutdown(end))
	if stop := <-served; !errors.Is(stop, http.ErrServerClosed) {
		err = errors.Join(err, stop)
	}
	return err
}

// heard returns when the channel was last heard. A channel that posts may
// have nothing to post; what can be asked then is whether our own door
// answers, and a stranger's knock is answered with a refusal.
func (v *service) heard() (time.Time, error) {
	if v.webhook == "" {
		return v.ears.last(), nil
	}
	at := v.hook.Load()
	if at == nil {
		return v.ears.last(), nil // not begun yet; silence grows meanwhile
	}
	client := &http.Client{Transport: &http.Transport{DisableKeepAlives: true}, Timeout: 5 * time.Second}
	answer, err := client.Get("http://" + *at)
	if err != nil {
		return time.Time{}, fmt.Errorf("nothing answers at %s, where the channel posts", *at)
	}
	answer.Body.Close()
	if answer.StatusCode != http.StatusMethodNotAllowed {
		return time.Time{}, fmt.Errorf("something else answers at %s, where the channel posts", *at)
	}
	return time.Now(), nil
}
