package attempt

import (
	"bytes"
	"encoding/binary"
	"io"
	"unicode/utf16"
)

// ReadRestored is Read of a file that may have been through mail, an editor or another system.
func ReadRestored(from io.Reader) (*Record, error) {
	data, err := io.ReadAll(io.LimitReader(from, 2*maxRecord+2))
	if err != nil {
		return nil, err
	}
	return Read(bytes.NewReader(Restore(data)))
}

// Restore undoes what mail, editors and other systems do to a file of lines and what changes no
// act: a byte-order mark, UTF-16, other ends of lines, empty lines at the end, no end of the last
// line. A record that was saved so is itself again; its links say whether it is.
func Restore(data []byte) []byte {
	switch {
	case bytes.HasPrefix(data, []byte("\xff\xfe")):
		data = fromUTF16(data[2:], binary.LittleEndian)
	case bytes.HasPrefix(data, []byte("\xfe\xff")):
		data = fromUTF16(data[2:], binary.BigEndian)
	}
	data = bytes.TrimPrefix(data, []byte("\ufeff"))
	data = bytes.ReplaceAll(data, []byte("\r\n"), []byte("\n"))
	data = bytes.ReplaceAll(data, []byte("\r"), []byte("\n"))
	whole := bytes.TrimRight(data, "\n \t\x1a")
	if !bytes.HasSuffix(whole, []byte("}")) {
		return data // cut short, or none of ours
	}
	return append(bytes.Clone(whole), '\n')
}

func fromUTF16(data []byte, order binary.ByteOrder) []byte {
	units := make([]uint16, len(data)/2)
	for i := range units {
		units[i] = order.Uint16(data[2*i:])
	}
	return []byte(string(utf16.Decode(units)))
}
