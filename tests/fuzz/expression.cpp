// SPDX-License-Identifier: GPL-3.0-or-later
// Any bytes through the expression reader and the evaluator. Line by line: each defines the name `a`, `b`, ... for the lines
// below it, and a line with `=` a plane. Every value is printed and read again as the same value, and the same lines give
// the same text.
#include "fuzz/demand.hpp"
#include "number/print.hpp"
#include "plan/complaints.hpp"
#include "plan/evaluate.hpp"
#include "plan/spelling.hpp"

#include <map>

using namespace cutproof;
using fuzz::demand;

namespace {

constexpr std::size_t most_lines = 8, longest_input = 400;

// Small: what is looked for are wrong turns, not long ways.
NumberLimits limits() {
  NumberLimits result;
  result.max_degree = 6;
  result.max_bits = 3000;
  return result;
}

class LineScope : public Scope {
 public:
  std::map<std::string, ExactValue> values;
  std::map<std::string, Plane> planes;

  std::optional<ExactValue> value_of(const std::string& name) override {
    const auto found = values.find(name);
    return found == values.end() ? std::nullopt : std::optional<ExactValue>(found->second);
  }
  std::optional<Plane> plane_of(const std::string& name) override {
    const auto found = planes.find(name);
    return found == planes.end() ? std::nullopt : std::optional<Plane>(found->second);
  }
  std::string nearest_name(const std::string& name) const override {
    std::vector<std::string> names;
    for (const auto& [each, value] : values) names.push_back(each);
    return nearest_word(name, names);
  }
};

bool same(const Angle& a, const Angle& b) {
  const Angle difference = a - b;
  return difference.pi_multiple.is_zero() && difference.rays.empty();
}

/// The value as text that reads back as the same value.
template <class Value, class Evaluate, class Same>
std::string printed(const Value& value, const Evaluate& evaluate, const Same& same, FieldTower& tower) {
  const std::string text = to_exact(value);
  LineScope nothing;
  try {
    demand(same(evaluate(*parse_expression(text), nothing, tower), value), "a printed value reads back as itself: " + text);
  } catch (const ExpressionError& error) {
    demand(false, "a printed value is an expression: " + text + ": " + error.what());
  }
  return text;
}

std::string printed(const ExactValue& value, FieldTower& tower) {
  if (const auto* angle = std::get_if<Angle>(&value))  // its cosine may lie outside the field
    return printed(*angle, evaluate_angle, same, tower) + " = " + to_decimal_degrees(*angle);
  const int degree = tower.top().degree();
  const auto equal = [&tower](const Number& a, const Number& b) { return tower.lifted(a) == tower.lifted(b); };
  const auto equal_vectors = [&](const Vector3& a, const Vector3& b) {
    return equal(a.x, b.x) && equal(a.y, b.y) && equal(a.z, b.z);
  };
  std::string text;
  if (const auto* number = std::get_if<Number>(&value)) {
    text = printed(*number, evaluate_number, equal, tower) + " = " + to_decimal(*number);
  } else {
    text = printed(std::get<Vector3>(value), evaluate_vector, equal_vectors, tower);
  }
  demand(tower.top().degree() == degree, "a printed number adjoins nothing: " + text);
  return text;
}

std::string value_of(const std::string& line, LineScope& scope, FieldTower& tower, const std::string& name) {
  if (line.find('=') != std::string::npos) {
    const Plane plane = evaluate_equation(line, scope, tower);
    demand(!is_zero(plane.normal), "a plane has a normal: " + line);
    scope.planes.insert_or_assign(name, plane);
    return "plane " + to_exact(plane.normal) + " " + to_exact(plane.offset);
  }
  const ExactValue value = evaluate(*parse_expression(line), scope, tower);
  scope.values.insert_or_assign(name, value);
  return printed(value, tower);
}

std::string evaluated(const std::string& text) {
  FieldTower tower(limits());
  LineScope scope;
  std::string result;
  std::size_t begin = 0;
  for (std::size_t k = 0; k < most_lines && begin <= text.size(); ++k) {
    const std::size_t end = std::min(text.find('\n', begin), text.size());
    const std::string line = text.substr(begin, end - begin);
    begin = end + 1;
    const std::string name(1, static_cast<char>('a' + k));
    try {
      result += value_of(line, scope, tower, name);
    } catch (const ExpressionError& error) {
      // What is missing at the end is shown as a character behind it.
      demand(error.offset() <= line.size() && error.offset() + error.length() <= line.size() + 1,
             "the place is inside the expression: " + line + ": " + error.what());
      demand(*error.what() != '\0', "every error has a message");
      result += std::string("error: ") + error.what() + " " + error.hint();
    } catch (const LimitReached& error) {
      demand(!error.limit().empty() && *error.what() != '\0', "a limit has a name and a message");
      result += std::string("limit: ") + told(error).sentence;
    }
    result += '\n';
  }
  return result;
}

}  // namespace

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
  if (size > longest_input) return -1;
  const std::string text(reinterpret_cast<const char*>(data), size);
  const std::string once = evaluated(text), twice = evaluated(text);
  demand(once == twice, "the same expressions give the same text:\n" + once + "and\n" + twice);
  return 0;
}
