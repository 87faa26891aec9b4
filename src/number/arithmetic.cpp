// SPDX-License-Identifier: GPL-3.0-or-later
// The arithmetic that most of a check's time goes into, where it can be done for less than by Antic.
//
// Sums of products are taken with one reduction modulo the field's polynomial and one greatest common divisor for the whole
// sum: in geometry products come in sums (scalar and vector products, images under motions), and what is done between the
// products costs more than they do. Inverses come from a system of linear equations, solved by elimination without
// fractions. Coefficients are gathered in integers that keep their memory from one call to the next.
#include "number/coefficients.hpp"
#include "number/lifting.hpp"
#include "number/number.hpp"

#include <gmp.h>

#include <optional>
#include <vector>

namespace cutproof {

namespace {

/// An integer of FLINT seen as one of GMP, without a copy.
class View {
 public:
  explicit View(const fmpz* number) {
    const fmpz value = *number;
    if (COEFF_IS_MPZ(value)) {
      *value_ = *COEFF_TO_PTR(value);
    } else {
      limb_ = value < 0 ? -static_cast<ulong>(value) : static_cast<ulong>(value);
      value_->_mp_alloc = 0;
      value_->_mp_size = value == 0 ? 0 : value < 0 ? -1 : 1;
      value_->_mp_d = &limb_;
    }
  }
  View(const View&) = delete;
  View& operator=(const View&) = delete;
  operator mpz_srcptr() const { return value_; }

 private:
  mp_limb_t limb_ = 0;
  mpz_t value_;
};

/// Integers of GMP that are kept from one sum to the next.
class Scratch {
 public:
  explicit Scratch(std::size_t size) { grow(size); }
  Scratch(const Scratch&) = delete;
  Scratch& operator=(const Scratch&) = delete;
  ~Scratch() {
    for (auto& each : integers_) mpz_clear(&each);
  }
  void grow(std::size_t size) {
    const std::size_t known = integers_.size();
    if (known >= size) return;
    integers_.resize(size);
    for (std::size_t i = known; i < size; ++i) mpz_init(&integers_[i]);
  }
  mpz_ptr operator[](slong i) { return &integers_[static_cast<std::size_t>(i)]; }

 private:
  std::vector<__mpz_struct> integers_;
};

/// The remainder of the first `length` coefficients modulo the field's polynomial, which is monic and integral.
void reduce(Scratch& sum, slong length, const Field& field) {
  const fmpz_poly_struct* polynomial = field.minimal_polynomial();
  const slong degree = field.degree();
  for (slong top = length - 1; top >= degree; --top) {
    if (mpz_sgn(sum[top]) == 0) continue;
    for (slong i = 0; i < degree; ++i)
      if (!fmpz_is_zero(polynomial->coeffs + i)) mpz_submul(sum[top - degree + i], sum[top], View(polynomial->coeffs + i));
  }
}

using Terms = std::initializer_list<Product>;

/// The field of all numbers in the sum, or null when they lie in several.
const Field* common_field(Terms terms) {
  const Field* field = &terms.begin()->left->field();
  for (const Product& term : terms)
    if (&term.left->field() != field || &term.right->field() != field) return nullptr;
  return field;
}

Interval enclosure(Terms terms) {
  const auto signed_product = [](const Product& term) {
    const Interval product = term.left->interval() * term.right->interval();
    return term.negative ? -product : product;
  };
  const Product* term = terms.begin();
  Interval sum = signed_product(*term);
  while (++term != terms.end()) sum = sum + signed_product(*term);
  return sum;
}

/// True when all numbers are small integers of Q, and the sum is one of a word.
bool is_small_sum(Terms terms, const Field& field, slong* sum) {
  *sum = 0;
  for (const Product& term : terms) {
    const nf_elem_struct *a = term.left->element(), *b = term.right->element();
    slong product = 0;
    if (!are_small_integers(a, b, field.nf()) || __builtin_mul_overflow(*a->lelem->num, *b->lelem->num, &product))
      return false;
    if (term.negative ? __builtin_sub_overflow(*sum, product, sum) : __builtin_add_overflow(*sum, product, sum))
      return false;
  }
  return true;
}

/// Writes the element numerator/denominator (not 0) in lowest terms into `result`, a new element of the field. Spends both.
void store(Scratch& numerator, mpz_ptr denominator, const Field& field, nf_elem_struct* result) {
  const slong degree = field.degree();
  bool divide = mpz_cmp_ui(denominator, 1) != 0;
  thread_local Scratch divisors(1);
  mpz_ptr divisor = divisors[0];
  if (divide) {
    mpz_abs(divisor, denominator);
    for (slong i = 0; i < degree && mpz_cmp_ui(divisor, 1) != 0; ++i)
      if (mpz_sgn(numerator[i]) != 0) mpz_gcd(divisor, divisor, numerator[i]);
    if (mpz_sgn(denominator) < 0) mpz_neg(divisor, divisor);
    divide = mpz_cmp_ui(divisor, 1) != 0;
    if (divide) mpz_divexact(denominator, denominator, divisor);
  }
  const CoefficientsToFill fill = coefficients_to_fill(result, field.nf());
  for (slong i = 0; i < degree; ++i) {
    if (divide && mpz_sgn(numerator[i]) != 0) mpz_divexact(numerator[i], numerator[i], divisor);
    fmpz_set_mpz(fill.numerator + i, numerator[i]);
  }
  fmpz_set_mpz(fill.denominator, denominator);
  coefficients_filled(result, field.nf(), degree);
}

class SumOfProducts {
 public:
  SumOfProducts() { mpz_inits(common_, factor_, scaled_, nullptr); }
  SumOfProducts(const SumOfProducts&) = delete;
  SumOfProducts& operator=(const SumOfProducts&) = delete;
  ~SumOfProducts() { mpz_clears(common_, factor_, scaled_, nullptr); }

