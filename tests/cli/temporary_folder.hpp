// SPDX-License-Identifier: GPL-3.0-or-later
// A folder that lasts as long as a test case.
#pragma once

#include <catch2/catch.hpp>

#include <unistd.h>

#include <cstdlib>
#include <filesystem>
#include <fstream>
#include <string>

struct TemporaryFolder {
  std::filesystem::path path;
  TemporaryFolder() {
    std::string name = (std::filesystem::temp_directory_path() / "cutproof-tests-XXXXXX").string();
    REQUIRE(mkdtemp(name.data()) != nullptr);
    path = name;
  }
  ~TemporaryFolder() { std::filesystem::remove_all(path); }
  TemporaryFolder(const TemporaryFolder&) = delete;
  TemporaryFolder& operator=(const TemporaryFolder&) = delete;

  std::string at(const char* name) const { return (path / name).string(); }
  /// Writes a file, and the folders that it lies in; its path.
  std::string write(const char* name, const std::string& text) const {
    std::filesystem::create_directories((path / name).parent_path());
    std::ofstream(at(name)) << text;
    return at(name);
  }
};
