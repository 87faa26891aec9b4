// SPDX-License-Identifier: GPL-3.0-or-later
#include "files/replace_file.hpp"

#include <fcntl.h>
#include <sys/stat.h>
#include <unistd.h>

#include <cerrno>
#include <cstdlib>
#include <cstring>
#include <memory>

namespace cutproof {

namespace {

std::string write_all(int file, const std::string& text) {
  for (std::size_t done = 0; done < text.size();) {
    const ssize_t count = write(file, text.data() + done, text.size() - done);
    if (count < 0 && errno == EINTR) continue;
    if (count <= 0) return std::strerror(errno);
    done += static_cast<std::size_t>(count);
  }
  return "";
}

/// Writes and closes; what went wrong, or nothing.
std::string fill(int file, const std::string& text) {
  std::string problem = write_all(file, text);
  if (problem.empty() && fsync(file) != 0 && errno != EINVAL) problem = std::strerror(errno);
  if (close(file) != 0 && problem.empty()) problem = std::strerror(errno);
  return problem;
}

}  // namespace

std::string replace_file(const std::string& path, const std::string& text) {
  const std::unique_ptr<char, void (*)(void*)> real(realpath(path.c_str(), nullptr), std::free);
  if (real == nullptr) return std::strerror(errno);
  const std::string target = real.get();
  struct stat status = {};
  if (stat(target.c_str(), &status) != 0) return std::strerror(errno);
  if (!S_ISREG(status.st_mode)) return "it is no regular file";
  if (access(target.c_str(), W_OK) != 0) return std::strerror(errno);  // renaming would not ask
  std::string beside = target + ".XXXXXX";
  const int file = mkostemp(beside.data(), O_CLOEXEC);
  if (file < 0) return std::strerror(errno);
  const bool keeps_mode = fchmod(file, status.st_mode & 07777) == 0;
  std::string problem = keeps_mode ? "" : std::strerror(errno);
  const std::string written = fill(file, text);
  if (problem.empty()) problem = written;
  if (problem.empty() && rename(beside.c_str(), target.c_str()) != 0) problem = std::strerror(errno);
  if (!problem.empty()) unlink(beside.c_str());
  return problem;
}

std::string create_file(const std::string& path, const std::string& text, bool* is_there) {
  const int file = open(path.c_str(), O_WRONLY | O_CREAT | O_EXCL | O_CLOEXEC, 0666);
  *is_there = file < 0 && errno == EEXIST;
  if (file < 0) return std::strerror(errno);
  const std::string problem = fill(file, text);
  if (!problem.empty()) unlink(path.c_str());
  return problem;
}

}  // namespace cutproof
