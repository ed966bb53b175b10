package apitest

import (
	"bytes"
	"encoding/json"
	"fmt"
	"image"
	"image/png"
	"io"
	"mime/multipart"
	"net/http"
	"net/url"
	"strings"
	"testing"
	"time"
)

type reply struct {
	status     int
	OK         bool
	Code       int    `json:"error_code"`
	Text       string `json:"description"`
	Result     json.RawMessage
	Parameters struct {
		RetryAfter int   `json:"retry_after"`
		Migrate    int64 `json:"migrate_to_chat_id"`
	}
}

// call posts a JSON body.
func call(t *testing.T, s *Server, method string, p map[string]any) reply {
	t.Helper()
	if p == nil {
		p = map[string]any{}
	}
	body, err := json.Marshal(p)
	if err != nil {
		t.Fatal(err)
	}
	return callBody(t, s, method, "application/json", bytes.NewReader(body))
}

func callBody(t *testing.T, s *Server, method, kind string, body io.Reader) reply {
	t.Helper()
	resp, err := s.Client().Post(s.URL()+"/bot"+s.Token()+"/"+method, kind, body)
	if err != nil {
		t.Fatalf("%s: %v", method, err)
	}
	defer resp.Body.Close()
	var r reply
	if err := json.NewDecoder(resp.Body).Decode(&r); err != nil {
		t.Fatalf("%s: %v", method, err)
	}
	r.status = resp.StatusCode
	return r
}

func wantViolation(t *testing.T, s *Server, part string) {
	t.Helper()
	v := s.TakeViolations()
	if len(v) != 1 || !strings.Contains(v[0], part) {
		t.Errorf("violations = %q, want one with %q", v, part)
	}
}

func TestBodiesOfEveryKindMeanTheSame(t *testing.T) {
	s := New(t)
	s.User(5, "Bo").Private().Say("hi")
	markup := `{"inline_keyboard":[[{"text":"Yes","callback_data":"y","copy_text":{"text":""}}]]}`

	call(t, s, "sendMessage", map[string]any{"chat_id": 5, "text": "one", "reply_markup": json.RawMessage(markup)})
	form := url.Values{"chat_id": {"5"}, "text": {"one"}, "reply_markup": {markup}}
	callBody(t, s, "sendMessage", "application/x-www-form-urlencoded", strings.NewReader(form.Encode()))
	var body bytes.Buffer
	w := multipart.NewWriter(&body)
	for k := range form {
		w.WriteField(k, form.Get(k))
	}
	w.Close()
	callBody(t, s, "sendMessage", w.FormDataContentType(), &body)

	said := s.Said(5)
	if len(said) != 3 {
		t.Fatalf("said %d messages, want 3", len(said))
	}
	for _, m := range said {
		if data, ok := m.Button("Yes"); m.Text != "one" || !ok || data != "y" {
			t.Errorf("message %+v", m)
		}
	}
}

func TestNumericTextStaysText(t *testing.T) {
	s := New(t)
	s.User(5, "Bo").Private().Say("hi")
	callBody(t, s, "sendMessage", "application/x-www-form-urlencoded", strings.NewReader("chat_id=5&text=42"))
	if got := s.Last(5).Text; got != "42" {
		t.Errorf("text = %q, want 42", got)
	}
}

