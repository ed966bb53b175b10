package etcd

import (
	"context"
	"fmt"

	clientv3 "go.etcd.io/etcd/client/v3"

	"linetender/store"
)

// Secret returns the small blob kept under name, and keeps what make returns if
// there is none. Of several that make one at once, in this process or another, all get the one that
// was kept.
func (s *Store) Secret(name string, make func() ([]byte, error)) ([]byte, error) {
	if err := store.CheckName("secret", name); err != nil {
		return nil, err
	}
	key := s.key("k/", name)
	got, _, err := s.read(clientv3.OpGet(key))
	if err != nil {
		return nil, fmt.Errorf("read secret %q: %w", name, err)
	}
	if v, kv, err := s.value(got[0]); kv != nil || err != nil {
		return v, err
	}
	made, err := make()
	if err != nil {
		return nil, fmt.Errorf("make secret %q: %w", name, err)
	}
	// Kept by a try whose answer was lost, it is found like another's.
	out, err := s.apply(change{
		when: []clientv3.Cmp{absent(key)}, then: []clientv3.Op{s.put(key, made)}, look: []clientv3.Op{clientv3.OpGet(key)}, landed: harmless,
	})
	if err != nil {
		return nil, fmt.Errorf("keep secret %q: %w", name, err)
	}
	if out.done {
		return append([]byte{}, made...), nil
	}
	v, _, err := s.value(out.found[0])
	return v, err
}

// SetSecret keeps value under name in place of what was there.
func (s *Store) SetSecret(name string, value []byte) error {
	if err := store.CheckName("secret", name); err != nil {
		return err
	}
	// A try that was given up for lost must not land on what another wrote later.
	key := s.key("k/", name)
	for {
		got, _, err := s.read(clientv3.OpGet(key))
		if err != nil {
			return fmt.Errorf("keep secret %q: %w", name, err)
		}
		mod := int64(0)
		if len(got[0].Kvs) > 0 {
			mod = got[0].Kvs[0].ModRevision
		}
		out, err := s.apply(change{
			when: []clientv3.Cmp{unchanged(key, mod)}, then: []clientv3.Op{s.put(key, value)},
			landed: func(ctx context.Context) (int64, error) { return s.holds(ctx, key, value) },
		})
		if err != nil {
			return fmt.Errorf("keep secret %q: %w", name, err)
		}
		if out.done {
			return nil
		}
	}
}

// DeleteSecret removes what is kept under name, if anything is.
func (s *Store) DeleteSecret(name string) error {
	if err := store.CheckName("secret", name); err != nil {
		return err
	}
	_, err := s.apply(change{then: []clientv3.Op{clientv3.OpDelete(s.key("k/", name))}, landed: harmless})
	return err
}
