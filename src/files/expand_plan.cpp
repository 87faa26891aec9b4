// SPDX-License-Identifier: GPL-3.0-or-later
// A plan is carried out as `check` does it, and what happens is written down in the words of version 1.
#include "cutproof/writing.hpp"
#include "files/check_text.hpp"
#include "files/read_file.hpp"
#include "number/print.hpp"
#include "plan/exact_value.hpp"
#include "plan/plan_index.hpp"
#include "plan/write_plan.hpp"
#include "verify/names.hpp"
#include "verify/observer.hpp"

#include <algorithm>
#include <iterator>
#include <map>
#include <set>
#include <utility>

namespace cutproof {

namespace {

using Names = std::vector<std::string>;

PlanValue value_of(const Names& texts) {
  PlanValue list = PlanValue::list();
  for (const std::string& text : texts) list.add(text);
  return list;
}

PlanValue pieces_value(const Names& selected) {
  return selected.size() == 1 ? PlanValue(selected.front()) : value_of(selected);
}

void add_new(Names* names, const std::string& name) {
  if (std::find(names->begin(), names->end(), name) == names->end()) names->push_back(name);
}

/// A pattern that takes this piece and no other one on the bench; empty when there is none.
std::string pattern_for(const std::string& name, const Names& bench) {
  for (std::size_t at = name.size();; --at) {
    const std::string pattern = name.substr(0, at) + "*" + name.substr(at);
    if (std::none_of(bench.begin(), bench.end(),
                     [&](const std::string& other) { return other != name && matches(pattern, other); }))
      return pattern;
    if (at == 0) return "";
  }
}

/// Writes the steps of a run as they are done.
class Expansion final : public RunObserver {
 public:
  Expansion(const ExactPlan& plan, std::string* text) : plan_(plan), text_(text) {}

  void on_selected(const PlaceSelection& place, const std::vector<Bench::Position>& pieces) override {
    Names names;
    for (const Bench::Position& piece : pieces) names.push_back(piece->name);
    selected_[&place] = std::move(names);
  }
  void on_found(const MoveEntry& entry, const Motion& motion) override { found_.insert_or_assign(&entry, motion); }
  void on_replaced(const std::vector<const BenchPiece*>& consumed, const std::vector<const BenchPiece*>&) override {
    for (const BenchPiece* piece : consumed) used_up_.insert(piece->name);
  }
  void on_bench(int step, const Bench& bench) override {
    if (step > 0) {
      const Step& done = plan_.steps[static_cast<std::size_t>(step) - 1];
      title_ = done.title;
      for (const std::string& group : done.groups) {
        if (title_.empty() && &group == &done.groups.back()) {
          title_ = group;
        } else {
          comment(group);
        }
      }
      note_ = done.note;
      std::visit([this](const auto& action) { write(action); }, done.action);
    }
    bench_.clear();
    for (const BenchPiece& piece : bench.pieces()) bench_.push_back(piece.name);
    selected_.clear();
    found_.clear();
    used_up_.clear();
  }
  void on_end(const Bench&) override {
    if (!plan_.added.empty())
      throw InvalidInput("a plan with `added` has no form in version 1", "only a dissection can be written out");
    PlanValue root = PlanValue::mapping();
    root.add("cutproof", 1);
    if (!plan_.title.empty()) root.add("title", plan_.title);
    if (!plan_.source.empty()) root.add("source", plan_.source);
    if (plan_.allow_mirror) root.add("mirror", "allow");
    PlanValue start = PlanValue::mapping();
    for (const NamedSolid& piece : plan_.start) start.add(piece.name, written_value(*piece.solid));
    root.add("start", start);
    root.add("steps", steps_);
    root.add("goal", goal());
    PlanComments comments;
    comments.keeps_lines = true;
    for (std::size_t begin = 0; begin < plan_.note.size();) {
      const std::size_t end = std::min(plan_.note.find('\n', begin), plan_.note.size());
      add_comment(plan_.note.substr(begin, end - begin), &comments.head);
      begin = end + 1;
    }
    const PlanValue& steps = *root.find("steps");
    for (const auto& [number, texts] : before_step_)
      for (const std::string& text : texts)
        add_comment(
            text, &comments.at[number < steps.entries().size() ? &steps.entries()[number] : &root.entries().back()].before);
    *text_ = write_plan(root, comments);
  }