func TestBreachesOfTheAPI(t *testing.T) {
	button := func(b map[string]any) map[string]any {
		return map[string]any{"inline_keyboard": [][]any{{b}}}
	}
	var many []any
	for i := range 101 {
		many = append(many, []any{map[string]any{"text": "x", "callback_data": fmt.Sprint(i)}})
	}
	for _, tc := range []struct {
		name, method string
		p            map[string]any
		want         string
	}{
		{"unknown field", "sendMessage", map[string]any{"chat_id": 5, "text": "a", "colour": "red"}, "colour is not a field"},
		{"missing field", "sendMessage", map[string]any{"chat_id": 5}, "text is required"},
		{"wrong type", "sendMessage", map[string]any{"chat_id": 5, "text": 7}, "text must be String"},
		{"empty text", "sendMessage", map[string]any{"chat_id": 5, "text": ""}, "text is 0"},
		{"blank text", "sendMessage", map[string]any{"chat_id": 5, "text": " \n"}, "message text is empty"},
		{"long text", "sendMessage", map[string]any{"chat_id": 5, "text": strings.Repeat("x", 4097)}, "4097"},
		{"long in units", "sendMessage", map[string]any{"chat_id": 5, "text": strings.Repeat("🚜", 2049)}, "4098"},
		{"long after entities", "sendMessage", map[string]any{"chat_id": 5, "text": "<b>" + strings.Repeat("x", 4097) + "</b>", "parse_mode": "HTML"}, "too long"},
		{"bad HTML", "sendMessage", map[string]any{"chat_id": 5, "text": "a < b", "parse_mode": "HTML"}, "can't parse entities"},
		{"entity outside", "sendMessage", map[string]any{"chat_id": 5, "text": "ab", "entities": []any{map[string]any{"type": "bold", "offset": 1, "length": 2}}}, "does not lie"},
		{"long data", "sendMessage", map[string]any{"chat_id": 5, "text": "a", "reply_markup": button(map[string]any{"text": "b", "callback_data": strings.Repeat("é", 33)})}, "66 bytes"},
		{"empty data", "sendMessage", map[string]any{"chat_id": 5, "text": "a", "reply_markup": button(map[string]any{"text": "b", "callback_data": ""})}, "0 bytes"},
		{"button of no kind", "sendMessage", map[string]any{"chat_id": 5, "text": "a", "reply_markup": button(map[string]any{"text": "b"})}, "exactly one kind"},
		{"button of two kinds", "sendMessage", map[string]any{"chat_id": 5, "text": "a", "reply_markup": button(map[string]any{"text": "b", "callback_data": "c", "url": "https://rope.example"})}, "exactly one kind"},
		{"101 buttons", "sendMessage", map[string]any{"chat_id": 5, "text": "a", "reply_markup": map[string]any{"inline_keyboard": many}}, "101 buttons"},
		{"long callback answer", "answerCallbackQuery", map[string]any{"callback_query_id": "1", "text": strings.Repeat("x", 201)}, "201"},
		{"command syntax", "setMyCommands", map[string]any{"commands": []any{map[string]any{"command": "Stop!", "description": "d"}}}, "BOT_COMMAND_INVALID"},
		{"command without words", "setMyCommands", map[string]any{"commands": []any{map[string]any{"command": "stop", "description": ""}}}, "description is 0"},
		{"caption too long", "editMessageCaption", map[string]any{"chat_id": 5, "message_id": 1, "caption": strings.Repeat("x", 1025)}, "1025"},
		{"webhook without TLS", "setWebhook", map[string]any{"url": "http://rope.example/hook"}, "HTTPS"},
		{"webhook port", "setWebhook", map[string]any{"url": "https://rope.example:9000/hook"}, "ports"},
		{"webhook secret", "setWebhook", map[string]any{"url": "https://rope.example/hook", "secret_token": "a b"}, "unallowed"},
		{"limit", "getUpdates", map[string]any{"limit": 101}, "101"},
		{"kind of update", "getUpdates", map[string]any{"allowed_updates": []any{"mesage"}}, "mesage"},
	} {
		t.Run(tc.name, func(t *testing.T) {
			s := New(t)
			s.User(5, "Bo").Private().Say("hi")
			r := call(t, s, tc.method, tc.p)
			if tc.method != "getUpdates" && (r.OK || r.Code != http.StatusBadRequest) {
				t.Errorf("answered %+v, want a 400", r)
			}
			wantViolation(t, s, tc.want)
		})
	}
}

func TestLimitsAreReachedExactly(t *testing.T) {
	s := New(t)
	s.User(5, "Bo").Private().Say("hi")
	for _, text := range []string{strings.Repeat("🚜", 2048), strings.Repeat("x", 4096)} {
		if r := call(t, s, "sendMessage", map[string]any{"chat_id": 5, "text": text}); !r.OK {
			t.Errorf("%d units refused: %s", Units(text), r.Text)
		}
	}
	bold := "<b>" + strings.Repeat("x", 4000) + "</b>" + strings.Repeat("&amp;", 96)
	if r := call(t, s, "sendMessage", map[string]any{"chat_id": 5, "text": bold, "parse_mode": "HTML"}); !r.OK {
		t.Errorf("4,096 units after entities refused: %s", r.Text)
	}
}

func TestUnknownMethodAndToken(t *testing.T) {
	s := New(t)
	if r := call(t, s, "sendMesage", nil); r.Code != http.StatusNotFound {
		t.Errorf("answered %+v, want 404", r)
	}
	wantViolation(t, s, "sendMesage")
	resp, err := s.Client().Get(s.URL() + "/bot1:wrong/getMe")
	if err != nil {
		t.Fatal(err)
	}
	resp.Body.Close()
	if resp.StatusCode != http.StatusUnauthorized {
		t.Errorf("wrong token: %d, want 401", resp.StatusCode)
	}
	s.Revoke()
	if r := call(t, s, "getMe", nil); r.Code != http.StatusUnauthorized {
		t.Errorf("revoked token: %+v, want 401", r)
	}
}

