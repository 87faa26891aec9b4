// SPDX-License-Identifier: GPL-3.0-or-later
// Fields check what they are told when they are made: an unverified minimal polynomial makes every later comparison wrong.
#include "number/field.hpp"

#include "number/errors.hpp"
#include "number/exact_text.hpp"
#include "number/flint.hpp"
#include "number/lifting.hpp"
#include "number/number.hpp"
#include "number/real_roots.hpp"
#include "number/residues.hpp"

#include <algorithm>

namespace cutproof {

namespace {

/// The polynomial itself; ToolFault unless it is monic and irreducible over Q.
const fmpz_poly_struct* checked_irreducible(const fmpz_poly_t polynomial) {
  const bool monic = fmpz_poly_degree(polynomial) >= 1 && fmpz_is_one(fmpz_poly_lead(polynomial));
  const IntegerFactors factors(polynomial);
  if (!monic || factors.count() != 1 || factors.multiplicity(0) != 1)
    throw ToolFault("a field was given a polynomial that is not monic and irreducible");
  return polynomial;
}

}  // namespace

const Field& Field::rational() {
  // Never destroyed: numbers in static storage may be destroyed later than any other static object.
  static const Field* const field = [] {
    IntegerPolynomial polynomial;
    fmpz_poly_set_coeff_si(polynomial, 1, 1);  // the generator of Q is 0
    return new Field(polynomial);
  }();
  return *field;
}

Field::Field(const IntegerPolynomial& generator_is_zero)
    : nf_(generator_is_zero), minimal_polynomial_(generator_is_zero), enclosure_precision_(WORD_MAX) {}

Field::Field(const Field& parent, const fmpz_poly_t minimal_polynomial, int root_index,
             const fmpq_poly_t parent_generator_image, Generator adjoined, const fmpq_poly_t adjoined_value)
    : degree_(static_cast<int>(fmpz_poly_degree(checked_irreducible(minimal_polynomial)))),
      nf_(minimal_polynomial),
      parent_(&parent),
      generators_(parent.generators()),
      root_index_(root_index) {
  if (degree_ != parent.degree() * adjoined.relative_degree) throw ToolFault("a field was given a wrong relative degree");
  if (root_index < 0 || root_index >= count_real_roots(minimal_polynomial))
    throw ToolFault("a field was given a real root that its polynomial does not have");
  generators_.push_back(std::move(adjoined));
  fmpz_poly_set(minimal_polynomial_, minimal_polynomial);
  fmpq_poly_set(parent_generator_image_, parent_generator_image);

  const Number image = Number::from_polynomial(parent_generator_image_, *this);
  Number value(0L, *this);
  for (slong i = fmpz_poly_degree(parent.minimal_polynomial()); i >= 0; --i) {
    Rational coefficient;
    fmpz_poly_get_coeff_fmpz(coefficient.numerator(), parent.minimal_polynomial(), i);
    value = value * image + Number(coefficient, *this);
  }
  if (!value.is_zero()) throw ToolFault("the image of a field's generator is no root of its minimal polynomial");
  const Enclosure place = [&](arb_t ball, slong precision) { image.enclose(ball, precision); };
  if (index_of_real_root(parent.minimal_polynomial(), place) != parent.root_index())
    throw ToolFault("the image of a field's generator is another root of its minimal polynomial");

  for (const RationalPolynomial& below : parent.generator_values_) {
    generator_values_.emplace_back();
    Number::from_polynomial(below, parent).lifted_to(*this).get_polynomial(generator_values_.back());
  }
  generator_values_.emplace_back();
  fmpq_poly_set(generator_values_.back(), adjoined_value);
}

Field::~Field() = default;

SquareRootFinder& Field::square_root_finder() const {
  if (square_root_finder_ == nullptr) square_root_finder_ = std::make_unique<SquareRootFinder>(*this);
  return *square_root_finder_;
}

const fmpq_mat_struct* Field::to_monomials() const {
  if (to_monomials_ == nullptr) {
    to_monomials_ = std::make_unique<RationalMatrix>(degree_, degree_);
    std::vector<Number> monomials{Number(1L, *this)};
    for (std::size_t i = 0; i < generators_.size(); ++i) {
      const Number generator = Number::from_polynomial(generator_values_[i], *this);
      const std::size_t known = monomials.size();
      for (std::size_t j = known; j < known * static_cast<std::size_t>(generators_[i].relative_degree); ++j)
        monomials.push_back(monomials[j - known] * generator);
    }
    RationalPolynomial column;
    for (int j = 0; j < degree_; ++j) {
      monomials[static_cast<std::size_t>(j)].get_polynomial(column);
      for (int i = 0; i < degree_; ++i) fmpq_poly_get_coeff_fmpq(fmpq_mat_entry(to_monomials_->value, i, j), column, i);
    }
    if (fmpq_mat_inv(*to_monomials_, *to_monomials_) == 0)
      throw ToolFault("the monomials of a field's generators are no basis");
  }
  return *to_monomials_;
}

const std::vector<WrittenTerm>& Field::written_monomials(bool multiples) const {
  std::vector<WrittenTerm>& written = written_[multiples ? 1 : 0];
  if (written.empty())
    for (const WrittenProduct& product : written_products(*this, multiples)) written.push_back(product.term());
  return written;
}

const ResidueMap& Field::residue_map(std::size_t i) const {
  ulong prime = residue_maps_.empty() ? 1000000 : residue_maps_.back().prime;
  while (residue_maps_.size() <= i) {
    prime = n_nextprime(prime, 1);
    const std::vector<ulong> roots = simple_roots(minimal_polynomial_, prime);
    if (!roots.empty()) residue_maps_.push_back({prime, roots.front()});
  }
  return residue_maps_[i];
}

const fmpq_mat_struct* Field::integral_basis() const {
  if (integral_basis_ == nullptr) {
    integral_basis_ = std::make_unique<RationalMatrix>(degree_, degree_);
    fmpq_mat_one(*integral_basis_);
  }
  return *integral_basis_;
}

bool Field::stands_on(const Field& below) const {
  for (const Field* field = this; field != nullptr; field = field->parent_)
    if (field == &below) return true;
  return false;
}

void Field::enclose_generator(arb_t ball, slong precision) const {
  if (enclosure_precision_ < precision) {
    if (!enclose_real_root(enclosure_, minimal_polynomial_, root_index_, precision + 16))
      throw ToolFault("a field was given a real root that its polynomial does not have");
    enclosure_precision_ = precision;
  }
  arb_set(ball, enclosure_);
}

}  // namespace cutproof
