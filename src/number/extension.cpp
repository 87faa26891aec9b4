// SPDX-License-Identifier: GPL-3.0-or-later
// The norm of h(x - k*alpha) is a polynomial over Q. When it is squarefree, its irreducible factors are the norms of the
// factors of h, and the factor that vanishes at gamma = beta + k*alpha is the minimal polynomial of gamma, with Q(gamma) =
// K(beta).
#include "number/extension.hpp"

#include "number/errors.hpp"
#include "number/flint.hpp"

#include <algorithm>

namespace cutproof {

namespace {

Polynomial trimmed(Polynomial p) {
  while (!p.empty() && p.back().is_zero()) p.pop_back();
  return p;
}

/// The monic greatest common divisor by Euclid's algorithm; both polynomials over one field.
Polynomial greatest_common_divisor(Polynomial a, Polynomial b) {
  a = trimmed(std::move(a));
  b = trimmed(std::move(b));
  while (!b.empty()) {
    const Number inverse = divide(Number(1L, b.back().field()), b.back());
    for (Number& coefficient : b) coefficient = coefficient * inverse;
    while (a.size() >= b.size()) {
      const Number factor = a.back();
      const std::size_t shift = a.size() - b.size();
      for (std::size_t i = 0; i + 1 < b.size(); ++i) a[shift + i] = a[shift + i] - factor * b[i];
      a.pop_back();
      a = trimmed(std::move(a));
    }
    std::swap(a, b);
  }
  return a;
}

Polynomial product(const Polynomial& a, const Polynomial& b) {
  if (a.empty() || b.empty()) return {};
  Polynomial result(a.size() + b.size() - 1, Number(0L, a.front().field()));
  for (std::size_t i = 0; i < a.size(); ++i)
    for (std::size_t j = 0; j < b.size(); ++j) result[i + j] = result[i + j] + a[i] * b[j];
  return result;
}

void add_multiple(Polynomial& sum, const Polynomial& p, const Number& factor) {
  if (sum.size() < p.size()) sum.resize(p.size(), Number(0L, factor.field()));
  for (std::size_t i = 0; i < p.size(); ++i) sum[i] = sum[i] + factor * p[i];
}

/// outer(inner), where inner is linear.
Polynomial composed(const Polynomial& outer, const Polynomial& inner) {
  Polynomial result{outer.back()};
  for (std::size_t i = outer.size() - 1; i-- > 0;) {
    result = product(result, inner);
    result[0] = result[0] + outer[i];
  }
  return result;
}

/// The polynomial of degree at most `degree` with the given values at 0, 1, ..., degree: Newton's forward differences.
void interpolate(fmpq_poly_t result, std::vector<Rational> values) {
  RationalPolynomial basis, term;
  fmpq_poly_zero(result);
  fmpq_poly_one(basis);
  Rational scaled;
  Integer factorial(1);
  for (std::size_t j = 0; j < values.size(); ++j) {
    if (j > 0) fmpz_mul_ui(factorial, factorial, j);
    fmpq_div_fmpz(scaled, values[0], factorial);
    fmpq_poly_scalar_mul_fmpq(term, basis, scaled);
    fmpq_poly_add(result, result, term);
    RationalPolynomial linear;
    fmpq_poly_set_coeff_si(linear, 0, -static_cast<slong>(j));
    fmpq_poly_set_coeff_si(linear, 1, 1);
    fmpq_poly_mul(basis, basis, linear);
    for (std::size_t i = 0; i + 1 < values.size() - j; ++i) fmpq_sub(values[i], values[i + 1], values[i]);
  }
}

/// The primitive integer polynomial proportional to Norm(h(x - k*alpha)).
void norm(fmpz_poly_t result, const Field& field, const Polynomial& h, long k) {
  const std::size_t degree = (h.size() - 1) * static_cast<std::size_t>(field.degree());
  const Number shift = Number(k, field) * Number::generator(field);
  std::vector<Rational> values(degree + 1);
  for (std::size_t x = 0; x <= degree; ++x) {
    const Number at = Number(static_cast<long>(x), field) - shift;
    Number value = h.back();
    for (std::size_t i = h.size() - 1; i-- > 0;) value = value * at + h[i];
    nf_elem_norm(values[x], value.element(), field.nf());
  }
  RationalPolynomial interpolated;
  interpolate(interpolated, std::move(values));
  fmpq_poly_get_numerator(result, interpolated);
  fmpz_poly_primitive_part(result, result);
}

bool squarefree(const IntegerFactors& factors) {
  return std::all_of(factors.value->exp, factors.value->exp + factors.count(), [](slong exponent) { return exponent == 1; });
}

/// The one factor that vanishes at the enclosed number: all others are excluded by balls that do not hold 0.
std::size_t vanishing_factor(const IntegerFactors& factors, const Enclosure& number) {
  std::vector<std::size_t> left;
  for (slong i = 0; i < factors.count(); ++i) left.push_back(static_cast<std::size_t>(i));
  Ball at, value;
  for (slong precision = 64; left.size() > 1; precision *= 2) {
    if (precision > (1L << 20)) throw ToolFault("no factor of a norm could be told from the others");
    number(at, precision);
    left.erase(std::remove_if(left.begin(), left.end(),
                              [&](std::size_t i) {
                                arb_fmpz_poly_evaluate_arb(value, factors[static_cast<slong>(i)], at, precision + 32);
                                return !arb_contains_zero(value);
                              }),
               left.end());
  }
  if (left.empty()) throw ToolFault("no factor of a norm vanishes at its root");
  return left.front();
}

std::vector<Ball> real_roots(const fmpz_poly_t polynomial, slong precision) {
  const slong degree = fmpz_poly_degree(polynomial);
  acb_ptr roots = _acb_vec_init(degree);
  arb_fmpz_poly_complex_roots(roots, polynomial, 0, precision);
  std::vector<Ball> real;
  for (slong i = 0; i < degree; ++i)
    if (acb_is_real(roots + i)) {
      real.emplace_back();
      arb_set(real.back(), acb_realref(roots + i));
    }
  _acb_vec_clear(roots, degree);
  // The balls are disjoint, so their midpoints are in the order of the roots.
  std::sort(real.begin(), real.end(),
            [](const Ball& a, const Ball& b) { return arf_cmp(arb_midref(a.value), arb_midref(b.value)) < 0; });
  return real;
}

/// scale * root of the polynomial has a monic integer minimal polynomial when scale is the leading coefficient.
void make_monic(fmpz_poly_t polynomial) {
  const slong degree = fmpz_poly_degree(polynomial);
  Integer lead, power(1), coefficient;
  fmpz_poly_get_coeff_fmpz(lead, polynomial, degree);
  for (slong i = degree - 1; i >= 0; --i) {
    fmpz_poly_get_coeff_fmpz(coefficient, polynomial, i);
    fmpz_mul(coefficient, coefficient, power);
    fmpz_poly_set_coeff_fmpz(polynomial, i, coefficient);
    fmpz_mul(power, power, lead);
  }
  fmpz_poly_set_coeff_si(polynomial, degree, 1);
}

Number integer_number(const fmpz_t value, const Field& field) {
  Rational rational;
  fmpz_set(rational.numerator(), value);
  return Number(rational, field);
}

}  // namespace

bool enclose_real_root(arb_t ball, const fmpz_poly_t polynomial, int index, slong precision) {
  const std::vector<Ball> real = real_roots(polynomial, precision);
  if (index < 0 || index >= static_cast<int>(real.size())) return false;
  arb_set(ball, real[static_cast<std::size_t>(index)]);
  return true;
}

int index_of_real_root(const fmpz_poly_t polynomial, const Enclosure& root) {
  Ball ball;
  for (slong precision = 64; precision <= (1L << 20); precision *= 2) {
    const std::vector<Ball> candidates = real_roots(polynomial, precision);
    root(ball, precision);
    int index = -1, overlapping = 0;
    for (std::size_t i = 0; i < candidates.size(); ++i)
      if (arb_overlaps(candidates[i], ball)) {
        index = static_cast<int>(i);
        ++overlapping;
      }
    if (overlapping == 1) return index;
    if (overlapping == 0) break;
  }
  throw ToolFault("a root is none of the real roots of its minimal polynomial");
}

int count_real_roots(const fmpz_poly_t polynomial) {
  return static_cast<int>(fmpz_poly_num_real_roots(polynomial));
}

std::optional<AdjoinedRoot> adjoin_root(const Field& field, const Polynomial& given, const Enclosure& root,
                                        const std::string& text, int largest_degree, int* relative_degree) {
  Polynomial h;
  for (const Number& coefficient : given) h.push_back(coefficient.lifted_to(field));
  const int below = field.degree();

  // 1. gamma = beta + k*alpha with the smallest k that keeps the norm squarefree
  IntegerPolynomial full;
  std::unique_ptr<IntegerFactors> factors;
  long k = 0;
  for (long attempt = 0;; ++attempt) {
    if (attempt > 400) throw ToolFault("a polynomial to adjoin a root of is not squarefree");
    k = attempt % 2 == 0 ? attempt / 2 : -(attempt + 1) / 2;
    if (below == 1 && attempt > 0) throw ToolFault("a polynomial to adjoin a root of is not squarefree");
    norm(full, field, h, k);
    if (!fmpz_poly_is_squarefree(full)) continue;
    factors = std::make_unique<IntegerFactors>(full);
    if (squarefree(*factors)) break;
  }
  const Enclosure shifted = [&](arb_t ball, slong precision) {
    root(ball, precision);
    if (k == 0 || below == 1) return;
    Ball alpha;
    field.enclose_generator(alpha, precision + 16);
    arb_mul_si(alpha, alpha, k, precision + 16);
    arb_add(ball, ball, alpha, precision + 16);
  };
  IntegerPolynomial minimal;
  fmpz_poly_set(minimal, factors->value->p + vanishing_factor(*factors, shifted));
  const int degree = static_cast<int>(fmpz_poly_degree(minimal));
  const int relative = degree / below;
  if (relative_degree != nullptr) *relative_degree = relative;

  // 2. degree 1 over K: beta is in K, read it from a common divisor over K
  if (relative == 1) {
    Polynomial shifted_minimal;
    for (int i = 0; i <= degree; ++i) {
      Integer coefficient;
      fmpz_poly_get_coeff_fmpz(coefficient, minimal, i);
      shifted_minimal.push_back(integer_number(coefficient, field));
    }
    const Number step = Number(k, field) * Number::generator(field);
    shifted_minimal = composed(shifted_minimal, {step, Number(1L, field)});
    const Polynomial divisor = greatest_common_divisor(h, shifted_minimal);
    if (divisor.size() != 2) throw ToolFault("a linear factor over a field could not be read back");
    const Number inside = -divisor[0];
    Ball ours, theirs;
    inside.enclose(ours, 128);
    root(theirs, 128);
    if (!arb_overlaps(ours, theirs)) throw ToolFault("a root read back from a field is another one");
    return AdjoinedRoot{nullptr, inside};
  }
  if (degree > largest_degree) return std::nullopt;

  // 3. an integral generator lead*gamma
  Integer lead;
  fmpz_poly_get_coeff_fmpz(lead, minimal, degree);
  if (fmpz_sgn(lead) < 0) {
    fmpz_poly_neg(minimal, minimal);
    fmpz_neg(lead, lead);
  }
  make_monic(minimal);
  const int index = index_of_real_root(minimal, [&](arb_t ball, slong precision) {
    shifted(ball, precision);
    arb_mul_fmpz(ball, ball, lead, precision + 16);
  });

  // 4. alpha in Q(gamma): the common root of its minimal polynomial and h(gamma - k*y) with alpha written as y
  RationalPolynomial image, value;
  {
    RationalPolynomial zero, gamma;
    fmpq_poly_set_coeff_si(gamma, 1, 1);
    const Field scratch(Field::rational(), minimal, index, zero, {text, degree}, gamma);
    Rational inverse_lead;
    fmpz_one(inverse_lead.numerator());
    fmpz_set(inverse_lead.denominator(), lead);
    const Number big = Number::generator(scratch) * Number(inverse_lead, scratch);
    Number alpha(0L, scratch);
    if (below > 1) {
      Polynomial first, second;
      for (slong i = 0; i <= fmpz_poly_degree(field.minimal_polynomial()); ++i) {
        Integer coefficient;
        fmpz_poly_get_coeff_fmpz(coefficient, field.minimal_polynomial(), i);
        first.push_back(integer_number(coefficient, scratch));
      }
      const Polynomial argument = k == 0 ? Polynomial{big} : Polynomial{big, Number(-k, scratch)};
      Polynomial power{Number(1L, scratch)};
      for (const Number& coefficient : h) {
        RationalPolynomial in_alpha;
        coefficient.get_polynomial(in_alpha);
        Polynomial factor;
        for (slong i = 0; i < fmpq_poly_length(in_alpha.value); ++i) {
          Rational part;
          fmpq_poly_get_coeff_fmpq(part, in_alpha, i);
          factor.push_back(Number(part, scratch));
        }
        if (!factor.empty()) add_multiple(second, product(power, factor), Number(1L, scratch));
        power = product(power, argument);
      }
      const Polynomial divisor = greatest_common_divisor(first, second);
      if (divisor.size() != 2) throw ToolFault("the generator below could not be written in the new one");
      alpha = -divisor[0];
    }
    alpha.get_polynomial(image);
    (big - Number(k, scratch) * alpha).get_polynomial(value);
  }
  AdjoinedRoot result;
  result.field = std::make_unique<Field>(field, minimal, index, image, Generator{text, relative}, value);
  result.root = Number::from_polynomial(value, *result.field);
  Ball ours, theirs;
  result.root.enclose(ours, 128);
  root(theirs, 128);
  if (!arb_overlaps(ours, theirs)) throw ToolFault("an adjoined root is another one than was asked for");
  return result;
}

}  // namespace cutproof
