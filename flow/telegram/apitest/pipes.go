package apitest

import (
	"context"
	"net"
	"sync"
)

// pipes is a listener whose connections are pipes in memory.
type pipes struct {
	waiting chan net.Conn
	closed  chan struct{}
	once    sync.Once
}

func newPipes() *pipes {
	return &pipes{waiting: make(chan net.Conn), closed: make(chan struct{})}
}

func (p *pipes) dial(ctx context.Context, _, _ string) (net.Conn, error) {
	near, far := net.Pipe()
	select {
	case p.waiting <- far:
		return near, nil
	case <-p.closed:
		return nil, net.ErrClosed
	case <-ctx.Done():
		return nil, ctx.Err()
	}
}

func (p *pipes) Accept() (net.Conn, error) {
	select {
	case c := <-p.waiting:
		return c, nil
	case <-p.closed:
		return nil, net.ErrClosed
	}
}

func (p *pipes) Close() error {
	p.once.Do(func() { close(p.closed) })
	return nil
}

func (p *pipes) Addr() net.Addr { return address{} }

type address struct{}

func (address) Network() string { return "pipe" }
func (address) String() string  { return "channel.test" }
