// SPDX-License-Identifier: GPL-3.0-or-later
// A harness without libFuzzer: tries every file of the folders given, and a fixed number of random changes of each. The seed
// is fixed, so that every run of the suite tries the same inputs; an input that fails is written to a file and named.
#include "fuzz/demand.hpp"

#include <algorithm>
#include <csignal>
#include <cstring>
#include <filesystem>
#include <fstream>
#include <iterator>
#include <random>

namespace {

namespace files = std::filesystem;
using Random = std::mt19937;

std::string trying;  // what the harness has in hand, for the handler
const char* kept_at = nullptr;

void keep_input(int) {
  if (std::FILE* file = std::fopen(kept_at, "wb")) {
    std::fwrite(trying.data(), 1, trying.size(), file);
    std::fclose(file);
    std::fprintf(stderr, "the input that fails is in %s\n", kept_at);
  }
  std::signal(SIGABRT, SIG_DFL);
  std::abort();
}

void attempt(const std::string& input) {
  trying = input;
  LLVMFuzzerTestOneInput(reinterpret_cast<const std::uint8_t*>(input.data()), input.size());
}

std::vector<std::string> contents(const files::path& folder) {
  std::vector<files::path> paths;
  for (const files::directory_entry& entry : files::directory_iterator(folder))
    if (entry.is_regular_file()) paths.push_back(entry.path());
  std::sort(paths.begin(), paths.end());
  std::vector<std::string> result;
  for (const files::path& path : paths) {
    std::ifstream file(path, std::ios::binary);
    result.emplace_back(std::istreambuf_iterator<char>(file), std::istreambuf_iterator<char>());
  }
  return result;
}

// No std::uniform_int_distribution: its results differ from one library to another.
std::size_t below(Random& random, std::size_t bound) {
  return bound == 0 ? 0 : random() % bound;
}

/// One to four changes: another number (which leaves most plans readable, and most of them wrong), or what misleads a
/// reader: a byte, a piece cut out, doubled, or taken from another file.
std::string changed(std::string text, const std::string& other, Random& random) {
  static constexpr char bytes[] = "[]{}():,-+*/^.=#&!|>'\"%@` \n\r\t?~0129axyz_\xC3\xA4\xE2\x80\xAE";
  const bool only_numbers = below(random, 2) == 0;
  for (std::size_t left = 1 + below(random, 4); left > 0; --left) {
    const std::size_t at = below(random, text.size() + 1), length = 1 + below(random, 24);
    switch (only_numbers ? 5 : below(random, 6)) {
      case 0:
        if (at < text.size()) text[at] = bytes[below(random, sizeof bytes - 1)];
        break;
      case 1:
        text.insert(at, 1, bytes[below(random, sizeof bytes - 1)]);
        break;
      case 2:
        text.erase(at, length);
        break;
      case 3:
        text.insert(below(random, text.size() + 1), text.substr(at, length));
        break;
      case 4:
        text.insert(at, other.substr(below(random, other.size() + 1), length));
        break;
      default: {
        const std::size_t digit = text.find_first_of("0123456789", at);
        if (digit != std::string::npos) text[digit] = static_cast<char>('0' + below(random, 10));
      }
    }
  }
  return text;
}

}  // namespace

int main(int count, char** arguments) {
  if (count < 4) {
    std::fprintf(stderr, "usage: %s FAILING_INPUT CHANGES_PER_FILE FOLDER...\n", arguments[0]);
    return 2;
  }
  kept_at = arguments[1];
  const char* slow = std::getenv("CUTPROOF_SLOW");
  const unsigned long changes =
      std::strtoul(arguments[2], nullptr, 10) * (slow != nullptr && std::string_view(slow) == "1" ? 10 : 1);
  std::signal(SIGABRT, keep_input);
  std::signal(SIGSEGV, keep_input);
  std::signal(SIGFPE, keep_input);
  constexpr unsigned seed = 20240617;
  std::printf("seed %u\n", seed);
  Random random(seed);
  std::vector<std::string> seeds;
  for (int i = 3; i < count; ++i)
    for (std::string& text : contents(arguments[i])) seeds.push_back(std::move(text));
  std::size_t tried = 0;
  for (const std::string& text : seeds) {
    attempt(text);
    for (unsigned long i = 0; i < changes; ++i) attempt(changed(text, seeds[below(random, seeds.size())], random));
    tried += 1 + changes;
  }
  std::printf("%zu files, %zu inputs tried\n", seeds.size(), tried);
  return seeds.empty() ? 1 : 0;
}
