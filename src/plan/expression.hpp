// SPDX-License-Identifier: GPL-3.0-or-later
// The expression language of plans: text to tree. What the names and numbers mean is for plan/evaluate.hpp.
//
//   expression = product { ("+" | "-") product }
//   product    = factor { ("*" | "/") factor } [ "deg" ]
//   factor     = { "+" | "-" } power
//   power      = atom [ "^" factor ]
//   atom       = number | name | call | "(" expression ")" | "[" e "," e "," e "]" | atom "." ("x" | "y" | "z")
//   number     = digits, with at most one "." and an exponent
#pragma once

#include "number/errors.hpp"

#include <memory>
#include <string>
#include <string_view>
#include <vector>

namespace cutproof {

struct Expression;
using ExpressionPointer = std::shared_ptr<const Expression>;

/// A node of the tree. `offset` and `length` say where it stands in the text, in bytes.
struct Expression {
  enum class Kind { number, name, call, vector, component, negate, add, subtract, multiply, divide, power, degrees };
  Kind kind;
  /// number: its digits as written; name, call: the identifier; component: `x`, `y` or `z`.
  std::string text;
  std::vector<ExpressionPointer> operands;
  std::size_t offset = 0, length = 0;
  /// Of the tree below, 0 for a leaf; bounded, so that recursion over trees is safe.
  int height = 0;
};

/// InvalidInput with its place inside an expression's text, in bytes.
class ExpressionError : public InvalidInput {
 public:
  ExpressionError(const std::string& message, std::string hint, std::size_t offset, std::size_t length)
      : InvalidInput(message, std::move(hint)), offset_(offset), length_(length) {}
  std::size_t offset() const { return offset_; }
  std::size_t length() const { return length_; }

 private:
  std::size_t offset_, length_;
};

/// Throws ExpressionError; LimitReached (`nesting`) when nested deeper than 200, or with thousands of terms in a row.
ExpressionPointer parse_expression(std::string_view text);
/// All names of numbers, vectors and angles that the expression uses (no reserved names, no planes in `meet` and `foot`), in
/// order, each once.
std::vector<std::string> names_in(const Expression& expression);
bool is_function_name(std::string_view name);
const std::vector<std::string>& all_function_names();
/// `sqrt`, `cos`, ... and `x y z pi deg`: names that a plan may not define.
bool is_reserved_name(std::string_view name);
/// An ASCII letter or `_`, then letters, digits, `_`.
bool is_identifier(std::string_view name);
/// The word of `candidates` nearest to `word` (edit distance at most 2 and less than half its length), else the first of
/// which `word` is a part between hyphens (`hull` of `convex-hull`); empty when none is near.
std::string nearest_word(std::string_view word, const std::vector<std::string>& candidates);
/// The words by their edit distance from `word`, nearest first; as they stood where these are equal.
std::vector<std::string> nearest_first(std::string_view word, std::vector<std::string> words);

}  // namespace cutproof
