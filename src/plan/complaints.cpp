// SPDX-License-Identifier: GPL-3.0-or-later
#include "plan/complaints.hpp"

#include "number/print.hpp"
#include "number/tower.hpp"

#include <cstddef>

namespace cutproof {

namespace {

const char* const smaller_exponent = "is the exponent meant to be smaller? --max-bits raises the limit";

/// A complaint's values as text.
class Values {
 public:
  explicit Values(const Complaint& complaint) : values_(complaint.values) {}
  std::size_t size() const { return values_.size(); }
  long integer(std::size_t i) const { return std::get<long>(values_.at(i)); }
  const Angle& angle(std::size_t i) const { return std::get<Angle>(values_.at(i)); }
  std::string operator[](std::size_t i) const {
    if (const long* whole = std::get_if<long>(&values_.at(i))) return std::to_string(*whole);
    if (const Number* exact = std::get_if<Number>(&values_.at(i))) return to_exact(*exact);
    if (const Angle* angle = std::get_if<Angle>(&values_.at(i))) return to_exact(*angle);
    return std::get<std::string>(values_.at(i));
  }

 private:
  const std::vector<ComplaintValue>& values_;
};

std::string adjoined_so_far(const Values& values, std::size_t first) {
  if (values.size() == first) return "nothing was adjoined before";
  std::string text = "adjoined before:";
  for (std::size_t i = first; i < values.size(); i += 2)
    text += (i == first ? " " : ", ") + values[i] + " (times " + values[i + 1] + ")";
  return text;
}

ToldComplaint field_too_large(const Values& values, const std::string& factor) {
  return {
      "`" + values[0] + "` needs a number field of too high a degree: it multiplies the degree " + values[1] + " by " +
          factor + ", and the limit is " + values[3] + "; " + adjoined_so_far(values, 4),
      "is one root too many, or one number mistyped? plans rarely need more than degree 16; --max-degree raises the limit"};
}

ToldComplaint cosine_too_high(const Values& values, const std::string& degree, std::size_t limit) {
  return {"the " + values[0] + " of " + values[1] + " has degree " + degree + " over the rational numbers; the limit is " +
              values[limit],
          likely_intention(values.angle(1), static_cast<int>(values.integer(limit)))};
}

std::string shortened(const std::string& text) {
  return "`" + text.substr(0, 40) + (text.size() > 40 ? "...`" : "`");
}

}  // namespace

ToldComplaint told(const Complaint& complaint) {
  const Values values(complaint);
  switch (complaint.wrong) {  // no default: the compiler names a code without a sentence
    case Wrong::division_by_zero:
      return {"division by zero", ""};
    case Wrong::angle_of_zero_vector:
      return {"an angle with a zero vector has no meaning", ""};
    case Wrong::cosine_out_of_range:
      return {"no angle has this cosine: it is not between -1 and 1", ""};
    case Wrong::sine_out_of_range:
      return {"no angle has this sine: it is not between -1 and 1", ""};
    case Wrong::even_root_of_negative:
      return {"an even root of a negative number is no real number", ""};
    case Wrong::zero_to_the_zero:
      return {"0^0 has no meaning", ""};
    case Wrong::zero_to_a_negative_power:
      return {"0 to a negative power is a division by zero", ""};
    case Wrong::tangent_of_right_angle:
      return {"the tangent of a right angle has no meaning", ""};
    case Wrong::constant_polynomial:
      return {"`root` needs a polynomial in x that is not constant", ""};
    case Wrong::no_real_root:
      return {"this polynomial has no real root", ""};
    case Wrong::equally_near_roots:
      return {"two real roots are equally near to " + values[0], "write a number nearer to the root that you mean"};
    case Wrong::decimal_bits:
      return {"the number " + shortened(values[0]) + " has more bits than the limit of " + values[1], smaller_exponent};
    case Wrong::number_bits:
      return {"a number here has " + values[0] + " bits; the limit is " + values[1], ""};
    case Wrong::power_bits:
      return {"this power would have more than " + values[0] + " bits", smaller_exponent};
    case Wrong::cosine_degree:
      return cosine_too_high(values, values[2], 3);
    case Wrong::cosine_degree_beyond:
      return cosine_too_high(values, "over 10^17", 2);
    case Wrong::multiple_degree:
      return {"a multiple " + values[0] + " of an angle has a cosine of too high a degree", ""};
    case Wrong::root_degree:
      return {"a root of degree " + values[0] + " is too high for the degree limit " + values[1], ""};
    case Wrong::exponent_degree:
      return {"the exponent's denominator asks for a root of too high a degree", ""};
    case Wrong::field_degree:
      return field_too_large(values, values[2]);
    case Wrong::field_degree_at_most:
      return field_too_large(values, "up to " + values[2]);
    case Wrong::primes_for_relations:
      return {"the search for relations between angles ran out of primes", ""};
    case Wrong::exponents_of_relations:
      return {"a rational relation between dihedral angles has exponents of more than 18 digits", ""};
    case Wrong::multiples_of_angle:
      return {"the multiples of an angle are too large", ""};
  }
  throw ToolFault("a complaint without a code");
}

ToldComplaint told(const std::exception& error) {
  if (const auto* refused = dynamic_cast<const Refused*>(&error)) return told(refused->complaint());
  if (const auto* over = dynamic_cast<const OverLimit*>(&error)) return told(over->complaint());
  if (const auto* invalid = dynamic_cast<const InvalidInput*>(&error)) return {invalid->what(), invalid->hint()};
  if (const auto* limit = dynamic_cast<const LimitReached*>(&error)) return {limit->what(), limit->hint()};
  return {error.what(), ""};
}

}  // namespace cutproof