  /// Fills `result`, a new element of the field, with the sum.
  void operator()(Terms terms, const Field& field, nf_elem_struct* result) {
    const slong degree = field.degree(), length = 2 * degree - 1;
    sum_.grow(static_cast<std::size_t>(length));
    denominators_.grow(terms.size());
    for (slong i = 0; i < length; ++i) mpz_set_ui(sum_[i], 0);
    find_denominators(terms, field);
    slong index = 0;
    for (const Product& term : terms) {
      mpz_srcptr denominator = denominators_[index++], factor = nullptr;
      if (mpz_sgn(denominator) == 0) continue;
      if (mpz_cmp(denominator, common_) != 0) {
        mpz_divexact(factor_, common_, denominator);
        factor = factor_;
      }
      add(coefficients(term.left->element(), field.nf()), coefficients(term.right->element(), field.nf()), factor,
          term.negative);
    }
    reduce(sum_, length, field);
    store(sum_, common_, field, result);
  }

 private:
  /// Finds the denominator of each product, and the common one.
  void find_denominators(Terms terms, const Field& field) {
    bool first = true;
    slong index = 0;
    for (const Product& term : terms) {
      const Coefficients a = coefficients(term.left->element(), field.nf()),
                         b = coefficients(term.right->element(), field.nf());
      mpz_ptr denominator = denominators_[index++];
      if (a.length == 0 || b.length == 0) {
        mpz_set_ui(denominator, 0);  // says that the product is zero
        continue;
      }
      mpz_mul(denominator, View(a.denominator), View(b.denominator));
      if (first) {
        mpz_set(common_, denominator);
      } else if (mpz_cmp(common_, denominator) != 0) {
        mpz_lcm(common_, common_, denominator);
      }
      first = false;
    }
    if (first) mpz_set_ui(common_, 1);
  }

  /// sum += or -= factor * a * b, all of them polynomials; a null `factor` stands for 1
  void add(const Coefficients& a, const Coefficients& b, mpz_srcptr factor, bool negative) {
    for (slong i = 0; i < a.length; ++i) {
      if (fmpz_is_zero(a.numerator + i)) continue;
      const View coefficient(a.numerator + i);
      mpz_srcptr left = coefficient;
      if (factor != nullptr) {
        mpz_mul(scaled_, coefficient, factor);
        left = scaled_;
      }
      for (slong j = 0; j < b.length; ++j) {
        if (negative)
          mpz_submul(sum_[i + j], left, View(b.numerator + j));
        else
          mpz_addmul(sum_[i + j], left, View(b.numerator + j));
      }
    }
  }

  Scratch sum_{16}, denominators_{4};
  mpz_t common_, factor_, scaled_;
};

/// The inverse of an element b: x with x * b = 1 is the solution of d linear equations for its coefficients, whose matrix
/// has the coefficients of b, b*alpha, ..., b*alpha^(d-1) in its columns. E. H. Bareiss, Math. Comp. 22 (1968) 565-578: all
/// entries stay integers, since every one is a minor of the matrix.
class Inverse {
 public:
  Inverse() { mpz_inits(previous_, each_, nullptr); }
  Inverse(const Inverse&) = delete;
  Inverse& operator=(const Inverse&) = delete;
  ~Inverse() { mpz_clears(previous_, each_, nullptr); }

  void operator()(const nf_elem_struct* element, const Field& field, nf_elem_struct* result) {
    degree_ = field.degree();
    matrix_.grow(static_cast<std::size_t>(degree_ * (degree_ + 1)));
    solution_.grow(static_cast<std::size_t>(degree_));
    power_.grow(static_cast<std::size_t>(degree_ + 1));
    const Coefficients b = coefficients(element, field.nf());
    fill(b, field);
    eliminate();
    substitute();
    for (slong i = 0; i < degree_; ++i) mpz_mul(solution_[i], solution_[i], View(b.denominator));
    store(solution_, entry(degree_ - 1, degree_ - 1), field, result);
  }

