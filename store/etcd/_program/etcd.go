package main

import (
	"fmt"

	"linetender/store"
	"linetender/store/etcd"
)

// This file is laid over the program's own by program.json, in the build that can use etcd. It is
// not among them, because the plain build, its go.mod and its checks are to know nothing of etcd.

func init() { openers["etcd"] = openEtcd }

// replicated is the whole of a store; closing it hands over what this process works on.
type replicated struct {
	*etcd.Store
	part *etcd.Replica
}

func (r replicated) Close() error { return r.part.Close() }

func openEtcd(address, process string) (*keeper, error) {
	s, err := etcd.Open(address, etcd.Options{})
	if err != nil {
		return nil, err
	}
	k := &keeper{Store: s, own: s, takeOver: func(from *store.Store, ahead bool) (string, error) { return takeOver(s, from, ahead) }}
	if process == "" {
		return k, nil
	}
	part, err := s.Join(process, 0)
	if err != nil {
		_ = s.Close() // the first error is the one that counts
		return nil, err
	}
	k.Store, k.own, k.lead, k.figures = replicated{s, part}, part, part.Lead, part.Figures
	k.events = func(arrived, posted, taken func()) {
		part.Notify(arrived, posted)
		part.OnTake(taken)
	}
	return k, nil
}

func takeOver(s *etcd.Store, from *store.Store, ahead bool) (string, error) {
	bring := s.Move
	if ahead {
		bring = s.Ahead
	}
	m, err := bring(from)
	if err != nil {
		return "", err
	}
	return fmt.Sprintf("%d logs are there, the same byte for byte; %d entries came over now, %d logs were written anew, %d taken out, and %d things besides", m.Streams, m.Entries, m.Anew, m.Gone, m.Rest), nil
}
