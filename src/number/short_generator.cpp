// SPDX-License-Identifier: GPL-3.0-or-later
#include "number/short_generator.hpp"

#include "number/conjugates.hpp"
#include "number/errors.hpp"
#include "number/larger_order.hpp"

#include <algorithm>
#include <cmath>
#include <complex>
#include <utility>
#include <vector>

namespace cutproof {

namespace {

using Conjugate = std::complex<double>;
using Coordinates = std::vector<Integer>;  // in a basis of the lattice

constexpr slong most_for_discriminant = 4096;  // bits

Number column_number(const fmpq_mat_t matrix, slong column, const Field& field) {
  RationalPolynomial polynomial;
  for (slong i = 0; i < field.degree(); ++i) fmpq_poly_set_coeff_fmpq(polynomial, i, fmpq_mat_entry(matrix, i, column));
  return Number::from_polynomial(polynomial, field);
}

/// The norm of the discriminant of the polynomial that the conjugates' roots belong to; 0 when the balls are too wide.
Integer norm_of_discriminant(const Conjugates& conjugates) {
  const slong precision = conjugates.precision();
  ComplexBalls balls(2);
  acb_one(balls[0]);
  for (slong s = 0; s < conjugates.embeddings(); ++s)
    for (slong j = 0; j < conjugates.above(); ++j)
      for (slong i = 0; i < j; ++i) {
        acb_sub(balls[1], conjugates.root(s, i), conjugates.root(s, j), precision);
        acb_mul(balls[1], balls[1], balls[1], precision);
        acb_mul(balls[0], balls[0], balls[1], precision);
      }
  Integer norm;
  if (acb_get_unique_fmpz(norm, balls[0]) == 0) fmpz_zero(norm);
  return norm;
}

/// A short basis of the order that a basis below and powers of beta span, or of one that holds it.
class ReducedOrder {
 public:
  explicit ReducedOrder(const Polynomial& irreducible)
      : irreducible_(irreducible),
        field_(irreducible.back().field()),
        above_(static_cast<slong>(irreducible.size()) - 1),
        degree_(field_.degree() * above_),
        transform_(degree_, degree_),
        denominator_(1) {
    for (slong i = 0; i < field_.degree(); ++i) below_.push_back(column_number(field_.integral_basis(), i, field_));
    reduce();
  }

  slong degree() const { return degree_; }
  /// The approximate conjugates of a basis element.
  const std::vector<Conjugate>& conjugates(slong i) const { return conjugates_[static_cast<std::size_t>(i)]; }
  std::size_t own() const { return own_; }
  /// A sum of multiples of the basis elements, in powers of beta.
  Polynomial element(const Coordinates& coordinates) const {
    Polynomial result(static_cast<std::size_t>(above_), Number(0L, field_));
    Integer factor;
    for (slong i = 0; i < field_.degree(); ++i)
      for (slong j = 0; j < above_; ++j) {
        fmpz_zero(factor);
        for (slong row = 0; row < degree_; ++row)
          fmpz_addmul(factor, coordinates[static_cast<std::size_t>(row)], transform_.entry(row, i * above_ + j));
        if (fmpz_is_zero(factor)) continue;
        result[static_cast<std::size_t>(j)] += below_[static_cast<std::size_t>(i)].times(factor);
      }
    if (!fmpz_is_one(denominator_)) {
      Rational over;
      fmpz_one(over.numerator());
      fmpz_set(over.denominator(), denominator_);
      for (Number& coefficient : result) coefficient = coefficient * Number(over, field_);
    }
    return result;
  }

 private:
  /// Fills a matrix with the conjugates of the order's basis, an element a row: real parts and imaginary parts, times
  /// 2^scale. Returns how many bits the largest has.
  slong fill(IntegerMatrix& lattice, const Conjugates& conjugates, slong scale) {
    const slong precision = conjugates.precision();
    ComplexBalls entry(3);
    for (slong i = 0; i < field_.degree(); ++i)
      for (slong s = 0; s < conjugates.embeddings(); ++s) {
        conjugates.enclose(entry[0], below_[static_cast<std::size_t>(i)], s);
        for (slong r = 0; r < above_; ++r) {
          acb_set(entry[1], entry[0]);
          for (slong j = 0; j < above_; ++j) {
            acb_mul_2exp_si(entry[2], entry[1], scale);
            const slong row = i * above_ + j, column = s * above_ + r;
            arf_get_fmpz(lattice.entry(row, column), arb_midref(acb_realref(entry[2])), ARF_RND_NEAR);
            arf_get_fmpz(lattice.entry(row, degree_ + column), arb_midref(acb_imagref(entry[2])), ARF_RND_NEAR);
            acb_mul(entry[1], entry[1], conjugates.root(s, r), precision);
          }
        }
      }
    return std::abs(fmpz_mat_max_bits(lattice));
  }

