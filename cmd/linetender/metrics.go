package main

import (
	"context"
	"errors"
	"fmt"
	"log/slog"
	"net"
	"net/http"
	"time"

	"github.com/prometheus/client_golang/prometheus"
	"github.com/prometheus/client_golang/prometheus/collectors"
	"github.com/prometheus/client_golang/prometheus/promhttp"

	"linetender/store"
)

// meters count what a serving process does. Names and labels hold nothing of
// a chat or a person.
type meters struct {
	registry *prometheus.Registry
	accepted prometheus.Counter
	turns    prometheus.Counter
	commit   prometheus.Histogram
	parcels  *prometheus.CounterVec
	buried   prometheus.Counter
}

func newMeters(st Store, more func() []figure) *meters {
	m := &meters{
		registry: prometheus.NewRegistry(),
		accepted: prometheus.NewCounter(prometheus.CounterOpts{Name: "linetender_updates_accepted_total", Help: "Updates that are durable, repeats counted."}),
		turns:    prometheus.NewCounter(prometheus.CounterOpts{Name: "linetender_turns_total", Help: "Turns that are durable."}),
		commit: prometheus.NewHistogram(prometheus.HistogramOpts{Name: "linetender_commit_seconds", Help: "How long one durable turn takes to write.",
			Buckets: prometheus.ExponentialBuckets(0.0005, 2, 12)}),
		parcels: prometheus.NewCounterVec(prometheus.CounterOpts{Name: "linetender_messages_total", Help: "What became of tries to say something: sent, delayed, dropped."}, []string{"outcome"}),
		buried:  prometheus.NewCounter(prometheus.CounterOpts{Name: "linetender_updates_buried_total", Help: "Updates that could not be worked on and are kept apart."}),
	}
	for _, outcome := range []string{"sent", "delayed", "dropped"} {
		m.parcels.WithLabelValues(outcome)
	}
	m.registry.MustRegister(m.accepted, m.turns, m.commit, m.parcels, m.buried, holdings{st, more},
		collectors.NewGoCollector(), collectors.NewProcessCollector(collectors.ProcessCollectorOpts{}))
	return m
}

// metered is the store of one channel with the meters on it.
type metered struct {
	share
	m *meters
}

func (c metered) Accept(source string, cursor int64, arrivals []store.Arrival) error {
	err := c.share.Accept(source, cursor, arrivals)
	if err == nil {
		c.m.accepted.Add(float64(len(arrivals)))
	}
	return err
}

func (c metered) Commit(t store.Turn) ([]uint64, error) {
	began := time.Now()
	n, err := c.share.Commit(t)
	if err == nil {
		c.m.turns.Inc()
		c.m.commit.Observe(time.Since(began).Seconds())
	}
	return n, err
}

func (c metered) Bury(key, why string) error {
	err := c.share.Bury(key, why)
	if err == nil {
		c.m.buried.Inc()
	}
	return err
}

func (c metered) outcome(name string, err error) error {
	if err == nil {
		c.m.parcels.WithLabelValues(name).Inc()
	}
	return err
}

func (c metered) Sent(id uint64, slot string, receipt []byte) error {
	return c.outcome("sent", c.share.Sent(id, slot, receipt))
}

func (c metered) Delay(id uint64, until time.Time, why string) error {
	return c.outcome("delayed", c.share.Delay(id, until, why))
}

func (c metered) Drop(id uint64, why string) error {
	return c.outcome("dropped", c.share.Drop(id, why))
}

// holdings tells what the store holds, counted when it is asked for.
type holdings struct {
	st   Store
	more func() []figure // of a store that has more to tell; may be nil
}

var (
	holdWaiting = prometheus.NewDesc("linetender_updates_waiting", "Updates that have not had their turn.", nil, nil)
	holdOldest  = prometheus.NewDesc("linetender_oldest_wait_seconds", "How long the oldest of them has waited.", nil, nil)
	holdUnsent  = prometheus.NewDesc("linetender_messages_unsent", "Messages to be sent, by urgency.", []string{"urgent"}, nil)
	holdDead    = prometheus.NewDesc("linetender_dead", "Updates and messages that were given up.", nil, nil)
	holdSize    = prometheus.NewDesc("linetender_store_bytes", "Size of the store's file.", nil, nil)
	holdFree    = prometheus.NewDesc("linetender_store_free_bytes", "What is free in it for use again.", nil, nil)
)

func (h holdings) Describe(out chan<- *prometheus.Desc) { prometheus.DescribeByCollect(h, out) }

func (h holdings) Collect(out chan<- prometheus.Metric) {
	n, err := h.st.Stats()
	if err != nil {
		out <- prometheus.NewInvalidMetric(holdSize, err)
		return
	}
	gauge := func(d *prometheus.Desc, v float64, labels ...string) {
		out <- prometheus.MustNewConstMetric(d, prometheus.GaugeValue, v, labels...)
	}
	waited := 0.0
	if !n.OldestWaiting.IsZero() {
		waited = max(0, time.Since(n.OldestWaiting).Seconds())
	}
	gauge(holdWaiting, float64(n.Waiting))
	gauge(holdOldest, waited)
	gauge(holdUnsent, float64(n.UnsentUrgent), "yes")
	gauge(holdUnsent, float64(n.Unsent-n.UnsentUrgent), "no")
	gauge(holdDead, float64(n.Dead))
	gauge(holdSize, float64(n.Size))
	gauge(holdFree, float64(n.Free))
	if h.more == nil {
		return
	}
	for _, f := range h.more() {
		kind := prometheus.GaugeValue
		if f.Rises {
			kind = prometheus.CounterValue
		}
		out <- prometheus.MustNewConstMetric(prometheus.NewDesc("linetender_"+f.Name, f.Help, nil, nil), kind, f.Value)
	}
}

// openMetrics answers /metrics and /health at address until close is called.
func openMetrics(address string, m *meters, health http.Handler, log *slog.Logger) (close func() error, err error) {
	l, err := net.Listen("tcp", address)
	if err != nil {
		return nil, fmt.Errorf("listen for --metrics: %w", err)
	}
	mux := http.NewServeMux()
	mux.Handle("GET /metrics", promhttp.HandlerFor(m.registry, promhttp.HandlerOpts{Registry: m.registry}))
	mux.Handle("GET /health", health)
	server := &http.Server{Handler: mux, ReadTimeout: hookTime, WriteTimeout: hookTime, ErrorLog: slog.NewLogLogger(log.Handler(), slog.LevelWarn)}
	served := make(chan error, 1)
	go func() { served <- server.Serve(l) }()
	log.Info("metrics and health", "at", l.Addr().String())
	return func() error {
		ctx, cancel := context.WithTimeout(context.Background(), 2*time.Second)
		defer cancel()
		err := server.Shutdown(ctx)
		if stop := <-served; !errors.Is(stop, http.ErrServerClosed) {
			err = errors.Join(err, stop)
		}
		return err
	}, nil
}
