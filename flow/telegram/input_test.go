package telegram

import (
	"encoding/json"
	"testing"
	"testing/synctest"
	"time"
	"unicode/utf8"

	"github.com/google/go-cmp/cmp"

	"linetender/flow"
	"linetender/flow/telegram/apitest"
)

// decoded runs an update through the server, the poll and Decode.
func decoded(t *testing.T, g *ground, update int64) (flow.Input, bool) {
	t.Helper()
	g.srv.Wait("the update", func() bool { return g.srv.Pending() == 0 })
	for _, a := range g.box.got() {
		if a.Key == key(update) {
			in, ok, err := g.ch.Decode(a)
			if err != nil {
				t.Fatal(err)
			}
			return in, ok
		}
	}
	t.Fatalf("update %d was not kept", update)
	return flow.Input{}, false
}

func TestWhatIsSaidInPrivate(t *testing.T) {
	polling(t, func(t *testing.T, g *ground, _ func() error) {
		seat := g.srv.User(4, "Ann\u202e").Private()
		at := time.Now().UTC().Truncate(time.Second)
		base := flow.Input{Chat: "telegram/4", Person: flow.Person{ID: "telegram/4", Name: "Ann"}, At: at, Direct: true}
		with := func(change func(*flow.Input)) flow.Input {
			in := base
			change(&in)
			return in
		}
		first := seat.Say("bout 2.4 ton")
		live := seat.LiveLocation(57.2, 9.3, 12)
		for name, tc := range map[string]struct {
			sent apitest.Sent
			want flow.Input
		}{
			"text":             {first, with(func(i *flow.Input) { i.Text = "bout 2.4 ton" })},
			"command":          {seat.Say("/stop"), with(func(i *flow.Input) { i.Text = "/stop" })},
			"command by name":  {seat.Say("/Stop@" + apitest.BotName + " now"), with(func(i *flow.Input) { i.Text = "/Stop now" })},
			"after wide runes": {seat.Say("é🚙 /help@" + apitest.BotName), with(func(i *flow.Input) { i.Text = "é🚙 /help" })},
			"deep link":        {seat.Say("/start J-4F7"), with(func(i *flow.Input) { i.Text = "/start J-4F7" })},
			"voice":            {seat.Voice(4), with(func(i *flow.Input) { i.Other = flow.OtherVoice })},
			"sticker":          {seat.Sticker("🚜"), with(func(i *flow.Input) { i.Other = flow.OtherSticker })},
			"location":         {seat.Location(57.1, 9.2), with(func(i *flow.Input) { i.Other, i.Place = flow.OtherLocation, &flow.Place{Lat: 57.1, Lon: 9.2} })},
			"file": {seat.Document("plan.pdf", []byte("%PDF-1.7")), with(func(i *flow.Input) {
				i.Other = flow.OtherFile
				i.Files = []flow.File{{Kind: flow.OtherFile, ID: "BQAC-document-2", Same: "uBQAC-document-2", Name: "plan.pdf", Type: "application/pdf", Size: 8}}
			})},
			"photo, the largest of its sizes": {seat.Photo("the ditch", []byte("pixels")), with(func(i *flow.Input) {
				i.Other, i.Text = flow.OtherPhoto, "the ditch"
				i.Files = []flow.File{{Kind: flow.OtherPhoto, ID: "BQAC-photo-3", Same: "uBQAC-photo-3", Type: "image/jpeg", Size: 6}}
			})},
			"video": {seat.Video("it slips", []byte("film")), with(func(i *flow.Input) {
				i.Other, i.Text = flow.OtherVideo, "it slips"
				i.Files = []flow.File{{Kind: flow.OtherVideo, ID: "BQAC-video-4", Same: "uBQAC-video-4", Type: "video/mp4", Size: 4}}
			})},
			"live location": {live, with(func(i *flow.Input) { i.Other, i.Place = flow.OtherLocation, &flow.Place{Lat: 57.2, Lon: 9.3, Good: 12} })},
			"venue": {seat.Other("venue", map[string]any{"title": "Quarry", "address": "A road", "location": map[string]any{"latitude": 1.5, "longitude": -2.5}}),
				with(func(i *flow.Input) { i.Other, i.Place = flow.OtherLocation, &flow.Place{Lat: 1.5, Lon: -2.5} })},
			"stop under a photo": {seat.Photo("/stop@"+apitest.BotName, []byte("p")), with(func(i *flow.Input) {
				i.Other, i.Text = flow.OtherPhoto, "/stop"
				i.Files = []flow.File{{Kind: flow.OtherPhoto, ID: "BQAC-photo-5", Same: "uBQAC-photo-5", Type: "image/jpeg", Size: 1}}
			})},
			"contact": {seat.Other("contact", map[string]any{"phone_number": "5550100", "first_name": "Bo"}),
				with(func(i *flow.Input) { i.Other = flow.OtherContact })},
		} {
			in, ok := decoded(t, g, tc.sent.Update)
			if diff := cmp.Diff(tc.want, in); !ok || diff != "" {
				t.Errorf("%s: %v (-want +got)\n%s", name, ok, diff)
			}
		}
		moved := seat.Move(live.Message, 57.25, 9.35)
		if in, ok := decoded(t, g, moved.Update); !ok || !in.Edited || in.Place == nil || *in.Place != (flow.Place{Lat: 57.25, Lon: 9.35}) {
			t.Errorf("a live location that moved: %v %+v", ok, in)
		}
		edit := seat.Edit(first.Message, "2.6 ton")
		if in, ok := decoded(t, g, edit.Update); !ok || !in.Edited || in.Text != "2.6 ton" {
			t.Errorf("edit: %v %+v", ok, in)
		}
	})
}

