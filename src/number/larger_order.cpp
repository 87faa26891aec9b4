// SPDX-License-Identifier: GPL-3.0-or-later
#include "number/larger_order.hpp"

#include "number/errors.hpp"

#include <algorithm>
#include <memory>
#include <utility>

namespace cutproof {

namespace {

struct ResidueMatrix {
  ResidueMatrix(slong rows, slong columns, ulong modulus) { nmod_mat_init(value, rows, columns, modulus); }
  ResidueMatrix(const ResidueMatrix& other) { nmod_mat_init_set(value, other.value); }
  ResidueMatrix& operator=(const ResidueMatrix&) = delete;
  ~ResidueMatrix() { nmod_mat_clear(value); }
  operator nmod_mat_struct*() { return value; }
  operator const nmod_mat_struct*() const { return value; }
  ulong& at(slong row, slong column) { return nmod_mat_entry(value, row, column); }
  ulong at(slong row, slong column) const { return nmod_mat_entry(value, row, column); }
  nmod_mat_t value;
};

/// A subspace modulo a prime: a reduced basis, and the columns of its leading ones.
struct Subspace {
  explicit Subspace(const ResidueMatrix& rows) : basis(rows) {
    rank = nmod_mat_rref(basis);
    for (slong row = 0, column = 0; row < rank; ++row) {
      while (basis.at(row, column) == 0) ++column;
      pivots.push_back(column);
    }
  }
  ResidueMatrix basis;
  slong rank = 0;
  std::vector<slong> pivots;
  /// The columns without a leading one.
  std::vector<slong> others() const {
    std::vector<slong> result;
    std::size_t next = 0;
    for (slong column = 0; column < nmod_mat_ncols(basis.value); ++column)
      if (next < pivots.size() && pivots[next] == column) {
        ++next;
      } else {
        result.push_back(column);
      }
    return result;
  }
};

/// The vectors x with x * matrix = 0 modulo a prime.
Subspace left_kernel(const ResidueMatrix& matrix) {
  const slong rows = nmod_mat_nrows(matrix.value), columns = nmod_mat_ncols(matrix.value);
  const ulong prime = matrix.value->mod.n;
  ResidueMatrix transposed(columns, rows, prime), kernel(rows, rows, prime);
  nmod_mat_transpose(transposed, matrix);
  const slong nullity = nmod_mat_nullspace(kernel, transposed);
  ResidueMatrix vectors(nullity, rows, prime);
  for (slong i = 0; i < nullity; ++i)
    for (slong j = 0; j < rows; ++j) vectors.at(i, j) = kernel.at(j, i);
  return Subspace(vectors);
}

/// Multiplication in the order that the products w_i * beta^j span: the matrix of each of them, over the integers.
class Multiplication {
 public:
  Multiplication(const Polynomial& irreducible, const std::vector<Number>& below)
      : below_(static_cast<slong>(below.size())), above_(static_cast<slong>(irreducible.size()) - 1) {
    const Field& field = irreducible.back().field();
    RationalMatrix to_basis(below_, below_);
    RationalPolynomial polynomial;
    for (slong k = 0; k < below_; ++k) {
      below[static_cast<std::size_t>(k)].get_polynomial(polynomial);
      for (slong i = 0; i < below_; ++i) fmpq_poly_get_coeff_fmpq(to_basis.entry(i, k), polynomial, i);
    }
    if (fmpq_mat_inv(to_basis, to_basis) == 0) throw ToolFault("a field's basis is none");
    const auto coordinates = [&](const Number& number) {
      RationalMatrix column(below_, 1), result(below_, 1);
      number.get_polynomial(polynomial);
      for (slong i = 0; i < below_; ++i) fmpq_poly_get_coeff_fmpq(column.entry(i, 0), polynomial, i);
      fmpq_mat_mul(result, to_basis, column);
      std::vector<Integer> integers;
      for (slong i = 0; i < below_; ++i) {
        if (!fmpz_is_one(fmpq_denref(result.entry(i, 0)))) throw ToolFault("an order is not closed under multiplication");
        integers.emplace_back(fmpq_numref(result.entry(i, 0)));
      }
      return integers;
    };
    // beta^j for j up to 2n - 2, as vectors of numbers
    const std::size_t n = static_cast<std::size_t>(above_);
    std::vector<Polynomial> powers;
    for (std::size_t j = 0; j < 2 * n - 1; ++j) {
      Polynomial power(n, Number(0L, field));
      if (j < n) {
        power[j] = Number(1L, field);
      } else {
        const Polynomial& last = powers.back();
        for (std::size_t i = 0; i < n; ++i)
          power[i] = (i > 0 ? last[i - 1] : Number(0L, field)) - last[n - 1] * irreducible[i];
      }
      powers.push_back(std::move(power));
    }
    for (slong a = 0; a < degree(); ++a) matrices_.push_back(std::make_unique<IntegerMatrix>(degree(), degree()));
    for (slong i = 0; i < below_; ++i)
      for (slong k = i; k < below_; ++k) {
        const Number product = below[static_cast<std::size_t>(i)] * below[static_cast<std::size_t>(k)];
        for (slong s = 0; s < 2 * above_ - 1; ++s) {
          std::vector<std::vector<Integer>> image;
          for (const Number& part : powers[static_cast<std::size_t>(s)]) image.push_back(coordinates(product * part));
          for (slong j = std::max<slong>(0, s - above_ + 1); j <= std::min(s, above_ - 1); ++j)
            for (const auto& [x, y] :
                 {std::pair(i * above_ + j, k * above_ + s - j), std::pair(k * above_ + s - j, i * above_ + j)})
              for (slong l = 0; l < below_; ++l)
                for (slong r = 0; r < above_; ++r)
                  fmpz_set(matrices_[static_cast<std::size_t>(x)]->entry(y, l * above_ + r),
                           image[static_cast<std::size_t>(r)][static_cast<std::size_t>(l)]);
        }
      }
  }
  slong degree() const { return below_ * above_; }
  /// Row y: the coordinates of the product of the x-th and the y-th.
  const IntegerMatrix& of(slong x) const { return *matrices_[static_cast<std::size_t>(x)]; }

