package view

import (
	"bytes"
	"encoding/json"
	"math"
	"strconv"
)

// JSON writes a value as indented JSON whose figures are the same on every machine. The last
// digits of what is worked out depend on whether a processor rounds between a product and a sum,
// so a figure has nine digits, and one that is nothing beside them is zero.
func JSON(v any) ([]byte, error) {
	var b bytes.Buffer
	enc := json.NewEncoder(&b)
	enc.SetIndent("", "  ")
	enc.SetEscapeHTML(false)
	if err := enc.Encode(v); err != nil {
		return nil, err
	}
	return steady(b.Bytes())
}

// steady rounds every number with a fraction in JSON text.
func steady(text []byte) ([]byte, error) {
	out := make([]byte, 0, len(text))
	quoted := false
	for i := 0; i < len(text); {
		c := text[i]
		switch {
		case quoted && c == '\\':
			out = append(out, text[i:i+2]...)
			i += 2
			continue
		case c == '"':
			quoted = !quoted
		case !quoted && (c == '-' || c >= '0' && c <= '9'):
			n := i
			for n < len(text) && bytes.IndexByte([]byte("+-.eE0123456789"), text[n]) >= 0 {
				n++
			}
			number, err := rounded(string(text[i:n]))
			if err != nil {
				return nil, err
			}
			out = append(out, number...)
			i = n
			continue
		}
		out = append(out, c)
		i++
	}
	return out, nil
}

func rounded(number string) ([]byte, error) {
	const digits, nothing = 9, 5e-10
	if number == "-0" {
		return []byte("0"), nil
	}
	if !bytes.ContainsAny([]byte(number), ".eE") {
		return []byte(number), nil
	}
	x, err := strconv.ParseFloat(number, 64)
	if err != nil {
		return nil, err
	}
	if math.Abs(x) < nothing {
		return []byte("0"), nil
	}
	x, err = strconv.ParseFloat(strconv.FormatFloat(x, 'g', digits, 64), 64)
	if err != nil {
		return nil, err
	}
	return json.Marshal(x)
}
