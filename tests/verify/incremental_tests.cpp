// SPDX-License-Identifier: GPL-3.0-or-later
// A run looks only at pairs with a piece that moved, and adds up only what a step touched. Here random plans are carried out
// a second time in the plainest way: after each step every pair and every volume anew. Both must tell the same, in whatever
// order pieces stand.
#include "number/number.hpp"
#include "verify/text.hpp"
#include "verify/wrapped_engine.hpp"

#include <catch2/catch.hpp>

#include <algorithm>
#include <cstdlib>
#include <map>
#include <random>
#include <set>
#include <tuple>

using namespace cutproof;

namespace {

constexpr unsigned seed = 20251;
constexpr int most_steps = 9;

/// Step, the two pieces in the order of their names, exact volume.
using Overlap = std::tuple<int, std::string, std::string, std::string>;

class PlainRun {
 public:
  struct Lying {
    Solid solid;
    std::set<int> ancestors;  ///< itself among them
  };

  explicit PlainRun(Engine& engine) : engine_(engine) {}

  void start(const ExactPlan& plan) {
    for (const NamedSolid& named : plan.start) put(named.name, engine_.build(*named.solid), {});
    look();
  }

  void carry_out(const Step& step) {
    ++step_;
    if (const auto* cut = std::get_if<CutStep>(&step.action)) {
      const std::string name = cut->pieces.front().text;
      const Lying piece = take(name);
      const Halves halves = engine_.cut(piece.solid, cut->planes.front());
      put(name + ".1", halves.positive, piece.ancestors);
      put(name + ".2", halves.negative, piece.ancestors);
    } else if (const auto* move = std::get_if<MoveStep>(&step.action)) {
      for (const MoveEntry& entry : move->entries) {
        Solid& solid = pieces.at(entry.pieces.front().text).solid;
        solid = engine_.moved(solid, entry.motion);
      }
    } else if (const auto* join = std::get_if<JoinStep>(&step.action)) {
      const Lying a = take(join->pieces[0].text), b = take(join->pieces[1].text);
      std::set<int> ancestors = a.ancestors;
      ancestors.insert(b.ancestors.begin(), b.ancestors.end());
      put(join->result.name, engine_.joined({a.solid, b.solid}), ancestors);
    }
    look();
  }

  bool passes(const std::string& name, const Plane& plane) const {
    const Halves halves = engine_.cut(pieces.at(name).solid, plane);
    return halves.positive != nullptr && halves.negative != nullptr;
  }
  bool related(const std::string& a, const std::string& b) const {
    const auto &of_a = pieces.at(a).ancestors, &of_b = pieces.at(b).ancestors;
    return std::any_of(reported_.begin(), reported_.end(), [&](const std::pair<int, int>& pair) {
      return (of_a.count(pair.first) && of_b.count(pair.second)) || (of_a.count(pair.second) && of_b.count(pair.first));
    });
  }

  std::map<std::string, Lying> pieces;
  std::vector<Overlap> overlaps;
  std::vector<std::string> volumes;  ///< after the start and after each step

 private:
  void put(const std::string& name, const Solid& solid, std::set<int> ancestors) {
    ancestors.insert(++last_identity_);
    pieces[name] = {solid, std::move(ancestors)};
  }
  Lying take(const std::string& name) {
    Lying piece = pieces.at(name);
    pieces.erase(name);
    return piece;
  }
  void look() {
    std::vector<Number> all;
    for (auto a = pieces.begin(); a != pieces.end(); ++a) {
      all.push_back(engine_.volume(a->second.solid));
      for (auto b = std::next(a); b != pieces.end(); ++b) {
        if (engine_.overlapping_pairs({a->second.solid, b->second.solid}, {1, 1}).empty() || related(a->first, b->first))
          continue;
        overlaps.emplace_back(step_, a->first, b->first,
                              value_text(engine_.overlap(a->second.solid, b->second.solid).volume).exact);
        reported_.emplace(*a->second.ancestors.rbegin(), *b->second.ancestors.rbegin());
      }
    }
    volumes.push_back(value_text(balanced_sum(all)).exact);
  }

  Engine& engine_;
  int step_ = 0, last_identity_ = 0;
  std::set<std::pair<int, int>> reported_;
};

/// A plan in pieces of text, so that start pieces can change places.
struct PlanText {
  std::vector<std::string> start, steps;
  std::string whole() const {
    std::string text = "cutproof: 1\nmirror: allow\nlet: { r: sqrt(2) }\nstart:\n";
    for (const std::string& line : start) text += "  " + line + "\n";
    text += "steps:\n  - expect: { volume: { P0: r } }\n";
    for (const std::string& line : steps) text += "  - " + line + "\n";
    return text + "goal: { box: { size: [3, 3, 3], at: [-1, -1, -1] } }\n";
  }
};

class Maker {
 public:
  explicit Maker(unsigned the_seed) : random_(the_seed) {}

  int number(int low, int high) { return std::uniform_int_distribution<int>(low, high)(random_); }
  std::string digits(int low, int high) { return std::to_string(number(low, high)); }
  std::string point() { return "[" + digits(-1, 2) + ", " + digits(-1, 2) + "/2, " + digits(0, 2) + "*r/2]"; }

