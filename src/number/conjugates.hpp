// SPDX-License-Identifier: GPL-3.0-or-later
// The complex embeddings of a field K, and above each of them the roots of a polynomial over K: enough to write down norms,
// and elements of K from their conjugates. What is read from balls here is proved by integrality (a ball shorter than 1
// holds at most one integer), never by being near.
#pragma once

#include "number/polynomial.hpp"

#include <optional>
#include <vector>

namespace cutproof {

class Conjugates {
 public:
  /// Of the field of a monic squarefree polynomial whose roots are algebraic integers. `precision`: bits of the balls, at
  /// least; more are taken until the roots can be told apart. ToolFault when they cannot be with 2^17 bits.
  Conjugates(const Polynomial& monic, slong precision);

  slong embeddings() const { return generators_.length; }
  /// Roots above each embedding.
  slong above() const { return above_; }
  slong precision() const { return precision_; }
  acb_srcptr generator(slong embedding) const { return generators_[embedding]; }
  acb_srcptr root(slong embedding, slong j) const { return roots_[embedding * above_ + j]; }
  /// The embedding that the field's numbers stand for.
  slong own() const { return field_.root_index(); }

  /// The image of a number of the field.
  void enclose(acb_t ball, const Number& number, slong embedding) const;
  /// The product of x - (root + k * generator) over all embeddings and roots; false when the balls are too wide.
  bool norm(fmpz_poly_t result, long k) const;
  /// The algebraic integer of the field with these conjugates; nothing when the balls are too wide.
  std::optional<Number> integral_number(const ComplexBalls& conjugates) const;

 private:
  bool separate(const Polynomial& monic);

  const Field& field_;
  slong above_, precision_;
  ComplexBalls generators_, roots_;
};

}  // namespace cutproof
