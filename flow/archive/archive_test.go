package archive_test

import (
	"bytes"
	"errors"
	"flag"
	"fmt"
	"os"
	"slices"
	"strings"
	"testing"
	"time"

	"linetender/calc"
	"linetender/flow"
	"linetender/flow/archive"
	"linetender/flow/script"
	"linetender/flow/wording"
	"linetender/store"
)

var update = flag.Bool("update", false, "rewrite the golden export")

// talk has a few people begin a job each and say what it weighs, into log.
func talk(t testing.TB, log flow.Log, jobs int) {
	t.Helper()
	engine := &flow.Engine{Reckon: calc.Reckon, Words: wording.English(), Random: script.Dice(), Anyone: true}
	at := time.Date(2026, 5, 4, 9, 0, 0, 0, time.UTC)
	for i := range jobs {
		chat := fmt.Sprint("test/", i+1)
		for n, text := range []string{"hello", "nobody hurt, none of that", "2.4 t, weighed \"on the <scales> & dry\"", "12 deg", "save kit as ours"} {
			at = at.Add(time.Minute)
			turn, err := engine.Turn(log, flow.Input{Update: fmt.Sprint("test:", i, ":", n), Chat: chat,
				Person: flow.Person{ID: chat, Name: fmt.Sprint("Ada ", i)}, At: at, Offset: "+02:00", Text: text, Direct: true})
			if err == nil {
				_, err = log.Commit(turn)
			}
			if err != nil {
				t.Fatal(err)
			}
		}
	}
}

func newStore(t testing.TB) *store.Store {
	t.Helper()
	s, err := store.Open(t.TempDir(), store.Options{})
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() {
		if err := errors.Join(s.Check(), s.Close()); err != nil {
			t.Error(err)
		}
	})
	return s
}

func write(t testing.TB, src archive.Source, o archive.Options) []byte {
	t.Helper()
	var b bytes.Buffer
	if _, err := archive.Write(&b, src, o); err != nil {
		t.Fatal(err)
	}
	return b.Bytes()
}

// read takes file into sink and returns why streams were refused, too.
func read(sink archive.Sink, file []byte, chats bool) (taken archive.Taken, refused []string, err error) {
	taken, err = archive.Read(bytes.NewReader(file), sink, archive.Taking{Chats: chats, Refuse: func(name string, why error) error {
		refused = append(refused, name+": "+why.Error())
		return nil
	}})
	return taken, refused, err
}

const golden = "testdata/two-jobs.jsonl"

// Out, in and out again is the same to the byte; in again changes nothing.
func TestRoundTrip(t *testing.T) {
	for _, chats := range []bool{false, true} {
		from, to := newStore(t), newStore(t)
		talk(t, from, 5)
		file := write(t, from, archive.Options{Chats: chats})
		taken, refused, err := read(to, file, chats)
		want := archive.Count{Streams: 5, Entries: 25}
		if chats {
			want = archive.Count{Streams: 10, Entries: taken.New.Entries}
		}
		if err != nil || taken.New != want || len(refused) > 0 {
			t.Fatalf("taken %+v, refused %v, %v", taken, refused, err)
		}
		if again := write(t, to, archive.Options{Chats: chats}); !bytes.Equal(again, file) {
			t.Errorf("chats %v: the second export differs from the first", chats)
		}
		taken, refused, err = read(to, file, chats)
		if err != nil || taken.Same != want.Streams || taken.New.Streams != 0 || len(refused) > 0 {
			t.Errorf("again: %+v, refused %v, %v", taken, refused, err)
		}
		if !chats {
			continue
		}
		if taken, _, err = read(newStore(t), file, false); err != nil || taken.Left != 5 || taken.New.Streams != 5 {
			t.Errorf("jobs alone out of a file with chats: %+v, %v", taken, err)
		}
	}
}

