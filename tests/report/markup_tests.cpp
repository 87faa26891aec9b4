// SPDX-License-Identifier: GPL-3.0-or-later
// Text on its way into a page.
#include "report/page/markup.hpp"

#include "files/digest.hpp"

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

TEST_CASE("names in words are listed alike") {
  CHECK(names_in_words({"a", "b<", "c", "d"}, 2) == "a, b< and 2 more");
}

TEST_CASE("nothing in data can end the element that holds it") {
  CHECK(data_in_page(R"({"a":"</script><!--"})") == R"({"a":"\u003c/script>\u003c!--"})");
}

TEST_CASE("digests in base 64") {
  // RFC 4648, section 10, and the digest of the empty text in both forms (FIPS 180-4 examples).
  CHECK(base64_of_digest("66") == "Zg==");
  CHECK(base64_of_digest("666f") == "Zm8=");
  CHECK(base64_of_digest("666f6f") == "Zm9v");
  CHECK(base64_of_digest("666f6f62") == "Zm9vYg==");
  CHECK(base64_of_digest("666f6f6261") == "Zm9vYmE=");
  CHECK(base64_of_digest("666f6f626172") == "Zm9vYmFy");
  CHECK(base64_of_digest(sha256("")) == "47DEQpj8HBSa+/TImW+5JCeuQeRkm5NMpJWZG3hSuFU=");
}
