package about

// This file tells one program from another that may work things out otherwise.

import (
	"crypto/sha256"
	"encoding/hex"
	"io"
	"os"
	"runtime"
	"strings"
	"sync"
)

// FoldedBy names the running program: its version, where that says which source it was
// built of, else a checksum of the program itself; and for what it was built, since
// arithmetic may differ in the last digit. It is empty where neither is known.
var FoldedBy = sync.OnceValue(func() string {
	v := ThisVersion()
	of := v.Version + " " + v.Commit
	if v.Version == "devel" || v.Version == "unknown" || v.Modified || strings.HasSuffix(v.Version, "+dirty") {
		if of = ownSum(); of == "" {
			return ""
		}
	}
	return of + " " + runtime.Version() + " " + runtime.GOARCH
})

// ownSum is the SHA-256 of the running program, empty if it cannot be read.
func ownSum() string {
	path, err := os.Executable()
	if err != nil {
		return ""
	}
	f, err := os.Open(path)
	if err != nil {
		return ""
	}
	defer f.Close()
	sum := sha256.New()
	if _, err := io.Copy(sum, f); err != nil {
		return ""
	}
	return hex.EncodeToString(sum.Sum(nil))
}
