// SPDX-License-Identifier: GPL-3.0-or-later
#include "number/exact_text.hpp"

#include <algorithm>
#include <numeric>
#include <utility>

namespace cutproof {

std::string integer_text(const fmpz_t value) {
  char* digits = fmpz_get_str(nullptr, 10, value);
  std::string text = digits;
  flint_free(digits);
  return text;
}

std::string rational_text(const fmpq_t value) {
  const std::string numerator = integer_text(fmpq_numref(value));
  return fmpz_is_one(fmpq_denref(value)) ? numerator : numerator + "/" + integer_text(fmpq_denref(value));
}

std::string term_text(const WrittenTerm& term) {
  if (term.symbol.empty()) return rational_text(term.factor);
  std::string text = fmpq_sgn(term.factor) < 0 ? "-" : "";
  Integer numerator;
  fmpz_abs(numerator, term.factor.numerator());
  if (!fmpz_is_one(numerator)) text += integer_text(numerator) + "*";
  text += term.symbol;
  if (!fmpz_is_one(term.factor.denominator())) text += "/" + integer_text(term.factor.denominator());
  return text;
}

namespace {

std::string plain_sum_text(const std::vector<WrittenTerm>& terms) {
  std::string text;
  for (const WrittenTerm& term : terms) {
    const std::string each = term_text(term);
    if (text.empty())
      text = each;
    else
      text += each[0] == '-' ? " - " + each.substr(1) : " + " + each;
  }
  return text;
}

/// The sum, divided by a rational number that is written in front of it and behind it.
std::string factored_text(std::vector<WrittenTerm> terms, const Rational& content) {
  for (WrittenTerm& term : terms) fmpq_div(term.factor, term.factor, content);
  return term_text({content, "(" + plain_sum_text(terms) + ")"});
}

}  // namespace

std::string sum_text(std::vector<WrittenTerm> terms) {
  if (terms.empty()) return "0";
  const auto positive =
      std::find_if(terms.begin(), terms.end(), [](const WrittenTerm& term) { return fmpq_sgn(term.factor) > 0; });
  if (positive != terms.end()) std::rotate(terms.begin(), positive, positive + 1);
  std::string shortest = plain_sum_text(terms);
  if (terms.size() == 1) return shortest;
  Rational content, denominator;
  for (const WrittenTerm& term : terms) fmpq_gcd(content, content, term.factor);
  if (positive == terms.end()) fmpq_neg(content, content);
  fmpz_one(denominator.numerator());
  fmpz_set(denominator.denominator(), content.denominator());
  for (const Rational& common : {denominator, content}) {
    if (fmpq_is_one(common)) continue;
    std::string text = factored_text(terms, common);
    if (text.size() <= shortest.size()) shortest = std::move(text);
  }
  return shortest;
}

bool is_sum(const std::string& text) {
  int depth = 0;
  for (std::size_t i = 0; i + 2 < text.size(); ++i) {
    depth += text[i] == '(' ? 1 : text[i] == ')' ? -1 : 0;
    if (depth == 0 && text[i] == ' ' && (text[i + 1] == '+' || text[i + 1] == '-')) return true;
  }
  return false;
}

void strip_powers(const fmpz_t integer, unsigned long n, fmpz_t outside, fmpz_t inside) {
  fmpz_set(inside, integer);
  fmpz_one(outside);
  Integer prime_power, prime;
  for (unsigned long p = 2; p < 2000; p += p == 2 ? 1 : 2) {
    fmpz_set_ui(prime_power, p);
    fmpz_pow_ui(prime_power, prime_power, n);
    if (fmpz_cmpabs(prime_power, inside) > 0) break;
    while (fmpz_divisible(inside, prime_power)) {
      fmpz_divexact(inside, inside, prime_power);
      fmpz_mul_ui(outside, outside, p);
    }
  }
  fmpz_abs(prime, inside);
  if (!fmpz_is_one(prime) && fmpz_root(prime_power, prime, static_cast<slong>(n)) != 0) {
    fmpz_mul(outside, outside, prime_power);
    fmpz_set_si(inside, fmpz_sgn(inside));
  }
}

// --- products of roots
// ----------------------------------------------------------------------------------------------------------

namespace {

/// value = base^exponent with the largest exponent; value > 1.
unsigned long perfect_power(const fmpz_t value, fmpz_t base) {
  unsigned long exponent = 1;
  fmpz_set(base, value);
  Integer root;
  for (int next = fmpz_is_perfect_power(root, base); next > 1; next = fmpz_is_perfect_power(root, base)) {
    exponent *= static_cast<unsigned long>(next);
    fmpz_set(base, root);
  }
  return exponent;
}

/// radicand^(1/index), where neither can be made smaller.
std::string root_text(const fmpz_t radicand, unsigned long index) {
  if (index == 2) return "sqrt(" + integer_text(radicand) + ")";
  if (index == 3) return "cbrt(" + integer_text(radicand) + ")";
  Integer base;
  const unsigned long exponent = perfect_power(radicand, base);
  return integer_text(base) + "^(" + std::to_string(exponent) + "/" + std::to_string(index) + ")";
}

}  // namespace

Rational WrittenProduct::one() {
  Rational result;
  fmpq_one(result);
  return result;
}

WrittenProduct::Root& WrittenProduct::root(unsigned long index) {
  auto place = roots_.begin();
  while (place != roots_.end() && place->index > index) ++place;
  if (place == roots_.end() || place->index != index) place = roots_.insert(place, {index, Integer(1)});
  return *place;
}

void WrittenProduct::multiply_root(const fmpz_t radicand, unsigned long index, unsigned long exponent) {
  const unsigned long common = std::gcd(index, exponent);
  Integer power;
  fmpz_pow_ui(power, radicand, exponent / common);
  Integer& gathered = root(index / common).radicand;
  fmpz_mul(gathered, gathered, power);
}

void WrittenProduct::multiply_rational(const fmpq_t factor) {
  fmpq_mul(factor_, factor_, factor);
}

namespace {

/// text^exponent; roots written with an exponent (`(1 + sqrt(2))^(1/4)`) take it into theirs.
std::string power_text(const std::string& text, unsigned long exponent) {
  if (exponent == 1) return text;
  const std::size_t root = text.rfind(")^(1/");
  if (text.front() != '(' || root == std::string::npos || text.find(')', root + 1) != text.size() - 1)
    return text + "^" + std::to_string(exponent);
  const unsigned long index = std::stoul(text.substr(root + 5)), common = std::gcd(exponent, index);
  const std::string base = text.substr(0, root + 1);
  if (index / common == 2 && exponent == common) return "sqrt" + base;
  if (index / common == 3 && exponent == common) return "cbrt" + base;
  return base + "^(" + std::to_string(exponent / common) + "/" + std::to_string(index / common) + ")";
}

}  // namespace

void WrittenProduct::multiply(const std::string& text, unsigned long exponent) {
  if (exponent > 0) others_ += (others_.empty() ? "" : "*") + power_text(text, exponent);
}

WrittenTerm WrittenProduct::term() const {
  WrittenProduct left = *this;
  std::string text;
  while (!left.roots_.empty()) {
    const Root largest = left.roots_.front();
    left.roots_.erase(left.roots_.begin());
    Integer outside, inside, base;
    strip_powers(largest.radicand, largest.index, outside, inside);
    fmpq_mul_fmpz(left.factor_, left.factor_, outside);
    if (fmpz_is_one(inside)) continue;
    // (b^e)^(1/n) with a common divisor of e and n is a root of lower index
    const unsigned long exponent = perfect_power(inside, base), common = std::gcd(exponent, largest.index);
    if (common > 1) {
      fmpz_pow_ui(base, base, exponent / common);
      left.multiply_root(base, largest.index / common);
      continue;
    }
    text = root_text(inside, largest.index) + (text.empty() ? "" : "*" + text);
  }
  if (!others_.empty()) text += (text.empty() ? "" : "*") + others_;
  return {left.factor_, text};
}

// --- a field's basis
// ------------------------------------------------------------------------------------------------------------

namespace {

/// cos(multiple * half_turns * pi), by an angle up to a right one.
void multiply_cosine(WrittenProduct& product, const Rational& half_turns, unsigned long multiple) {
  Rational angle, whole, sign;
  fmpq_set_si(sign, 1, 1);
  fmpq_mul_ui(angle, half_turns, multiple);
  fmpz_fdiv_q(whole.numerator(), angle.numerator(), angle.denominator());
  if (fmpz_is_odd(whole.numerator())) fmpq_neg(sign, sign);  // cos(t - k*pi) = (-1)^k * cos(t)
  fmpq_sub(angle, angle, whole);
  Rational supplement, one;
  fmpq_one(one);
  fmpq_sub(supplement, one, angle);
  if (fmpq_cmp(supplement, angle) < 0) {
    fmpq_set(angle, supplement);
    fmpq_neg(sign, sign);
  }
  if (fmpz_is_one(angle.numerator()) && (fmpz_equal_si(angle.denominator(), 4) || fmpz_equal_si(angle.denominator(), 6))) {
    const Integer radicand(fmpz_equal_si(angle.denominator(), 4) ? 2 : 3);
    fmpq_div_2exp(sign, sign, 1);
    product.multiply_root(radicand, 2);
  } else {
    product.multiply("cos(" + (fmpz_is_one(angle.numerator()) ? "" : integer_text(angle.numerator()) + "*") + "pi/" +
                     integer_text(angle.denominator()) + ")");
  }
  product.multiply_rational(sign);
}

}  // namespace

std::vector<WrittenProduct> written_products(const Field& field, bool multiples) {
  std::vector<WrittenProduct> result(1);
  for (const Generator& generator : field.generators()) {
    const std::vector<WrittenProduct> below = result;
    for (unsigned long exponent = 1; exponent < static_cast<unsigned long>(generator.relative_degree); ++exponent)
      for (WrittenProduct product : below) {
        if (generator.root > 0)
          product.multiply_root(generator.radicand, generator.root, exponent);
        else if (multiples && generator.is_cosine())
          multiply_cosine(product, generator.half_turns, exponent);
        else
          product.multiply(generator.text, exponent);
        result.push_back(std::move(product));
      }
  }
  return result;
}

}  // namespace cutproof
