package telegram

import (
	"context"
	"time"

	"github.com/cenkalti/backoff/v5"
)

// longestPause is the most that lies between two tries: someone may be standing at a rope.
const longestPause = 30 * time.Second

// newBackoff gives growing pauses with jitter, so that many clients do not come back all at once.
func newBackoff() *backoff.ExponentialBackOff {
	b := backoff.NewExponentialBackOff()
	b.InitialInterval = 500 * time.Millisecond
	b.MaxInterval = longestPause
	return b
}

// pauseAfter is the pause after that many tries have failed, with jitter, up to limit.
func pauseAfter(tries int, limit time.Duration) time.Duration {
	b := newBackoff()
	b.MaxInterval = limit
	b.InitialInterval = min(b.InitialInterval, limit)
	d := b.NextBackOff()
	for range min(tries, 20) {
		d = b.NextBackOff()
	}
	return d
}

// rest waits; false if ctx ended first.
func rest(ctx context.Context, d time.Duration) bool {
	t := time.NewTimer(d)
	defer t.Stop()
	select {
	case <-t.C:
		return true
	case <-ctx.Done():
		return false
	}
}