  std::string solid() {
    if (number(0, 1) == 0) return "{ box: { size: [" + digits(1, 3) + ", 1, r], at: " + point() + " } }";
    return "{ moved: { solid: { prism: { base: [[0, 0], [2, 0], [2, 1], [1, 1], [1, 2], [0, 2]], height: 1 } }, by: { "
           "translation: " +
           point() + " } } }";
  }
  std::string motion() {
    switch (number(0, 3)) {
      case 0:
        return "{ half-turn: [[1, 1, 0], [1, 1, 1]] }";
      case 1:
        return "{ rotation: { about: x, angle: 90 deg } }";
      case 2:
        return "{ reflection: { equation: \"x = y\" } }";
      default:
        return "{ translation: " + point() + " }";
    }
  }
  std::string plane() {
    return "{ equation: \"" + digits(-1, 2) + "*x + " + digits(1, 2) + "*y + r*" + digits(-1, 1) + "*z = " + digits(-1, 3) +
           "/2\" }";
  }
  std::string any_of(const PlainRun& run) {
    return std::next(run.pieces.begin(), number(0, static_cast<int>(run.pieces.size()) - 1))->first;
  }

 private:
  std::mt19937 random_;
};

std::vector<Overlap> overlaps_of(const CheckResult& result) {
  std::vector<Overlap> found;
  for (const Finding& finding : result.findings) {
    if (finding.code != "overlap") continue;
    std::vector<std::string> names = finding.pieces;
    std::sort(names.begin(), names.end());
    found.emplace_back(finding.step, names.at(0), names.at(1), finding.volume->exact);
  }
  std::sort(found.begin(), found.end());
  return found;
}

/// All that is found, in an order of its own, with pieces in the order of their names.
std::vector<std::string> told(const CheckResult& result) {
  std::vector<std::string> all;
  for (Finding finding : result.findings) {
    std::sort(finding.pieces.begin(), finding.pieces.end());
    std::string text = finding.code + " " + std::to_string(finding.step);
    for (const std::string& piece : finding.pieces) text += " " + piece;
    if (finding.volume) text += " " + finding.volume->exact;
    for (const ExactPoint& corner : finding.corners) text += " " + corner.x + " " + corner.y + " " + corner.z;
    all.push_back(text);
  }
  std::sort(all.begin(), all.end());
  return all;
}

/// Carries out a plan in the plainest way, except its last `left_out` steps. Everything is in the field of that plan.
struct PlainResult {
  ExactPlan plan;
  std::unique_ptr<Engine> engine = make_parts_engine();
  PlainRun run{*engine};
  explicit PlainResult(const PlanText& text, std::size_t left_out = 0) : plan(read_plan(text.whole())) {
    run.start(plan);
    for (std::size_t i = 0; i + left_out < plan.steps.size(); ++i) run.carry_out(plan.steps[i]);
  }
};

/// Adds a random step that can be carried out, or nothing where the one that was drawn has no meaning.
void add_step(Maker& maker, PlanText& text) {
  std::string a, b;
  bool related = false;
  {
    const PlainResult so_far(text);
    a = maker.any_of(so_far.run), b = maker.any_of(so_far.run);
    related = a == b || so_far.run.related(a, b);
  }
  const int kind = maker.number(0, 4);
  if (kind < 2) {
    text.steps.push_back("{ cut: " + a + ", by: " + maker.plane() + " }");
    const PlainResult before(text, 1);
    if (!before.run.passes(a, std::get<CutStep>(before.plan.steps.back().action).planes.front())) text.steps.pop_back();
  } else if (kind == 2) {
    if (!related) text.steps.push_back("{ join: [" + a + ", " + b + "], as: J" + std::to_string(text.steps.size()) + " }");
  } else {
    text.steps.push_back("move: { " + a + ": " + maker.motion() + (a == b ? "" : ", " + b + ": " + maker.motion()) + " }");
  }
}

}  // namespace

TEST_CASE("a run tells what looking at everything after every step tells, in any order of the pieces") {
  const int cases = std::getenv("CUTPROOF_SLOW") != nullptr ? 200 : 20;
  std::size_t overlaps = 0, later = 0;
  for (int i = 0; i < cases; ++i) {
    Maker maker(seed + static_cast<unsigned>(i));
    PlanText text;
    text.start.push_back("P0: { box: { size: [1, 1, r], at: " + maker.point() + " } }");
    for (int piece = 1; piece < 4; ++piece) text.start.push_back("P" + std::to_string(piece) + ": " + maker.solid());
    for (int tries = 0; tries < 4 * most_steps && text.steps.size() < most_steps; ++tries) add_step(maker, text);
    INFO("seed " << seed + static_cast<unsigned>(i) << "\n" << text.whole());

    const PlainResult in_full(text);
    const PlainRun& plain = in_full.run;
    std::vector<Overlap> expected = plain.overlaps;
    std::sort(expected.begin(), expected.end());

    WrappedEngine incremental;
    const CheckResult result = check_text(text.whole(), incremental);
    CHECK(result.outcome == Outcome::refuted);
    CHECK(overlaps_of(result) == expected);
    REQUIRE(result.steps.size() + 1 == plain.volumes.size());
    CHECK(result.start->volume.exact == plain.volumes.front());
    for (std::size_t step = 0; step < result.steps.size(); ++step)
      CHECK(result.steps[step].volume.exact == plain.volumes[step + 1]);

    PlanText reversed = text;
    std::reverse(reversed.start.begin(), reversed.start.end());
    WrappedEngine again;
    CHECK(told(check_text(reversed.whole(), again)) == told(result));

    overlaps += plain.overlaps.size();
    later += static_cast<std::size_t>(std::count_if(plain.overlaps.begin(), plain.overlaps.end(),
                                                    [](const Overlap& overlap) { return std::get<0>(overlap) > 0; }));
  }
  INFO(overlaps << " overlaps, " << later << " of them after the start");
  CHECK(later > static_cast<std::size_t>(cases));
}
