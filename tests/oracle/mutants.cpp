// SPDX-License-Identifier: GPL-3.0-or-later
// Each kind of fault finds the places in the text where it could be made, and one is drawn. A fault that leaves no plan that
// can be read is as welcome as one that changes nothing: all three judges have to say so.
#include "oracle/mutants.hpp"

#include <algorithm>
#include <cctype>
#include <functional>
#include <regex>
#include <set>
#include <utility>

namespace cutproof::oracle {
namespace {

/// A place in the text, and what could stand there instead.
struct Change {
  std::size_t begin, end;
  std::string text;
};
using Changes = std::vector<Change>;

struct Span {
  std::size_t begin, end;
};

/// A plan's text with what the faults need to know about it.
class PlanText {
 public:
  explicit PlanText(const std::string& text) : text_(text) {
    for (std::size_t begin = 0; begin < text.size();) {
      std::size_t end = text.find('\n', begin);
      if (end == std::string::npos) end = text.size();
      add_line(begin, end);
      begin = end + 1;
    }
  }

  const std::string& text() const { return text_; }
  std::string at(const Span& span) const { return text_.substr(span.begin, span.end - span.begin); }
  /// What may hold expressions, without comments, titles and the head.
  const std::vector<Span>& code() const { return code_; }
  const std::vector<Span>& steps() const { return steps_; }
  const std::vector<Span>& start() const { return start_; }
  const std::vector<Span>& goal() const { return goal_; }

  template <class Use>
  void for_each_match(const std::vector<Span>& spans, const std::regex& pattern, const Use& use) const {
    for (const Span& span : spans)
      for (std::sregex_iterator match(text_.begin() + span.begin, text_.begin() + span.end, pattern), none; match != none;
           ++match)
        use(*match, span.begin);
  }

  /// Names of pieces: the keys under `start`, and what `into` and `as` say.
  std::set<std::string> piece_names() const {
    std::set<std::string> names;
    static const std::regex key("^  ([A-Za-z_][A-Za-z0-9_.-]*):"), into("into: \\[([^\\]]*)\\]"),
        as("as: ([A-Za-z0-9_.-]+)"), word("[A-Za-z_][A-Za-z0-9_.-]*");
    for_each_match(start_, key, [&](const std::smatch& match, std::size_t) { names.insert(match[1]); });
    for_each_match(code_, as, [&](const std::smatch& match, std::size_t) { names.insert(match[1]); });
    for_each_match(code_, into, [&](const std::smatch& match, std::size_t) {
      const std::string list = match[1];
      for (std::sregex_iterator name(list.begin(), list.end(), word), none; name != none; ++name) names.insert(name->str());
    });
    return names;
  }

 private:
  void add_line(std::size_t begin, std::size_t end) {
    const std::string line = text_.substr(begin, end - begin);
    if (!line.empty() && std::isalpha(static_cast<unsigned char>(line.front()))) section_ = line.substr(0, line.find(':'));
    if (section_ == "steps") {
      if (line.compare(0, 4, "  - ") == 0) {
        steps_.push_back({begin, end + 1});
      } else if (!steps_.empty() && line.compare(0, 4, "    ") == 0) {
        steps_.back().end = end + 1;
      }
    }
    static const std::regex prose("^(  (- )?|    )(\\{ )?(title|note|source):");
    static const std::set<std::string> with_code = {"let",    "points", "planes", "motions",
                                                    "solids", "start",  "steps",  "goal"};
    if (with_code.count(section_) == 0 || std::regex_search(line, prose)) return;
    const std::size_t comment = std::min(line.find(" #"), line.find('#') == 0 ? 0 : std::string::npos);
    std::size_t length = comment == std::string::npos ? line.size() : comment;
    while (length > 0 && line[length - 1] == ' ') --length;
    if (length == 0) return;
    code_.push_back({begin, begin + length});
    if (section_ == "start") start_.push_back(code_.back());
    if (section_ == "goal") goal_.push_back(code_.back());
  }

