// SPDX-License-Identifier: GPL-3.0-or-later
// Workflow commands, `::error file=F,line=L::MESSAGE`: a line a finding, which CI servers show beside the plan's text.
#include "report/against_text.hpp"
#include "report/ci_formats.hpp"
#include "report/escape.hpp"
#include "report/finding_facts.hpp"
#include "report/sentences.hpp"
#include "report/verdict_text.hpp"

#include <algorithm>
#include <string_view>

namespace cutproof {
namespace {

// In messages `%`, CR and LF; in values also what ends one.
std::string encoded(std::string_view text, bool value) {
  std::string result;
  for (const char each : text) {
    switch (each) {
      case '%':
        result += "%25";
        break;
      case '\r':
        result += "%0D";
        break;
      case '\n':
        result += "%0A";
        break;
      case ':':
        result += value ? "%3A" : ":";
        break;
      case ',':
        result += value ? "%2C" : ",";
        break;
      default:
        result += each;
    }
  }
  return result;
}

void write(const char* kind, const FindingPlace& place, const std::string& code, const std::string& message,
           std::string* out) {
  *out += std::string("::") + kind + " file=";
  *out += encoded(escaped(place.file), true);
  if (place.line > 0) *out += ",line=" + std::to_string(place.line);
  if (place.column > 0) *out += ",col=" + std::to_string(place.column);
  *out += ",title=" + encoded(code, true) + "::" + encoded(message, false) + "\n";
}

}  // namespace

std::string annotations_report(const std::vector<CheckResult>& results) {
  std::string text;
  for (const CheckResult& result : results) {
    if (result.against) write("notice", {result.plan, 0, 0}, "against", escaped(against_line(result)), &text);
    const char* kind = result.outcome == Outcome::stopped ? "warning" : "error";
    for (const Finding& finding : result.findings) {
      std::string message = case_prefix(result) + escaped(message_of(finding));
      if (const std::string hint = hint_of(finding); !hint.empty()) message += "\ntry: " + escaped(hint);
      write(kind, place_of(result, finding), finding.code, message, &text);
    }
    for (const auto& [code, count] : result.counts) {
      const auto listed =
          static_cast<std::size_t>(std::count_if(result.findings.begin(), result.findings.end(),
                                                 [&, name = code](const Finding& each) { return each.code == name; }));
      if (count > listed)
        write(kind, {result.plan, 0, 0}, code,
              "and " + std::to_string(count - listed) + " more of this kind, " + std::to_string(count) + " in all", &text);
    }
  }
  return text;
}

}  // namespace cutproof
