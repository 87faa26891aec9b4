// SPDX-License-Identifier: GPL-3.0-or-later
// The digest against the examples that NIST publishes for SHA-256 (FIPS 180-4, example values), the long message among them.
#include "files/digest.hpp"

#include <catch2/catch.hpp>

#include <set>

using cutproof::sha256;

TEST_CASE("SHA-256 of the published examples") {
  CHECK(sha256("abc") == "ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad");
  CHECK(sha256("") == "e3b0c44298fc1c149afbf4c8996fb92427ae41e4649b934ca495991b7852b855");
  CHECK(sha256("abcdbcdecdefdefgefghfghighijhijkijkljklmklmnlmnomnopnopq") ==
        "248d6a61d20638b8e5c026930c3e6039a33ce45964ff2167f6ecedd419db06c1");
  CHECK(sha256(std::string(1000000, 'a')) == "cdc76e5c9914fb9281a1c7e284d73e67f1809a48a497200e046d39ccc7112cd0");
}

TEST_CASE("messages of every length around a block's end have digests of their own") {
  std::set<std::string> seen;
  for (std::size_t length = 0; length < 200; ++length) seen.insert(sha256(std::string(length, '\0')));
  CHECK(seen.size() == 200);
}