func TestOrdinaryRefusalsAreNoViolations(t *testing.T) {
	s := New(t)
	bo := s.User(5, "Bo")
	bo.Private().Say("hi")
	send := func(chat int64) reply {
		return call(t, s, "sendMessage", map[string]any{"chat_id": chat, "text": "a"})
	}
	if r := send(6); r.Code != 400 || !strings.Contains(r.Text, "chat not found") {
		t.Errorf("unknown chat: %+v", r)
	}
	send(5)
	id := s.Last(5).ID
	edit := map[string]any{"chat_id": 5, "message_id": id, "text": "a"}
	if r := call(t, s, "editMessageText", edit); r.Code != 400 || !strings.Contains(r.Text, "message is not modified") {
		t.Errorf("same content: %+v", r)
	}
	edit["text"] = "b"
	if r := call(t, s, "editMessageText", edit); !r.OK || s.Last(5).Text != "b" || s.Last(5).Edits != 1 {
		t.Errorf("edit: %+v, shown %+v", r, s.Last(5))
	}
	s.Freeze(5, id)
	edit["text"] = "c"
	if r := call(t, s, "editMessageText", edit); !strings.Contains(r.Text, "can't be edited") {
		t.Errorf("frozen: %+v", r)
	}
	edit["message_id"] = 999
	if r := call(t, s, "editMessageText", edit); !strings.Contains(r.Text, "message to edit not found") {
		t.Errorf("unknown message: %+v", r)
	}
	bo.Block()
	if r := send(5); r.Code != 403 {
		t.Errorf("blocked: %+v", r)
	}
	bo.Unblock()
	g := s.Group(-7, "Ditch", bo)
	up := g.Migrate(bo)
	if r := send(-7); r.Code != 400 || r.Parameters.Migrate != up.Chat() {
		t.Errorf("migrated: %+v, want to %d", r, up.Chat())
	}
	if r := send(up.Chat()); !r.OK {
		t.Errorf("supergroup: %+v", r)
	}
	up.Kick(bo)
	if r := send(up.Chat()); r.Code != 403 {
		t.Errorf("kicked: %+v", r)
	}
}

func TestKeyboardGoesWhenAnEditBringsNone(t *testing.T) {
	s := New(t)
	bo := s.User(5, "Bo").Private()
	bo.Say("hi")
	keyboard := map[string]any{"inline_keyboard": [][]any{{map[string]any{"text": "Yes", "callback_data": "y"}}}}
	call(t, s, "sendMessage", map[string]any{"chat_id": 5, "text": "sure", "reply_markup": keyboard})
	id := s.Last(5).ID
	press := bo.Press(id, "Yes")
	if r := call(t, s, "answerCallbackQuery", map[string]any{"callback_query_id": press.ID, "text": "noted"}); !r.OK {
		t.Fatalf("%+v", r)
	}
	if a, ok := press.Answer(); !ok || a.Text != "noted" {
		t.Errorf("answer = %+v, %v", a, ok)
	}
	call(t, s, "editMessageReplyMarkup", map[string]any{"chat_id": 5, "message_id": id})
	if m := s.Last(5); len(m.Buttons) != 0 || m.Text != "sure" {
		t.Errorf("shown %+v", m)
	}
	press.Expire()
	if r := call(t, s, "answerCallbackQuery", map[string]any{"callback_query_id": press.ID}); r.Code != 400 {
		t.Errorf("old press: %+v", r)
	}
}

func TestMessagesThatForceAReplyCannotBeEdited(t *testing.T) {
	s := New(t)
	s.User(5, "Bo").Private().Say("hi")
	call(t, s, "sendMessage", map[string]any{"chat_id": 5, "text": "mass", "reply_markup": map[string]any{"force_reply": true}})
	r := call(t, s, "editMessageText", map[string]any{"chat_id": 5, "message_id": s.Last(5).ID, "text": "b"})
	if r.Code != 400 || !s.Last(5).Forced {
		t.Errorf("%+v", r)
	}
}

func picture(w, h int) []byte {
	var b bytes.Buffer
	png.Encode(&b, image.NewGray(image.Rect(0, 0, w, h)))
	return b.Bytes()
}

