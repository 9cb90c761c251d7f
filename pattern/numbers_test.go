package pattern

import (
	"errors"
	"go/ast"
	"go/parser"
	"go/token"
	"math/big"
	"regexp"
	"strings"
	"testing"

	"roundelay/pattern/source"
)

var someNumbers = map[string]int{"side": 6, "even": 2, "first_round": 7, "zero": 0}

func TestEvaluate(t *testing.T) {
	for _, test := range []struct {
		text string
		want int
		fail string // the end of the message
	}{
		{"6", 6, ""},
		{" side ", 6, ""},
		{"side+1", 7, ""},
		{"6*(side + 1)", 42, ""},
		{"side-even-1", 3, ""},
		{"-even + side", 4, ""},
		{"side/even*2", 6, ""},
		{"2+3*4", 14, ""},
		{"first_round - side/even", 4, ""},
		{"((side))", 6, ""},
		{"--side", 6, ""},
		{"zero", 0, ""},
		{"", 0, "the sum ends where a number or a name should follow"},
		{"side side", 0, `the sum should go on with +, -, * or /, not "side"`},
		{"side +", 0, "the sum ends where a number or a name should follow"},
		{"(side", 0, "the sum ends where ) should follow"},
		{"side)", 0, `the sum should go on with +, -, * or /, not ")"`},
		{"side x 2", 0, `the sum should go on with +, -, * or /, not "x 2"`},
		{"side ÷ 2", 0, `the sum should go on with +, -, * or /, not "÷ 2"`},
		{"sides", 0, "no number is called sides"},
		{"first_round / even", 0, "7 / 2 does not come out even; 1 is left over"},
		{"side / zero", 0, "the sum divides by 0"},
		{"even - side", 0, "the sum comes to -4; it may be 0 to 100000"},
		{"100001", 0, "the sum comes to 100001; it may be 0 to 100000"},
		{"1000000000 * 10", 0, "the sum comes to more than 1000000000 on the way"},
		{"99999999999999999999", 0, "the sum comes to more than 1000000000 on the way"},
		{strings.Repeat("1+", 60) + "1", 0, "the sum is 121 bytes long; it may have 120"},
	} {
		got, err := evaluate(test.text, someNumbers)
		switch {
		case test.fail == "" && (err != nil || got != test.want):
			t.Errorf("%q comes to %d (%v), want %d", test.text, got, err, test.want)
		case test.fail != "" && (err == nil || err.Error() != test.fail):
			t.Errorf("%q: %d, %v, want the error %s", test.text, got, err, test.fail)
		}
	}
}

func TestIsSum(t *testing.T) {
	for text, want := range map[string]bool{
		"30":       false, // a count
		"30 sts":   false,
		"6*5":      false, // names nothing
		"sc 3 inc": false, // a group
		"":         false,
		"side":     true,
		"side+1":   true,
		"side +":   true, // names a number: meant as a sum, with an error
		"sid+1":    true, // reads as a sum: meant as one, with an unknown name
		"inc":      true, // the same; the hint says that groups go in ( )
	} {
		if got := isSum(text, someNumbers); got != want {
			t.Errorf("isSum(%q) = %t, want %t", text, got, want)
		}
	}
}

func TestWithNumbers(t *testing.T) {
	const text = "Rnd {side}: (sc {side-1}, inc) x 6 {36} {30 sts}"
	f := source.NewFile("f", text)
	r := &reader{file: f}
	if got, want := r.withNumbers(f, source.Span{To: len(text)}, someNumbers).Text, "Rnd 6: (sc 5, inc) x 6 {36} {30 sts}"; got != want {
		t.Errorf("got %q, want %q", got, want)
	}
	if got := r.withNumbers(f, source.Span{To: len(text)}, nil).Text; got != text {
		t.Errorf("without numbers: got %q", got)
	}
	if len(r.findings) > 0 {
		t.Error(r.findings)
	}
}

var octal = regexp.MustCompile(`\b0[0-9]`)

// FuzzEvaluate compares sums with the same expression read by package
// go/parser and worked out in whole numbers of any size.
func FuzzEvaluate(f *testing.F) {
	for _, s := range []string{"6", "side+1", "6*(side-even)", "side/even", "-(-side)", "(", "side/", "7/2", "1000000000*1000000000", "side side"} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, text string) {
		got, err := evaluate(text, someNumbers)
		var se *sumError
		if err != nil && (!errors.As(err, &se) || se.offset < 0 || se.offset > len(text)) {
			t.Fatalf("%q: the error %v is not inside it", text, err)
		}
		if strings.Trim(text, "0123456789_abcdefghijklmnopqrstuvwxyz+-*/() ") != "" || strings.Contains(text, "//") || strings.Contains(text, "/*") || strings.Contains(text, "--") || strings.Contains(text, "++") || octal.MatchString(text) {
			return // Go reads these otherwise
		}
		expr, parseErr := parser.ParseExpr(text)
		if parseErr != nil {
			if err == nil {
				t.Fatalf("%q comes to %d, but is no expression: %v", text, got, parseErr)
			}
			return
		}
		want, ok := worth(expr)
		switch {
		case !ok:
			if err == nil {
				t.Fatalf("%q comes to %d, but can't be worked out", text, got)
			}
		case err == nil && want.Cmp(big.NewInt(int64(got))) != 0:
			t.Fatalf("%q comes to %d, want %v", text, got, want)
		case err != nil && want.Sign() >= 0 && want.Cmp(big.NewInt(maxNumber)) <= 0 && !strings.Contains(err.Error(), "on the way") && !strings.Contains(err.Error(), "bytes long"):
			t.Fatalf("%q fails (%v), but comes to %v", text, err, want)
		}
	})
}

// worth works out an expression, if it is one of sums.
func worth(e ast.Expr) (*big.Int, bool) {
	switch e := e.(type) {
	case *ast.ParenExpr:
		return worth(e.X)
	case *ast.BasicLit:
		return new(big.Int).SetString(e.Value, 10)
	case *ast.Ident:
		v, ok := someNumbers[e.Name]
		return big.NewInt(int64(v)), ok
	case *ast.UnaryExpr:
		x, ok := worth(e.X)
		if !ok || e.Op != token.SUB {
			return nil, false
		}
		return x.Neg(x), true
	case *ast.BinaryExpr:
		x, ok1 := worth(e.X)
		y, ok2 := worth(e.Y)
		if !ok1 || !ok2 {
			return nil, false
		}
		switch e.Op {
		case token.ADD:
			return x.Add(x, y), true
		case token.SUB:
			return x.Sub(x, y), true
		case token.MUL:
			return x.Mul(x, y), true
		case token.QUO:
			if y.Sign() == 0 {
				return nil, false
			}
			q, rest := new(big.Int).QuoRem(x, y, new(big.Int))
			return q, rest.Sign() == 0
		}
	}
	return nil, false
}
