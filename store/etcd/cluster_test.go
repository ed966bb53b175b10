package etcd

import (
	"bufio"
	"encoding/json"
	"fmt"
	"io"
	"net"
	"net/url"
	"os"
	"os/exec"
	"strings"
	"sync"
	"syscall"
	"testing"
	"time"

	"go.etcd.io/etcd/server/v3/embed"
)

const roleEnv, taskEnv = "ETCD_TEST_ROLE", "ETCD_TEST_TASK"

// patience bounds a wait that would otherwise never end; nothing passes or
// fails by how long it took.
const patience = 60 * time.Second

// TestMain lets the test binary play another process.
func TestMain(m *testing.M) {
	switch os.Getenv(roleEnv) {
	case "":
		code := m.Run()
		if shared.c != nil {
			shared.c.stop()
			_ = os.RemoveAll(shared.c.dir)
		}
		os.Exit(code)
	case "member":
		playMember()
	case "replica":
		playReplica()
	}
}

// memberTask is what a member is told to be.
type memberTask struct {
	Name, Dir         string
	Client, Peer      string // listens there
	Known             string // is known to the others as
	Cluster           string // the initial one
	NoSync            bool
	MaxOps            uint
	CertFile, KeyFile string
	CAFile            string
}

// playMember is a member of an etcd cluster, until it is killed or its parent has gone.
func playMember() {
	var task memberTask
	if err := json.Unmarshal([]byte(os.Getenv(taskEnv)), &task); err != nil {
		panic(err)
	}
	c := embed.NewConfig()
	c.Name, c.Dir = task.Name, task.Dir
	c.ListenClientUrls, c.AdvertiseClientUrls = parsed(task.Client), parsed(task.Client)
	c.ListenPeerUrls, c.AdvertisePeerUrls = parsed(task.Peer), parsed(task.Known)
	c.InitialCluster = task.Cluster
	c.UnsafeNoFsync = task.NoSync
	if task.MaxOps > 0 {
		c.MaxTxnOps = task.MaxOps
	}
	if task.CertFile != "" {
		c.ClientTLSInfo.CertFile, c.ClientTLSInfo.KeyFile = task.CertFile, task.KeyFile
		c.ClientTLSInfo.TrustedCAFile, c.ClientTLSInfo.ClientCertAuth = task.CAFile, true
	}
	c.LogLevel, c.LogOutputs = "error", []string{"/dev/null"}
	if dir := os.Getenv("ETCD_TEST_LOGS"); dir != "" {
		c.LogLevel, c.LogOutputs = "info", []string{dir + "/" + task.Name + ".log"}
	}
	e, err := embed.StartEtcd(c)
	if err != nil {
		fmt.Println("failed:", err)
		os.Exit(1)
	}
	<-e.Server.ReadyNotify()
	fmt.Println("ready")
	_, _ = io.Copy(io.Discard, os.Stdin)
	os.Exit(0)
}

func parsed(address string) []url.URL {
	u, err := url.Parse(address)
	if err != nil {
		panic(err)
	}
	return []url.URL{*u}
}

// A child is this test binary as another process.
type child struct {
	cmd  *exec.Cmd
	in   io.WriteCloser
	line chan string // what it prints; closed at its end
}

// play starts one. It ends when its standard input does, so none outlives the test.
func play(role string, task any, env ...string) (*child, error) {
	self, err := os.Executable()
	if err != nil {
		return nil, err
	}
	text, err := json.Marshal(task)
	if err != nil {
		return nil, err
	}
	c := &child{cmd: exec.Command(self), line: make(chan string, 1000)}
	c.cmd.Env = append(append(os.Environ(), roleEnv+"="+role, taskEnv+"="+string(text)), env...)
	c.cmd.Stderr = os.Stderr
	if c.in, err = c.cmd.StdinPipe(); err != nil {
		return nil, err
	}
	out, err := c.cmd.StdoutPipe()
	if err != nil {
		return nil, err
	}
	if err := c.cmd.Start(); err != nil {
		return nil, err
	}
	go func() {
		defer close(c.line)
		for lines := bufio.NewScanner(out); lines.Scan(); {
			c.line <- lines.Text()
		}
	}()
	return c, nil
}

// says waits for a line that begins with text and returns the rest of it.
func (c *child) says(text string) (string, error) {
	late := time.After(patience)
	for {
		select {
		case l, ok := <-c.line:
			if !ok {
				return "", fmt.Errorf("it ended before it said %q", text)
			}
			if after, ok := strings.CutPrefix(l, text); ok {
				return strings.TrimSpace(after), nil
			}
			if strings.HasPrefix(l, "failed") {
				return "", fmt.Errorf("%s", l)
			}
		case <-late:
			return "", fmt.Errorf("it never said %q", text)
		}
	}
}

