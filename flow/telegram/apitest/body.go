package apitest

import (
	"bytes"
	"encoding/json"
	"fmt"
	"io"
	"mime"
	"mime/multipart"
	"net/http"
	"net/url"
	"strings"
)

// maxBody is more than the largest upload that the channel takes (50 MB).
const maxBody = 51 << 20

// Upload is a file that came with a call.
type Upload struct {
	Name string
	Data []byte
}

// params are the parameters of one call after decoding: what JSON gives, with numbers as
// json.Number, and Upload for files.
type params map[string]any

// readParams decodes the body of a call, which may be JSON, a multipart form or an urlencoded
// form; parameters in the query count too. Form values are typed by the method's entry in the table.
func readParams(r *http.Request, m shape) (params, map[string]Upload, error) {
	body, err := io.ReadAll(io.LimitReader(r.Body, maxBody))
	if err != nil {
		return nil, nil, fmt.Errorf("read body: %w", err)
	}
	p, files := params{}, map[string]Upload{}
	if err := p.addForm(m, r.URL.Query()); err != nil {
		return nil, nil, err
	}
	kind, attrs, err := mime.ParseMediaType(r.Header.Get("Content-Type"))
	if err != nil && len(body) > 0 {
		return nil, nil, fmt.Errorf("content type %q: %w", r.Header.Get("Content-Type"), err)
	}
	if len(body) == 0 {
		return p, files, nil
	}
	switch kind {
	case "application/json":
		v, err := decodeJSON(body)
		if err != nil {
			return nil, nil, fmt.Errorf("JSON body: %w", err)
		}
		obj, ok := v.(map[string]any)
		if !ok {
			return nil, nil, fmt.Errorf("JSON body is not an object")
		}
		for k, v := range obj {
			p[k] = v
		}
	case "application/x-www-form-urlencoded":
		form, err := url.ParseQuery(string(body))
		if err != nil {
			return nil, nil, fmt.Errorf("form: %w", err)
		}
		if err := p.addForm(m, form); err != nil {
			return nil, nil, err
		}
	case "multipart/form-data":
		if err := p.addMultipart(m, files, body, attrs["boundary"]); err != nil {
			return nil, nil, err
		}
	default:
		return nil, nil, fmt.Errorf("content type %q is not one the channel reads", kind)
	}
	return p, files, nil
}

func (p params) addMultipart(m shape, files map[string]Upload, body []byte, boundary string) error {
	parts := multipart.NewReader(bytes.NewReader(body), boundary)
	for {
		part, err := parts.NextPart()
		if err == io.EOF {
			return nil
		}
		if err != nil {
			return fmt.Errorf("multipart body: %w", err)
		}
		data, err := io.ReadAll(part)
		if err != nil {
			return fmt.Errorf("multipart body: %w", err)
		}
		if part.FileName() == "" {
			if err := p.addValue(m, part.FormName(), string(data)); err != nil {
				return err
			}
			continue
		}
		file := Upload{Name: part.FileName(), Data: data}
		if _, ok := m.field(part.FormName()); ok {
			p[part.FormName()] = file
		} else {
			files[part.FormName()] = file // named by an attach:// address in another field
		}
	}
}

func (p params) addForm(m shape, form url.Values) error {
	for name, values := range form {
		for _, v := range values {
			if err := p.addValue(m, name, v); err != nil {
				return err
			}
		}
	}
	return nil
}

func (p params) addValue(m shape, name, value string) error {
	if _, twice := p[name]; twice {
		return fmt.Errorf("%s is given twice", name)
	}
	f, ok := m.field(name)
	if !ok {
		p[name] = value // the check for unknown fields will name it
		return nil
	}
	for _, t := range f.types {
		if t == "String" && len(f.types) == 1 {
			p[name] = value
			return nil
		}
	}
	if v, err := decodeJSON([]byte(value)); err == nil && api.fits(f.types, v, name) == nil {
		p[name] = v
		return nil
	}
	// Not JSON of the type asked for: leave the text, so that the check says what was expected.
	// A reply_markup and the like is decoded all the same, for a complaint that points inside it.
	if v, err := decodeJSON([]byte(value)); err == nil && strings.ContainsAny(value[:1], "{[") {
		p[name] = v
		return nil
	}
	p[name] = value
	return nil
}

func decodeJSON(b []byte) (any, error) {
	d := json.NewDecoder(bytes.NewReader(b))
	d.UseNumber()
	var v any
	if err := d.Decode(&v); err != nil {
		return nil, err
	}
	if d.More() {
		return nil, fmt.Errorf("more than one value")
	}
	return v, nil
}

func (p params) text(name string) string {
	s, _ := p[name].(string)
	return s
}

func (p params) number(name string) int64 {
	n, _ := p[name].(json.Number)
	v, _ := n.Int64()
	return v
}

func (p params) flag(name string) bool {
	b, _ := p[name].(bool)
	return b
}

func (p params) list(name string) []any {
	l, _ := p[name].([]any)
	return l
}

func (p params) object(name string) params {
	o, _ := p[name].(map[string]any)
	return o
}
