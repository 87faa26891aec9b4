// SPDX-License-Identifier: GPL-3.0-or-later
#include "report/sentences.hpp"

#include "plan/dimension_words.hpp"
#include "report/brief.hpp"
#include "verify/text.hpp"

#include <algorithm>
#include <optional>
#include <string_view>

namespace cutproof {

const std::vector<Sentence>& sentences() {
  static const std::vector<Sentence> all = {
      {"overlap", "", "{pieces} share interior points: a region of volume {volume} in the {box}", ""},
      {"plane-misses", "", "the plane does not pass through {pieces}: there are interior points on one side only",
       "move the plane into the piece, or take the piece out of this step: {pieces} {pieces?lies|lie} on the side that the "
       "plane's normal points {side}, at distances from {near} to {far}"},
      {"plane-misses", "of several",
       "plane {index} of this cut does not pass through {pieces}: there are interior points on one side only",
       "move the plane into the piece, or take the piece out of this step: {pieces} {pieces?lies|lie} on the side that the "
       "plane's normal points {side}, at distances from {near} to {far}"},
      {"plane-misses", "along an axis",
       "the plane does not pass through {pieces}: there are interior points on one side only",
       "move the plane into the piece, or take the piece out of this step: {pieces} {pieces?reaches|reach} from {axis} = "
       "{least} to {most}; the plane is at {axis} = {plane}"},
      {"plane-misses", "of several, along an axis",
       "plane {index} of this cut does not pass through {pieces}: there are interior points on one side only",
       "move the plane into the piece, or take the piece out of this step: {pieces} {pieces?reaches|reach} from {axis} = "
       "{least} to {most}; the plane is at {axis} = {plane}"},
      {"mirrored", "",
       "this motion turns {pieces} into {pieces?its mirror image|mirror images}, which no motion in space can do",
       "use a proper motion (a half-turn instead of a reflection), or write `mirror: allow` at the top of the plan"},
      {"join-apart", "", "the joined pieces {pieces} do not hang together through faces: they fall into {groups} groups",
       "pieces hang together where they share an area of their faces: an edge or a corner is not enough"},
      {"expectation-failed", "pieces", "expected {expected} {expected?piece|pieces} on the bench; found {found}", ""},
      {"expectation-failed", "more volume",
       "expected {pieces} to have volume {expected}; it has {volume}, which is {difference} more", ""},
      {"expectation-failed", "less volume",
       "expected {pieces} to have volume {expected}; it has {volume}, which is {difference} less", ""},
      {"expectation-failed", "connected", "expected {pieces} to be connected; it is in {parts} parts", ""},
      {"expectation-failed", "filled",
       "the pieces do not fill the expected solid: a volume of {missing} is missing, and {excess} lies outside", ""},
      {"expectation-failed", "angles", "the dihedral angles of {pieces}: {audit}", ""},
      {"expectation-failed", "dehn", "expected {pieces} to have the Dehn invariant 0; it is {invariant}", ""},
      {"expectation-failed", "split",
       "{pieces} has {parts} connected {parts?part|parts}, but `into` has {names} {names?name|names}",
       "write one name for each part, or leave `into` out"},
      {"expectation-failed", "congruent", "{first} and {second} are not congruent, not even as mirror images", ""},
      {"expectation-failed", "congruent with a solid", "{pieces} and the solid are not congruent, not even as mirror images",
       ""},
      {"expectation-failed", "mirror images",
       "{second} is the mirror image of {first}, and no motion carries one onto the other",
       "with `mirror: allow` at the top of the plan, mirror images are congruent"},
      {"expectation-failed", "mirror images with a solid",
       "{pieces} is the mirror image of the solid, and no motion carries one onto the other",
       "with `mirror: allow` at the top of the plan, mirror images are congruent"},
      {"expectation-failed", "shapes",
       "expected {expected} {expected?shape|shapes}; there {found?is|are} {found}: {classes}", ""},
      {"expectation-failed", "holds", "expected `{condition}` to hold, and it does not", ""},
      {"nothing-selected", "", "no piece on the bench fits: {asked}", ""},
      {"nothing-selected", "of several conditions", "no piece on the bench fits: {asked}",
       "of {pieces_there} {pieces_there?piece|pieces} on the bench, {each} by itself"},
      {"no-fit", "nothing there",
       "there is no piece {against} to lay {pieces} against, because an earlier step could not be done", ""},
      {"no-fit", "no face", "in the plane of `lay` {pieces} {pieces?has|together have} no face",
       "name a plane in which there is a face"},
      {"no-fit", "faces on both sides",
       "in the plane of `lay` {pieces} {pieces?has|together have} faces on both sides, and a face must look to one side",
       "name a plane in which there is one face"},
      {"no-fit", "no face there", "in the plane of `against` {against} has no face",
       "name a plane in which there is a face"},
      {"no-fit", "faces on both sides there",
       "in the plane of `against` {against} has faces on both sides, and a face must look to one side",
       "name a plane in which there is one face"},
      {"no-fit", "face", "{pieces} {pieces?does|together do} not fit on the face of {against}: the faces are not congruent",
       "the face that is laid has {corners} corners and the area {area}, the other {corners_there} corners and the area "
       "{area_there}"},
      {"no-fit", "face mirrored",
       "{pieces} {pieces?does|together do} not fit on the face of {against}: only the mirror image fits, and no motion in "
       "space can make that",
       "write `mirror: allow` at the top of the plan to permit mirror images"},
      {"no-fit", "face with corners",
       "no motion that lays {pieces} on the face of {against} takes the points of `corners` where it says",
       "leave `corners` out, and the motion, or what there is to choose from, is told"},
      {"no-fit", "solid", "{pieces} {pieces?is|together are} not congruent to the solid",
       "the volume is {own}, that of the solid {wanted}"},
      {"no-fit", "solid of this volume", "{pieces} {pieces?is|together are} not congruent to the solid",
       "their volumes are equal: {own}"},
      {"no-fit", "solid mirrored",
       "{pieces} {pieces?is|together are} not congruent to the solid: only the mirror image fits, and no motion in space "
       "can "
       "make that",
       "write `mirror: allow` at the top of the plan to permit mirror images"},
      {"no-fit", "solid with corners",
       "no motion that carries {pieces} onto the solid takes the points of `corners` where it says",
       "leave `corners` out, and the motion, or what there is to choose from, is told"},
      {"no-fit", "lemma", "{pieces} is not congruent to {solid} in the {side} of the lemma {lemma}",
       "the volume is {own}, that of the lemma's solid {wanted}"},
      {"no-fit", "lemma of this volume", "{pieces} is not congruent to {solid} in the {side} of the lemma {lemma}",
       "their volumes are equal: {own}"},
      {"no-fit", "lemma mirrored",
       "{pieces} is not congruent to {solid} in the {side} of the lemma {lemma}: only the mirror image is, and no motion in "
       "space can make that",
       "write `mirror: allow` at the top of the plan to permit mirror images"},
      {"lemma-fails", "", "the lemma {lemma} does not hold: {count} {count?finding|findings}, the first {first}",
       "mend the lemma, or the values that it is used with: the report lists its findings under the lemma"},
      {"ambiguous", "face", "{pieces} {pieces?fits|together fit} on the face of {against} in {count} ways: {ways}",
       "choose one: {choices}"},
      {"ambiguous", "solid", "{pieces} {pieces?fits|together fit} the solid in {count} ways: {ways}",
       "choose one: {choices}"},
      {"volume-changed", "", "the volume was {before} before this step and is {after} after it", ""},
      {"volume-changed", "moved", "moving {pieces} changed its volume from {before} to {after}", ""},
      {"dehn-changed", "", "the total Dehn invariant of the bench is not what it was before this step", ""},
      {"volume-differs", "larger",
       "the start has volume {start}, the goal {goal}: the goal is {difference} larger, and no mending of steps can help",
       ""},
      {"volume-differs", "smaller",
       "the start has volume {start}, the goal {goal}: the goal is {difference} smaller, and no mending of steps can help",
       ""},
      {"dehn-differs", "",
       "goal minus start has the Dehn invariant {invariant}, which is not 0: cutting and moving keeps the Dehn invariant, "
       "so no mending of steps can help",
       ""},
      {"missing", "", "no piece fills a region of volume {volume} in the {box} of the goal[; beside it: {pieces}]", ""},
      {"excess", "", "{pieces} {pieces?lies|lie} outside the goal in a region of volume {volume} in the {box}", ""},
      {"straddles", "", "{pieces} has interior points in the goals {goals}: every piece must lie in one goal",
       "cut the piece where the goals meet, or make the goals one solid"},
  };
  return all;
}

namespace {

/// A fact as text, and how many it is, for the choice of words.
struct Shown {
  std::string text;
  std::size_t count = 2;
};

Shown shown(const std::vector<std::string>& names) {
  return {list_text(names), names.size()};
}

Shown shown(const FindingFact& fact) {
  if (fact.number) return {brief(*fact.number)};
  if (fact.point) return {brief(*fact.point)};
  if (fact.count) return {std::to_string(*fact.count), static_cast<std::size_t>(*fact.count)};
  if (!fact.names.empty()) return shown(fact.names);
  return {fact.text};
}

/// The first edges that break a rule.
std::string edges_text(const std::vector<AuditedEdge>& edges) {
  constexpr std::size_t most = 8;
  std::string text;
  for (std::size_t i = 0; i < edges.size() && i < most; ++i) {
    const std::string from = brief(edges[i].from), to = brief(edges[i].to);
    text += (i == 0 ? ": " : "; ") + (edges[i].from.z.empty() ? "at " + from : "from " + from + " to " + to) + " " +
            edges[i].angle;
  }
  if (edges.size() > most) text += "; and " + std::to_string(edges.size() - most) + " more";
  return text;
}

constexpr std::size_t most_listed = 6;

std::string rest_text(std::size_t all) {
  return all > most_listed ? "; and " + std::to_string(all - most_listed) + " more" : "";
}

std::string ways_text(const std::vector<MotionCandidate>& ways) {
  std::string text;
  for (std::size_t i = 0; i < ways.size() && i < most_listed; ++i)
    text += (i == 0 ? "" : ways.size() == 2 ? ", or " : i + 1 == ways.size() ? "; or " : "; ") + ways[i].words;
  return text + rest_text(ways.size());
}

/// What would have to be written to choose each of the ways.
std::string choices_text(const std::vector<MotionCandidate>& ways) {
  const auto point = [](const ExactPoint& p) { return "\"[" + coordinates_text(p) + "]\""; };
  std::string text;
  for (std::size_t i = 0; i < ways.size() && i < most_listed; ++i) {
    std::string corners;
    for (const CornerImage& corner : ways[i].corners)
      corners += (corners.empty() ? "" : ", ") + point(corner.from) + ": " + point(corner.to);
    text += (i == 0 ? "`corners: { " : "; `corners: { ") + corners + " }` (" + ways[i].words + ")";
  }
  return text + rest_text(ways.size());
}

std::string classes_text(const std::vector<std::vector<std::string>>& classes) {
  std::string text;
  for (std::size_t i = 0; i < classes.size() && i < most_listed; ++i) text += (i == 0 ? "" : "; ") + list_text(classes[i]);
  return text + rest_text(classes.size());
}

std::optional<Shown> fact_of(const Finding& finding, const std::string& name) {
  const auto value = [](const std::optional<Value>& number) {
    return number ? std::optional<Shown>({brief(*number)}) : std::nullopt;
  };
  if (name == "pieces") return shown(finding.pieces);
  if (name == "volume") return value(finding.volume);
  if (name == "missing") return value(finding.missing);
  if (name == "excess") return value(finding.excess);
  if (name == "ways") return Shown{ways_text(finding.candidates)};
  if (name == "choices") return Shown{choices_text(finding.candidates)};
  if (name == "classes") return Shown{classes_text(finding.classes)};
  if (name == "audit" && finding.audit)
    return Shown{in_dimension(finding.dimension, audit_text(*finding.audit)) + edges_text(finding.audit->edges)};
  if (name == "box" && finding.box) return Shown{brief(*finding.box)};
  const auto fact = finding.facts.find(name);
  return fact == finding.facts.end() ? std::nullopt : std::optional<Shown>(shown(fact->second));
}

/// Without brackets. A fact that is not there is shown by its name: a table must not stop a report.
std::string worded_part(std::string_view pattern, const Finding& finding, bool* has_empty_list) {
  std::string text;
  while (!pattern.empty()) {
    const std::size_t open = std::min(pattern.find('{'), pattern.size());
    text += pattern.substr(0, open);
    pattern.remove_prefix(open);
    if (pattern.empty()) break;
    const std::size_t close = pattern.find('}');
    const std::string_view field = pattern.substr(1, close - 1);
    pattern.remove_prefix(close + 1);
    const std::size_t question = field.find('?');
    const std::string name(field.substr(0, question));
    const Shown fact = fact_of(finding, name).value_or(Shown{"{" + name + "}"});
    if (fact.count == 0) *has_empty_list = true;
    if (question == std::string_view::npos) {
      text += fact.text;
    } else {
      const std::string_view choices = field.substr(question + 1);
      const std::size_t bar = choices.find('|');
      text += fact.count == 1 ? choices.substr(0, bar) : choices.substr(bar + 1);
    }
  }
  return text;
}

std::string worded(std::string_view pattern, const Finding& finding) {
  const std::size_t open = pattern.find('['), close = pattern.find(']');
  bool ignored = false, left_out = false;
  if (open == std::string_view::npos) return worded_part(pattern, finding, &ignored);
  const std::string optional = worded_part(pattern.substr(open + 1, close - open - 1), finding, &left_out);
  return worded_part(pattern.substr(0, open), finding, &ignored) + (left_out ? "" : optional) +
         worded_part(pattern.substr(close + 1), finding, &ignored);
}

const Sentence* sentence_of(const Finding& finding) {
  const auto found = std::find_if(sentences().begin(), sentences().end(), [&](const Sentence& sentence) {
    return finding.code == sentence.code && finding.statement == sentence.statement;
  });
  return found == sentences().end() ? nullptr : &*found;
}

}  // namespace

/// Its own words where it has some, else its sentence; a text that names the statement where there is none.
std::string message_of(const Finding& finding) {
  if (!finding.message.empty()) return finding.message;
  const Sentence* sentence = sentence_of(finding);
  std::string pass;  // of a message that is told already it is a part
  for (const auto& [name, value] : finding.pass) pass += (pass.empty() ? "in the pass with " : ", ") + name + " = " + value;
  if (sentence != nullptr)
    return (pass.empty() ? "" : pass + ": ") + worded(in_dimension(finding.dimension, sentence->message), finding);
  return finding.statement.empty() ? finding.code : finding.code + ": " + finding.statement;
}

std::string hint_of(const Finding& finding) {
  if (!finding.hint.empty()) return finding.hint;
  const Sentence* sentence = sentence_of(finding);
  return sentence == nullptr ? "" : worded(in_dimension(finding.dimension, sentence->hint), finding);
}

namespace {

constexpr std::string_view both_agree_text =
    "volumes and Dehn invariants are equal, and by the theorem of Dehn and Sydler that is all a dissection needs";

}  // namespace

std::string dissection_reason_of(const CheckResult& result) {
  switch (result.dissection_reason) {
    case DissectionReason::undecided:
      break;
    case DissectionReason::volumes_differ:
      return in_dimension(result.dimension, "the volumes differ, and cutting and moving keeps volume");
    case DissectionReason::invariants_differ:
      return "goal minus start has the Dehn invariant " + (result.dehn_difference ? result.dehn_difference->text : "") +
             ", which is not 0, and cutting and moving keeps the Dehn invariant (M. Dehn 1901)";
    case DissectionReason::both_agree:
      return in_dimension(result.dimension, both_agree_text);
  }
  return "";
}

namespace {

std::string left_name(const CompareResult& result) {
  return result.of_one_plan ? "the start" : "the left side";
}
std::string right_name(const CompareResult& result) {
  return result.of_one_plan ? "the goal" : "the right side";
}

}  // namespace

std::string dissection_reason_of(const CompareResult& result) {
  switch (result.reason) {
    case DissectionReason::undecided:
      break;
    case DissectionReason::volumes_differ:
      return in_dimension(result.dimension, "the volumes differ (") + result.left_volume.exact + " and " +
             result.right_volume.exact + in_dimension(result.dimension, "), and cutting and moving keeps volume");
    case DissectionReason::invariants_differ:
      return "the Dehn invariants differ: " + left_name(result) + " minus " + right_name(result) + " has " +
             (result.dehn_difference ? result.dehn_difference->text : "") +
             ", which is not 0, and by the theorem of Dehn cutting and moving keeps the Dehn invariant";
    case DissectionReason::both_agree:
      return in_dimension(result.dimension, both_agree_text);
  }
  return "";
}

std::string at_scale_text(const CompareResult& result) {
  if (!result.scale || !result.exists_at_scale) return "";
  if (result.dimension == 2)
    return "With " + right_name(result) + " scaled by " + result.scale->exact +
           " the areas are equal: then a dissection exists";
  return "With " + right_name(result) + " scaled by " + result.scale->exact +
         " the volumes are equal, and the Dehn invariants are " +
         (*result.exists_at_scale ? "equal too: then a dissection exists"
                                  : "different: no dissection exists at that size either");
}

std::string audit_text(const AuditResult& audit) {
  std::string text = "every edge is to have ";
  for (std::size_t i = 0; i < audit.allowed.size(); ++i)
    text += (i == 0 ? "" : i + 1 == audit.allowed.size() ? " or " : ", ") + audit.allowed[i];
  if (audit.allowed.empty()) text += "an angle listed as an exception";
  for (std::size_t i = 0; i < audit.exceptions.size(); ++i)
    text += (i == 0 ? ", except exactly " : ", ") + std::to_string(audit.exceptions[i].count) + " of " +
            audit.exceptions[i].angle;
  for (std::size_t i = 0; i < audit.faults.size(); ++i) {
    const AngleFault& fault = audit.faults[i];
    text += (i == 0 ? "; " : ", ") + std::to_string(fault.found) + (fault.found == 1 ? " edge has " : " edges have ") +
            fault.angle;
    if (fault.expected) text += " instead of " + std::to_string(*fault.expected);
  }
  return text;
}

std::string coordinates_text(const ExactPoint& point) {
  return point.x + ", " + point.y + (point.z.empty() ? "" : ", " + point.z);
}

}  // namespace cutproof
