// SPDX-License-Identifier: GPL-3.0-or-later
// An abstract run of the plan on names alone. A name is on the bench certainly, possibly, or not at all; names that cuts and
// splits number by themselves (`T.1.2`) are kept as families, because only the run tells how many there are.
#include "verify/names.hpp"

#include "plan/expression.hpp"
#include "plan/spelling.hpp"
#include "verify/text.hpp"

#include <algorithm>
#include <cctype>
#include <iterator>
#include <map>
#include <set>

namespace cutproof {

bool matches(const std::string& pattern, const std::string& name) {
  if (pattern == "all") return true;
  // Greedy matching with one point of return: the classical linear-space algorithm for patterns with `*` only.
  std::size_t p = 0, n = 0, star = std::string::npos, mark = 0;
  while (n < name.size()) {
    if (p < pattern.size() && pattern[p] == '*') {
      star = p++;
      mark = n;
    } else if (p < pattern.size() && pattern[p] == name[n]) {
      ++p;
      ++n;
    } else if (star != std::string::npos) {
      p = star + 1;
      n = ++mark;
    } else {
      return false;
    }
  }
  while (p < pattern.size() && pattern[p] == '*') ++p;
  return p == pattern.size();
}

namespace {

std::string without_digits(std::string name) {
  const auto is_digit = [](unsigned char letter) { return std::isdigit(letter) != 0; };
  name.erase(std::remove_if(name.begin(), name.end(), is_digit), name.end());
  return name;
}

std::string listed(const std::string& asked, std::vector<std::string> names, bool goes_on) {
  constexpr std::size_t most_shown = 8, most_ranked = 2000;
  if (names.size() <= most_ranked) names = nearest_first(asked, std::move(names));
  std::string text;
  for (std::size_t i = 0; i < names.size() && i < most_shown; ++i) text += (i ? ", `" : "`") + names[i] + "`";
  if (goes_on) return text + ", ...";
  return names.size() > most_shown ? text + " and " + std::to_string(names.size() - most_shown) + " more" : text;
}

}  // namespace

std::string bench_hint(const std::string& asked, BenchNames bench) {
  std::vector<std::string> all = bench.present;
  all.insert(all.end(), bench.perhaps.begin(), bench.perhaps.end());
  if (all.empty()) return "no piece is on the bench here";
  const std::string near = nearest_word(asked, all);
  if (!near.empty() && without_digits(near) != without_digits(asked)) return "did you mean `" + near + "`?";
  const std::string perhaps = listed(asked, std::move(bench.perhaps), bench.more_perhaps);
  if (bench.present.empty()) return "perhaps on the bench here: " + perhaps;
  const std::string hint = "on the bench here: " + listed(asked, std::move(bench.present), false);
  return perhaps.empty() ? hint : hint + "; and perhaps " + perhaps;
}

std::string bench_hint(const std::string& asked, std::vector<std::string> present) {
  return bench_hint(asked, BenchNames{std::move(present), {}, false});
}

std::string bench_hint(const std::string& asked, BenchNames bench, int step, int line) {
  return "step " + std::to_string(step) + " (line " + std::to_string(line) + ") used it up; " +
         bench_hint(asked, std::move(bench));
}

std::string bench_hint(const std::string& asked, std::vector<std::string> present, int step, int line) {
  return bench_hint(asked, BenchNames{std::move(present), {}, false}, step, line);
}

namespace {

// Left over: on the bench only if a step that should have used it up did not.
enum class Presence { certain, possible, left_over, gone };

constexpr std::size_t unknown = std::string::npos;

class NameBench {
 public:
  explicit NameBench(const ExactPlan& plan) : plan_(plan) {}

  NameErrors run() {
    for (const NamedSolid& piece : plan_.start) names_[piece.name] = Presence::certain;
    for (const AddedSolid& added : plan_.added) names_[added.named.name] = Presence::certain;
    for (std::size_t i = 0; i < plan_.steps.size(); ++i) {
      step_ = static_cast<int>(i) + 1;
      std::visit([this](const auto& action) { apply(action); }, plan_.steps[i].action);
    }
    return std::move(errors_);
  }

