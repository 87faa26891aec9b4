// SPDX-License-Identifier: GPL-3.0-or-later
// Doubles are enough here, since nothing rests on a remark.
#include "plan/near_numbers.hpp"

#include <algorithm>
#include <cmath>
#include <cstdio>
#include <cstdlib>
#include <numeric>

namespace cutproof {

namespace {

constexpr std::size_t most_remarks = 100;
constexpr int fewest_digits = 3, digits_of_rare = 4;

struct Candidate {
  KnownNumber number;
  int digits;  ///< how many significant ones a decimal must share with it
};

std::string fraction_of(const std::string& root, long p, long q) {
  return (p == 1 ? root : std::to_string(p) + "*" + root) + (q == 1 ? "" : "/" + std::to_string(q));
}

/// Thirds, sixths and the surds that everybody has seen; others only where more digits agree.
std::vector<Candidate> common_numbers() {
  std::vector<Candidate> all;
  for (const long q : {3L, 6L, 7L, 9L})
    for (long p = 1; p < 3 * q; ++p)
      if (std::gcd(p, q) == 1)
        all.push_back({{std::to_string(p) + "/" + std::to_string(q), static_cast<double>(p) / static_cast<double>(q)},
                       q <= 6 ? fewest_digits : digits_of_rare});
  all.push_back({{"(1 + sqrt(5))/2", (1 + std::sqrt(5.0)) / 2}, fewest_digits});
  all.push_back({{"(sqrt(5) - 1)/2", (std::sqrt(5.0) - 1) / 2}, fewest_digits});
  all.push_back({{"cbrt(2)", std::cbrt(2.0)}, digits_of_rare});
  for (const long n : {2L, 3L, 5L, 6L, 7L, 10L})
    for (const long q : {1L, 2L, 3L, 4L, 6L})
      for (const long p : {1L, 2L, 3L})
        if (std::gcd(p, q) == 1)
          all.push_back({{fraction_of("sqrt(" + std::to_string(n) + ")", p, q),
                          static_cast<double>(p) * std::sqrt(static_cast<double>(n)) / static_cast<double>(q)},
                         p == 1 && (n == 2 || n == 3 || (n == 5 && q == 1)) && q <= 3 ? fewest_digits : digits_of_rare});
  return all;
}

bool is_digit(char c) {
  return c >= '0' && c <= '9';
}
bool is_part_of_a_word(char c) {
  return is_digit(c) || (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z') || c == '_' || c == '.';
}

/// A decimal in a text.
struct Decimal {
  std::size_t begin, end;
};

/// `0.866` and `.5`, but neither the end of `slab.1` nor what `deg` or an exponent follows.
std::vector<Decimal> decimals_in(const std::string& text) {
  std::vector<Decimal> found;
  for (std::size_t at = 0; at < text.size();) {
    if (!is_part_of_a_word(text[at])) {
      ++at;
      continue;
    }
    std::size_t end = at;
    while (end < text.size() && is_part_of_a_word(text[end])) ++end;
    const std::string word = text.substr(at, end - at);
    const bool is_number = word.find_first_not_of("0123456789.") == std::string::npos &&
                           std::count(word.begin(), word.end(), '.') == 1 && is_digit(word.back());
    const std::size_t after = std::min(text.find_first_not_of(' ', end), text.size());
    if (is_number && text.compare(after, 3, "deg") != 0) found.push_back({at, end});
    at = end;
  }
  return found;
}

int significant_digits(const std::string& decimal) {
  std::string digits = decimal;
  digits.erase(std::remove(digits.begin(), digits.end(), '.'), digits.end());
  const std::size_t first = digits.find_first_not_of('0');
  return first == std::string::npos ? 0 : static_cast<int>(digits.size() - first);
}

/// Rounded or cut off to so many places; and not the number itself, as far as doubles can tell.
bool is_rounded(double decimal, double number, int places) {
  const double unit = std::pow(10.0, -places), gap = std::fabs(number - decimal);
  return gap > 1e-12 * number && (gap <= 0.5 * unit || (decimal < number && gap < unit));
}

class Remarks {
 public:
  Remarks(const Document& document, const std::vector<KnownNumber>& known) : document_(document) {
    for (const KnownNumber& each : known) candidates_.push_back({each, fewest_digits});
    for (Candidate& each : common_numbers()) candidates_.push_back(std::move(each));
  }

  void look_at(const Node& node) {
    if (node.is_scalar()) {
      for (const Decimal& decimal : decimals_in(node.text)) consider(node, decimal);
      return;
    }
    for (const Node::Entry& entry : node.entries) {
      const bool is_free_text = entry.key == "title" || entry.key == "note" || entry.key == "source";
      if (!is_free_text) look_at(entry.value);
    }
  }

  std::vector<PlanNote> notes() { return std::move(notes_); }

 private:
  void consider(const Node& node, const Decimal& place) {
    const std::string text = node.text.substr(place.begin, place.end - place.begin);
    const int digits = significant_digits(text), places = static_cast<int>(text.size() - text.find('.')) - 1;
    if (digits < fewest_digits || text.size() > 18 || notes_.size() >= most_remarks) return;
    const double value = std::strtod(text.c_str(), nullptr);
    const auto near = std::find_if(candidates_.begin(), candidates_.end(), [&](const Candidate& each) {
      return digits >= each.digits && is_rounded(value, each.number.about, places);
    });
    if (near == candidates_.end()) return;
    char about[40];
    std::snprintf(about, sizeof about, "%.*f...", places + 3, near->number.about - 0.5 * std::pow(10.0, -places - 3));
    notes_.push_back({document_.place(document_.origin(node, place.begin)),
                      "`" + text + "` is near `" + near->number.text + "` = " + about + ", and is not equal to it"});
  }

  const Document& document_;
  std::vector<Candidate> candidates_;
  std::vector<PlanNote> notes_;
};

}  // namespace

std::vector<PlanNote> remarks_on_decimals(const Document& document, const std::vector<KnownNumber>& known) {
  Remarks remarks(document, known);
  remarks.look_at(document.root());
  std::vector<PlanNote> notes = remarks.notes();
  std::stable_sort(notes.begin(), notes.end(), [](const PlanNote& a, const PlanNote& b) {
    return a.place.line != b.place.line ? a.place.line < b.place.line : a.place.column < b.place.column;
  });
  return notes;
}

}  // namespace cutproof
