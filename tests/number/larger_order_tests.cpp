// SPDX-License-Identifier: GPL-3.0-or-later
// Orders enlarged at small primes: they are orders, hold what they were made of, and for known fields have the discriminant
// that is published.
#include "number/conjugates.hpp"
#include "number/larger_order.hpp"
#include "test_fields.hpp"

#include <catch2/catch.hpp>

using namespace cutproof;
using namespace cutproof::test;

namespace {

/// x^n - value over Q.
Polynomial pure(long value, std::size_t n) {
  Polynomial polynomial(n + 1, Number(0));
  polynomial[0] = Number(-value);
  polynomial[n] = Number(1);
  return polynomial;
}

/// The discriminant of x^n - a: up to its sign n^n * a^(n-1).
Integer discriminant_of_pure(long value, unsigned long n) {
  Integer result, power;
  fmpz_ui_pow_ui(result, n, n);
  fmpz_ui_pow_ui(power, static_cast<ulong>(value), n - 1);
  fmpz_mul(result, result, power);
  return result;
}

struct Known {
  long value;
  unsigned long root;
  long field_discriminant;  ///< absolute
};

}  // namespace

TEST_CASE("enlarged orders of pure fields are maximal", "[order]") {
  // Field discriminants: R. Dedekind for cubic fields (J. reine angew. Math. 121 (1900): -27 a^2 b^2, or -3 a^2 b^2 where
  // a^2 = b^2 modulo 9), the others computed with `nfdisc` of GP/PARI 2.15.2.
  for (const Known& known : {Known{2, 3, 108}, Known{10, 3, 300}, Known{12, 3, 972}, Known{19, 3, 1083}, Known{5, 2, 5},
                             Known{12, 2, 12}, Known{3, 4, 6912}, Known{5, 4, 2000}}) {
    INFO("x^" << known.root << " - " << known.value);
    const Polynomial polynomial = pure(known.value, known.root);
    const Integer before = discriminant_of_pure(known.value, known.root);
    const auto order = larger_order(polynomial, {Number(1)}, before);
    // the discriminant is divided by the square of the index
    Integer index, power, after;
    fmpz_mat_det(index, order->numerators);
    fmpz_pow_ui(power, order->denominator, known.root);
    REQUIRE(fmpz_sgn(index) != 0);
    fmpz_mul(index, index, index);
    fmpz_mul(power, power, power);
    fmpz_mul(after, before, index);
    fmpz_divexact(after, after, power);
    CHECK(fmpz_cmp_si(after, known.field_discriminant) == 0);
  }
}

TEST_CASE("enlarged orders are closed under multiplication and hold what they were made of", "[order]") {
  FieldTower tower;
  const Number a = tower.square_root(Number(2)), b = tower.square_root(Number(3));
  const Field& field = tower.top();
  std::vector<Number> below;
  RationalPolynomial column;
  for (int j = 0; j < field.degree(); ++j) {
    for (int i = 0; i < field.degree(); ++i)
      fmpq_poly_set_coeff_fmpq(column, i, fmpq_mat_entry(field.integral_basis(), i, j));
    below.push_back(Number::from_polynomial(column, field));
  }
  // x^2 - 6 is reducible here; x^2 - 10, x^3 - 2 and x^2 - x - (1 + sqrt 2) are not
  const Number zero(0L, field), one(1L, field);
  const std::vector<Polynomial> polynomials = {{Number(-10L, field), zero, one},
                                               {Number(-2L, field), zero, zero, one},
                                               {-(one + tower.lifted(a)), -one, one},
                                               {-tower.lifted(a) * tower.lifted(b), zero, one}};
  for (const Polynomial& polynomial : polynomials) {
    Integer many(1);
    for (const ulong prime : {2ul, 3ul, 5ul, 7ul}) fmpz_mul_ui(many, many, prime * prime);  // look at each of them
    const auto order = larger_order(polynomial, below, many);
    const slong degree = 4 * static_cast<slong>(polynomial.size() - 1);
    const std::size_t above = polynomial.size() - 1;
    std::vector<Polynomial> basis;
    Rational over;
    fmpz_one(over.numerator());
    fmpz_set(over.denominator(), order->denominator);
    for (slong row = 0; row < degree; ++row) {
      Polynomial element(above, zero);
      for (slong i = 0; i < 4; ++i)
        for (std::size_t j = 0; j < above; ++j)
          element[j] += below[static_cast<std::size_t>(i)].times(
                            order->numerators.entry(row, i * static_cast<slong>(above) + static_cast<slong>(j))) *
                        Number(over, field);
      basis.push_back(std::move(element));
    }
    // coordinates of numbers in the order's basis, over Q
    RationalMatrix to_basis(degree, degree);
    const auto fill = [&](RationalMatrix& matrix, slong column_index, const Polynomial& element) {
      RationalPolynomial each;
      for (std::size_t j = 0; j < above; ++j) {
        element[j].get_polynomial(each);
        for (slong i = 0; i < 4; ++i)
          fmpq_poly_get_coeff_fmpq(matrix.entry(static_cast<slong>(j) * 4 + i, column_index), each, i);
      }
    };
    for (slong k = 0; k < degree; ++k) fill(to_basis, k, basis[static_cast<std::size_t>(k)]);
    REQUIRE(fmpq_mat_inv(to_basis, to_basis) != 0);
    const auto is_integral = [&](const Polynomial& element) {
      RationalMatrix columns(degree, 1), coordinates(degree, 1);
      fill(columns, 0, element);
      fmpq_mat_mul(coordinates, to_basis, columns);
      return fmpq_mat_is_integral(coordinates) != 0;
    };
    for (const Polynomial& x : basis)
      for (const Polynomial& y : basis) CHECK(is_integral(product_modulo(x, y, polynomial)));
    for (const Number& w : below)
      for (std::size_t j = 0; j < above; ++j) {
        Polynomial original(above, zero);
        original[j] = w;
        CHECK(is_integral(original));
      }
  }
}
