// SPDX-License-Identifier: GPL-3.0-or-later
// Exact numbers as people write them, and what is printed is read back as the same number.
#include "number/print.hpp"
#include "plan/evaluate.hpp"

#include <catch2/catch.hpp>

#include <random>
#include <string>
#include <vector>

using namespace cutproof;

namespace {

class NoNames : public Scope {
 public:
  std::optional<ExactValue> value_of(const std::string&) override { return std::nullopt; }
  std::optional<Plane> plane_of(const std::string&) override { return std::nullopt; }
  std::string nearest_name(const std::string&) const override { return ""; }
};

ExactValue value(const std::string& text, FieldTower& tower) {
  NoNames scope;
  return evaluate(*parse_expression(text), scope, tower);
}

Number number(const std::string& text, FieldTower& tower) {
  return std::get<Number>(value(text, tower));
}

struct Form {
  std::vector<std::string> adjoined;  ///< before the expression is read
  std::string expression, written;
};

const std::vector<std::string> fields[] = {
    {"sqrt(2)"},
    {"sqrt(5)"},
    {"sqrt(2)", "sqrt(3)"},
    {"sqrt(6)", "sqrt(10)"},
    {"sqrt(2)", "sqrt(3)", "sqrt(5)"},
    {"cbrt(2)"},
    {"cbrt(12)", "sqrt(3)"},
    {"cbrt(2)", "cbrt(3)"},
    {"2^(1/4)"},
    {"12^(1/4)", "sqrt(5)"},
    {"72^(1/6)"},
    {"sqrt(2)", "sqrt(2 + sqrt(2))"},
    {"sin(36 deg)"},
    {"sqrt(3)", "sqrt(10 - 2*sqrt(5))"},
    {"sqrt(sqrt(sqrt(3)))"},
    {"sqrt(1 + cbrt(2))"},
    {"(2 + sqrt(2))^(1/4)"},
    {"cbrt(1 + sqrt(2))"},
    {"cos(pi/7)"},
    {"cos(pi/9)", "sqrt(3)"},
    {"cos(2 deg)"},
    {"sqrt(7)", "cos(4*pi/15)"},
    {"root(x^3 - x - 1, 1)", "sqrt(2)"},
    {"cos(acos(1/3)/3)"},
};

}  // namespace