  void reduce() {
    IntegerMatrix lattice(degree_, 2 * degree_);
    auto conjugates = std::make_unique<Conjugates>(irreducible_, 128);
    Integer discriminant = norm_of_discriminant(*conjugates);
    while (fmpz_is_zero(discriminant) && conjugates->precision() < most_for_discriminant) {
      conjugates = std::make_unique<Conjugates>(irreducible_, 2 * conjugates->precision());
      discriminant = norm_of_discriminant(*conjugates);
    }
    if (fmpz_is_zero(discriminant)) fmpz_one(discriminant);
    const std::unique_ptr<OrderBasis> larger = larger_order(irreducible_, below_, discriminant);
    fmpz_set(denominator_, larger->denominator);
    const slong largest = fill(lattice, *conjugates, 0);
    const slong scale = largest + 48 + std::abs(fmpz_mat_max_bits(larger->numerators));
    if (scale + largest + 32 > conjugates->precision())
      conjugates = std::make_unique<Conjugates>(irreducible_, scale + largest + 32);
    fill(lattice, *conjugates, scale);
    if (!fmpz_is_one(denominator_)) {
      fmpz_mat_mul(lattice, larger->numerators, lattice);
      for (slong i = 0; i < degree_; ++i)
        for (slong j = 0; j < 2 * degree_; ++j) fmpz_tdiv_q(lattice.entry(i, j), lattice.entry(i, j), denominator_);
    }
    fmpz_mat_one(transform_);
    fmpz_lll_t context;
    fmpz_lll_context_init_default(context);
    fmpz_lll(lattice, transform_, context);
    fmpz_mat_mul(transform_, transform_, larger->numerators);
    own_ = static_cast<std::size_t>(conjugates->own() * above_);
    for (slong row = 0; row < degree_; ++row) {
      conjugates_.emplace_back();
      for (slong column = 0; column < degree_; ++column)
        conjugates_.back().emplace_back(scaled(lattice.entry(row, column), scale),
                                        scaled(lattice.entry(row, degree_ + column), scale));
    }
  }

  static double scaled(const fmpz* integer, slong scale) {
    slong exponent = 0;
    const double mantissa = fmpz_get_d_2exp(&exponent, integer);
    return std::ldexp(mantissa, static_cast<int>(exponent - scale));
  }

  const Polynomial& irreducible_;
  const Field& field_;
  slong above_, degree_;
  std::vector<Number> below_;
  IntegerMatrix transform_;  ///< the reduced basis in the one that it started from, times the denominator
  Integer denominator_;
  std::vector<std::vector<Conjugate>> conjugates_;
  std::size_t own_ = 0;
};

double squared_length(const std::vector<Conjugate>& conjugates) {
  double sum = 0;
  for (const Conjugate& each : conjugates) sum += std::norm(each);
  return sum;
}

/// How many different values the conjugates seem to have.
slong count_different(const std::vector<Conjugate>& conjugates) {
  std::vector<double> keys;
  for (const Conjugate& each : conjugates) keys.push_back(each.real() + 0.6180339887 * each.imag());
  std::sort(keys.begin(), keys.end());
  slong count = 1;
  for (std::size_t i = 1; i < keys.size(); ++i) count += keys[i] - keys[i - 1] > 1e-7 ? 1 : 0;
  return count;
}

/// How long the polynomial with these roots is to write: the bits of its coefficients, and above all those of the largest.
double polynomial_bits(const std::vector<Conjugate>& roots) {
  std::vector<Conjugate> coefficients{1.0};
  for (const Conjugate& root : roots) {
    coefficients.push_back(0.0);
    for (std::size_t i = coefficients.size() - 1; i > 0; --i) coefficients[i] -= root * coefficients[i - 1];
  }
  double bits = 0, most = 0;
  for (const Conjugate& each : coefficients) {
    const double own = std::log2(1 + std::round(std::abs(each.real())));
    bits += own;
    most = std::max(most, own);
  }
  return bits + 2 * most * static_cast<double>(coefficients.size());
}

struct Candidate {
  std::vector<long> coordinates;
  std::vector<Conjugate> conjugates;
  double bits = 0;

