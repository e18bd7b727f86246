package job

// This file makes job ids and unit keys: the two names by which jobs are found.

import (
	"strings"
	"time"
)

// idAlphabet leaves out letters that are read as digits under a car.
const idAlphabet = "0123456789abcdefghjkmnpqrstvwxyz"

// NewID is a job's id: the day it was started and six signs of chance
// (30 bits, from the caller), as 20260415-4k7w2m.
func NewID(started time.Time, chance uint32) string {
	var b strings.Builder
	b.WriteString(started.UTC().Format("20060102"))
	b.WriteByte('-')
	for i := range 6 {
		b.WriteByte(idAlphabet[chance>>(5*i)&31])
	}
	return b.String()
}

// LastJob is the word for the job last worked in the guide. It is no id.
const LastJob = "last"

// UnitKey ties the jobs of one unit together; empty while either name is.
func UnitKey(vehicle, unitName string) string {
	v, u := Canonical(vehicle), Canonical(unitName)
	if v == "" || u == "" {
		return ""
	}
	return v + keyParts + u
}

// keyParts stands between the parts of a unit's key.
const keyParts = "\x1f"

// CarOf is the car of a unit's key, as Canonical gives it.
func CarOf(unitKey string) string {
	car, _, _ := strings.Cut(unitKey, keyParts)
	return car
}

func Canonical(s string) string { return strings.ToLower(strings.Join(strings.Fields(s), " ")) }