TEST_CASE("sixty numbers as a mathematician writes them") {
  const std::vector<Form> forms = {
      {{}, "6/4", "3/2"},
      {{}, "-0.25", "-1/4"},
      {{}, "0*sqrt(2)", "0"},
      {{}, "sqrt(2)/2", "sqrt(2)/2"},
      {{}, "1/sqrt(2)", "sqrt(2)/2"},
      {{}, "-3*sqrt(2)/4", "-3*sqrt(2)/4"},
      {{}, "0.5*sqrt(3)", "sqrt(3)/2"},
      {{}, "sqrt(8)", "2*sqrt(2)"},
      {{}, "sqrt(3/4)", "sqrt(3)/2"},
      {{}, "1 - sqrt(2)", "1 - sqrt(2)"},
      {{}, "sqrt(2) - 1", "sqrt(2) - 1"},
      {{}, "-1 - sqrt(2)", "-1 - sqrt(2)"},
      {{}, "(1 + sqrt(5))/2", "(1 + sqrt(5))/2"},
      {{}, "(sqrt(5) - 1)/2", "(sqrt(5) - 1)/2"},
      {{}, "-(1 + sqrt(5))/2", "-(1 + sqrt(5))/2"},
      {{}, "1/2 + sqrt(2)", "1/2 + sqrt(2)"},
      {{}, "1/2 + sqrt(2)/3", "1/2 + sqrt(2)/3"},
      {{}, "2 + 2*sqrt(2)", "2 + 2*sqrt(2)"},
      {{}, "3/2 + 3*sqrt(2)/2", "3*(1 + sqrt(2))/2"},
      {{}, "15/7 + 15*sqrt(2)/7", "15*(1 + sqrt(2))/7"},
      {{}, "3/4 + 5*sqrt(2)/4", "(3 + 5*sqrt(2))/4"},
      {{}, "1200 + 1200*sqrt(3)", "1200*(1 + sqrt(3))"},
      {{"sqrt(2)", "sqrt(3)"}, "sqrt(6)", "sqrt(6)"},
      {{"sqrt(2)", "sqrt(3)"}, "sqrt(2)*sqrt(3)/6", "sqrt(6)/6"},
      {{"sqrt(2)", "sqrt(6)"}, "sqrt(3)", "sqrt(3)"},
      {{"sqrt(6)", "sqrt(10)"}, "sqrt(15)", "sqrt(15)"},
      {{"sqrt(2)", "sqrt(3)"}, "(sqrt(2) + sqrt(3))^2", "5 + 2*sqrt(6)"},
      {{"sqrt(2)", "sqrt(3)"}, "sqrt(5 + 2*sqrt(6))", "sqrt(2) + sqrt(3)"},
      {{"sqrt(2)", "sqrt(3)"}, "cos(15 deg)", "(sqrt(2) + sqrt(6))/4"},
      {{"sqrt(2)", "sqrt(3)"}, "sin(15 deg)", "(sqrt(6) - sqrt(2))/4"},
      {{"sqrt(2)", "sqrt(3)", "sqrt(5)"}, "sqrt(2)*sqrt(3)*sqrt(5)", "sqrt(30)"},
      {{}, "cos(36 deg)", "(1 + sqrt(5))/4"},
      {{}, "sin(18 deg)", "(sqrt(5) - 1)/4"},
      {{}, "tan(30 deg)", "sqrt(3)/3"},
      {{}, "cbrt(2)", "cbrt(2)"},
      {{}, "cbrt(2)^2", "cbrt(4)"},
      {{}, "cbrt(16)", "2*cbrt(2)"},
      {{}, "1/cbrt(2)", "cbrt(4)/2"},
      {{}, "cbrt(2)*cbrt(3)", "cbrt(6)"},
      {{}, "cbrt(4)*cbrt(3)", "cbrt(12)"},
      {{}, "1 + cbrt(2) + cbrt(4)", "1 + cbrt(2) + cbrt(4)"},
      {{}, "3^(1/4)", "3^(1/4)"},
      {{}, "3^(3/4)", "3^(3/4)"},
      {{}, "3^(2/4)", "sqrt(3)"},
      {{"3^(1/4)"}, "sqrt(3)", "sqrt(3)"},
      {{"2^(1/4)"}, "2^(1/4) - 2^(3/4)", "2^(1/4) - 2^(3/4)"},
      {{}, "2^(1/4)*3^(1/4)", "6^(1/4)"},
      {{}, "2^(1/6)", "2^(1/6)"},
      {{"2^(1/6)"}, "cbrt(2)*sqrt(2)", "2^(5/6)"},
      {{}, "sqrt(2)*cbrt(3)", "sqrt(2)*cbrt(3)"},
      {{}, "sqrt(2 + sqrt(2))", "sqrt(2 + sqrt(2))"},
      {{}, "sqrt(2 + sqrt(2))/2", "sqrt(2 + sqrt(2))/2"},
      {{"sqrt(2 + sqrt(2))"}, "sqrt(2 - sqrt(2))", "sqrt(2 - sqrt(2))"},
      {{}, "sqrt(10 + 2*sqrt(5))/4", "sqrt(10 + 2*sqrt(5))/4"},
      {{"sqrt(10 + 2*sqrt(5))"}, "sqrt(10 - 2*sqrt(5))/4", "sqrt(10 - 2*sqrt(5))/4"},
      {{}, "sqrt(5 + 2*sqrt(5))", "sqrt(5 + 2*sqrt(5))"},
      {{"(1 + sqrt(2))^(1/4)"}, "(1 + sqrt(2))^(3/4)", "(1 + sqrt(2))^(3/4)"},
      {{"(1 + sqrt(2))^(1/4)"}, "sqrt(1 + sqrt(2))/2", "sqrt(1 + sqrt(2))/2"},
      {{}, "cos(pi/7)", "cos(pi/7)"},
      {{"cos(pi/7)"}, "cos(2*pi/7)", "cos(2*pi/7)"},
      {{"cos(pi/7)"}, "cos(3*pi/7)", "1/2 - cos(pi/7) + cos(2*pi/7)"},
      {{"cos(pi/9)"}, "cos(pi/9)^2", "cos(pi/9)^2"},
      {{}, "root(x^3 - x - 1, 1)^2/3", "root(x^3 - x - 1, 1)^2/3"},
      {{}, "sqrt(2)*cos(pi/7)/2", "sqrt(2)*cos(pi/7)/2"},
  };
  for (const Form& form : forms) {
    INFO(form.expression);
    FieldTower tower;
    for (const std::string& each : form.adjoined) number(each, tower);
    const Number value = number(form.expression, tower);
    CHECK(to_exact(value) == form.written);
    CHECK(number(to_exact(value), tower) == tower.lifted(value));
  }
}

