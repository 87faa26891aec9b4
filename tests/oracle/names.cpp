// SPDX-License-Identifier: GPL-3.0-or-later
// A run on names alone. Stems stand for all names that begin with them: how many parts a split makes only geometry knows.
#include "oracle/names.hpp"

#include <algorithm>
#include <map>
#include <set>
#include <variant>
#include <vector>

namespace cutproof::oracle {

bool fits(const std::string& pattern, const std::string& name) {
  if (pattern == "all") return true;
  if (pattern.empty()) return name.empty();
  if (pattern.front() == '*') {
    for (std::size_t skipped = 0; skipped <= name.size(); ++skipped)
      if (fits(pattern.substr(1), name.substr(skipped))) return true;
    return false;
  }
  return !name.empty() && name.front() == pattern.front() && fits(pattern.substr(1), name.substr(1));
}

namespace {

enum class State { sure, perhaps, consumed };

class IdealRun {
 public:
  std::string judge(const ExactPlan& plan) {
    for (const NamedSolid& piece : plan.start) names_[piece.name] = State::sure;
    for (const Step& step : plan.steps) std::visit([this](const auto& action) { run(action); }, step.action);
    return why_;
  }

 private:
  void wrong(const std::string& message) {
    if (why_.empty()) why_ = message;
  }

  bool below_a_stem(const std::string& name) const {
    return std::any_of(stems_.begin(), stems_.end(), [&](const std::string& stem) {
      return name.size() > stem.size() && name.compare(0, stem.size(), stem) == 0 &&
             name.find_first_not_of("0123456789.", stem.size()) == std::string::npos;
    });
  }

  /// What a selection by place takes, may be gone afterwards when it `weakens`.
  std::set<std::string> taken(const Selector& selector, bool weakens = false) {
    std::set<std::string> names;
    for (const SelectorEntry& entry : selector) {
      if (entry.by_place != nullptr) {  // any piece may lie there
        for (const std::optional<Selector>* inner : {&entry.by_place->touching, &entry.by_place->from, &entry.by_place->but})
          if (*inner) taken(**inner);
        for (auto& [name, state] : names_)
          if (state != State::consumed) {
            if (weakens) state = State::perhaps;
            if (weakens) names.insert(name);
          }
        continue;
      }
      if (!entry.is_pattern()) {
        const auto known = names_.find(entry.text);
        if (known == names_.end() ? !below_a_stem(entry.text) : known->second == State::consumed)
          wrong("no piece " + entry.text);
        names.insert(entry.text);
        continue;
      }
      bool any = !stems_.empty();
      for (const auto& [name, state] : names_)
        if (state != State::consumed && fits(entry.text, name)) {
          any = true;
          names.insert(name);
        }
      if (!any) wrong("nothing fits " + entry.text);
    }
    return names;
  }

  void make(const std::string& name, const std::set<std::string>& used) {
    const auto known = names_.find(name);
    if (known != names_.end() && known->second == State::sure && used.count(name) == 0) wrong(name + " is there already");
    names_[name] = State::sure;
  }

  void comes_apart(const std::string& name) {
    const std::string stem = name + ".";
    for (auto below = names_.lower_bound(stem); below != names_.end() && below->first.compare(0, stem.size(), stem) == 0;)
      below = below->second == State::consumed ? names_.erase(below) : std::next(below);
    stems_.insert(stem);
    names_[name] = State::perhaps;
  }

  void run(const CutStep& step) {
    const std::set<std::string> used = taken(step.pieces, true);
    for (const std::string& name : used) {
      if (step.has_names) {
        names_[name] = State::perhaps;
      } else {
        comes_apart(name);
      }
    }
    if (!step.has_names) return;
    make(step.positive.name, used);
    make(step.negative.name, used);
  }
  void run(const MoveStep& step) {
    for (const MoveEntry& entry : step.entries)
      for (const MotionPart& part : entry.parts)
        if (const auto* search = std::get_if<MotionSearch>(&part); search != nullptr && search->onto == nullptr)
          taken({search->against});
    std::set<std::string> moved;
    for (const MoveEntry& entry : step.entries)
      for (const std::string& name : taken(entry.pieces))
        if (!moved.insert(name).second && names_[name] == State::sure) wrong(name + " is moved twice");
  }
  void run(const JoinStep& step) {
    const bool by_place = std::any_of(step.pieces.begin(), step.pieces.end(),
                                      [](const SelectorEntry& entry) { return entry.by_place != nullptr; });
    const std::set<std::string> used = taken(step.pieces, true);
    for (const std::string& name : used)
      if (!by_place) names_[name] = State::consumed;
    make(step.result.name, used);
  }
  void run(const SplitStep& step) {
    const std::set<std::string> used = taken(step.pieces, true);
    for (const std::string& name : used) {
      if (step.names.empty()) {
        comes_apart(name);
      } else {
        names_[name] = State::perhaps;  // it stays when the number of names is wrong
      }
    }
    for (const PlacedName& name : step.names) make(name.name, used);
  }
  void run(const UseStep& step) {
    std::set<std::string> used;
    for (const UseStep::Taken& each : step.taken)
      for (const std::string& name : taken({each.piece})) used.insert(name);
    for (const std::string& name : used) names_[name] = State::perhaps;  // it stays where it does not fit
    for (const UseStep::Made& made : step.made) make(made.name.name, used);
  }
  void run(const ExpectStep& step) {
    for (const auto& volume : step.volumes) taken({std::get<0>(volume)});
    if (step.connected) taken(*step.connected);
    taken(step.filled_by);
    if (step.congruent) taken(*step.congruent);
    taken(step.shapes_of);
    for (const AngleAudit& audit : step.angles) taken({audit.piece});
    for (const auto& zero : step.dehn_zero) taken({zero.first});
  }

  std::map<std::string, State> names_;
  std::set<std::string> stems_;
  std::string why_;
};

}  // namespace

std::string impossible_name(const ExactPlan& plan) {
  return IdealRun().judge(plan);
}

}  // namespace cutproof::oracle