 private:
  /// All names that begin with `stem` (`T.`) and go on with at most `depth` numbers, dots between them, each 1 or 2 when
  /// `halves`, at least 1 otherwise.
  struct Family {
    std::string stem;
    std::size_t depth;
    bool halves;
    // For hints alone, counted as if the step did its work:
    std::size_t sure = 0;        ///< how many of the names with one number are there
    std::size_t most = unknown;  ///< how many there can be
    bool contains(const std::string& name) const {
      if (name.size() <= stem.size() || name.compare(0, stem.size(), stem) != 0) return false;
      std::size_t at = stem.size(), numbers = 0;
      while (at < name.size()) {
        if (numbers > 0 && name[at++] != '.') return false;
        const std::size_t begin = at;
        while (at < name.size() && std::isdigit(static_cast<unsigned char>(name[at]))) ++at;
        if (at == begin || name[begin] == '0') return false;
        if (halves && (at != begin + 1 || name[begin] > '2')) return false;
        ++numbers;
      }
      return numbers >= 1 && numbers <= depth;
    }
  };

  Presence presence(const std::string& name) const {
    const auto known = names_.find(name);
    if (known != names_.end()) return known->second;
    for (const Family& family : families_)
      if (family.contains(name)) return Presence::possible;
    return Presence::gone;
  }

  void error(const SelectorEntry& entry, const std::string& message, const std::string& hint) {
    if (++errors_.count > 100) return;  // enough to work on
    Finding finding;
    finding.code = "invalid-input";
    finding.step = step_;
    finding.message = message;
    set_place(finding, entry.place);
    finding.hint = hint;
    finding.caret_length = static_cast<int>(entry.text.size());
    errors_.listed.push_back(std::move(finding));
  }

  /// The bench at this step, if every step before it did its work.
  BenchNames bench() const {
    std::set<std::string> present, perhaps;
    BenchNames result;
    for (const auto& [known, how] : names_) {
      if (how == Presence::certain) present.insert(known);
      if (how == Presence::possible) perhaps.insert(known);
    }
    const auto add = [&](std::set<std::string>& to, const std::string& name) {
      if (names_.count(name) == 0) to.insert(name);
    };
    for (const Family& family : families_) {
      for (std::size_t i = 1; i <= family.sure; ++i) add(present, family.stem + std::to_string(i));
      if (family.sure == family.most) continue;
      if (!family.halves) {
        const std::size_t last = std::min(family.most, family.sure + 2);
        for (std::size_t i = family.sure + 1; i <= last; ++i) add(perhaps, family.stem + std::to_string(i));
        result.more_perhaps = result.more_perhaps || last < family.most || family.depth > 1;
        continue;
      }
      constexpr std::size_t deepest = 3;
      std::vector<std::string> stems = {family.stem};
      for (std::size_t depth = 0; depth < std::min(family.depth, deepest); ++depth) {
        std::vector<std::string> halves;
        for (const std::string& stem : stems)
          for (const char* half : {"1", "2"}) halves.push_back(stem + half);
        stems.clear();
        for (const std::string& half : halves) {
          add(perhaps, half);
          stems.push_back(half + ".");
        }
      }
      result.more_perhaps = result.more_perhaps || family.depth > deepest;
    }
    result.present.assign(present.begin(), present.end());
    std::set_difference(perhaps.begin(), perhaps.end(), present.begin(), present.end(), std::back_inserter(result.perhaps));
    return result;
  }

  int line_of(int step) const { return plan_.steps[static_cast<std::size_t>(step) - 1].place.line; }

