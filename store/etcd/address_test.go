package etcd

import (
	"context"
	"crypto/ecdsa"
	"crypto/elliptic"
	"crypto/rand"
	"crypto/x509"
	"crypto/x509/pkix"
	"encoding/pem"
	"errors"
	"math/big"
	"net"
	"os"
	"path/filepath"
	"strconv"
	"strings"
	"testing"
	"time"

	clientv3 "go.etcd.io/etcd/client/v3"

	"linetender/store"
)

func TestParseAddress(t *testing.T) {
	for text, want := range map[string]string{
		"etcd://a":                         "etcd://a:2379/linetender",
		"etcd://a,b:1,[::1]:2":             "etcd://a:2379,b:1,[::1]:2/linetender",
		"etcd://a/":                        "etcd://a:2379/linetender",
		"etcd://a/crews/north/":            "etcd://a:2379/crews/north",
		"etcd://ada@a,b/x?password-file=f": "etcd://ada@a:2379,b:2379/x",
		"etcd://a?tls=yes&term=3s&ops=1024&bytes=10485760": "etcd://a:2379/linetender",
	} {
		a, err := ParseAddress(text)
		if err != nil || a.String() != want {
			t.Errorf("%s: got %s, %v, want %s", text, a, err, want)
		}
	}
	for _, text := range []string{
		"", "a", "http://a", "etcd://", "etcd://a,,b", "etcd://a,b c", "etcd://ada:secret@a", "etcd://a?what=1", "etcd://a?cert=f", "etcd://a?key=f",
		"etcd://a?tls=perhaps", "etcd://a?cacert=", "etcd://a?cacert=1&cacert=2", "etcd://a?term=5", "etcd://a?term=1ms", "etcd://a?ops=many", "etcd://a?ops=1", "etcd://a?bytes=0", "etcd://a?%zz",
	} {
		a, err := ParseAddress(text)
		if !errors.Is(err, ErrAddress) || a.Hosts != nil || strings.Contains(err.Error(), "secret") {
			t.Errorf("%q: got %v, %v, want ErrAddress", text, a, err)
		}
	}
}

// authority signs certificates for a test.
type authority struct {
	dir  string
	cert *x509.Certificate
	key  *ecdsa.PrivateKey
}

func newAuthority(t *testing.T) *authority {
	t.Helper()
	a := &authority{dir: t.TempDir()}
	a.cert, a.key = a.sign(t, "ca", &x509.Certificate{IsCA: true, BasicConstraintsValid: true, KeyUsage: x509.KeyUsageCertSign})
	return a
}

// sign writes name.crt and name.key.
func (a *authority) sign(t *testing.T, name string, c *x509.Certificate) (*x509.Certificate, *ecdsa.PrivateKey) {
	t.Helper()
	key, err := ecdsa.GenerateKey(elliptic.P256(), rand.Reader)
	must(t, err)
	c.SerialNumber, err = rand.Int(rand.Reader, big.NewInt(1<<62))
	must(t, err)
	c.Subject = pkix.Name{CommonName: name}
	c.NotBefore, c.NotAfter = time.Now().Add(-time.Hour), time.Now().Add(time.Hour)
	c.ExtKeyUsage = []x509.ExtKeyUsage{x509.ExtKeyUsageServerAuth, x509.ExtKeyUsageClientAuth}
	parent, by := a.cert, a.key
	if parent == nil {
		parent, by = c, key
	}
	der, err := x509.CreateCertificate(rand.Reader, c, parent, &key.PublicKey, by)
	must(t, err)
	text, err := x509.MarshalECPrivateKey(key)
	must(t, err)
	must(t, os.WriteFile(a.file(name+".crt"), pem.EncodeToMemory(&pem.Block{Type: "CERTIFICATE", Bytes: der}), 0o600))
	must(t, os.WriteFile(a.file(name+".key"), pem.EncodeToMemory(&pem.Block{Type: "EC PRIVATE KEY", Bytes: text}), 0o600))
	signed, err := x509.ParseCertificate(der)
	must(t, err)
	return signed, key
}

func (a *authority) file(name string) string { return filepath.Join(a.dir, name) }

