// SPDX-License-Identifier: GPL-3.0-or-later
// How text gets into a page: all of it, the plan's and our own, passes through one of these.
#pragma once

#include "cutproof/result.hpp"

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
std::string names_in_page(const NameList& names, std::size_t most);
/// The same as plain text, escaped by nothing.
std::string names_in_words(const NameList& names, std::size_t most);

/// JSON for a script element: `<` as `\u003c`, so that nothing in it can end the element. In JSON it stands in texts alone.
std::string data_in_page(std::string_view json);

/// `5a5347` and so on, 64 hexadecimal digits, in base 64 (RFC 4648), as policies name scripts by.
std::string base64_of_digest(std::string_view hexadecimal);

}  // namespace cutproof
