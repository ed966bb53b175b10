package flow

import (
	"container/list"
	"sync"
)

// latest keeps what was asked for last, by key. The zero value is ready.
type latest[K comparable, V any] struct {
	mu    sync.Mutex
	at    map[K]*list.Element // of entryOf[K, V]
	order list.List           // asked for last in front
}

type entryOf[K comparable, V any] struct {
	key   K
	value V
}

// get returns what is kept for a key.
func (l *latest[K, V]) get(key K) (v V, ok bool) {
	l.mu.Lock()
	defer l.mu.Unlock()
	e, ok := l.at[key]
	if !ok {
		return v, false
	}
	l.order.MoveToFront(e)
	return e.Value.(entryOf[K, V]).value, true
}

// take returns what is kept for a key and keeps it no more.
func (l *latest[K, V]) take(key K) (v V, ok bool) {
	l.mu.Lock()
	defer l.mu.Unlock()
	e, ok := l.at[key]
	if !ok {
		return v, false
	}
	delete(l.at, key)
	return l.order.Remove(e).(entryOf[K, V]).value, true
}

// put keeps a value for a key in place of what is there, and of all at most so
// many.
func (l *latest[K, V]) put(key K, v V, most int) {
	l.mu.Lock()
	defer l.mu.Unlock()
	if l.at == nil {
		l.at = map[K]*list.Element{}
	}
	if e, ok := l.at[key]; ok {
		l.order.Remove(e)
	}
	l.at[key] = l.order.PushFront(entryOf[K, V]{key, v})
	for len(l.at) > most {
		last := l.order.Back()
		l.order.Remove(last)
		delete(l.at, last.Value.(entryOf[K, V]).key)
	}
}

// clear forgets all.
func (l *latest[K, V]) clear() {
	l.mu.Lock()
	defer l.mu.Unlock()
	l.at = nil
	l.order.Init()
}
