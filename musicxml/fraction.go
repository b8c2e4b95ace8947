package musicxml

import (
	"cmp"
	"errors"
	"fmt"
	"math"
	"math/bits"
	"strings"
)

// Fraction is an exact time or duration, counted in quarter notes unless a
// comment says otherwise. It is a comparable value in lowest terms; the zero
// value is zero. Arithmetic that would pass 64 bits saturates to a value for
// which Valid reports false, so that a hostile file cannot wrap a time around.
type Fraction struct {
	num int64
	// less is the denominator minus one, so that the zero value is 0/1.
	less int64
}

// invalidFraction marks a result that 64 bits cannot hold.
var invalidFraction = Fraction{num: 0, less: -1}

var errDecimal = errors.New("not a plain decimal number")

// NewFraction returns n/d in lowest terms. A zero d gives an invalid fraction.
func NewFraction(n, d int64) Fraction {
	if d == 0 || d == math.MinInt64 || n == math.MinInt64 {
		return invalidFraction
	}
	if d < 0 {
		n, d = -n, -d
	}
	if g := gcd(n, d); g > 1 {
		n, d = n/g, d/g
	}
	return Fraction{n, d - 1}
}

// Valid reports whether the fraction is a number at all.
func (f Fraction) Valid() bool { return f.less >= 0 }

// Num returns the numerator, Den the denominator (always positive).
func (f Fraction) Num() int64 { return f.num }

// Den returns the denominator, always positive for a valid fraction.
func (f Fraction) Den() int64 { return f.less + 1 }

// Add returns f + g.
func (f Fraction) Add(g Fraction) Fraction {
	if !f.Valid() || !g.Valid() {
		return invalidFraction
	}
	if f.less == g.less {
		sum, ok := add64(f.num, g.num)
		if !ok {
			return invalidFraction
		}
		return NewFraction(sum, f.Den())
	}
	a, okA := mul64(f.num, g.Den())
	b, okB := mul64(g.num, f.Den())
	den, okD := mul64(f.Den(), g.Den())
	sum, okS := add64(a, b)
	if !okA || !okB || !okD || !okS {
		return invalidFraction
	}
	return NewFraction(sum, den)
}

// Neg returns −f.
func (f Fraction) Neg() Fraction { return Fraction{-f.num, f.less} }

// Abs returns f without its sign.
func (f Fraction) Abs() Fraction {
	if f.num < 0 {
		return f.Neg()
	}
	return f
}

// Sub returns f − g.
func (f Fraction) Sub(g Fraction) Fraction { return f.Add(g.Neg()) }

// Mul returns f × g.
func (f Fraction) Mul(g Fraction) Fraction {
	if !f.Valid() || !g.Valid() {
		return invalidFraction
	}
	n, okN := mul64(f.num, g.num)
	d, okD := mul64(f.Den(), g.Den())
	if !okN || !okD {
		return invalidFraction
	}
	return NewFraction(n, d)
}

// Div returns f ÷ g; dividing by zero gives an invalid fraction.
func (f Fraction) Div(g Fraction) Fraction {
	if !g.Valid() || g.num == 0 {
		return invalidFraction
	}
	return f.Mul(NewFraction(g.Den(), g.num))
}

// Cmp returns −1, 0 or +1 as f is less than, equal to or greater than g.
func (f Fraction) Cmp(g Fraction) int {
	if f == g {
		return 0
	}
	hiA, loA := mul128(f.num, g.Den())
	hiB, loB := mul128(g.num, f.Den())
	if hiA != hiB {
		return cmp.Compare(hiA, hiB)
	}
	return cmp.Compare(loA, loB)
}

// Less reports whether f is before g.
func (f Fraction) Less(g Fraction) bool { return f.Cmp(g) < 0 }

// Max returns the later of f and g.
func (f Fraction) Max(g Fraction) Fraction {
	if f.Less(g) {
		return g
	}
	return f
}

// Min returns the earlier of f and g.
func (f Fraction) Min(g Fraction) Fraction {
	if g.Less(f) {
		return g
	}
	return f
}

// Sign returns −1, 0 or +1.
func (f Fraction) Sign() int { return cmp.Compare(f.num, 0) }

// Float returns the nearest floating-point number, for drawing only.
func (f Fraction) Float() float64 { return float64(f.num) / float64(f.Den()) }

// String writes "3/2", or "3" for a whole number.
func (f Fraction) String() string {
	if !f.Valid() {
		return "invalid"
	}
	if f.less == 0 {
		return fmt.Sprint(f.num)
	}
	return fmt.Sprintf("%d/%d", f.num, f.Den())
}

// ParseFraction reads a decimal number as MusicXML writes divisions and
// durations (xs:decimal: "4", "-1", "0.5"), exactly.
func ParseFraction(text string) (Fraction, error) {
	text = strings.TrimSpace(text)
	digits, negative := text, false
	if digits != "" && (digits[0] == '-' || digits[0] == '+') {
		negative, digits = digits[0] == '-', digits[1:]
	}
	var num, den int64 = 0, 1
	seen, point := false, false
	for i := 0; i < len(digits); i++ {
		c := digits[i]
		switch {
		case c == '.' && !point:
			point = true
		case c >= '0' && c <= '9':
			if num > (math.MaxInt64-9)/10 || point && den > math.MaxInt64/10 {
				return invalidFraction, fmt.Errorf("%q: %w of a usable size", text, errDecimal)
			}
			num, seen = num*10+int64(c-'0'), true
			if point {
				den *= 10
			}
		default:
			return invalidFraction, fmt.Errorf("%q: %w", text, errDecimal)
		}
	}
	if !seen {
		return invalidFraction, fmt.Errorf("%q: %w", text, errDecimal)
	}
	if negative {
		num = -num
	}
	return NewFraction(num, den), nil
}

func gcd(a, b int64) int64 {
	if a < 0 {
		a = -a
	}
	for b != 0 {
		a, b = b, a%b
	}
	return a
}

func add64(a, b int64) (int64, bool) {
	sum := a + b
	return sum, (sum > a) == (b > 0)
}

func mul64(a, b int64) (int64, bool) {
	if a == 0 || b == 0 {
		return 0, true
	}
	p := a * b
	return p, p/b == a && p != math.MinInt64
}

// mul128 returns the signed 128-bit product as a high and a low word.
func mul128(a, b int64) (int64, uint64) {
	hi, lo := bits.Mul64(uint64(a), uint64(b))
	high := int64(hi)
	if a < 0 {
		high -= b
	}
	if b < 0 {
		high -= a
	}
	return high, lo
}

// Quarters says a length in quarter notes: "3/2 quarter notes".
func (f Fraction) Quarters() string {
	if f == NewFraction(1, 1) {
		return "1 quarter note"
	}
	return f.String() + " quarter notes"
}