 private:
  static void add_comment(const std::string& text, std::vector<std::string>* lines) {
    for (std::string& line : comment_lines(text)) lines->push_back(std::move(line));
  }
  void comment(std::string text) { before_step_[steps_.entries().size()].push_back(std::move(text)); }

  void add_step(const PlanValue& step) {
    PlanValue titled = PlanValue::mapping();
    if (!title_.empty()) titled.add("title", std::exchange(title_, ""));
    for (const PlanValue::Entry& entry : step.entries()) titled.add(entry.key, entry.value);
    if (!note_.empty()) titled.add("note", std::exchange(note_, ""));
    steps_.add(std::move(titled));
  }

  /// The names and patterns of a selection; of one by place the pieces that it took, or those among them that `keep` has.
  template <class Keep>
  Names named(const Selector& selector, const Keep& keep) const {
    Names names;
    for (const SelectorEntry& entry : selector) {
      if (entry.by_place == nullptr) {
        add_new(&names, entry.text);
        continue;
      }
      const auto taken = selected_.find(entry.by_place.get());
      if (taken == selected_.end()) continue;
      for (const std::string& name : taken->second)
        if (keep(name)) add_new(&names, name);
    }
    return names;
  }
  Names named(const Selector& selector) const {
    return named(selector, [](const std::string&) { return true; });
  }

  void write(const CutStep& cut) {
    if (cut.planes.empty()) return comment("here nothing is cut");
    const bool by_place = std::any_of(cut.pieces.begin(), cut.pieces.end(),
                                      [](const SelectorEntry& entry) { return entry.by_place != nullptr; });
    Names pieces = named(cut.pieces), aside;
    if (by_place && cut.planes.size() == 1 && !used_up_.empty()) {
      pieces = named(cut.pieces, [this](const std::string& name) { return used_up_.count(name) != 0; });
    } else if (by_place && cut.planes.size() > 1) {
      // Each plane may miss some of them, as those of a pattern.
      Names patterns;
      for (const SelectorEntry& entry : cut.pieces)
        if (entry.by_place == nullptr) patterns.push_back(entry.text);
      for (const std::string& name : pieces) {
        if (std::find(patterns.begin(), patterns.end(), name) != patterns.end()) continue;
        std::string pattern = pattern_for(name, bench_);
        if (pattern.empty()) {  // others get another name for a while
          pattern = name + "*";
          for (const std::string& other : bench_)
            if (other != name && matches(pattern, other)) add_new(&aside, other);
        }
        patterns.push_back(std::move(pattern));
      }
      pieces = std::move(patterns);
    }
    Names meanwhile;
    std::size_t number = 0;
    for (const std::string& name : aside) {
      std::string other;
      do {
        other = "aside-" + std::to_string(++number);
      } while (std::find(bench_.begin(), bench_.end(), other) != bench_.end());
      meanwhile.push_back(other);
      rename(name, other);
      for (std::string& piece : pieces)
        if (piece == name + "*") piece = other + "*";
    }
    PlanValue step = PlanValue::mapping();
    step.add("cut", pieces_value(pieces));
    PlanValue planes = PlanValue::list();
    for (const Plane& plane : cut.planes) planes.add(written_value(plane));
    step.add("by", cut.planes.size() == 1 ? planes.entries().front().value : planes);
    if (cut.has_names) step.add("into", value_of({cut.positive.name, cut.negative.name}));
    if (cut.numbering) step.add("into", cut.numbering->stem + "*");
    add_step(step);
    for (std::size_t i = 0; i < aside.size(); ++i) rename(meanwhile[i], aside[i]);
  }

  void rename(const std::string& from, const std::string& to) {
    PlanValue step = PlanValue::mapping();
    step.add("join", from).add("as", to);
    steps_.add(std::move(step));
  }