 private:
  slong below_, above_;
  std::vector<std::unique_ptr<IntegerMatrix>> matrices_;
};

/// The second round at one prime.
class AtPrime {
 public:
  AtPrime(const Multiplication& multiplication, ulong prime)
      : multiplication_(multiplication), degree_(multiplication.degree()), prime_(prime), modulus_(prime), digits_(1) {
    while (modulus_ < (1ul << 60) / prime) {
      modulus_ *= prime;
      ++digits_;
    }
  }

  /// Enlarges until nothing is gained (or what is gained is longer than a word). The basis is `rows` over prime^exponent.
  bool enlarge(IntegerMatrix& rows, slong* exponent) {
    ResidueMatrix inverse(degree_, degree_, modulus_);  // of the rows over their denominator: integral
    nmod_mat_one(inverse);
    IntegerMatrix inverse_exact(degree_, degree_);
    fmpz_mat_one(inverse_exact);
    fmpz_mat_one(rows);
    *exponent = 0;
    while (2 * *exponent + 2 <= digits_) {
      fmpz_mat_get_nmod_mat(inverse, inverse_exact);
      find_table(rows, inverse, *exponent);
      const Subspace radical = left_kernel(frobenius());
      if (radical.rank == 0) break;
      const Subspace gained = left_kernel(acting_on(radical));
      if (gained.rank == 0) break;
      adjoin(gained, rows, inverse_exact);
      ++*exponent;
    }
    return *exponent > 0;
  }

