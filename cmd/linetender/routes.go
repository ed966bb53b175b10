package main

import (
	"net/http"
	"time"
)

// hatchRoutes are what a process that holds the store answers; channel is nil
// where none is served; taken is called when something was taken out of a log.
func hatchRoutes(st Store, taken func(), dir string, channel func() (time.Time, error), joined *seats) http.Handler {
	mux := http.NewServeMux()
	mux.HandleFunc(healthQuestion, newCheckup(st, channel).answer)
	logRoutes(mux, eraser{st, taken}, dir)
	backupRoute(mux, st)
	checkRoute(mux, st)
	joined.routes(mux)
	return mux
}

func newCheckup(st Store, channel func() (time.Time, error)) checkup {
	return checkup{now: time.Now, write: probe(st), waiting: waiting(st), channel: channel}
}

// probe returns a function that makes one small durable change.
func probe(st Store) func() error {
	return func() error {
		return st.SetSecret("health", []byte(time.Now().UTC().Format(time.RFC3339)))
	}
}

func waiting(st Store) func() (time.Time, int, error) {
	return func() (time.Time, int, error) {
		n, err := st.Stats()
		return n.OldestWaiting, n.Unsent, err
	}
}
