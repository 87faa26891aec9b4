// SPDX-License-Identifier: GPL-3.0-or-later
// Characters at a few dozen places tell almost all classes apart; square roots are taken only where they agree.
#include "dehn/square_classes.hpp"

#include "number/flint.hpp"
#include "number/tower.hpp"

#include <algorithm>
#include <map>

namespace cutproof {

namespace {

constexpr ulong character_primes_above = 1UL << 30;
constexpr std::size_t first_places = 40;
constexpr long largest_simple_radicand = 210;

/// Squarefree up to primes beyond 1000 (unless what is left is a square).
void remove_square_factors(fmpz_t n) {
  Integer rest(n), result(1), root;
  for (ulong p = 2; p < 1000; p = n_nextprime(p, 1)) {
    ulong exponent = 0;
    while (fmpz_fdiv_ui(rest, p) == 0) {
      fmpz_divexact_ui(rest, rest, p);
      ++exponent;
    }
    if (exponent % 2 == 1) fmpz_mul_ui(result, result, p);
  }
  if (!fmpz_is_square(rest)) fmpz_mul(result, result, rest);
  fmpz_set(n, result);
}

/// A number of the same class, and a scale > 0 with scale^2 * radicand = number.
struct Representative {
  Number radicand, scale;
};

/// The number times a rational square that leaves few factors in its content.
Representative without_rational_squares(const Number& number) {
  RationalPolynomial polynomial;
  Rational content;
  number.get_polynomial(polynomial);
  fmpq_poly_content(content, polynomial);
  Integer squarefree;
  fmpz_mul(squarefree, content.numerator(), content.denominator());
  remove_square_factors(squarefree);
  Rational quotient;  // number / radicand, a square
  fmpq_set(quotient, content);
  fmpq_div_fmpz(quotient, quotient, squarefree);
  Rational factor, scale;
  fmpq_inv(factor, quotient);
  fmpz_sqrt(scale.numerator(), quotient.numerator());
  fmpz_sqrt(scale.denominator(), quotient.denominator());
  return {number * Number(factor, number.field()), Number(scale, number.field())};
}

/// Quadratic characters of given numbers at places where all of them have one.
class Characters {
 public:
  explicit Characters(const std::vector<Number>& numbers)
      : numbers_(numbers), places_(numbers.front().field(), character_primes_above, 2), rows_(numbers.size()) {
    while (used_.size() < first_places) extend();
  }
  void extend() {
    for (;; ++next_) {
      const PrimePlace& place = places_[next_];
      std::vector<int> symbols;
      for (const Number& number : numbers_) {
        const auto value = residue(number, place);
        if (!value || *value == 0) break;
        symbols.push_back(n_jacobi_unsigned(*value, place.q));
      }
      if (symbols.size() < numbers_.size()) continue;
      for (std::size_t i = 0; i < numbers_.size(); ++i) rows_[i].push_back(symbols[i]);
      used_.push_back(place);
      ++next_;
      return;
    }
  }
  const std::vector<int>& row(std::size_t number) const { return rows_[number]; }
  const std::vector<PrimePlace>& places() const { return used_; }

 private:
  const std::vector<Number>& numbers_;
  PlaceSequence places_;
  std::size_t next_ = 0;
  std::vector<PrimePlace> used_;
  std::vector<std::vector<int>> rows_;  // by number, then by place
};

/// A small integer where the number's class holds one.
Representative simplest_in_class(const Number& number, const std::vector<int>& characters,
                                 const std::vector<PrimePlace>& places) {
  for (long n = 1; n <= largest_simple_radicand; ++n) {
    if (!n_is_squarefree(static_cast<ulong>(n))) continue;
    const auto agrees = [&](std::size_t i) { return n_jacobi(n, places[i].q) == characters[i]; };
    std::size_t i = 0;
    while (i < places.size() && agrees(i)) ++i;
    if (i < places.size()) continue;
    const Number integer(n, number.field());
    const auto root = square_root_within_field(number * integer);
    if (root) return {integer, divide(root->lifted_to(number.field()), integer)};
  }
  return without_rational_squares(number);
}

/// A few places at which any two classes differ, out of those used.
std::vector<SquareSymbols> separate(const Characters& characters, const std::vector<SquareClass>& classes) {
  std::vector<SquareSymbols> separations;
  std::vector<std::vector<std::size_t>> together(1);
  for (std::size_t i = 0; i < classes.size(); ++i) together[0].push_back(i);
  for (std::size_t place = 0; together.size() < classes.size(); ++place) {
    std::vector<std::vector<std::size_t>> finer;
    for (const auto& group : together) {
      std::vector<std::size_t> sides[2];
      for (const std::size_t each : group) sides[characters.row(classes[each].members.front())[place] > 0].push_back(each);
      for (auto& side : sides)
        if (!side.empty()) finer.push_back(std::move(side));
    }
    if (finer.size() == together.size()) continue;
    together = std::move(finer);
    SquareSymbols symbols{characters.places()[place], {}};
    for (const SquareClass& each : classes) symbols.symbols.push_back(characters.row(each.members.front())[place]);
    separations.push_back(std::move(symbols));
  }
  return separations;
}

}  // namespace

SquareClasses group_by_square_class(const std::vector<Number>& numbers) {
  SquareClasses result;
  if (numbers.empty()) return result;
  Characters characters(numbers);
  for (std::size_t i = 0; i < numbers.size(); ++i) {
    bool placed = false;
    for (SquareClass& each : result.classes) {
      const std::size_t first = each.members.front();
      if (characters.row(i) != characters.row(first)) continue;
      const std::optional<Number> root =
          numbers[i] == numbers[first] ? numbers[i] : square_root_within_field(numbers[i] * numbers[first]);
      if (root) {
        each.members.push_back(i);
        each.scales.push_back(divide(root->lifted_to(numbers[i].field()) * each.scales.front(), numbers[first]));
        placed = true;
        break;
      }
      // Not a square: a place where the two differ exists, and it will be found.
      while (characters.row(i) == characters.row(first)) characters.extend();
    }
    if (placed) continue;
    Representative simplest = simplest_in_class(numbers[i], characters.row(i), characters.places());
    result.classes.push_back({std::move(simplest.radicand), {i}, {std::move(simplest.scale)}});
  }
  result.separations = separate(characters, result.classes);
  return result;
}

}  // namespace cutproof
