// SPDX-License-Identifier: GPL-3.0-or-later
// Order of writing: temporary files (what fails most often), devices and pipes, standard output, and then only renames.
// After any failure everything that can still be changed is written again; each round gives up at least one target, so this
// ends.
#include "cli/report_files.hpp"

#include "cli/report_folder.hpp"

#include <fcntl.h>
#include <poll.h>
#include <sys/stat.h>
#include <unistd.h>

#include <cerrno>
#include <cstdio>
#include <cstdlib>
#include <cstring>
#include <filesystem>

namespace cutproof {
namespace {

namespace fs = std::filesystem;

struct stat status_of(const std::string& path, bool* exists) {
  struct stat status = {};
  *exists = stat(path.c_str(), &status) == 0;
  return status;
}

bool same_file(const std::string& a, const std::string& b) {
  std::error_code error;
  if (fs::equivalent(a, b, error)) return true;
  // A relative path of which nothing is there would stay as it is.
  const fs::path first = fs::weakly_canonical(fs::absolute(a, error), error),
                 second = fs::weakly_canonical(fs::absolute(b, error), error);
  return !first.empty() && first == second;
}

// Never to be removed, whatever they lead to: `/dev/stdout` is a link.
bool belongs_to_system(const std::string& path) {
  std::error_code error;
  const std::string folder = fs::absolute(path, error).lexically_normal().string();
  return folder.rfind("/dev/", 0) == 0 || folder.rfind("/proc/", 0) == 0;
}

Finding not_written(const std::string& what, int error) {
  Finding finding;
  finding.code = "report-not-written";
  finding.message = what + " could not be written: " + std::strerror(error);
  finding.hint = "nothing of this run counts as proved; make room or permission there and run again";
  return finding;
}

}  // namespace

int write_fully(int descriptor, const std::string& content) {
  for (std::size_t at = 0; at < content.size();) {
    const ssize_t count = write(descriptor, content.data() + at, content.size() - at);
    if (count < 0 && errno == EINTR) continue;
    if (count < 0 && errno == EAGAIN) {
      pollfd ready = {descriptor, POLLOUT, 0};
      poll(&ready, 1, -1);
      continue;
    }
    if (count <= 0) return count < 0 ? errno : EIO;
    at += static_cast<std::size_t>(count);
  }
  return 0;
}

ReportFiles::ReportFiles(const std::vector<RequestedReport>& reports, const std::vector<std::string>& inputs,
                         ReportStyle style)
    : style_(style) {
  for (const RequestedReport& report : reports) {
    bool exists = false;
    const struct stat status = status_of(report.path, &exists);
    Target target{report.format, report.path, Kind::regular, false, false, ""};
    if (report.format->write_folder != nullptr) {
      target.kind = Kind::folder;
      if (belongs_to_system(report.path)) throw WrongUsage("no folder can be put at `" + report.path + "`");
      if (const auto objection = objection_to_folder(report.path))
        throw WrongUsage("the report `" + report.path + "` cannot be written: " + *objection);
    } else if (report.path == "-") {
      target.kind = Kind::standard_output;
    } else if (exists && S_ISDIR(status.st_mode)) {
      throw WrongUsage("the report `" + report.path + "` is a folder; name a file in it");
    } else if (belongs_to_system(report.path) || (exists && !S_ISREG(status.st_mode))) {
      target.kind = Kind::in_place;
    }
    for (const std::string& input : inputs) {
      if (target.kind != Kind::standard_output && same_file(report.path, input)) {
        throw WrongUsage("the report `" + report.path + "` would overwrite the input `" + input + "`");
      }
      if (target.kind == Kind::folder && lies_in_folder(input, report.path)) {
        throw WrongUsage("the input `" + input + "` lies in the folder of the report `" + report.path + "`");
      }
    }
    for (const Target& other : targets_) {
      if (other.path == target.path || same_file(other.path, target.path)) {
        throw WrongUsage(target.path == "-" ? "only one report can go to standard output"
                                            : "two reports would be written to `" + target.path + "`");
      }
      const bool inside = target.path != "-" && other.path != "-" &&
                          ((other.kind == Kind::folder && lies_in_folder(target.path, other.path)) ||
                           (target.kind == Kind::folder && lies_in_folder(other.path, target.path)));
      if (inside) throw WrongUsage("one of the reports `" + other.path + "` and `" + target.path + "` lies in the other");
    }
    targets_.push_back(target);
  }
}

bool ReportFiles::takes_standard_output() const {
  for (const Target& target : targets_) {
    if (target.kind == Kind::standard_output) return true;
  }
  return false;
}

std::optional<std::string> ReportFiles::remove_old() {
  std::optional<std::string> problem;
  for (const Target& target : targets_) {
    if (target.kind == Kind::folder) {
      if (const int error = remove_report_folder(target.path))
        problem = "the old report `" + target.path + "` could not be removed: " + std::strerror(error);
      continue;
    }
    if (target.kind != Kind::regular || unlink(target.path.c_str()) == 0 || errno == ENOENT) continue;
    const int error = errno;
    // Where the folder may not be changed, the file may be: an empty report says nothing.
    const int file = open(target.path.c_str(), O_WRONLY | O_TRUNC | O_CLOEXEC | O_NOFOLLOW);
    if (file >= 0) close(file);
    problem = "the old report `" + target.path + "` could not be removed: " + std::strerror(error);
  }
  return problem;
}

int ReportFiles::write_temporary(Target* target, const Results& results) {
  if (target->kind == Kind::folder)
    return write_temporary_folder(target->path, target->format->write_folder(results), &target->temporary);
  const std::string content = target->format->write(results, style_);
  const fs::path path(target->path);
  std::string name = (path.parent_path() / ".cutproof-XXXXXX").string();
  const int file = mkostemp(name.data(), O_CLOEXEC);
  if (file < 0) return errno;
  target->temporary = name;
  const mode_t mask = umask(0);
  umask(mask);
  int error = fchmod(file, 0666 & ~mask) == 0 ? 0 : errno;
  if (error == 0) error = write_fully(file, content);
  if (close(file) != 0 && error == 0) error = errno;
  return error;
}

int ReportFiles::put_in_place(Target* target) {
  if (target->kind == Kind::folder && target->done) {
    if (const int error = remove_report_folder(target->path)) return error;
  }
  if (rename(target->temporary.c_str(), target->path.c_str()) != 0) return errno;
  target->temporary.clear();
  target->done = true;
  return 0;
}

void ReportFiles::give_up(Target* target, Results* results, int error) {
  target->broken = true;
  if (target->done && target->kind == Kind::regular) unlink(target->path.c_str());  // it may say what no longer holds
  if (target->done && target->kind == Kind::folder) remove_report_folder(target->path);
  add_fault(results, not_written("the report `" + target->path + "`", error));
}

void ReportFiles::drop_temporaries() {
  for (Target& target : targets_) {
    if (!target.temporary.empty() && target.kind == Kind::folder) drop_temporary_folder(target.temporary);
    if (!target.temporary.empty() && target.kind != Kind::folder) unlink(target.temporary.c_str());
    target.temporary.clear();
  }
}

bool ReportFiles::write_all(Results* results, const std::function<std::string(const Results&)>& text) {
  for (Target& target : targets_) {
    if (target.broken || (target.kind != Kind::regular && target.kind != Kind::folder)) continue;
    if (const int error = write_temporary(&target, *results)) {
      give_up(&target, results, error);
      return false;
    }
  }
  for (Target& target : targets_) {
    if (target.broken || target.done || target.kind != Kind::in_place) continue;
    const int file = open(target.path.c_str(), O_WRONLY | O_CLOEXEC | O_NOCTTY);
    int error = file < 0 ? errno : write_fully(file, target.format->write(*results, style_));
    if (file >= 0 && close(file) != 0 && error == 0) error = errno;
    if (error != 0) {
      give_up(&target, results, error);
      return false;
    }
    target.done = true;  // what went into a pipe cannot be taken back
  }
  for (Target& target : targets_) {
    if (target.broken || target.done || target.kind != Kind::standard_output) continue;
    if (const int error = write_fully(STDOUT_FILENO, target.format->write(*results, style_))) {
      give_up(&target, results, error);
      return false;
    }
    target.done = true;
  }
  if (!text_broken_) {
    const bool to_output = !takes_standard_output();
    const int error = write_fully(to_output ? STDOUT_FILENO : STDERR_FILENO, text(*results));
    if (error != 0 && to_output) {
      text_broken_ = true;
      add_fault(results, not_written("standard output", error));
      return false;
    }
  }
  for (Target& target : targets_) {
    if (target.broken || (target.kind != Kind::regular && target.kind != Kind::folder)) continue;
    if (const int error = put_in_place(&target)) {
      give_up(&target, results, error);
      return false;
    }
  }
  return true;
}

void ReportFiles::publish(Results* results, const std::function<std::string(const Results&)>& text,
                          const std::function<void(Results*)>& complete) {
  if (complete) complete(results);
  while (!write_all(results, text)) {
    drop_temporaries();
    if (complete) complete(results);
  }
}

}  // namespace cutproof
