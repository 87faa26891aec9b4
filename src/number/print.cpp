// SPDX-License-Identifier: GPL-3.0-or-later
// Numbers are printed in the monomials of what was adjoined, never as a polynomial in an anonymous generator.
#include "number/print.hpp"

#include "number/exact_text.hpp"
#include "number/flint.hpp"
#include "number/tower.hpp"

#include <algorithm>
#include <cmath>

namespace cutproof {

namespace {

constexpr long most_digits = 40;  // before the point; a longer number is shown as 1.5e1000

/// |mantissa| / 10^scale with the point set, in scientific notation when it is below 1e-6 or `scale` is negative.
std::string decimal_text(bool negative, const fmpz_t mantissa, long scale, int digits) {
  std::string text = integer_text(mantissa);
  const std::string sign = negative ? "-" : "";
  const long exponent = static_cast<long>(text.size()) - 1 - scale;
  if (exponent < -6 || scale < 0) {
    std::string fraction = text.substr(1);
    return sign + text.substr(0, 1) + "." + (fraction.empty() ? "0" : fraction) + "e" + std::to_string(exponent);
  }
  if (scale == 0)
    return sign + text + (digits > static_cast<int>(text.size()) ? "." + std::string(digits - text.size(), '0') : "");
  if (exponent < 0) return sign + "0." + std::string(static_cast<std::size_t>(-exponent - 1), '0') + text;
  text.insert(static_cast<std::size_t>(exponent) + 1, ".");
  return sign + text;
}

/// |value| * 10^scale rounded to the nearest integer, half away from zero; `exact` holds the value where it is rational.
bool rounded(const Enclosure& value, const Rational* exact, long scale, fmpz_t result) {
  Integer ten(10), power;
  fmpz_pow_ui(power, ten, static_cast<ulong>(std::labs(scale)));
  if (exact != nullptr) {
    Rational scaled;
    fmpq_abs(scaled, *exact);
    if (scale >= 0) {
      fmpq_mul_fmpz(scaled, scaled, power);
    } else {
      fmpq_div_fmpz(scaled, scaled, power);
    }
    Rational half;
    fmpq_set_si(half, 1, 2);
    fmpq_add(scaled, scaled, half);
    fmpz_fdiv_q(result, scaled.numerator(), scaled.denominator());
    return true;
  }
  Ball ball;
  // An irrational number is never half-way, so this ends; a number that is rational in disguise is given up as drawn near
  // enough.
  for (slong precision = 128; precision <= (1L << 16); precision *= 2) {
    value(ball, precision);
    arb_abs(ball, ball);
    if (scale >= 0) {
      arb_mul_fmpz(ball, ball, power, precision);
    } else {
      arb_div_fmpz(ball, ball, power, precision);
    }
    Ball half;
    arb_set_d(half, 0.5);
    arb_add(ball, ball, half, precision);
    arb_floor(ball, ball, precision);
    if (arb_get_unique_fmpz(result, ball) != 0) return true;
  }
  arf_get_fmpz(result, arb_midref(ball.value), ARF_RND_FLOOR);
  return true;
}

std::string to_decimal(const Enclosure& value, const Rational* exact, int digits) {
  Ball ball;
  // Of a number that is tiny beside its own coefficients the first digits may be noise: sign and size come from a ball
  // without zero.
  slong precision = 128;
  for (value(ball, precision); arb_contains_zero(ball) && arb_is_zero(ball) == 0 && precision < (1L << 20); precision *= 2)
    value(ball, 2 * precision);
  if (arb_contains_zero(ball)) return "0";
  const bool negative = arf_sgn(arb_midref(ball.value)) < 0;
  // A first guess of the exponent from the midpoint's; corrected below.
  Integer binary;
  fmpz_set(binary, ARF_EXPREF(arb_midref(ball.value)));
  long scale =
      digits - 1 - static_cast<long>(std::floor((static_cast<double>(fmpz_get_si(binary)) - 0.5) * 0.30102999566398120));
  const long least = scale < digits - most_digits ? scale - 1 : 0;
  scale = std::max(scale, least);
  Integer mantissa;
  for (int attempt = 0; attempt < 6; ++attempt) {
    rounded(value, exact, scale, mantissa);
    const auto length = static_cast<long>(integer_text(mantissa).size());
    if (length == digits || (scale == 0 && least == 0 && length > digits)) break;
    const long next = std::max(scale + digits - length, least);
    if (next == scale) break;
    scale = next;
  }
  return decimal_text(negative, mantissa, scale, digits);
}

}  // namespace

std::vector<Rational> monomial_coefficients(const Number& number) {
  const Field& field = number.field();
  const slong degree = field.degree();
  RationalPolynomial powers;
  number.get_polynomial(powers);
  RationalMatrix column(degree, 1), product(degree, 1);
  for (slong i = 0; i < degree; ++i) fmpq_poly_get_coeff_fmpq(fmpq_mat_entry(column.value, i, 0), powers, i);
  fmpq_mat_mul(product, field.to_monomials(), column);
  std::vector<Rational> coefficients(static_cast<std::size_t>(degree));
  for (slong i = 0; i < degree; ++i)
    fmpq_set(coefficients[static_cast<std::size_t>(i)], fmpq_mat_entry(product.value, i, 0));
  return coefficients;
}

Rational rational_content(const Number& number) {
  Rational content;
  for (const Rational& coefficient : monomial_coefficients(number)) fmpq_gcd(content, content, coefficient);
  return content;
}

namespace {

const std::string& shorter(const std::string& first, const std::string& second) {
  return second.size() < first.size() ? second : first;
}

std::vector<WrittenTerm> written_terms(const std::vector<Rational>& coefficients,
                                       const std::vector<WrittenTerm>& monomials) {
  std::vector<WrittenTerm> terms;
  for (std::size_t i = 0; i < coefficients.size(); ++i) {
    if (fmpq_is_zero(coefficients[i])) continue;
    terms.push_back(monomials[i]);
    fmpq_mul(terms.back().factor, terms.back().factor, coefficients[i]);
  }
  return terms;
}

/// From powers of each generating cosine c to Chebyshev polynomials T_k(c).
std::vector<Rational> in_multiples(std::vector<Rational> coefficients, const Field& field) {
  std::size_t stride = 1;
  for (const Generator& generator : field.generators()) {
    const auto degree = static_cast<std::size_t>(generator.relative_degree);
    for (std::size_t start = 0; generator.is_cosine() && start < coefficients.size(); ++start) {
      if (start / stride % degree != 0) continue;
      std::vector<Rational> sum(degree), next(degree);
      for (std::size_t power = degree; power-- > 0;) {  // sum = sum * c + coefficient, with 2*c*T_k = T_(k+1) + T_|k-1|
        for (Rational& each : next) fmpq_zero(each);
        for (std::size_t k = 0; k < degree; ++k) {
          if (fmpq_is_zero(sum[k])) continue;
          Rational half;
          fmpq_div_2exp(half, sum[k], 1);
          fmpq_add(next[k + 1], next[k + 1], half);
          fmpq_add(next[k == 0 ? 1 : k - 1], next[k == 0 ? 1 : k - 1], half);
        }
        fmpq_add(next[0], next[0], coefficients[start + power * stride]);
        sum.swap(next);
      }
      for (std::size_t power = 0; power < degree; ++power) coefficients[start + power * stride] = sum[power];
    }
    stride *= degree;
  }
  return coefficients;
}

/// radicand = outside^2 * result with a rational outside > 0, and no small square left in the result's content.
Number strip_square(const Number& radicand, Number& outside) {
  Rational content = rational_content(radicand);
  // content = p/q = (p*q) / q^2
  Integer product, root(1), prime_square;
  fmpz_mul(product, content.numerator(), content.denominator());
  for (unsigned long p = 2; p < 2000; ++p) {
    fmpz_set_ui(prime_square, p * p);
    if (fmpz_cmp(prime_square, product) > 0) break;
    while (fmpz_divisible(product, prime_square)) {
      fmpz_divexact(product, product, prime_square);
      fmpz_mul_ui(root, root, p);
    }
  }
  if (fmpz_is_square(product)) {
    fmpz_sqrt(prime_square, product);
    fmpz_mul(root, root, prime_square);
  }
  Rational factor;
  fmpz_set(factor.numerator(), root);
  fmpz_set(factor.denominator(), content.denominator());
  fmpq_canonicalise(factor);
  outside = Number(factor, Field::rational());
  fmpq_inv(factor, factor);
  fmpq_mul(factor, factor, factor);
  return radicand * Number(factor, Field::rational());
}

/// `sqrt(10 + 2*sqrt(5))/4`: the square root of a positive number.
WrittenTerm written_root(const Number& square) {
  Number outside;
  const Number core = strip_square(square, outside);
  WrittenTerm term;
  outside.get_rational(term.factor);
  term.symbol = "sqrt(" + to_exact(core) + ")";
  return term;
}

/// How many coefficients, from the front, belong to the smallest field of the tower that holds the number, and its last
/// generator; the number is not rational.
std::pair<std::size_t, const Generator*> own_part(const std::vector<Rational>& coefficients, const Field& field) {
  std::size_t used = coefficients.size(), size = 1;
  while (fmpq_is_zero(coefficients[used - 1])) --used;
  for (const Generator& generator : field.generators()) {
    size *= static_cast<std::size_t>(generator.relative_degree);
    if (size >= used) return {size, &generator};
  }
  throw ToolFault("a number has more coefficients than its field");
}

bool all_zero(const std::vector<Rational>& coefficients, std::size_t from, std::size_t to) {
  return std::all_of(coefficients.begin() + static_cast<std::ptrdiff_t>(from),
                     coefficients.begin() + static_cast<std::ptrdiff_t>(to),
                     [](const Rational& each) { return fmpq_is_zero(each) != 0; });
}

}  // namespace

std::string to_exact(const Number& number) {
  if (number.is_rational()) {
    Rational value;
    number.get_rational(value);
    return rational_text(value);
  }
  const Field& field = number.field();
  const std::vector<Rational> coefficients = monomial_coefficients(number);
  std::string text = sum_text(written_terms(coefficients, field.written_monomials(false)));
  const auto& generators = field.generators();
  if (std::any_of(generators.begin(), generators.end(), [](const Generator& each) { return each.is_cosine(); }))
    text = shorter(text, sum_text(written_terms(in_multiples(coefficients, field), field.written_monomials(true))));
  // Over the field below it may be a multiple of one square root: then its square lies there.
  const auto [size, last] = own_part(coefficients, field);
  if (last->relative_degree == 2 && last->root == 0 && all_zero(coefficients, 0, size / 2)) {
    const Number squared = square(number);
    if (!squared.is_rational() && all_zero(monomial_coefficients(squared), size / 2, size)) {
      WrittenTerm root = written_root(squared);
      if (number.sign() < 0) fmpq_neg(root.factor, root.factor);
      text = shorter(text, term_text(root));
    }
  }
  return text;
}

std::string to_decimal(const Number& number, int digits) {
  if (number.is_zero()) return "0";
  const Enclosure enclosure = [&](arb_t ball, slong precision) { number.enclose(ball, precision); };
  if (!number.is_rational()) return to_decimal(enclosure, nullptr, digits);
  Rational exact;
  number.get_rational(exact);
  return to_decimal(enclosure, &exact, digits);
}

namespace {

/// A short terminating decimal where the rational number is one (`54.7356`), else a fraction.
std::string short_rational(const Number& number) {
  Rational value, scaled;
  number.get_rational(value);
  for (int places = 0; places <= 12; ++places) {
    Integer power(10);
    fmpz_pow_ui(power, power, static_cast<ulong>(places));
    fmpq_mul_fmpz(scaled, value, power);
    if (fmpz_is_one(scaled.denominator())) return decimal_text(false, scaled.numerator(), places, 0);
  }
  return rational_text(value);
}

}  // namespace

std::string to_exact(const Angle& angle) {
  std::string text;
  const auto append = [&](const Number& multiple, const std::string& unit, bool degrees) {
    const bool negative = multiple.sign() < 0;
    text += text.empty() ? (negative ? "-" : "") : (negative ? " - " : " + ");
    WrittenTerm term{{}, unit};
    absolute(multiple).get_rational(term.factor);
    text += degrees ? short_rational(absolute(multiple)) + unit : term_text(term);
  };
  if (!angle.pi_multiple.is_zero() || angle.rays.empty()) append(angle.pi_multiple * Number(180), " deg", true);
  for (const auto& [multiple, ray] : angle.rays) {
    RadicalSum cosine;
    const Number length2 = square(ray.x) + ray.y2;
    cosine.add(divide(ray.x, length2), length2);
    append(multiple, "acos(" + to_exact(cosine) + ")", false);
  }
  return text;
}

std::string to_decimal_degrees(const Angle& angle, int digits) {
  if (angle.is_rational_multiple_of_pi()) return to_decimal(angle.pi_multiple * Number(180), digits);
  return to_decimal(
      [&](arb_t ball, slong precision) {
        Ball pi;
        enclose(angle, ball, precision);
        arb_const_pi(pi, precision);
        arb_div(ball, ball, pi, precision);
        arb_mul_ui(ball, ball, 180, precision);
      },
      nullptr, digits);
}

// --- sums of radicals
// -------------------------------------------------------------------------------------------------------

namespace {

void enclose(const RadicalSum& sum, arb_t ball, slong precision) {
  Ball factor, radical;
  arb_zero(ball);
  for (const RadicalSum::Term& term : sum.terms()) {
    term.factor.enclose(factor, precision);
    term.radicand.enclose(radical, precision);
    arb_sqrt(radical, radical, precision);
    arb_addmul(ball, factor, radical, precision);
  }
}

}  // namespace

void RadicalSum::add(const Number& factor, const Number& radicand) {
  if (radicand.sign() < 0) throw ToolFault("a square root of a negative number in a sum of radicals");
  if (factor.is_zero() || radicand.is_zero()) return;
  Number outside;
  Number core = strip_square(radicand, outside);
  Number coefficient = factor * outside;
  if (const auto root = square_root_within_field(core)) {
    coefficient = coefficient * *root;
    core = Number(1L, core.field());
  }
  for (auto term = terms_.begin(); term != terms_.end(); ++term) {
    // sqrt(core) = sqrt(core * r) / r * sqrt(r)
    Number ratio(1);
    if (!(term->radicand == core)) {
      if (term->radicand == Number(1) || core == Number(1)) continue;
      const auto root = square_root_within_field(core * term->radicand);
      if (!root) continue;
      ratio = divide(*root, term->radicand);
    }
    term->factor += coefficient * ratio;
    if (term->factor.is_zero()) terms_.erase(term);
    return;
  }
  terms_.push_back({coefficient, core});
}

int RadicalSum::sign() const {
  if (terms_.empty()) return 0;  // radicals of different square classes are linearly independent
  Ball ball;
  for (slong precision = 64;; precision *= 2) {
    enclose(*this, ball, precision);
    if (arb_is_positive(ball)) return 1;
    if (arb_is_negative(ball)) return -1;
  }
}

namespace {

/// factor * sqrt(radicand), both positive, the radicand not rational.
WrittenTerm written_multiple(const Number& factor, const Number& radicand) {
  WrittenTerm product;
  const std::string root = "sqrt(" + to_exact(radicand) + ")";
  if (factor.is_rational()) {
    factor.get_rational(product.factor);
    product.symbol = root;
    return product;
  }
  product.factor = rational_content(factor);
  Rational inverse;
  fmpq_inv(inverse, product.factor);
  const std::string text = to_exact(factor * Number(inverse, factor.field()));
  product.symbol = (is_sum(text) ? "(" + text + ")*" : text + "*") + root;
  const Number squared = square(factor) * radicand;
  if (squared.is_rational()) return product;
  WrittenTerm alone = written_root(squared);
  return term_text(alone).size() <= term_text(product).size() ? alone : product;
}

/// Adds the terms of factor * sqrt(radicand), the radicand an integer.
void append_terms(const Number& factor, const Number& radicand, std::vector<WrittenTerm>& terms) {
  Rational value;
  radicand.get_rational(value);
  const std::vector<WrittenProduct> monomials = written_products(factor.field(), false);
  const std::vector<Rational> coefficients = monomial_coefficients(factor);
  for (std::size_t i = 0; i < coefficients.size(); ++i) {
    if (fmpq_is_zero(coefficients[i])) continue;
    WrittenProduct product = monomials[i];
    product.multiply_root(value.numerator(), 2);
    product.multiply_rational(coefficients[i]);
    terms.push_back(product.term());
  }
}

}  // namespace

std::string to_exact(const RadicalSum& sum) {
  if (sum.terms().size() == 1 && sum.terms()[0].radicand == Number(1)) return to_exact(sum.terms()[0].factor);
  std::vector<RadicalSum::Term> sorted = sum.terms();  // roots of integers first, by size
  std::stable_sort(sorted.begin(), sorted.end(), [](const RadicalSum::Term& a, const RadicalSum::Term& b) {
    if (!a.radicand.is_rational() || !b.radicand.is_rational()) return a.radicand.is_rational() && !b.radicand.is_rational();
    return a.radicand < b.radicand;
  });
  std::vector<WrittenTerm> terms;
  for (const RadicalSum::Term& term : sorted) {
    if (term.radicand.is_rational()) {
      append_terms(term.factor, term.radicand, terms);
      continue;
    }
    WrittenTerm written = written_multiple(absolute(term.factor), term.radicand);
    if (term.factor.sign() < 0) fmpq_neg(written.factor, written.factor);
    terms.push_back(written);
  }
  return sum_text(terms);
}

std::string to_decimal(const RadicalSum& sum, int digits) {
  if (sum.is_zero()) return "0";
  if (sum.terms().size() == 1 && sum.terms()[0].radicand == Number(1)) return to_decimal(sum.terms()[0].factor, digits);
  return to_decimal([&](arb_t ball, slong precision) { enclose(sum, ball, precision); }, nullptr, digits);
}

}  // namespace cutproof
