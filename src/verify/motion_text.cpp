// SPDX-License-Identifier: GPL-3.0-or-later
#include "verify/motion_text.hpp"

#include "dehn/torsion.hpp"
#include "number/print.hpp"
#include "solid/screw.hpp"
#include "verify/text.hpp"

#include <map>
#include <optional>

namespace cutproof {
namespace {

std::string angle_text(const Angle& angle, const std::optional<Number>& of_pi) {
  constexpr std::size_t readable = 40;
  std::string exact = to_exact(of_pi ? pi_angle(*of_pi) : angle);
  return exact.size() <= readable ? exact : "about " + to_decimal_degrees(angle, 8) + " deg";
}

// The length factor * |direction|, which may lie outside the field.
RadicalSum length_along(const Number& factor, const Vector3& direction) {
  RadicalSum length;
  length.add(factor, dot(direction, direction));
  return length;
}

std::string length_text(const RadicalSum& length) {
  constexpr std::size_t readable = 24;
  const std::string exact = to_exact(length);
  return exact.size() <= readable ? exact : "about " + to_decimal(length, 8);
}

std::string turn_text(const Axis& axis, const std::string& angle) {
  return "turned " + angle + " about the line through " + short_text(axis.point) + " along " + short_text(axis.direction);
}

std::string plane_text(const Axis& axis) {
  return "the plane through " + short_text(axis.point) + " normal to " + short_text(axis.direction);
}

std::string words_of(const TurnedReflection& motion) {
  const std::optional<Number> of_pi = multiple_of_pi(motion.angle);
  if (of_pi && *of_pi == Number(1)) return "mirrored in the point " + short_text(motion.axis.point);
  if (!of_pi || !of_pi->is_zero())
    return turn_text(motion.axis, angle_text(motion.angle, of_pi)) +
           " and mirrored in the plane through that point normal to it";
  std::string words = "mirrored in " + plane_text(motion.axis);
  if (!is_zero(motion.shift)) words += ", shifted by " + short_text(motion.shift);
  return words;
}

}  // namespace

MotionResult motion_result(const Motion& motion) {
  MotionResult result;
  result.proper = motion.is_proper();
  for (std::size_t i = 0; i < 3; ++i) result.rows[i] = point_text(motion.rows()[i]);
  result.shift = point_text(motion.shift());
  if (!result.proper) {
    result.words = words_of(turned_reflection_of(motion));
    return result;
  }
  const Screw screw = screw_of(motion);
  const std::optional<Number> of_pi = multiple_of_pi(screw.angle);
  const RadicalSum along = length_along(screw.slide, screw.axis.direction);
  result.screw = ScrewResult{point_text(screw.axis.point), point_text(screw.axis.direction), to_decimal_degrees(screw.angle),
                             of_pi ? to_exact(*of_pi) : "", to_decimal(along)};
  if (motion.is_identity()) {
    result.words = "stays";
  } else if (of_pi && of_pi->is_zero()) {
    result.words = "shifted by " + short_text(motion.shift());
  } else {
    result.words = turn_text(screw.axis, angle_text(screw.angle, of_pi));
    if (!along.is_zero()) result.words += ", shifted along it by " + length_text(along);
  }
  return result;
}

std::string first_way_words(const Motion& first) {
  return first.rows() == Motion().rows() ? "as it lies" : motion_result(first).words;
}

std::string other_way_words(const Motion& first, const Motion& other, const std::string& middle, const Vector3& point,
                            bool flat) {
  const Motion then = first.inverse().then(other);
  const std::string after = first.rows() == Motion().rows() ? "" : " after that";
  if (!then.is_proper()) return words_of(turned_reflection_of(then)) + after;
  static const std::map<std::string, std::string> parts = {{"1", "half a turn"},
                                                           {"2/3", "a third of a turn"},
                                                           {"1/2", "a quarter turn"},
                                                           {"2/5", "a fifth of a turn"},
                                                           {"1/3", "a sixth of a turn"}};
  const Screw screw = screw_of(then);
  const std::optional<Number> of_pi = multiple_of_pi(screw.angle);
  const auto known = of_pi ? parts.find(to_exact(*of_pi)) : parts.end();
  const bool half = known != parts.end() && known->first == "1";
  return (known != parts.end() ? known->second : "a turn by " + angle_text(screw.angle, of_pi)) + " about " + middle + " " +
         short_text(point) +
         (half && flat ? "" : (half ? ", along " : ", right-handed along ") + short_text(screw.axis.direction)) + after;
}

}  // namespace cutproof
