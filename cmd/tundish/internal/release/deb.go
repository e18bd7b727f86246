package main

// This file writes a Debian package: an ar archive of three members (deb(5)).

import (
	"archive/tar"
	"bytes"
	"crypto/md5"
	"fmt"
	"path"
	"slices"
	"strings"
	"time"
)

// file is one that is installed; the path is below the root.
type file struct {
	path string
	text []byte
	mode int64
}

// debianPackage is a package of one program that needs no other.
type debianPackage struct {
	Name, Version, Arch string
	Day                 time.Time // of all that is in it
	Files               []file
}

// FileName is the usual one.
func (p debianPackage) FileName() string { return p.Name + "_" + p.Version + "_" + p.Arch + ".deb" }

// Bytes is the package; the same files give the same bytes.
func (p debianPackage) Bytes() []byte {
	var b bytes.Buffer
	b.WriteString("!<arch>\n")
	p.member(&b, "debian-binary", []byte("2.0\n"))
	p.member(&b, "control.tar.gz", zipped(p.tar([]file{
		{"./control", []byte(p.control()), 0o644},
		{"./md5sums", []byte(p.md5sums()), 0o644},
	})))
	var files []file
	for _, f := range p.Files {
		files = append(files, file{"./" + f.path, f.text, f.mode})
	}
	p.member(&b, "data.tar.gz", zipped(p.tar(files)))
	return b.Bytes()
}

// member adds a member of an ar archive; it begins at an even byte.
func (p debianPackage) member(b *bytes.Buffer, name string, text []byte) {
	fmt.Fprintf(b, "%-16s%-12d%-6d%-6d%-8s%-10d`\n", name, p.Day.Unix(), 0, 0, "100644", len(text))
	b.Write(text)
	if len(text)%2 == 1 {
		b.WriteByte('\n')
	}
}

func (p debianPackage) control() string {
	size := 0
	for _, f := range p.Files {
		size += (len(f.text) + 1023) / 1024
	}
	return fmt.Sprintf("Package: %s\nVersion: %s\nArchitecture: %s\nMaintainer: the %[1]s team <nobody@localhost>\nInstalled-Size: %[4]d\n"+
		"Section: utils\nPriority: optional\nDescription: oil change by measurement\n"+
		" For a unit whose only port is the drain: what came out, what belongs in, and\n what is really inside, with the odds.\n",
		p.Name, p.Version, p.Arch, size)
}

func (p debianPackage) md5sums() string {
	var b strings.Builder
	for _, f := range p.Files {
		fmt.Fprintf(&b, "%x  %s\n", md5.Sum(f.text), f.path)
	}
	return b.String()
}

// tar is the files with their folders, each once and before what is in it.
func (p debianPackage) tar(files []file) []byte {
	var b bytes.Buffer
	w := tar.NewWriter(&b)
	write := func(h *tar.Header, text []byte) {
		h.ModTime, h.Uname, h.Gname, h.Format = p.Day, "root", "root", tar.FormatGNU
		err := w.WriteHeader(h)
		if err == nil {
			_, err = w.Write(text)
		}
		if err != nil {
			panic(err) // into memory nothing fails
		}
	}
	var made []string
	for _, f := range files {
		for _, folder := range parents(f.path) {
			if !slices.Contains(made, folder) {
				made = append(made, folder)
				write(&tar.Header{Typeflag: tar.TypeDir, Name: folder, Mode: 0o755}, nil)
			}
		}
		write(&tar.Header{Typeflag: tar.TypeReg, Name: f.path, Mode: f.mode, Size: int64(len(f.text))}, f.text)
	}
	if err := w.Close(); err != nil {
		panic(err)
	}
	return b.Bytes()
}

// parents are the folders that a path lies in, the outermost first.
func parents(name string) (list []string) {
	for dir := path.Dir(strings.TrimPrefix(name, "./")); dir != "."; dir = path.Dir(dir) {
		list = append(list, "./"+dir+"/")
	}
	list = append(list, "./")
	slices.Reverse(list)
	return list
}