  /// The names that the entry certainly or possibly takes; reports an entry that can take none.
  std::vector<std::string> take(const SelectorEntry& entry, bool* open_ended = nullptr) {
    std::vector<std::string> taken;
    if (entry.by_place != nullptr) {
      // Which pieces lie there only the run tells: it may be any.
      for (const std::optional<Selector>* inner : {&entry.by_place->touching, &entry.by_place->from, &entry.by_place->but})
        if (*inner)
          for (const SelectorEntry& each : **inner) take(each);
      for (const auto& [name, how] : names_)
        if (how != Presence::gone) taken.push_back(name);
      if (open_ended) *open_ended = !families_.empty();
      return taken;
    }
    if (!entry.is_pattern()) {
      const Presence how = presence(entry.text);
      if (how == Presence::gone) {
        const bool was = names_.count(entry.text) != 0;
        error(entry,
              was ? "the piece `" + entry.text + "` is no longer on the bench at this step"
                  : "there is no piece `" + entry.text + "`",
              was ? bench_hint(entry.text, bench(), used_up_.at(entry.text), line_of(used_up_.at(entry.text)))
                  : bench_hint(entry.text, bench()));
      } else {
        taken.push_back(entry.text);
      }
      return taken;
    }
    for (const auto& [name, how] : names_)
      if (how != Presence::gone && matches(entry.text, name)) taken.push_back(name);
    bool families_may_match = false;
    for (const Family& family : families_) families_may_match = families_may_match || may_match(entry.text, family);
    if (open_ended) *open_ended = families_may_match;
    if (taken.empty() && !families_may_match)
      error(entry, "the pattern `" + entry.text + "` matches no piece", bench_hint(entry.text, bench()));
    return taken;
  }

  /// Whether a name of the family could match: decided on the text before the pattern's first `*`.
  static bool may_match(const std::string& pattern, const Family& family) {
    if (pattern == "all") return true;
    const std::string head = pattern.substr(0, pattern.find('*'));
    const std::size_t common = std::min(head.size(), family.stem.size());
    return head.compare(0, common, family.stem, 0, common) == 0;
  }

  /// A step uses up what the entry takes: which names of families are left only the run tells.
  void use_up(const SelectorEntry& entry) {
    if (!entry.is_pattern()) return;
    for (Family& family : families_) {
      if (entry.by_place == nullptr && !may_match(entry.text, family)) continue;
      family.sure = 0;
    }
  }

  void make(const PlacedName& name, const std::set<std::string>& consumed) {
    if (presence(name.name) == Presence::certain && consumed.count(name.name) == 0)
      error({name.name, name.place}, "a piece named `" + name.name + "` is on the bench already",
            "choose another name, or join or cut that piece first");
    names_[name.name] = Presence::certain;
  }

  void apply(const CutStep& cut) {
    const bool makes_halves = !cut.has_names && !cut.numbering;
    std::set<std::string> by_name;
    std::vector<std::string> by_pattern;
    bool families_taken = false;
    for (const SelectorEntry& entry : cut.pieces) {
      bool open_ended = false;
      for (std::string& name : take(entry, &open_ended)) {
        if (entry.is_pattern()) {
          by_pattern.push_back(std::move(name));
        } else {
          by_name.insert(std::move(name));
        }
      }
      families_taken = families_taken || open_ended;
    }
    const std::size_t planes = cut.planes.size();
    for (const SelectorEntry& entry : cut.pieces) use_up(entry);
    for (const std::string& name : by_pattern) {
      if (by_name.count(name) != 0) continue;
      if (names_[name] == Presence::certain) names_[name] = Presence::possible;
      if (makes_halves) add_family({name + ".", planes, true});
    }
    for (const std::string& name : by_name) {
      names_[name] = Presence::left_over;  // where the plane misses, the piece stays
      const std::size_t sure = planes == 1 ? 2 : 0;
      if (makes_halves) add_family({name + ".", planes, true, sure, planes == 1 ? sure : unknown});
    }
    if (families_taken)
      for (Family& family : families_) family.depth = std::string::npos;
    if (cut.numbering) {
      // Each plane passes through at least one part, and halves every part at most.
      const bool by_name_alone = by_pattern.empty() && !families_taken;
      const std::size_t least = std::max<std::size_t>(by_name.size(), 1) * (planes + 1);
      add_family({cut.numbering->stem, 1, false, least, by_name_alone && planes == 1 ? least : unknown});
    }
    if (cut.has_names) {
      std::set<std::string> consumed = by_name;
      consumed.insert(by_pattern.begin(), by_pattern.end());
      make(cut.positive, consumed);
      make(cut.negative, consumed);
    }
  }

