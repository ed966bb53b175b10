package main

import "linetender/store/etcd"

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
	part, err := s.Join(process, 0)
	if err != nil {
		_ = s.Close() // the first error is the one that counts
		return nil, err
	}
	return &keeper{
		Store: replicated{s, part}, own: part, lead: part.Lead, figures: part.Figures,
		events: func(arrived, posted, taken func()) {
			part.Notify(arrived, posted)
			part.OnTake(taken)
		},
	}, nil
}
