package journal

// This file writes journals, spoils them, and reads what lies behind a mark.

import (
	"bytes"
	"errors"
	"io/fs"
	"iter"
	"os"
	"path/filepath"
	"testing"

	"garage/tundish/model/job"
)

// of yields lines: a first one, and one that adds an entry to a job each.
func of(n int) iter.Seq2[Line, error] {
	return func(yield func(Line, error) bool) {
		for i := range n + 1 {
			l := Line{Journal: Version, Store: "a store"}
			if i > 0 {
				l = Line{Job: "a", Entries: []job.Entry{entry(i)}, Head: headOf("a")}
			}
			if !yield(l, nil) {
				return
			}
		}
	}
}

// written writes a journal and opens it.
func written(t *testing.T, n int) *Journal {
	t.Helper()
	path := filepath.Join(t.TempDir(), "jobs.db"+Suffix)
	m, _, err := Write(path, of(n))
	if err != nil || m.N != n {
		t.Fatal(m, err)
	}
	j, first, err := Open(path, true)
	if err != nil || first.Store != "a store" {
		t.Fatal(first, err)
	}
	t.Cleanup(func() { _ = j.Close() })
	j.Mark = m
	return j
}

func read(t *testing.T, j *Journal) []byte {
	t.Helper()
	b, err := os.ReadFile(j.Path)
	if err != nil {
		t.Fatal(err)
	}
	return b
}

// add adds a line with so many bytes of text.
func add(t *testing.T, j *Journal, bytes int) Line {
	t.Helper()
	e := entry(1)
	e.Typed = string(make([]byte, bytes))
	l := Line{Job: "b", Started: &started, Entries: []job.Entry{e}, Head: headOf("b")}
	text, to, err := j.Mark.Next(&l)
	if err == nil {
		err = errors.Join(j.Add(text, to), j.Sync())
	}
	if err != nil {
		t.Fatal(err)
	}
	return l
}

func count(t *testing.T, j *Journal) (n int) {
	t.Helper()
	for l, err := range j.Lines(0) {
		if err != nil || l.Bad != nil || l.N != n {
			t.Fatalf("line %d: %+v, %v", n, l, err)
		}
		n++
	}
	return n
}

// TestAddAndTakeBack: the file grows by blocks, and what is taken back leaves it
// byte for byte as it was.
func TestAddAndTakeBack(t *testing.T) {
	j := written(t, 3)
	if size := len(read(t, j)); size != fillBytes || count(t, j) != 4 {
		t.Errorf("%d bytes", size)
	}
	for n, size := range []int{10, 1000, 1900, 1900, 1900, 1900, 1900, 1900, 1900, 1900, 1900} {
		before, place := read(t, j), j.Place
		add(t, j, size)
		if len(read(t, j))%fillBytes != 0 || count(t, j) != 5+n {
			t.Errorf("%d bytes", len(read(t, j)))
		}
		if err := j.TakeBack(place); err != nil || !bytes.Equal(read(t, j), before) || j.Place != place {
			t.Errorf("line %d was not taken back: %v", n, err)
		}
		add(t, j, size)
	}
	if len(read(t, j)) <= fillBytes {
		t.Error("it never grew")
	}
}

