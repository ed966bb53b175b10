package main

import (
	"bytes"
	"crypto/sha256"
	"encoding/hex"
	"image"
	"image/png"
	"os"
	"path/filepath"
	"testing"

	"linetender/flow"
	"linetender/flow/telegram/apitest"
)

// TestServeKeepsPhotos: a photo is kept in the data folder where that is asked
// for, and the log says which; without it the log has the channel's number only.
func TestServeKeepsPhotos(t *testing.T) {
	t.Parallel()
	var b bytes.Buffer
	if err := png.Encode(&b, image.NewGray(image.Rect(0, 0, 64, 48))); err != nil {
		t.Fatal(err)
	}
	digest := sha256.Sum256(b.Bytes())
	sum := hex.EncodeToString(digest[:])
	for _, args := range [][]string{{"--anyone"}, {"--anyone", "--keep-photos"}} {
		srv := apitest.New(t)
		dir := t.TempDir()
		p := serving(t, srv, dir, args...)
		ada := srv.User(1001, "Ada").Private()
		ada.Say("/start")
		srv.Wait("the first question", saidTo(srv, ada.Chat(), "Is anyone hurt"))
		ada.Photo("the anchor", b.Bytes())
		srv.Wait("the answer", saidTo(srv, ada.Chat(), "Kept with the job"))
		finish(t, srv, p)

		var files []flow.File
		for _, e := range jobEntries(t, dir)[chatName(ada)] {
			files = append(files, e.Heard.Files...)
		}
		if len(files) != 1 || files[0].ID == "" || files[0].Same == "" {
			t.Fatalf("%v: the log has %+v", args, files)
		}
		kept, err := os.ReadFile(filepath.Join(dir, "photos", sum+".png"))
		if wanted := len(args) == 2; wanted != (err == nil) || wanted != (files[0].Sum == sum) || wanted && !bytes.Equal(kept, b.Bytes()) {
			t.Errorf("%v: noted %+v, reading what is kept gives %v", args, files[0], err)
		}
	}
}
