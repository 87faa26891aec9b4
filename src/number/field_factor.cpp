// SPDX-License-Identifier: GPL-3.0-or-later
// The norm of h(x - k*alpha) is a polynomial over Q. When it is squarefree, its irreducible factors are the norms of the
// factors of h, and the factor that vanishes at gamma = beta + k*alpha is the minimal polynomial of gamma, with Q(gamma) =
// K(beta). Above every embedding of K it vanishes at the roots of one factor of h, whose coefficients are read from them.
#include "number/field_factor.hpp"

#include "number/conjugates.hpp"
#include "number/errors.hpp"
#include "number/lifting.hpp"

#include <algorithm>
#include <memory>
#include <optional>
#include <utility>

namespace cutproof {

namespace {

constexpr slong most_bits = 1L << 17;

/// The one factor that vanishes at the enclosed number: all others are excluded by balls that do not hold 0.
slong vanishing_factor(const IntegerFactors& factors, const Enclosure& number) {
  std::vector<slong> left;
  for (slong i = 0; i < factors.count(); ++i) left.push_back(i);
  Ball at, value;
  for (slong precision = 64; left.size() > 1; precision *= 2) {
    if (precision > (1L << 20)) throw ToolFault("no factor of a norm could be told from the others");
    number(at, precision);
    left.erase(std::remove_if(left.begin(), left.end(),
                              [&](slong i) {
                                arb_fmpz_poly_evaluate_arb(value, factors[i], at, precision + 32);
                                return !arb_contains_zero(value);
                              }),
               left.end());
  }
  if (left.empty()) throw ToolFault("no factor of a norm vanishes at its root");
  return left.front();
}

/// A squarefree norm of h(x - k*alpha), with the smallest k that there is.
struct Norm {
  IntegerPolynomial polynomial;
  long k = 0;
};

Norm squarefree_norm(const Polynomial& monic) {
  auto conjugates = std::make_unique<Conjugates>(monic, 256);
  Norm result;
  for (long attempt = 0; attempt <= 400; ++attempt) {
    result.k = attempt % 2 == 0 ? attempt / 2 : -(attempt + 1) / 2;
    while (!conjugates->norm(result.polynomial, result.k)) {
      if (conjugates->precision() > most_bits) throw ToolFault("a norm could not be computed");
      conjugates = std::make_unique<Conjugates>(monic, 2 * conjugates->precision());
    }
    if (fmpz_poly_is_squarefree(result.polynomial)) return result;
    if (conjugates->embeddings() == 1) break;
  }
  throw ToolFault("a polynomial to adjoin a root of is not squarefree");
}

/// The factor of h whose roots, shifted by k*alpha, are those of `norm_factor`; nothing when the balls are too wide.
std::optional<Polynomial> factor_below(const Conjugates& conjugates, const Polynomial& monic, const fmpz_poly_t norm_factor,
                                       long k) {
  const Field& field = monic.back().field();
  const slong degree = fmpz_poly_degree(norm_factor) / conjugates.embeddings(), precision = conjugates.precision();
  std::vector<std::unique_ptr<ComplexBalls>> coefficients;
  for (slong j = 0; j < degree; ++j) coefficients.push_back(std::make_unique<ComplexBalls>(conjugates.embeddings()));
  ComplexBalls roots(degree), at(2);
  ComplexPolynomial product;
  for (slong i = 0; i < conjugates.embeddings(); ++i) {
    slong found = 0;
    for (slong j = 0; j < conjugates.above(); ++j) {
      acb_mul_si(at[0], conjugates.generator(i), k, precision);
      acb_add(at[0], at[0], conjugates.root(i, j), precision);
      arb_fmpz_poly_evaluate_acb(at[1], norm_factor, at[0], precision);
      if (!acb_contains_zero(at[1])) continue;
      if (found == degree) return std::nullopt;
      acb_set(roots[found++], conjugates.root(i, j));
    }
    if (found != degree) throw ToolFault("a factor of a norm is not the norm of a factor");
    acb_poly_product_roots(product, roots.value, degree, precision);
    for (slong j = 0; j < degree; ++j) acb_poly_get_coeff_acb((*coefficients[static_cast<std::size_t>(j)])[i], product, j);
  }
  Polynomial factor;
  for (const auto& each : coefficients) {
    const std::optional<Number> number = conjugates.integral_number(*each);
    if (!number) return std::nullopt;
    factor.push_back(*number);
  }
  factor.emplace_back(1L, field);
  for (const Number& coefficient : remainder(monic, factor))
    if (!coefficient.is_zero()) throw ToolFault("what was read from a norm does not divide its polynomial");
  return factor;
}

/// The factor of x^2 + b*x + c that vanishes at the root, by the square root of b^2 - 4c; nothing where it is left open
/// whether there is one.
std::optional<Polynomial> factor_of_quadratic(const Polynomial& monic, const Enclosure& root) {
  const Field& field = monic.back().field();
  const Number discriminant = square(monic[1]) - Number(4) * monic[0];
  if (discriminant.is_zero()) throw ToolFault("a polynomial to adjoin a root of is not squarefree");
  std::optional<Number> difference;
  switch (field.square_root_finder().find(discriminant, difference)) {
    case SquareRootFinder::Answer::open:
      return std::nullopt;
    case SquareRootFinder::Answer::none:
      return monic;
    case SquareRootFinder::Answer::found:
      break;
  }
  const Number half = Number::fraction(1, 2);
  const Number candidates[2] = {half * (*difference - monic[1]), -half * (*difference + monic[1])};
  Ball wanted, each;
  for (slong precision = 64; precision <= most_bits; precision *= 2) {
    root(wanted, precision);
    bool possible[2];
    for (int i = 0; i < 2; ++i) {
      candidates[i].enclose(each, precision);
      possible[i] = arb_overlaps(each, wanted) != 0;
    }
    if (possible[0] != possible[1]) return Polynomial{-candidates[possible[0] ? 0 : 1], Number(1L, field)};
    if (!possible[0]) break;
  }
  throw ToolFault("no root of a quadratic polynomial is the one that was asked for");
}

}  // namespace

Polynomial irreducible_factor(const Polynomial& monic, const Enclosure& root) {
  if (proved_irreducible(monic)) return monic;
  const Field& field = monic.back().field();
  if (monic.size() == 3)
    if (std::optional<Polynomial> factor = factor_of_quadratic(monic, root)) return std::move(*factor);
  const Norm norm = squarefree_norm(monic);
  const IntegerFactors factors(norm.polynomial);
  if (factors.count() == 1) return monic;
  const slong index = vanishing_factor(factors, [&](arb_t ball, slong precision) {
    root(ball, precision);
    Ball alpha;
    field.enclose_generator(alpha, precision + 16);
    arb_addmul_si(ball, alpha, norm.k, precision + 16);
  });
  for (slong precision = 256; precision <= most_bits; precision *= 2)
    if (std::optional<Polynomial> factor = factor_below(Conjugates(monic, precision), monic, factors[index], norm.k))
      return std::move(*factor);
  throw ToolFault("a factor of a polynomial over a field could not be read from its norm");
}

}  // namespace cutproof
