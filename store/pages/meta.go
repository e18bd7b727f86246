// Package pages reads and checks the pages of a bbolt file. bbolt trusts them: on a
// damaged page it may panic, recurse without end or read outside the file, and the
// last two end the program. So the store reads with this package, and checks with it
// the pages that bbolt is going to use.
//
// Layout: go.etcd.io/bbolt, internal/common, version 2 of the format.
package pages

import (
	"encoding/binary"
	"fmt"
	"hash/fnv"
	"io"
)

const (
	Size           = 4096 // bytes of a page, whatever the machine's
	pageHeadBytes  = 16
	boltMagic      = 0xED0CDAED
	boltVersion    = 2
	branchFlag     = 0x01
	leafFlag       = 0x02
	metaFlag       = 0x04
	freeFlag       = 0x10
	metaSumStart   = pageHeadBytes
	metaSumEnd     = pageHeadBytes + 56
	maxPages       = 1 << 28 // a file of 1 TB
	FirstData      = 2
	freeCountInRow = 0xFFFF // longer lists begin with their count
)

// Meta is one valid meta page: one committed state of the file.
type Meta struct {
	Root     uint64 // page of the root bucket
	Freelist uint64
	Pages    uint64 // number of pages; all in use are below it
	TxID     uint64
}

// Fault is what is wrong with a pair of meta pages.
type Fault uint8

// The faults.
const (
	Fine    Fault = iota
	Foreign       // of no bbolt file
	Broken
	Unread // the disk does not give them
)

// readMeta reads one meta page at its offset.
func readMeta(f io.ReaderAt, at int64) (Meta, Fault) {
	var b [metaSumEnd + 8]byte
	if _, err := f.ReadAt(b[:], at); err == io.EOF || err == io.ErrUnexpectedEOF {
		return Meta{}, Foreign
	} else if err != nil {
		return Meta{}, Unread
	}
	order := binary.NativeEndian
	if order.Uint32(b[16:]) != boltMagic {
		return Meta{}, Foreign
	}
	if order.Uint32(b[20:]) != boltVersion || metaSum(b[:]) != order.Uint64(b[metaSumEnd:]) {
		return Meta{}, Broken
	}
	if order.Uint32(b[24:]) != Size {
		return Meta{}, Foreign
	}
	return Meta{Root: order.Uint64(b[32:]), Freelist: order.Uint64(b[48:]),
		Pages: order.Uint64(b[56:]), TxID: order.Uint64(b[64:])}, Fine
}

// Latest returns the newer of the valid meta pages, the one that bbolt uses.
func Latest(f io.ReaderAt) (Meta, Fault) {
	a, faultA := readMeta(f, 0)
	b, faultB := readMeta(f, Size)
	switch {
	case faultA == Unread || faultB == Unread: // the one that is read may be the older one
		return Meta{}, Unread
	case faultA == Fine && (faultB != Fine || a.TxID >= b.TxID):
		return a, Fine
	case faultB == Fine:
		return b, Fine
	case faultA == Broken || faultB == Broken:
		return Meta{}, Broken
	}
	return Meta{}, Foreign
}

// CopyTo copies the state that a meta page names. Both pages that name a state name
// this one in the copy, so that damage to one of them loses nothing.
func (m Meta) CopyTo(to io.Writer, from io.ReaderAt) error {
	for slot := range uint64(2) {
		if _, err := to.Write(m.page(slot)); err != nil {
			return err
		}
	}
	_, err := io.Copy(to, io.NewSectionReader(from, FirstData*Size, int64(m.Pages-FirstData)*Size))
	return err
}

// page returns the bytes of a meta page for one of the two slots. bbolt writes state n
// to slot n mod 2, and uses the higher number.
func (m Meta) page(slot uint64) []byte {
	order := binary.NativeEndian
	b := make([]byte, Size)
	order.PutUint64(b, slot)
	order.PutUint16(b[8:], metaFlag)
	order.PutUint32(b[16:], boltMagic)
	order.PutUint32(b[20:], boltVersion)
	order.PutUint32(b[24:], Size)
	order.PutUint64(b[32:], m.Root)
	order.PutUint64(b[48:], m.Freelist)
	order.PutUint64(b[56:], m.Pages)
	order.PutUint64(b[64:], m.TxID-(m.TxID^slot)%2)
	order.PutUint64(b[metaSumEnd:], metaSum(b))
	return b
}

func metaSum(page []byte) uint64 {
	h := fnv.New64a()
	h.Write(page[metaSumStart:metaSumEnd])
	return h.Sum64()
}

// Fits returns nil if the pages that the meta page names are in the file.
func (m Meta) Fits(sizeBytes int64) error {
	switch {
	case m.Pages > maxPages || m.Pages < FirstData+2:
		return fmt.Errorf("it says it has %d pages", m.Pages)
	case int64(m.Pages)*Size > sizeBytes:
		return fmt.Errorf("cut short: %d bytes of %d are there", sizeBytes, m.Pages*Size)
	case m.Root < FirstData || m.Root >= m.Pages:
		return fmt.Errorf("its root page %d is outside the file", m.Root)
	case m.Freelist < FirstData || m.Freelist >= m.Pages:
		return fmt.Errorf("its list of free pages is outside the file")
	}
	return nil
}

// Free reads the numbers of the free pages and how many pages the list itself
// takes.
func (m Meta) Free(f io.ReaderAt) (free []uint64, span uint64, err error) {
	var head [pageHeadBytes + 8]byte
	if _, err := f.ReadAt(head[:], int64(m.Freelist)*Size); err != nil {
		return nil, 0, err
	}
	order := binary.NativeEndian
	count, skip := uint64(order.Uint16(head[10:])), uint64(0)
	if count == freeCountInRow {
		count, skip = order.Uint64(head[pageHeadBytes:]), 1
	}
	span = uint64(order.Uint32(head[12:])) + 1
	if order.Uint64(head[:]) != m.Freelist || order.Uint16(head[8:]) != freeFlag ||
		m.Freelist+span > m.Pages || count > m.Pages || pageHeadBytes+(count+skip)*8 > span*Size {
		return nil, 0, fmt.Errorf("page %d is not a list of free pages", m.Freelist)
	}
	buf := make([]byte, count*8)
	if _, err := f.ReadAt(buf, int64(m.Freelist)*Size+pageHeadBytes+int64(skip)*8); err != nil {
		return nil, 0, err
	}
	free = make([]uint64, count)
	last := uint64(FirstData - 1)
	for i := range free {
		free[i] = order.Uint64(buf[i*8:])
		if free[i] <= last || free[i] >= m.Pages || free[i] == m.Root ||
			free[i] >= m.Freelist && free[i] < m.Freelist+span {
			return nil, 0, fmt.Errorf("its list of free pages names page %d", free[i])
		}
		last = free[i]
	}
	return free, span, nil
}
