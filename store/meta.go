package store

// This file reads the two meta pages of a bbolt file and the list of its free
// pages, and says whether the file can be mapped into memory safely. Layout:
// go.etcd.io/bbolt, internal/common, version 2 of the format.

import (
	"encoding/binary"
	"fmt"
	"hash/fnv"
	"io"
)

const (
	pageBytes      = 4096 // pages of every store, whatever the machine's
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
	firstDataPage  = 2
	freeCountInRow = 0xFFFF // longer lists begin with their count
)

// metaPage is one valid meta page: one committed state of the file.
type metaPage struct {
	root     uint64 // page of the root bucket
	freelist uint64
	pages    uint64 // pages in use: all lie below this one
	txid     uint64
}

// metaFault says what is wrong with a pair of meta pages.
type metaFault uint8

const (
	metaFine metaFault = iota
	metaForeign
	metaBroken
)

// readMeta reads one meta page at its offset.
func readMeta(f io.ReaderAt, at int64) (metaPage, metaFault) {
	var b [metaSumEnd + 8]byte
	if _, err := f.ReadAt(b[:], at); err != nil {
		return metaPage{}, metaForeign
	}
	order := binary.NativeEndian
	if order.Uint32(b[16:]) != boltMagic {
		return metaPage{}, metaForeign
	}
	h := fnv.New64a()
	h.Write(b[metaSumStart:metaSumEnd])
	if order.Uint32(b[20:]) != boltVersion || h.Sum64() != order.Uint64(b[metaSumEnd:]) {
		return metaPage{}, metaBroken
	}
	if order.Uint32(b[24:]) != pageBytes {
		return metaPage{}, metaForeign
	}
	return metaPage{root: order.Uint64(b[32:]), freelist: order.Uint64(b[48:]),
		pages: order.Uint64(b[56:]), txid: order.Uint64(b[64:])}, metaFine
}

// latestMeta is the newer of the valid meta pages, the one that bbolt takes.
func latestMeta(f io.ReaderAt) (metaPage, metaFault) {
	a, faultA := readMeta(f, 0)
	b, faultB := readMeta(f, pageBytes)
	switch {
	case faultA == metaFine && (faultB != metaFine || a.txid >= b.txid):
		return a, metaFine
	case faultB == metaFine:
		return b, metaFine
	case faultA == metaBroken || faultB == metaBroken:
		return metaPage{}, metaBroken
	}
	return metaPage{}, metaForeign
}

// page is the bytes of a meta page for one of the two slots. bbolt puts each
// state into the slot that its number has, and takes the higher number.
func (m metaPage) page(slot uint64) []byte {
	order := binary.NativeEndian
	b := make([]byte, pageBytes)
	order.PutUint64(b, slot)
	order.PutUint16(b[8:], metaFlag)
	order.PutUint32(b[16:], boltMagic)
	order.PutUint32(b[20:], boltVersion)
	order.PutUint32(b[24:], pageBytes)
	order.PutUint64(b[32:], m.root)
	order.PutUint64(b[48:], m.freelist)
	order.PutUint64(b[56:], m.pages)
	order.PutUint64(b[64:], m.txid-(m.txid^slot)%2)
	h := fnv.New64a()
	h.Write(b[metaSumStart:metaSumEnd])
	order.PutUint64(b[metaSumEnd:], h.Sum64())
	return b
}

// fits says whether the pages that the meta page speaks of are in the file.
func (m metaPage) fits(sizeBytes int64) error {
	switch {
	case m.pages > maxPages || m.pages < firstDataPage+2:
		return fmt.Errorf("it says it has %d pages", m.pages)
	case int64(m.pages)*pageBytes > sizeBytes:
		return fmt.Errorf("cut short: %d bytes of %d are there", sizeBytes, m.pages*pageBytes)
	case m.root < firstDataPage || m.root >= m.pages:
		return fmt.Errorf("its root page %d is outside the file", m.root)
	case m.freelist < firstDataPage || m.freelist >= m.pages:
		return fmt.Errorf("its list of free pages is outside the file")
	}
	return nil
}

// readFreelist reads the numbers of the free pages and how many pages the list
// itself takes.
func readFreelist(f io.ReaderAt, m metaPage) (free []uint64, span uint64, err error) {
	var head [pageHeadBytes + 8]byte
	if _, err := f.ReadAt(head[:], int64(m.freelist)*pageBytes); err != nil {
		return nil, 0, err
	}
	order := binary.NativeEndian
	count, skip := uint64(order.Uint16(head[10:])), uint64(0)
	if count == freeCountInRow {
		count, skip = order.Uint64(head[pageHeadBytes:]), 1
	}
	span = uint64(order.Uint32(head[12:])) + 1
	if order.Uint64(head[:]) != m.freelist || order.Uint16(head[8:]) != freeFlag ||
		m.freelist+span > m.pages || count > m.pages || pageHeadBytes+(count+skip)*8 > span*pageBytes {
		return nil, 0, fmt.Errorf("page %d is not a list of free pages", m.freelist)
	}
	buf := make([]byte, count*8)
	if _, err := f.ReadAt(buf, int64(m.freelist)*pageBytes+pageHeadBytes+int64(skip)*8); err != nil {
		return nil, 0, err
	}
	free = make([]uint64, count)
	last := uint64(firstDataPage - 1)
	for i := range free {
		free[i] = order.Uint64(buf[i*8:])
		if free[i] <= last || free[i] >= m.pages || free[i] == m.root ||
			free[i] >= m.freelist && free[i] < m.freelist+span {
			return nil, 0, fmt.Errorf("its list of free pages names page %d", free[i])
		}
		last = free[i]
	}
	return free, span, nil
}
