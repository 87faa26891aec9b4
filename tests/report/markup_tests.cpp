// SPDX-License-Identifier: GPL-3.0-or-later
// Text on its way into a page.
#include "report/page/markup.hpp"

#include <catch2/catch.hpp>

using namespace cutproof;

TEST_CASE("markup's characters and those that cannot be seen are escaped") {
  CHECK(in_page("a < b & c > \"d\" 'e'") == "a &lt; b &amp; c &gt; &quot;d&quot; &apos;e&apos;");
  CHECK(in_page("\xe2\x80\xae") == "\\u202e");
  CHECK(name_in_page("<i>") == "<bdi>&lt;i&gt;</bdi>");
}

TEST_CASE("what stands between backquotes is code, and a single one is a backquote") {
  CHECK(prose_in_page("`a` runs into `b<`.") == "<code>a</code> runs into <code>b&lt;</code>.");
  CHECK(prose_in_page("a ` b") == "a ` b");
  CHECK(prose_in_page("``") == "<code></code>");
  CHECK(prose_in_page("`a` ` b") == "<code>a</code> ` b");
  CHECK(prose_in_page("") == "");
}

TEST_CASE("of many names the first stand, and how many more") {
  CHECK(names_in_page({}, 2) == "");
  CHECK(names_in_page({"a", "b", "c"}, 2) == "<bdi>a</bdi>, <bdi>b</bdi>, <bdi>c</bdi>");
  CHECK(names_in_page({"a", "b", "c", "d"}, 2) == "<bdi>a</bdi>, <bdi>b</bdi> and 2 more");
}
