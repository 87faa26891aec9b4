# SPDX-License-Identifier: GPL-3.0-or-later
"""Exact arithmetic in a real number field, with nothing but Python's own integers and fractions.

Elements are tuples of Fractions: coefficients in powers of the generator, lowest first, without zeros at the end.
"""
import random
from fractions import Fraction
from itertools import combinations
from math import comb, isqrt


class Wrong(Exception):
    """A certificate does not prove what it says."""


def demand(condition, what):
    if not condition:
        raise Wrong(what)


def trimmed(coefficients):
    coefficients = list(coefficients)
    while coefficients and coefficients[-1] == 0:
        coefficients.pop()
    return coefficients


def multiply(f, g):
    if not f or not g:
        return []
    product = [0] * (len(f) + len(g) - 1)
    for i, a in enumerate(f):
        for j, b in enumerate(g):
            product[i + j] += a * b
    return trimmed(product)


def subtract(f, g):
    size = max(len(f), len(g))
    return trimmed((f[i] if i < len(f) else 0) - (g[i] if i < len(g) else 0) for i in range(size))


def divide(f, g, inverse_of_lead):
    """Quotient and remainder; inverse_of_lead * g[-1] is 1."""
    remainder, quotient = list(f), [0] * max(0, len(f) - len(g) + 1)
    for shift in range(len(f) - len(g), -1, -1):
        factor = remainder[shift + len(g) - 1] * inverse_of_lead
        quotient[shift] = factor
        for i, b in enumerate(g):
            remainder[shift + i] -= factor * b
    return trimmed(quotient), trimmed(remainder[:len(g) - 1])


def value_at(f, x):
    value = 0
    for coefficient in reversed(f):
        value = value * x + coefficient
    return value


def derivative(f):
    return trimmed(i * c for i, c in enumerate(f))[1:] if len(f) > 1 else []


# ---------------------------------------------------------------- primes

def is_prime(n):
    """Miller and Rabin's test with bases that are proved to suffice below 3.3 * 10^24 (Sorenson and Webster, 2015)."""
    if n < 2:
        return False
    bases = (2, 3, 5, 7, 11, 13, 17, 19, 23, 29, 31, 37, 41)
    for p in bases:
        if n % p == 0:
            return n == p
    demand(n < 3317044064679887385961981, "a prime is too large for the primality test used here")
    odd, twos = n - 1, 0
    while odd % 2 == 0:
        odd, twos = odd // 2, twos + 1
    for base in bases:
        power = pow(base, odd, n)
        if power in (1, n - 1):
            continue
        for _ in range(twos - 1):
            power = power * power % n
            if power == n - 1:
                break
        else:
            return False
    return True


# ---------------------------------------------------------------- polynomials modulo p

def reduce_mod(f, p):
    return trimmed(c % p for c in f)


def divide_mod(f, g, p):
    quotient, remainder = divide(f, g, pow(g[-1], -1, p))
    return reduce_mod(quotient, p), reduce_mod(remainder, p)


def gcd_mod(f, g, p):
    while g:
        f, g = g, divide_mod(f, g, p)[1]
    inverse = pow(f[-1], -1, p)
    return reduce_mod([c * inverse for c in f], p)


def power_mod(base, exponent, modulus, p):
    result = [1]
    while exponent:
        if exponent & 1:
            result = divide_mod(reduce_mod(multiply(result, base), p), modulus, p)[1]
        base = divide_mod(reduce_mod(multiply(base, base), p), modulus, p)[1]
        exponent >>= 1
    return result


def factor_mod(f, p):
    """Monic irreducible factors of a squarefree f modulo an odd prime p, by degrees and then Cantor and Zassenhaus."""
    inverse = pow(f[-1], -1, p)
    rest = reduce_mod([c * inverse for c in f], p)
    factors, power, degree = [], [0, 1], 0
    while len(rest) - 1 >= 2 * (degree + 1):
        degree += 1
        power = power_mod(power, p, rest, p)
        common = gcd_mod(rest, reduce_mod(subtract(power, [0, 1]), p), p)
        if len(common) > 1:
            factors += split_equal_degrees(common, degree, p)
            rest = divide_mod(rest, common, p)[0]
            power = divide_mod(power, rest, p)[1] if len(rest) > 1 else power
    if len(rest) > 1:
        factors.append(rest)
    return factors


