// SPDX-License-Identifier: GPL-3.0-or-later
// Roots and powers: what to adjoin, and what need not be. Rational radicands are stripped of powers first and like roots are
// remembered, so that numbers are printed in the radicals that people would choose.
#include "number/tower.hpp"

#include "number/complaint.hpp"
#include "number/exact_text.hpp"
#include "number/print.hpp"
#include "number/tower_state.hpp"

#include <algorithm>

namespace cutproof {

namespace {

/// Whether a positive rational is the n-th power of a rational, which is then `root`.
bool is_perfect_power(const fmpq_t value, unsigned long n, Rational& root) {
  fmpq_one(root);
  if (fmpq_is_one(value)) return true;
  // 2^n has more than n bits
  if (n > std::max(fmpz_bits(fmpq_numref(value)), fmpz_bits(fmpq_denref(value)))) return false;
  return fmpz_root(root.numerator(), fmpq_numref(value), static_cast<slong>(n)) != 0 &&
         fmpz_root(root.denominator(), fmpq_denref(value), static_cast<slong>(n)) != 0;
}

std::string root_text(const std::string& radicand, unsigned long n) {
  if (n == 2) return "sqrt(" + radicand + ")";
  if (n == 3) return "cbrt(" + radicand + ")";
  const bool plain = radicand.find_first_not_of("0123456789") == std::string::npos;
  return (plain ? radicand : "(" + radicand + ")") + "^(1/" + std::to_string(n) + ")";
}

}  // namespace

FieldTower::FieldTower(NumberLimits limits, FieldProgress progress) : state_(std::make_unique<State>()) {
  state_->limits = limits;
  state_->progress = std::move(progress);
}
FieldTower::~FieldTower() {
  // Numbers point to their fields, and fields to the ones below.
  state_->roots.clear();
  state_->named_roots.clear();
  state_->cosines.clear();
  while (!state_->fields.empty()) state_->fields.pop_back();
}

std::unique_ptr<FieldTower> FieldTower::fork() const {
  auto result = std::make_unique<FieldTower>(state_->limits, state_->progress);
  result->state_->bottom = &top();
  result->state_->roots = state_->roots;
  result->state_->named_roots = state_->named_roots;
  result->state_->cosines = state_->cosines;
  return result;
}

const Field& FieldTower::top() const {
  return state_->fields.empty() ? *state_->bottom : *state_->fields.back();
}
const NumberLimits& FieldTower::limits() const {
  return state_->limits;
}

const Number& FieldTower::checked(const Number& number) const {
  if (number.bits() > state_->limits.max_bits)
    throw OverLimit("max-bits", Wrong::number_bits,
                    {static_cast<long>(number.bits()), static_cast<long>(state_->limits.max_bits)});
  return number;
}

void degree_exceeded(const Field& field, const NumberLimits& limits, const std::string& text, long by, bool at_most) {
  std::vector<ComplaintValue> values{text, static_cast<long>(field.degree()), by, static_cast<long>(limits.max_degree)};
  for (const Generator& generator : field.generators()) {
    values.emplace_back(generator.text);
    values.emplace_back(static_cast<long>(generator.relative_degree));
  }
  throw OverLimit("max-degree", at_most ? Wrong::field_degree_at_most : Wrong::field_degree, std::move(values));
}

Number integer_number(const fmpz_t value, const Field& field) {
  Rational rational;
  fmpz_set(rational.numerator(), value);
  return Number(rational, field);
}

Number FieldTower::adjoin(const std::vector<Number>& polynomial, const Enclosure& root, const Generator& adjoined) {
  const Field& field = top();
  // The norm has this degree, and factoring it cannot be interrupted.
  if ((polynomial.size() - 1) * static_cast<std::size_t>(field.degree()) >
      8 * static_cast<std::size_t>(state_->limits.max_degree))
    degree_exceeded(field, state_->limits, adjoined.text, static_cast<long>(polynomial.size()) - 1, true);
  int relative = 0;
  std::optional<AdjoinedRoot> found =
      adjoin_root(field, polynomial, root, adjoined, state_->limits.max_degree, &relative, state_->progress);
  if (!found) degree_exceeded(field, state_->limits, adjoined.text, relative, false);
  if (found->field != nullptr) state_->fields.push_back(std::move(found->field));
  return checked(found->root);
}

Number FieldTower::root(const Number& radicand, unsigned long n) {
  if (n == 0) throw ToolFault("a zeroth root was asked for");
  if (n == 1 || radicand.is_zero()) return lifted(radicand);
  if (radicand.sign() < 0) {
    if (n % 2 == 0) throw Refused(Wrong::even_root_of_negative);
    return -root(-radicand, n);
  }
  checked(radicand);
  if (radicand.is_rational()) {
    Rational value, power;
    radicand.get_rational(value);
    if (is_perfect_power(value, n, power)) return Number(power, top());
  }
  // radicand = content * primitive, content = p/q, and p/q = (p*q^(n-1)) / q^n
  Rational content = rational_content(radicand);
  Rational inverse;
  fmpq_inv(inverse, content);
  const Number primitive = radicand * Number(inverse, radicand.field());
  if (n > 64 || fmpz_bits(content.denominator()) * n > state_->limits.max_bits)
    throw OverLimit("max-degree", Wrong::root_degree, {static_cast<long>(n), static_cast<long>(state_->limits.max_degree)});
  Integer integer, outside, inside;
  fmpz_pow_ui(integer, content.denominator(), n - 1);
  fmpz_mul(integer, integer, content.numerator());
  strip_powers(integer, n, outside, inside);
  Rational factor;
  fmpz_set(factor.numerator(), outside);
  fmpz_set(factor.denominator(), content.denominator());
  fmpq_canonicalise(factor);

  Number core = integer_number(inside, primitive.field()) * primitive;
  unsigned long degree = n;
  if (core.is_rational()) {
    if (core == Number(1)) return Number(factor, top());
    // (u^e)^(1/n) with a common divisor of e and n is a root of lower degree
    Integer base, value;
    Rational rational;
    core.get_rational(rational);
    fmpz_set(value, rational.numerator());
    for (unsigned long divisor = degree; divisor > 1; --divisor) {
      if (degree % divisor != 0 || fmpz_root(base, value, static_cast<slong>(divisor)) == 0) continue;
      fmpz_set(value, base);
      degree /= divisor;
      divisor = degree + 1;
    }
    core = integer_number(value, Field::rational());
  }
  for (const State::Root& known : state_->roots)
    if (known.n == degree && known.radicand == core) return Number(factor, top()) * lifted(known.value);

  const Number in_top = lifted(core);
  std::vector<Number> polynomial(degree + 1, Number(0L, top()));
  polynomial[0] = -in_top;
  polynomial[degree] = Number(1L, top());
  const Enclosure enclosure = [&](arb_t ball, slong precision) {
    in_top.enclose(ball, precision);
    arb_root_ui(ball, ball, degree, precision);
  };
  Generator adjoined;
  adjoined.text = root_text(to_exact(core), degree);
  if (core.is_rational()) {
    Rational rational;
    core.get_rational(rational);
    adjoined.root = degree;
    fmpz_set(adjoined.radicand, rational.numerator());
  }
  const Number value = adjoin(polynomial, enclosure, adjoined);
  state_->roots.push_back({core, degree, value});
  return Number(factor, top()) * value;
}

Number FieldTower::power(const Number& base, const Number& exponent) {
  Rational rational;
  exponent.get_rational(rational);
  const int sign = fmpq_sgn(rational);
  if (base.is_zero()) {
    if (sign == 0) throw Refused(Wrong::zero_to_the_zero);
    if (sign < 0) throw Refused(Wrong::zero_to_a_negative_power);
    return lifted(base);
  }
  if (sign == 0) return Number(1L, top());
  if (base == Number(1)) return Number(1L, top());
  if (fmpz_bits(rational.denominator()) > 60) throw OverLimit("max-degree", Wrong::exponent_degree);
  const Number start = root(base, fmpz_get_ui(rational.denominator()));
  const bool unit = start == Number(1) || start == Number(-1);
  if (unit) return start.sign() > 0 || fmpz_is_even(rational.numerator()) ? Number(1L, top()) : Number(-1L, top());
  // A number of b bits has about b*count bits in its power; say so before computing it.
  Integer count;
  fmpz_abs(count, rational.numerator());
  const double growth = static_cast<double>(std::max<std::size_t>(start.bits(), 2) - 1);
  if (fmpz_bits(count) > 60 || growth * fmpz_get_d(count) > 2.0 * static_cast<double>(state_->limits.max_bits))
    throw OverLimit("max-bits", Wrong::power_bits, {static_cast<long>(state_->limits.max_bits)});
  Number result(1L, top());
  Number squared = sign > 0 ? start : divide(Number(1L, top()), start);
  for (unsigned long left = fmpz_get_ui(count); left > 0; left >>= 1) {
    if (left & 1) result = checked(result * squared);
    if (left > 1) squared = checked(squared * squared);
  }
  return result;
}

}  // namespace cutproof
