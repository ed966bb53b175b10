package terminal

import (
	"bytes"
	"crypto/sha256"
	"encoding/hex"
	"errors"
	"io"
	"io/fs"
	"net/http"
	"os"
	"path/filepath"
	"regexp"
	"strconv"
	"strings"

	"linetender/flow"
	"linetender/flow/hear"
)

// largestPhoto is the most that a picture may have, in bytes.
const largestPhoto = 20 << 20

// A wrongLine is a line that was meant for the terminal and can't be done.
type wrongLine struct{ text string }

func (e *wrongLine) Error() string { return e.text }

func wrong(key string, args ...any) error { return &wrongLine{word(key, args...)} }

// readSpecial reads what a person at a terminal can send besides words:
//
//	photo PATH [CAPTION]
//	place LAT, LON
//
// It reports whether the line was one of these. A stop in a line that is none
// of them after all is passed on, whatever the line begins with.
//
// Errors: *wrongLine.
func readSpecial(line, keep string) (Written, bool, error) {
	w, ok, err := Written{}, false, error(nil)
	verb, rest, _ := strings.Cut(strings.TrimSpace(line), " ")
	rest = strings.TrimSpace(rest)
	switch strings.ToLower(verb) {
	case "photo", "/photo":
		if rest == "" {
			return Written{}, false, nil
		}
		ok, err = true, w.addPhoto(rest, keep)
	case "place", "/place":
		ok, err = w.addPlace(rest)
	}
	if err != nil && hear.Listen(line, hear.TopicNone).Act == hear.Stop {
		return Written{}, false, nil
	}
	return w, ok, err
}

// addPhoto reads a picture. The path ends where a file of that name is found:
// both it and the caption may have blanks.
func (w *Written) addPhoto(rest, keep string) error {
	path, caption := splitPath(rest)
	if path == "" {
		first, _, _ := strings.Cut(rest, " ")
		return wrong("photo_missing", first)
	}
	bits, err := readAtMost(path, largestPhoto)
	switch {
	case errors.Is(err, errLarge):
		return wrong("photo_large", path, largestPhoto>>20)
	case err != nil:
		return wrong("photo_unread", path, cause(err))
	}
	kind := pictureType(bits)
	if kind == "" {
		return wrong("photo_kind", path)
	}
	digest := sha256.Sum256(bits)
	sum := hex.EncodeToString(digest[:])
	if keep != "" {
		ending := strings.ToLower(filepath.Ext(path))
		if !plainEnding.MatchString(ending) {
			ending = "." + strings.TrimPrefix(kind, "image/")
		}
		if err := writeOnce(keep, sum+ending, bits); err != nil {
			return wrong("photo_unkept", path, cause(err))
		}
	}
	w.Text, w.Other = caption, flow.OtherPhoto
	w.Files = []flow.File{{
		Kind: flow.OtherPhoto, ID: "file:" + sum, Same: sum, Name: filepath.Base(path), Type: kind, Size: int64(len(bits)), Sum: sum,
	}}
	return nil
}

var plainEnding = regexp.MustCompile(`^\.[a-z0-9]{1,5}$`)

// splitPath parts the path of a file that is there from what stands after it.
// A path may be quoted, or have blanks escaped as terminals do when a file is
// dropped on them. An empty path means that there is no such file.
func splitPath(rest string) (path, caption string) {
	if q := rest[0]; q == '"' || q == '\'' {
		inner, after, ok := strings.Cut(rest[1:], string(q))
		if ok && isFile(inner) {
			return inner, strings.TrimSpace(after)
		}
		return "", ""
	}
	for end := len(rest); end > 0; end = strings.LastIndexByte(rest[:end], ' ') {
		for _, p := range []string{rest[:end], strings.ReplaceAll(rest[:end], `\ `, " ")} {
			if isFile(p) {
				return p, strings.TrimSpace(rest[end:])
			}
		}
	}
	return "", ""
}

func isFile(path string) bool {
	info, err := os.Stat(path)
	return err == nil && info.Mode().IsRegular()
}

var errLarge = errors.New("too large")

func readAtMost(path string, most int64) ([]byte, error) {
	f, err := os.Open(path)
	if err != nil {
		return nil, err
	}
	defer f.Close()
	bits, err := io.ReadAll(io.LimitReader(f, most+1))
	if err == nil && int64(len(bits)) > most {
		err = errLarge
	}
	return bits, err
}

// pictureType returns the type of a picture by its first bytes, and nothing
// for what is none. The standard library does not know what phones write into
// ISO base media files (ISO/IEC 14496-12: a brand at byte 8).
func pictureType(bits []byte) string {
	if kind := http.DetectContentType(bits); strings.HasPrefix(kind, "image/") {
		return kind
	}
	if len(bits) > 12 && bytes.Equal(bits[4:8], []byte("ftyp")) {
		switch string(bits[8:12]) {
		case "heic", "heix", "mif1", "heif":
			return "image/heic"
		case "avif":
			return "image/avif"
		}
	}
	return ""
}

// writeOnce writes a file that only its user can read, whole or not at all,
// unless it is there: its name says what is in it.
func writeOnce(folder, name string, bits []byte) error {
	path := filepath.Join(folder, name)
	if info, err := os.Stat(path); err == nil && info.Size() == int64(len(bits)) {
		return nil
	}
	if err := os.MkdirAll(folder, 0o700); err != nil {
		return err
	}
	f, err := os.CreateTemp(folder, ".new-*") // made for its owner only
	if err != nil {
		return err
	}
	_, err = f.Write(bits)
	if err = errors.Join(err, f.Close()); err == nil {
		err = os.Rename(f.Name(), path)
	}
	if err != nil {
		return errors.Join(err, os.Remove(f.Name()))
	}
	return nil
}

// cause is the reason below the operation and the path.
func cause(err error) string {
	var p *fs.PathError
	if errors.As(err, &p) {
		return p.Err.Error()
	}
	return err.Error()
}

var (
	placeBegins = regexp.MustCompile(`^[-+]?\d`)
	placeOnly   = regexp.MustCompile(`^[-+\d.,;°'" NnSsEeWw]*$`)
	placeShape  = regexp.MustCompile(`^([-+]?\d+(?:\.\d+)?)°?\s*([NnSs]?)\s*[,; ]\s*([-+]?\d+(?:\.\d+)?)°?\s*([EeWw]?)$`)
)

// addPlace reads degrees of latitude and longitude. Words after place that
// begin with no figure are words.
func (w *Written) addPlace(rest string) (bool, error) {
	if !placeBegins.MatchString(rest) {
		return false, nil
	}
	m := placeShape.FindStringSubmatch(rest)
	if m == nil {
		if placeOnly.MatchString(rest) {
			return true, wrong("place_wrong")
		}
		return false, nil // such as: place 2 chocks behind each wheel
	}
	lat, lon := degrees(m[1], m[2]), degrees(m[3], m[4])
	if !(-90 <= lat && lat <= 90) || !(-180 <= lon && lon <= 180) {
		return true, wrong("place_wrong")
	}
	w.Other, w.Place = flow.OtherLocation, &flow.Place{Lat: lat, Lon: lon}
	return true, nil
}

// nowhere is outside of any map.
const nowhere = 1000

// degrees reads a figure that the pattern has found; south and west count
// below zero.
func degrees(figure, side string) float64 {
	v, err := strconv.ParseFloat(figure, 64)
	if err != nil || side != "" && strings.ContainsAny(figure, "+-") {
		return nowhere
	}
	if strings.ContainsAny(side, "SsWw") {
		return -v
	}
	return v
}