TEST_CASE("a number that is printed is read back as the same number, and is printed again alike") {
  std::mt19937_64 engine(7301);
  const auto pick = [&](long low, long high) {
    return low + static_cast<long>(engine() % static_cast<unsigned long>(high - low + 1));
  };
  for (const auto& adjoined : fields) {
    FieldTower tower;
    for (const std::string& each : adjoined) number(each, tower);
    const Field& field = tower.top();
    for (int i = 0; i < 20; ++i) {
      RationalPolynomial polynomial;
      for (int j = 0; j < field.degree(); ++j) {
        if (pick(0, 2) == 0) continue;
        Rational coefficient;
        fmpq_set_si(coefficient, pick(-12, 12), static_cast<ulong>(pick(1, 6)));
        fmpq_poly_set_coeff_fmpq(polynomial, j, coefficient);
      }
      Number value = Number::from_polynomial(polynomial, field);
      if (i % 4 == 1) value = Number::fraction(pick(-9, 9), pick(1, 9)) * number(adjoined.back(), tower);
      if (i % 4 == 2)
        value =
            number(adjoined.front(), tower) * number(adjoined.back(), tower) * (Number(1) + number(adjoined.front(), tower));
      const std::string text = to_exact(value);
      INFO("seed 7301, " << adjoined.back() << ", case " << i << ": " << text);
      const Number read = number(text, tower);
      CHECK(read == value);
      CHECK(to_exact(read) == text);
      CHECK(tower.top().degree() == field.degree());
      // in a tower that knows nothing of this one
      FieldTower fresh({200, 1u << 20});
      if (field.degree() <= 8) {
        const Number again = number(text, fresh);
        CHECK(to_decimal(again, 30) == to_decimal(value, 30));
      }
    }
  }
}

TEST_CASE("a sum of square roots that is printed is read back with the same value") {
  std::mt19937_64 engine(7302);
  const auto pick = [&](long low, long high) {
    return low + static_cast<long>(engine() % static_cast<unsigned long>(high - low + 1));
  };
  for (const auto& adjoined : fields) {
    FieldTower tower;
    for (const std::string& each : adjoined) number(each, tower);
    if (tower.top().degree() > 6) continue;
    for (int i = 0; i < 8; ++i) {
      RadicalSum sum;
      const Number base = number(adjoined.front(), tower);
      for (int j = 0; j <= i % 3; ++j) {
        const Number factor = Number::fraction(pick(-9, 9), pick(1, 4)) + Number(pick(-1, 1)) * base;
        Number radicand = absolute(Number::fraction(pick(1, 9), pick(1, 4)) + Number(pick(-1, 1)) * base);
        sum.add(tower.lifted(factor), tower.lifted(radicand));
      }
      const std::string text = to_exact(sum);
      INFO("seed 7302, " << adjoined.back() << ", case " << i << ": " << text);
      FieldTower fresh({200, 1u << 20});
      CHECK(to_decimal(number(text, fresh), 30) == to_decimal(sum, 30));
    }
  }
}
