// SPDX-License-Identifier: GPL-3.0-or-later
// Candidates for relations come from kernels modulo l; every one is multiplied out exactly before it is believed.
#include "dehn/relations.hpp"

#include "dehn/torsion.hpp"
#include "number/complaint.hpp"
#include "number/flint.hpp"

#include <algorithm>
#include <cmath>
#include <numeric>

namespace cutproof {

namespace {

constexpr ulong first_order = 10007;
constexpr ulong order_growth = 40;
constexpr ulong character_primes_above = 10'000'000;
constexpr ulong rejection_primes_above = 1UL << 60;
constexpr std::size_t spare_primes = 12;
constexpr std::size_t most_orders = 12;

/// The residues of all u_j = (1 + s_j*sqrt(-r)) / (1 - s_j*sqrt(-r)) at a place.
struct Residues {
  ulong root;
  std::vector<ulong> values;
};

/// Empty where -r is no square or some u_j has no residue.
std::optional<Residues> residues(const ClassDecision& part, const PrimePlace& place) {
  const ulong q = place.q;
  const auto r = residue(part.radicand, place);
  if (!r || *r == 0) return {};
  const ulong negative = n_negmod(*r, q);
  if (n_jacobi_unsigned(negative, q) != 1) return {};
  Residues result{n_sqrtmod(negative, q), {}};
  for (const Number& scale : part.scales) {
    const auto s = residue(scale, place);
    if (!s) return {};
    const ulong imaginary = multiply_mod(*s, result.root, q);
    const ulong top = add_mod(1, imaginary, q), bottom = subtract_mod(1, imaginary, q);
    if (top == 0 || bottom == 0) return {};
    result.values.push_back(multiply_mod(top, n_invmod(bottom, q), q));
  }
  return result;
}

/// Rows modulo l in echelon form; rows that add nothing to the rank are refused.
class EchelonForm {
 public:
  EchelonForm(ulong l, std::size_t columns) : l_(l), columns_(columns) {}
  std::size_t rank() const { return rows_.size(); }
  /// True iff the rank grew.
  bool add(std::vector<ulong> row) {
    for (const auto& [pivot, known] : rows_) subtract(&row, known, row[pivot]);
    const auto pivot = std::find_if(row.begin(), row.end(), [](ulong x) { return x != 0; }) - row.begin();
    if (static_cast<std::size_t>(pivot) == columns_) return false;
    const ulong inverse = n_invmod(row[pivot], l_);
    for (ulong& entry : row) entry = multiply_mod(entry, inverse, l_);
    for (auto& [other, known] : rows_) subtract(&known, row, known[pivot]);
    rows_.emplace(pivot, std::move(row));
    return true;
  }
  std::vector<std::size_t> pivots() const {
    std::vector<std::size_t> result;
    for (const auto& [pivot, row] : rows_) result.push_back(pivot);
    return result;
  }
  /// Column `column` as a combination of the pivot columns, in their order.
  std::vector<ulong> combination(std::size_t column) const {
    std::vector<ulong> result;
    for (const auto& [pivot, row] : rows_) result.push_back(row[column]);
    return result;
  }

 private:
  void subtract(std::vector<ulong>* row, const std::vector<ulong>& other, ulong factor) const {
    if (factor == 0) return;
    for (std::size_t i = 0; i < columns_; ++i) (*row)[i] = subtract_mod((*row)[i], multiply_mod(factor, other[i], l_), l_);
  }
  ulong l_;
  std::size_t columns_;
  std::map<std::size_t, std::vector<ulong>> rows_;
};

/// Kernel vectors modulo a product of orders that showed the same pivots.
struct Combined {
  std::vector<std::size_t> pivots;
  Integer modulus{1};
  std::map<std::size_t, std::vector<Integer>> combinations;  // by column that is no pivot