// kill ends it with SIGKILL.
func (c *child) kill() {
	_ = c.cmd.Process.Signal(syscall.SIGKILL)
	for range c.line {
	}
	_ = c.cmd.Wait()
}

// A cluster is some etcd members, each a process. Between any two of them, and in
// front of each, stands something that can be cut.
type cluster struct {
	dir     string
	tasks   []memberTask
	members []*child
	proxies []*peerProxy // what each member speaks through
	doors   []string     // where each member takes clients
	real    []string     // peer addresses by member
}

// newCluster starts n members.
func newCluster(dir string, n int, change func(*memberTask)) (*cluster, error) {
	c := &cluster{dir: dir, members: make([]*child, n)}
	ports, err := freePorts(2 * n)
	if err != nil {
		return nil, err
	}
	var initial []string
	known := map[string]int{} // host:port that the others use → member
	for i := range n {
		name := fmt.Sprint("m", i)
		host := fmt.Sprintf("%s.test:%d", name, ports[2*i])
		known[host] = i
		c.real = append(c.real, fmt.Sprintf("127.0.0.1:%d", ports[2*i]))
		c.doors = append(c.doors, fmt.Sprintf("127.0.0.1:%d", ports[2*i+1]))
		task := memberTask{Name: name, Dir: fmt.Sprintf("%s/%s", dir, name), Peer: "http://" + c.real[i], Known: "http://" + host, Client: "http://" + c.doors[i]}
		if n == 1 {
			task.Known = task.Peer
		}
		initial = append(initial, name+"="+task.Known)
		c.tasks = append(c.tasks, task)
	}
	for i := range c.tasks {
		c.tasks[i].Cluster = strings.Join(initial, ",")
		if change != nil {
			change(&c.tasks[i])
		}
		if n > 1 {
			p, err := newPeerProxy(i, known, c.real)
			if err != nil {
				return nil, err
			}
			c.proxies = append(c.proxies, p)
		}
	}
	var wg sync.WaitGroup
	errs := make([]error, n)
	for i := range n {
		wg.Go(func() { errs[i] = c.start(i) })
	}
	wg.Wait()
	for _, err := range errs {
		if err != nil {
			c.stop()
			return nil, err
		}
	}
	return c, nil
}

// start starts a member, for the first time or again.
func (c *cluster) start(i int) error {
	var env []string
	if len(c.proxies) > 0 {
		env = append(env, "HTTP_PROXY=http://"+c.proxies[i].address(), "http_proxy=", "NO_PROXY=", "no_proxy=")
	}
	m, err := play("member", c.tasks[i], env...)
	if err != nil {
		return err
	}
	c.members[i] = m
	if _, err = m.says("ready"); err != nil {
		return fmt.Errorf("member %d: %w", i, err)
	}
	return nil
}

func (c *cluster) kill(i int) { c.members[i].kill() }

// apart cuts a member off from the other members, or lets it back.
func (c *cluster) apart(i int, cut bool) {
	for j, p := range c.proxies {
		if j == i {
			for k := range c.proxies {
				p.cut(k, cut)
			}
		} else {
			p.cut(i, cut)
		}
	}
}

func (c *cluster) stop() {
	for _, m := range c.members {
		if m != nil {
			m.kill()
		}
	}
	for _, p := range c.proxies {
		p.close()
	}
}

// address is where a store is, for a store of its own called name.
func (c *cluster) address(name string) string {
	return "etcd://" + strings.Join(c.doors, ",") + "/" + name
}

func freePorts(n int) (ports []int, err error) {
	for range n {
		l, err := net.Listen("tcp", "127.0.0.1:0")
		if err != nil {
			return nil, err
		}
		defer l.Close()
		ports = append(ports, l.Addr().(*net.TCPAddr).Port)
	}
	return ports, nil
}

// shared is one member that all tests use that kill nothing.
var shared struct {
	once sync.Once
	c    *cluster
	err  error
}

func oneMember(t testing.TB) *cluster {
	t.Helper()
	shared.once.Do(func() {
		dir, err := os.MkdirTemp("", "etcd-store-*")
		if err != nil {
			shared.err = err
			return
		}
		shared.c, shared.err = newCluster(dir, 1, func(m *memberTask) { m.NoSync = true })
	})
	if shared.err != nil {
		t.Fatal(shared.err)
	}
	return shared.c
}

// campaign returns how many rounds a test runs that gets better with more:
// quick by itself, short in the guarding run, full when it is given its time.
func campaign(quick, short, full int) int {
	switch os.Getenv("LINETENDER_LONG") {
	case "":
		return quick
	case "short":
		return short
	}
	return full
}
