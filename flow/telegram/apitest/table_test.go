package apitest

import "testing"

func TestTableHoldsThePublishedFacts(t *testing.T) {
	send := api.methods["sendMessage"]
	text, ok := send.field("text")
	if !ok || !text.required || text.low != 1 || text.high != 4096 || text.unit != 'u' {
		t.Errorf("sendMessage.text = %+v", text)
	}
	data, _ := api.types["InlineKeyboardButton"].field("callback_data")
	if data.low != 1 || data.high != 64 || data.unit != 'b' {
		t.Errorf("callback_data = %+v", data)
	}
	for name := range handlers {
		if _, ok := api.methods[name]; !ok {
			t.Errorf("%s is played but not in the table", name)
		}
	}
	for name := range api.methods {
		if _, ok := handlers[name]; !ok && name != "getUpdates" {
			t.Errorf("%s is in the table but not played", name)
		}
	}
}

func TestTableRefusesWhatItCannotRead(t *testing.T) {
	for _, bad := range []string{"x what", " orphan !String", "m onlyname", "t T\n f !String 1to5u", "t T\n f"} {
		if _, err := readTable(bad); err == nil {
			t.Errorf("readTable(%q) gave no error", bad)
		}
	}
}
