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

/// Of turns that differ by their sense in the plane: half a turn has none.
std::string sense_text(const Axis& axis, bool half) {
  return half ? "" : axis.direction.z.sign() < 0 ? " clockwise" : " counterclockwise";
}

std::string turn_text(const Axis& axis, const std::string& angle) {
  return "turned " + angle + " about the line through " + short_text(axis.point) + " along " + short_text(axis.direction);
}

std::string plane_text(const Axis& axis) {
  return "the plane through " + short_text(axis.point) + " normal to " + short_text(axis.direction);
}

std::string words_of(const TurnedReflection& motion, int dimension) {
  if (dimension == 2) {
    const std::string line =
        "the line through " + short_text(motion.axis.point, 2) + " normal to " + short_text(motion.axis.direction, 2);
    return "mirrored in " + line + (is_zero(motion.shift) ? "" : ", shifted by " + short_text(motion.shift, 2));
  }
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

MotionResult motion_result(const Motion& motion, int dimension) {
  const bool flat = dimension == 2;
  MotionResult result;
  result.proper = motion.is_proper();
  for (std::size_t i = 0; i < (flat ? 2 : 3); ++i) result.rows[i] = point_text(motion.rows()[i], dimension);
  result.shift = point_text(motion.shift(), dimension);
  if (!result.proper) {
    result.words = words_of(turned_reflection_of(motion), dimension);
    return result;
  }
  const Screw screw = screw_of(motion);
  const std::optional<Number> of_pi = multiple_of_pi(screw.angle);
  const RadicalSum along = length_along(screw.slide, screw.axis.direction);
  const bool turns = !of_pi || !of_pi->is_zero();
  const bool half = of_pi && *of_pi == Number(1);
  // In the plane a turn is clockwise or not, and has no axis.
  const std::string sign = flat && turns && !half && screw.axis.direction.z.sign() < 0 ? "-" : "";
  const bool has_direction = !flat || screw.axis.direction.z.is_zero();
  result.screw = ScrewResult{
      point_text(screw.axis.point, dimension), has_direction ? point_text(screw.axis.direction, dimension) : ExactPoint(),
      sign + to_decimal_degrees(screw.angle), of_pi ? sign + to_exact(*of_pi) : "", to_decimal(along)};
  if (motion.is_identity()) {
    result.words = "stays";
  } else if (of_pi && of_pi->is_zero()) {
    result.words = "shifted by " + short_text(motion.shift(), dimension);
  } else if (flat) {
    result.words = "turned " + angle_text(screw.angle, of_pi) + sense_text(screw.axis, half) + " about " +
                   short_text(screw.axis.point, 2);
  } else {
    result.words = turn_text(screw.axis, angle_text(screw.angle, of_pi));
    if (!along.is_zero()) result.words += ", shifted along it by " + length_text(along);
  }
  return result;
}

std::string first_way_words(const Motion& first, int dimension) {
  return first.rows() == Motion().rows() ? "as it lies" : motion_result(first, dimension).words;
}

std::string other_way_words(const Motion& first, const Motion& other, const std::string& middle, const Vector3& point,
                            bool flat, int dimension) {
  const Motion then = first.inverse().then(other);
  const std::string after = first.rows() == Motion().rows() ? "" : " after that";
  if (!then.is_proper()) return words_of(turned_reflection_of(then), dimension) + after;
  static const std::map<std::string, std::string> parts = {{"1", "half a turn"},
                                                           {"2/3", "a third of a turn"},
                                                           {"1/2", "a quarter turn"},
                                                           {"2/5", "a fifth of a turn"},
                                                           {"1/3", "a sixth of a turn"}};
  const Screw screw = screw_of(then);
  const std::optional<Number> of_pi = multiple_of_pi(screw.angle);
  const auto known = of_pi ? parts.find(to_exact(*of_pi)) : parts.end();
  const bool half = known != parts.end() && known->first == "1";
  const std::string turn = known != parts.end() ? known->second : "a turn by " + angle_text(screw.angle, of_pi);
  if (dimension == 2) return turn + sense_text(screw.axis, half) + " about " + middle + " " + short_text(point, 2) + after;
  return turn + " about " + middle + " " + short_text(point) +
         (half && flat ? "" : (half ? ", along " : ", right-handed along ") + short_text(screw.axis.direction)) + after;
}

}  // namespace cutproof
