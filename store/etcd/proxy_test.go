package etcd

import (
	"context"
	"net"
	"net/http"
	"net/http/httputil"
	"sync"
)

// A peerProxy is what one member reaches the others through: members speak HTTP
// to each other and take a proxy from the environment, so that each link, and each
// direction of it, can be cut by itself.
type peerProxy struct {
	l      net.Listener
	server *http.Server
	mu     sync.Mutex
	isCut  map[int]bool
	open   map[int]map[*context.CancelFunc]bool
}

func newPeerProxy(own int, known map[string]int, real []string) (*peerProxy, error) {
	l, err := net.Listen("tcp", "127.0.0.1:0")
	if err != nil {
		return nil, err
	}
	p := &peerProxy{l: l, isCut: map[int]bool{}, open: map[int]map[*context.CancelFunc]bool{}}
	forward := &httputil.ReverseProxy{
		FlushInterval: -1,
		Transport:     &http.Transport{Proxy: nil, MaxIdleConnsPerHost: 8},
		Rewrite: func(r *httputil.ProxyRequest) {
			r.Out.URL.Host = real[known[r.In.URL.Host]] // one that isn't known comes no further than the handler
		},
		ErrorHandler: func(w http.ResponseWriter, _ *http.Request, _ error) { w.WriteHeader(http.StatusBadGateway) },
		ErrorLog:     silent,
	}
	p.server = &http.Server{ErrorLog: silent, Handler: http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		to, ok := known[r.URL.Host]
		if !ok {
			http.Error(w, "no such member", http.StatusBadGateway)
			return
		}
		ctx, cancel := context.WithCancel(r.Context())
		defer cancel()
		if !p.enter(to, &cancel) {
			hangUp(w)
			return
		}
		defer p.leave(to, &cancel)
		defer func() {
			// A stream that is cut ends in a panic that means just that.
			if e := recover(); e != nil && e != http.ErrAbortHandler {
				panic(e)
			}
			if ctx.Err() != nil {
				panic(http.ErrAbortHandler)
			}
		}()
		forward.ServeHTTP(w, r.WithContext(ctx))
	})}
	go p.server.Serve(l)
	return p, nil
}

func (p *peerProxy) address() string { return p.l.Addr().String() }

func (p *peerProxy) enter(to int, cancel *context.CancelFunc) bool {
	p.mu.Lock()
	defer p.mu.Unlock()
	if p.isCut[to] {
		return false
	}
	if p.open[to] == nil {
		p.open[to] = map[*context.CancelFunc]bool{}
	}
	p.open[to][cancel] = true
	return true
}

func (p *peerProxy) leave(to int, cancel *context.CancelFunc) {
	p.mu.Lock()
	defer p.mu.Unlock()
	delete(p.open[to], cancel)
}

func (p *peerProxy) cut(to int, cut bool) {
	p.mu.Lock()
	defer p.mu.Unlock()
	p.isCut[to] = cut
	if cut {
		for cancel := range p.open[to] {
			(*cancel)()
		}
	}
}

func (p *peerProxy) close() { _ = p.server.Close() }

func hangUp(w http.ResponseWriter) {
	if conn, _, err := w.(http.Hijacker).Hijack(); err == nil {
		conn.Close()
	}
}

// A gate is a TCP proxy in front of something. Cut, it drops what is under way and takes
// nothing new; frozen, it keeps connections open and lets nothing through, as a network
// does that has lost its way.
type gate struct {
	l    net.Listener
	to   string
	mu   sync.Mutex
	shut bool
	thaw chan struct{} // not nil while frozen; closed at the thaw
	open map[net.Conn]bool
}

func newGate(to string) (*gate, error) {
	l, err := net.Listen("tcp", "127.0.0.1:0")
	if err != nil {
		return nil, err
	}
	g := &gate{l: l, to: to, open: map[net.Conn]bool{}}
	go func() {
		for {
			c, err := l.Accept()
			if err != nil {
				return
			}
			go g.carry(c)
		}
	}()
	return g, nil
}

func (g *gate) address() string { return g.l.Addr().String() }

func (g *gate) carry(c net.Conn) {
	defer c.Close()
	if !g.enter(c) {
		return
	}
	defer g.leave(c)
	d, err := net.Dial("tcp", g.to)
	if err != nil {
		return
	}
	defer d.Close()
	if !g.enter(d) {
		return
	}
	defer g.leave(d)
	done := make(chan struct{}, 2)
	pass := func(to, from net.Conn) {
		buf := make([]byte, 32<<10)
		for {
			n, err := from.Read(buf)
			g.wait()
			if n > 0 {
				if _, err := to.Write(buf[:n]); err != nil {
					break
				}
			}
			if err != nil {
				break
			}
		}
		done <- struct{}{}
	}
	go pass(d, c)
	go pass(c, d)
	<-done
}

func (g *gate) wait() {
	g.mu.Lock()
	thaw := g.thaw
	g.mu.Unlock()
	if thaw != nil {
		<-thaw
	}
}

func (g *gate) enter(c net.Conn) bool {
	g.mu.Lock()
	defer g.mu.Unlock()
	if g.shut {
		return false
	}
	g.open[c] = true
	return true
}

func (g *gate) leave(c net.Conn) {
	g.mu.Lock()
	defer g.mu.Unlock()
	delete(g.open, c)
}

// cut closes or opens the gate.
func (g *gate) cut(cut bool) {
	g.mu.Lock()
	defer g.mu.Unlock()
	g.shut = cut
	if cut {
		for c := range g.open {
			c.Close()
		}
	}
}

// freeze stops or lets go what goes through.
func (g *gate) freeze(on bool) {
	g.mu.Lock()
	defer g.mu.Unlock()
	switch {
	case on && g.thaw == nil:
		g.thaw = make(chan struct{})
	case !on && g.thaw != nil:
		close(g.thaw)
		g.thaw = nil
	}
}

func (g *gate) close() {
	_ = g.l.Close()
	g.freeze(false)
	g.cut(true)
}