 private:
  /// table_[a] has in row b the coordinates of the product of the a-th and the b-th basis element, modulo prime^2.
  void find_table(const IntegerMatrix& rows, const ResidueMatrix& inverse, slong exponent) {
    const ulong square = prime_ * prime_, scale = n_pow(prime_, static_cast<ulong>(2 * exponent));
    ResidueMatrix left(degree_, degree_, modulus_), each(degree_, degree_, modulus_), sum(degree_, degree_, modulus_),
        product(degree_, degree_, modulus_);
    fmpz_mat_get_nmod_mat(left, rows);
    std::vector<ResidueMatrix> originals;
    for (slong x = 0; x < degree_; ++x) {
      originals.emplace_back(degree_, degree_, modulus_);
      fmpz_mat_get_nmod_mat(originals.back(), multiplication_.of(x));
    }
    table_.clear();
    for (slong a = 0; a < degree_; ++a) {
      nmod_mat_zero(sum);
      for (slong x = 0; x < degree_; ++x)
        if (left.at(a, x) != 0) nmod_mat_scalar_addmul_ui(sum, sum, originals[static_cast<std::size_t>(x)], left.at(a, x));
      nmod_mat_mul(product, left, sum);
      nmod_mat_mul(product, product, inverse);
      table_.emplace_back(degree_, degree_, square);
      for (slong b = 0; b < degree_; ++b)
        for (slong c = 0; c < degree_; ++c) {
          if (product.at(b, c) % scale != 0) throw ToolFault("an order is not closed under multiplication");
          table_.back().at(b, c) = product.at(b, c) / scale % square;
        }
    }
  }

  using Vector = std::vector<ulong>;
  Vector product(const Vector& x, const Vector& y, ulong modulus) const {  // all below 10^4: sums fit
    Vector result(static_cast<std::size_t>(degree_));
    for (slong a = 0; a < degree_; ++a) {
      if (x[static_cast<std::size_t>(a)] == 0) continue;
      for (slong b = 0; b < degree_; ++b) {
        const ulong factor = x[static_cast<std::size_t>(a)] * y[static_cast<std::size_t>(b)] % modulus;
        if (factor == 0) continue;
        const ulong* row = table_[static_cast<std::size_t>(a)].value->rows[b];
        for (slong c = 0; c < degree_; ++c) result[static_cast<std::size_t>(c)] += factor * row[c];
      }
    }
    for (ulong& each : result) each %= modulus;
    return result;
  }
  Vector unit(slong i) const {
    Vector result(static_cast<std::size_t>(degree_));
    result[static_cast<std::size_t>(i)] = 1;
    return result;
  }

  /// Row a: the power of the a-th basis element whose exponent is the prime's first power not below the degree: a linear map
  /// modulo the prime, whose kernel is the radical.
  ResidueMatrix frobenius() const {
    ulong exponent = prime_;
    while (exponent < static_cast<ulong>(degree_)) exponent *= prime_;
    ResidueMatrix result(degree_, degree_, prime_);
    for (slong a = 0; a < degree_; ++a) {
      const Vector base = unit(a);
      Vector power = base;
      for (int bit = static_cast<int>(FLINT_BIT_COUNT(exponent)) - 2; bit >= 0; --bit) {
        power = product(power, power, prime_);
        if ((exponent >> bit & 1) != 0) power = product(power, base, prime_);
      }
      for (slong c = 0; c < degree_; ++c) result.at(a, c) = power[static_cast<std::size_t>(c)];
    }
    return result;
  }

  /// Row a: how the a-th basis element multiplies a basis of the radical (with the prime's multiples), in coordinates there,
  /// modulo the prime.
  ResidueMatrix acting_on(const Subspace& radical) const {
    const ulong square = prime_ * prime_;
    const std::vector<slong> others = radical.others();
    std::vector<Vector> basis;
    for (slong i = 0; i < radical.rank; ++i) {
      Vector row;
      for (slong c = 0; c < degree_; ++c) row.push_back(radical.basis.at(i, c));
      basis.push_back(std::move(row));
    }
    for (const slong other : others) {
      basis.push_back(unit(other));
      basis.back()[static_cast<std::size_t>(other)] = prime_;
    }
    ResidueMatrix result(degree_, degree_ * degree_, prime_);
    for (slong a = 0; a < degree_; ++a)
      for (slong b = 0; b < degree_; ++b) {
        Vector image = product(unit(a), basis[static_cast<std::size_t>(b)], square);
        slong column = b * degree_;
        for (slong i = 0; i < radical.rank; ++i) {
          const ulong factor = image[static_cast<std::size_t>(radical.pivots[static_cast<std::size_t>(i)])];
          result.at(a, column++) = factor % prime_;
          for (slong c = 0; c < degree_; ++c) {
            ulong& entry = image[static_cast<std::size_t>(c)];
            entry = (entry + (square - radical.basis.at(i, c)) * factor) % square;
          }
        }
        for (const slong other : others) {
          const ulong rest = image[static_cast<std::size_t>(other)];
          if (rest % prime_ != 0) throw ToolFault("a radical is no ideal");
          result.at(a, column++) = rest / prime_;
        }
      }
    return result;
  }

