// SPDX-License-Identifier: GPL-3.0-or-later
// The pictures of one plan on its page: which of them stand there, and each as a figure with a number and a caption.
#pragma once

#include "report/page/plan_sheet.hpp"

#include <array>
#include <map>
#include <optional>
#include <string>
#include <utility>

namespace cutproof {

class PagePictures {
 public:
  /// Chooses: the start and the end, findings, steps with findings, then the steps that changed most; at most 40 in all, of
  /// more than 200 pieces 12.
  explicit PagePictures(const Sheet& sheet);

  /// The figure, or empty where there is no such picture. `caption` is markup. Figures are numbered as they are asked for.
  std::string start(const std::string& caption);
  std::string end(const std::string& caption);
  std::string of_step(int step, const std::string& caption);
  /// `finding` is an index into the result's findings. The caption goes on with the pieces that are coloured.
  std::string of_finding(std::size_t finding, const std::string& caption);

  bool has_step(int step) const { return steps_.count(step) != 0; }
  bool has_finding(std::size_t finding) const { return findings_.count(finding) != 0; }
  /// True when some picture of a step is so wide that a narrow column would shrink its letters.
  bool wide_steps() const;

 private:
  std::string figure(const Picture* picture, const std::string& caption);

  const Sheet& sheet_;
  const Picture *start_ = nullptr, *end_ = nullptr;
  std::map<int, const Picture*> steps_;
  std::map<std::size_t, const Picture*> findings_;
  int shown_ = 0;
};

/// A small square in a piece's colour and hatching.
std::string swatch(int colour, int hatching);

/// For each piece at the end its colour, 0 to 6, and hatching, 0 for none, as the pictures have them; empty without
/// pictures.
std::map<std::string, std::pair<int, int>> paints_of(const CheckResult& result);

/// Where the reader of the pictures stands, in degrees: how far turned to the left about the upward axis from before the
/// front, and how high; nothing without pictures.
std::optional<std::array<double, 2>> direction_of(const CheckResult& result);

}  // namespace cutproof
