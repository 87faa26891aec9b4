// SPDX-License-Identifier: GPL-3.0-or-later
#include "picture/plan_pictures.hpp"

#include "number/errors.hpp"
#include "picture/draw.hpp"
#include "plan/complaints.hpp"
#include "solid/parts/build.hpp"
#include "solid/parts/motion.hpp"
#include "solid/parts/separate.hpp"

#include <algorithm>
#include <iterator>
#include <map>
#include <optional>
#include <set>
#include <string>
#include <utility>

namespace cutproof {
namespace {

constexpr std::size_t most_named = 60;  // pieces on the bench up to which those that are not concerned are named, too

using Names = std::set<std::string>;

Names names_of(const std::vector<std::string>& names) {
  return Names(names.begin(), names.end());
}

class Album {
 public:
  Album(const BlockHistory& history, const CheckResult& result) : history_(history), result_(result) {
    const BenchState end = state_at(last());
    for (std::size_t piece = 0; piece < end.pieces.size(); ++piece)
      for (const PlacedBlock& block : end.pieces[piece].blocks) paint_of_[block.block] = piece;
    // What lemmas took has colours of its own.
    const auto& taken = history_.taken();
    for (std::size_t i = 0; i < taken.size(); ++i)
      for (const PlacedBlock& block : history_.refined(taken[i].second)) paint_of_[block.block] = end.pieces.size() + i;
    paints_ = painted(end.pieces.size() + taken.size(), touching(end));
  }

  PictureSet draw_all() {
    shots_.push_back({Picture::Kind::start, 0, nullptr, 0});
    for (const int step : chosen_steps())
      if (const auto state = state_after(step)) shots_.push_back({Picture::Kind::step, *state, step_of(step), 0});
    const std::size_t end = shots_.size();
    shots_.push_back({Picture::Kind::end, last(), nullptr, 0});
    for (std::size_t i = 0; i < result_.findings.size(); ++i) add_finding(i);
    PictureSet set = draw(
        shots_.size(), [this](std::size_t i) { return drawn(shots_[i]); }, paints_, end, /*flat=*/result_.dimension == 2);
    const int last_step = history_.step_of(last());
    if (set.left_out.empty() && last_step < static_cast<int>(result_.total_steps))
      set.left_out = "what comes after step " + std::to_string(last_step) + ": the run ended there";
    if (set.left_out.empty()) set.left_out = left_out_;
    return set;
  }

 private:
  /// A picture to be drawn.
  struct Shot {
    Picture::Kind kind;
    std::size_t state;
    const StepResult* step;  ///< of `step`
    std::size_t finding;     ///< of `finding`: its index
  };

  /// The parts of a block where it lies in a state. Blocks under one motion are moved together, and each once, as long as
  /// states follow each other in which it lies there.
  const CellList& placed(const PlacedBlock& block) {
    const auto [known, is_new] = placed_.try_emplace({block.block, block.pose.get()});
    known->second.last_used = now_;
    if (is_new) {
      if (block.pose->is_identity()) {
        known->second.parts = history_.parts(block.block);
      } else {
        const auto map = maps_.try_emplace(block.pose.get(), *block.pose).first;
        known->second.parts = map->second(history_.parts(block.block));
      }
    }
    return known->second.parts;
  }
  /// Forgets what the last state did not use.
  void next_state() {
    maps_.clear();
    for (auto each = placed_.begin(); each != placed_.end();)
      each = each->second.last_used < now_ ? placed_.erase(each) : std::next(each);
    ++now_;
  }

  std::vector<std::pair<std::size_t, std::size_t>> touching(const BenchState& state) {
    CellList parts;
    std::vector<std::size_t> piece_of;
    for (std::size_t piece = 0; piece < state.pieces.size(); ++piece)
      for (const PlacedBlock& block : state.pieces[piece].blocks)
        for (const CellPointer& part : placed(block)) {
          parts.push_back(part);
          piece_of.push_back(piece);
        }
    std::set<std::pair<std::size_t, std::size_t>> pairs;
    if (state.pieces.size() > static_cast<std::size_t>(colour_count))
      for_each_close_pair(parts, [&](std::size_t i, std::size_t j) {
        const auto pair = std::minmax(piece_of[i], piece_of[j]);
        if (pair.first != pair.second && pairs.count(pair) == 0 && share_face_area(*parts[i], *parts[j])) pairs.insert(pair);
      });
    return {pairs.begin(), pairs.end()};
  }

  const StepResult* step_of(int index) const {
    for (const StepResult& step : result_.steps)
      if (step.index == index) return &step;
    return nullptr;
  }
  std::size_t last() const { return history_.state_count() - 1; }
  std::optional<std::size_t> state_after(int step) const {
    for (std::size_t i = 0; i < history_.state_count(); ++i)
      if (history_.step_of(i) == step) return i;
    return std::nullopt;
  }
  BenchState state_at(std::size_t i) const { return history_.refined(history_.state(i)); }