func TestWhatIsSaidInAGroup(t *testing.T) {
	polling(t, func(t *testing.T, g *ground, _ func() error) {
		ann, bo := g.srv.User(4, "Ann"), g.srv.User(5, "Bo")
		group := g.srv.Group(-7, "Ditch", ann)
		seat := group.Seat(bo)
		g.srv.Privacy(false)
		for _, tc := range []struct {
			text, want   string
			ok, directly bool
		}{
			{"2.4 t", "2.4 t", true, false},
			{"/stop", "/stop", true, true},
			{"/stop@ROPE_PARTY_BOT", "/stop", true, true},
			{"/stop@other_bot", "", false, false},
		} {
			in, ok := decoded(t, g, seat.Say(tc.text).Update)
			if ok != tc.ok || in.Text != tc.want || in.Direct != tc.directly || ok && (!in.Group || in.Chat != "telegram/-7" || in.Person.ID != "telegram/5") {
				t.Errorf("%q: %v %+v", tc.text, ok, in)
			}
		}
		if in, ok := decoded(t, g, group.Title(ann, "Ditch 2").Update); ok {
			t.Errorf("a service message gives %+v", in)
		}
	})
}

func TestAReplyInAGroupIsMeantForTheProgram(t *testing.T) {
	polling(t, func(t *testing.T, g *ground, _ func() error) {
		ann := g.srv.User(4, "Ann")
		seat := g.srv.Group(-7, "Ditch", ann).Seat(ann)
		g.box.post(t, -7, question("How heavy?", "q", "Don't know"))
		if err := g.ch.Sender().Drain(t.Context()); err != nil {
			t.Fatal(err)
		}
		in, ok := decoded(t, g, seat.Reply(g.srv.Last(-7).ID, "2.4 t").Update)
		if !ok || !in.Direct || !in.Partial || in.Text != "2.4 t" {
			t.Errorf("reply: %v %+v", ok, in)
		}
		press := seat.Press(g.srv.Last(-7).ID, "Don't know")
		in, ok = decoded(t, g, press.Update)
		want := flow.Press{Session: "K7Q2", Revision: 3, Choice: "don't know"}
		if !ok || in.Press == nil || *in.Press != want || in.Handle != press.ID || !in.Direct || in.Person.ID != "telegram/4" {
			t.Errorf("press: %v %+v", ok, in)
		}
	})
}

