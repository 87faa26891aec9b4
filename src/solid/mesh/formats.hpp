// SPDX-License-Identifier: GPL-3.0-or-later
// The readers of the single formats, and what they have in common. For read_mesh only.
#pragma once

#include "number/errors.hpp"
#include "solid/mesh/mesh.hpp"

#include <limits>

namespace cutproof {

/// Strangers' bytes inside a message: short, and of plain ASCII.
std::string shown_bytes(std::string_view bytes);

/// How many bits the coordinates of one mesh may take: that of one number, and together.
class BitBudget {
 public:
  explicit BitBudget(std::size_t of_one) : of_one_(of_one) {}
  std::size_t of_one() const { return of_one_; }
  void take(const Rational& value);

 private:
  static constexpr std::size_t of_all = std::size_t{1} << 32;
  std::size_t of_one_, used_ = 0;
};

/// The words of a text, which are parted by blanks, and its lines.
class MeshText {
 public:
  /// From `#` to the end of its line nothing counts where `comments` are allowed.
  MeshText(std::string_view text, bool comments, int first_line = 1) : text_(text), comments_(comments), line_(first_line) {}

  /// The line of the word that was read last, or of the place itself.
  int line() const { return word_line_; }
  bool at_end();
  /// The next word; `what` is told where the file ends instead.
  std::string_view word(const std::string& what);
  /// The words that are left on the line of the last one.
  std::vector<std::string_view> rest_of_line();

  [[noreturn]] void fail(const std::string& message, const std::string& hint = "") const;
  /// A word as a number. `what` as in "x of the point 3".
  Rational number(std::string_view word, const std::string& what, BitBudget& bits) const;
  /// A word as a whole number between two bounds.
  long whole(std::string_view word, const std::string& what, long least = std::numeric_limits<long>::min(),
             long most = std::numeric_limits<long>::max()) const;

 private:
  bool skip_blanks(bool over_lines);
  std::string_view text_;
  bool comments_;
  std::size_t at_ = 0;
  int line_, word_line_ = 1;
};

/// A binary floating-point number as the fraction that it is; false for infinities and what is no number.
bool exact_fraction(double value, Rational* fraction);

Mesh read_off(std::string_view bytes, BitBudget bits);
Mesh read_obj(std::string_view bytes, BitBudget bits);
Mesh read_ply(std::string_view bytes, BitBudget bits);
Mesh read_text_stl(std::string_view bytes, BitBudget bits);
Mesh read_binary_stl(std::string_view bytes, BitBudget bits);

/// The bytes of a number, the lowest first.
unsigned long little_endian(std::string_view bytes);

}  // namespace cutproof
