package etcd

import (
	"cmp"
	"context"
	"crypto/rand"
	"errors"
	"fmt"
	"sync"
	"sync/atomic"
	"time"

	clientv3 "go.etcd.io/etcd/client/v3"
	"go.uber.org/zap"
	"google.golang.org/grpc"
	"google.golang.org/grpc/backoff"

	"linetender/store"
	"linetender/store/internal/record"
)

// What etcd takes unless its operator sets it otherwise: --max-txn-ops and
// --max-request-bytes.
const (
	defaultOps   = 128
	defaultBytes = 3 << 19
	spareBytes   = 16 << 10 // of a request, for what frames keys and values
)

const (
	format         = 1
	defaultTry     = time.Second
	defaultWait    = 10 * time.Second
	defaultKeep    = 10 * 24 * time.Hour
	defaultHistory = time.Hour
	firstBackoff   = 10 * time.Millisecond
	mostBackoff    = 400 * time.Millisecond
)

// Options say how a store is opened. The zero value is right for serving.
type Options struct {
	// Try is how long one request may take before it is given up for lost, at first; 0 means one second.
	Try time.Duration
	// Wait is how long a call goes on trying, say through an election; 0 means ten seconds.
	Wait time.Duration
	// Keep is how long a done mark is kept at the least; 0 means ten days. A channel
	// must not redeliver an update after that.
	Keep time.Duration
	// Ops and Bytes are the members' limits of one transaction; 0 means those of the
	// address, or those of a member that was not told otherwise: 128 and 1.5 MiB.
	Ops, Bytes int
	// Now is the clock; nil means time.Now.
	Now func() time.Time

	dial    []grpc.DialOption // what tests put between the client and the members
	history time.Duration     // how long the members keep what was changed
}

// Store is an open store. Its methods may be called from any goroutine.
type Store struct {
	client  *clientv3.Client
	address Address
	prefix  string
	o       Options
	ctx     context.Context
	end     context.CancelFunc
	running sync.WaitGroup
	mirror  *mirror
	marks   marks
	counts  counts
	closed  atomic.Bool
}

// Open opens the store at address, making it if there is none.
//
// Errors: ErrAddress, ErrAway when no member answers in time, store.ErrFormat when
// what is there is of another release.
func Open(address string, o Options) (*Store, error) {
	a, err := ParseAddress(address)
	if err != nil {
		return nil, err
	}
	s, err := OpenAt(a, o)
	if err != nil {
		return nil, fmt.Errorf("open the store at %s: %w", a, err)
	}
	return s, nil
}

// OpenAt is Open for an address taken apart.
func OpenAt(a Address, o Options) (*Store, error) {
	o.Ops, o.Bytes = cmp.Or(o.Ops, a.ops), cmp.Or(o.Bytes, a.bytes)
	o = o.filled()
	config, err := a.config()
	if err != nil {
		return nil, err
	}
	config.DialTimeout = o.Wait
	// A connection that has gone silent is noticed by pings. Members refuse more
	// than one in five seconds.
	config.DialKeepAliveTime, config.DialKeepAliveTimeout = 5*time.Second, 2*time.Second
	config.Logger = zap.NewNop() // what matters reaches the caller as an error
	config.MaxCallSendMsgSize = o.Bytes + spareBytes
	// A member that comes back is to be used again soon, not after gRPC's own two minutes.
	config.DialOptions = append(config.DialOptions, grpc.WithConnectParams(grpc.ConnectParams{
		Backoff: backoff.Config{BaseDelay: 50 * time.Millisecond, Multiplier: 1.6, Jitter: 0.2, MaxDelay: time.Second}, MinConnectTimeout: time.Second,
	}))
	config.DialOptions = append(config.DialOptions, o.dial...)
	client, err := clientv3.New(config)
	if err != nil {
		return nil, plain(err)
	}
	s := &Store{client: client, address: a, prefix: a.Prefix, o: o}
	s.ctx, s.end = context.WithCancel(context.Background())
	s.mirror = newMirror(s)
	if err := s.begin(); err != nil {
		return nil, errors.Join(err, s.Close())
	}
	return s, nil
}

func (o Options) filled() Options {
	set := func(d *time.Duration, to time.Duration) {
		if *d == 0 {
			*d = to
		}
	}
	set(&o.Try, defaultTry)
	set(&o.Wait, defaultWait)
	set(&o.Keep, defaultKeep)
	set(&o.history, defaultHistory)
	o.Ops, o.Bytes = cmp.Or(o.Ops, defaultOps), cmp.Or(o.Bytes, defaultBytes)
	if o.Now == nil {
		o.Now = time.Now
	}
	return o
}

// begin sees that the format is ours and starts the mirror.
func (s *Store) begin() error {
	key, want := s.key("m/", "format"), record.Number(format)
	out, err := s.apply(change{
		when:   []clientv3.Cmp{absent(key)},
		then:   []clientv3.Op{s.put(key, want)},
		look:   []clientv3.Op{clientv3.OpGet(key)},
		landed: harmless,
	})
	if err != nil {
		return err
	}
	if !out.done {
		v, _, err := s.value(out.found[0])
		if err != nil {
			return err
		}
		if string(v) != string(want) {
			return fmt.Errorf("%w (format %x)", store.ErrFormat, v)
		}
	}
	return s.mirror.start()
}

// Close lets go of the cluster. Calls still running end with ErrClosed.
func (s *Store) Close() error {
	if !s.closed.CompareAndSwap(false, true) {
		return nil
	}
	s.end()
	s.running.Wait()
	if err := s.client.Close(); err != nil && !errors.Is(err, context.Canceled) {
		return err
	}
	return nil
}

// Path is where the store is, for people to read; it holds no password.
func (s *Store) Path() string { return s.address.String() }

func (s *Store) usable() error {
	if s.closed.Load() {
		return fmt.Errorf("%s: %w", s.address, store.ErrClosed)
	}
	return nil
}

// key is the full key of what kind and rest name.
func (s *Store) key(kind, rest string) string { return s.prefix + kind + rest }

// put seals value under a full key.
func (s *Store) put(key string, value []byte, opts ...clientv3.OpOption) clientv3.Op {
	return clientv3.OpPut(key, string(record.Seal([]byte(key[len(s.prefix):]), value)), opts...)
}

// unseal returns the value of a full key.
func (s *Store) unseal(key string, sealed []byte) ([]byte, error) {
	return record.Unseal([]byte(key[len(s.prefix):]), sealed)
}

// token is what one call is known by.
func token() string { return rand.Text()[:20] }

func absent(key string) clientv3.Cmp {
	return clientv3.Compare(clientv3.CreateRevision(key), "=", 0)
}

func present(key string) clientv3.Cmp {
	return clientv3.Compare(clientv3.CreateRevision(key), ">", 0)
}

func unchanged(key string, mod int64) clientv3.Cmp {
	return clientv3.Compare(clientv3.ModRevision(key), "=", mod)
}