func TestUpdatesThatAServerInMemoryCannotMake(t *testing.T) {
	me := account{id: 9, name: "rope_party_bot"}
	for _, tc := range []struct {
		name, raw string
		ok        bool
		want      flow.Input
	}{
		{"mention", `{"update_id":1,"message":{"message_id":1,"date":5,"chat":{"id":-7,"type":"supergroup"},"from":{"id":4,"first_name":"Ann"},
			"text":"@Rope_Party_Bot, 2.4 t","entities":[{"type":"mention","offset":0,"length":15}]}}`, true,
			flow.Input{Chat: "telegram/-7", Text: "2.4 t", Group: true, Partial: true, Direct: true, Person: flow.Person{ID: "telegram/4", Name: "Ann"}}},
		{"topic", `{"update_id":1,"message":{"message_id":1,"date":5,"message_thread_id":12,"is_topic_message":true,
			"chat":{"id":-7,"type":"supergroup"},"from":{"id":4,"first_name":"Ann","last_name":"Lee"},"text":"hi"}}`, true,
			flow.Input{Chat: "telegram/-7/12", Text: "hi", Group: true, Partial: true, Person: flow.Person{ID: "telegram/4", Name: "Ann Lee"}}},
		{"thread of replies", `{"update_id":1,"message":{"message_id":1,"date":5,"message_thread_id":12,
			"chat":{"id":-7,"type":"supergroup"},"from":{"id":4,"first_name":"Ann"},"text":"hi"}}`, true,
			flow.Input{Chat: "telegram/-7", Text: "hi", Group: true, Partial: true, Person: flow.Person{ID: "telegram/4", Name: "Ann"}}},
		{"anonymous administrator", `{"update_id":1,"message":{"message_id":1,"date":5,"chat":{"id":-7,"type":"supergroup","title":"Ditch"},
			"from":{"id":1087968824,"is_bot":true,"first_name":"Group"},"sender_chat":{"id":-7,"type":"supergroup","title":"Ditch"},
			"text":"/stop","entities":[{"type":"bot_command","offset":0,"length":5}]}}`, true,
			flow.Input{Chat: "telegram/-7", Text: "/stop", Group: true, Partial: true, Direct: true, Person: flow.Person{ID: "telegram/-7", Name: "Ditch"}}},
		{"another bot", `{"update_id":1,"message":{"message_id":1,"date":5,"chat":{"id":-7,"type":"supergroup"},"from":{"id":8,"is_bot":true,"first_name":"B"},"text":"stop"}}`, false, flow.Input{}},
		{"animation, which is a document too", `{"update_id":1,"message":{"message_id":1,"date":5,"chat":{"id":4,"type":"private"},"from":{"id":4,"first_name":"Ann"},"animation":{},"document":{}}}`, true,
			flow.Input{Chat: "telegram/4", Other: flow.OtherVideo, Direct: true, Person: flow.Person{ID: "telegram/4", Name: "Ann"}}},
		{"a picture of a later kind, and no place on this earth", `{"update_id":1,"message":{"message_id":1,"date":5,"chat":{"id":4,"type":"private"},"from":{"id":4,"first_name":"Ann"},
			"photo":{"sizes":7},"location":{"latitude":91,"longitude":0},"caption":"stop"}}`, true,
			flow.Input{Chat: "telegram/4", Text: "stop", Other: flow.OtherPhoto, Direct: true, Person: flow.Person{ID: "telegram/4", Name: "Ann"}}},
		{"a member that is null", `{"update_id":1,"message":{"message_id":1,"date":5,"chat":{"id":4,"type":"private"},"from":{"id":4,"first_name":"Ann"},"voice":null,"text":"hi"}}`, true,
			flow.Input{Chat: "telegram/4", Text: "hi", Direct: true, Person: flow.Person{ID: "telegram/4", Name: "Ann"}}},
		{"press on a message too old to be shown", `{"update_id":1,"callback_query":{"id":"77","from":{"id":4,"first_name":"Ann"},"chat_instance":"1","data":"1:K:2:yes",
			"message":{"chat":{"id":4,"type":"private"},"message_id":3,"date":0}}}`, true,
			flow.Input{Chat: "telegram/4", Press: &flow.Press{Session: "K", Revision: 2, Choice: "yes"}, Handle: "77", Direct: true, Person: flow.Person{ID: "telegram/4", Name: "Ann"}}},
		{"press of another release", `{"update_id":1,"callback_query":{"id":"77","from":{"id":4,"first_name":"Ann"},"chat_instance":"1","data":"0/yes",
			"message":{"chat":{"id":4,"type":"private"},"message_id":3,"date":0}}}`, true,
			flow.Input{Chat: "telegram/4", Press: &flow.Press{}, Handle: "77", Direct: true, Person: flow.Person{ID: "telegram/4", Name: "Ann"}}},
		{"entities out of bounds", `{"update_id":1,"message":{"message_id":1,"date":5,"chat":{"id":4,"type":"private"},"from":{"id":4,"first_name":"Ann"},
			"text":"🚜 hi","entities":[{"type":"bot_command","offset":1,"length":3},{"type":"mention","offset":-1,"length":90}]}}`, true,
			flow.Input{Chat: "telegram/4", Text: "🚜 hi", Direct: true, Person: flow.Person{ID: "telegram/4", Name: "Ann"}}},
		{"membership", `{"update_id":1,"my_chat_member":{"chat":{"id":-7,"type":"group"},"from":{"id":4},"date":5,"new_chat_member":{"status":"member"}}}`, false, flow.Input{}},
	} {
		u, err := readUpdate([]byte(tc.raw))
		if err != nil {
			t.Errorf("%s: %v", tc.name, err)
			continue
		}
		in, ok := me.input(u, time.Unix(5, 0))
		tc.want.At = in.At
		if diff := cmp.Diff(tc.want, in); ok != tc.ok || diff != "" {
			t.Errorf("%s: %v (-want +got)\n%s", tc.name, ok, diff)
		}
	}
}