 private:
  /// The equations' matrix; its last column is their right side.
  mpz_ptr entry(slong row, slong column) { return matrix_[row * (degree_ + 1) + column]; }

  void fill(const Coefficients& b, const Field& field) {
    for (slong i = 0; i < degree_; ++i)
      if (i < b.length)
        mpz_set(power_[i], View(b.numerator + i));
      else
        mpz_set_ui(power_[i], 0);
    for (slong column = 0; column < degree_; ++column) {
      for (slong row = 0; row < degree_; ++row) mpz_set(entry(row, column), power_[row]);
      for (slong i = degree_; i > 0; --i) mpz_swap(power_[i], power_[i - 1]);
      mpz_set_ui(power_[0], 0);
      reduce(power_, degree_ + 1, field);
    }
    for (slong row = 0; row < degree_; ++row) mpz_set_ui(entry(row, degree_), row == 0 ? 1 : 0);
  }

  void eliminate() {
    mpz_set_ui(previous_, 1);
    for (slong k = 0; k + 1 < degree_; ++k) {
      slong pivot = k;
      while (pivot < degree_ && mpz_sgn(entry(pivot, k)) == 0) ++pivot;
      if (pivot == degree_) throw ToolFault("a number that is not zero has no inverse");
      if (pivot != k)
        for (slong column = k; column <= degree_; ++column) mpz_swap(entry(pivot, column), entry(k, column));
      for (slong row = k + 1; row < degree_; ++row)
        for (slong column = k + 1; column <= degree_; ++column) {
          mpz_mul(each_, entry(k, k), entry(row, column));
          mpz_submul(each_, entry(row, k), entry(k, column));
          mpz_divexact(entry(row, column), each_, previous_);
        }
      mpz_set(previous_, entry(k, k));
    }
    if (mpz_sgn(entry(degree_ - 1, degree_ - 1)) == 0) throw ToolFault("a number that is not zero has no inverse");
  }

  /// The solution, times the determinant, which is the last pivot: integers by Cramer's rule.
  void substitute() {
    mpz_srcptr determinant = entry(degree_ - 1, degree_ - 1);
    for (slong row = degree_ - 1; row >= 0; --row) {
      mpz_mul(each_, determinant, entry(row, degree_));
      for (slong column = row + 1; column < degree_; ++column) mpz_submul(each_, entry(row, column), solution_[column]);
      mpz_divexact(solution_[row], each_, entry(row, row));
    }
  }

  slong degree_ = 0;
  Scratch matrix_{0}, solution_{0}, power_{0};
  mpz_t previous_, each_;
};

/// Up to this degree inverses found by elimination cost less than those found by lifting.
constexpr int most_for_elimination = 16;

}  // namespace

Number Number::inverse_without_enclosure() const {
  Number result(Blank{}, field_);
  if (field_->degree() <= most_for_elimination) {
    thread_local Inverse inverse;
    inverse(element_, *field_, result.element_);
  } else {
    const Coefficients b = coefficients(element_, field_->nf());
    IntegerPolynomial polynomial, numerator;
    RationalPolynomial quotient;
    Integer denominator;
    for (slong i = 0; i < b.length; ++i) fmpz_poly_set_coeff_fmpz(polynomial, i, b.numerator + i);
    inverse_by_lifting(numerator, denominator, polynomial, field_->minimal_polynomial());
    fmpz_poly_scalar_mul_fmpz(numerator, numerator, b.denominator);
    fmpq_poly_set_fmpz_poly(quotient, numerator);
    fmpq_poly_scalar_div_fmpz(quotient, quotient, denominator);
    nf_elem_set_fmpq_poly(result.element_, quotient, field_->nf());
  }
  result.interval_ = Interval::whole_line();
  return result;
}

Number sum_of_products(Terms terms) {
  if (terms.size() == 0) return Number(0);
  const Field* field = common_field(terms);
  if (field == nullptr) {
    std::optional<Number> sum;
    for (const Product& term : terms) {
      Number product = *term.left * *term.right;
      if (term.negative) product = -product;
      sum = sum ? *sum + product : std::move(product);
    }
    return std::move(*sum);
  }
  Number result(Number::Blank{}, field);
  slong small = 0;
  if (is_small_sum(terms, *field, &small)) {
    fmpz_set_si(result.element_->lelem->num, small);
  } else {
    thread_local SumOfProducts sum;
    sum(terms, *field, result.element_);
  }
  result.interval_ = enclosure(terms);
  return result;
}

}  // namespace cutproof
