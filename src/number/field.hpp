// SPDX-License-Identifier: GPL-3.0-or-later
// A real embedded number field K = Q(alpha): an irreducible polynomial and which of its real roots alpha is.
//
// Fields form towers: each field but Q extends a parent and knows its parent's generator as an element of its own, so a
// number of any field of one tower can be lifted to any field above it. Antic does the arithmetic; Arb encloses alpha.
#pragma once

#include "number/flint.hpp"
#include "number/written_term.hpp"

#include <memory>
#include <string>
#include <vector>

namespace cutproof {

class Number;
class SquareRootFinder;

/// One adjoined generator of a tower, as it is written in a plan (`sqrt(2)`), and its degree over the field below it. Where
/// that is known: that it is radicand^(1/root) of a positive integer (root > 0), or cos(half_turns*pi) (half_turns not 0).
struct Generator {
  std::string text;
  int relative_degree = 1;
  unsigned long root = 0;
  Integer radicand = {};
  Rational half_turns = {};
  bool is_cosine() const { return !fmpq_is_zero(half_turns); }
};

/// A homomorphism from the numbers of a field whose denominators the prime does not divide to the integers modulo the prime:
/// the field's generator goes to `generator_residue`, a simple root of its minimal polynomial.
struct ResidueMap {
  ulong prime, generator_residue;
};

/// A real embedded number field. Not copyable: elements point to it, and must not outlive it.
/// Not safe across threads: comparing elements refines the enclosure of alpha that is kept here.
class Field {
 public:
  /// The field Q (degree 1); every tower stands on it. Lives as long as the program.
  static const Field& rational();

  /// The field of the given root of `minimal_polynomial`: the `root_index`-th of its real roots in increasing order, from 0.
  /// `parent_generator_image`: the parent's generator as a polynomial in this field's; `adjoined_value`: the number that
  /// `adjoined` writes.
  /// Throws ToolFault unless the polynomial is monic, irreducible over Q and has such a root, and the image is the parent's
  /// generator (a root of its minimal polynomial, the same one of its real roots).
  Field(const Field& parent, const fmpz_poly_t minimal_polynomial, int root_index, const fmpq_poly_t parent_generator_image,
        Generator adjoined, const fmpq_poly_t adjoined_value);
  ~Field();
  Field(const Field&) = delete;
  Field& operator=(const Field&) = delete;

  int degree() const { return degree_; }
  const nf_struct* nf() const { return nf_.value; }
  /// Null for Q.
  const Field* parent() const { return parent_; }
  /// The generators adjoined from Q up to this field, lowest first.
  const std::vector<Generator>& generators() const { return generators_; }
  const fmpz_poly_struct* minimal_polynomial() const { return minimal_polynomial_; }
  int root_index() const { return root_index_; }
  const fmpq_poly_struct* parent_generator_image() const { return parent_generator_image_; }

  /// The number that the i-th entry of `generators()` writes, as a polynomial in this field's generator.
  const fmpq_poly_struct* generator_value(std::size_t i) const { return generator_values_[i]; }
  /// The matrix that turns coefficients in powers of the generator (a column) into coefficients in the monomials of the
  /// adjoined generators; the exponent of the first one runs fastest. By the tower law these monomials are a basis.
  const fmpq_mat_struct* to_monomials() const;

  /// These monomials as people write them, in the same order. With `multiples` the cosine of the k-fold angle takes the
  /// place of a generating cosine's k-th power.
  const std::vector<WrittenTerm>& written_monomials(bool multiples) const;

  static constexpr std::size_t residue_map_count = 16;
  /// One of sixteen maps to different primes below 2^32, the same one each time.
  const ResidueMap& residue_map(std::size_t i) const;

  /// A basis of an order of the field (a ring of algebraic integers, free of rank `degree`), short under the sum of squared
  /// absolute values over all embeddings: coefficients in powers of the generator, an element a column. Where none was
  /// given, the powers themselves. How short generators further up are depends on it, and nothing else.
  const fmpq_mat_struct* integral_basis() const;
  void set_integral_basis(std::unique_ptr<RationalMatrix> basis) { integral_basis_ = std::move(basis); }

  /// What finds square roots in this field; made when it is first asked for.
  SquareRootFinder& square_root_finder() const;

  /// True iff `below` is this field or one that this field stands on.
  bool stands_on(const Field& below) const;

  /// Encloses alpha in a ball of radius at most about 2^-precision * max(1, |alpha|).
  void enclose_generator(arb_t ball, slong precision) const;

 private:
  explicit Field(const IntegerPolynomial& generator_is_zero);  // Q
  int degree_ = 1;
  NumberFieldData nf_;
  const Field* parent_ = nullptr;
  std::vector<Generator> generators_;
  IntegerPolynomial minimal_polynomial_;
  int root_index_ = 0;
  RationalPolynomial parent_generator_image_;
  std::vector<RationalPolynomial> generator_values_;
  mutable std::unique_ptr<RationalMatrix> to_monomials_, integral_basis_;
  mutable std::unique_ptr<SquareRootFinder> square_root_finder_;
  mutable std::vector<WrittenTerm> written_[2];
  mutable std::vector<ResidueMap> residue_maps_;
  mutable Ball enclosure_;
  mutable slong enclosure_precision_ = 0;
};

}  // namespace cutproof
