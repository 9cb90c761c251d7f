package site

import "os"

// swapInSteps makes two folders take each other's place by three renamings,
// and takes back the first if the second fails.
func swapInSteps(a, b string) error {
	aside := a + ".old"
	if err := os.Rename(b, aside); err != nil {
		return err
	}
	if err := os.Rename(a, b); err != nil {
		os.Rename(aside, b)
		return err
	}
	return os.Rename(aside, a)
}
