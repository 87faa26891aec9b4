// SPDX-License-Identifier: GPL-3.0-or-later
#include "dehn/gather.hpp"

#include "dehn/invariant.hpp"
#include "dehn/torsion.hpp"

#include <algorithm>
#include <cstdlib>
#include <optional>
#include <utility>

namespace cutproof {

namespace {

constexpr long most_angles = 64;

std::size_t length_to_write(const Number& tangent_squared) {
  return people_text({DihedralAngle::Kind::acute, tangent_squared}).size();
}

/// Replaces the angle by the negative of its complement where that is shorter to write; returns the length.
std::size_t shorten(GatheredTerm& term) {
  const Number complement = divide(Number(1L, term.tangent_squared.field()), term.tangent_squared);
  const std::size_t own = length_to_write(term.tangent_squared), other = length_to_write(complement);
  if (own < other || (own == other && term.tangent_squared < complement)) return own;
  term.tangent_squared = complement;
  term.coefficient = -term.coefficient;
  for (long& factor : term.factors) factor = -factor;
  return other;
}

/// A set of pivots (by index) whose coefficients are `ratios` times that of the first one.
struct Group {
  std::vector<std::size_t> pivots;
  std::vector<Rational> ratios;
};

std::vector<Group> proportional(const ClassDecision& part) {
  std::vector<Group> groups;
  for (std::size_t i = 0; i < part.pivots.size(); ++i) {
    if (part.coefficients[i].is_zero()) continue;
    Rational ratio;
    const auto group = std::find_if(groups.begin(), groups.end(), [&](const Group& each) {
      const Number quotient = divide(part.coefficients[i], part.coefficients[each.pivots.front()]);
      if (!quotient.is_rational()) return false;
      quotient.get_rational(ratio);
      return true;
    });
    if (group == groups.end()) {
      fmpq_one(ratio);
      groups.push_back({{i}, {ratio}});
    } else {
      group->pivots.push_back(i);
      group->ratios.push_back(ratio);
    }
  }
  return groups;
}

/// The ratios as integers without a common divisor; nothing when their sizes add up to more than is tried.
std::optional<std::vector<long>> small_factors(const std::vector<Rational>& ratios) {
  Rational content;
  for (const Rational& ratio : ratios) fmpq_gcd(content, content, ratio);
  std::vector<long> factors;
  long sum = 0;
  for (const Rational& ratio : ratios) {
    Rational factor;
    fmpq_div(factor, ratio, content);
    if (fmpz_cmpabs(factor.numerator(), Integer(most_angles)) > 0) return std::nullopt;
    factors.push_back(fmpz_get_si(factor.numerator()));
    sum += std::labs(factors.back());
  }
  return sum > most_angles ? std::nullopt : std::optional(factors);
}

GatheredTerm alone(const Decision& decision, std::size_t index, std::size_t pivot, std::size_t* length = nullptr) {
  const ClassDecision& part = decision.classes[index];
  const std::size_t position = part.pivots[pivot];
  GatheredTerm term{
      index, {position}, {1}, part.coefficients[pivot], decision.angles[part.angles[position]].tangent_squared};
  const std::size_t written = shorten(term);
  if (length != nullptr) *length = written;
  return term;
}

std::optional<GatheredTerm> together(const Decision& decision, std::size_t index, const Group& group) {
  const ClassDecision& part = decision.classes[index];
  if (group.pivots.size() < 2) return std::nullopt;
  std::optional<std::vector<long>> factors = small_factors(group.ratios);
  if (!factors) return std::nullopt;
  GatheredTerm term{index, {}, {}, Number(), Number()};
  std::vector<Direction> directions;
  std::size_t longest = 0;
  for (const std::size_t pivot : group.pivots) {
    const std::size_t position = part.pivots[pivot];
    term.pivots.push_back(position);
    directions.push_back({Number(1L, part.radicand.field()), part.scales[position]});
    std::size_t length = 0;
    alone(decision, index, pivot, &length);
    longest = std::max(longest, length);
  }
  const Direction sum = product(directions, *factors, part.radicand);
  const Number scale = divide(sum.y, sum.x);  // independent angles add up to no right angle
  if (scale.sign() < 0)
    for (long& factor : *factors) factor = -factor;
  term.factors = std::move(*factors);
  term.tangent_squared = square(scale) * part.radicand;
  term.coefficient = part.coefficients[group.pivots.front()] * Number::fraction(1, term.factors.front());
  return shorten(term) > longest ? std::nullopt : std::optional(std::move(term));
}

}  // namespace

std::vector<GatheredTerm> gathered_terms(const Decision& decision) {
  std::vector<GatheredTerm> terms;
  for (std::size_t index = 0; index < decision.classes.size(); ++index) {
    const std::size_t begin = terms.size();
    for (const Group& group : proportional(decision.classes[index])) {
      if (std::optional<GatheredTerm> term = together(decision, index, group)) {
        terms.push_back(std::move(*term));
        continue;
      }
      for (const std::size_t pivot : group.pivots) terms.push_back(alone(decision, index, pivot));
    }
    std::sort(terms.begin() + static_cast<std::ptrdiff_t>(begin), terms.end(),
              [](const GatheredTerm& a, const GatheredTerm& b) { return a.pivots.front() < b.pivots.front(); });
  }
  return terms;
}

}  // namespace cutproof
