// Package files writes files whole or not at all, several as one, and leaves
// nothing behind when the program is stopped or killed.
package files

import (
	"errors"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"regexp"
	"strconv"
	"sync"
	"syscall"
)

// Staged is a file written in full under a temporary name beside its place.
type Staged struct{ temp, path string }

var (
	mu      sync.Mutex          // held while files take their places
	pending = map[string]bool{} // temporary files and folders of this process
	swept   = map[string]bool{} // folders seen by sweep
	stopped bool
)

// ErrStopped is returned once the program has been told to stop.
var ErrStopped = errors.New("the program is stopping")

var errFolder = errors.New("a folder of that name is there; move it away, or write elsewhere")

// Stage writes a file under a temporary name in the folder of its path, and
// waits until it is on the disk. Where there is a file already its permissions
// are kept; else they are 0644. Leftovers there of processes that are gone are
// removed.
func Stage(path string, write func(io.Writer) error) (*Staged, error) {
	return stage(path, write, (*os.File).Sync)
}

func stage(path string, write func(io.Writer) error, sync func(*os.File) error) (*Staged, error) {
	dir := filepath.Dir(path)
	sweep(dir)
	mode := fs.FileMode(0o644)
	switch info, err := os.Lstat(path); {
	case err == nil && info.IsDir(): // told before others of its kind are in their places
		return nil, errFolder
	case err == nil && info.Mode().IsRegular():
		mode = info.Mode().Perm()
	}
	f, err := create(dir, filepath.Base(path))
	if err != nil {
		return nil, err
	}
	s := &Staged{f.Name(), path}
	if err = write(f); err == nil {
		err = errors.Join(f.Chmod(mode), sync(f))
	}
	if err = errors.Join(err, f.Close()); err != nil {
		s.Drop()
		return nil, err
	}
	return s, nil
}

func create(dir, base string) (*os.File, error) {
	mu.Lock()
	defer mu.Unlock()
	if stopped {
		return nil, ErrStopped
	}
	f, err := os.CreateTemp(dir, "."+base+mark())
	if err == nil {
		pending[f.Name()] = true
	}
	return f, err
}

// Commit puts staged files into their places. Stop waits for it, so that of
// several either all are new or none is; only a failing disk comes between.
func Commit(list ...*Staged) error {
	mu.Lock()
	defer mu.Unlock()
	var err error
	for _, s := range list {
		if stopped && err == nil {
			err = ErrStopped
		}
		if err == nil {
			err = os.Rename(s.temp, s.path)
		}
		if err != nil {
			os.Remove(s.temp)
		}
		delete(pending, s.temp)
	}
	return err
}

// Drop removes a staged file.
func (s *Staged) Drop() {
	mu.Lock()
	defer mu.Unlock()
	os.Remove(s.temp)
	delete(pending, s.temp)
}

// Write writes one file whole or not at all.
func Write(path string, write func(io.Writer) error) error {
	s, err := Stage(path, write)
	if err != nil {
		return err
	}
	return Commit(s)
}

// Cache is Write for what can be made again: it does not wait for the disk.
func Cache(path string, write func(io.Writer) error) error {
	s, err := stage(path, write, func(*os.File) error { return nil })
	if err != nil {
		return err
	}
	return Commit(s)
}

// Folder makes a temporary folder; done removes it.
func Folder() (dir string, done func(), err error) {
	sweep(os.TempDir())
	mu.Lock()
	defer mu.Unlock()
	if stopped {
		return "", nil, ErrStopped
	}
	if dir, err = os.MkdirTemp("", "."+mark()); err != nil {
		return "", nil, err
	}
	pending[dir] = true
	return dir, func() {
		mu.Lock()
		defer mu.Unlock()
		os.RemoveAll(dir)
		delete(pending, dir)
	}, nil
}

// Stop removes what is pending; from then on nothing is written.
func Stop() {
	mu.Lock()
	defer mu.Unlock()
	stopped = true
	for name := range pending {
		os.RemoveAll(name)
	}
	clear(pending)
}

// A temporary name tells the process that it belongs to.
func mark() string { return ".guardband-" + strconv.Itoa(os.Getpid()) + "-*" }

var marked = regexp.MustCompile(`^\..*\.guardband-([0-9]+)-[0-9]+$`)

// sweep removes what processes that are gone left in a folder.
func sweep(dir string) {
	mu.Lock()
	seen := swept[dir]
	swept[dir] = true
	mu.Unlock()
	if seen {
		return
	}
	list, err := os.ReadDir(dir)
	if err != nil {
		return
	}
	for _, d := range list {
		m := marked.FindStringSubmatch(d.Name())
		if m == nil {
			continue
		}
		if pid, err := strconv.Atoi(m[1]); err == nil && pid != os.Getpid() && gone(pid) {
			os.RemoveAll(filepath.Join(dir, d.Name()))
		}
	}
}

func gone(pid int) bool {
	p, err := os.FindProcess(pid)
	if err != nil {
		return true
	}
	return errors.Is(p.Signal(syscall.Signal(0)), os.ErrProcessDone)
}
