package telegram

import (
	"slices"
	"testing"
	"testing/synctest"

	"linetender/flow"
)

// TestAlarmReachesEveryChat: a stop that can't be kept is passed on once to
// each chat of its job that the channel has.
func TestAlarmReachesEveryChat(t *testing.T) {
	sending(t, func(t *testing.T, g *ground) {
		for id := range int64(3) {
			g.srv.User(100+id, "Ann").Private().Say("hi")
		}
		a := flow.Arrival{Key: "telegram/1", Chat: ChatKey(100, 0)}
		g.ch.Cry(t.Context(), a)
		g.ch.Cry(t.Context(), a)
		g.ch.Cry(t.Context(), flow.Arrival{Key: "telegram/2", Chat: ChatKey(100, 0), Body: []byte("not a stop")})
		synctest.Wait()
		for id := range int64(3) {
			want := []string{"STOP."}
			if id == 2 {
				want = nil // not in the job
			}
			if got := texts(g.srv.Said(100 + id)); !slices.Equal(got, want) {
				t.Errorf("chat %d is told %q, want %q", id, got, want)
			}
		}
	}, func(c *Config) {
		c.Alarm = func(a flow.Arrival) string {
			if len(a.Body) > 0 {
				return ""
			}
			return "STOP."
		}
		c.Reach = func(flow.Arrival) []string { return []string{ChatKey(100, 0), ChatKey(101, 0), "terminal/local"} }
	})
}
