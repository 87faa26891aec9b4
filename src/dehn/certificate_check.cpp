// SPDX-License-Identifier: GPL-3.0-or-later
// Re-checks a certificate from its data. Written apart from the search, and dull on purpose: no hashing, no echelon forms,
// no projective products. What it demands is listed in docs/certificates.md.
#include "dehn/invariant.hpp"
#include "number/flint.hpp"

#include <algorithm>
#include <map>
#include <set>

namespace cutproof {

namespace {

class Fault : public std::runtime_error {
 public:
  using std::runtime_error::runtime_error;
};

void demand(bool condition, const char* what) {
  if (!condition) throw Fault(what);
}

using Wide = unsigned __int128;
ulong times_mod(ulong a, ulong b, ulong q) {
  return static_cast<ulong>(static_cast<Wide>(a) * b % q);
}
ulong raise_mod(ulong base, ulong exponent, ulong q) {
  ulong result = 1 % q;
  for (; exponent != 0; exponent >>= 1, base = times_mod(base, base, q))
    if (exponent & 1) result = times_mod(result, base, q);
  return result;
}

/// The ring homomorphism of a place whose conditions were checked.
class Reduction {
 public:
  Reduction(const Field& field, const PrimePlace& place) : q_(place.q), root_(place.root) {
    demand(q_ > 2 && n_is_prime(q_) != 0, "a modulus is not an odd prime");
    demand(root_ < q_, "a root is not reduced");
    const fmpz_poly_struct* polynomial = field.minimal_polynomial();
    const slong degree = fmpz_poly_degree(polynomial);
    demand(fmpz_fdiv_ui(polynomial->coeffs + degree, q_) != 0, "a modulus divides the leading coefficient");
    ulong value = 0, derivative = 0;
    for (slong i = degree; i >= 0; --i) {
      derivative = (times_mod(derivative, root_, q_) + value) % q_;
      value = (times_mod(value, root_, q_) + fmpz_fdiv_ui(polynomial->coeffs + i, q_)) % q_;
    }
    demand(value == 0 && derivative != 0, "a residue is no simple root of the minimal polynomial");
  }
  ulong operator()(const Number& number) const {
    RationalPolynomial polynomial;
    number.get_polynomial(polynomial);
    const ulong denominator = fmpz_fdiv_ui(fmpq_poly_denref(polynomial.value), q_);
    demand(denominator != 0, "a number has no residue");
    ulong value = 0;
    for (slong i = fmpq_poly_length(polynomial) - 1; i >= 0; --i)
      value = (times_mod(value, root_, q_) + fmpz_fdiv_ui(fmpq_poly_numref(polynomial.value) + i, q_)) % q_;
    return times_mod(value, raise_mod(denominator, q_ - 2, q_), q_);
  }

