package main

import (
	"context"
	"io"
	"os"
	"runtime/debug"
	"strings"
	"testing"
	"time"

	"linetender/store"
)

// TestShare: each channel sees its own chats only, and what is another's
// stays where it is.
func TestShare(t *testing.T) {
	st, err := store.Open(t.TempDir(), store.Options{})
	if err != nil {
		t.Fatal(err)
	}
	defer st.Close()
	now := time.Now()
	chats := []string{"terminal/local", "telegram/1", "telegram/2", "terminal/other", "telegram/3"}
	var arrivals []store.Arrival
	var parcels []store.Parcel
	for _, chat := range chats {
		arrivals = append(arrivals, store.Arrival{Key: "key/" + chat, Chat: chat, At: now})
		parcels = append(parcels, store.Parcel{Chat: chat, Body: []byte(chat)})
	}
	if err := st.Accept("test", 1, arrivals); err != nil {
		t.Fatal(err)
	}
	if _, err := st.Commit(store.Turn{Chat: chats[0], Outbox: parcels}); err != nil {
		t.Fatal(err)
	}
	own := share{Store: st, scheme: "telegram/"}
	waiting, err := own.Chats()
	if err != nil {
		t.Fatal(err)
	}
	if got := strings.Join(waiting, " "); got != "telegram/1 telegram/2 telegram/3" {
		t.Errorf("waiting: %s", got)
	}
	busy := map[string]bool{"telegram/2": true}
	due, err := own.Due(now, 10, busy)
	if err != nil {
		t.Fatal(err)
	}
	var got []string
	for _, d := range due {
		got = append(got, d.Chat)
	}
	if strings.Join(got, " ") != "telegram/1 telegram/3" {
		t.Errorf("due: %q", got)
	}
	if len(busy) != 1 {
		t.Errorf("the caller's map was changed to %v", busy)
	}
	// With room for one only, another's parcel must not take it.
	if due, err = own.Due(now, 1, nil); err != nil || len(due) != 1 || due[0].Chat != "telegram/1" {
		t.Errorf("due, one at a time: %v, %v, want that of telegram/1", due, err)
	}
	if all, err := st.Due(now, 10, nil); err != nil || len(all) != len(chats) {
		t.Errorf("%d parcels are left, %v, want all %d", len(all), err, len(chats))
	}
}

func TestVersionLine(t *testing.T) {
	for _, test := range []struct {
		info debug.BuildInfo
		want string
	}{
		{debug.BuildInfo{GoVersion: "go1.26.1"}, "linetender development build, go1.26.1 for "},
		{debug.BuildInfo{GoVersion: "go1.26.1", Main: debug.Module{Version: "(devel)"}}, "linetender development build, go1.26.1 for "},
		{debug.BuildInfo{GoVersion: "go1.26.1", Main: debug.Module{Version: "v1.2.0"}, Settings: []debug.BuildSetting{
			{Key: "vcs.revision", Value: "abc"}, {Key: "vcs.modified", Value: "true"}}}, "linetender v1.2.0, commit abc with changes, go1.26.1 for "},
		{debug.BuildInfo{GoVersion: "go1.26.1", Main: debug.Module{Version: "v1.2.0"}, Settings: []debug.BuildSetting{
			{Key: "vcs.revision", Value: "abc"}, {Key: "vcs.modified", Value: "false"}}}, "linetender v1.2.0, commit abc, go1.26.1 for "},
	} {
		if got := versionLine(&test.info); !strings.HasPrefix(got, test.want) {
			t.Errorf("got %q, want it to begin with %q", got, test.want)
		}
	}
}

func TestOneLine(t *testing.T) {
	for text, want := range map[string]string{
		"plain":            "plain",
		"ends\n":           "ends",
		"two\nlines":       "two lines",
		"a\r\nb\tc":        "a  b c",
		"\x1b[2Jgone":      `\u001b[2Jgone`,
		"left\u202eright":  `left\u202eright`,
		"14° and ½ in":     "14° and ½ in",
		"zero\u200bwidth ": `zero\u200bwidth `,
	} {
		if got := oneLine(text); got != want {
			t.Errorf("oneLine(%q) = %q, want %q", text, got, want)
		}
	}
}

// TestHelpOfEveryCommand: each command says what it is for, shows an example
// that names it, and answers a flag it does not have with a pointer to help.
func TestHelpOfEveryCommand(t *testing.T) {
	root := newRoot(streams{in: strings.NewReader(""), out: io.Discard, err: io.Discard})
	commands := root.Commands()
	seen := 0
	for len(commands) > 0 {
		c := commands[0]
		commands = append(commands[1:], c.Commands()...)
		if c.Hidden {
			continue
		}
		seen++
		path := c.CommandPath()
		if c.Short == "" || c.Long == "" || !strings.Contains(c.Example, path) {
			t.Errorf("%s lacks a purpose, a description or an example that names it", path)
		}
		var out, errs strings.Builder
		args := strings.Fields(path)[1:]
		if code := run(context.Background(), append([]string{"help"}, args...), strings.NewReader(""), &out, &errs); code != exitDone ||
			!strings.Contains(out.String(), "Examples:") || errs.Len() > 0 {
			t.Errorf("help %s: status %d, %q, %q", path, code, out.String(), errs.String())
		}
		out.Reset()
		if code := run(context.Background(), append(args, "--no-such-flag"), strings.NewReader(""), &out, &errs); code != exitWrong ||
			out.Len() > 0 || !strings.Contains(errs.String(), `help `+strings.Join(args, " ")+`"`) {
			t.Errorf("%s --no-such-flag: status %d, %q, %q", path, code, out.String(), errs.String())
		}
	}
	if seen < 9 {
		t.Errorf("%d commands were looked at, want all of them", seen)
	}
}

// TestDataFolder: the flag goes before the environment, that before the
// platform's folder; nothing is made by asking.
func TestDataFolder(t *testing.T) {
	home := t.TempDir()
	t.Setenv("XDG_DATA_HOME", home)
	t.Setenv(dataEnv, "")
	folder := func(args ...string) string {
		t.Helper()
		var data string
		c := newHealth(streams{out: io.Discard})
		if err := c.ParseFlags(args); err != nil {
			t.Fatal(err)
		}
		data, _ = c.Flags().GetString("data")
		dir, err := dataFolder(c, data)
		if err != nil {
			t.Fatal(err)
		}
		return dir
	}
	if got, want := folder(), home+"/linetender"; got != want {
		t.Errorf("got %s, want %s", got, want)
	}
	if _, err := os.Stat(home + "/linetender"); err == nil {
		t.Error("the folder was made by asking where it is")
	}
	t.Setenv(dataEnv, home+"/kept")
	if got, want := folder(), home+"/kept"; got != want {
		t.Errorf("got %s, want %s", got, want)
	}
	if got, want := folder("--data", home+"/named"), home+"/named"; got != want {
		t.Errorf("got %s, want %s", got, want)
	}
}