  std::string text_, section_;
  std::vector<Span> code_, steps_, start_, goal_;
};

// --- numbers
// ----------------------------------------------------------------------------------------------------------------

/// Numbers that stand for themselves: no part of a name, no exponent, no count. `angles`: those in degrees, or all others.
std::vector<Span> numbers(const PlanText& plan, bool angles) {
  static const std::regex word("[A-Za-z0-9_.]([A-Za-z0-9_.-]*[A-Za-z0-9_.])?"), number("[0-9]*\\.?[0-9]+");
  std::vector<Span> found;
  plan.for_each_match(plan.code(), word, [&](const std::smatch& match, std::size_t line) {
    if (!std::regex_match(match.str(), number)) return;
    const std::size_t begin = line + static_cast<std::size_t>(match.position());
    const std::string before = plan.at({line, begin}), after = match.suffix();
    const std::size_t bracket = before.rfind('(');
    const bool in_exponent = (!before.empty() && before.back() == '^') ||
                             (bracket != std::string::npos && bracket > 0 && before[bracket - 1] == '^' &&
                              before.find(')', bracket) == std::string::npos);
    const bool is_count = before.size() >= 8 && before.compare(before.size() - 8, 8, "pieces: ") == 0;
    const bool is_angle = after.compare(0, 4, " deg") == 0;
    if (in_exponent || is_count || is_angle != angles) return;
    found.push_back({begin, begin + match.str().size()});
  });
  return found;
}

Changes nudges(const PlanText& plan, const std::string& amount) {
  Changes changes;
  for (const Span& span : numbers(plan, false))
    for (const char* sign : {" + ", " - "})
      changes.push_back({span.begin, span.end, "(" + plan.at(span) + sign + amount + ")"});
  return changes;
}

Changes flipped_signs(const PlanText& plan) {
  Changes changes;
  for (const Span& span : numbers(plan, false))
    if (plan.at(span) != "0") changes.push_back({span.begin, span.end, "(-" + plan.at(span) + ")"});
  static const std::regex sum(" [+-] ");
  plan.for_each_match(plan.code(), sum, [&](const std::smatch& match, std::size_t line) {
    const std::size_t sign = line + static_cast<std::size_t>(match.position()) + 1;
    if (match.str() == " - " && plan.text().find_first_not_of(' ', plan.text().rfind('\n', sign) + 1) == sign)
      return;  // a list's dash
    changes.push_back({sign, sign + 1, match.str() == " + " ? "-" : "+"});
  });
  return changes;
}

Changes wrong_angles(const PlanText& plan) {
  Changes changes;
  for (const Span& span : numbers(plan, true)) {
    const std::string angle = plan.at(span);
    changes.push_back({span.begin, span.end, "-" + angle});
    changes.push_back({span.begin, span.end, "2*" + angle});
    changes.push_back({span.begin, span.end, "30 deg + " + angle});
    changes.push_back({span.begin, span.end, "acos((10^24 - 1)/(10^24 + 1)) + " + angle});
  }
  static const std::regex half_turn("half-turn: (\\[[^\\]]*\\]|[xyz])");
  plan.for_each_match(plan.code(), half_turn, [&](const std::smatch& match, std::size_t line) {
    const std::size_t begin = line + static_cast<std::size_t>(match.position());
    for (const char* angle :
         {"120 deg", "90 deg", "180 deg + acos(3/5)", "acos((1 - 10^12)/(10^12 + 1))", "acos((1 - 10^30)/(10^30 + 1))"})
      changes.push_back(
          {begin, begin + match.str().size(), "rotation: { about: " + match[1].str() + ", angle: " + angle + " }"});
  });
  return changes;
}

// --- steps
// ------------------------------------------------------------------------------------------------------------------

Changes dropped_steps(const PlanText& plan) {
  Changes changes;
  for (const Span& step : plan.steps()) changes.push_back({step.begin, step.end, ""});
  return changes;
}

Changes doubled_steps(const PlanText& plan) {
  Changes changes;
  for (const Span& step : plan.steps()) changes.push_back({step.begin, step.end, plan.at(step) + plan.at(step)});
  return changes;
}

Changes swapped_steps(const PlanText& plan) {
  Changes changes;
  for (std::size_t i = 0; i + 1 < plan.steps().size(); ++i) {
    const Span &first = plan.steps()[i], &second = plan.steps()[i + 1];
    changes.push_back({first.begin, second.end,
                       plan.at(second) + plan.text().substr(first.end, second.begin - first.end) + plan.at(first)});
  }
  return changes;
}

Changes exchanged_pieces(const PlanText& plan) {
  static const std::regex word("[A-Za-z_][A-Za-z0-9_.-]*"), prose("(title|note): .*");
  const std::set<std::string> known = plan.piece_names();
  Changes changes;
  for (const Span& step : plan.steps()) {
    std::vector<std::pair<Span, std::string>> places;
    std::set<std::string> names;
    for (const Span& line : plan.code()) {
      if (line.begin < step.begin || line.end > step.end) continue;
      plan.for_each_match({line}, word, [&](const std::smatch& match, std::size_t begin) {
        const std::string name = match.str(), after = match.suffix();
        if (known.count(name) == 0 && name.find('.') == std::string::npos) return;
        const std::size_t at = begin + static_cast<std::size_t>(match.position());
        places.push_back({{at, at + name.size()}, name});
        names.insert(name);
      });
    }
    for (const std::string& a : names)
      for (const std::string& b : names) {
        if (!(a < b)) continue;
        std::string text;
        std::size_t copied = step.begin;
        for (const auto& [span, name] : places) {
          if (name != a && name != b) continue;
          text += plan.text().substr(copied, span.begin - copied) + (name == a ? b : a);
          copied = span.end;
        }
        changes.push_back({step.begin, step.end, text + plan.text().substr(copied, step.end - copied)});
      }
  }
  return changes;
}

// --- planes and motions
// -----------------------------------------------------------------------------------------------------

Changes reversed_planes(const PlanText& plan) {
  static const std::regex equation("equation: \"([^\"=]*) = ([^\"=]*)\""),
      normal("normal: (\\[[^\\]]*\\]|[A-Za-z0-9_ +*-]+)"), points("(through|between): \\[([^,\\]]*), ([^,\\]]*)"),
      into("into: \\[([^,\\]]*), ([^,\\]]*)\\]");
  Changes changes;
  const auto replace = [&](const std::smatch& match, std::size_t line, const std::string& text) {
    const std::size_t begin = line + static_cast<std::size_t>(match.position());
    changes.push_back({begin, begin + match.str().size(), text});
  };
  plan.for_each_match(plan.code(), equation, [&](const std::smatch& match, std::size_t line) {
    replace(match, line, "equation: \"" + match[2].str() + " = " + match[1].str() + "\"");
  });
  plan.for_each_match(plan.code(), normal, [&](const std::smatch& match, std::size_t line) {
    std::string value = match[1];
    while (value.back() == ' ') value.pop_back();
    replace(match, line, "normal: \"-(" + value + ")\" ");
  });
  plan.for_each_match(plan.code(), points, [&](const std::smatch& match, std::size_t line) {
    replace(match, line, match[1].str() + ": [" + match[3].str() + ", " + match[2].str());
  });
  plan.for_each_match(plan.code(), into, [&](const std::smatch& match, std::size_t line) {
    replace(match, line, "into: [" + match[2].str() + ", " + match[1].str() + "]");
  });
  return changes;
}

const std::vector<std::string>& mirrors() {
  static const std::vector<std::string> planes = {"x = 0", "x = 1", "y = 1/2", "z = 1/2", "x = y", "x + y = 1"};
  return planes;
}

Changes mirror_images(const PlanText& plan, const std::function<Changes(const std::vector<std::string>&)>& wrap_solids) {
  Changes changes;
  std::vector<std::string> wrappers;
  for (const std::string& plane : mirrors()) {
    static const std::regex motion("\\{ (half-turn|translation|rotation|map|inverse|reflection): ");
    plan.for_each_match(plan.code(), motion, [&](const std::smatch& match, std::size_t line) {
      // From the brace to its partner: a list of the motion and a reflection.
      const std::size_t begin = line + static_cast<std::size_t>(match.position());
      int depth = 0;
      for (std::size_t end = begin; end < plan.text().size(); ++end) {
        if (plan.text()[end] == '{') ++depth;
        if (plan.text()[end] == '}' && --depth == 0) {
          changes.push_back(
              {begin, end + 1, "[" + plan.at({begin, end + 1}) + ", { reflection: { equation: \"" + plane + "\" } }]"});
          return;
        }
      }
    });
    wrappers.push_back("{ mirrored: { solid: @, in: { equation: \"" + plane + "\" } } }");
  }
  for (Change& change : wrap_solids(wrappers)) changes.push_back(std::move(change));
  return changes;
}

// --- start and goal
// ---------------------------------------------------------------------------------------------------------

/// Every solid that stands on one line of the section, wrapped; `@` in a wrapper is the solid.
Changes wrapped(const PlanText& plan, const std::vector<Span>& section, const std::vector<std::string>& wrappers) {
  static const std::regex entry("^(goal: |  - |  [A-Za-z_][A-Za-z0-9_.-]*: )([^ ].*)$");
  static const std::set<std::string> solids = {"box",   "prism", "pyramid",      "convex-hull", "faces",  "regular",
                                               "union", "moved", "intersection", "difference",  "scaled", "mirrored"};
  Changes changes;
  std::string first_key = section.empty() ? "" : plan.at(section.size() > 1 ? section[1] : section[0]);
  first_key = first_key.substr(0, first_key.find(':'));
  first_key.erase(0, first_key.find_first_not_of(' ') == std::string::npos ? 0 : first_key.find_first_not_of(' '));
  const bool whole = solids.count(first_key) != 0;  // the section is one solid in block style
  if (whole) {
    const std::size_t begin = section[1].begin, end = section.back().end;
    std::string block = "\n" + plan.text().substr(begin, end - begin);
    for (std::size_t at = 0; (at = block.find('\n', at)) != std::string::npos; at += 5) block.insert(at + 1, "    ");
    for (const std::string& wrapper : wrappers) {
      // { kind: { solid: @, more: ... } } in block style
      const std::size_t kind = wrapper.find(": { solid: @, ");
      const std::string rest = wrapper.substr(kind + 14, wrapper.size() - kind - 14 - 4);
      std::string more = rest;
      std::size_t about = more.find(", about: ");
      if (about != std::string::npos) more.replace(about, 2, "\n    ");
      changes.push_back({begin, end, "  " + wrapper.substr(2, kind - 2) + ":\n    " + more + "\n    solid:" + block});
    }
    return changes;
  }
  plan.for_each_match(section, entry, [&](const std::smatch& match, std::size_t line) {
    const std::size_t begin = line + static_cast<std::size_t>(match.position(2));
    for (const std::string& wrapper : wrappers) {
      std::string text = wrapper;
      changes.push_back({begin, begin + match[2].str().size(), text.replace(text.find('@'), 1, match[2].str())});
    }
  });
  return changes;
}

std::vector<std::string> displacements() {
  std::vector<std::string> wrappers;
  for (const char* factor : {"1 + 1e-12", "1 - 1e-30", "101/100", "2", "1/2"})
    for (const char* about : {"[0, 0, 0]", "[1, 1/2, 1/3]"})
      wrappers.push_back(std::string("{ scaled: { solid: @, factor: ") + factor + ", about: " + about + " } }");
  for (const char* shift :
       {"[1e-12, 0, 0]", "[0, 1e-30, 0]", "[0, 0, -1e-30]", "[1/2, 0, 0]", "[0, 1, 0]", "[1/3, 1/5, 1/7]", "[0, 0, 20]"})
    wrappers.push_back(std::string("{ moved: { solid: @, by: { translation: ") + shift + " } } }");
  return wrappers;
}

}  // namespace

std::vector<Mutant> mutants_of(const std::string& text, std::size_t count, std::uint64_t seed) {
  const PlanText plan(text);
  const auto wrap_solids = [&](const std::vector<std::string>& wrappers) {
    Changes changes = wrapped(plan, plan.goal(), wrappers);
    for (Change& change : wrapped(plan, plan.start(), wrappers)) changes.push_back(std::move(change));
    return changes;
  };
  std::vector<std::pair<std::string, Changes>> kinds = {
      {"number nudged by 1e-12", nudges(plan, "1e-12")},
      {"step dropped", dropped_steps(plan)},
      {"goal scaled or shifted", wrapped(plan, plan.goal(), displacements())},
      {"plane reversed", reversed_planes(plan)},
      {"number nudged by 1e-30", nudges(plan, "1e-30")},
      {"pieces exchanged", exchanged_pieces(plan)},
      {"angle off", wrong_angles(plan)},
      {"sign flipped", flipped_signs(plan)},
      {"mirror image", mirror_images(plan, wrap_solids)},
      {"step doubled", doubled_steps(plan)},
      {"steps swapped", swapped_steps(plan)},
  };
  Dice dice(seed);
  std::vector<Mutant> mutants;
  std::set<std::string> seen = {text};
  for (std::size_t turn = dice.below(kinds.size()); mutants.size() < count && turn < 100 * count; ++turn) {
    auto& [kind, changes] = kinds[turn % kinds.size()];
    if (changes.empty()) continue;
    const std::size_t drawn = dice.below(changes.size());
    const Change change = std::move(changes[drawn]);
    changes.erase(changes.begin() + static_cast<std::ptrdiff_t>(drawn));
    std::string mutated = text;
    mutated.replace(change.begin, change.end - change.begin, change.text);
    if (seen.insert(mutated).second) mutants.push_back({kind, change.text, std::move(mutated)});
  }
  return mutants;
}

}  // namespace cutproof::oracle
