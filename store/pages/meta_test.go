package pages

// This file spoils the two pages that name a state, and the list of free pages.

import (
	"bytes"
	"encoding/binary"
	"slices"
	"testing"
)

func TestLatest(t *testing.T) {
	file := sample(t)
	newest, _ := Latest(bytes.NewReader(file))
	slot := int(newest.TxID % 2)
	flip := func(offsets ...int) []byte {
		bad := slices.Clone(file)
		for _, at := range offsets {
			bad[at] ^= 1
		}
		return bad
	}
	for name, c := range map[string]struct {
		file  []byte
		txid  uint64
		fault Fault
	}{
		"whole":                            {file, newest.TxID, Fine},
		"the older one spoilt":             {flip((1-slot)*Size + 60), newest.TxID, Fine},
		"the newer one spoilt":             {flip(slot*Size + 60), newest.TxID - 1, Fine},
		"both spoilt":                      {flip(60, Size+60), 0, Broken},
		"one spoilt, one of no bbolt file": {flip(60, Size+16), 0, Broken},
		"no bbolt file":                    {flip(16, Size+16), 0, Foreign},
		"another version":                  {flip(20, Size+20), 0, Broken},
		"cut short":                        {file[:40], 0, Foreign},
		"nothing":                          {nil, 0, Foreign},
	} {
		m, fault := Latest(bytes.NewReader(c.file))
		if fault != c.fault || m.TxID != c.txid {
			t.Errorf("%s: state %d, fault %d; want %d, %d", name, m.TxID, fault, c.txid, c.fault)
		}
	}
	larger := Meta{Root: 3, Freelist: 2, Pages: 5, TxID: 7}.page(1)
	binary.NativeEndian.PutUint32(larger[24:], 2*Size)
	binary.NativeEndian.PutUint64(larger[metaSumEnd:], metaSum(larger))
	if _, fault := readMeta(bytes.NewReader(larger), 0); fault != Foreign {
		t.Errorf("of another size of page: fault %d", fault)
	}
}

// TestCopyNamesItsStateTwice: both pages of a copy name the one state, and bbolt's
// rule that each state lies in the slot of its number holds.
func TestCopyNamesItsStateTwice(t *testing.T) {
	file := sample(t)
	m, _ := Latest(bytes.NewReader(file))
	var copied bytes.Buffer
	must(t, m.CopyTo(&copied, bytes.NewReader(file)))
	if copied.Len() != int(m.Pages)*Size || !bytes.Equal(copied.Bytes()[2*Size:], file[2*Size:m.Pages*Size]) {
		t.Errorf("%d bytes", copied.Len())
	}
	for slot := range uint64(2) {
		got, fault := readMeta(bytes.NewReader(copied.Bytes()), int64(slot)*Size)
		if fault != Fine || got.TxID%2 != slot || got.TxID > m.TxID || got.TxID+1 < m.TxID {
			t.Errorf("slot %d: %+v, fault %d", slot, got, fault)
		}
		if got.TxID = m.TxID; got != m {
			t.Errorf("slot %d: %+v, want %+v", slot, got, m)
		}
	}
}

func TestFits(t *testing.T) {
	sound := Meta{Root: 3, Freelist: 2, Pages: 5, TxID: 7}
	if err := sound.Fits(5 * Size); err != nil {
		t.Error(err)
	}
	for name, spoil := range map[string]func(m *Meta, size *int64){
		"cut short":               func(_ *Meta, size *int64) { *size-- },
		"hardly a page":           func(m *Meta, _ *int64) { m.Pages = 3 },
		"too many pages":          func(m *Meta, _ *int64) { m.Pages = maxPages + 1 },
		"root a state page":       func(m *Meta, _ *int64) { m.Root = 1 },
		"root outside":            func(m *Meta, _ *int64) { m.Root = 5 },
		"free pages a state page": func(m *Meta, _ *int64) { m.Freelist = 1 },
		"free pages outside":      func(m *Meta, _ *int64) { m.Freelist = 5 },
	} {
		m, size := sound, int64(5*Size)
		if spoil(&m, &size); m.Fits(size) == nil {
			t.Errorf("%s: it fits", name)
		}
	}
	if err := (Meta{Root: 2, Freelist: 3, Pages: 4}).Fits(4 * Size); err != nil {
		t.Error(err)
	}
}

// TestFree spoils a list of free pages.
func TestFree(t *testing.T) {
	const list, pages = 3, 30
	listOf := func(free ...uint64) []byte {
		b := make([]byte, pages*Size)
		at := b[list*Size:]
		binary.NativeEndian.PutUint64(at, list)
		binary.NativeEndian.PutUint16(at[8:], freeFlag)
		binary.NativeEndian.PutUint16(at[10:], uint16(len(free)))
		for i, id := range free {
			binary.NativeEndian.PutUint64(at[16+8*i:], id)
		}
		return b
	}
	m := Meta{Root: 4, Freelist: list, Pages: pages}
	free, span, err := m.Free(bytes.NewReader(listOf(2, 7, pages-1)))
	if err != nil || span != 1 || !slices.Equal(free, []uint64{2, 7, pages - 1}) {
		t.Errorf("%v, %d, %v", free, span, err)
	}
	long := listOf(0, 2, 7)
	binary.NativeEndian.PutUint16(long[list*Size+10:], freeCountInRow)
	binary.NativeEndian.PutUint64(long[list*Size+16:], 2)
	if free, _, err := m.Free(bytes.NewReader(long)); err != nil || !slices.Equal(free, []uint64{2, 7}) {
		t.Errorf("with its count in the list: %v, %v", free, err)
	}
	for name, bad := range map[string][]byte{
		"a state page": listOf(1), "outside": listOf(pages), "the root": listOf(4), "itself": listOf(list), "twice": listOf(7,
			7), "out of order": listOf(8, 7),
		"another page": set(listOf(2), list*Size, 2), "another kind": set(listOf(2), list*Size+8, 2),
		"too many for its page": set(listOf(2), list*Size+11, 2),
		"out of the file":       set(listOf(2), list*Size+12, pages), "more than there are pages": set(listOf(2), list*Size+10,
			pages+1), "cut short": listOf(2)[:list*Size],
	} {
		if free, _, err := m.Free(bytes.NewReader(bad)); err == nil {
			t.Errorf("%s: %v", name, free)
		}
	}
}

func set(b []byte, at int, to byte) []byte { b[at] = to; return b }
