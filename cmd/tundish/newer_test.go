package main

// This file makes, for the scripts, a store that a newer version wrote: the
// number of the schema is set to 99, with its checksum, in the record whose
// place and form never change.

import (
	"encoding/binary"
	"hash/crc32"

	"github.com/rogpeppe/go-internal/testscript"
	"go.etcd.io/bbolt"
)

func newerStore(ts *testscript.TestScript, neg bool, args []string) {
	if neg || len(args) != 1 {
		ts.Fatalf("usage: newer FILE")
	}
	db, err := bbolt.Open(ts.MkAbs(args[0]), 0o600, nil)
	ts.Check(err)
	ts.Check(db.Update(func(tx *bbolt.Tx) error {
		bucket, key, payload := "about", "schema", "99"
		return tx.Bucket([]byte(bucket)).Put([]byte(key), sealed(bucket, key, payload))
	}))
	ts.Check(db.Close())
}

// sealed is a record as the store keeps it: the CRC-32C of the lengths of
// bucket and key, bucket, key and payload, then the payload.
func sealed(bucket, key, payload string) []byte {
	text := binary.BigEndian.AppendUint32(nil, uint32(len(bucket)))
	text = binary.BigEndian.AppendUint32(text, uint32(len(key)))
	text = append(text, bucket+key+payload...)
	sum := crc32.Checksum(text, crc32.MakeTable(crc32.Castagnoli))
	return append(binary.BigEndian.AppendUint32(nil, sum), payload...)
}