  void write(const MoveStep& move) {
    std::vector<std::pair<Names, PlanValue>> entries;
    std::set<std::string> keys;
    bool is_short = true;
    for (const MoveEntry& entry : move.entries) {
      Names pieces = named(entry.pieces);
      const auto found = found_.find(&entry);
      if (pieces.empty() || (!entry.parts.empty() && found == found_.end())) continue;
      if (pieces.size() > 1 || !keys.insert(pieces.front()).second) is_short = false;
      entries.emplace_back(std::move(pieces), written_value(entry.parts.empty() ? entry.motion : found->second));
    }
    if (entries.empty()) return comment("here nothing is moved");
    PlanValue motions = is_short ? PlanValue::mapping() : PlanValue::list();
    for (auto& [pieces, motion] : entries) {
      if (is_short) {
        motions.add(pieces.front(), std::move(motion));
        continue;
      }
      PlanValue entry = PlanValue::mapping();
      entry.add("pieces", pieces_value(pieces)).add("by", std::move(motion));
      motions.add(std::move(entry));
    }
    PlanValue step = PlanValue::mapping();
    step.add("move", std::move(motions));
    add_step(step);
  }

  void write(const JoinStep& join) {
    PlanValue step = PlanValue::mapping();
    step.add("join", pieces_value(named(join.pieces))).add("as", join.result.name);
    add_step(step);
  }

  void write(const SplitStep& split) {
    PlanValue step = PlanValue::mapping();
    step.add("split", pieces_value(named(split.pieces)));
    Names names;
    for (const PlacedName& name : split.names) names.push_back(name.name);
    if (!names.empty()) step.add("into", value_of(names));
    if (split.numbering) step.add("into", split.numbering->stem + "*");
    add_step(step);
  }

  void write(const UseStep& use) {
    throw InvalidInput(
        "the lemma `" + use.name.name + "` is not written out: a plan that uses lemmas has no form in version 1",
        "expand the lemma's own plan");
  }

  void write(const ExpectStep& expect) {
    PlanValue expected = PlanValue::mapping();
    if (expect.piece_count) expected.add("pieces", *expect.piece_count);
    PlanValue volumes = PlanValue::mapping(), invariants = PlanValue::mapping(), audits = PlanValue::list();
    for (const auto& [entry, volume, place] : expect.volumes) volumes.add(entry.text, to_exact(volume));
    if (!volumes.entries().empty()) expected.add("volume", volumes);
    if (expect.connected) expected.add("connected", pieces_value(named(*expect.connected)));
    if (expect.filled != nullptr && expect.filled_by.empty()) expected.add("filled", written_value(*expect.filled));
    if (expect.filled != nullptr && !expect.filled_by.empty()) {
      PlanValue filled = PlanValue::mapping();
      filled.add("solid", written_value(*expect.filled)).add("by", pieces_value(named(expect.filled_by)));
      expected.add("filled", filled);
    }
    for (const AngleAudit& audit : expect.angles) {
      PlanValue written = PlanValue::mapping(), allowed = PlanValue::list(), exceptions = PlanValue::mapping();
      for (const Angle& angle : audit.allowed) allowed.add(to_exact(angle));
      written.add("of", audit.piece.text).add("all", allowed);
      for (const auto& [angle, count] : audit.exceptions) exceptions.add(to_exact(angle), count);
      if (!exceptions.entries().empty()) written.add("except", exceptions);
      audits.add(written);
    }
    PlanValue newer = PlanValue::mapping();
    // The corners of a figure are not all edges of the board that it becomes.
    if (!audits.entries().empty()) (plan_.dimension == 2 ? newer : expected).add("angles", audits);
    for (const auto& [entry, place] : expect.dehn_zero) invariants.add(entry.text, 0);
    if (!invariants.entries().empty()) expected.add("dehn", invariants);
    if (expect.congruent) {
      PlanValue congruent = pieces_value(named(*expect.congruent));
      if (expect.congruent_to != nullptr) {
        PlanValue to_solid = PlanValue::mapping();
        to_solid.add("of", congruent).add("to", written_value(*expect.congruent_to));
        congruent = to_solid;
      }
      newer.add("congruent", congruent);
    }
    if (expect.shape_count) {
      PlanValue shapes = *expect.shape_count;
      if (!expect.shapes_of.empty()) {
        shapes = PlanValue::mapping();
        shapes.add("of", pieces_value(named(expect.shapes_of))).add("count", *expect.shape_count);
      }
      newer.add("shapes", shapes);
    }
    PlanValue conditions = PlanValue::list();
    for (const DecidedCondition& condition : expect.conditions) conditions.add(condition.text);
    if (!conditions.entries().empty()) newer.add("holds", conditions);
    if (!newer.entries().empty()) comment("here version 2 also expects " + on_one_line(newer));
    if (expected.entries().empty()) return;
    PlanValue step = PlanValue::mapping();
    step.add("expect", expected);
    add_step(step);
  }