func TestAnArrivalOfAnotherShapeIsAnError(t *testing.T) {
	g := setUp(t)
	in, ok, err := g.ch.Decode(flow.Arrival{Body: []byte(`{"update_id":1,"message":{"text":7}}`)})
	if err == nil || ok || !cmp.Equal(in, flow.Input{}) {
		t.Errorf("%+v %v %v", in, ok, err)
	}
}

func FuzzDecode(f *testing.F) {
	seeds := 0
	synctestSeeds(f, func(raw []byte) { f.Add(raw); seeds++ })
	if seeds < 8 {
		f.Fatalf("only %d seeds", seeds)
	}
	f.Add([]byte(`{"update_id":1,"message":{"message_id":1,"date":5,"chat":{"id":-7,"type":"supergroup"},"from":{"id":4},"text":"🚜 /stop@rope_party_bot","entities":[{"type":"bot_command","offset":3,"length":20}]}}`))
	me := account{id: 9, name: "rope_party_bot"}
	f.Fuzz(func(t *testing.T, raw []byte) {
		u, err := readUpdate(raw)
		if err != nil {
			if u.Message != nil || u.Press != nil || u.ID < 0 {
				t.Errorf("an error with %+v", u)
			}
			return
		}
		in, ok := me.input(u, time.Unix(5, 0))
		if !ok {
			if !cmp.Equal(in, flow.Input{}) {
				t.Errorf("nothing for the conversation, but %+v", in)
			}
			return
		}
		id, thread, has := u.chat()
		if _, _, known := readChatKey(in.Chat); in.Chat != ChatKey(id, thread) || has && !known {
			t.Errorf("chat %q of an update of %d, %d", in.Chat, id, thread)
		}
		if in.Press == nil && in.Text == "" && in.Other == "" {
			t.Error("an input without anything in it")
		}
		for _, f := range in.Files {
			if f.ID == "" || f.Size < 0 || len(f.Name) > longestName || json.Valid(raw) && !utf8.ValidString(f.Name) {
				t.Errorf("file %+v", f)
			}
		}
		if p := in.Place; p != nil && !(-90 <= p.Lat && p.Lat <= 90 && -180 <= p.Lon && p.Lon <= 180 && p.Good >= 0) {
			t.Errorf("place %+v", p)
		}
		if !utf8.ValidString(in.Person.Name) {
			t.Errorf("name %q", in.Person.Name)
		}
		if json.Valid(raw) && !utf8.ValidString(in.Text) {
			t.Errorf("text %q", in.Text)
		}
	})
}