  void add(const ReducedOrder& order, slong i, long times) {
    coordinates[static_cast<std::size_t>(i)] += times;
    for (std::size_t j = 0; j < conjugates.size(); ++j) conjugates[j] += static_cast<double>(times) * order.conjugates(i)[j];
  }
};

/// Adds short basis elements until all conjugates differ: each time the one that tells most of them apart, or (`shortest`)
/// the one that makes the shortest sum of those that tell more apart. Nothing when that does not end with a generator.
std::optional<Candidate> grown(const ReducedOrder& order, slong start, bool shortest) {
  const auto size = static_cast<std::size_t>(order.degree());
  Candidate candidate{std::vector<long>(size), std::vector<Conjugate>(size)};
  candidate.add(order, start, 1);
  slong different = count_different(candidate.conjugates);
  while (different < order.degree()) {
    std::optional<Candidate> best;
    slong best_count = different;
    double best_length = 0;
    for (slong i = 0; i < order.degree(); ++i)
      for (const long times : {1L, -1L, 2L}) {
        Candidate next = candidate;
        next.add(order, i, times);
        const slong count = count_different(next.conjugates);
        const double length = squared_length(next.conjugates);
        const bool shorter = length < best_length * (1 - 1e-9);
        if (count <= different || (best && !(shortest ? shorter : count > best_count || (count == best_count && shorter))))
          continue;
        best_count = count;
        best_length = length;
        best = std::move(next);
      }
    if (!best) return std::nullopt;
    candidate = std::move(*best);
    different = best_count;
  }
  candidate.bits = polynomial_bits(candidate.conjugates);
  return candidate;
}

/// Adds and takes away basis elements as long as that makes the polynomial shorter.
void improve(const ReducedOrder& order, Candidate& candidate) {
  for (bool better = true; better;) {
    better = false;
    Candidate best = candidate;
    for (slong i = 0; i < order.degree(); ++i)
      for (const long times : {1L, -1L}) {
        Candidate next = candidate;
        next.add(order, i, times);
        if (count_different(next.conjugates) < order.degree()) continue;
        next.bits = polynomial_bits(next.conjugates);
        if (next.bits < best.bits * (1 - 1e-6)) best = std::move(next);
      }
    if (best.bits < candidate.bits) {
      candidate = std::move(best);
      better = true;
    }
  }
}

/// Elements that seem to be generators, the one with the shortest minimal polynomial first.
std::vector<Candidate> candidates(const ReducedOrder& order) {
  std::vector<Candidate> result;
  for (const bool shortest : {false, true})
    for (slong i = 0; i < order.degree(); ++i)
      if (std::optional<Candidate> candidate = grown(order, i, shortest)) result.push_back(std::move(*candidate));
  const auto sort = [&] {
    std::stable_sort(result.begin(), result.end(), [](const Candidate& a, const Candidate& b) { return a.bits < b.bits; });
  };
  sort();
  for (std::size_t i = 0; i < result.size() && i < 3; ++i) improve(order, result[i]);
  sort();
  return result;
}

/// Fills a column with the coordinates of an element in the products of powers of alpha and beta.
void fill_column(RationalMatrix& matrix, slong column, const Polynomial& element) {
  RationalPolynomial polynomial;
  const slong below = element.front().field().degree();
  for (std::size_t j = 0; j < element.size(); ++j) {
    element[j].get_polynomial(polynomial);
    for (slong i = 0; i < below; ++i)
      fmpq_poly_get_coeff_fmpq(matrix.entry(static_cast<slong>(j) * below + i, column), polynomial, i);
  }
}

void column_polynomial(fmpq_poly_t polynomial, const RationalMatrix& matrix, slong column, slong degree) {
  fmpq_poly_zero(polynomial);
  for (slong i = 0; i < degree; ++i) fmpq_poly_set_coeff_fmpq(polynomial, i, matrix.entry(i, column));
}

/// Writes the extension in powers of gamma; nothing when they do not span it.
std::optional<ShortGenerator> written_in_powers(const ReducedOrder& order, const Polynomial& irreducible, Polynomial gamma) {
  const Field& field = irreducible.back().field();
  const slong degree = order.degree();
  const std::size_t above = irreducible.size() - 1;
  const auto constant = [&](const Number& number) {
    Polynomial result(above, Number(0L, field));
    result[0] = number;
    return result;
  };
  // columns of the right side: the basis, gamma^degree, the generator below, beta
  RationalMatrix powers(degree, degree), right(degree, degree + 3), solution(degree, degree + 3);
  Polynomial power = constant(Number(1L, field));
  for (slong i = 0; i < degree; ++i) {
    fill_column(powers, i, power);
    power = product_modulo(power, gamma, irreducible);
  }
  fill_column(right, degree, power);
  for (slong i = 0; i < degree; ++i) {
    Coordinates unit(static_cast<std::size_t>(degree));
    fmpz_one(unit[static_cast<std::size_t>(i)]);
    fill_column(right, i, order.element(unit));
  }
  fill_column(right, degree + 1, constant(Number::generator(field)));
  Polynomial beta = constant(Number(0L, field));
  beta[1] = Number(1L, field);
  fill_column(right, degree + 2, beta);
  if (fmpq_mat_solve(solution, powers, right) == 0) return std::nullopt;

  ShortGenerator result;
  result.gamma = std::move(gamma);
  fmpz_poly_set_coeff_si(result.minimal_polynomial, degree, 1);
  result.integral_basis = std::make_unique<RationalMatrix>(degree, degree);
  Integer coefficient;
  for (slong i = 0; i < degree; ++i) {
    if (!fmpz_is_one(fmpq_denref(solution.entry(i, degree)))) throw ToolFault("a generator is no algebraic integer");
    fmpz_neg(coefficient, fmpq_numref(solution.entry(i, degree)));
    fmpz_poly_set_coeff_fmpz(result.minimal_polynomial, i, coefficient);
    for (slong j = 0; j < degree; ++j) fmpq_set(result.integral_basis->entry(i, j), solution.entry(i, j));
  }
  column_polynomial(result.generator_below, solution, degree + 1, degree);
  column_polynomial(result.beta, solution, degree + 2, degree);
  return result;
}

/// The element is not 0.
bool is_negative(const Polynomial& element, const Enclosure& beta) {
  Ball ball;
  for (slong precision = 64;; precision *= 2) {
    enclose_value(ball, element, beta, precision);
    if (arb_is_positive(ball)) return false;
    if (arb_is_negative(ball)) return true;
  }
}

}  // namespace

void enclose_value(arb_t ball, const Polynomial& polynomial, const Enclosure& at, slong precision) {
  Ball point, coefficient, value;
  at(point, precision + 16);
  for (std::size_t i = polynomial.size(); i-- > 0;) {
    polynomial[i].enclose(coefficient, precision + 16);
    arb_mul(value, value, point, precision + 16);
    arb_add(value, value, coefficient, precision + 16);
  }
  arb_set(ball, value);
}

ShortGenerator short_generator(const Polynomial& irreducible, const Enclosure& beta) {
  const ReducedOrder order(irreducible);
  const auto attempt = [&](Polynomial gamma) -> std::optional<ShortGenerator> {
    // Where conjugates are long, a sum that is 0 may seem to have different ones: that noise of doubles generates nothing.
    if (std::all_of(gamma.begin(), gamma.end(), [](const Number& coefficient) { return coefficient.is_zero(); }))
      return std::nullopt;
    if (is_negative(gamma, beta))
      for (Number& coefficient : gamma) coefficient = -coefficient;
    return written_in_powers(order, irreducible, std::move(gamma));
  };
  for (const Candidate& candidate : candidates(order)) {
    Coordinates coordinates;
    for (const long each : candidate.coordinates) coordinates.emplace_back(each);
    if (std::optional<ShortGenerator> result = attempt(order.element(coordinates))) return std::move(*result);
  }
  // beta + k*alpha generates for all but finitely many k
  const Field& field = irreducible.back().field();
  for (long k = 0;; ++k) {
    Polynomial gamma(irreducible.size() - 1, Number(0L, field));
    gamma[0] = Number(k, field) * Number::generator(field);
    gamma[1] = Number(1L, field);
    if (std::optional<ShortGenerator> result = attempt(std::move(gamma))) return std::move(*result);
  }
}

}  // namespace cutproof
