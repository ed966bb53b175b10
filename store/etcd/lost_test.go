package etcd

import (
	"context"
	"fmt"
	"math/rand/v2"
	"slices"
	"sync"
	"testing"
	"time"

	pb "go.etcd.io/etcd/api/v3/etcdserverpb"
	"google.golang.org/grpc"
	"google.golang.org/grpc/codes"
	"google.golang.org/grpc/status"

	"linetender/store"
	"linetender/store/contract"
)

// A thief stands between a client and the members and steals: a request before it is made, the
// answer to one that was made, or a request that is then made late, after what came
// in its place.
type thief struct {
	mu    sync.Mutex
	rng   *rand.Rand
	often float64
	next  string // the one theft to come, instead of by chance
	late  []func()
	stole map[string]int
}

func (th *thief) choose() (how string) {
	th.mu.Lock()
	defer th.mu.Unlock()
	if how = th.next; how != "" {
		th.next = ""
	} else if th.rng.Float64() < th.often {
		how = []string{"request", "answer", "late"}[th.rng.IntN(3)]
	}
	th.stole[how]++
	return how
}

func (th *thief) unary(ctx context.Context, method string, req, reply any, cc *grpc.ClientConn, invoke grpc.UnaryInvoker, opts ...grpc.CallOption) error {
	if txn, ok := req.(*pb.TxnRequest); !ok || !writes(txn) {
		return invoke(ctx, method, req, reply, cc, opts...)
	}
	lost := status.Error(codes.Unavailable, "stolen")
	switch th.choose() {
	case "request":
		return lost
	case "answer":
		_ = invoke(ctx, method, req, reply, cc, opts...)
		return lost
	case "late":
		th.mu.Lock()
		defer th.mu.Unlock()
		own := context.WithoutCancel(ctx)
		th.late = append(th.late, func() { _ = invoke(own, method, req, new(pb.TxnResponse), cc) }) // nobody waits for it any more
		return lost
	}
	err := invoke(ctx, method, req, reply, cc, opts...)
	th.mu.Lock()
	late := th.late
	th.late = nil
	th.mu.Unlock()
	for _, l := range late {
		l()
	}
	return err
}

// writes reports whether a transaction may change something.
func writes(txn *pb.TxnRequest) bool {
	return slices.ContainsFunc(txn.Success, func(op *pb.RequestOp) bool { return op.GetRequestRange() == nil })
}

func newThief(often float64) *thief {
	return &thief{rng: rand.New(rand.NewPCG(3, 4)), often: often, stole: map[string]int{}}
}

// TestContractThoughAnswersAreLost: all that the contract says holds though every few
// transactions a request or its answer is lost, or it is made late.
func TestContractThoughAnswersAreLost(t *testing.T) {
	setRapid(t, campaign(8, 20, 100))
	th := newThief(0.1)
	options := func(now func() time.Time) Options {
		return Options{Now: now, Wait: patience, dial: []grpc.DialOption{grpc.WithChainUnaryInterceptor(th.unary)}}
	}
	contract.Test(t, contract.Harness{
		Fresh: func(t testing.TB, now func() time.Time) contract.Store { return fresh(t, options(now)) },
		Again: func(t testing.TB, s contract.Store) contract.Store {
			again, err := Open(oneMember(t).address(s.(*Store).prefix), options(nil))
			must(t, err)
			return again
		},
	})
	for _, how := range []string{"request", "answer", "late"} {
		if th.stole[how] < 10 {
			t.Errorf("only %d times the %s was stolen: this shows little", th.stole[how], how)
		}
	}
}

// A turn whose answer is lost is found by its mark, and made again only if it is not there.
func TestLostAnswerIsResolvedByTheMark(t *testing.T) {
	for how, resolved := range map[string]int64{"request": 0, "answer": 1, "late": 0} {
		th := newThief(0)
		s := fresh(t, Options{dial: []grpc.DialOption{grpc.WithChainUnaryInterceptor(th.unary)}})
		for i, update := range []string{"", "k1"} {
			th.next = how
			n, err := s.Commit(store.Turn{Update: update, Chat: "c", Writes: []store.Write{{Stream: "s", After: uint64(i), Entries: [][]byte{[]byte(update)}}},
				Outbox: []store.Parcel{{Body: []byte("answer")}}})
			must(t, err)
			if n[0] != uint64(i+1) {
				t.Errorf("%s: entry %d, want %d", how, n[0], i+1)
			}
		}
		if got := s.counts.resolved.Load(); got != 2*resolved {
			t.Errorf("%s: %d turns were found to be made, want %d", how, got, 2*resolved)
		}
		st, err := s.Stats()
		must(t, err)
		if st.Unsent != 2 || st.Marks != 2 {
			t.Errorf("%s: %d parcels and %d marks, want 2 and 2", how, st.Unsent, st.Marks)
		}
	}
}

// What came in through one replica is not overtaken, in another's eyes, by what came in later
// through that one, however fast.
func TestOrderAcrossReplicas(t *testing.T) {
	address := oneMember(t).address(fmt.Sprint("t", names.Add(1)))
	a, b := open(t, address, Options{}), open(t, address, Options{})
	for i := range campaign(200, 1000, 10_000) {
		first, second := fmt.Sprint("k", 2*i), fmt.Sprint("k", 2*i+1)
		must(t, a.Accept("x", 0, []store.Arrival{arrival(first, "c")}))
		must(t, b.Accept("x", 0, []store.Arrival{arrival(second, "c")}))
		for _, want := range []string{first, second} {
			next, ok, err := b.Next("c")
			must(t, err)
			if !ok || next.Key != want {
				t.Fatalf("next is %q, %v, want %s", next.Key, ok, want)
			}
			_, err = b.Commit(store.Turn{Update: want})
			must(t, err)
		}
	}
}
