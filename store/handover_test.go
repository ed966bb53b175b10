package store

import (
	"errors"
	"fmt"
	"slices"
	"testing"
	"time"
)

func TestHandOver(t *testing.T) {
	s := fresh(t, Options{Now: func() time.Time { return noon }})
	must(t, s.Accept("b", 7, []Arrival{arrival("k1", "c", "x"), arrival("k2", "c", "y")}))
	must(t, s.Accept("a", -3, nil))
	_, err := s.Commit(Turn{Update: "k1"})
	must(t, err)
	queueUp(t, s, plainParcel("c", "1"), urgentParcel("c", "2"), plainParcel("d", "3"), plainParcel("d", "4"))
	must(t, s.Sent(3, "live", []byte("m")))
	must(t, s.Delay(1, noon.Add(time.Hour), "429"))
	must(t, s.SetSecret("name", []byte("v")))
	var got []string
	note := func(args ...any) error {
		got = append(got, fmt.Sprint(args...))
		return nil
	}
	all := Handover{
		Source: func(source string, cursor int64, at time.Time) error {
			return note("source ", source, " ", cursor, " ", at.Equal(noon))
		},
		Mark: func(update string) error { return note("mark ", update) },
		Parcel: func(d Due) error {
			return note("parcel ", d.ID, " ", d.Chat, " ", d.Urgent, " ", string(d.Body), " ", d.Tries)
		},
		Receipt: func(chat, slot string, receipt []byte) error {
			return note("receipt ", chat, " ", slot, " ", string(receipt))
		},
		Secret: func(name string, value []byte) error { return note("secret ", name, " ", string(value)) },
	}
	must(t, s.HandOver(all))
	want := []string{"source a -3 true", "source b 7 true", "mark k1", "parcel 1 c false 1 1", "parcel 2 c true 2 0", "parcel 4 d false 4 0", "receipt d live m", "secret name v"}
	if !slices.Equal(got, want) {
		t.Errorf("got %q, want %q", got, want)
	}
	must(t, s.HandOver(Handover{}))
	enough := errors.New("enough")
	if err := s.HandOver(Handover{Mark: func(string) error { return enough }}); err != enough {
		t.Errorf("got %v, want what the part returned", err)
	}
}