  void add(const EchelonForm& form, ulong l, std::size_t columns) {
    const std::vector<std::size_t> fresh = form.pivots();
    const bool better = fresh.size() > pivots.size() || (fresh.size() == pivots.size() && fresh < pivots);
    if (!better && fresh != pivots) return;  // this l hides an independence that another one showed
    if (better || combinations.empty()) {
      pivots = fresh;
      fmpz_one(modulus);
      combinations.clear();
      for (std::size_t column = 0; column < columns; ++column)
        if (!std::binary_search(pivots.begin(), pivots.end(), column))
          combinations[column] = std::vector<Integer>(pivots.size());
    }
    for (auto& [column, values] : combinations) {
      const std::vector<ulong> residues = form.combination(column);
      for (std::size_t i = 0; i < values.size(); ++i) fmpz_CRT_ui(values[i], values[i], modulus, residues[i], l, 0);
    }
    fmpz_mul_ui(modulus, modulus, l);
  }
};

/// Small integers a with a_0 * column = sum of a_(i+1) * pivot_i modulo the modulus; empty when there are none.
std::optional<std::vector<long>> reconstruct(const std::vector<Integer>& combination, const Integer& modulus) {
  Integer denominator(1), value;
  Rational fraction;
  for (const Integer& entry : combination) {
    fmpz_mul(value, entry, denominator);
    fmpz_mod(value, value, modulus);
    if (!_fmpq_reconstruct_fmpz(fraction.numerator(), fraction.denominator(), value, modulus)) return {};
    fmpz_mul(denominator, denominator, fraction.denominator());
    if (fmpz_cmp(denominator, modulus) >= 0 || !fmpz_fits_si(denominator)) return {};
  }
  std::vector<long> result = {fmpz_get_si(denominator)};
  for (const Integer& entry : combination) {
    fmpz_mul(value, entry, denominator);
    fmpz_smod(value, value, modulus);
    if (!fmpz_fits_si(value)) return {};
    result.push_back(fmpz_get_si(value));
  }
  return result;
}

class Verifier {
 public:
  explicit Verifier(const ClassDecision& part) : part_(part), places_(part.radicand.field(), rejection_primes_above, 2) {
    for (std::size_t i = 0; !residues_; ++i) {
      residues_ = residues(part, places_[i]);
      q_ = places_[i].q;
    }
    orders_ = possible_orders(2 * part.radicand.field().degree());
  }
  /// The order of the product of u_j^exponents[j], when it is a root of unity.
  std::optional<ulong> order(const std::vector<long>& exponents) const {
    ulong value = 1;
    for (std::size_t i = 0; i < exponents.size(); ++i) {
      const long reduced = exponents[i] % static_cast<long>(q_ - 1);
      const ulong exponent = reduced < 0 ? q_ - 1 - static_cast<ulong>(-reduced) : static_cast<ulong>(reduced);
      value = multiply_mod(value, power_mod(residues_->values[i], exponent, q_), q_);
    }
    const auto may_be = [&](ulong n) { return power_mod(value, n, q_) == 1; };
    if (std::none_of(orders_.begin(), orders_.end(), may_be)) return {};
    std::vector<Direction> directions;
    for (const Number& scale : part_.scales) directions.push_back({Number(1L, scale.field()), scale});
    return order_of_root_of_unity(product(directions, exponents, part_.radicand), part_.radicand);
  }

