package contract

import (
	"errors"
	"sync"
	"testing"

	"linetender/store"
)

func testSecretIsMadeOnce(t *testing.T, h Harness) {
	s := h.open(t, nil)
	refuse := errors.New("no dice")
	if _, err := s.Secret("owner", func() ([]byte, error) { return []byte("half"), refuse }); !errors.Is(err, refuse) {
		t.Errorf("got %v, want make's own error", err)
	}
	var wg sync.WaitGroup
	got := make([]string, 8)
	for i := range got {
		wg.Go(func() {
			v, err := s.Secret("owner", func() ([]byte, error) { return []byte{byte('a' + i)}, nil })
			if err != nil {
				t.Error(err)
			}
			got[i] = string(v)
		})
	}
	wg.Wait()
	for _, g := range got {
		if g != got[0] || g == "" {
			t.Errorf("callers got %q, want all the same", got)
			break
		}
	}
	s = h.reopen(t, s)
	must(t, s.SetSecret("empty", nil))
	for name, want := range map[string]string{"owner": got[0], "empty": ""} {
		v, err := s.Secret(name, func() ([]byte, error) { t.Errorf("%s is made again", name); return nil, nil })
		if string(v) != want || v == nil || err != nil {
			t.Errorf("%s is %q, %v, want %q", name, v, err, want)
		}
	}
	must(t, s.SetSecret("owner", []byte("new")))
	if v, _ := s.Secret("owner", nil); string(v) != "new" {
		t.Errorf("got %q, want what was set", v)
	}
	must(t, s.DeleteSecret("owner"))
	must(t, s.DeleteSecret("owner"))
	if v, _ := s.Secret("owner", func() ([]byte, error) { return []byte("made"), nil }); string(v) != "made" {
		t.Errorf("got %q after deletion", v)
	}
	wantErr(t, s.SetSecret("", nil), store.ErrName)
	wantErr(t, s.DeleteSecret(""), store.ErrName)
	_, err := s.Secret("", nil)
	wantErr(t, err, store.ErrName)
}
