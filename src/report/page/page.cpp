// SPDX-License-Identifier: GPL-3.0-or-later
#include "report/page/page.hpp"

#include "files/digest.hpp"
#include "report/escape.hpp"
#include "report/findings_text.hpp"
#include "report/page/assets.hpp"
#include "report/page/markup.hpp"
#include "report/page/plan_sheet.hpp"
#include "report/page/view_part.hpp"
#include "report/verdict_text.hpp"

#include <fmt/format.h>

#include <algorithm>

namespace cutproof {
namespace {

// Nothing is fetched, and no script runs but the one that this digest names.
std::string policy(std::string_view script) {
  std::string text = "default-src 'none'; style-src 'unsafe-inline'; base-uri 'none'; form-action 'none'";
  if (!script.empty()) text += "; script-src 'sha256-" + base64_of_digest(sha256(script)) + "'";
  return text;
}

std::string head(const std::string& title, std::string_view script) {
  return fmt::format(
      "<!DOCTYPE html>\n<html lang=\"en\">\n<head>\n<meta charset=\"utf-8\">\n"
      "<meta http-equiv=\"Content-Security-Policy\" content=\"{}\">\n"
      "<meta name=\"viewport\" content=\"width=device-width, initial-scale=1\">\n<meta name=\"color-scheme\" "
      "content=\"light "
      "dark\">\n<meta name=\"referrer\" content=\"no-referrer\">\n<title>{}</title>\n<style>\n{}</style>\n</head>\n<body>\n",
      policy(script), title, page_style());
}

// The list of several plans, the worst first.
std::string plan_list(const std::vector<Sheet>& sheets) {
  std::vector<const Sheet*> order;
  for (const Sheet& sheet : sheets) order.push_back(&sheet);
  std::stable_sort(order.begin(), order.end(), [](const Sheet* a, const Sheet* b) {
    return exit_code(a->result.outcome) > exit_code(b->result.outcome);
  });
  std::string text =
      "<div class=\"scroll\"><table class=\"plans stack\">\n<thead><tr><th scope=\"col\">Verdict</th><th "
      "scope=\"col\">Plan</th><th scope=\"col\">File</th></tr></thead>\n<tbody>\n";
  for (const Sheet* sheet : order) {
    const CheckResult& result = sheet->result;
    text +=
        fmt::format("<tr><td class=\"mark {}\">{}</td><td><a href=\"#plan-{}\" dir=\"auto\">{}</a></td><td>{}</td></tr>\n",
                    outcome_word(result.outcome), outcome_mark(result.outcome) + proof_text(result), sheet->number + 1,
                    title_of(result), name_in_page(result.plan));
  }
  return text + "</tbody></table></div>\n";
}

std::string foot() {
  std::string text =
      "<footer>\n<p>Written by cutproof. This page is whole: it fetches nothing and can be kept and sent.</p>\n";
  if (!viewer_licence().empty()) {
    text += "<details><summary>Licence of three.js, which draws the view</summary><pre>" + in_markup(viewer_licence()) +
            "</pre></details>\n";
  }
  return text + "</footer>\n";
}

}  // namespace

std::string html_report(const std::vector<CheckResult>& results) {
  std::vector<Sheet> sheets;
  for (const CheckResult& result : results) sheets.push_back({result, sheets.size(), results.size() == 1});
  const std::string view = view_part(sheets);
  const std::string_view script = view.empty() ? std::string_view() : viewer_script();
  std::string title = results.size() == 1 ? fmt::format("{}{}: {}", outcome_word(results[0].outcome), proof_text(results[0]),
                                                        title_of(results[0]))
                                          : tally(results);
  std::string page = head(title, script) + "<main>\n";
  if (results.size() == 1) {
    const SheetBody body = sheet_body(sheets[0]);
    page +=
        "<article class=\"plan\">\n" + sheet_head(sheets[0]) + body.before_view + view + body.after_view + "</article>\n";
  } else {
    page += "<header class=\"head\"><h1 class=\"title\">" + tally(results) + "</h1></header>\n";
    if (results.empty()) page += "<p>No plan falls to this shard.</p>\n";
    if (!results.empty()) page += plan_list(sheets) + view;
    for (const Sheet& sheet : sheets) {
      page += fmt::format("<article class=\"plan\" id=\"plan-{}\">\n", sheet.number + 1);
      const SheetBody body = sheet_body(sheet);
      page += sheet_head(sheet) + body.before_view + body.after_view + "</article>\n";
    }
  }
  page += foot() + "</main>\n";
  for (const Sheet& sheet : sheets) page += view_data(sheet);
  if (!script.empty()) page += "<script>" + std::string(script) + "</script>\n";
  return page + "</body>\n</html>\n";
}

}  // namespace cutproof
