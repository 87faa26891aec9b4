// SPDX-License-Identifier: GPL-3.0-or-later
#include "report/page/page_pictures.hpp"

#include "report/finding_facts.hpp"
#include "report/page/markup.hpp"
#include "report/picture_files.hpp"
#include "report/svg.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <set>
#include <vector>

namespace cutproof {
namespace {

constexpr long narrow = 31'000;  // hundredths of pixels: what a column of steps holds at the least

// How much a step changed; the more, the rather is it shown.
std::size_t changes(const CheckResult& result, int index) {
  const auto found =
      std::find_if(result.steps.begin(), result.steps.end(), [&](const StepResult& step) { return step.index == index; });
  return found == result.steps.end() ? 0 : found->removed.size() + found->added.size() + found->moved.size();
}

}  // namespace

PagePictures::PagePictures(const Sheet& sheet) : sheet_(sheet) {
  const CheckResult& result = sheet.result;
  if (!result.pictures) return;
  std::size_t left = result.pieces.size() > 200 ? 12 : 40;
  std::set<int> with_finding;
  for (const Finding& finding : result.findings) {
    if (!concerns_goal(finding)) with_finding.insert(finding.step);
  }
  std::vector<const Picture*> steps;
  for (const Picture& picture : result.pictures->pictures) {
    if (picture.kind == Picture::Kind::start) start_ = &picture;
    if (picture.kind == Picture::Kind::end) end_ = &picture;
    if (picture.kind == Picture::Kind::step) steps.push_back(&picture);
  }
  left -= (start_ != nullptr ? 1 : 0) + (end_ != nullptr ? 1 : 0);
  const std::size_t most_findings = left / 2;
  for (const Picture& picture : result.pictures->pictures) {
    if (picture.kind == Picture::Kind::finding && findings_.size() < most_findings) findings_[picture.finding] = &picture;
  }
  left -= findings_.size();
  std::stable_sort(steps.begin(), steps.end(), [&](const Picture* a, const Picture* b) {
    const auto rank = [&](const Picture* picture) {
      return std::pair(with_finding.count(picture->step), changes(result, picture->step));
    };
    return rank(a) > rank(b);
  });
  for (std::size_t i = 0; i < std::min(left, steps.size()); ++i) steps_[steps[i]->step] = steps[i];
}

bool PagePictures::wide_steps() const {
  return std::any_of(steps_.begin(), steps_.end(), [](const auto& each) { return each.second->frame[2] > narrow; });
}

std::string PagePictures::figure(const Picture* picture, const std::string& caption) {
  if (picture == nullptr) return "";
  ++shown_;
  const CheckResult& result = sheet_.result;
  // Only a picture that a narrow screen cannot hold can be pushed to and fro.
  const std::string reach = picture->frame[2] > narrow ? " tabindex=\"0\"" : "";
  return fmt::format(
      "<figure class=\"picture\"><div class=\"frame\"{}>{}</div>\n<figcaption><span class=\"number\">Fig. {}</span> "
      "{}</figcaption></figure>\n",
      reach,
      svg_picture(*picture, result.pictures->projection, picture_words(result, *picture),
                  fmt::format("p{}n{}-", sheet_.number + 1, shown_)),
      shown_, caption);
}

namespace {

// Which colour is which piece: a name stands in a picture only where its piece has room for it.
std::string coloured_pieces(const Picture& picture) {
  constexpr std::size_t most = 6;
  std::map<std::string, std::string> swatches;
  for (const PictureBody& body : picture.bodies)
    if (body.role == BodyRole::piece && !body.pale) swatches.emplace(body.piece, swatch(body.colour, body.hatching));
  if (swatches.size() > most) return "";
  std::string text;
  for (const auto& [piece, mark] : swatches) text += (text.empty() ? ": " : ", ") + mark + name_in_page(piece);
  return text;
}

}  // namespace

std::string PagePictures::start(const std::string& caption) {
  return figure(start_, caption);
}

std::string PagePictures::end(const std::string& caption) {
  return figure(end_, caption);
}

std::string PagePictures::of_step(int step, const std::string& caption) {
  const auto found = steps_.find(step);
  return found == steps_.end() ? "" : figure(found->second, caption);
}

std::string PagePictures::of_finding(std::size_t finding, const std::string& caption) {
  const auto found = findings_.find(finding);
  return found == findings_.end() ? "" : figure(found->second, caption + coloured_pieces(*found->second));
}

std::string swatch(int colour, int hatching) {
  return fmt::format("<span class=\"swatch c{} h{}\"></span>", colour, hatching);
}

std::map<std::string, std::pair<int, int>> paints_of(const CheckResult& result) {
  std::map<std::string, std::pair<int, int>> paints;
  if (!result.pictures) return paints;
  for (const Picture& picture : result.pictures->pictures) {
    if (picture.kind != Picture::Kind::end) continue;
    for (const PictureBody& body : picture.bodies) {
      if (body.role == BodyRole::piece) paints[body.piece] = {body.colour, body.hatching};
    }
  }
  return paints;
}

std::optional<std::array<double, 2>> direction_of(const CheckResult& result) {
  if (!result.pictures || result.pictures->pictures.empty()) return std::nullopt;
  const auto& p = result.pictures->projection;
  const double across = std::hypot(p[0], p[1], p[2]), down = std::hypot(p[3], p[4], p[5]);
  if (!(across > 0) || !(down > 0)) return std::nullopt;
  // Right, up (pictures count downward), and to the reader: right x up. No picture is tilted: its right has no height.
  const double height = (p[0] * -p[4] - p[1] * -p[3]) / (across * down);
  const double degree = std::acos(-1.0) / 180;
  return std::array{std::atan2(p[1], p[0]) / degree, std::asin(std::clamp(height, -1.0, 1.0)) / degree};
}

}  // namespace cutproof
