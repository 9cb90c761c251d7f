//go:build !linux && !darwin

package site

// swap makes two folders take each other's place.
func swap(a, b string) error { return swapInSteps(a, b) }
