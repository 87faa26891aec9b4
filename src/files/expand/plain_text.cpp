// SPDX-License-Identifier: GPL-3.0-or-later
#include "files/expand/plain_text.hpp"

#include "number/errors.hpp"

#include <set>

namespace cutproof {

PlanValue list_value(const PieceNames& names) {
  PlanValue list = PlanValue::list();
  for (const std::string& name : names) list.add(name);
  return list;
}

PlanValue pieces_value(const PieceNames& names) {
  return names.size() == 1 ? PlanValue(names.front()) : list_value(names);
}

void add_comment(const std::string& text, std::vector<std::string>* lines) {
  for (std::string& line : comment_lines(text)) lines->push_back(std::move(line));
}

void PlainSteps::add(const PlanValue& step) {
  if (steps_.entries().size() == most_)
    throw LimitReached("max-passes", "written out, the plan has more than " + std::to_string(most_) + " steps",
                       "do lemmas use lemmas many times? --max-passes raises the limit");
  PlanValue titled = PlanValue::mapping();
  if (!title_.empty()) titled.add("title", std::exchange(title_, ""));
  for (const PlanValue::Entry& entry : step.entries()) titled.add(entry.key, entry.value);
  if (!note_.empty()) titled.add("note", std::exchange(note_, ""));
  steps_.add(std::move(titled));
}

void PlainSteps::cut(const PieceNames& pieces, const std::vector<PlanValue>& planes, const PieceNames& into) {
  PlanValue step = PlanValue::mapping();
  step.add("cut", pieces_value(pieces)).add("by", planes.size() == 1 ? planes.front() : PlanValue::list(planes));
  if (!into.empty()) step.add("into", pieces_value(into));
  add(step);
}

void PlainSteps::join(const PieceNames& pieces, const std::string& as) {
  PlanValue step = PlanValue::mapping();
  step.add("join", pieces_value(pieces)).add("as", as);
  add(step);
}

void PlainSteps::move(const std::vector<std::pair<PieceNames, PlanValue>>& entries) {
  std::set<std::string> keys;
  bool is_short = true;
  for (const auto& [pieces, motion] : entries)
    if (pieces.size() > 1 || !keys.insert(pieces.front()).second) is_short = false;
  PlanValue motions = is_short ? PlanValue::mapping() : PlanValue::list();
  for (const auto& [pieces, motion] : entries) {
    if (is_short) {
      motions.add(pieces.front(), motion);
      continue;
    }
    PlanValue entry = PlanValue::mapping();
    entry.add("pieces", pieces_value(pieces)).add("by", motion);
    motions.add(std::move(entry));
  }
  PlanValue step = PlanValue::mapping();
  step.add("move", std::move(motions));
  add(step);
}

}  // namespace cutproof