func upload(t *testing.T, s *Server, method, field string, data []byte) reply {
	t.Helper()
	var body bytes.Buffer
	w := multipart.NewWriter(&body)
	w.WriteField("chat_id", "5")
	part, _ := w.CreateFormFile(field, "plan.png")
	part.Write(data)
	w.Close()
	return callBody(t, s, method, w.FormDataContentType(), &body)
}

func TestPicturesAndFiles(t *testing.T) {
	s := New(t)
	s.User(5, "Bo").Private().Say("hi")
	if r := upload(t, s, "sendPhoto", "photo", picture(200, 100)); !r.OK {
		t.Fatalf("%+v", r)
	}
	var sent struct {
		Photo []struct {
			ID    string `json:"file_id"`
			Width int
		}
	}
	r := upload(t, s, "sendPhoto", "photo", picture(200, 100))
	if err := json.Unmarshal(r.Result, &sent); err != nil || len(sent.Photo) != 1 || sent.Photo[0].Width != 200 {
		t.Fatalf("%s: %v", r.Result, err)
	}
	if r := call(t, s, "sendPhoto", map[string]any{"chat_id": 5, "photo": sent.Photo[0].ID}); !r.OK {
		t.Errorf("by file_id: %+v", r)
	}
	f := call(t, s, "getFile", map[string]any{"file_id": sent.Photo[0].ID})
	var path struct {
		Path string `json:"file_path"`
	}
	json.Unmarshal(f.Result, &path)
	resp, err := s.Client().Get(s.URL() + "/file/bot" + s.Token() + "/" + path.Path)
	if err != nil {
		t.Fatal(err)
	}
	defer resp.Body.Close()
	if got, _ := io.ReadAll(resp.Body); !bytes.Equal(got, picture(200, 100)) {
		t.Errorf("downloaded %d bytes", len(got))
	}
	upload(t, s, "sendPhoto", "photo", picture(210, 10))
	wantViolation(t, s, "PHOTO_INVALID_DIMENSIONS")
	upload(t, s, "sendPhoto", "photo", []byte("no picture"))
	wantViolation(t, s, "IMAGE_PROCESS_FAILED")
	upload(t, s, "sendDocument", "document", nil)
	wantViolation(t, s, "non-empty")
	if r := upload(t, s, "sendDocument", "document", []byte("a,b")); !r.OK || string(s.Last(5).File.Data) != "a,b" {
		t.Errorf("%+v", r)
	}
}

func TestFaults(t *testing.T) {
	s := New(t)
	s.User(5, "Bo").Private().Say("hi")
	send := func() (*http.Response, error) {
		return s.Client().Post(s.URL()+"/bot"+s.Token()+"/sendMessage", "application/json", strings.NewReader(`{"chat_id":5,"text":"a"}`))
	}
	s.Fail(Fault{Kind: TooMany, RetryAfter: 7 * time.Second, Times: 1})
	if r := call(t, s, "sendMessage", map[string]any{"chat_id": 5, "text": "a"}); r.Code != 429 || r.Parameters.RetryAfter != 7 {
		t.Errorf("%+v", r)
	}
	s.Fail(Fault{Kind: Broken, Times: 1, Code: 502})
	if resp, err := send(); err != nil || resp.StatusCode != 502 {
		t.Errorf("broken: %v %v", resp, err)
	}
	s.Fail(Fault{Kind: Reset, Times: 1})
	if _, err := send(); err == nil {
		t.Error("reset: no error")
	}
	s.Fail(Fault{Kind: Half, Times: 1, Late: true})
	resp, err := send()
	if err != nil {
		t.Fatal(err)
	}
	if _, err := io.ReadAll(resp.Body); err == nil {
		t.Error("half: whole body read")
	}
	if n := len(s.Said(5)); n != 1 {
		t.Errorf("%d messages shown, want the one whose answer was cut", n)
	}
	s.Fail(Fault{Kind: Reset, Chat: 6})
	if resp, err := send(); err != nil || resp.StatusCode != 200 {
		t.Errorf("a fault for another chat struck: %v %v", resp, err)
	}
	outcomes := ""
	for _, c := range s.Calls("sendMessage") {
		outcomes += c.Outcome + "; "
	}
	want := "fault: too many; fault: broken; fault: reset; fault after the effect: half; ok; "
	if outcomes != want {
		t.Errorf("outcomes %q, want %q", outcomes, want)
	}
}