  /// Names that were on the bench once may come back: what they begin with is made again.
  void add_family(Family family) {
    const std::string& stem = family.stem;
    for (auto it = names_.lower_bound(stem); it != names_.end() && it->first.compare(0, stem.size(), stem) == 0;)
      it = it->second == Presence::gone ? names_.erase(it) : std::next(it);
    const auto [known, fresh] = family_at_.emplace(std::make_pair(stem, family.halves), families_.size());
    if (fresh) {
      families_.push_back(std::move(family));
    } else {
      Family& again = families_[known->second];
      again.depth = std::max(again.depth, family.depth);
      again.sure = family.sure;
      again.most = std::max(again.most, family.most);
    }
  }

  void apply(const MoveStep& move) {
    for (const MoveEntry& entry : move.entries) take_of_searches(entry);
    std::map<std::string, std::size_t> moved;
    for (std::size_t i = 0; i < move.entries.size(); ++i)
      for (const SelectorEntry& entry : move.entries[i].pieces)
        for (const std::string& name : take(entry)) {
          if (entry.by_place != nullptr) break;
          const auto [known, fresh] = moved.emplace(name, i);
          if (!fresh && known->second != i && presence(name) == Presence::certain)
            error(entry, "the piece `" + name + "` is moved twice in this step",
                  "give it one motion: a list of motions is run left to right");
        }
  }

  void apply(const JoinStep& join) {
    std::set<std::string> consumed;
    for (const SelectorEntry& entry : join.pieces)
      for (std::string& name : take(entry)) {
        if (entry.by_place != nullptr) {
          if (presence(name) == Presence::certain) names_[name] = Presence::possible;
        } else {
          consumed.insert(std::move(name));
        }
      }
    for (const SelectorEntry& entry : join.pieces) use_up(entry);
    for (const std::string& name : consumed) {
      names_[name] = Presence::gone;
      used_up_[name] = step_;
    }
    make(join.result, consumed);
  }

  void apply(const SplitStep& split) {
    std::set<std::string> consumed;
    for (const SelectorEntry& entry : split.pieces)
      for (std::string& name : take(entry)) consumed.insert(std::move(name));
    for (const SelectorEntry& entry : split.pieces) use_up(entry);
    for (const std::string& name : consumed) {
      // One part keeps its name; with a wrong number of names the piece stays.
      names_[name] = split.names.empty() ? Presence::possible : Presence::left_over;
      if (split.names.empty() && !split.numbering) add_family({name + ".", 1, false});
    }
    if (split.numbering) add_family({split.numbering->stem, 1, false});
    for (const PlacedName& name : split.names) make(name, consumed);
  }

  void apply(const UseStep& use) {
    std::set<std::string> consumed;
    for (const UseStep::Taken& taken : use.taken)
      for (std::string& name : take(taken.piece)) consumed.insert(std::move(name));
    if (use.by) take_of_searches(*use.by);
    for (const std::string& name : consumed) names_[name] = Presence::left_over;  // where it does not fit, the piece stays
    for (const UseStep::Made& made : use.made) make(made.name, consumed);
  }

  void take_of_searches(const MoveEntry& entry) {
    for (const MotionPart& part : entry.parts)
      if (const auto* search = std::get_if<MotionSearch>(&part); search != nullptr && search->onto == nullptr)
        take(search->against);
  }

  void apply(const ExpectStep& expect) {
    for (const auto& volume : expect.volumes) take(std::get<0>(volume));
    if (expect.connected)
      for (const SelectorEntry& entry : *expect.connected) take(entry);
    for (const SelectorEntry& entry : expect.filled_by) take(entry);
    if (expect.congruent)
      for (const SelectorEntry& entry : *expect.congruent) take(entry);
    for (const SelectorEntry& entry : expect.shapes_of) take(entry);
    for (const AngleAudit& audit : expect.angles) take(audit.piece);
    for (const auto& zero : expect.dehn_zero) take(zero.first);
  }

  const ExactPlan& plan_;
  int step_ = 0;
  std::map<std::string, Presence> names_;
  std::map<std::string, int> used_up_;  ///< by which step: of all names that are gone
  std::vector<Family> families_;
  std::map<std::pair<std::string, bool>, std::size_t> family_at_;  ///< by stem and kind
  NameErrors errors_;
};

}  // namespace

NameErrors check_names(const ExactPlan& plan) {
  return NameBench(plan).run();
}

}  // namespace cutproof
