// SPDX-License-Identifier: GPL-3.0-or-later
#include "report/refutation_text.hpp"

#include "plan/dimension_words.hpp"
#include "report/escape.hpp"
#include "report/finding_facts.hpp"
#include "report/findings_text.hpp"
#include "report/sentences.hpp"

#include <algorithm>
#include <cstdlib>
#include <map>
#include <set>

namespace cutproof {
namespace {

// For order only, never for a decision.
double size_of(const Finding& finding) {
  return finding.volume ? std::abs(std::strtod(finding.volume->decimal.c_str(), nullptr)) : 0;
}

std::string quoted(const std::string& name) {
  return "`" + name + "`";
}

std::vector<std::string> others(const std::vector<std::string>& names, const std::vector<std::string>& without) {
  std::vector<std::string> left;
  for (const std::string& name : names)
    if (std::find(without.begin(), without.end(), name) == without.end()) left.push_back(name);
  return left;
}

std::string sum_of(std::size_t count, const char* one, const char* many) {
  return count == 1 ? std::string("a ") + one : std::to_string(count) + " " + many;
}

// `a hole of volume 1/6 is left beside ...`; nothing where no region of the goal stays empty.
std::string hole_text(const std::vector<const Finding*>& missing, const std::vector<std::string>& known) {
  if (missing.empty()) return "";
  std::string text = sum_of(missing.size(), "hole", "holes");
  if (missing.size() == 1) {
    text += in_dimension(missing.front()->dimension, " of volume ") + brief(*missing.front()->volume) + " is left";
    const std::vector<std::string> beside = others(missing.front()->pieces, known);
    if (!beside.empty()) text += " beside " + quoted_list(beside);
  } else {
    text += " are left in the goal";
  }
  return text;
}

std::string capital(std::string text) {
  if (!text.empty() && text.front() >= 'a' && text.front() <= 'z') text.front() = static_cast<char>(text.front() - 32);
  if (!text.empty() && text.back() != '.') text += '.';
  return text;
}

std::string overlap_sentence(const std::vector<const Finding*>& overlaps, const std::vector<const Finding*>& missing,
                             Lead* lead) {
  const Finding& first = *overlaps.front();
  const std::string piece = first.suspects.empty() ? first.pieces.front() : first.suspects.front().piece;
  std::vector<const Finding*> own;
  for (const Finding* each : overlaps)
    if (std::find(each->pieces.begin(), each->pieces.end(), piece) != each->pieces.end()) own.push_back(each);
  std::stable_sort(own.begin(), own.end(), [](const Finding* a, const Finding* b) { return size_of(*a) > size_of(*b); });
  std::vector<std::string> met;
  for (const Finding* each : own)
    for (const std::string& name : others(each->pieces, {piece})) met.push_back(name);
  lead->pieces = {piece};
  if (overlaps.front()->step == 0)
    return capital(quoted(piece) + " and " + quoted_list(met) + " overlap before the first step");
  const std::string hole = hole_text(missing, lead->pieces);
  return capital(quoted(piece) + " runs into " + quoted_list(met) + (hole.empty() ? "" : ", and " + hole));
}

std::string mirrored_sentence(const std::vector<const Finding*>& mirrored, Lead* lead) {
  for (const Finding* each : mirrored) lead->pieces.insert(lead->pieces.end(), each->pieces.begin(), each->pieces.end());
  const bool one = lead->pieces.size() == 1;
  return std::string(mirrored.size() == 1 ? "The motion" : "The motions") + " of " + quoted_list(lead->pieces) +
         (mirrored.size() == 1 ? " turns " : " turn ") +
         (one ? "it into its mirror image" : "them into their mirror images") +
         in_dimension(mirrored.front()->dimension, ", which no motion in space can do.");
}

std::string goal_sentence(const std::vector<const Finding*>& missing, const std::vector<const Finding*>& excess,
                          Lead* lead) {
  if (excess.empty()) return capital(hole_text(missing, {}));
  for (const Finding* each : excess)
    for (const std::string& name : others(each->pieces, lead->pieces)) lead->pieces.push_back(name);
  const std::string hole = hole_text(missing, lead->pieces);
  std::string text = quoted_list(lead->pieces) + (lead->pieces.size() == 1 ? " lies" : " lie") + " outside the goal";
  if (excess.size() == 1)
    text += in_dimension(excess.front()->dimension, ", by a volume of ") + brief(*excess.front()->volume);
  return capital(text + (hole.empty() ? "" : ", and " + hole));
}

// One line of a list: what it says, and where.
struct Line {
  std::string what, where;
  std::vector<std::string> hints;
};

bool has_short_form(const Finding& finding) {
  return (finding.code == "overlap" || finding.code == "missing" || finding.code == "excess") && finding.volume;
}

std::string pieces_text(const Finding& finding, const Lead& lead) {
  std::vector<std::string> names = others(finding.pieces, lead.pieces);
  if (names.size() < finding.pieces.size())
    for (const std::string& name : lead.pieces)
      if (std::find(finding.pieces.begin(), finding.pieces.end(), name) != finding.pieces.end()) names.push_back(name);
  std::string text;
  for (std::size_t i = 0; i < names.size() && i < 6; ++i) text += (i == 0 ? "" : ", ") + names[i];
  return names.size() > 6 ? text + " and " + std::to_string(names.size() - 6) + " more" : text;
}

std::string region_text(const Finding& finding, const Lead& lead) {
  const std::string volume = brief(*finding.volume);
  const std::string pieces = pieces_text(finding, lead);
  return finding.code == "missing" || pieces.empty() ? volume : pieces + " " + volume;
}

std::string where_text(const Finding& finding, const Lead& lead) {
  std::string text = finding.box ? brief(*finding.box) : "";
  const std::string pieces = pieces_text(finding, lead);
  if (finding.code == "missing" && !pieces.empty()) text += (text.empty() ? "" : ", ") + ("beside " + pieces);
  return text;
}

// Findings of one code at one place, as few lines as they allow.
std::vector<Line> lines_of(std::vector<const Finding*> findings, const Lead& lead) {
  std::vector<Line> lines;
  if (findings.front()->code == "mirrored") {
    std::string pieces;
    for (const Finding* each : findings) pieces += (pieces.empty() ? "" : "; ") + pieces_text(*each, Lead());
    return {{pieces, "", {}}};
  }
  if (!has_short_form(*findings.front())) {
    std::vector<const Finding*> all(findings.begin(), findings.end());
    for (const AlikeFindings& each : fold_alike(all))
      lines.push_back({each.message(), "", {hint_of(*each.findings.front())}});
    return lines;
  }
  std::stable_sort(findings.begin(), findings.end(),
                   [](const Finding* a, const Finding* b) { return size_of(*a) > size_of(*b); });
  for (std::size_t i = 0; i < findings.size();) {
    std::size_t end = i + 1;
    while (end < findings.size() && findings[end]->volume->exact == findings[i]->volume->exact) ++end;
    if (end == i + 1) {
      lines.push_back({region_text(*findings[i], lead), where_text(*findings[i], lead), {}});
    } else {
      constexpr std::size_t most = 6;
      std::string pieces;
      for (std::size_t k = i; k < std::min(end, i + most); ++k) {
        const std::string some = pieces_text(*findings[k], lead);
        if (!some.empty()) pieces += (pieces.empty() ? "" : "; ") + some;
      }
      if (end - i > most) pieces += "; and " + std::to_string(end - i - most) + " more";
      if (findings[i]->code == "missing") {
        lines.push_back({std::to_string(end - i) + " of " + brief(*findings[i]->volume) + " each",
                         pieces.empty() ? "" : "beside " + pieces,
                         {}});
      } else {
        lines.push_back({pieces + " " + brief(*findings[i]->volume) + " each", "", {}});
      }
    }
    i = end;
  }
  return lines;
}

// What it is, and where: in a column of its own where there is room for that.
void write_line(const std::string& label, const std::string& what, const std::string& where, Layout* out) {
  constexpr std::size_t where_column = 40, least_room = 40;
  const std::size_t used = display_width(label) + display_width(escaped(what));
  const bool narrow = out->width() < where_column + least_room || used + 2 > where_column;
  if (where.empty() || (narrow && used + 2 + where.size() > out->width())) {
    out->paragraph(0, label, what, Tint::red, Tint::red);
    if (!where.empty()) out->paragraph(static_cast<int>(display_width(label)) + 2, "", where, Tint::plain, Tint::red);
    return;
  }
  const std::string padding(used + 2 < where_column ? where_column - used : 2, ' ');
  out->paragraph(0, label + what + padding, where, Tint::red, Tint::red);
}

}  // namespace

std::string quoted_list(const std::vector<std::string>& names) {
  const std::size_t shown = names.size() > 6 ? 5 : names.size();
  std::string text;
  for (std::size_t i = 0; i < shown; ++i) {
    if (i > 0) text += i + 1 == names.size() ? " and " : ", ";
    text += quoted(names[i]);
  }
  if (shown < names.size()) text += " and " + std::to_string(names.size() - shown) + " more";
  return text;
}

Lead lead_of(const CheckResult& result) {
  const auto rank = [](const Finding& finding) {
    if (finding.code == "volume-differs") return 0;
    if (finding.code == "dehn-differs") return 1;
    if (!kind_of(finding).of_plan) return 5;
    // Of a hole only its neighbours are known, and these may lie where they should.
    return !concerns_goal(finding) ? 2 : finding.code == "missing" ? 4 : 3;
  };
  Lead lead;
  for (std::size_t i = 1; i < result.findings.size(); ++i)
    if (rank(result.findings[i]) < rank(result.findings[lead.finding])) lead.finding = i;
  const Finding& first = result.findings.at(lead.finding);
  lead.shown = at_suspect(first);
  std::map<std::string, std::vector<const Finding*>> alike, at_goal;
  for (const Finding& each : result.findings) (concerns_goal(each) ? at_goal : alike)[each.code].push_back(&each);
  std::vector<const Finding*> together;
  for (const Finding* each : alike[first.code])
    if (each->step == first.step) together.push_back(each);

  if (first.code == "volume-differs") {
    lead.covered = {lead.finding};
    if (result.start && result.goal && first.volume)
      lead.sentence = std::string("The goal is ") + (first.volume->decimal.compare(0, 1, "-") == 0 ? "smaller" : "larger") +
                      " than the start: " + brief(result.goal->volume) + " against " + brief(result.start->volume) +
                      ". No motion can mend that.";
    else
      lead.sentence = capital(message_of(first));
  } else if (first.code == "overlap") {
    lead.sentence = overlap_sentence(together, at_goal["missing"], &lead);
  } else if (first.code == "mirrored") {
    lead.sentence = mirrored_sentence(together, &lead);
  } else if (first.code == "missing" || first.code == "excess") {
    lead.sentence = goal_sentence(at_goal["missing"], at_goal["excess"], &lead);
  } else {
    lead.pieces = first.pieces;
    lead.covered = {lead.finding};
    lead.sentence = capital(message_of(first));
  }
  return lead;
}

void write_step_findings(const CheckResult& result, const Lead& lead, int step, bool at_goal, const std::string& first_label,
                         Layout* out) {
  constexpr std::size_t most_lines = 6;
  std::vector<std::string> order;
  std::map<std::string, std::vector<const Finding*>> groups;
  for (std::size_t i = 0; i < result.findings.size(); ++i) {
    const Finding& finding = result.findings[i];
    if (!kind_of(finding).of_plan || concerns_goal(finding) != at_goal || (!at_goal && finding.step != step)) continue;
    // Beside other findings, what the sentence tells is not said again; alone it marks the step.
    if (std::find(lead.covered.begin(), lead.covered.end(), i) != lead.covered.end()) continue;
    if (groups[finding.code].empty()) order.push_back(finding.code);
    groups[finding.code].push_back(&finding);
  }
  std::set<std::string> hints{hint_of(result.findings[lead.finding])};
  const std::string& label = first_label;
  for (const std::string& code : order) {
    const std::vector<Line> lines = lines_of(groups[code], lead);
    for (std::size_t i = 0; i < lines.size(); ++i) {
      if (i == most_lines && lines.size() > most_lines + 1) {
        out->paragraph(0, label, std::to_string(lines.size() - i) + " more of the kind " + code);
        break;
      }
      write_line(label, code + "  " + lines[i].what, lines[i].where, out);
      for (const std::string& hint : lines[i].hints)
        if (!hint.empty() && hints.insert(hint).second)
          out->paragraph(static_cast<int>(display_width(label)) + 2, "try: ", hint, Tint::green);
    }
  }
}

}  // namespace cutproof