 private:
  const ClassDecision& part_;
  PlaceSequence places_;
  ulong q_ = 0;
  std::optional<Residues> residues_;
  std::vector<ulong> orders_;
};

std::optional<Relation> verified_relation(const Verifier& verifier, std::size_t columns, std::size_t column,
                                          const Combined& combined) {
  const auto integers = reconstruct(combined.combinations.at(column), combined.modulus);
  if (!integers) return {};
  long divisor = 0;
  for (const long each : *integers) divisor = std::gcd(divisor, each);
  Relation relation{column, std::vector<long>(columns, 0), 0};
  relation.exponents[column] = (*integers)[0] / divisor;
  for (std::size_t i = 0; i < combined.pivots.size(); ++i)
    relation.exponents[combined.pivots[i]] = -(*integers)[i + 1] / divisor;
  const auto order = verifier.order(relation.exponents);
  if (!order) return {};
  relation.order = *order;
  return relation;
}

}  // namespace

CharacterPlaces::CharacterPlaces(const Field& field, ulong l)
    : l_(l), steps_(static_cast<ulong>(std::sqrt(static_cast<double>(l))) + 1), places_(field, character_primes_above, l) {}

CharacterPlaces::Subgroup& CharacterPlaces::subgroup(std::size_t index) {
  if (subgroups_.size() <= index) subgroups_.resize(index + 1);
  if (!subgroups_[index]) {
    const ulong q = places_[index].q;
    auto group = std::make_unique<Subgroup>();
    for (ulong base = 2; (group->generator = power_mod(base, (q - 1) / l_, q)) == 1; ++base) {
    }
    ulong power = 1;
    for (ulong i = 0; i < steps_; ++i) {
      group->baby_steps.emplace(power, i);
      power = multiply_mod(power, group->generator, q);
    }
    group->giant_step = n_invmod(power, q);
    subgroups_[index] = std::move(group);
  }
  return *subgroups_[index];
}

ulong CharacterPlaces::generator(std::size_t index) {
  return subgroup(index).generator;
}

ulong CharacterPlaces::logarithm(std::size_t index, ulong power) {
  const Subgroup& group = subgroup(index);
  const ulong q = places_[index].q;
  for (ulong i = 0; i <= steps_; ++i) {
    const auto baby = group.baby_steps.find(power);
    if (baby != group.baby_steps.end()) return (i * steps_ + baby->second) % l_;
    power = multiply_mod(power, group.giant_step, q);
  }
  throw ToolFault("a power residue lies outside its subgroup");
}

CharacterPlaces& RelationSearch::characters(std::size_t which) {
  while (by_order_.size() <= which) {
    // first_order, about order_growth times as much, and then its successors: logarithms stay cheap, and several orders
    // together show exponents of any size.
    const ulong last = by_order_.empty() ? 0 : by_order_.back()->order();
    const ulong from = by_order_.empty() ? first_order - 1 : by_order_.size() == 1 ? last * order_growth : last;
    by_order_.push_back(std::make_unique<CharacterPlaces>(field_, n_nextprime(from, 1)));
  }
  return *by_order_[which];
}

void RelationSearch::find_relations(ClassDecision* part) {
  const std::size_t columns = part->scales.size();
  std::optional<Verifier> verifier;
  Combined combined;
  std::map<std::size_t, Relation> found;
  for (std::size_t which = 0; which < most_orders; ++which) {
    CharacterPlaces& source = characters(which);
    const ulong l = source.order();
    EchelonForm form(l, columns);
    std::vector<Character> independent;
    // Primes are counted, not places: where the u_j lie in a smaller field, all places above one prime may say the same.
    ulong prime = 0;
    std::size_t primes_in_vain = 0;
    for (std::size_t i = 0; form.rank() < columns; ++i) {
      const PrimePlace& place = source.place(i);
      if (place.q != prime && primes_in_vain == spare_primes) break;
      const auto values = residues(*part, place);
      if (!values) continue;
      if (place.q != prime) ++primes_in_vain;
      prime = place.q;
      Character character{place, values->root, source.generator(i), {}};
      for (const ulong u : values->values)
        character.logs.push_back(source.logarithm(i, power_mod(u, (place.q - 1) / l, place.q)));
      if (!form.add(character.logs)) continue;
      independent.push_back(std::move(character));
      primes_in_vain = 0;
    }
    const std::vector<std::size_t> pivots = form.pivots();
    const std::vector<std::size_t> pivots_before = combined.pivots;
    combined.add(form, l, columns);
    if (combined.pivots != pivots_before) found.clear();
    if (combined.pivots != pivots) continue;
    if (!verifier && !combined.combinations.empty()) verifier.emplace(*part);
    for (const auto& [column, combination] : combined.combinations) {
      if (found.count(column) != 0) continue;
      if (auto relation = verified_relation(*verifier, columns, column, combined))
        found.emplace(column, std::move(*relation));
    }
    if (found.size() < combined.combinations.size()) continue;
    part->l = pivots.empty() ? 0 : l;
    part->pivots = pivots;
    part->characters = std::move(independent);
    for (auto& [column, relation] : found) part->relations.push_back(std::move(relation));
    return;
  }
  throw OverLimit("dehn-relations", Wrong::exponents_of_relations);
}

}  // namespace cutproof