  /// Adds the gained vectors, divided by the prime, to the basis.
  void adjoin(const Subspace& gained, IntegerMatrix& rows, IntegerMatrix& inverse) const {
    const std::vector<slong> others = gained.others();
    IntegerMatrix change(degree_, degree_), back(degree_, degree_);  // times the prime; and its inverse
    for (slong i = 0; i < gained.rank; ++i) {
      const slong pivot = gained.pivots[static_cast<std::size_t>(i)];
      for (slong c = 0; c < degree_; ++c) fmpz_set_ui(change.entry(i, c), gained.basis.at(i, c));
      fmpz_set_ui(back.entry(pivot, i), prime_);
    }
    for (std::size_t j = 0; j < others.size(); ++j) {
      const slong row = gained.rank + static_cast<slong>(j);
      fmpz_set_ui(change.entry(row, others[j]), prime_);
      fmpz_one(back.entry(others[j], row));
      for (slong i = 0; i < gained.rank; ++i)
        fmpz_neg_ui(back.entry(gained.pivots[static_cast<std::size_t>(i)], row), gained.basis.at(i, others[j]));
    }
    fmpz_mat_mul(rows, change, rows);
    fmpz_mat_mul(inverse, inverse, back);
  }

  const Multiplication& multiplication_;
  slong degree_;
  ulong prime_, modulus_;
  slong digits_;  ///< modulus = prime^digits
  std::vector<ResidueMatrix> table_;
};

}  // namespace

std::unique_ptr<OrderBasis> larger_order(const Polynomial& irreducible, const std::vector<Number>& below,
                                         const fmpz_t discriminant) {
  const slong degree = static_cast<slong>(below.size() * (irreducible.size() - 1));
  auto larger = std::make_unique<OrderBasis>(degree);
  OrderBasis& result = *larger;
  std::vector<ulong> primes;
  for (ulong prime = 2; prime < 100; prime = n_nextprime(prime, 1))
    if (fmpz_divisible_si(discriminant, static_cast<slong>(prime * prime))) primes.push_back(prime);
  if (primes.empty() || degree > 64) return larger;
  const Multiplication multiplication(irreducible, below);
  // The orders at different primes are put together: their sum is an order, too, and its index is the product of theirs.
  IntegerMatrix rows(degree, degree), all(2 * degree, degree);
  for (const ulong prime : primes) {
    slong exponent = 0;
    if (!AtPrime(multiplication, prime).enlarge(rows, &exponent)) continue;
    Integer power, ours(result.denominator);
    fmpz_ui_pow_ui(power, prime, static_cast<ulong>(exponent));
    for (slong i = 0; i < degree; ++i)
      for (slong j = 0; j < degree; ++j) {
        fmpz_mul(all.entry(i, j), result.numerators.entry(i, j), power);
        fmpz_mul(all.entry(degree + i, j), rows.entry(i, j), ours);
      }
    fmpz_mul(result.denominator, result.denominator, power);
    fmpz_mat_hnf(all, all);
    for (slong i = 0; i < degree; ++i)
      for (slong j = 0; j < degree; ++j) fmpz_set(result.numerators.entry(i, j), all.entry(i, j));
  }
  return larger;
}

}  // namespace cutproof
