package etcd

import (
	"crypto/tls"
	"crypto/x509"
	"errors"
	"fmt"
	"net/url"
	"os"
	"strconv"
	"strings"
	"time"

	clientv3 "go.etcd.io/etcd/client/v3"
)

// PasswordEnv is where the password of an address that names a user is read
// from, unless the address says password-file.
const PasswordEnv = "LINETENDER_ETCD_PASSWORD"

// ErrAddress is returned for an address that can't be meant.
var ErrAddress = errors.New("an etcd address is etcd://host:2379,host:2379/prefix?cacert=FILE&cert=FILE&key=FILE&password-file=FILE&term=5s&ops=128&bytes=1572864, with user@ in front of the first host if there is one; all but the hosts may be left out")

// Address is where a store is and how one gets in.
//
//	etcd://[user@]host[:port][,host[:port]…][/prefix][?option=value&…]
//
// The options are those that etcd's own client has: cacert, cert and key name files of
// the authority that signed the members' certificates and of one's own, server-name is the
// name in theirs, and tls=yes wants TLS with the system's authorities. term is how long a replica may be
// silent before others take its chats; ops and bytes are the members' --max-txn-ops and --max-request-bytes,
// where those were raised. A password stands in a
// file (password-file) or in the environment ([PasswordEnv]), never in the address, which is shown
// in logs and lists of processes.
type Address struct {
	Hosts  []string // with ports
	Prefix string   // ends in a slash
	User   string

	cacert, cert, key, serverName, passwordFile string
	tls                                         bool

	term       time.Duration
	ops, bytes int
}

// ParseAddress reads an address.
//
// Errors: ErrAddress, with what is wrong.
func ParseAddress(text string) (Address, error) {
	fail := func(format string, args ...any) (Address, error) {
		return Address{}, fmt.Errorf("%s: %w", fmt.Sprintf(format, args...), ErrAddress)
	}
	rest, ok := strings.CutPrefix(text, "etcd://")
	if !ok {
		return fail("the address does not begin with etcd://")
	}
	rest, query, _ := strings.Cut(rest, "?")
	hosts, path, _ := strings.Cut(rest, "/")
	var a Address
	if user, after, ok := strings.Cut(hosts, "@"); ok {
		if strings.Contains(user, ":") {
			return fail("the address holds a password; put it into a file and name that with password-file, or into %s", PasswordEnv)
		}
		a.User, hosts = user, after
	}
	for _, h := range strings.Split(hosts, ",") {
		u, err := url.Parse("//" + h)
		if err != nil || u.Hostname() == "" || u.User != nil {
			return fail("%q is no host", h)
		}
		if u.Port() == "" {
			h += ":2379"
		}
		a.Hosts = append(a.Hosts, h)
	}
	a.Prefix = strings.Trim(path, "/") + "/"
	if a.Prefix == "/" {
		a.Prefix = "linetender/"
	}
	options, err := url.ParseQuery(query)
	if err != nil {
		return fail("the options can't be read")
	}
	for name, values := range options {
		into := map[string]*string{"cacert": &a.cacert, "cert": &a.cert, "key": &a.key, "server-name": &a.serverName, "password-file": &a.passwordFile}[name]
		switch {
		case len(values) != 1 || values[0] == "":
			return fail("option %s needs one value", name)
		case name == "tls" && values[0] == "yes":
			a.tls = true
		case name == "term":
			if a.term, err = time.ParseDuration(values[0]); err != nil || a.term < time.Second {
				return fail("term=%s is no time of a second or more, such as 5s", values[0])
			}
		case name == "ops" || name == "bytes":
			n, err := strconv.Atoi(values[0])
			if err != nil || n < map[string]int{"ops": 16, "bytes": 1 << 16}[name] || name == "ops" && n > 1<<placeBits {
				return fail("%s=%s is no limit that the members can have", name, values[0])
			}
			*map[string]*int{"ops": &a.ops, "bytes": &a.bytes}[name] = n
		case into == nil:
			return fail("there is no option %s=%s", name, values[0])
		default:
			*into = values[0]
		}
	}
	if (a.cert == "") != (a.key == "") {
		return fail("cert and key belong together")
	}
	a.tls = a.tls || a.cacert != "" || a.cert != "" || a.serverName != ""
	return a, nil
}

// String is the address without its options.
func (a Address) String() string {
	text := "etcd://"
	if a.User != "" {
		text += a.User + "@"
	}
	return text + strings.Join(a.Hosts, ",") + "/" + strings.TrimSuffix(a.Prefix, "/")
}

func (a Address) config() (clientv3.Config, error) {
	scheme := "http://"
	c := clientv3.Config{Username: a.User}
	if a.tls {
		scheme = "https://"
		var err error
		if c.TLS, err = a.tlsConfig(); err != nil {
			return clientv3.Config{}, err
		}
	}
	for _, h := range a.Hosts {
		c.Endpoints = append(c.Endpoints, scheme+h)
	}
	if a.User == "" {
		return c, nil
	}
	c.Password = os.Getenv(PasswordEnv)
	if a.passwordFile != "" {
		text, err := os.ReadFile(a.passwordFile)
		if err != nil {
			return clientv3.Config{}, fmt.Errorf("the password of user %s: %w", a.User, err)
		}
		c.Password = strings.TrimSpace(string(text))
	}
	if c.Password == "" {
		return clientv3.Config{}, fmt.Errorf("there is no password for user %s: name a file with password-file or set %s", a.User, PasswordEnv)
	}
	return c, nil
}

func (a Address) tlsConfig() (*tls.Config, error) {
	c := &tls.Config{MinVersion: tls.VersionTLS12, ServerName: a.serverName}
	if a.cacert != "" {
		pem, err := os.ReadFile(a.cacert)
		if err != nil {
			return nil, fmt.Errorf("the authority's certificate: %w", err)
		}
		c.RootCAs = x509.NewCertPool()
		if !c.RootCAs.AppendCertsFromPEM(pem) {
			return nil, fmt.Errorf("the authority's certificate: %s holds none", a.cacert)
		}
	}
	if a.cert != "" {
		own, err := tls.LoadX509KeyPair(a.cert, a.key)
		if err != nil {
			return nil, fmt.Errorf("one's own certificate: %w", err)
		}
		c.Certificates = []tls.Certificate{own}
	}
	return c, nil
}
