// SPDX-License-Identifier: GPL-3.0-or-later
#include "dehn/torsion.hpp"

#include "dehn/places.hpp"
#include "number/complaint.hpp"
#include "number/flint.hpp"
#include "number/tower.hpp"

#include <algorithm>
#include <numeric>

namespace cutproof {

namespace {

constexpr ulong first_test_prime = 1UL << 61;

/// Divides both coordinates by their common rational content.
Direction without_content(const Direction& z) {
  RationalPolynomial polynomial;
  Rational content, other;
  z.x.get_polynomial(polynomial);
  fmpq_poly_content(content, polynomial);
  z.y.get_polynomial(polynomial);
  fmpq_poly_content(other, polynomial);
  fmpq_gcd(content, content, other);
  if (fmpq_is_zero(content)) throw ToolFault("a direction without direction");
  fmpq_inv(content, content);
  const Number factor(content, z.x.field());
  return {factor * z.x, factor * z.y};
}

/// (1, y/x): where K is larger than Q, a common factor is seldom rational, and only a quotient is sure to have none.
Direction without_factor(const Direction& z) {
  const Number one(1L, z.x.field());
  if (z.x.is_zero()) return {z.x, one};
  return {one, divide(z.y, z.x)};
}

Direction power(Direction base, unsigned long exponent, const Number& r) {
  Direction result{Number(1L, r.field()), Number(0L, r.field())};
  for (; exponent != 0; exponent >>= 1) {
    if (exponent & 1) result = product(result, base, r);
    if (exponent > 1) base = product(base, base, r);
  }
  return result;
}

const Field& common_field(const Angle& angle) {
  const Field* field = &Field::rational();
  for (const auto& [multiple, ray] : angle.rays)
    for (const Number* each : {&ray.x, &ray.y2})
      if (each->field().stands_on(*field)) field = &each->field();
  return *field;
}

long to_long(const fmpz_t value) {
  if (!fmpz_fits_si(value)) throw OverLimit("bits", Wrong::multiples_of_angle);
  return fmpz_get_si(value);
}

}  // namespace

Direction product(const Direction& a, const Direction& b, const Number& r) {
  const Number x = a.x * b.x - r * (a.y * b.y);
  return x.field().degree() == 1 ? without_content({x, a.x * b.y + a.y * b.x}) : without_factor({x, a.x * b.y + a.y * b.x});
}

Direction product(const std::vector<Direction>& directions, const std::vector<long>& exponents, const Number& r) {
  using Factor = std::pair<unsigned long, Direction>;
  const auto smaller = [](const Factor& a, const Factor& b) { return a.first < b.first; };
  std::vector<Factor> heap;
  for (std::size_t i = 0; i < directions.size(); ++i) {
    if (exponents[i] == 0) continue;
    const bool negative = exponents[i] < 0;
    const unsigned long size =
        negative ? -static_cast<unsigned long>(exponents[i]) : static_cast<unsigned long>(exponents[i]);
    heap.push_back({size, {directions[i].x, negative ? -directions[i].y : directions[i].y}});
  }
  if (heap.empty()) return {Number(1L, r.field()), Number(0L, r.field())};
  std::make_heap(heap.begin(), heap.end(), smaller);
  while (heap.size() > 1) {
    std::pop_heap(heap.begin(), heap.end(), smaller);
    Factor largest = std::move(heap.back());
    heap.pop_back();
    std::pop_heap(heap.begin(), heap.end(), smaller);
    Factor& next = heap.back();
    next.second = product(power(largest.second, largest.first / next.first, r), next.second, r);
    largest.first %= next.first;
    std::push_heap(heap.begin(), heap.end(), smaller);
    if (largest.first == 0) continue;
    heap.push_back(std::move(largest));
    std::push_heap(heap.begin(), heap.end(), smaller);
  }
  return power(std::move(heap.front().second), heap.front().first, r);
}

std::vector<ulong> possible_orders(int degree) {
  // phi(n) >= sqrt(n/2), so nothing is missed.
  std::vector<ulong> orders;
  const ulong limit = static_cast<ulong>(degree);
  for (ulong n = 1; n <= 2 * limit * limit; ++n)
    if (limit % n_euler_phi(n) == 0) orders.push_back(n);
  return orders;
}

std::optional<ulong> order_of_root_of_unity(const Direction& z, const Number& r) {
  const Field& field = r.field();
  const Number x2 = square(z.x), y2 = r * square(z.y);
  const Number numerator = x2 - y2, denominator = x2 + y2;
  // Orders that survive at a place where everything has a residue: almost always none, or the true one and its multiples.
  PlaceSequence places(field, first_test_prime, 2);
  std::vector<ulong> candidates;
  for (std::size_t i = 0;; ++i) {
    const auto top = residue(numerator, places[i]), bottom = residue(denominator, places[i]);
    if (!top || !bottom || *bottom == 0) continue;
    const ulong q = places[i].q;
    const ulong tau = multiply_mod(add_mod(*top, *top, q), n_invmod(*bottom, q), q);
    const std::vector<ulong> orders = possible_orders(2 * field.degree());
    ulong before = 2, term = tau, n = 1;
    for (const ulong order : orders) {
      for (; n < order; ++n) {
        const ulong after = subtract_mod(multiply_mod(tau, term, q), before, q);
        before = term;
        term = after;
      }
      if (term == 2) candidates.push_back(order);
    }
    break;
  }
  if (candidates.empty()) return {};
  const Number two(2L, field);
  const Number tau = divide(two * numerator, denominator);
  Number before = two, term = tau;
  ulong n = 1;
  for (const ulong order : candidates) {
    for (; n < order; ++n) {
      Number after = tau * term - before;
      before = std::move(term);
      term = std::move(after);
    }
    if (term == two) return order;
  }
  return {};
}

std::optional<Number> multiple_of_pi(const Angle& angle) {
  if (angle.rays.empty()) return angle.pi_multiple;
  const Field& field = common_field(angle);
  Integer denominator(1);
  for (const auto& [multiple, ray] : angle.rays) {
    Rational value;
    multiple.get_rational(value);
    fmpz_lcm(denominator, denominator, value.denominator());
  }
  struct Class {
    Number radicand;
    std::vector<Direction> directions;
    std::vector<long> exponents;
  };
  std::vector<Class> classes;
  for (const auto& [multiple, ray] : angle.rays) {
    const Number x = ray.x.lifted_to(field), y2 = ray.y2.lifted_to(field);
    Rational value;
    Integer exponent;
    multiple.get_rational(value);
    fmpz_divexact(exponent, denominator, value.denominator());
    fmpz_mul(exponent, exponent, value.numerator());
    bool placed = false;
    for (Class& each : classes) {
      // y2 = radicand * s^2, so sqrt(y2) = s * sqrt(radicand)
      const auto root = square_root_within_field(y2 * each.radicand);
      if (!root) continue;
      each.directions.push_back({x, divide(root->lifted_to(field), each.radicand)});
      each.exponents.push_back(to_long(exponent));
      placed = true;
      break;
    }
    if (!placed) classes.push_back({y2, {{x, Number(1L, field)}}, {to_long(exponent)}});
  }
  ulong order = 1;
  for (const Class& each : classes) {
    const auto found = order_of_root_of_unity(product(each.directions, each.exponents, each.radicand), each.radicand);
    if (!found) return {};
    order = std::lcm(order, *found);
  }
  // order * denominator * (angle/pi - pi_multiple) is an integer.
  Angle rays_only = angle;
  rays_only.pi_multiple = Number(0);
  Ball ball, pi;
  Integer numerator;
  for (slong precision = 64;; precision *= 2) {
    enclose(rays_only, ball, precision);
    arb_const_pi(pi, precision);
    arb_div(ball, ball, pi, precision);
    arb_mul_fmpz(ball, ball, denominator, precision);
    arb_mul_ui(ball, ball, order, precision);
    if (arb_get_unique_fmpz(numerator, ball)) break;
    if (precision > 1L << 24) throw ToolFault("an angle that is a rational multiple of pi could not be located");
  }
  Rational result;
  fmpz_mul_ui(denominator, denominator, order);
  fmpq_set_fmpz_frac(result, numerator, denominator);
  return angle.pi_multiple + Number(result, Field::rational());
}

bool equal(const Angle& a, const Angle& b) {
  const Angle left = a - b;
  Ball ball;
  enclose(left, ball, 128);
  if (!arb_contains_zero(ball)) return false;
  const auto multiple = multiple_of_pi(left);
  return multiple && multiple->is_zero();
}

}  // namespace cutproof