// The format is a promise: a file of an earlier day is still read.
func TestGoldenExport(t *testing.T) {
	from := newStore(t)
	talk(t, from, 2)
	if *update {
		if err := os.WriteFile(golden, write(t, from, archive.Options{}), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	file, err := os.ReadFile(golden)
	if err != nil {
		t.Fatal(err)
	}
	to := newStore(t)
	if taken, refused, err := read(to, file, false); err != nil || taken.New.Streams != 2 || len(refused) > 0 {
		t.Fatalf("%+v, %v, %v", taken, refused, err)
	}
	if again := write(t, to, archive.Options{}); !bytes.Equal(again, file) {
		t.Error("it comes out otherwise than it went in")
	}
}

// Bytes that are no JSON on one line survive too.
func TestOddBytes(t *testing.T) {
	from := newStore(t)
	odd := [][]byte{[]byte("{\n}"), []byte(" {}"), {0xff, 0}, []byte(`{"a":"` + "\xff" + `"}`), []byte(`[1]`)}
	if _, err := from.Commit(store.Turn{Writes: []store.Write{{Stream: "job/odd-01", Entries: odd, Head: []byte("not JSON")}}}); err != nil {
		t.Fatal(err)
	}
	file := write(t, from, archive.Options{})
	if n := bytes.Count(file, []byte(`"entry64"`)); n != len(odd) || !bytes.Contains(file, []byte(`"head64"`)) {
		t.Errorf("%d of them in base64:\n%s", n, file)
	}
	_, refused, err := read(newStore(t), file, false)
	if err != nil || len(refused) != 1 {
		t.Errorf("noise is taken for a job: %v, %v", refused, err)
	}
}

// What does not verify is refused, names its event, and keeps nothing; the
// other jobs are taken in.
func TestRefused(t *testing.T) {
	from := newStore(t)
	talk(t, from, 3)
	file := string(write(t, from, archive.Options{}))
	lines := strings.SplitAfter(file, "\n") // header, 3 times 5 entries and a head, end, ""
	swapped := slices.Clone(lines)
	for i, l := range []string{lines[3], lines[2]} {
		swapped[2+i] = strings.Replace(l, fmt.Sprintf(`"n":%d,"entry"`, 3-i), fmt.Sprintf(`"n":%d,"entry"`, 2+i), 1)
	}
	for what, c := range map[string]struct {
		file string
		want string
	}{
		"a changed word":    {strings.Replace(file, "2.4 t", "2.5 t", 1), "event 3 was changed"},
		"swapped":           {strings.Join(swapped, ""), "event 2 was moved"},
		"a number out":      {strings.Replace(file, `"n":2,"entry"`, `"n":7,"entry"`, 1), "has entry 7 where entry 2 is due"},
		"another's summary": {strings.Replace(file, `"code":"`, `"code":"x`, 1), `its summary is of job "x`},
		"another's count":   {strings.Replace(file, `"entries":5,"head"`, `"entries":4,"head"`, 1), "counts 4 entries and 5 were read"},
		"a later release":   {strings.Replace(file, `"entry":{"v":1,`, `"entry":{"v":9,`, 1), "version 9"},
	} {
		to := newStore(t)
		taken, refused, err := read(to, []byte(c.file), false)
		if err != nil || len(refused) != 1 || !strings.Contains(refused[0], c.want) || taken.New.Streams != 2 || taken.Refused != 1 {
			t.Errorf("%s: %+v, %q, %v; want %q", what, taken, refused, err, c.want)
			continue
		}
		name, _, _ := strings.Cut(refused[0], ": ")
		if _, last, err := to.Head(name); err != nil || last != 0 {
			t.Errorf("%s: %d entries of it are there, %v", what, last, err)
		}
	}
}

// A file that is damaged as a file ends the reading with its line, and what
// was whole before it is kept, so that a good copy can be taken in on top.
func TestDamagedFile(t *testing.T) {
	from := newStore(t)
	talk(t, from, 3)
	file := string(write(t, from, archive.Options{}))
	lines := strings.SplitAfter(file, "\n")
	for what, c := range map[string]struct {
		file, want string
		kept       uint64
	}{
		"empty":            {"", "line 1: the file is empty", 0},
		"another file":     {"{}\n", "line 1: it is no export", 0},
		"text":             {"hello\n", "line 1: it is not what an export has", 0},
		"a later format":   {"{\"linetender_log\":2}\n", "line 1: it is of format 2", 0},
		"cut in a line":    {file[:len(file)-3], "it is cut short", 3},
		"cut at a line":    {strings.Join(lines[:10], ""), "ends before its last line", 1},
		"a job too few":    {strings.Join(append(slices.Clone(lines[:7]), lines[13:]...), ""), "lines are missing", 2},
		"more at the end":  {file + lines[1], "there is more after", 3},
		"a job within":     {strings.Join(append(slices.Clone(lines[:3]), lines[8:]...), ""), "begins before the summary", 0},
		"an unknown field": {strings.Replace(file, `"n":2,"entry"`, `"m":2,"entry"`, 1), "not what an export has", 0},
	} {
		to := newStore(t)
		taken, _, err := read(to, []byte(c.file), false)
		if err == nil || !strings.Contains(err.Error(), c.want) || taken.New.Streams != c.kept {
			t.Errorf("%s: %+v, %v; want %q and %d kept", what, taken, err, c.want, c.kept)
			continue
		}
		taken, refused, err := read(to, []byte(file), false)
		if err != nil || taken.New.Streams != 3-c.kept || taken.Same != c.kept || len(refused) > 0 {
			t.Errorf("%s, and then the whole: %+v, %v, %v", what, taken, refused, err)
		}
	}
}

// A job that went on after the export is left alone; another of the same name
// is refused and stays as it is.
func TestThereAlready(t *testing.T) {
	from := newStore(t)
	talk(t, from, 1)
	file := write(t, from, archive.Options{})
	name := ""
	err := from.Streams("job/", "", false, func(n string, _ []byte, _ uint64, _ time.Time) error {
		name = n
		return nil
	})
	if err != nil {
		t.Fatal(err)
	}
	if _, err := from.Commit(store.Turn{Writes: []store.Write{{Stream: name, After: 5, Entries: [][]byte{[]byte("{}")}}}}); err != nil {
		t.Fatal(err)
	}
	if taken, refused, err := read(from, file, false); err != nil || taken.Same != 1 || len(refused) > 0 {
		t.Errorf("further on: %+v, %v, %v", taken, refused, err)
	}
	for _, entries := range [][][]byte{{[]byte("{}")}, {[]byte("1"), []byte("2"), []byte("3"), []byte("4"), []byte("5")}} {
		to := newStore(t)
		if _, err := to.Commit(store.Turn{Writes: []store.Write{{Stream: name, Entries: entries}}}); err != nil {
			t.Fatal(err)
		}
		_, refused, err := read(to, file, false)
		if err != nil || len(refused) != 1 || !strings.Contains(refused[0], "there already") {
			t.Errorf("%v, %v", refused, err)
		}
		if _, last, _ := to.Head(name); last != uint64(len(entries)) {
			t.Errorf("it has %d entries now", last)
		}
	}
}

func TestWriteNamed(t *testing.T) {
	from := newStore(t)
	talk(t, from, 3)
	var codes []string
	err := from.Streams("job/", "", false, func(n string, _ []byte, _ uint64, _ time.Time) error {
		codes = append(codes, strings.TrimPrefix(n, "job/"))
		return nil
	})
	if err != nil {
		t.Fatal(err)
	}
	if taken, _, err := read(newStore(t), write(t, from, archive.Options{Jobs: codes[1:2]}), false); err != nil || taken.New.Streams != 1 {
		t.Errorf("%+v, %v", taken, err)
	}
	if _, err := archive.Write(&bytes.Buffer{}, from, archive.Options{Jobs: []string{"none-00"}}); !errors.Is(err, archive.ErrMissing) {
		t.Errorf("a job that is not there: %v", err)
	}
}
