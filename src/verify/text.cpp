// SPDX-License-Identifier: GPL-3.0-or-later
// Words only: every number that is shown here was decided exactly elsewhere.
#include "verify/text.hpp"

#include "number/print.hpp"
#include "plan/dimension_words.hpp"
#include "plan/frame.hpp"

#include <algorithm>

namespace cutproof {

Value value_text(const Number& number) {
  return {to_exact(number), to_decimal(number)};
}

namespace {

void drop_height(ExactPoint* point) {
  point->z.clear();
  point->decimal[2].clear();
}

}  // namespace

ExactPoint point_text(const Vector3& point, int dimension) {
  ExactPoint text{to_exact(point.x),
                  to_exact(point.y),
                  to_exact(point.z),
                  {to_decimal(point.x), to_decimal(point.y), to_decimal(point.z)}};
  if (dimension == 2) drop_height(&text);
  return text;
}

ExactBox box_text(const Box& box, int dimension) {
  return {point_text(box.minimum, dimension), point_text(box.maximum, dimension)};
}

void flatten(Finding* finding) {
  finding->dimension = 2;
  finding->message = in_dimension(2, finding->message);
  finding->hint = hint_in_dimension(2, finding->hint);
  if (finding->box)
    for (ExactPoint* corner : {&finding->box->minimum, &finding->box->maximum}) drop_height(corner);
  std::vector<ExactPoint>& corners = finding->corners;
  corners.erase(std::remove_if(corners.begin(), corners.end(),
                               [](const ExactPoint& corner) { return !corner.z.empty() && corner.z != "0"; }),
                corners.end());
  for (ExactPoint& corner : corners) drop_height(&corner);
  for (auto& [name, fact] : finding->facts)
    if (fact.point) drop_height(&*fact.point);
  if (!finding->audit) return;
  for (AuditedEdge& edge : finding->audit->edges)
    for (ExactPoint* point : {&edge.from, &edge.to}) drop_height(point);
}

Value length_text(const Number& squared_length) {
  RadicalSum length;
  length.add(Number(1L, squared_length.field()), squared_length);
  return {to_exact(length), to_decimal(length)};
}

FieldResult field_text(const Field& field) {
  FieldResult result;
  result.degree = field.degree();
  for (const Generator& generator : field.generators()) result.generators.push_back(generator.text);
  char* polynomial = fmpz_poly_get_str_pretty(field.minimal_polynomial(), "x");
  result.minimal_polynomial = polynomial;
  flint_free(polynomial);
  result.root_index = field.root_index();
  return result;
}

std::string short_text(const Number& number) {
  std::string exact = to_exact(number);
  if (exact.size() <= 24) return exact;
  return "about " + to_decimal(number, 8);
}

std::string short_text(const Vector3& point, int dimension) {
  const std::string flat = "(" + short_text(point.x) + ", " + short_text(point.y);
  return flat + (dimension == 2 ? "" : ", " + short_text(point.z)) + ")";
}

std::string list_text(const std::vector<std::string>& names) {
  const std::size_t shown = names.size() > 6 ? 5 : names.size();
  std::string text;
  for (std::size_t i = 0; i < shown; ++i) {
    if (i > 0) text += i + 1 == names.size() ? " and " : ", ";
    text += "`" + names[i] + "`";
  }
  if (shown < names.size()) text += " and " + std::to_string(names.size() - shown) + " more";
  return text;
}

FindingFact fact(const Number& number) {
  FindingFact result;
  result.number = value_text(number);
  return result;
}

FindingFact fact(const Vector3& point) {
  FindingFact result;
  result.point = point_text(point);
  return result;
}

FindingFact fact(std::size_t count) {
  FindingFact result;
  result.count = count;
  return result;
}

FindingFact fact(std::vector<std::string> names) {
  FindingFact result;
  result.names = std::move(names);
  return result;
}

void describe_region(const Region& region, Finding& finding) {
  finding.volume = value_text(region.volume);
  finding.box = box_text(region.box);
  for (const Vector3& corner : region.corners()) finding.corners.push_back(point_text(corner));
}

void set_place(Finding& finding, const TextPlace& place) {
  finding.line = place.line;
  finding.column = place.column;
  finding.pass.clear();
  if (place.pass == nullptr) return;
  finding.pass = *place.pass;
  if (!finding.message.empty()) finding.message = pass_words(finding.pass) + ": " + finding.message;
}

}  // namespace cutproof
