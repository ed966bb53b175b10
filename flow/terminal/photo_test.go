package terminal

import (
	"bytes"
	"crypto/sha256"
	"encoding/hex"
	"errors"
	"image"
	"image/png"
	"os"
	"path/filepath"
	"reflect"
	"strings"
	"testing"

	"linetender/flow"
)

// somePicture is a small PNG.
func somePicture(t *testing.T, w, h int) []byte {
	t.Helper()
	var b bytes.Buffer
	if err := png.Encode(&b, image.NewRGBA(image.Rect(0, 0, w, h))); err != nil {
		t.Fatal(err)
	}
	return b.Bytes()
}

func write(t *testing.T, path string, bits []byte) string {
	t.Helper()
	if err := os.WriteFile(path, bits, 0o600); err != nil {
		t.Fatal(err)
	}
	return path
}

func TestPhotoLine(t *testing.T) {
	dir := t.TempDir()
	bits := somePicture(t, 2, 2)
	digest := sha256.Sum256(bits)
	sum := hex.EncodeToString(digest[:])
	plain := write(t, filepath.Join(dir, "anchor.png"), bits)
	blank := write(t, filepath.Join(dir, "the oak tree.png"), bits)
	phone := write(t, filepath.Join(dir, "IMG_1.HEIC"), append([]byte("\x00\x00\x00\x18ftypheic"), bits...))
	want := func(path, kind string, size int) []flow.File {
		s := sum
		if kind != "image/png" {
			b, err := os.ReadFile(path)
			if err != nil {
				t.Fatal(err)
			}
			d := sha256.Sum256(b)
			s = hex.EncodeToString(d[:])
		}
		return []flow.File{{Kind: "photo", ID: "file:" + s, Same: s, Name: filepath.Base(path), Type: kind, Size: int64(size), Sum: s}}
	}
	for _, test := range []struct {
		line, caption string
		files         []flow.File
	}{
		{"photo " + plain, "", want(plain, "image/png", len(bits))},
		{"Photo  " + plain + "  the strap on the oak ", "the strap on the oak", want(plain, "image/png", len(bits))},
		{"photo " + blank + " from the north", "from the north", want(blank, "image/png", len(bits))},
		{"photo '" + blank + "' from the north", "from the north", want(blank, "image/png", len(bits))},
		{`photo ` + strings.ReplaceAll(blank, " ", `\ `) + " from the north", "from the north", want(blank, "image/png", len(bits))},
		{"photo " + phone, "", want(phone, "image/heic", len(bits)+12)},
		{"photo " + plain + " stop, it slips", "stop, it slips", want(plain, "image/png", len(bits))},
	} {
		w, ok, err := readSpecial(test.line, "")
		if err != nil || !ok || w.Text != test.caption || w.Other != flow.OtherPhoto || !reflect.DeepEqual(w.Files, test.files) {
			t.Errorf("%q reads as %+v, %v, %v, want the caption %q and %+v", test.line, w, ok, err, test.caption, test.files)
		}
	}

	keep := filepath.Join(dir, "photos")
	for range 2 {
		if _, _, err := readSpecial("photo "+plain, keep); err != nil {
			t.Fatal(err)
		}
	}
	if got := list(t, keep); got != sum+".png -rw-------" {
		t.Errorf("kept: %q, want one copy under its sum for its owner only", got)
	}

	large := filepath.Join(dir, "large.png")
	write(t, large, bits)
	if err := os.Truncate(large, largestPhoto+1); err != nil {
		t.Fatal(err)
	}
	text := write(t, filepath.Join(dir, "notes.txt"), []byte("no picture"))
	blocked := write(t, filepath.Join(dir, "blocked"), nil)
	for line, want := range map[string]string{
		"photo " + dir + "/none.png":     "I find no file " + dir + "/none.png",
		"photo '" + dir + "/none.png' x": "I find no file",
		"photo " + large:                 "is larger than 20 MB",
		"photo " + text:                  "is no picture",
		"photo " + dir:                   "I find no file",
	} {
		w, _, err := readSpecial(line, "")
		var wrong *wrongLine
		if !errors.As(err, &wrong) || !strings.Contains(wrong.text, want) || !reflect.DeepEqual(w, Written{}) {
			t.Errorf("%q: %+v, %v, want it refused with %q", line, w, err, want)
		}
	}
	if _, _, err := readSpecial("photo "+plain, blocked); err == nil || !strings.Contains(err.Error(), "No copy") {
		t.Errorf("a picture that can't be kept: %v", err)
	}
}

func list(t *testing.T, dir string) string {
	t.Helper()
	entries, err := os.ReadDir(dir)
	if err != nil {
		t.Fatal(err)
	}
	var out []string
	for _, e := range entries {
		info, err := e.Info()
		if err != nil {
			t.Fatal(err)
		}
		out = append(out, e.Name()+" "+info.Mode().String())
	}
	return strings.Join(out, "\n")
}

func TestPlaceLine(t *testing.T) {
	for line, want := range map[string]*flow.Place{
		"place 47.1, 8.2":         {Lat: 47.1, Lon: 8.2},
		"place 47.1 8.2":          {Lat: 47.1, Lon: 8.2},
		"/place 47.102;-8.25":     {Lat: 47.102, Lon: -8.25},
		"Place 33.9S, 18.4E":      {Lat: -33.9, Lon: 18.4},
		"place 47.1° N, 122.3° W": {Lat: 47.1, Lon: -122.3},
		"place -90, 180":          {Lat: -90, Lon: 180},
	} {
		w, ok, err := readSpecial(line, "")
		if err != nil || !ok || w.Other != flow.OtherLocation || !reflect.DeepEqual(w.Place, want) {
			t.Errorf("%q reads as %+v (%+v), %v, %v, want %+v", line, w, w.Place, ok, err, want)
		}
	}
	for _, line := range []string{"place 90.1, 8", "place 47, 181", "place 47.1", "place 47,1 8,2", "place -33.9S, 18"} {
		w, _, err := readSpecial(line, "")
		var wrong *wrongLine
		if !errors.As(err, &wrong) || w.Place != nil {
			t.Errorf("%q reads as %+v, %v, want it refused", line, w.Place, err)
		}
	}
	// What only begins like one of these is words, and a stop always is.
	for _, line := range []string{"place 2 chocks behind each wheel", "place the anchor uphill", "place", "photo", "photos later", "photo none.png stop", "place 99, 5 stop", "none", ""} {
		if w, ok, err := readSpecial(line, ""); ok || err != nil || !reflect.DeepEqual(w, Written{}) {
			t.Errorf("%q reads as %+v, %v, %v, want words", line, w, ok, err)
		}
	}
}

// FuzzSpecial: any line is words, a refusal in words, or a place on the map;
// none is a picture where there is no file.
func FuzzSpecial(f *testing.F) {
	for _, line := range []string{"photo x.png", `photo "x y" z`, "place 47.1, 8.2", "place 47,1 8,2", "place 1e9 5", "stop", "photo '"} {
		f.Add(line)
	}
	f.Fuzz(func(t *testing.T, line string) {
		w, ok, err := readSpecial(line, "")
		if err != nil && (ok && w.Place != nil || err.Error() == "") {
			t.Errorf("%q: refused and taken: %+v", line, w)
		}
		if p := w.Place; p != nil && !(-90 <= p.Lat && p.Lat <= 90 && -180 <= p.Lon && p.Lon <= 180) {
			t.Errorf("%q: %+v is no place", line, p)
		}
	})
}