def split_equal_degrees(f, degree, p):
    if len(f) - 1 == degree:
        return [f]
    source = random.Random(1)  # a formula for the attempts would repeat itself after p of them
    while True:
        attempt = reduce_mod([source.randrange(p) for _ in range(len(f) - 1)], p)
        if len(attempt) < 2:
            continue
        power = power_mod(attempt, (p ** degree - 1) // 2, f, p)
        common = gcd_mod(f, reduce_mod(subtract(power, [1]), p), p)
        if 1 < len(common) < len(f):
            return split_equal_degrees(common, degree, p) + split_equal_degrees(divide_mod(f, common, p)[0], degree, p)


def degree_sums(factors):
    sums = {0}
    for factor in factors:
        sums |= {s + len(factor) - 1 for s in sums}
    return sums


def lift(f, g, h, p, target):
    """Hensel: monic g and h with f = lead * g * h modulo p, coprime, are lifted to a power of p that is at least target."""
    lead = f[-1]
    # s*g + t*h = 1 modulo p
    r0, r1, s0, s1 = g, h, [1], []
    while r1:
        quotient, remainder = divide_mod(r0, r1, p)
        r0, r1 = r1, remainder
        s0, s1 = s1, reduce_mod(subtract(s0, multiply(quotient, s1)), p)
    inverse = pow(r0[0], -1, p)
    s = reduce_mod([c * inverse for c in s0], p)
    t = divide_mod(reduce_mod(subtract([1], multiply(s, g)), p), h, p)[0]
    modulus = p
    while modulus < target:
        following = modulus * p
        lead_inverse = pow(lead, -1, following)
        monic = [c * lead_inverse % following for c in f]
        error = [c % following for c in subtract(monic, multiply(g, h))]
        error = reduce_mod([c // modulus for c in error], p)
        quotient, dh = divide_mod(reduce_mod(multiply(error, s), p), h, p)
        dg = reduce_mod(subtract(multiply(error, t), [-c for c in multiply(quotient, g)]), p)
        dg = divide_mod(dg, reduce_mod(g, p), p)[1] if len(dg) >= len(g) else dg
        g = [(g[i] if i < len(g) else 0) + modulus * (dg[i] if i < len(dg) else 0) for i in range(len(g))]
        h = [(h[i] if i < len(h) else 0) + modulus * (dh[i] if i < len(dh) else 0) for i in range(len(h))]
        modulus = following
        check = [c % modulus for c in subtract([c * pow(lead, -1, modulus) for c in f], multiply(g, h))]
        demand(not any(check), "lifting a factorisation failed (a fault of this program)")
    return g, h, modulus


def is_irreducible(f):
    """Proof either way for an integer polynomial: degrees of factors modulo several primes, and where these leave a gap
    (x^4 + 1 has factors of degree 2 modulo every prime) Zassenhaus's method: lift a factorisation modulo p beyond
    Mignotte's bound and try every combination."""
    degree = len(f) - 1
    if degree < 1:
        return False
    if degree == 1:
        return True
    common, other = [Fraction(c) for c in f], [Fraction(c) for c in derivative(f)]
    while other:
        common, other = other, divide(common, other, 1 / other[-1])[1]
    if len(common) > 1:
        return False  # a double root
    possible, best, p, tried = set(range(degree + 1)), None, 2, 0
    while tried < 25:
        p += 1
        if not is_prime(p) or f[-1] % p == 0:
            continue
        reduced = reduce_mod(f, p)
        if len(gcd_mod(reduced, reduce_mod(derivative(reduced), p), p)) > 1:
            continue  # finitely many primes divide the discriminant
        tried += 1
        factors = factor_mod(reduced, p)
        possible &= degree_sums(factors)
        if possible == {0, degree}:
            return True
        if best is None or len(factors) < len(best[1]):
            best = (p, factors)
    p, factors = best
    # A factor's coefficients are at most comb(degree, i) * |f|_2; the candidates below carry the leading coefficient, too.
    norm = isqrt(sum(c * c for c in f)) + 1
    bound = 2 * abs(f[-1]) * comb(degree, degree // 2) * norm + 1
    lifted, rest, remaining = [], list(f), list(factors)
    modulus = p
    while len(remaining) > 1:
        g, others = remaining[0], remaining[1:]
        h = [1]
        for other in others:
            h = reduce_mod(multiply(h, other), p)
        g, h, modulus = lift(rest, g, h, p, bound)
        lifted.append(g)
        rest, remaining = h, others
    lifted.append([c * pow(rest[-1], -1, modulus) % modulus for c in rest])
    for size in range(1, len(lifted) // 2 + 1):
        for chosen in combinations(lifted, size):
            candidate = [f[-1]]
            for factor in chosen:
                candidate = [c % modulus for c in multiply(candidate, factor)]
            candidate = [c - modulus if 2 * c > modulus else c for c in candidate]
            _, remainder = divide([Fraction(c) for c in f], candidate, Fraction(1, candidate[-1]))
            if not remainder:
                return False
    return True


# ---------------------------------------------------------------- the field

class Field:
    """The field of the only root of an irreducible integer polynomial between two rationals."""

    def __init__(self, polynomial, low, high):
        self.polynomial, self.low, self.high = polynomial, low, high
        self.degree = len(polynomial) - 1
        demand(self.degree >= 1 and polynomial[-1] != 0, "a minimal polynomial of degree 0")
        demand(is_irreducible(polynomial), "the minimal polynomial is reducible")
        demand(low < high, "the isolating interval is empty")
        demand(value_at(polynomial, low) != 0 and value_at(polynomial, high) != 0, "an end of the interval is a root")
        demand(self.sign_changes(low) - self.sign_changes(high) == 1, "the interval does not isolate one root")
        self.inverse_of_lead = Fraction(1, polynomial[-1])

    def sign_changes(self, x):
        """Of Sturm's sequence at x."""
        chain = [[Fraction(c) for c in self.polynomial], [Fraction(c) for c in derivative(self.polynomial)]]
        while len(chain[-1]) > 1:
            remainder = divide(chain[-2], chain[-1], 1 / chain[-1][-1])[1]
            if not remainder:
                break
            chain.append([-c for c in remainder])
        signs = [value > 0 for value in (value_at(f, x) for f in chain) if value != 0]
        return sum(a != b for a, b in zip(signs, signs[1:]))

    def refine(self):
        middle = (self.low + self.high) / 2
        if value_at(self.polynomial, middle) == 0:  # only in degree 1
            width = (self.high - self.low) / 8
            self.low, self.high = middle - width, middle + width
        elif (value_at(self.polynomial, self.low) > 0) != (value_at(self.polynomial, middle) > 0):
            self.high = middle
        else:
            self.low = middle

    def element(self, texts):
        demand(isinstance(texts, list) and len(texts) <= self.degree, "a number has more coefficients than the degree")
        return tuple(trimmed(Fraction(text) for text in texts))

    def integer(self, n):
        return tuple(trimmed([Fraction(n)]))

    def add(self, a, b):
        size = max(len(a), len(b))
        return tuple(trimmed((a[i] if i < len(a) else 0) + (b[i] if i < len(b) else 0) for i in range(size)))

    def negative(self, a):
        return tuple(-c for c in a)

    def subtract(self, a, b):
        return self.add(a, self.negative(b))

    def multiply(self, a, b):
        product = multiply(a, b)
        if len(product) > self.degree:
            product = divide(product, self.polynomial, self.inverse_of_lead)[1]
        return tuple(product)

    def inverse(self, a):
        demand(len(a) > 0, "a division by zero")
        r0, r1, s0, s1 = [Fraction(c) for c in self.polynomial], list(a), [], [Fraction(1)]
        while len(r1) > 1:
            quotient, remainder = divide(r0, r1, 1 / r1[-1])
            r0, r1 = r1, remainder
            s0, s1 = s1, subtract(s0, multiply(quotient, s1))
        return tuple(trimmed(divide([c / r1[0] for c in s1], self.polynomial, self.inverse_of_lead)[1]
                             if len(s1) > self.degree else [c / r1[0] for c in s1]))

    def enclose(self, a):
        low, high = Fraction(0), Fraction(0)
        for coefficient in reversed(a):
            products = (low * self.low, low * self.high, high * self.low, high * self.high)
            low, high = min(products) + coefficient, max(products) + coefficient
        return low, high

    def sign(self, a):
        if not a:
            return 0
        while True:
            low, high = self.enclose(a)
            if low > 0:
                return 1
            if high < 0:
                return -1
            self.refine()

    def close_value(self, a, digits=60):
        """A rational within 10^-digits of the element."""
        while True:
            low, high = self.enclose(a)
            if high - low < Fraction(1, 10 ** digits):
                return (low + high) / 2
            self.refine()


class Residues:
    """The ring homomorphism that takes the generator to a simple root of the minimal polynomial modulo a prime q."""

    def __init__(self, field, q, root):
        demand(isinstance(q, int) and isinstance(root, int) and q > 2 and is_prime(q), "a modulus is not an odd prime")
        demand(0 <= root < q, "a root is not reduced")
        demand(field.polynomial[-1] % q != 0, "a modulus divides the leading coefficient")
        demand(value_at(field.polynomial, root) % q == 0, "a residue is no root of the minimal polynomial")
        demand(value_at(derivative(field.polynomial), root) % q != 0, "a root modulo a prime is not simple")
        self.q, self.root = q, root

    def __call__(self, element):
        value = 0
        for coefficient in reversed(element):
            demand(coefficient.denominator % self.q != 0, "a number has no residue")
            value = (value * self.root + coefficient.numerator * pow(coefficient.denominator, -1, self.q)) % self.q
        return value
