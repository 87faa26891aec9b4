// SPDX-License-Identifier: GPL-3.0-or-later
#include "report/page/sheet_parts.hpp"

#include <fmt/format.h>

namespace cutproof {

std::string part(const Sheet& sheet, const char* id, const std::string& text) {
  const int level = sheet.alone ? 2 : 3;
  return fmt::format("<h{0} class=\"part\" id=\"{1}{2}\">{3}</h{0}>\n", level, id,
                     sheet.alone ? "" : "-" + std::to_string(sheet.number + 1), text);
}

std::string fact(const char* name, const std::string& value) {
  return fmt::format("<dt>{}</dt><dd>{}</dd>\n", name, value);
}

std::string view_button(const Sheet& sheet, int step, const std::string& text) {
  return fmt::format("<button type=\"button\" class=\"show-in-view\" data-plan=\"{}\"{} hidden>{}</button>", sheet.number,
                     step < 0 ? "" : fmt::format(" data-step=\"{}\"", step), text);
}

}  // namespace cutproof