// synctestSeeds gives the updates that the test server makes of everything a person can do.
func synctestSeeds(f *testing.F, add func([]byte)) {
	f.Helper()
	srv := apitest.New(f)
	ann := srv.User(4, "Ann")
	seat := ann.Private()
	sent := seat.Say("/start J-4F7")
	seat.Edit(sent.Message, "2,4 t")
	seat.Voice(3)
	seat.Sticker("🚜")
	seat.Photo("the ditch", []byte("x"))
	seat.Location(57, 9)
	seat.Move(seat.LiveLocation(57, 9, 3).Message, 57.1, 9)
	seat.Video("it slips", []byte("x"))
	seat.Document("a.pdf", []byte("x"))
	group := srv.Group(-7, "Ditch", ann)
	group.Seat(srv.User(5, "Bo")).Say("/stop@" + apitest.BotName)
	group.Migrate(ann)
	ann.Block()
	for _, raw := range srv.Waiting() {
		add(raw)
	}
}

func FuzzButtonData(f *testing.F) {
	for _, s := range []string{"1:K7Q2:3:yes", "1:K7Q2:3:a:b", "1::0:x", "1:K:03:x", "2:K:3:x", "", ":::", "1:K:99999999999999999999:x"} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, data string) {
		p := readButtonData(data)
		if p == (flow.Press{}) {
			return
		}
		back, ok := buttonData(p)
		if !ok || back != data {
			t.Errorf("%q was read as %+v, which is written %q, %v", data, p, back, ok)
		}
	})
}

func TestButtonData(t *testing.T) {
	for _, tc := range []struct {
		p    flow.Press
		want string
		ok   bool
	}{
		{flow.Press{Session: "K7Q2", Revision: 12, Choice: "yes"}, "1:K7Q2:12:yes", true},
		{flow.Press{Session: "K7Q2", Revision: 12, Choice: "a:b"}, "1:K7Q2:12:a:b", true},
		{flow.Press{Session: "K:Q", Revision: 12, Choice: "yes"}, "", false},
		{flow.Press{Session: "K7Q2", Revision: 12}, "", false},
		{flow.Press{Session: "K7Q2", Revision: 12, Choice: "twenty-eight_bytes_of_choice_and_then_rather_more"}, "1:K7Q2:12:twenty-eight_bytes_of_choice_and_then_rather_more", true},
		{flow.Press{Session: "K7Q2", Revision: 12, Choice: "twenty-eight_bytes_of_choice_and_then_rather_more_yet_to_come"}, "", false},
	} {
		got, ok := buttonData(tc.p)
		if ok != tc.ok || ok && got != tc.want {
			t.Errorf("%+v: %q %v", tc.p, got, ok)
		}
		if ok && readButtonData(got) != tc.p {
			t.Errorf("%q is read as %+v", got, readButtonData(got))
		}
	}
}

func TestStalePressesAreAnsweredAndChangeNothingHere(t *testing.T) {
	polling(t, func(t *testing.T, g *ground, _ func() error) {
		ann := g.srv.User(4, "Ann").Private()
		ann.Say("hi")
		g.box.post(t, 4, question("Sure?", "q", "Yes"))
		if err := g.ch.Sender().Drain(t.Context()); err != nil {
			t.Fatal(err)
		}
		press := ann.PressOld(g.srv.Last(4).ID, "0:of:another:release")
		in, ok := decoded(t, g, press.Update)
		if !ok || in.Press == nil || *in.Press != (flow.Press{}) {
			t.Errorf("%v %+v", ok, in)
		}
		time.Sleep(patience)
		synctest.Wait()
		if _, answered := press.Answer(); !answered {
			t.Error("the phone is left waiting")
		}
	})
}