  PlanValue goal() const {
    const std::vector<NamedSolid>& goals = plan_.goals;
    const bool all_named = std::all_of(goals.begin(), goals.end(), [](const NamedSolid& goal) {
      const std::vector<std::string>& kinds = solid_kinds();
      return is_wide_name(goal.name) && std::find(kinds.begin(), kinds.end(), goal.name) == kinds.end();
    });
    if (goals.size() == 1 && (goals.front().name == "goal" || !all_named)) return written_value(*goals.front().solid);
    PlanValue result = all_named ? PlanValue::mapping() : PlanValue::list();
    for (const NamedSolid& goal : goals) result.add(all_named ? goal.name : "", written_value(*goal.solid));
    return result;
  }

  const ExactPlan& plan_;
  std::string* text_;
  PlanValue steps_ = PlanValue::list();
  std::map<std::size_t, Names> before_step_;  ///< comments
  std::string title_, note_;                  ///< for the next step that is written
  // since the last step was done
  Names bench_;
  std::map<const PlaceSelection*, Names> selected_;
  std::map<const MoveEntry*, Motion> found_;
  std::set<std::string> used_up_;
};

/// Whether version 1 of the language finds it, too.
bool is_of_version_1(const Finding& finding) {
  static const std::set<std::string> codes = {"plane-misses", "mirrored",       "overlap",      "join-apart",
                                              "straddles",    "missing",        "excess",       "volume-differs",
                                              "dehn-differs", "volume-changed", "dehn-changed", "invalid-input"};
  static const std::set<std::string> expectations = {"pieces", "more volume", "less volume", "connected",
                                                     "filled", "angles",      "dehn",        "split"};
  if (finding.code == "expectation-failed") return expectations.count(finding.statement) != 0;
  return codes.count(finding.code) != 0;
}

std::string why_not(const CheckResult& result) {
  for (const std::vector<Finding>* findings : {&result.findings, &result.consequences})
    for (const Finding& finding : *findings) {
      if (is_of_version_1(finding)) continue;
      return "version 1 cannot find `" + finding.code + "`" +
             (finding.code == "expectation-failed" ? " of what this `expect` says" : "") + ", as step " +
             std::to_string(finding.step) + " has it: what is left could be verified";
    }
  return "";
}

}  // namespace

ExpandedPlan expand_plan_text(std::string_view text, const std::string& path, const CheckSettings& settings,
                              const ProgressReceiver& progress) {
  ExpandedPlan expanded;
  CheckSettings own = settings;
  own.case_number = 0;
  expanded.result = check_plan_text(text, path, own, progress, {}, [&](const ExactPlan& plan) {
    return std::make_unique<Expansion>(plan, &expanded.text);
  });
  const bool was_carried_out = expanded.result.outcome == Outcome::verified || expanded.result.outcome == Outcome::refuted;
  if (was_carried_out) expanded.why_not = why_not(expanded.result);
  if (!was_carried_out || !expanded.why_not.empty()) expanded.text.clear();
  std::string with;
  for (const auto& [name, value] : expanded.result.parameters) with += (with.empty() ? "" : ", ") + name + " = " + value;
  if (with.empty() || expanded.text.empty()) return expanded;
  std::string head;
  for (const std::string& line : comment_lines("Written out with " + with + ".")) head += line + '\n';
  expanded.text.insert(0, head);
  return expanded;
}

ExpandedPlan expand_plan_file(const std::string& path, const CheckSettings& settings, const ProgressReceiver& progress) {
  std::string text;
  try {
    text = read_file(path, settings.max_plan_size);
  } catch (const std::exception&) {
    return {"", check_plan_file(path, settings, progress), ""};  // which says what is wrong with it
  }
  return expand_plan_text(text, path, settings, progress);
}

}  // namespace cutproof
