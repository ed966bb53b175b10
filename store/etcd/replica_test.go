package etcd

import (
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"math/rand/v2"
	"net"
	"net/http"
	"os"
	"time"

	"linetender/calc"
	"linetender/flow"
	"linetender/flow/telegram"
	"linetender/flow/wording"
)

// replicaTask is what a replica is told to be.
type replicaTask struct {
	Name, Address string
	Server, Token string // of the test channel
	Term          time.Duration
}

const hookSecret = "agreed-upon"

// The stores are what flow and its channel need of one.
var (
	_ flow.Log        = (*Replica)(nil)
	_ flow.Inbox      = (*Replica)(nil)
	_ telegram.Inbox  = (*Replica)(nil)
	_ telegram.Outbox = (*Replica)(nil)
)

// pool is a store as the desk and the sender see it: the whole of one, or a
// replica's part.
type pool interface {
	flow.Log
	flow.Inbox
	telegram.Outbox
	Cursor(source string) (cursor int64, at time.Time, err error)
	Waiting(visit func(flow.Arrival) bool) error
}

// A troupe is the program around a store: the channel's adapter, the desk with the real engine,
// and a sender without limits on how often it speaks.
type troupe struct {
	ch   *telegram.Channel
	desk *flow.Desk
	hook http.Handler
	end  func() error
}

func newTroupe(st pool, server, token string) (*troupe, error) {
	ch, err := telegram.New(telegram.Config{Token: token, Server: server, HTTP: &http.Client{Transport: &http.Transport{MaxIdleConnsPerHost: 64}},
		Inbox: st, Outbox: st, Limits: &telegram.Limits{}})
	if err != nil {
		return nil, err
	}
	engine := &flow.Engine{Reckon: calc.Reckon, Words: wording.English(), Random: rand.IntN, Anyone: true}
	t := &troupe{ch: ch, desk: &flow.Desk{Log: st, Inbox: st, Engine: engine, Decode: ch.Decode, Waiting: st.Waiting, Posted: ch.Sender().Posted}}
	ctx, cancel := context.WithCancel(context.Background())
	if err := ch.Start(ctx); err != nil {
		cancel()
		return nil, err
	}
	if err := ch.SetWebhook(ctx, "https://bot.example.org/hook", hookSecret); err != nil {
		cancel()
		return nil, err
	}
	if t.hook, err = ch.Webhook(hookSecret, t.desk.Arrived); err != nil {
		cancel()
		return nil, err
	}
	ended := make(chan error, 2)
	go func() { ended <- t.desk.Run(ctx) }()
	go func() { ended <- ch.Sender().Run(ctx) }()
	t.end = func() error {
		cancel()
		return errors.Join(<-ended, <-ended)
	}
	return t, nil
}

// playReplica is one replica of the program, until it is killed or its parent has gone.
func playReplica() {
	fail := func(err error) {
		fmt.Println("failed:", err)
		os.Exit(1)
	}
	var task replicaTask
	if err := json.Unmarshal([]byte(os.Getenv(taskEnv)), &task); err != nil {
		fail(err)
	}
	s, err := Open(task.Address, Options{Wait: 30 * time.Second})
	if err != nil {
		fail(err)
	}
	r, err := s.Join(task.Name, task.Term)
	if err != nil {
		fail(err)
	}
	t, err := newTroupe(r, task.Server, task.Token)
	if err != nil {
		fail(err)
	}
	r.Notify(t.desk.Wake, func() { t.ch.Sender().Posted("") })
	l, err := net.Listen("tcp", "127.0.0.1:0")
	if err != nil {
		fail(err)
	}
	server := &http.Server{Handler: t.hook, ErrorLog: silent}
	go server.Serve(l)
	fmt.Println("serving", l.Addr())
	_, _ = io.Copy(io.Discard, os.Stdin)
	if err := errors.Join(server.Close(), t.end()); err != nil {
		fail(err)
	}
	for _, f := range r.Figures() {
		fmt.Printf("figure %s %v\n", f.Name, f.Value)
	}
	if err := r.Close(); err != nil {
		fail(err)
	}
	os.Exit(0)
}
