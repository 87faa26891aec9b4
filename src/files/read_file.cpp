// SPDX-License-Identifier: GPL-3.0-or-later
// Opened without waiting, so that a pipe without a writer does not hang the run, and judged by what was opened, not by its
// name.
#include "files/read_file.hpp"

#include "number/errors.hpp"

#include <fcntl.h>
#include <sys/stat.h>
#include <unistd.h>

#include <cerrno>
#include <cstring>

namespace cutproof {
namespace {

class Descriptor {
 public:
  explicit Descriptor(int number) : number_(number) {}
  ~Descriptor() {
    if (number_ >= 0) close(number_);
  }
  Descriptor(const Descriptor&) = delete;
  Descriptor& operator=(const Descriptor&) = delete;
  int number() const { return number_; }

 private:
  int number_;
};

std::string size_text(std::size_t bytes) {
  return bytes >= (1u << 20) ? std::to_string(bytes >> 20) + " MB" : std::to_string(bytes) + " bytes";
}

/// What to do instead, for each way in which a file cannot be read.
struct Hints {
  std::string missing, folder, stream, too_large;
};

[[noreturn]] void too_large(std::size_t most_bytes, const Hints& hints) {
  throw LimitReached("plan-size", "the file is larger than the limit of " + size_text(most_bytes), hints.too_large);
}

std::string read_all(int file, std::size_t most_bytes, const Hints& hints) {
  std::string text;
  char buffer[65536];
  for (;;) {
    const ssize_t count = read(file, buffer, sizeof buffer);
    if (count < 0 && errno == EINTR) continue;
    if (count < 0) throw InvalidInput(std::string("the file cannot be read: ") + std::strerror(errno));
    if (count == 0) return text;
    text.append(buffer, static_cast<std::size_t>(count));
    if (text.size() > most_bytes) too_large(most_bytes, hints);  // no file's size tells what will come
  }
}

std::string read_regular_file(const std::string& path, std::size_t most_bytes, const Hints& hints) {
  const Descriptor file(open(path.c_str(), O_RDONLY | O_NONBLOCK | O_NOCTTY | O_CLOEXEC));
  if (file.number() < 0) {
    if (errno == ENOENT) throw InvalidInput("there is no such file", hints.missing);
    if (errno == EACCES) throw InvalidInput("the file may not be read", "give yourself permission to read it");
    throw InvalidInput(std::string("the file cannot be opened: ") + std::strerror(errno));
  }
  struct stat status = {};
  if (fstat(file.number(), &status) != 0)
    throw InvalidInput(std::string("the file cannot be read: ") + std::strerror(errno));
  if (S_ISDIR(status.st_mode)) throw InvalidInput("this is a folder", hints.folder);
  if (S_ISFIFO(status.st_mode)) throw InvalidInput("this is a pipe", hints.stream);
  if (!S_ISREG(status.st_mode)) throw InvalidInput("this is a device, not a file", hints.stream);
  if (static_cast<std::size_t>(status.st_size) > most_bytes) too_large(most_bytes, hints);

  return read_all(file.number(), most_bytes, hints);
}

}  // namespace

std::string read_file(const std::string& path, std::size_t most_bytes) {
  const Hints hints{"check the path; it is relative to the current folder",
                    "name the files in it, such as " + path + "/*.yaml", "write the plan to a file first",
                    "a plan is a short text; if this one really is one, raise --max-plan-size"};
  return path == "-" ? read_all(STDIN_FILENO, most_bytes, hints) : read_regular_file(path, most_bytes, hints);
}

std::string read_side_file(const std::string& path, std::size_t most_bytes) {
  const Hints hints{"check the path; it is relative to the file that names it", "name a file in it",
                    "write what it gives to a file first", "if it is to be read all the same, raise --max-plan-size"};
  return read_regular_file(path, most_bytes, hints);
}

}  // namespace cutproof