// With certificates on both sides, and with a user who may do what is below the prefix and no more.
func TestCertificatesAndUsers(t *testing.T) {
	ca, other := newAuthority(t), newAuthority(t)
	ca.sign(t, "member", &x509.Certificate{DNSNames: []string{"member.test"}, IPAddresses: []net.IP{net.IPv4(127, 0, 0, 1)}})
	ca.sign(t, "client", &x509.Certificate{})
	c, err := newCluster(t.TempDir(), 1, func(m *memberTask) {
		m.NoSync, m.Client = true, strings.Replace(m.Client, "http:", "https:", 1)
		m.CertFile, m.KeyFile, m.CAFile = ca.file("member.crt"), ca.file("member.key"), ca.file("ca.crt")
	})
	must(t, err)
	t.Cleanup(c.stop)
	good := "?cacert=" + ca.file("ca.crt") + "&cert=" + ca.file("client.crt") + "&key=" + ca.file("client.key")
	at := "etcd://" + c.doors[0]
	s, err := Open(at+good, Options{})
	must(t, err)
	must(t, s.Accept("x", 1, []store.Arrival{arrival("k", "c")}))
	for what, address := range map[string]string{
		"another authority": at + "?cacert=" + other.file("ca.crt") + "&cert=" + ca.file("client.crt") + "&key=" + ca.file("client.key"),
		"no certificate":    at + "?cacert=" + ca.file("ca.crt"),
		"no TLS":            at,
		"no such file":      at + "?cacert=/nowhere",
		"not a certificate": at + "?cacert=" + ca.file("ca.key"),
	} {
		if s, err := Open(address, Options{Wait: time.Second}); err == nil {
			t.Errorf("%s: let in", what)
			_ = s.Close()
		}
	}

	ctx, cancel := context.WithTimeout(t.Context(), patience)
	defer cancel()
	admin := s.client
	for _, role := range []string{"root", "crew"} {
		_, err = admin.RoleAdd(ctx, role)
		must(t, err)
	}
	_, err = admin.RoleGrantPermission(ctx, "crew", "north/", clientv3.GetPrefixRangeEnd("north/"), clientv3.PermissionType(clientv3.PermReadWrite))
	must(t, err)
	for user, role := range map[string]string{"root": "root", "ada": "crew"} {
		_, err = admin.UserAdd(ctx, user, "secret of "+user)
		must(t, err)
		_, err = admin.UserGrantRole(ctx, user, role)
		must(t, err)
	}
	_, err = admin.AuthEnable(ctx)
	must(t, err)
	_ = s.Close() // it is nobody now
	password := ca.file("password")
	must(t, os.WriteFile(password, []byte("secret of ada\n"), 0o600))
	user := strings.Replace(at, "//", "//ada@", 1)
	north := open(t, user+"/north"+good+"&password-file="+password, Options{})
	if _, err := north.Commit(store.Turn{Chat: "c", Outbox: []store.Parcel{{Body: []byte("x")}}}); err != nil {
		t.Error(err)
	}
	r, err := north.Join("ada", 0)
	must(t, err)
	until(t, "the replica holds all", func() bool { return settled(r) })
	must(t, r.Close())
	t.Setenv(PasswordEnv, "secret of ada")
	must(t, open(t, user+"/north"+good, Options{}).Close())
	t.Setenv(PasswordEnv, "wrong")
	for what, address := range map[string]string{"a wrong password": user + "/north" + good, "another's prefix": user + "/south" + good + "&password-file=" + password, "no password file": user + "/north" + good + "&password-file=/nowhere"} {
		s, err := Open(address, Options{Wait: 2 * time.Second})
		if err == nil {
			t.Errorf("%s: let in", what)
			_ = s.Close()
		} else if what != "no password file" && !errors.Is(err, ErrRefused) {
			t.Errorf("%s: %v, want ErrRefused", what, err)
		}
	}
	t.Setenv(PasswordEnv, "")
	if _, err := Open(user+"/north"+good, Options{}); err == nil {
		t.Error("without a password: let in")
	}
}

// What was changed long ago is forgotten by the members, by one replica's doing.
func TestHistoryIsForgotten(t *testing.T) {
	address := oneMember(t).address("history")
	s, err := Open(address, Options{history: time.Second})
	must(t, err)
	r, err := s.Join("test", 0)
	must(t, err)
	defer r.Close()
	must(t, r.SetSecret("name", []byte("one")))
	_, rev, err := s.read(clientv3.OpGet(s.key("k/", "name")))
	must(t, err)
	must(t, r.SetSecret("name", []byte("two")))
	until(t, "the old value is forgotten", func() bool {
		_, err := s.client.Get(t.Context(), s.key("k/", "name"), clientv3.WithRev(rev))
		return err != nil && strings.Contains(err.Error(), "compacted")
	})
	if v, err := r.Secret("name", nil); string(v) != "two" || err != nil {
		t.Errorf("the present value is %q, %v", v, err)
	}
}

func TestNobodyThere(t *testing.T) {
	ports, err := freePorts(1)
	must(t, err)
	_, err = Open("etcd://127.0.0.1:"+strconv.Itoa(ports[0]), Options{Wait: 500 * time.Millisecond})
	if !errors.Is(err, ErrAway) {
		t.Errorf("got %v, want ErrAway", err)
	}
}
