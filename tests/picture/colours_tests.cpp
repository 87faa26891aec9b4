// SPDX-License-Identifier: GPL-3.0-or-later
// Which piece has which colour, and whether the colours can be told apart.
#include "picture/colours.hpp"
#include "report/svg.hpp"

#include <catch2/catch.hpp>

#include <algorithm>
#include <array>
#include <cmath>
#include <random>
#include <set>
#include <string>
#include <utility>
#include <vector>

using namespace cutproof;

namespace {

using Triple = std::array<double, 3>;

Triple linear_of(const std::string& code) {
  Triple rgb{};
  for (int i = 0; i < 3; ++i) {
    const double v = std::stoi(code.substr(1 + 2 * static_cast<std::size_t>(i), 2), nullptr, 16) / 255.0;
    rgb[i] = v <= 0.04045 ? v / 12.92 : std::pow((v + 0.055) / 1.055, 2.4);
  }
  return rgb;
}

Triple times(const std::array<Triple, 3>& rows, const Triple& v) {
  Triple result{};
  for (int i = 0; i < 3; ++i) result[i] = rows[i][0] * v[0] + rows[i][1] * v[1] + rows[i][2] * v[2];
  return result;
}

// G. M. Machado, M. M. Oliveira, L. A. F. Fernandes, IEEE Transactions on Visualization and Computer Graphics 15 (2009),
// severity 1, in linear RGB (values from memory).
const std::array<std::array<Triple, 3>, 4> sights = {{
    {{{1, 0, 0}, {0, 1, 0}, {0, 0, 1}}},
    {{{0.152286, 1.052583, -0.204868}, {0.114503, 0.786281, 0.099216}, {-0.003882, -0.048116, 1.051998}}},
    {{{0.367322, 0.860646, -0.227968}, {0.280085, 0.672501, 0.047413}, {-0.011820, 0.042940, 0.968881}}},
    {{{1.255528, -0.076749, -0.178779}, {-0.078411, 0.930809, 0.147602}, {0.004733, 0.691367, 0.303900}}},
}};

// CIE L*a*b* under D65; matrix of IEC 61966-2-1 (from memory).
Triple lab_of(Triple rgb) {
  for (double& v : rgb) v = std::fmin(1, std::fmax(0, v));
  const Triple xyz = times(
      {{{0.4124564, 0.3575761, 0.1804375}, {0.2126729, 0.7151522, 0.0721750}, {0.0193339, 0.1191920, 0.9503041}}}, rgb);
  const Triple white{0.95047, 1, 1.08883};
  Triple f{};
  for (int i = 0; i < 3; ++i) {
    const double t = xyz[i] / white[i];
    f[i] = t > 216.0 / 24389 ? std::cbrt(t) : (24389.0 / 27 * t + 16) / 116;
  }
  return {116 * f[1] - 16, 500 * (f[0] - f[1]), 200 * (f[1] - f[2])};
}

// CIEDE2000 (G. Sharma, W. Wu, E. N. Dalal, Color Research and Application 30 (2005) 21-30).
double difference(const Triple& one, const Triple& two) {
  const double pi = std::acos(-1.0), degree = pi / 180;
  const double c1 = std::hypot(one[1], one[2]), c2 = std::hypot(two[1], two[2]), mean = (c1 + c2) / 2;
  const double g = 0.5 * (1 - std::sqrt(std::pow(mean, 7) / (std::pow(mean, 7) + std::pow(25.0, 7))));
  const double a1 = (1 + g) * one[1], a2 = (1 + g) * two[1];
  const double C1 = std::hypot(a1, one[2]), C2 = std::hypot(a2, two[2]);
  const auto hue = [&](double a, double b) { return a == 0 && b == 0 ? 0 : std::fmod(std::atan2(b, a) + 2 * pi, 2 * pi); };
  const double h1 = hue(a1, one[2]), h2 = hue(a2, two[2]);
  double dh = C1 * C2 == 0 ? 0 : h2 - h1;
  if (dh > pi) dh -= 2 * pi;
  if (dh < -pi) dh += 2 * pi;
  const double dL = two[0] - one[0], dC = C2 - C1, dH = 2 * std::sqrt(C1 * C2) * std::sin(dh / 2);
  const double L = (one[0] + two[0]) / 2, C = (C1 + C2) / 2;
  double h = h1 + h2;
  if (C1 * C2 != 0) h = std::fabs(h1 - h2) <= pi ? h / 2 : h < 2 * pi ? (h + 2 * pi) / 2 : (h - 2 * pi) / 2;
  const double t = 1 - 0.17 * std::cos(h - 30 * degree) + 0.24 * std::cos(2 * h) + 0.32 * std::cos(3 * h + 6 * degree) -
                   0.20 * std::cos(4 * h - 63 * degree);
  const double sl = 1 + 0.015 * (L - 50) * (L - 50) / std::sqrt(20 + (L - 50) * (L - 50)), sc = 1 + 0.045 * C,
               sh = 1 + 0.015 * C * t;
  const double turn = 30 * degree * std::exp(-std::pow((h / degree - 275) / 25, 2));
  const double rt = -2 * std::sqrt(std::pow(C, 7) / (std::pow(C, 7) + std::pow(25.0, 7))) * std::sin(2 * turn);
  return std::sqrt(std::pow(dL / sl, 2) + std::pow(dC / sc, 2) + std::pow(dH / sh, 2) + rt * (dC / sc) * (dH / sh));
}

}  // namespace

