// SPDX-License-Identifier: GPL-3.0-or-later
// The expression language of plans: text to tree. What the names and numbers mean is for plan/evaluate.hpp.
//
//   expression = product { ("+" | "-") product }
//   product    = factor { ("*" | "/") factor } [ "deg" ]
//   factor     = { "+" | "-" } power
//   power      = atom [ "^" factor ]
//   atom       = number | name | call | "(" expression ")" | "[" e "," e [ "," e ] "]" | atom "." ("x" | "y" | "z")
//   number     = digits, with at most one "." and an exponent
//
// And, from version 2 of the language on, what loops are made of:
//
//   condition  = expression comparison expression { comparison expression } { "and" condition }
//   range      = expression "to" expression [ "by" expression ]
//   reference  = name [ "(" arguments ")" ]          a plane, motion or solid; its name may hold - and .
#pragma once

#include "number/errors.hpp"
#include "plan/words.hpp"

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
  /// Of the tree below, 0 for a leaf; bounded by the reader. Trees are walked by plan/fold.hpp alone.
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

/// `a < b <= c`: one comparison fewer than operands.
struct ComparisonChain {
  enum class Kind { equal, unequal, less, less_or_equal, greater, greater_or_equal };
  std::vector<ExpressionPointer> operands;
  std::vector<Kind> kinds;
};
/// All hold.
using Condition = std::vector<ComparisonChain>;

struct Range {
  ExpressionPointer first, last;
  ExpressionPointer step;  ///< null: 1
};

/// What a plane, motion or solid is called: its name, perhaps with values for the arguments of its definition.
struct Reference {
  std::string name;
  bool has_arguments = false;
  std::vector<ExpressionPointer> arguments;
};

/// Of a plane: `x + 2*y = 1`.
struct Equation {
  ExpressionPointer left, right;
  std::size_t length = 0;  ///< of the text
};

/// The name of a piece in which expressions may stand, as `c(i, j)`: texts, and the expressions in parentheses behind each.
struct WrittenName {
  struct Part {
    std::string text;
    std::vector<ExpressionPointer> values;  ///< empty: no parentheses
  };
  std::vector<Part> parts;
};

/// Throws ExpressionError; LimitReached (`nesting`) when nested deeper than 200, or with thousands of terms in a row.
/// `version` is that of the plan language: version 1 has no `;` between arguments, and its words mean nothing there.
ExpressionPointer parse_expression(std::string_view text, int version = newest_version);
Condition parse_condition(std::string_view text);
Range parse_range(std::string_view text);
/// True iff `to` stands in the text as a word, outside all brackets: it is meant as a range.
bool is_range(std::string_view text);
/// Whatever stands before the first parenthesis is the name, good or bad.
Reference parse_reference(std::string_view text);
WrittenName parse_written_name(std::string_view text);
Equation parse_equation(std::string_view text, int version = newest_version);

/// All names of numbers, vectors and angles that the expression uses (no reserved names, no planes in `meet` and `foot`), in
/// order, each once.
std::vector<std::string> names_in(const Expression& expression, int version = newest_version);
bool is_function_name(std::string_view name, int version = newest_version);
std::vector<std::string> function_names(int version = newest_version);
/// `sqrt`, `cos`, ..., `x y z pi deg`, and `to by and` from version 2 on: names that a plan may not define.
bool is_reserved_name(std::string_view name, int version = newest_version);
/// An ASCII letter or `_`, then letters, digits, `_`.
bool is_identifier(std::string_view name);

}  // namespace cutproof
