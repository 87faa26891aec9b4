// SPDX-License-Identifier: GPL-3.0-or-later
// Recursive descent over the text, one function a grammar rule. Every node remembers where it stands, for error messages.
#include "plan/expression.hpp"

#include "plan/fold.hpp"

#include <algorithm>
#include <cstdio>
#include <cstring>
#include <optional>
#include <utility>

namespace cutproof {

namespace {

constexpr int nesting_limit = 200;
/// Long sums lean to the left, and a tree is taken down recursively, so the height is held as well.
constexpr int height_limit = 3000;

const std::vector<std::string> all_functions = {"sqrt",  "cbrt", "abs",  "min",  "max",   "cos",  "sin",
                                                "tan",   "acos", "asin", "atan", "angle", "root", "dot",
                                                "cross", "norm", "meet", "foot", "floor", "ceil", "mod"};

/// Words that stand between expressions.
bool is_joining_word(std::string_view word) {
  return word == "to" || word == "by" || word == "and";
}

bool is_letter(char c) {
  return (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z') || c == '_';
}
bool is_digit(char c) {
  return c >= '0' && c <= '9';
}
bool is_space(char c) {
  return c == ' ' || c == '\t' || c == '\n' || c == '\r';
}

/// What people type where the language has another spelling.
struct Lookalike {
  const char* text;
  const char* instead;
};
const Lookalike lookalikes[] = {
    {"**", "^"},           {"\xC3\x97", "*"},     {"\xC2\xB7", "*"},           {"\xC3\xB7", "/"},
    {"\xE2\x88\x92", "-"}, {"\xE2\x80\x93", "-"}, {"\xC2\xB0", " deg"},        {"\xCF\x80", "pi"},
    {"\xC2\xB2", "^2"},    {"\xC2\xB3", "^3"},    {"\xE2\x88\x9A", "sqrt( )"}, {"{", "( )"},
    {"\xC2\xBD", "1/2"},
};

const std::vector<std::string> units = {"mm", "cm",   "dm", "km",    "inch",  "inches", "in",
                                        "ft", "feet", "m",  "meter", "metre", "meters", "metres"};
const std::vector<std::string> degree_words = {"degree", "degrees", "degs", "Deg", "DEG"};
const std::vector<std::string> radian_words = {"rad", "radian", "radians"};

bool is_among(std::string_view word, const std::vector<std::string>& words) {
  return std::find(words.begin(), words.end(), word) != words.end();
}

const char made_of[] = "an expression is made of numbers, names, + - * / ^, parentheses and calls such as `sqrt(2)`";
const char quotes_hint[] =
    "if the expression holds a comma and stands inside [ ] or { }, YAML has split it there: put quotes round the expression";

class Parser {
 public:
  Parser(std::string_view text, int version) : text_(text), version_(version) {}

  ExpressionPointer whole() {
    skip_space();
    if (at_end()) throw ExpressionError("an expression is expected here, and there is none", "", 0, text_.size());
    ExpressionPointer result = expression();
    if (!at_end()) refuse_rest();
    return result;
  }

  Condition condition() {
    Condition result;
    do {
      skip_space();
      ComparisonChain comparison;
      comparison.operands.push_back(side_of_comparison());
      while (const std::optional<ComparisonChain::Kind> kind = next_comparison()) {
        comparison.kinds.push_back(*kind);
        comparison.operands.push_back(side_of_comparison());
      }
      if (comparison.kinds.empty() && (at_end() || next_word() == "and")) {
        const Expression& alone = *comparison.operands.front();
        throw ExpressionError("this compares nothing, so it is no condition",
                              "write `a < b`, `a = b`, `a != b` and the like", alone.offset, alone.length);
      }
      result.push_back(std::move(comparison));
    } while (take_word_if("and"));
    if (!at_end()) refuse_rest();
    return result;
  }

  Range range() {
    skip_space();
    Range result;
    result.first = expression();
    if (!take_word_if("to")) refuse_rest_or_end("a range is written `a to b` or `a to b by c`");
    result.last = expression();
    if (take_word_if("by")) result.step = expression();
    if (!at_end()) refuse_rest();
    return result;
  }

  /// From an opening parenthesis to the end of the text.
  std::vector<ExpressionPointer> arguments_from(std::size_t position) {
    position_ = position;
    std::vector<ExpressionPointer> arguments = list(')');
    if (!at_end()) refuse_rest();
    return arguments;
  }

  /// From an opening parenthesis to its closing one; `position` is then behind it.
  std::vector<ExpressionPointer> arguments_at(std::size_t* position) {
    position_ = *position;
    std::vector<ExpressionPointer> arguments = list(')');
    if (arguments.empty())
      throw ExpressionError("an expression is wanted in these parentheses", "", *position, end_ - *position);
    *position = end_;
    return arguments;
  }

 private:
  using Kind = Expression::Kind;

  ExpressionPointer side_of_comparison() {
    if (at_end()) throw ExpressionError("one side of this comparison is empty", "write `a < b`", text_.size(), 1);
    return expression();
  }

  std::optional<ComparisonChain::Kind> next_comparison() {
    static const std::pair<const char*, ComparisonChain::Kind> signs[] = {{"!=", ComparisonChain::Kind::unequal},
                                                                          {"<=", ComparisonChain::Kind::less_or_equal},
                                                                          {">=", ComparisonChain::Kind::greater_or_equal},
                                                                          {"=", ComparisonChain::Kind::equal},
                                                                          {"<", ComparisonChain::Kind::less},
                                                                          {">", ComparisonChain::Kind::greater}};
    if (text_starts("==")) throw ExpressionError("`==` cannot stand here", "write `=`", position_, 2);
    for (const auto& [sign, kind] : signs)
      if (text_starts(sign)) {
        position_ += std::strlen(sign);
        skip_space();
        return kind;
      }
    return std::nullopt;
  }

  bool take_word_if(std::string_view word) {
    if (next_word() != word) return false;
    take_word();
    return true;
  }

  [[noreturn]] void refuse_rest_or_end(const char* usage) const {
    if (at_end()) throw ExpressionError("a range is wanted here, and this is one expression", usage, 0, text_.size());
    refuse_rest();
  }

  ExpressionPointer expression() {
    const Nesting nesting(*this);
    const std::size_t start = position_;
    ExpressionPointer left = product();
    while (next_is('+') || next_is('-')) {
      const Kind kind = take() == '+' ? Kind::add : Kind::subtract;
      ExpressionPointer right = product();
      left = node(kind, start, {left, right});
    }
    return left;
  }

  ExpressionPointer product() {
    const std::size_t start = position_;
    ExpressionPointer left = factor();
    while ((next_is('*') && !text_starts("**")) || next_is('/')) {
      const Kind kind = take() == '*' ? Kind::multiply : Kind::divide;
      ExpressionPointer right = factor();
      left = node(kind, start, {left, right});
    }
    if (next_word() == "deg") {
      take_word();
      left = node(Kind::degrees, start, {left});
      if (next_is('*') || next_is('/') || next_is('^'))
        throw ExpressionError("`deg` ends a product, so nothing can follow it but + or -",
                              "write parentheses: `(90 deg)/2`, or put `deg` last: `90/2 deg`", position_, 1);
    }
    return left;
  }

  ExpressionPointer factor() {
    const Nesting nesting(*this);
    const std::size_t start = position_;
    if (next_is('-')) {
      take();
      ExpressionPointer operand = factor();
      return node(Kind::negate, start, {operand});
    }
    if (next_is('+')) {
      take();
      return factor();
    }
    ExpressionPointer base = atom();
    if (!next_is('^')) return base;
    if (base->kind == Kind::name && is_function_name(base->text)) refuse_power_of_function(*base);
    take();
    ExpressionPointer exponent = factor();
    return node(Kind::power, start, {base, exponent});
  }

  ExpressionPointer atom() {
    const std::size_t start = position_;
    ExpressionPointer result = plain_atom();
    while (next_is('.')) {
      take();
      const std::string_view word = next_word();
      if (word != "x" && word != "y" && word != "z")
        throw ExpressionError("after the point a component is expected: `.x`, `.y` or `.z`", "", position_ - 1,
                              std::max<std::size_t>(word.size(), 1) + 1);
      const std::string component(word);
      take_word();
      result = node(Kind::component, start, {result}, component);
    }
    return result;
  }

  ExpressionPointer plain_atom() {
    if (at_end()) refuse_end();
    const std::size_t start = position_;
    const char c = text_[position_];
    if (is_digit(c) || (c == '.' && position_ + 1 < text_.size() && is_digit(text_[position_ + 1]))) return number();
    if (is_letter(c)) {
      const std::string name(next_word());
      take_word();
      if (version_ >= 2 && is_joining_word(name))
        throw ExpressionError("`" + name + "` stands between expressions, and one is missing before it",
                              name == "and" ? "write `a < b and c < d`" : "write `a to b by c`", start, name.size());
      if (name == "deg") throw ExpressionError("`deg` needs a number in front of it", "write `90 deg`", start, name.size());
      if (!next_is('(')) return node(Kind::name, start, {}, name);
      std::vector<ExpressionPointer> arguments = list(')');
      return node(Kind::call, start, std::move(arguments), name);
    }
    if (c == '(') {
      open_.push_back(position_);
      take();
      const Nesting nesting(*this);
      const ExpressionPointer inner = expression();
      close(')');
      // The same tree; it stands, with its parentheses, where the parenthesis begins.
      auto copy = std::make_shared<Expression>(*inner);
      copy->offset = start;
      copy->length = end_ - start;
      return copy;
    }
    if (c == '[') {
      std::vector<ExpressionPointer> components = list(']');
      // How many there are to be, the plan's dimension tells.
      if (components.size() != 3 && (components.size() != 2 || version_ < 2))
        throw ExpressionError("a vector has three components, not " + std::to_string(components.size()),
                              components.size() == 2 ? "z is missing: write `[" + source(*components[0]) + ", " +
                                                           source(*components[1]) + ", 0]`"
                                                     : "write `[x, y, z]`",
                              start, end_ - start);
      return node(Kind::vector, start, std::move(components));
    }
    refuse_character();
  }

  /// `e`, perhaps a sign, and a digit.
  bool exponent_begins(std::size_t at) const {
    if (at >= text_.size() || (text_[at] != 'e' && text_[at] != 'E')) return false;
    if (++at < text_.size() && (text_[at] == '+' || text_[at] == '-')) ++at;
    return at < text_.size() && is_digit(text_[at]);
  }

  ExpressionPointer number() {
    const std::size_t start = position_;
    while (!end_of_text() && is_digit(text_[position_])) ++position_;
    // A point with a letter behind it asks for a component, unless the letter begins an exponent.
    if (!end_of_text() && text_[position_] == '.' &&
        !(position_ + 1 < text_.size() && is_letter(text_[position_ + 1]) && !exponent_begins(position_ + 1))) {
      ++position_;
      while (!end_of_text() && is_digit(text_[position_])) ++position_;
    }
    if (exponent_begins(position_)) {
      position_ += 2;  // what follows the `e`: a sign, or the first digit
      while (!end_of_text() && is_digit(text_[position_])) ++position_;
    }
    const std::string digits(text_.substr(start, position_ - start));
    if (!end_of_text() && text_[position_] == '.' && position_ + 1 < text_.size() && is_digit(text_[position_ + 1]))
      throw ExpressionError("a number has at most one decimal point", "", position_, 1);
    end_ = position_;
    skip_space();
    return node(Kind::number, start, {}, digits);
  }

  /// The opening sign, expressions with commas between them, the closing sign.
  std::vector<ExpressionPointer> list(char close_with) {
    const Nesting nesting(*this);
    open_.push_back(position_);
    take();
    std::vector<ExpressionPointer> entries;
    if (next_is(close_with)) {
      close(close_with);
      return entries;
    }
    entries.push_back(expression());
    while (next_is(',') || (next_is(';') && close_with == ')')) {
      if (next_is(';') && version_ < 2)
        throw ExpressionError("`;` between arguments is a word of version 2 of the plan language",
                              "write a comma, or `cutproof: 2` at the top", position_, 1);
      take();
      entries.push_back(expression());
    }
    close(close_with);
    return entries;
  }

  void close(char with) {
    if (next_is(with)) {
      open_.pop_back();
      take();
      return;
    }
    if (at_end()) refuse_end();
    refuse_rest();
  }

  [[noreturn]] void refuse_end() const {
    if (!open_.empty())
      throw ExpressionError(std::string("the `") + text_[open_.back()] + "` opened here is never closed", quotes_hint,
                            open_.back(), 1);
    throw ExpressionError("the expression ends where a number, a name or a parenthesis is expected", "", text_.size(), 1);
  }

  /// Something follows that cannot stand here.
  [[noreturn]] void refuse_rest() const {
    const char c = text_[position_];
    if (c == ')' || c == ']') {
      if (open_.empty()) throw ExpressionError(std::string("this `") + c + "` closes nothing", quotes_hint, position_, 1);
      throw ExpressionError(std::string("this `") + c + "` does not match the `" + text_[open_.back()] + "` that is open",
                            quotes_hint, position_, 1);
    }
    if (c == ',')
      throw ExpressionError("a comma cannot stand here", "a vector is written `[x, y, z]`, and decimals with a point: `0.5`",
                            position_, 1);
    if (is_letter(c) || is_digit(c) || c == '(' || c == '.') {
      std::size_t length = 1;
      while (c != '(' && position_ + length < text_.size() &&
             (is_letter(text_[position_ + length]) || is_digit(text_[position_ + length])))
        ++length;
      const std::string word(text_.substr(position_, length));
      if (version_ >= 2 && word == "or")
        throw ExpressionError("`or` is no word of the plan language",
                              "`and` joins conditions; for alternatives write a loop for each", position_, length);
      if (version_ >= 2 && word == "and")
        throw ExpressionError("`and` joins conditions, and cannot stand here", "", position_, length);
      if (version_ >= 2 && is_joining_word(word))
        throw ExpressionError("`" + word + "` belongs to a range, and cannot stand here", "", position_, length);
      if (word == "deg")
        throw ExpressionError("`deg` is written once, after a product", "write `30 deg`", position_, length);
      refuse_known_slip(word);
      const bool in_number =
          c != '(' && position_ > 0 && is_digit(text_[position_ - 1]) && !is_function_name(word, version_);
      throw ExpressionError("an operator is missing before `" + word + "`",
                            in_number ? "a product needs its sign: `2*a`; a number is written like `1000`, `0.5` or `1e-3`"
                                      : "a product needs its sign: `2*sqrt(3)`",
                            position_, length);
    }
    refuse_character();
  }

  /// The text of a node.
  std::string source(const Expression& node) const { return std::string(text_.substr(node.offset, node.length)); }

  /// The word or number that was taken last.
  std::string token_before() const {
    std::size_t begin = end_;
    while (begin > 0 && (is_letter(text_[begin - 1]) || is_digit(text_[begin - 1]) || text_[begin - 1] == '.')) --begin;
    return std::string(text_.substr(begin, end_ - begin));
  }

  /// `sin^2(30 deg)`, at the `^`.
  [[noreturn]] void refuse_power_of_function(const Expression& function) const {
    std::size_t at = position_ + 1;
    while (at < text_.size() && (is_space(text_[at]) || is_digit(text_[at]))) ++at;
    std::string exponent(text_.substr(position_ + 1, at - position_ - 1)), argument = "...";
    exponent.erase(std::remove_if(exponent.begin(), exponent.end(), is_space), exponent.end());
    if (at < text_.size() && text_[at] == '(') {
      std::size_t end = at + 1;
      for (int depth = 1; end < text_.size() && depth > 0; ++end)
        depth += text_[end] == '(' ? 1 : text_[end] == ')' ? -1 : 0;
      argument = std::string(text_.substr(at + 1, end - at - 2));
    }
    throw ExpressionError("`" + function.text + "` is a function: its exponent stands behind its parentheses",
                          "write `" + function.text + "(" + argument + ")^" + (exponent.empty() ? "2" : exponent) + "`",
                          function.offset, position_ + 1 - function.offset);
  }

  /// Where an operator is missing: what people write where they mean something of the language.
  void refuse_known_slip(const std::string& word) const {
    const std::string missing = "an operator is missing before `" + word + "`", before = token_before();
    const bool after_number = !before.empty() && (is_digit(before[0]) || before[0] == '.');
    const auto refuse = [&](const std::string& hint) { throw ExpressionError(missing, hint, position_, word.size()); };
    if (is_function_name(before) && word != "(") {
      const std::size_t end = std::min(text_.find_first_of("+-*/,)]", position_), text_.size());
      std::string argument(text_.substr(position_, end - position_));
      argument.erase(argument.find_last_not_of(" \t\n\r") + 1);
      throw ExpressionError("`" + before + "` is a function, and what it is of stands in parentheses",
                            "write `" + before + "(" + argument + ")`", position_, word.size());
    }
    if (is_among(word, degree_words)) refuse("write `" + (after_number ? before : "90") + " deg`");
    if (is_among(word, radian_words)) refuse("an angle is written in degrees or as a part of `pi`: `90 deg`, `pi/2`");
    if (!after_number) return;
    if (is_among(word, units))
      refuse("lengths have no unit: write `" + before + "` alone, and all lengths of the plan in one unit");
    if (!is_digit(word[0])) return;
    const std::size_t slash = position_ + word.size();
    std::size_t end = slash + 1;
    while (end < text_.size() && is_digit(text_[end])) ++end;
    const std::string below =
        slash < text_.size() && text_[slash] == '/' ? std::string(text_.substr(slash + 1, end - slash - 1)) : "";
    constexpr std::size_t most_digits = 6;  // of a number that somebody would count with
    const auto is_small = [&](const std::string& digits) {
      return !digits.empty() && digits.size() <= most_digits && digits.find_first_not_of("0123456789") == std::string::npos;
    };
    if (is_small(before) && is_small(word) && is_small(below))
      refuse("write `" + std::to_string(std::stol(before) * std::stol(below) + std::stol(word)) + "/" + below + "`, or `" +
             before + " + " + word + "/" + below + "`");
    if (is_space(text_[position_ - 1]))
      refuse("a number has no blanks in it: `" + before + word + "`; a product needs its sign");
  }

  [[noreturn]] void refuse_character() const {
    for (const Lookalike& lookalike : lookalikes)
      if (text_starts(lookalike.text))
        throw ExpressionError(std::string("`") + lookalike.text + "` cannot stand here",
                              std::string("write `") + lookalike.instead + "`", position_, std::strlen(lookalike.text));
    std::size_t length = 1;
    while (position_ + length < text_.size() && (static_cast<unsigned char>(text_[position_ + length]) & 0xC0) == 0x80)
      ++length;
    const unsigned char c = static_cast<unsigned char>(text_[position_]);
    const std::string shown =
        c < 0x20 || c == 0x7F ? "a control character" : "`" + std::string(text_.substr(position_, length)) + "`";
    if (c >= 0x80) {  // it may be invisible
      unsigned long code = length == 2 ? c & 0x1Fu : length == 3 ? c & 0x0Fu : c & 0x07u;
      for (std::size_t i = 1; i < length; ++i) code = code << 6 | (static_cast<unsigned char>(text_[position_ + i]) & 0x3Fu);
      char name[24];
      std::snprintf(name, sizeof name, " (U+%04lX)", code);
      throw ExpressionError(shown + name + " cannot stand here",
                            "expressions are written in ASCII; copied text may hold characters that only look like it",
                            position_, length);
    }
    if (c == ')' || c == ']' || c == ',')
      throw ExpressionError("a number, a name or a parenthesis is expected before " + shown, "", position_, length);
    throw ExpressionError(shown + " cannot stand here", made_of, position_, length);
  }

  ExpressionPointer node(Kind kind, std::size_t start, std::vector<ExpressionPointer> operands,
                         std::string text = "") const {
    auto made = std::make_shared<Expression>();
    made->kind = kind;
    made->text = std::move(text);
    made->operands = std::move(operands);
    made->offset = start;
    made->length = end_ - start;
    for (const ExpressionPointer& operand : made->operands) made->height = std::max(made->height, operand->height + 1);
    if (made->height > height_limit)
      throw LimitReached("nesting", "an expression has more than " + std::to_string(height_limit) + " terms or levels",
                         "name parts of it in `let`");
    return made;
  }

  /// Counts the levels that are open.
  struct Nesting {
    explicit Nesting(Parser& owner) : parser(owner) {
      if (++parser.depth_ > 3 * nesting_limit)
        throw LimitReached("nesting", "an expression is nested deeper than " + std::to_string(nesting_limit) + " levels",
                           "name parts of it in `let`");
    }
    ~Nesting() { --parser.depth_; }
    Parser& parser;
  };

  bool end_of_text() const { return position_ >= text_.size(); }
  bool at_end() const { return end_of_text(); }
  bool next_is(char c) const { return !end_of_text() && text_[position_] == c; }
  bool text_starts(const char* prefix) const { return text_.substr(position_, std::strlen(prefix)) == prefix; }
  char take() {
    const char c = text_[position_++];
    end_ = position_;
    skip_space();
    return c;
  }
  std::string_view next_word() const {
    std::size_t length = 0;
    while (position_ + length < text_.size()) {
      const char c = text_[position_ + length];
      if (!is_letter(c) && !(length > 0 && is_digit(c))) break;
      ++length;
    }
    return text_.substr(position_, length);
  }
  void take_word() {
    position_ += next_word().size();
    end_ = position_;
    skip_space();
  }
  void skip_space() {
    while (!end_of_text() && is_space(text_[position_])) ++position_;
  }

  std::string_view text_;
  int version_;
  std::size_t position_ = 0;
  std::size_t end_ = 0;  ///< behind the last token taken
  std::vector<std::size_t> open_;
  int depth_ = 0;
};

}  // namespace

ExpressionPointer parse_expression(std::string_view text, int version) {
  return Parser(text, version).whole();
}

Condition parse_condition(std::string_view text) {
  return Parser(text, newest_version).condition();
}

Range parse_range(std::string_view text) {
  return Parser(text, newest_version).range();
}

bool is_range(std::string_view text) {
  int depth = 0;
  for (std::size_t i = 0; i < text.size(); ++i) {
    const char c = text[i];
    depth += c == '(' || c == '[' ? 1 : c == ')' || c == ']' ? -1 : 0;
    const auto ends_word = [&](std::size_t at) { return at >= text.size() || !(is_letter(text[at]) || is_digit(text[at])); };
    if (depth == 0 && text.substr(i, 2) == "to" && (i == 0 || !(is_letter(text[i - 1]))) && ends_word(i + 2)) return true;
  }
  return false;
}

Reference parse_reference(std::string_view text) {
  Reference result;
  const std::size_t parenthesis = std::min(text.find('('), text.size());
  std::size_t end = parenthesis;
  while (end > 0 && is_space(text[end - 1])) --end;
  result.name = text.substr(0, end);
  if (parenthesis == text.size()) return result;
  result.has_arguments = true;
  result.arguments = Parser(text, newest_version).arguments_from(parenthesis);
  return result;
}

WrittenName parse_written_name(std::string_view text) {
  WrittenName result;
  Parser parser(text, newest_version);
  for (std::size_t at = 0; at < text.size();) {
    const std::size_t open = std::min(text.find('(', at), text.size());
    WrittenName::Part part{std::string(text.substr(at, open - at)), {}};
    at = open;
    if (open < text.size()) part.values = parser.arguments_at(&at);
    result.parts.push_back(std::move(part));
  }
  return result;
}

Equation parse_equation(std::string_view text, int version) {
  const std::size_t sign = text.find('=');
  const std::string hint = "write `x + 2*y = 1`";
  if (sign == std::string_view::npos) throw ExpressionError("a plane's equation needs an `=`", hint, 0, text.size());
  const std::size_t second = text.find('=', sign + 1);
  if (second != std::string_view::npos) throw ExpressionError("a plane's equation has one `=` only", hint, second, 1);
  const auto blank = [](std::string_view side) { return side.find_first_not_of(" \t\r\n") == std::string_view::npos; };
  if (blank(text.substr(0, sign)) || blank(text.substr(sign + 1)))
    throw ExpressionError("one side of the equation is empty", hint, sign, 1);
  // Blanks in front keep the places of the right side.
  const std::string right = std::string(sign + 1, ' ') + std::string(text.substr(sign + 1));
  return {parse_expression(text.substr(0, sign), version), parse_expression(right, version), text.size()};
}

std::vector<std::string> names_in(const Expression& expression, int version) {
  std::vector<std::string> names;
  const auto look = [&](const Expression& at) {
    if (at.kind == Expression::Kind::name && !is_reserved_name(at.text, version) &&
        std::find(names.begin(), names.end(), at.text) == names.end())
      names.push_back(at.text);
  };
  look_through(expression, look, [](const Expression& at, std::size_t i) { return !is_plane_operand(at, i); });
  return names;
}

bool is_function_name(std::string_view name, int version) {
  return version_of_word("a function", name) <= version &&
         std::find(all_functions.begin(), all_functions.end(), name) != all_functions.end();
}

std::vector<std::string> function_names(int version) {
  std::vector<std::string> names;
  for (const std::string& name : all_functions)
    if (is_function_name(name, version)) names.push_back(name);
  return names;
}

bool is_reserved_name(std::string_view name, int version) {
  return name == "x" || name == "y" || name == "z" || name == "pi" || name == "deg" ||
         (version >= 2 && is_joining_word(name)) || is_function_name(name, version);
}

bool is_identifier(std::string_view name) {
  if (name.empty() || !is_letter(name[0])) return false;
  return std::all_of(name.begin(), name.end(), [](char c) { return is_letter(c) || is_digit(c); });
}

}  // namespace cutproof
