#!/usr/bin/env python3
# SPDX-License-Identifier: GPL-3.0-or-later
"""Re-checks the Dehn invariants in JSON reports of cutproof from their certificates alone.

usage: recheck.py REPORT.json...        exit code 0 when every certificate proves what the report says, 1 otherwise

Shares no code with cutproof. docs/certificates.md says what a certificate is, and why this proves it.
"""
import json
import sys
from decimal import Decimal, getcontext
from fractions import Fraction

from expressions import Unknown, decimal_atan_degrees, evaluate
from number_field import Field, Residues, Wrong, demand, is_prime

getcontext().prec = 400  # of numbers with 115 digits that cancel enough must be left
# Data of a wrong shape is rejected, too.
REJECTIONS = (Wrong, KeyError, IndexError, TypeError, ValueError, ArithmeticError, StopIteration)
TOLERANCE = Decimal(10) ** -17  # decimals in reports carry 20 digits; they illustrate, the exact data prove


def read_field(data):
    polynomial = []
    for text in data["minimal_polynomial"]:
        coefficient = Fraction(text)
        demand(coefficient.denominator == 1, "a minimal polynomial with fractions")
        polynomial.append(coefficient.numerator)
    low, high = (Fraction(text) for text in data["root_between"])
    return Field(polynomial, low, high)


class Vectors:
    def __init__(self, field):
        self.field = field

    def read(self, data):
        demand(len(data) == 3, "a vector without three components")
        return tuple(self.field.element(each) for each in data)

    def dot(self, a, b):
        total = ()
        for x, y in zip(a, b):
            total = self.field.add(total, self.field.multiply(x, y))
        return total

    def cross(self, a, b):
        f = self.field
        return tuple(f.subtract(f.multiply(a[i], b[j]), f.multiply(a[j], b[i])) for i, j in ((1, 2), (2, 0), (0, 1)))

    def scaled(self, k, a):
        return tuple(self.field.multiply(k, x) for x in a)

    def add(self, a, b):
        return tuple(self.field.add(x, y) for x, y in zip(a, b))

    def direction(self, a):
        """The vector with its first component that is not zero made 1 or -1: equal for equal directions."""
        first = next(x for x in a if x)
        size = first if self.field.sign(first) > 0 else self.field.negative(first)
        return self.scaled(self.field.inverse(size), a)


def sums_of_edges(field, edges):
    """T -> coefficient, with sum of coefficient * sqrt(T) (x) arctan(sqrt(T)); demands closed faces on the way."""
    vectors, sums, faces = Vectors(field), {}, {}
    for data in edges:
        times, edge = data["times"], vectors.read(data["edge"])
        demand(isinstance(times, int) and times != 0, "an edge that does not count")
        first, second = vectors.read(data["first"]), vectors.read(data["second"])
        demand(any(edge) and any(first) and any(second), "an edge or a normal of length zero")
        length_squared = vectors.dot(edge, edge)
        across = vectors.cross(first, second)
        factor = field.multiply(vectors.dot(across, edge), field.inverse(length_squared))
        demand(factor and across == vectors.scaled(factor, edge), "an edge does not lie in both of its faces, or is flat")
        for normal, sign in ((first, times), (second, -times)):
            direction = vectors.direction(normal)
            step = vectors.scaled(field.integer(sign), edge)
            faces[direction] = vectors.add(faces[direction], step) if direction in faces else step
        p = vectors.dot(first, second)
        if not p:
            continue
        inverse = field.inverse(p)
        ratio = field.multiply(factor, inverse)
        tangent_squared = field.multiply(field.multiply(ratio, ratio), length_squared)
        share = field.multiply(field.integer(-times), field.inverse(ratio))
        sums[tangent_squared] = field.add(sums.get(tangent_squared, ()), share)
    for total in faces.values():
        demand(not any(total), "the edges around a face do not close")
    return {tangent_squared: total for tangent_squared, total in sums.items() if total}


