// SPDX-License-Identifier: GPL-3.0-or-later
#include "report/brief.hpp"

#include "number/errors.hpp"
#include "plan/evaluate.hpp"
#include "plan/no_names.hpp"

#include <algorithm>
#include <exception>
#include <new>
#include <optional>

namespace cutproof {
namespace {

constexpr std::size_t short_number = 20;  // characters
constexpr std::size_t places = 4;

/// How the size of the value lies to that of its decimal, which has the same sign: 1 where it is larger, 0 where it is the
/// same, -1 where it is smaller. Nothing where that is too much work for a text.
std::optional<int> beyond_its_decimal(const Value& value) {
  try {
    NumberLimits limits;
    limits.max_degree = 16;
    FieldTower tower(limits);
    NoNames nothing;
    const Number exact = evaluate_number(*parse_expression(value.exact), nothing, tower);
    const Number decimal = evaluate_number(*parse_expression(value.decimal), nothing, tower);
    const int larger = (exact - decimal).sign();
    return decimal.sign() < 0 ? -larger : larger;
  } catch (const std::bad_alloc&) {
    throw;
  } catch (const std::exception&) {
    return std::nullopt;
  }
}

/// Digits, with a point somewhere, that stand for a size: the next smaller one of as many digits.
void count_down(std::string* digits) {
  for (auto digit = digits->rbegin(); digit != digits->rend(); ++digit) {
    if (*digit == '.' || *digit == '-') continue;
    if (*digit != '0') {
      --*digit;
      return;
    }
    *digit = '9';
  }
}

bool has_other_than_zero(const std::string& digits, std::size_t from, std::size_t to) {
  return std::any_of(digits.begin() + static_cast<std::ptrdiff_t>(std::min(from, digits.size())),
                     digits.begin() + static_cast<std::ptrdiff_t>(std::min(to, digits.size())),
                     [](char c) { return c >= '1' && c <= '9'; });
}

/// The decimal with its first `keep` characters, or all where it has no more; see the header for what that means.
std::string cut_behind(const Value& value, std::size_t keep) {
  if (value.decimal.empty() || value.decimal == value.exact) return value.decimal;
  const std::size_t exponent_at = std::min(value.decimal.find('e'), value.decimal.size());
  std::string digits = value.decimal.substr(0, exponent_at), exponent = value.decimal.substr(exponent_at);
  const bool has_point = digits.find('.') != std::string::npos;
  // The decimal is correctly rounded in its last digit: where it goes on, it is cut where the number itself would be.
  const bool goes_on = has_point && has_other_than_zero(digits, keep, digits.size());
  if (has_point && keep < digits.size()) digits.resize(keep);
  if (goes_on) return digits + "..." + exponent;
  const std::optional<int> beyond = beyond_its_decimal(value);
  if (!beyond || (*beyond != 0 && !has_point)) return "about " + value.decimal;
  if (*beyond == 0) {
    if (has_point) digits.erase(digits.find_last_not_of('0') + 1);
    if (digits.back() == '.') digits.pop_back();
    return digits + exponent;
  }
  if (*beyond < 0) {
    while (digits.size() < keep) digits += '0';
    const std::size_t first = digits.front() == '-' ? 1 : 0;
    const bool power_of_ten = digits[first] == '1' && !has_other_than_zero(digits, first + 1, digits.size());
    count_down(&digits);
    if (power_of_ten && exponent.empty() && digits[first + 1] != '.') digits.erase(first, 1);
    if (power_of_ten && !exponent.empty()) {
      digits[first] = '9';
      exponent = "e" + std::to_string(std::stol(exponent.substr(1)) - 1);
    }
  }
  return digits + "..." + exponent;
}

std::size_t point_of(const std::string& decimal) {
  return std::min({decimal.find('.'), decimal.find('e'), decimal.size()});
}

std::size_t first_significant(const std::string& decimal) {
  return std::min(decimal.find_first_of("123456789"), decimal.size());
}

}  // namespace

std::string brief_decimal(const Value& value) {
  const std::size_t four_places = point_of(value.decimal) + 1 + places, first = first_significant(value.decimal);
  return cut_behind(value, first < four_places ? four_places : first + places);
}

std::string readable_decimal(const Value& value) {
  constexpr std::size_t most = 14;
  return cut_behind(value, std::max(point_of(value.decimal), first_significant(value.decimal)) + most);
}

std::string brief(const Value& value) {
  return value.exact.size() <= short_number || value.decimal.empty() ? value.exact : brief_decimal(value);
}

std::string brief(const ExactPoint& point) {
  return "(" + brief(Value{point.x, point.decimal[0]}) + ", " + brief(Value{point.y, point.decimal[1]}) +
         (point.z.empty() ? "" : ", " + brief(Value{point.z, point.decimal[2]})) + ")";
}

std::string brief_decimal(const ExactPoint& point) {
  return "(" + brief_decimal(Value{point.x, point.decimal[0]}) + ", " + brief_decimal(Value{point.y, point.decimal[1]}) +
         (point.z.empty() ? "" : ", " + brief_decimal(Value{point.z, point.decimal[2]})) + ")";
}

std::string brief(const ExactBox& box) {
  return "box " + brief(box.minimum) + " to " + brief(box.maximum);
}

}  // namespace cutproof