TEST_CASE("the colour difference is that of the published test data", "[picture]") {
  // From the paper's table 1.
  CHECK(difference({50, 2.6772, -79.7751}, {50, 0, -82.7485}) == Approx(2.0425).margin(1e-4));
  CHECK(difference({50, 2.5, 0}, {73, 25, -18}) == Approx(27.1492).margin(1e-4));
  CHECK(difference({60.2574, -34.0099, 36.2677}, {60.4626, -34.1751, 39.4387}) == Approx(1.2644).margin(1e-4));
  CHECK(difference({2.0776, 0.0795, -1.1350}, {0.9033, -0.0636, -0.5514}) == Approx(0.9082).margin(1e-4));
}

TEST_CASE("colours can be told apart in every tone, under every sight", "[picture]") {
  for (std::size_t sight = 0; sight < sights.size(); ++sight)
    for (int a = 0; a < colour_count; ++a)
      for (int b = a + 1; b < colour_count; ++b)
        for (int tone_a = 0; tone_a < 3; ++tone_a)
          for (int tone_b = 0; tone_b < 3; ++tone_b) {
            INFO("sight " << sight << ", colours " << a << " and " << b << ", tones " << tone_a << " and " << tone_b);
            CHECK(difference(lab_of(times(sights[sight], linear_of(paint_code(a, tone_a)))),
                             lab_of(times(sights[sight], linear_of(paint_code(b, tone_b))))) >= 8);
          }
}

TEST_CASE("seven pieces have seven colours, more have hatching", "[picture]") {
  std::set<int> colours;
  for (const Paint& paint : painted(7, {{0, 1}})) {
    colours.insert(paint.colour);
    CHECK(paint.hatching == 0);
  }
  CHECK(colours.size() == 7);
  std::set<std::pair<int, int>> paints;
  for (const Paint& paint : painted(49, {})) paints.emplace(paint.colour, paint.hatching);
  CHECK(paints.size() == 49);
  const auto eight = painted(8, {});
  CHECK(std::count_if(eight.begin(), eight.end(), [](const Paint& paint) { return paint.hatching != 0; }) == 1);
}

TEST_CASE("pieces that touch have different colours", "[picture]") {
  // Bricks in a wall, and random graphs in which each piece touches at most six.
  std::mt19937 random(7);
  for (int round = 0; round < 20; ++round) {
    const std::size_t count = 200;
    std::vector<std::size_t> degree(count);
    std::vector<std::pair<std::size_t, std::size_t>> touching;
    for (int i = 0; i < 3000; ++i) {
      const std::size_t a = random() % count, b = random() % count;
      if (a == b || degree[a] >= 6 || degree[b] >= 6) continue;
      touching.emplace_back(a, b);
      ++degree[a];
      ++degree[b];
    }
    const auto paints = painted(count, touching);
    for (const auto& [a, b] : touching) CHECK(paints[a].colour != paints[b].colour);
  }
  // Where more than seven touch each other, hatching tells them apart.
  std::vector<std::pair<std::size_t, std::size_t>> all;
  for (std::size_t a = 0; a < 10; ++a)
    for (std::size_t b = 0; b < a; ++b) all.emplace_back(a, b);
  std::set<std::pair<int, int>> paints;
  for (const Paint& paint : painted(10, all)) paints.emplace(paint.colour, paint.hatching);
  CHECK(paints.size() == 10);
}