  static std::size_t changes(const StepResult& step) { return step.added.size() + step.moved.size(); }

  /// The steps that get a picture, in order.
  std::vector<int> chosen_steps() {
    std::set<int> with_findings;
    for (const Finding& finding : result_.findings) with_findings.insert(finding.step);
    std::vector<const StepResult*> steps;
    for (const StepResult& step : result_.steps)
      if (changes(step) > 0) steps.push_back(&step);
    if (steps.size() > most_step_pictures) {
      left_out_ = std::to_string(steps.size() - most_step_pictures) + " steps without findings and with smaller changes";
      std::stable_sort(steps.begin(), steps.end(), [&](const StepResult* a, const StepResult* b) {
        const bool a_first = with_findings.count(a->index) != 0, b_first = with_findings.count(b->index) != 0;
        return a_first != b_first ? a_first : changes(*a) > changes(*b);
      });
      steps.resize(most_step_pictures);
    }
    std::vector<int> chosen;
    for (const StepResult* step : steps) chosen.push_back(step->index);
    std::sort(chosen.begin(), chosen.end());
    return chosen;
  }

  DrawnState drawn(const Shot& shot) {
    next_state();
    const BenchState state = state_at(shot.state);
    DrawnState drawn;
    drawn.kind = shot.kind;
    drawn.step = state.step;
    drawn.finding = shot.finding;
    bool all_concerned = true;
    Names concerned;
    if (shot.kind == Picture::Kind::step) {
      all_concerned = false;
      for (const StatePiece& piece : history_.change(shot.state).pieces) concerned.insert(piece.name);
      drawn.apart = shot.step->kind == "cut" || shot.step->kind == "split";
    } else if (shot.kind == Picture::Kind::finding) {
      all_concerned = false;
      concerned = names_of(result_.findings[shot.finding].pieces);
      if (const StateRegion* region = region_of(result_.findings[shot.finding]))
        drawn.regions.push_back(drawn_region(*region));
    }
    const bool all_named = state.pieces.size() <= most_named;
    for (const StatePiece& piece : state.pieces) {
      DrawnPiece shown;
      shown.name = piece.name;
      shown.concerned = all_concerned || concerned.count(piece.name) != 0;
      shown.named = all_named || (!all_concerned && shown.concerned);
      for (const PlacedBlock& block : piece.blocks) shown.blocks.push_back({placed(block), paint_of_.at(block.block)});
      drawn.pieces.push_back(std::move(shown));
    }
    return drawn;
  }

  void add_finding(std::size_t index) {
    const Finding& finding = result_.findings[index];
    const std::optional<std::size_t> state = state_after(finding.step);
    if (state && (!finding.pieces.empty() || region_of(finding) != nullptr))
      shots_.push_back({Picture::Kind::finding, *state, nullptr, index});
  }

  static DrawnRegion drawn_region(const StateRegion& region) {
    const BodyRole role = region.finding.code == "missing"  ? BodyRole::missing
                          : region.finding.code == "excess" ? BodyRole::excess
                                                            : BodyRole::overlap;
    return {role, build_parts(region.boundary)};
  }

  /// The region that belongs to a finding, which may have been told more since.
  const StateRegion* region_of(const Finding& finding) const {
    const auto same_point = [](const ExactPoint& a, const ExactPoint& b) { return a.x == b.x && a.y == b.y && a.z == b.z; };
    for (const StateRegion& region : history_.regions())
      if (region.finding.code == finding.code && region.finding.step == finding.step &&
          region.finding.pieces == finding.pieces &&
          std::equal(region.finding.corners.begin(), region.finding.corners.end(), finding.corners.begin(),
                     finding.corners.end(), same_point))
        return &region;
    return nullptr;
  }

  const BlockHistory& history_;
  const CheckResult& result_;
  std::map<std::size_t, std::size_t> paint_of_;  ///< of a block: its piece at the end
  std::vector<Paint> paints_;
  struct Placed {
    CellList parts;
    std::size_t last_used = 0;
  };
  std::map<std::pair<std::size_t, const Motion*>, Placed> placed_;
  std::map<const Motion*, CellMap> maps_;
  std::size_t now_ = 1;  ///< counts states that were made
  std::vector<Shot> shots_;
  std::string left_out_;
};

}  // namespace

PictureSet plan_pictures(const BlockHistory& history, const CheckResult& result) {
  PictureSet none;
  if (history.state_count() == 0) {
    none.left_out = "the run ended before the start was built";
    return none;
  }
  try {
    return Album(history, result).draw_all();
  } catch (const LimitReached& error) {
    none.left_out = std::string("drawing reached a limit: ") + told(error).sentence;
  }
  return none;
}

}  // namespace cutproof
