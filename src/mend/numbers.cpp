// SPDX-License-Identifier: GPL-3.0-or-later
// Numbers that were rounded, and texts for which a message says what to write instead.
#include "mend/search.hpp"

#include <algorithm>
#include <cmath>
#include <map>
#include <numeric>
#include <set>
#include <string_view>

namespace cutproof {
namespace {

struct Literal {
  std::string text;
  std::vector<std::size_t> places;
};

bool is_digit(char c) {
  return c >= '0' && c <= '9';
}

// Decimals of at least two places in the texts of numbers; not in titles and notes, nor in what no mend touches.
void find_decimals(const PlanText& plan, const Node& node, std::map<std::size_t, std::string>* found) {
  static const std::set<std::string> free_text = {"title", "source", "note", "added", "lemmas"};
  for (const Node::Entry& entry : node.entries)
    if (free_text.count(entry.key) == 0) find_decimals(plan, entry.value, found);
  if (!node.is_scalar()) return;
  const std::string text = plan.source(node);
  for (std::size_t at = 0; at < text.size(); ++at) {
    if (!is_digit(text[at])) continue;
    std::size_t end = at;
    while (end < text.size() && is_digit(text[end])) ++end;
    const std::size_t point = end;
    if (point < text.size() && text[point] == '.')
      for (++end; end < text.size() && is_digit(text[end]);) ++end;
    const bool named = at > 0 && (std::isalpha(static_cast<unsigned char>(text[at - 1])) != 0 || text[at - 1] == '_');
    const bool exponent = end < text.size() && (text[end] == 'e' || text[end] == 'E');
    if (!named && !exponent && end > point + 2) (*found)[node.begin + at] = text.substr(at, end - at);
    at = end;
  }
}

struct Candidate {
  int cost;
  std::string text;
};

std::string fraction(long numerator, long denominator, const std::string& root) {
  const std::string number = std::to_string(numerator);
  std::string text = root.empty() ? number : numerator == 1 ? root : number + "*" + root;
  if (denominator != 1) text += "/" + std::to_string(denominator);
  return text;
}

// Expressions within half a unit of the decimal's last digit, the simplest first. Doubles only propose here.
std::vector<std::string> meant_by(const std::string& decimal) {
  const double value = std::stod(decimal);
  const double half_unit = 0.5001 * std::pow(10, -static_cast<double>(decimal.size() - decimal.find('.') - 1));
  std::vector<Candidate> candidates;
  const auto is_near = [&](double other) { return std::abs(other - value) <= half_unit; };
  const auto multiples = [&](double root, const std::string& text, int cost) {
    for (long q = 1; q <= 12; ++q) {
      const long p = std::lround(value * static_cast<double>(q) / root);
      if (p < 1 || p > 99 || std::gcd(p, q) != 1 || !is_near(static_cast<double>(p) * root / static_cast<double>(q)))
        continue;
      candidates.push_back({cost + static_cast<int>(2 * p + 3 * q), fraction(p, q, text)});
    }
  };
  multiples(1, "", 4);
  for (int n = 2; n <= 30; ++n) {
    const auto is_power_free = [n](int k) {
      for (int b = 2; std::pow(b, k) <= n; ++b)
        if (n % static_cast<int>(std::lround(std::pow(b, k))) == 0) return false;
      return true;
    };
    if (is_power_free(2)) multiples(std::sqrt(n), "sqrt(" + std::to_string(n) + ")", n);
    if (is_power_free(3)) multiples(std::cbrt(n), "cbrt(" + std::to_string(n) + ")", n + 8);
    if (n <= 12 && is_power_free(2)) multiples(std::pow(n, 0.25), std::to_string(n) + "^(1/4)", n + 10);
    if (n > 13 || !is_power_free(2)) continue;
    for (long q = 1; q <= 4; ++q) {
      for (long b = -4; b <= 4; ++b) {
        const double rest = value * static_cast<double>(q) - static_cast<double>(b) * std::sqrt(n);
        const long a = std::lround(rest);
        if (b == 0 || a == 0 || std::abs(a) > 20 ||
            std::abs(rest - static_cast<double>(a)) > half_unit * static_cast<double>(q))
          continue;
        if (std::gcd(std::gcd(std::abs(a), std::abs(b)), q) != 1) continue;
        std::string sum =
            std::to_string(a) + (b < 0 ? " - " : " + ") + fraction(std::abs(b), 1, "sqrt(" + std::to_string(n) + ")");
        if (q != 1) sum = "(" + sum + ")/" + std::to_string(q);
        candidates.push_back({n + 12 + static_cast<int>(2 * std::abs(a) + 2 * std::abs(b) + 3 * q), sum});
      }
    }
  }
  std::stable_sort(candidates.begin(), candidates.end(),
                   [](const Candidate& a, const Candidate& b) { return a.cost < b.cost; });
  std::vector<std::string> texts;
  for (const Candidate& candidate : candidates) texts.push_back(candidate.text);
  return texts;
}

// In brackets, unless nothing else is at that place that they would have to part it from.
std::string written_at(const std::string& text, std::size_t place, std::size_t size, const std::string& expression) {
  const std::size_t before = text.find_last_not_of(' ', place == 0 ? 0 : place - 1);
  const std::size_t after = text.find_first_not_of(' ', place + size);
  const bool begins = before == std::string::npos || std::string_view(":[,\"").find(text[before]) != std::string_view::npos;
  const bool ends = after == std::string::npos || std::string_view("\r\n,]}#\"").find(text[after]) != std::string_view::npos;
  const bool simple = expression.find_first_of("+-*/^ ") == std::string::npos;
  return simple || (begins && ends) ? expression : "(" + expression + ")";
}

}  // namespace

void mend_numbers(const Failure& failure) {
  constexpr std::size_t most_candidates = 6;
  std::map<std::size_t, std::string> decimals;
  find_decimals(failure.text, failure.text.root(), &decimals);
  std::map<std::string, std::vector<std::size_t>> places;
  for (const auto& [place, text] : decimals) places[text].push_back(place);
  // The longest were most likely copied from a calculator.
  std::vector<Literal> literals;
  for (const auto& [text, all] : places) literals.push_back({text, all});
  std::stable_sort(literals.begin(), literals.end(),
                   [](const Literal& a, const Literal& b) { return a.text.size() > b.text.size(); });
  for (const Literal& literal : literals) {
    std::vector<std::string> candidates = meant_by(literal.text);
    if (candidates.size() > most_candidates) candidates.resize(most_candidates);
    for (const std::string& candidate : candidates) {
      if (failure.trials.done()) return;
      const std::string words = "write " + candidate + " for " + literal.text;
      std::vector<TextEdit> everywhere;
      for (const std::size_t place : literal.places)
        everywhere.push_back(
            {place, place + literal.text.size(), written_at(failure.text.text(), place, literal.text.size(), candidate)});
      if (failure.trials.mends({"number", words, everywhere, Weight::number, false})) break;
      if (everywhere.size() == 1) continue;
      for (const TextEdit& edit : everywhere) failure.trials.mends({"number", words, {edit}, Weight::number, false});
    }
  }
}

void mend_as_told(const Failure& failure) {
  failure.trials.begin_kind();
  for (const Finding& finding : failure.result->findings) {
    const std::size_t open = finding.hint.find('`');
    const std::size_t close = open == std::string::npos ? open : finding.hint.find('`', open + 1);
    if (close == std::string::npos || finding.line <= 0 || finding.column <= 0 || finding.caret_length <= 0) continue;
    const std::string instead = finding.hint.substr(open + 1, close - open - 1);
    const std::size_t begin = failure.text.position({finding.line, finding.column});
    const std::size_t end = failure.text.position({finding.line, finding.column + finding.caret_length});
    const std::string written = failure.text.text().substr(begin, end - begin);
    // Numbers only: what a name stands for is for its author to say.
    if (written.find_first_of("0123456789") == std::string::npos || instead.find_first_of("0123456789") == std::string::npos)
      continue;
    failure.trials.mends({"number", "write " + instead + " for " + written, {{begin, end, instead}}, Weight::number, false});
  }
}

namespace {

void find_angles(const Node& node, std::vector<const Node*>* found) {
  for (const Node::Entry& entry : node.entries) {
    if (entry.key == "angle" && entry.value.is_scalar()) found->push_back(&entry.value);
    find_angles(entry.value, found);
  }
}

}  // namespace

void mend_angles(const Failure& failure) {
  if (!failure.found("limit-reached")) return;
  failure.trials.begin_kind();
  std::vector<const Node*> angles;
  find_angles(failure.text.root(), &angles);
  for (const Node* angle : angles) {
    const std::string written = failure.text.source(*angle);
    const std::string sign = written.substr(0, 1) == "-" ? "-" : "";
    // Those of the plan's other turns first.
    std::vector<std::string> likely;
    for (const Node* other : angles) likely.push_back(failure.text.source(*other));
    for (const char* each : {"180 deg", "90 deg", "120 deg", "60 deg", "45 deg", "30 deg", "72 deg", "36 deg"})
      likely.push_back(sign + each);
    for (const std::string& each : likely) {
      if (failure.trials.done()) return;
      if (each == written) continue;
      failure.trials.mends({"motion",
                            "turn by " + each + " and not by " + written,
                            {{angle->begin, angle->end, each}},
                            Weight::number,
                            false});
    }
  }
}

}  // namespace cutproof
