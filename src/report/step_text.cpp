// SPDX-License-Identifier: GPL-3.0-or-later
#include "report/step_text.hpp"

#include "report/escape.hpp"

#include <algorithm>

namespace cutproof {
namespace {

// The verb, what was taken, and what came of it.
struct Deed {
  std::string verb;
  NameList taken, made;
};

Deed deed_of(const StepResult& step, bool holds) {
  if (step.kind == "expect") return {holds ? "expect: holds" : "expect: does not hold", {}, {}};
  if (step.kind == "move") return {step.moved.empty() ? "moved nothing" : "moved", step.moved, {}};
  if (step.kind == "use") return {"lemma " + shortened(step.lemma, 40) + ":", step.removed, step.added};
  if (step.kind == "join") return {"joined", step.removed, step.added};
  return {step.kind, step.removed, step.added};
}

std::string told(const Deed& deed, std::size_t width) {
  std::string text = deed.verb;
  const std::size_t used = display_width(text) + 1;
  std::size_t room = width > used ? width - used : 0;
  if (deed.made.empty()) return deed.taken.empty() ? text : text + " " + names_within(deed.taken, room);
  constexpr std::string_view arrow = " -> ";
  room = room > arrow.size() ? room - arrow.size() : 0;
  // What one list leaves of its half, the other may take.
  const std::size_t made_width = display_width(names_within(deed.made, room));
  const std::string taken = names_within(deed.taken, std::max(room / 2, room > made_width ? room - made_width : 0));
  const std::size_t taken_width = display_width(taken);
  return text + " " + taken + std::string(arrow) + names_within(deed.made, room > taken_width ? room - taken_width : 0);
}

}  // namespace

std::string shortened(std::string_view text, std::size_t width) {
  // A code point may take no column, so that even long text can fit; but no reader wants to see thousands of marks.
  const std::size_t most = width * 4;
  std::string whole = escaped_prefix(text, most);
  const bool cut = escaped_prefix(text, most + 1).size() > whole.size();
  if (!cut && display_width(whole) <= width) return whole;
  std::size_t kept = cut ? most : std::min(most, whole.size());
  const std::size_t room = width > 3 ? width - 3 : 0;
  while (kept > 0 && display_width(whole = escaped_prefix(text, kept)) > room) --kept;
  return (kept == 0 ? "" : whole) + "...";
}

std::string names_within(const NameList& all, std::size_t width, std::string_view separator) {
  if (all.empty()) return "";
  const std::vector<std::string>& names = all.first;
  const auto rest = [&](std::size_t shown) {
    return shown == all.size() ? std::string() : " and " + std::to_string(all.size() - shown) + " more";
  };
  std::string text, last;
  for (std::size_t i = 0; i < names.size(); ++i) {
    // A name takes at least a column, so that what is certainly too long is not even looked at.
    if (names[i].size() > 16 * (width + 8) && i > 0) break;
    text += (i == 0 ? "" : std::string(separator)) + escaped(names[i]);
    if (display_width(text) > width + 16) break;
    if (display_width(text + rest(i + 1)) <= width) last = text + rest(i + 1);
  }
  if (!last.empty()) return last;
  const std::string tail = rest(1);
  return shortened(names.front(), width > tail.size() + 8 ? width - tail.size() : 8) + tail;
}

std::string step_text(const StepResult& step, bool holds, std::size_t width) {
  std::string tail = " (line " + std::to_string(step.line);
  for (std::size_t i = 0; i < step.pass.size(); ++i)
    tail += (i == 0 ? ", in the pass with " : ", ") + step.pass[i].first + " = " + escaped(step.pass[i].second);
  tail += ")";
  if (step.skipped) return shortened(step.kind + ": left out because of a finding" + tail, width);
  const Deed deed = deed_of(step, holds);
  const bool idle = step.kind == "cut" && step.removed.empty();
  const std::size_t room = width > tail.size() ? width - tail.size() : 0;
  std::string title;
  if (!step.title.empty()) title = ": \"" + shortened(step.title, std::max<std::size_t>(room / 2, 20)) + "\"";
  std::string what =
      idle ? "cut: no piece was cut" : told(deed, std::max(room - std::min(room, display_width(title)), room / 2));
  // The title may take what the names left; too short to be read, it goes.
  const std::size_t left = room > display_width(what) ? room - display_width(what) : 0;
  if (!title.empty()) title = left < 12 ? "" : ": \"" + shortened(step.title, left - 4) + "\"";
  return what + title + tail;
}

}  // namespace cutproof
