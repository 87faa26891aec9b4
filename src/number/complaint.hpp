// SPDX-License-Identifier: GPL-3.0-or-later
// What is wrong with an input, or which limit was reached, as a code and values. The sentences stand in
// plan/complaints.cpp.
#pragma once

#include "number/angle.hpp"
#include "number/errors.hpp"
#include "number/number.hpp"

#include <string>
#include <utility>
#include <variant>
#include <vector>

namespace cutproof {

/// One value for each thing that can be wrong; behind it, the values that come with it.
enum class Wrong {
  division_by_zero,
  angle_of_zero_vector,
  cosine_out_of_range,
  sine_out_of_range,
  even_root_of_negative,
  zero_to_the_zero,
  zero_to_a_negative_power,
  tangent_of_right_angle,
  constant_polynomial,
  no_real_root,
  equally_near_roots,    ///< the number that they are near to
  decimal_bits,          ///< the text, the limit
  number_bits,           ///< the bits, the limit
  power_bits,            ///< the limit
  cosine_degree,         ///< the function, the angle, the degree, the limit
  cosine_degree_beyond,  ///< the function, the angle, the limit: a degree over 10^17
  multiple_degree,       ///< the multiple of an angle
  root_degree,           ///< the root's degree, the limit
  exponent_degree,
  field_degree,          ///< the text, the degree, its factor, the limit; then each generator's text and relative degree
  field_degree_at_most,  ///< the same, where the factor is only bounded
  primes_for_relations,
  exponents_of_relations,
  multiples_of_angle,
};

/// An integer, an exact number, an exact angle, or a word that the input contains.
/// Numbers and angles in it lie over Q, whose field lives as long as the program: a complaint may outlive its plan's field.
/// Numbers of other fields come as their exact text.
using ComplaintValue = std::variant<long, Number, Angle, std::string>;

struct Complaint {
  Wrong wrong;
  std::vector<ComplaintValue> values;
};

/// InvalidInput as data: its what() is no sentence.
class Refused : public InvalidInput {
 public:
  explicit Refused(Wrong wrong, std::vector<ComplaintValue> values = {})
      : InvalidInput("invalid input, as a code"), complaint_{wrong, std::move(values)} {}
  const Complaint& complaint() const { return complaint_; }

 private:
  Complaint complaint_;
};

/// LimitReached as data: its what() is no sentence.
class OverLimit : public LimitReached {
 public:
  OverLimit(std::string limit, Wrong wrong, std::vector<ComplaintValue> values = {})
      : LimitReached(std::move(limit), "a limit reached, as a code"), complaint_{wrong, std::move(values)} {}
  const Complaint& complaint() const { return complaint_; }

 private:
  Complaint complaint_;
};

}  // namespace cutproof