func TestBehind(t *testing.T) {
	j := written(t, 2)
	at := j.Mark
	if rest, fits, err := j.Behind(at); err != nil || !fits || len(rest.Lines) > 0 || rest.Torn || rest.Unrelated {
		t.Errorf("nothing: %+v, %v, %v", rest, fits, err)
	}
	first, second := add(t, j, 5), add(t, j, 5)
	end := j.Mark
	rest, fits, err := j.Behind(at)
	if err != nil || !fits || len(rest.Lines) != 2 || rest.Lines[0].N != first.N || rest.Lines[1].N != second.N ||
		rest.Marks[1] != end || rest.Torn || rest.Unrelated {
		t.Errorf("two lines: %+v, %v, %v", rest, fits, err)
	}
	if rest, fits, err := j.UpTo(at.End).Behind(at); err != nil || !fits || len(rest.Lines) > 0 {
		t.Errorf("up to the mark: %+v, %v, %v", rest, fits, err)
	}
	for name, m := range map[string]Mark{
		"no line begins there": {Start: at.Start + 1, End: at.End, N: at.N, Sum: at.Sum}, "below the file": {Start: -1,
			End: at.End, N: at.N, Sum: at.Sum},
		"no end": {Start: at.Start, End: at.Start, N: at.N, Sum: at.Sum}, "another end": {Start: at.Start, End: at.End + 1,
			N: at.N, Sum: at.Sum},
		"behind the file": {Start: at.Start, End: fillBytes + 1, N: at.N, Sum: at.Sum}, "another number": {Start: at.Start,
			End: at.End, N: at.N + 1, Sum: at.Sum},
		"another checksum": {Start: at.Start, End: at.End, N: at.N, Sum: "00000000"},
	} {
		if rest, fits, err := j.Behind(m); err != nil || fits || rest.Lines != nil {
			t.Errorf("%s: %+v, %v, %v", name, rest, fits, err)
		}
	}
	put := func(text []byte) {
		t.Helper()
		if _, err := j.file.WriteAt(text, end.End); err != nil {
			t.Fatal(err)
		}
	}
	group := Line{Job: "c", Started: &started, Head: headOf("c"), First: end.N + 1}
	lost, _, err := end.Next(&group)
	if err != nil {
		t.Fatal(err)
	}
	_, middle, _ := end.Next(&group)
	later := Line{Job: "d", Started: &started, Head: headOf("d"), First: end.N + 1}
	text, _, err := middle.Next(&later)
	if err != nil {
		t.Fatal(err)
	}
	stranger := later
	stranger.First = 0
	strange, _, err := middle.Next(&stranger)
	if err != nil {
		t.Fatal(err)
	}
	for name, c := range map[string]struct {
		text        []byte
		torn, alien bool
	}{
		"a piece": {lost[:40], true, false}, "one of a group without its first": {text, true, false},
		"a line that does not follow": {strange, false, true},
	} {
		put(c.text)
		if rest, fits, err := j.Behind(at); err != nil || !fits || len(rest.Lines) != 2 || rest.Torn != c.torn ||
			rest.Unrelated != c.alien {
			t.Errorf("%s: %d lines, torn %v, alien %v, %v, %v", name, len(rest.Lines), rest.Torn, rest.Unrelated, fits, err)
		}
		if err := j.Clean(); err != nil || count(t, j) != 5 {
			t.Errorf("%s: not taken out: %v", name, err)
		}
	}
	if j.Moved() {
		t.Error("it was not moved")
	}
	if err := os.Rename(j.Path, j.Path+".away"); err != nil || !j.Moved() {
		t.Errorf("it was moved: %v", err)
	}
}

// TestLinesNamesWhatIsBad: a line that cannot be decoded, and one that can be and is
// not valid.
func TestLinesNamesWhatIsBad(t *testing.T) {
	j := written(t, 1)
	invalid, err := Line{N: 2, Prev: j.Mark.Sum, Job: "a", Head: headOf("a")}.encode()
	if err != nil {
		t.Fatal(err)
	}
	if _, err := j.file.WriteAt(append(invalid, "{}\n"...), j.Mark.End); err != nil {
		t.Fatal(err)
	}
	want := []struct{ decoded, valid bool }{{true, true}, {true, true}, {true, false}, {false, false}}
	n := 0
	for l, err := range j.Lines(0) {
		if err != nil || n == len(want) || (l.Sum != "") != want[n].decoded || (l.Bad == nil) != want[n].valid {
			t.Fatalf("line %d: %+v, %v", n, l, err)
		}
		n++
	}
	if n != len(want) {
		t.Errorf("%d lines", n)
	}
}

func TestOpenAndBeside(t *testing.T) {
	path := filepath.Join(t.TempDir(), "jobs.db")
	if _, _, err := Open(path+Suffix, false); !errors.Is(err, fs.ErrNotExist) || Beside(path) != None {
		t.Errorf("%v", err)
	}
	full := read(t, written(t, 1))
	first := full[:bytes.IndexByte(full, '\n')+1]
	second := full[len(first):]
	for name, c := range map[string]struct {
		text []byte
		want State
	}{
		"empty": {nil, None}, "empty lines": {[]byte("\n\n\n"), None}, "a first line": {first, Bare}, "lines": {full, Held},
		"no first line": {second, Held}, "a piece": {[]byte("{"), Held},
	} {
		if err := os.WriteFile(path+Suffix, c.text, 0o600); err != nil {
			t.Fatal(err)
		}
		j, got, err := Open(path+Suffix, false)
		if err != nil || Beside(path) != c.want || (got.Store != "") != bytes.HasPrefix(c.text, first) {
			t.Errorf("%s: %d, want %d; first line %+v, %v", name, Beside(path), c.want, got, err)
		}
		_ = j.Close()
	}
	if err := errors.Join(os.Remove(path+Suffix), os.Mkdir(path+Suffix, 0o700)); err != nil {
		t.Fatal(err)
	}
	if _, _, err := Open(path+Suffix, false); !errors.Is(err, ErrNotFile) || Beside(path) != None {
		t.Errorf("a folder: %v", err)
	}
}

// TestWriteFails leaves the journal that was there.
func TestWriteFails(t *testing.T) {
	j := written(t, 1)
	before, stop := read(t, j), errors.New("stop")
	_, _, err := Write(j.Path, func(yield func(Line, error) bool) {
		if yield(Line{Journal: Version, Store: "another"}, nil) {
			yield(Line{}, stop)
		}
	})
	if !errors.Is(err, stop) || !bytes.Equal(read(t, j), before) {
		t.Errorf("%v", err)
	}
	if left, _ := filepath.Glob(filepath.Join(filepath.Dir(j.Path), ".*")); len(left) > 0 {
		t.Errorf("left over: %v", left)
	}
}
