// SPDX-License-Identifier: GPL-3.0-or-later
// How text gets into a page: all of it, the plan's and our own, passes through one of these.
#pragma once

#include <string>
#include <string_view>
#include <vector>

namespace cutproof {

/// As text or in an attribute's quotes: made visible by `escaped`, then with markup's characters escaped.
std::string in_page(std::string_view raw);

/// Our own sentences: what stands between backquotes in them (names and text of the plan) as code.
std::string prose_in_page(std::string_view sentence);

/// A name in an element that keeps its direction of writing to itself, since names stand within our sentences.
std::string name_in_page(std::string_view name);
/// Names between commas; of many the first, and how many more.
std::string names_in_page(const std::vector<std::string>& names, std::size_t most);

}  // namespace cutproof
