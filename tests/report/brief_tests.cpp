// SPDX-License-Identifier: GPL-3.0-or-later
// Numbers in texts for people: exact where short, else cut towards zero.
#include "report/brief.hpp"

#include "report/findings_text.hpp"

#include <catch2/catch.hpp>

using namespace cutproof;

namespace {

const std::string long_sum = "sqrt(2) + sqrt(3) + sqrt(5) + sqrt(7)";

}  // namespace

TEST_CASE("long numbers are shown as four places") {
  CHECK(brief(Value{"sqrt(2)", "1.4142135623730950488"}) == "sqrt(2)");
  CHECK(brief(Value{long_sum, "8.0281836503483462"}) == "8.0281...");
  CHECK(brief(Value{long_sum, "-0.0012345678501"}) == "-0.0012...");
  CHECK(brief(Value{long_sum, "0.00001234567"}) == "0.00001234...");
  CHECK(brief(Value{long_sum, "123456789012.54321"}) == "123456789012.5432...");
  CHECK(brief(Value{long_sum, "9.99999999"}) == "9.9999...");
  CHECK(brief(Value{long_sum, "9.99999999e-30"}) == "9.9999...e-30");
  CHECK(brief(ExactPoint{"0", "1/2", long_sum, {"0", "0.5", "8.0281836503483462"}}) == "(0, 1/2, 8.0281...)");
}

TEST_CASE("a number beside a short decimal is cut towards zero, on either side of it") {
  const auto value = [](const std::string& exact, const std::string& decimal) { return Value{exact, decimal}; };
  const std::string twelve = "12.000000000000000000";
  CHECK(brief_decimal(value("12", twelve)) == "12");
  CHECK(brief_decimal(value("12 - 1e-30", twelve)) == "11.9999...");
  CHECK(brief_decimal(value("12 + 1e-30", twelve)) == "12.0000...");
  CHECK(brief_decimal(value("-12 + 1e-30", "-" + twelve)) == "-11.9999...");
  CHECK(brief_decimal(value("-12 - 1e-30", "-" + twelve)) == "-12.0000...");
  CHECK(brief_decimal(value("12 - 1e-30*sqrt(2)", twelve)) == "11.9999...");
  CHECK(brief_decimal(value("1/2 + 1e-40", "0.50000000000000000000")) == "0.5000...");
  CHECK(brief_decimal(value("10 - 1e-30", "10.000000000000000000")) == "9.9999...");
  CHECK(brief_decimal(value("1 - 1e-30", "1.0000000000000000000")) == "0.9999...");
  CHECK(brief_decimal(value("1e-30 - 1e-90", "1.0000000000000000000e-30")) == "9.9999...e-31");
  CHECK(brief_decimal(value("1e-30 + 1e-90", "1.0000000000000000000e-30")) == "1.0000...e-30");
  CHECK(brief_decimal(value("1e-30", "1.0000000000000000000e-30")) == "1e-30");
  CHECK(shown(value("12 - 1e-30", twelve)) == "12 - 1e-30 = 11.9999999999999...");
  CHECK(shown(value("1/2", "0.50000000000000000000")) == "1/2 = 0.5");
}

TEST_CASE("what cannot be decided, or has no place for an end, is said to be about a decimal") {
  CHECK(brief_decimal(Value{"cbrt(cbrt(cbrt(2)))*0 + 1 + nonsense", "1.0000000000000000000"}) ==
        "about 1.0000000000000000000");
  CHECK(brief_decimal(Value{"123456789012345678901 + 1/3", "123456789012345678901"}) == "about 123456789012345678901");
  CHECK(brief_decimal(Value{"123456789012345678901", "123456789012345678901"}) == "123456789012345678901");
}
