package chart

import (
	"math"
	"strconv"
)

// contrast returns the ratio of contrast of two colours as "#c9563c", as WCAG
// 2.2 defines it.
func contrast(a, b [3]float64) float64 {
	x, y := luminance(a), luminance(b)
	return (max(x, y) + 0.05) / (min(x, y) + 0.05)
}

func luminance(c [3]float64) float64 {
	for i, v := range c {
		if v <= 0.04045 {
			c[i] = v / 12.92
		} else {
			c[i] = math.Pow((v+0.055)/1.055, 2.4)
		}
	}
	return 0.2126*c[0] + 0.7152*c[1] + 0.0722*c[2]
}

// rgb returns the parts of a colour, from 0 to 1; black if it is none.
func rgb(hex string) (c [3]float64) {
	if !hexColour.MatchString(hex) {
		return c
	}
	v, _ := strconv.ParseUint(hex[1:], 16, 32)
	return [3]float64{float64(v>>16) / 255, float64(v>>8&255) / 255, float64(v&255) / 255}
}

// over returns a colour laid over a ground.
func over(c, ground [3]float64, opacity float64) [3]float64 {
	for i := range c {
		c[i] = c[i]*opacity + ground[i]*(1-opacity)
	}
	return c
}

// symbolContrast is the least contrast of a symbol to what it is drawn on.
const symbolContrast = 3

// bandOpacity returns how strongly a yarn's colour may be laid on either ground
// without drowning the symbols on it.
func bandOpacity(hex string) float64 {
	const most, step = 0.32, 0.02
	for opacity := most; opacity > step; opacity -= step {
		if bandContrast(hex, opacity) >= symbolContrast {
			return opacity
		}
	}
	return step
}

// bandContrast returns the least contrast of symbols on a band.
func bandContrast(hex string, opacity float64) float64 {
	least := math.Inf(1)
	for _, i := range [...]ink{oddInk, evenInk, incInk, decInk} {
		light := over(rgb(hex), rgb(inkTable[paperInk].light), opacity)
		dark := over(rgb(hex), rgb(inkTable[paperInk].dark), opacity)
		least = min(least, contrast(rgb(inkTable[i].light), light), contrast(rgb(inkTable[i].dark), dark))
	}
	return least
}
