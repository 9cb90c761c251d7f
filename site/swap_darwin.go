package site

import (
	"errors"

	"golang.org/x/sys/unix"
)

// swap makes two folders take each other's place in one step.
func swap(a, b string) error {
	err := unix.RenamexNp(a, b, unix.RENAME_SWAP)
	if errors.Is(err, unix.EINVAL) || errors.Is(err, unix.ENOTSUP) {
		return swapInSteps(a, b) // a file system that can't
	}
	return err
}
