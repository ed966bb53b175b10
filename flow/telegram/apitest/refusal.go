package apitest

import (
	"encoding/json"
	"fmt"
	"net/http"
)

// refusal is an error as the channel words it.
type refusal struct {
	code       int
	text       string
	retryAfter int
	migrateTo  int64
}

func (r *refusal) Error() string { return r.text }

func badRequest(format string, args ...any) *refusal {
	return &refusal{code: http.StatusBadRequest, text: "Bad Request: " + fmt.Sprintf(format, args...)}
}

func encodeAnswer(result any, err error) []byte {
	answer := map[string]any{"ok": true, "result": result}
	if err != nil {
		r := asRefusal(err)
		answer = map[string]any{"ok": false, "error_code": r.code, "description": r.text}
		extra := map[string]any{}
		if r.retryAfter > 0 {
			extra["retry_after"] = r.retryAfter
		}
		if r.migrateTo != 0 {
			extra["migrate_to_chat_id"] = r.migrateTo
		}
		if len(extra) > 0 {
			answer["parameters"] = extra
		}
	}
	body, errJSON := json.Marshal(answer)
	if errJSON != nil {
		panic("apitest: own answer: " + errJSON.Error())
	}
	return body
}

// checkAnswer holds the server's own answer to the API table: a likeness that answers what the
// channel never would proves nothing.
func checkAnswer(m shape, result any) {
	body, err := json.Marshal(result)
	var v any
	if err == nil {
		v, err = decodeJSON(body)
	}
	if err == nil {
		err = api.fits(m.returns, v, "answer")
	}
	if err != nil {
		panic(fmt.Sprintf("apitest: own answer to %s: %v", m.name, err))
	}
}

func asRefusal(err error) *refusal {
	if r, ok := err.(*refusal); ok {
		return r
	}
	return badRequest("%v", err)
}

func status(err error) int {
	if err == nil {
		return http.StatusOK
	}
	return asRefusal(err).code
}

func outcome(err error) string {
	if err == nil {
		return "ok"
	}
	r := asRefusal(err)
	return fmt.Sprintf("%d %s", r.code, r.text)
}

func writeRefusal(w http.ResponseWriter, r *refusal) {
	w.Header().Set("Content-Type", "application/json")
	w.WriteHeader(r.code)
	w.Write(encodeAnswer(nil, r))
}
