// SPDX-License-Identifier: GPL-3.0-or-later
// Report folders: nothing is touched that is not an older report, and an older one goes whole.
#include "cli/report_folder.hpp"

#include "cli/report_files.hpp"
#include "cli/temporary_folder.hpp"
#include "report/sample_results.hpp"

#include <catch2/catch.hpp>
#include <nlohmann/json.hpp>

#include <unistd.h>

#include <algorithm>
#include <cstdlib>
#include <filesystem>
#include <fstream>
#include <sstream>

using namespace cutproof;
namespace fs = std::filesystem;

namespace {

struct Place : TemporaryFolder {
  void write(const char* name, const std::string& text = "mine") const { TemporaryFolder::write(name, text); }
  std::size_t count() const { return static_cast<std::size_t>(std::distance(fs::recursive_directory_iterator(path), {})); }
  /// Puts a report folder in place.
  std::string report(const char* name) const {
    std::string temporary;
    REQUIRE(write_temporary_folder(at(name), {{"start.svg", "<svg/>"}, {"001/end.svg", "<svg/>"}}, &temporary) == 0);
    fs::rename(temporary, at(name));
    return at(name);
  }
};

RequestedReport pictures(const std::string& path) {
  return {find_report_format("svg"), path};
}

Results sample() {
  return std::vector<CheckResult>{sample_check()};
}

std::string no_text(const Results&) {
  return "";
}

}  // namespace

TEST_CASE("an older report folder goes whole, and nothing else ever does", "[reports]") {
  const Place place;
  CHECK(!objection_to_folder(place.at("new")));
  const std::string old = place.report("old");
  CHECK(!objection_to_folder(old));
  CHECK(!objection_to_folder(old + "/"));
  CHECK(remove_report_folder(old) == 0);
  CHECK(place.count() == 0);
  fs::create_directory(place.at("empty"));
  CHECK(!objection_to_folder(place.at("empty")));
  CHECK(remove_report_folder(place.at("empty") + "/") == 0);
  CHECK(place.count() == 0);
}

TEST_CASE("whatever is not an older report is in the way and is not touched", "[reports]") {
  const Place place;
  const auto in_the_way = [&](const std::string& path) {
    const std::size_t before = place.count();
    CHECK(objection_to_folder(path));
    CHECK_THROWS_AS(ReportFiles({pictures(path)}, {}), WrongUsage);
    CHECK(place.count() == before);
  };
  in_the_way("-");
  in_the_way(".");
  in_the_way("/");
  CHECK_THROWS_AS(ReportFiles({pictures("/dev/cutproof-pictures")}, {}), WrongUsage);
  place.write("file");
  in_the_way(place.at("file"));
  place.write("foreign/mine.txt");
  in_the_way(place.at("foreign"));
  fs::create_directory_symlink(place.report("behind-a-link"), place.at("link"));
  in_the_way(place.at("link"));
  place.report("more");
  place.write("more/mine.txt");
  in_the_way(place.at("more"));
  place.report("deeper");
  place.write("deeper/001/mine.txt");
  in_the_way(place.at("deeper"));
  place.report("inner-folder");
  fs::create_directory(place.at("inner-folder/mine"));
  in_the_way(place.at("inner-folder"));
  place.report("inner-link");
  fs::remove(place.at("inner-link/start.svg"));
  fs::create_symlink(place.at("file"), place.at("inner-link/start.svg"));
  in_the_way(place.at("inner-link"));
}

TEST_CASE("a list that is no list, or leads out of the folder, is not trusted", "[reports]") {
  const Place place;
  const char* lists[] = {"",
                         "[]",
                         "{}",
                         R"({"format": "cutproof-folder"})",
                         R"({"format": "other", "files": ["mine.txt"]})",
                         R"({"format": "cutproof-folder", "files": "mine.txt"})",
                         R"({"format": "cutproof-folder", "files": [1]})",
                         R"({"format": "cutproof-folder", "files": ["mine.txt", "../file"]})",
                         R"({"format": "cutproof-folder", "files": ["mine.txt", "/etc/passwd"]})",
                         R"({"format": "cutproof-folder", "files": ["mine.txt", ""]})"};
  for (const char* list : lists) {
    INFO(list);
    place.write("folder/mine.txt");
    place.write("folder/cutproof-folder.json", list);
    CHECK(objection_to_folder(place.at("folder")));
    remove_report_folder(place.at("folder"));
    CHECK(fs::exists(place.at("folder/mine.txt")));
    fs::remove_all(place.at("folder"));
  }
}

TEST_CASE("inputs and other reports do not lie in a report folder", "[reports]") {
  const Place place;
  const RequestedReport json{find_report_format("json"), place.at("pictures/report.json")};
  CHECK_THROWS_AS(ReportFiles({pictures(place.at("pictures"))}, {place.at("pictures/plan.yaml")}), WrongUsage);
  CHECK_THROWS_AS(ReportFiles({pictures(place.at("pictures")), json}, {}), WrongUsage);
  CHECK_THROWS_AS(ReportFiles({json, pictures(place.at("pictures/"))}, {}), WrongUsage);
  CHECK_THROWS_AS(ReportFiles({pictures(place.at("a")), pictures(place.at("a"))}, {}), WrongUsage);
  CHECK_THROWS_AS(ReportFiles({pictures(place.at("a")), pictures(place.at("a/b"))}, {}), WrongUsage);
  CHECK_NOTHROW(ReportFiles({pictures(place.at("pictures"))}, {place.at("pictures.yaml")}));
}

TEST_CASE("a report folder is written whole, again and again with the same bytes", "[reports]") {
  const Place place;
  std::string first;
  for (int round = 0; round < 2; ++round) {
    ReportFiles files({pictures(place.at("pictures/"))}, {});
    CHECK(!files.remove_old());
    CHECK(!fs::exists(place.at("pictures")));
    Results results = sample();
    files.publish(&results, no_text);
    CHECK(std::get<std::vector<CheckResult>>(results).front().outcome == sample_check().outcome);
    const auto list = nlohmann::json::parse(std::ifstream(place.at("pictures/cutproof-folder.json")));
    CHECK(list["format"] == "cutproof-folder");
    std::string all;
    for (const auto& file : list["files"]) {
      std::ostringstream text;
      text << std::ifstream(place.at("pictures/") + file.get<std::string>()).rdbuf();
      all += file.get<std::string>() + text.str();
    }
    CHECK(place.count() == 1 + 1 + list["files"].size());
    if (round == 0) first = all;
    CHECK(all == first);
  }
}

TEST_CASE("a folder that cannot be written makes the other reports say failed", "[reports]") {
  const Place place;
  const std::string json = place.at("report.json");
  ReportFiles files({{find_report_format("json"), json}, pictures(place.at("nowhere/pictures"))}, {});
  Results results = sample();
  files.publish(&results, no_text);
  CHECK(nlohmann::json::parse(std::ifstream(json))["outcome"] == "failed");
  CHECK(place.count() == 1);
}