def check_separations(field, separations, radicands):
    rows = [[] for _ in radicands]
    for data in separations:
        residue = Residues(field, data["q"], data["root"])
        demand(len(data["symbols"]) == len(radicands), "a place does not judge every class")
        for row, radicand, symbol in zip(rows, radicands, data["symbols"]):
            power = pow(residue(radicand), (residue.q - 1) // 2, residue.q)
            demand(symbol in (1, -1) and power == symbol % residue.q, "a quadratic residue symbol is wrong")
            row.append(symbol)
    demand(len({tuple(row) for row in rows}) == len(rows), "two square classes are not told apart")


def rank_modulo(rows, l):
    rows, rank = [list(row) for row in rows], 0
    for column in range(len(rows[0]) if rows else 0):
        pivot = next((i for i in range(rank, len(rows)) if rows[i][column] % l), None)
        if pivot is None:
            continue
        rows[rank], rows[pivot] = rows[pivot], rows[rank]
        inverse = pow(rows[rank][column], -1, l)
        for i in range(rank + 1, len(rows)):
            factor = rows[i][column] * inverse % l
            if factor:
                rows[i] = [(x - factor * y) % l for x, y in zip(rows[i], rows[rank])]
        rank += 1
    return rank


def check_independence(field, part, radicand, scales):
    pivots, l = part["pivots"], part["l"]
    demand(len(part["characters"]) == len(pivots), "not as many characters as pivots")
    if not pivots:
        demand(l == 0, "an order of characters where there are none")
        return
    demand(is_prime(l) and l > 2 * field.degree + 1, "the order of the characters is no large prime")
    for character in part["characters"]:
        residue = Residues(field, character["q"], character["root"])
        q, root, generator = residue.q, character["sqrt_minus_r"], character["generator"]
        demand(q % l == 1, "a modulus is not 1 modulo the order of the characters")
        demand(0 < root < q and (root * root + residue(radicand)) % q == 0, "a root of -r is wrong")
        demand(1 < generator < q and pow(generator, l, q) == 1, "a generator has another order")
        demand(len(character["logs"]) == len(scales), "a character without a logarithm for each angle")
        for scale, log in zip(scales, character["logs"]):
            imaginary = residue(scale) * root
            top, bottom = (1 + imaginary) % q, (1 - imaginary) % q
            demand(top and bottom, "an angle has no residue")
            power = pow(top * pow(bottom, -1, q), (q - 1) // l, q)
            demand(0 <= log < l and power == pow(generator, log, q), "a logarithm is wrong")
    rows = [[character["logs"][pivot] for pivot in pivots] for character in part["characters"]]
    demand(rank_modulo(rows, l) == len(pivots), "the pivots are not shown to be independent")


def check_relations(field, part, radicand, scales):
    pivots, expressed = part["pivots"], set()
    demand(len(set(pivots)) == len(pivots) and all(0 <= p < len(scales) for p in pivots), "pivots are no set of angles")

    def multiply(u, v):
        return (field.subtract(field.multiply(u[0], v[0]), field.multiply(radicand, field.multiply(u[1], v[1]))),
                field.add(field.multiply(u[0], v[1]), field.multiply(u[1], v[0])))

    def power(u, exponent):
        result = (field.integer(1), ())
        while exponent:
            if exponent & 1:
                result = multiply(result, u)
            u, exponent = multiply(u, u) if exponent > 1 else u, exponent >> 1
        return result

    def product(factors):
        """Of a^m b^n, m >= n, m = k n + rest, is made (a^k b)^n a^rest: that keeps numbers short when the product is 1."""
        while len(factors) > 1:
            factors.sort(key=lambda factor: factor[0])
            (n, b), (m, a) = factors[-2:]
            factors[-2:] = [(n, multiply(power(a, m // n), b))] + ([(m % n, a)] if m % n else [])
        return power(factors[0][1], factors[0][0])

    for relation in part["relations"]:
        dependent, exponents = relation["dependent"], relation["exponents"]
        demand(0 <= dependent < len(scales) and dependent not in pivots and dependent not in expressed,
               "a relation for a pivot, or two for one angle")
        expressed.add(dependent)
        demand(len(exponents) == len(scales) and exponents[dependent] != 0 and relation["order"] > 0,
               "a relation that says nothing")
        factors = []
        for position, exponent in enumerate(exponents):
            if exponent == 0:
                continue
            demand(position == dependent or position in pivots, "a relation uses an angle that is no pivot")
            square = field.multiply(radicand, field.multiply(scales[position], scales[position]))
            inverse = field.inverse(field.add(field.integer(1), square))
            u = (field.multiply(field.subtract(field.integer(1), square), inverse),
                 field.multiply(field.add(scales[position], scales[position]), inverse))
            factors.append((abs(exponent), u if exponent > 0 else (u[0], field.negative(u[1]))))
        value = power(product(factors), relation["order"])
        demand(value == (field.integer(1), ()), "a relation does not hold")
    demand(len(pivots) + len(expressed) == len(scales), "an angle is neither a pivot nor expressed in pivots")


def check_coefficients(field, part, lengths):
    coefficients = [field.element(each) for each in part["coefficients"]]
    demand(len(coefficients) == len(part["pivots"]), "not as many coefficients as pivots")
    for pivot, coefficient in zip(part["pivots"], coefficients):
        total = lengths[pivot]
        for relation in part["relations"]:
            ratio = Fraction(-relation["exponents"][pivot], relation["exponents"][relation["dependent"]])
            total = field.add(total, field.multiply(field.integer(ratio), lengths[relation["dependent"]]))
        demand(total == coefficient, "the coefficient of a pivot is wrong")
    return coefficients


def check_sum(field, term, classes, shown):
    """A sum of factor times pivot's angle, modulo pi; takes its pivots from those to be shown. Returns coefficient, radicand, T."""
    demand(0 <= term["class"] < len(classes) and len(term["pivots"]) == len(term["factors"]) > 0, "a sum of no class")
    radicand, scales = classes[term["class"]]
    coefficient, tangent_squared = field.element(term["coefficient"]), field.element(term["tangent_squared"])
    x, y = field.integer(1), ()
    for pivot, factor in zip(term["pivots"], term["factors"]):
        own = shown.pop((term["class"], pivot), None)
        demand(own is not None, "a sum has an angle that is no pivot, or one that another sum has")
        demand(own == field.multiply(field.integer(factor), coefficient), "a pivot's coefficient is not its factor times its sum's")
        scale = scales[pivot] if factor > 0 else field.negative(scales[pivot])
        for _ in range(abs(factor)):
            x, y = (field.subtract(x, field.multiply(radicand, field.multiply(y, scale))), field.add(y, field.multiply(x, scale)))
    over, under = field.multiply(radicand, field.multiply(y, y)), field.multiply(x, x)
    demand(bool(over) and bool(under), "a sum of angles is a right one")
    if field.sign(field.multiply(x, y)) < 0:  # the negative of the complement: right angles do not count
        over, under = under, over
    demand(field.multiply(tangent_squared, under) == over, "a sum of angles is another one")
    return coefficient, radicand, tangent_squared


def check_certificate(certificate):
    """Demands that the certificate proves its answer; returns the field and the sums of pivots (coefficient, radicand, T)."""
    demand(certificate["format"] == "cutproof-dehn-certificate" and certificate["version"] == 1, "an unknown format")
    field = read_field(certificate["field"])
    sums = sums_of_edges(field, certificate["edges"])
    angles = [(field.element(each["tangent_squared"]), field.element(each["coefficient"])) for each in certificate["angles"]]
    demand(all(coefficient for _, coefficient in angles), "an angle with coefficient zero is listed")
    totals = {}
    for tangent_squared, coefficient in angles:
        demand(field.sign(tangent_squared) > 0, "a squared tangent is not positive")
        totals[tangent_squared] = field.add(totals.get(tangent_squared, ()), coefficient)
    demand({t: c for t, c in totals.items() if c} == sums, "the coefficients of the angles are not what the edges give")

    seen, nonzero, shown, classes = [], [], {}, []
    radicands = [field.element(part["radicand"]) for part in certificate["classes"]]
    check_separations(field, certificate["separations"], radicands)
    for part, radicand in zip(certificate["classes"], radicands):
        demand(field.sign(radicand) > 0, "a radicand is not positive")
        scales = [field.element(each) for each in part["scales"]]
        demand(len(scales) == len(part["angles"]) > 0, "a class without angles or scales")
        for index, scale in zip(part["angles"], scales):
            demand(0 <= index < len(angles), "a class with an angle that is not listed")
            demand(field.sign(scale) > 0, "a scale is not positive")
            demand(field.multiply(field.multiply(scale, scale), radicand) == angles[index][0],
                   "an angle is not in its square class")
        seen += part["angles"]
        check_independence(field, part, radicand, scales)
        check_relations(field, part, radicand, scales)
        lengths = [field.multiply(angles[index][1], scale) for index, scale in zip(part["angles"], scales)]
        for pivot, coefficient in zip(part["pivots"], check_coefficients(field, part, lengths)):
            if coefficient:
                shown[len(classes), pivot] = coefficient
        classes.append((radicand, scales))
    for term in certificate["sums"]:
        nonzero.append(check_sum(field, term, classes, shown))
    demand(not shown, "a pivot is in no sum")
    demand(sorted(seen) == list(range(len(angles))), "an angle is in no class, or in two")
    demand(certificate["zero"] is (not nonzero), "the answer is not what the coefficients say")
    return field, nonzero


def close(a, b):
    return abs(a - b) <= TOLERANCE * max(Decimal(1), abs(a), abs(b))


def decimal_value(field, element):
    value = field.close_value(element)
    return Decimal(value.numerator) / Decimal(value.denominator)


def close_to_text(value, text):
    try:
        return close(value, evaluate(text))
    except Unknown:  # a number written with roots of polynomials: its decimal is compared all the same
        return True


def check_dehn(dehn):
    """The object `dehn` of a report: what it shows must be what its certificate proves."""
    field, nonzero = check_certificate(dehn["certificate"])
    demand(dehn["zero"] is (not nonzero), "the report says something else than its certificate")
    demand(dehn["distinct_angles"] == len(dehn["certificate"]["angles"]), "the report counts other angles than its certificate")
    demand(len(dehn["terms"]) == len(nonzero), "the report shows other terms than its certificate")
    for term, (coefficient, radicand, tangent_squared) in zip(dehn["terms"], nonzero):
        length = decimal_value(field, coefficient) * decimal_value(field, radicand).sqrt()
        tangent = decimal_value(field, tangent_squared).sqrt()
        degrees, cosine = decimal_atan_degrees(tangent), 1 / (1 + tangent * tangent).sqrt()
        demand(0 < Decimal(term["angle"]["degrees"]) < 90, "an angle is not acute")
        demand(close(Decimal(term["coefficient"]["decimal"]), length), "a coefficient's decimal is wrong")
        demand(close(Decimal(term["angle"]["degrees"]), degrees), "an angle's degrees are wrong")
        demand(close_to_text(length, term["coefficient"]["exact"]), "a coefficient is not what is shown")
        demand(close_to_text(cosine, term["angle"]["cosine"]), "a cosine is not what is shown")


def check_report(node, counts):
    """Every `dehn` with a certificate anywhere in a report, and what the report concludes from them."""
    if isinstance(node, list):
        for each in node:
            check_report(each, counts)
        return
    if not isinstance(node, dict):
        return
    if "certificate" in node:
        check_dehn(node)
        counts.append(1)
        return
    if "edge_kinds" in node and "dehn" in node:
        edges = node["dehn"]["certificate"]["edges"]
        count = sum(kind["count"] for kind in node["edge_kinds"])
        demand(count == len(edges), "the certificate has other edges than the table")
    if "dehn_difference" in node and "same_dehn" in node:
        demand(node["same_dehn"] is node["dehn_difference"]["zero"], "equality is not what the difference says")
    for each in node.values():
        check_report(each, counts)


def main(paths):
    bad = 0
    for path in paths:
        counts = []
        try:
            with open(path, encoding="utf-8") as file:
                check_report(json.load(file), counts)
            demand(counts, "there is no certificate in this report")
        except REJECTIONS as problem:
            print(f"{path}: rejected: {problem!r}")
            bad += 1
        else:
            print(f"{path}: {len(counts)} certificates hold")
    return 1 if bad or not paths else 0


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
