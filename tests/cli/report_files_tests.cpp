// SPDX-License-Identifier: GPL-3.0-or-later
// The life of report files: usage, removal, writing, and what the others say when one fails. Faults of disks and streams are
// tested through the whole program (tests/program).
#include "cli/report_files.hpp"
#include "cli/temporary_folder.hpp"
#include "report/sample_results.hpp"

#include <catch2/catch.hpp>
#include <nlohmann/json.hpp>

#include <sys/stat.h>
#include <unistd.h>

#include <cstdlib>
#include <filesystem>
#include <fstream>
#include <sstream>

using namespace cutproof;
namespace fs = std::filesystem;

namespace {

struct Folder : TemporaryFolder {
  std::string file(const char* name) const { return at(name); }
  std::string write(const char* name) const { return TemporaryFolder::write(name, "old"); }
  std::size_t count() const { return static_cast<std::size_t>(std::distance(fs::directory_iterator(path), {})); }
};

RequestedReport report(const std::string& path) {
  return {find_report_format("json"), path};
}

std::string content(const std::string& path) {
  std::ostringstream text;
  text << std::ifstream(path).rdbuf();
  return text.str();
}

Results good() {
  CheckResult result = sample_check();
  result.outcome = Outcome::verified;
  result.findings.clear();
  return std::vector<CheckResult>{result};
}

std::string no_text(const Results&) {
  return "";
}

}  // namespace

TEST_CASE("wrong usage is seen before anything is touched") {
  const Folder folder;
  const std::string plan = folder.write("plan.yaml"), old = folder.write("old.json");
  fs::create_symlink("plan.yaml", folder.path / "link.yaml");
  fs::create_hard_link(plan, folder.path / "hard.yaml");
  const auto make = [&](std::vector<RequestedReport> reports) { ReportFiles files(reports, {plan}); };
  CHECK_THROWS_AS(make({report(old), report(old)}), WrongUsage);
  CHECK_THROWS_AS(make({report(old), report((folder.path / "." / "old.json").string())}), WrongUsage);
  CHECK_THROWS_AS(make({report(folder.file("new.json")), report((folder.path / "." / "new.json").string())}), WrongUsage);
  CHECK_THROWS_AS(make({report(plan)}), WrongUsage);
  CHECK_THROWS_AS(make({report(folder.file("link.yaml"))}), WrongUsage);
  CHECK_THROWS_AS(make({report(folder.file("hard.yaml"))}), WrongUsage);
  CHECK_THROWS_AS(make({report(folder.path.string())}), WrongUsage);
  CHECK_THROWS_AS(make({report("-"), report("-")}), WrongUsage);
  CHECK_NOTHROW(make({report("-"), report(old)}));
  CHECK(content(plan) == "old");
  CHECK(content(old) == "old");
}

TEST_CASE("old reports and links are removed, what links lead to is not") {
  const Folder folder;
  const std::string old = folder.write("old.json"), target = folder.write("target");
  fs::create_symlink("target", folder.path / "link.json");
  fs::create_symlink("nowhere", folder.path / "dangling.json");
  ReportFiles files({report(old), report(folder.file("link.json")), report(folder.file("dangling.json")),
                     report(folder.file("new.json")), report("/dev/null")},
                    {});
  CHECK_FALSE(files.remove_old());
  CHECK(folder.count() == 1);
  CHECK(content(target) == "old");
  CHECK(fs::exists("/dev/null"));
}

TEST_CASE("reports appear whole, readable, and without leftovers") {
  const Folder folder;
  ReportFiles files({report(folder.file("a.json")), report(folder.file("b.json"))}, {});
  Results results = good();
  files.publish(&results, no_text);
  CHECK(folder.count() == 2);
  CHECK(content(folder.file("a.json")) == json_report(std::get<std::vector<CheckResult>>(results)));
  CHECK(highest_exit_code(results) == 0);
  const mode_t mask = umask(0);
  umask(mask);
  struct stat status = {};
  REQUIRE(stat(folder.file("a.json").c_str(), &status) == 0);
  CHECK((status.st_mode & 0777) == (0666u & ~mask));
}

TEST_CASE("when one report cannot be written the others say failed") {
  const Folder folder;
  for (const std::string& impossible : {folder.file("missing/folder.json"), std::string("/dev/full")}) {
    for (const bool first : {true, false}) {
      std::vector<RequestedReport> reports = {report(folder.file("good.json"))};
      reports.insert(first ? reports.begin() : reports.end(), report(impossible));
      ReportFiles files(reports, {});
      Results results = good();
      std::string text;
      files.publish(&results, [&](const Results& now) {
        text = terminal_report(now, TextStyle{});
        return std::string();
      });
      CHECK(highest_exit_code(results) == 4);
      CHECK(text.rfind("failed: ", 0) == 0);
      CHECK(text.find("verified") == std::string::npos);
      const auto json = nlohmann::json::parse(content(folder.file("good.json")));
      CHECK(json.at("outcome") == "failed");
      CHECK(json.at("findings").at(0).at("code") == "report-not-written");
      CHECK(folder.count() == 1);
    }
  }
}

TEST_CASE("a rename that fails after others succeeded takes those back") {
  const Folder folder;
  ReportFiles files({report(folder.file("a.json")), report(folder.file("b.json"))}, {});
  Results results = good();
  int rounds = 0;
  files.publish(&results, [&](const Results&) {
    if (rounds++ == 0) fs::create_directories(folder.path / "b.json" / "in the way");
    return std::string();
  });
  CHECK(rounds == 2);
  CHECK(highest_exit_code(results) == 4);
  CHECK(nlohmann::json::parse(content(folder.file("a.json"))).at("outcome") == "failed");
  CHECK(folder.count() == 2);
}