 private:
  ulong q_, root_;
};

void check_faces_close(const DehnInvariant& invariant) {
  // Around each outward direction the boundary edges add up to nothing. A direction is known by the vector in it whose first
  // component that is not zero is 1 or -1.
  std::map<Vector3, Vector3> sums;
  const Field& field = *invariant.field;
  const auto direction = [](const Vector3& normal) {
    const Number& first = !normal.x.is_zero() ? normal.x : !normal.y.is_zero() ? normal.y : normal.z;
    demand(!first.is_zero(), "a normal has no length");
    return divide(Number(static_cast<long>(first.sign()), first.field()), first) * normal;
  };
  const auto add = [&](const Vector3& normal, const Vector3& edge, int times) {
    const Vector3 step = Number(static_cast<long>(times), field) * edge;
    const auto [place, fresh] = sums.emplace(direction(normal), step);
    if (!fresh) place->second = place->second + step;
  };
  for (const CountedEdge& each : invariant.edges) {
    add(each.term.first, each.term.edge, each.times);
    add(each.term.second, each.term.edge, -each.times);
  }
  for (const auto& [normal, sum] : sums) demand(is_zero(sum), "the edges around a face do not close");
}

/// -p/lambda and T of an edge; the coefficient is zero for a right angle.
AngleTerm term_of(const EdgeTerm& edge) {
  const Number squared_length = dot(edge.edge, edge.edge), p = dot(edge.first, edge.second);
  demand(!squared_length.is_zero(), "an edge has no length");
  const Vector3 across = cross(edge.first, edge.second);
  const Number lambda = divide(dot(across, edge.edge), squared_length);
  demand(!lambda.is_zero() && across == lambda * edge.edge, "an edge does not lie in both of its faces, or is flat");
  if (p.is_zero()) return {Number(1L, p.field()), Number(0L, p.field())};
  return {divide(square(lambda) * squared_length, square(p)), -divide(p, lambda)};
}

void check_angles(const DehnInvariant& invariant) {
  std::map<Number, std::vector<Number>> sums;
  for (const CountedEdge& each : invariant.edges) {
    const AngleTerm term = term_of(each.term);
    if (term.coefficient.is_zero()) continue;
    sums[term.tangent_squared].push_back(Number(static_cast<long>(each.times), *invariant.field) * term.coefficient);
  }
  for (const AngleTerm& term : invariant.decision.angles) {
    demand(term.tangent_squared.sign() > 0, "a squared tangent is not positive");
    sums[term.tangent_squared].push_back(-term.coefficient);
  }
  for (auto& [tangent_squared, shares] : sums)
    demand(balanced_sum(std::move(shares)).is_zero(), "the coefficient of an angle is not what the edges give");
}

void check_classes(const Decision& decision) {
  std::set<std::size_t> seen;
  for (const ClassDecision& part : decision.classes) {
    demand(part.radicand.sign() > 0, "a radicand is not positive");
    demand(!part.angles.empty() && part.angles.size() == part.scales.size(), "a class without angles or scales");
    for (std::size_t i = 0; i < part.angles.size(); ++i) {
      demand(part.angles[i] < decision.angles.size() && seen.insert(part.angles[i]).second, "an angle is in two classes");
      demand(part.scales[i].sign() > 0, "a scale is not positive");
      demand(square(part.scales[i]) * part.radicand == decision.angles[part.angles[i]].tangent_squared,
             "an angle is not in its square class");
    }
  }
  demand(seen.size() == decision.angles.size(), "an angle is in no class");
}

void check_separations(const DehnInvariant& invariant) {
  const auto& classes = invariant.decision.classes;
  std::set<std::vector<int>> rows;
  std::vector<std::vector<int>> symbols(classes.size());
  for (const SquareSymbols& each : invariant.decision.separations) {
    const Reduction reduce(*invariant.field, each.place);
    demand(each.symbols.size() == classes.size(), "a place does not judge every class");
    for (std::size_t i = 0; i < classes.size(); ++i) {
      const ulong power = raise_mod(reduce(classes[i].radicand), (each.place.q - 1) / 2, each.place.q);
      demand(power == (each.symbols[i] == 1 ? 1 : each.place.q - 1) && std::abs(each.symbols[i]) == 1,
             "a quadratic residue symbol is wrong");
      symbols[i].push_back(each.symbols[i]);
    }
  }
  for (const auto& row : symbols) demand(rows.insert(row).second, "two square classes are not told apart");
}

void check_independence(const ClassDecision& part, const Field& field) {
  const ulong l = part.l;
  const std::size_t rank = part.pivots.size();
  demand(part.characters.size() == rank, "not as many characters as pivots");
  if (rank == 0) return demand(l == 0, "an order of characters where there are none");
  // A prime above [L : Q] + 1 divides no order of a root of unity in L.
  demand(n_is_prime(l) != 0 && l > 2 * static_cast<ulong>(field.degree()) + 1, "the characters' order is no large prime");
  nmod_mat_t matrix;
  nmod_mat_init(matrix, static_cast<slong>(rank), static_cast<slong>(rank), l);
  try {
    for (std::size_t row = 0; row < rank; ++row) {
      const Character& character = part.characters[row];
      const ulong q = character.place.q, root = character.root, h = character.generator;
      const Reduction reduce(field, character.place);
      demand(q % l == 1, "a modulus is not 1 modulo the characters' order");
      demand(character.logs.size() == part.scales.size(), "a character without a logarithm for each angle");
      demand(root < q && (times_mod(root, root, q) + reduce(part.radicand)) % q == 0 && root != 0, "a root of -r is wrong");
      demand(h < q && h != 1 && raise_mod(h, l, q) == 1, "a generator has another order");
      for (std::size_t j = 0; j < part.scales.size(); ++j) {
        const ulong imaginary = times_mod(reduce(part.scales[j]), root, q);
        const ulong top = (1 + imaginary) % q, bottom = (1 + q - imaginary) % q;
        demand(top != 0 && bottom != 0, "an angle has no residue");
        const ulong u = times_mod(top, raise_mod(bottom, q - 2, q), q);
        demand(character.logs[j] < l && raise_mod(u, (q - 1) / l, q) == raise_mod(h, character.logs[j], q),
               "a logarithm is wrong");
      }
      for (std::size_t i = 0; i < rank; ++i) {
        demand(part.pivots[i] < part.scales.size(), "a pivot is no angle");
        nmod_mat_entry(matrix, row, i) = character.logs[part.pivots[i]];
      }
    }
    demand(nmod_mat_rank(matrix) == static_cast<slong>(rank), "the pivots are not shown to be independent");
  } catch (...) {
    nmod_mat_clear(matrix);
    throw;
  }
  nmod_mat_clear(matrix);
}

/// An element a + b*sqrt(-r); in relations with a^2 + r*b^2 = 1.
struct UnitElement {
  Number a, b;
};
UnitElement multiply(const UnitElement& u, const UnitElement& v, const Number& r) {
  return {u.a * v.a - r * (u.b * v.b), u.a * v.b + u.b * v.a};
}
UnitElement raise(UnitElement base, ulong exponent, const Number& r) {
  UnitElement result{Number(1L, r.field()), Number(0L, r.field())};
  for (; exponent != 0; exponent >>= 1) {
    if (exponent & 1) result = multiply(result, base, r);
    if (exponent > 1) base = multiply(base, base, r);
  }
  return result;
}

/// The product of the factors' powers. Of a^m b^n with m >= n > 0, m = k n + rest, is made (a^k b)^n a^rest: where the
/// product is a root of unity, what is multiplied stays short however long the exponents are.
UnitElement product(std::vector<std::pair<ulong, UnitElement>> factors, const Number& r) {
  const auto by_exponent = [](const auto& a, const auto& b) { return a.first < b.first; };
  for (;;) {
    std::stable_sort(factors.begin(), factors.end(), by_exponent);
    auto& [largest, a] = factors.back();
    if (factors.size() == 1) return raise(a, largest, r);
    auto& [exponent, b] = *(factors.end() - 2);
    b = multiply(raise(a, largest / exponent, r), b, r);
    largest %= exponent;
    if (largest == 0) factors.pop_back();
  }
}

void check_relations(const ClassDecision& part) {
  const Number one(1L, part.radicand.field());
  const std::set<std::size_t> pivots(part.pivots.begin(), part.pivots.end());
  demand(pivots.size() == part.pivots.size(), "a pivot stands twice");
  std::set<std::size_t> expressed;
  for (const Relation& relation : part.relations) {
    demand(relation.exponents.size() == part.scales.size(), "a relation without an exponent for each angle");
    demand(relation.dependent < part.scales.size() && pivots.count(relation.dependent) == 0 &&
               expressed.insert(relation.dependent).second,
           "a relation for a pivot, or two for one angle");
    std::vector<std::pair<ulong, UnitElement>> factors;
    for (std::size_t j = 0; j < part.scales.size(); ++j) {
      const long exponent = relation.exponents[j];
      if (exponent == 0) continue;
      demand(j == relation.dependent || pivots.count(j) != 0, "a relation uses an angle that is no pivot");
      const Number square_part = part.radicand * square(part.scales[j]);
      const Number inverse_norm = divide(one, one + square_part);
      UnitElement u{(one - square_part) * inverse_norm, (part.scales[j] + part.scales[j]) * inverse_norm};
      if (exponent < 0) u.b = -u.b;
      factors.push_back({exponent < 0 ? -static_cast<ulong>(exponent) : static_cast<ulong>(exponent), std::move(u)});
    }
    demand(relation.exponents[relation.dependent] != 0 && relation.order > 0, "a relation that says nothing");
    const UnitElement value = raise(product(std::move(factors), part.radicand), relation.order, part.radicand);
    demand(value.a == one && value.b.is_zero(), "a relation does not hold");
  }
  demand(pivots.size() + expressed.size() == part.scales.size(), "an angle is neither a pivot nor expressed in pivots");
}

bool check_coefficients(const ClassDecision& part, const std::vector<AngleTerm>& angles) {
  bool zero = true;
  demand(part.coefficients.size() == part.pivots.size(), "not as many coefficients as pivots");
  for (std::size_t i = 0; i < part.pivots.size(); ++i) {
    const std::size_t pivot = part.pivots[i];
    Number rest = angles[part.angles[pivot]].coefficient * part.scales[pivot] - part.coefficients[i];
    for (const Relation& relation : part.relations) {
      const std::size_t j = relation.dependent;
      const Number ratio = Number::fraction(relation.exponents[pivot], relation.exponents[j]);
      rest -= ratio.lifted_to(rest.field()) * angles[part.angles[j]].coefficient * part.scales[j];
    }
    demand(rest.is_zero(), "a pivot's coefficient is wrong");
    zero = zero && part.coefficients[i].is_zero();
  }
  return zero;
}

/// A direction X + Y*sqrt(-r) whose argument is the sum of factor * arctan(sqrt(T_pivot)).
UnitElement direction_of(const GatheredTerm& term, const ClassDecision& part) {
  const Number one(1L, part.radicand.field());
  UnitElement sum{one, Number(0L, part.radicand.field())};
  for (std::size_t i = 0; i < term.pivots.size(); ++i) {
    const Number& scale = part.scales[term.pivots[i]];
    const long factor = term.factors[i];
    sum = multiply(sum, raise({one, factor < 0 ? -scale : scale}, static_cast<ulong>(std::labs(factor)), part.radicand),
                   part.radicand);
  }
  return sum;
}

void check_sums(const DehnInvariant& invariant) {
  std::set<std::pair<std::size_t, std::size_t>> shown;
  std::size_t wanted = 0;
  for (const ClassDecision& part : invariant.decision.classes)
    for (const Number& coefficient : part.coefficients) wanted += coefficient.is_zero() ? 0 : 1;
  for (const GatheredTerm& term : invariant.sums) {
    demand(
        term.part < invariant.decision.classes.size() && !term.pivots.empty() && term.pivots.size() == term.factors.size(),
        "a sum of angles of no class, or without a factor for each of them");
    const ClassDecision& part = invariant.decision.classes[term.part];
    for (std::size_t i = 0; i < term.pivots.size(); ++i) {
      const auto pivot = std::find(part.pivots.begin(), part.pivots.end(), term.pivots[i]);
      demand(pivot != part.pivots.end() && shown.insert({term.part, term.pivots[i]}).second,
             "a sum has an angle that is no pivot, or one that another sum has");
      const Number& coefficient = part.coefficients[static_cast<std::size_t>(pivot - part.pivots.begin())];
      demand(!coefficient.is_zero() && coefficient == Number(term.factors[i]) * term.coefficient,
             "a pivot's coefficient is not its factor times that of its sum");
    }
    const UnitElement sum = direction_of(term, part);
    // The angle itself, or the negative of its complement: right angles do not count.
    const Number x = square(sum.a), y = part.radicand * square(sum.b);
    demand(!x.is_zero() && !y.is_zero() &&
               ((sum.a * sum.b).sign() > 0 ? term.tangent_squared * x == y : term.tangent_squared * y == x),
           "a sum of angles is another one");
  }
  demand(shown.size() == wanted, "a pivot is in no sum");
}

}  // namespace

std::string fault_in_certificate(const DehnInvariant& invariant) {
  try {
    check_faces_close(invariant);
    check_angles(invariant);
    check_classes(invariant.decision);
    check_separations(invariant);
    bool zero = true;
    for (const ClassDecision& part : invariant.decision.classes) {
      check_independence(part, *invariant.field);
      check_relations(part);
      zero = check_coefficients(part, invariant.decision.angles) && zero;
    }
    check_sums(invariant);
    demand(zero == invariant.decision.zero, "the answer is not what the coefficients say");
  } catch (const Fault& fault) {
    return fault.what();
  }
  return "";
}

}  // namespace cutproof
