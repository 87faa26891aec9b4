// SPDX-License-Identifier: GPL-3.0-or-later
// FIPS 180-4, sections 4.1.2, 5.1.1 and 6.2. The constants of sections 4.2.2 and 5.3.3, the leading fractional bits of cube
// and square roots of the first primes, are computed rather than copied: integer roots have no typing errors.
#include "files/digest.hpp"

#include <array>
#include <cstddef>
#include <cstdint>
#include <cstring>

namespace cutproof {
namespace {

__extension__ using Wide = unsigned __int128;

/// floor(2^32 * p^(1/k)) modulo 2^32 for k = 2 or 3, by bisection of r^k <= p * 2^(32k).
std::uint32_t root_bits(unsigned p, int k) {
  std::uint64_t low = 0, high = std::uint64_t{1} << 37;  // p < 400, so that p^(1/2) < 2^5
  while (high - low > 1) {
    const std::uint64_t middle = low + (high - low) / 2;
    Wide power = middle, bound = Wide{p} << (32 * k);
    for (int i = 1; i < k; ++i) power *= middle;
    (power <= bound ? low : high) = middle;
  }
  return static_cast<std::uint32_t>(low);
}

struct Constants {
  std::array<std::uint32_t, 64> rounds{};
  std::array<std::uint32_t, 8> start{};
};

Constants make_constants() {
  Constants constants;
  std::size_t count = 0;
  for (unsigned candidate = 2; count < 64; ++candidate) {
    bool prime = true;
    for (unsigned d = 2; d * d <= candidate; ++d) prime = prime && candidate % d != 0;
    if (!prime) continue;
    if (count < 8) constants.start[count] = root_bits(candidate, 2);
    constants.rounds[count++] = root_bits(candidate, 3);
  }
  return constants;
}

std::uint32_t rotated(std::uint32_t x, int by) {
  return x >> by | x << (32 - by);
}

void add_block(const unsigned char* block, const Constants& constants, std::array<std::uint32_t, 8>& state) {
  std::array<std::uint32_t, 64> w;
  for (int t = 0; t < 16; ++t) {
    const unsigned char* b = block + std::ptrdiff_t{4} * t;
    w[t] = std::uint32_t{b[0]} << 24 | std::uint32_t{b[1]} << 16 | std::uint32_t{b[2]} << 8 | b[3];
  }
  for (int t = 16; t < 64; ++t) {
    const std::uint32_t s0 = rotated(w[t - 15], 7) ^ rotated(w[t - 15], 18) ^ w[t - 15] >> 3;
    const std::uint32_t s1 = rotated(w[t - 2], 17) ^ rotated(w[t - 2], 19) ^ w[t - 2] >> 10;
    w[t] = w[t - 16] + s0 + w[t - 7] + s1;
  }
  auto [a, b, c, d, e, f, g, h] = state;
  for (int t = 0; t < 64; ++t) {
    const std::uint32_t s1 = rotated(e, 6) ^ rotated(e, 11) ^ rotated(e, 25);
    const std::uint32_t t1 = h + s1 + ((e & f) ^ (~e & g)) + constants.rounds[t] + w[t];
    const std::uint32_t s0 = rotated(a, 2) ^ rotated(a, 13) ^ rotated(a, 22);
    const std::uint32_t t2 = s0 + ((a & b) ^ (a & c) ^ (b & c));
    h = g, g = f, f = e, e = d + t1, d = c, c = b, b = a, a = t1 + t2;
  }
  const std::array<std::uint32_t, 8> mixed = {a, b, c, d, e, f, g, h};
  for (int i = 0; i < 8; ++i) state[i] += mixed[i];
}

}  // namespace

std::string sha256(std::string_view bytes) {
  static const Constants constants = make_constants();
  std::array<std::uint32_t, 8> state = constants.start;
  const auto* data = reinterpret_cast<const unsigned char*>(bytes.data());
  const std::size_t whole = bytes.size() / 64;
  for (std::size_t i = 0; i < whole; ++i) add_block(data + 64 * i, constants, state);

  unsigned char tail[128] = {};
  const std::size_t rest = bytes.size() % 64, length = rest < 56 ? 64 : 128;
  if (rest > 0) std::memcpy(tail, data + 64 * whole, rest);
  tail[rest] = 0x80;
  const std::uint64_t bits = std::uint64_t{bytes.size()} * 8;
  for (int i = 0; i < 8; ++i) tail[length - 1 - i] = static_cast<unsigned char>(bits >> 8 * i);
  for (std::size_t at = 0; at < length; at += 64) add_block(tail + at, constants, state);

  std::string digest;
  for (const std::uint32_t word : state) {
    for (int shift = 28; shift >= 0; shift -= 4) digest += "0123456789abcdef"[word >> shift & 15];
  }
  return digest;
}

}  // namespace cutproof
