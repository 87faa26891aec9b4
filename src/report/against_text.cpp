// SPDX-License-Identifier: GPL-3.0-or-later
#include "report/against_text.hpp"

#include "plan/dimension_words.hpp"
#include "report/escape.hpp"
#include "report/findings_text.hpp"
#include "report/step_text.hpp"

#include <algorithm>

namespace cutproof {
namespace {

constexpr std::size_t most_listed = 4, longest_name = 40, longest_value = 60;

std::string brief_text(const std::string& text) {
  return text.empty() ? "unknown" : shortened(text, longest_value);
}

std::string brief_value(const std::optional<Value>& value) {
  if (!value) return "unknown";
  return value->exact.size() <= longest_value ? value->exact : "about " + shortened(value->decimal, 24);
}

AgainstPhrase before_and_now(const char* what, const std::string& before, const std::string& now) {
  return {{std::string(what) + " "}, {before, true}, {" before, now "}, {now, true}};
}

void add_names(const char* what, const std::vector<std::string>& names, std::vector<AgainstPhrase>* phrases) {
  if (names.empty()) return;
  AgainstPhrase phrase{{std::string(what) + " "}};
  const std::size_t shown = names.size() <= most_listed + 1 ? names.size() : most_listed;
  for (std::size_t i = 0; i < shown; ++i) {
    if (i > 0) phrase.push_back({", "});
    phrase.push_back({shortened(names[i], longest_name), true});
  }
  if (shown < names.size()) phrase.push_back({" and " + std::to_string(names.size() - shown) + " more"});
  phrases->push_back(phrase);
}

void add_steps(const char* what, const std::vector<StepLabel>& steps, std::vector<AgainstPhrase>* phrases) {
  if (steps.empty()) return;
  std::string text = std::string(steps.size() == 1 ? "step " : "steps ");
  const std::size_t shown = steps.size() <= most_listed + 1 ? steps.size() : most_listed;
  for (std::size_t i = 0; i < shown; ++i) text += (i > 0 ? ", " : "") + std::to_string(steps[i].index);
  if (shown < steps.size()) text += " and " + std::to_string(steps.size() - shown) + " more";
  phrases->push_back({{text + " " + what}});
}

}  // namespace

std::vector<AgainstPhrase> against_phrases(const CheckResult& result) {
  if (!result.against) return {};
  const AgainstResult& against = *result.against;
  if (!against.known) return {{{"this plan is not in it"}}};
  std::vector<AgainstPhrase> phrases;
  if (against.old_outcome)
    phrases.push_back({{std::string(outcome_word(*against.old_outcome)) + " before, now " + outcome_word(result.outcome)}});
  const std::size_t gone = against.findings_gone.size(), added = against.findings_added.size();
  if (added > 0) phrases.push_back({{counted(added, "new finding")}});
  if (gone > 0) phrases.push_back({{counted(gone, "finding") + " gone"}});
  if (!against.findings_same.empty()) phrases.push_back({{counted(against.findings_same.size(), "finding") + " as before"}});
  const auto value = [&](const std::string& what, const std::optional<ValueChange>& change) {
    if (change) phrases.push_back(before_and_now(what.c_str(), brief_value(change->before), brief_value(change->now)));
  };
  const auto text = [&](const char* what, const std::optional<std::array<std::string, 2>>& change) {
    if (change) phrases.push_back(before_and_now(what, brief_text((*change)[0]), brief_text((*change)[1])));
  };
  value(in_dimension(result.dimension, "volume of the start"), against.start_volume);
  value(in_dimension(result.dimension, "volume of the goal"), against.goal_volume);
  text("Dehn invariant of the start", against.start_dehn);
  text("Dehn invariant of the goal", against.goal_dehn);
  add_steps("changed", against.steps_changed, &phrases);
  add_steps("new", against.steps_added, &phrases);
  add_steps("of before gone", against.steps_gone, &phrases);
  if (against.shapes) phrases.push_back({{(*against.shapes)[0] + " before, now " + (*against.shapes)[1]}});
  add_names("changed pieces", against.pieces.changed, &phrases);
  add_names("new pieces", against.pieces.added, &phrases);
  add_names("pieces gone:", against.pieces.gone, &phrases);
  if (phrases.empty())
    phrases.push_back({{against.old_digest.empty() ? "nothing changed" : "nothing changed but the text"}});
  if (!against.old_plan.empty())
    phrases.push_back({{"there the plan is "}, {shortened(against.old_plan, longest_value), true}});
  return phrases;
}

namespace {

std::string in_quotes(const AgainstPhrase& phrase) {
  std::string text;
  for (const AgainstWords& each : phrase) text += each.quoted ? "`" + escaped(each.text) + "`" : each.text;
  return text;
}

}  // namespace

std::string against_line(const CheckResult& result) {
  std::string text;
  for (const AgainstPhrase& phrase : against_phrases(result)) text += (text.empty() ? "" : "; ") + in_quotes(phrase);
  return text;
}

void write_against(const CheckResult& result, std::size_t most_lines, Layout* out) {
  const std::vector<AgainstPhrase> phrases = against_phrases(result);
  if (phrases.empty()) return;
  constexpr std::string_view label = "against the older report: ", rest = "; and 99 more differences";
  // Lines are filled but for a word that does not fit, and the first phrase is told in any case.
  const std::size_t line =
      std::max<std::size_t>(out->width() > label.size() + 22 ? out->width() - label.size() - 22 : 20, 20);
  const std::size_t room = std::max(most_lines * line, rest.size()) - rest.size();
  std::string text;
  std::size_t told = 0;
  for (; told < phrases.size(); ++told) {
    const std::string next = (told == 0 ? "" : "; ") + in_quotes(phrases[told]);
    const std::size_t needed = display_width(text) + display_width(next);
    if (told > 0 && needed > (told + 1 == phrases.size() ? room + rest.size() : room)) break;
    text += next;
  }
  if (told < phrases.size()) text += "; and " + counted(phrases.size() - told, "more difference");
  out->paragraph(2, label, text);
}

}  // namespace cutproof
