// SPDX-License-Identifier: GPL-3.0-or-later
// The command line: what each option means, and each kind of wrong usage.
#include "cli/arguments.hpp"

#include <catch2/catch.hpp>

using namespace cutproof;

namespace {

ParsedCommandLine parse(std::vector<const char*> words) {
  words.insert(words.begin(), "cutproof");
  return parse_command_line(static_cast<int>(words.size()), words.data());
}

}  // namespace

TEST_CASE("options arrive where they belong") {
  const Arguments arguments =
      *parse({"check",    "--report",     "json=a.json", "p.yaml",       "--report", "json=-",
              "q.yaml",   "--engine",     "nef",         "--time-limit", "1.5",      "--memory-limit",
              "1GB",      "--max-degree", "8",           "--max-bits",   "5000",     "--max-plan-size",
              "1MB",      "--jobs",       "3",           "--shard",      "2/8",      "--quiet",
              "--verbose"})
           .arguments;
  CHECK(arguments.command == Command::check);
  CHECK(arguments.inputs == std::vector<std::string>{"p.yaml", "q.yaml"});
  REQUIRE(arguments.reports.size() == 2);
  CHECK(arguments.reports[0].path == "a.json");
  CHECK(arguments.reports[1].path == "-");
  CHECK(arguments.settings.engine == EngineChoice::nef);
  CHECK(arguments.settings.max_degree == 8);
  CHECK(arguments.settings.max_bits == 5000);
  CHECK(arguments.settings.max_plan_size == 1u << 20);
  CHECK(arguments.limits.time->count() == 1500);
  CHECK(*arguments.limits.memory == 1u << 30);
  CHECK(arguments.limits.jobs == 3);
  CHECK(arguments.shard.index == 2);
  CHECK(arguments.shard.count == 8);
  CHECK(arguments.quiet);
  CHECK(arguments.verbose);
}

TEST_CASE("defaults are those of the documents") {
  const Arguments arguments = *parse({"check", "p.yaml"}).arguments;
  CHECK(arguments.settings.engine == EngineChoice::parts);
  CHECK(arguments.settings.max_degree == 48);
  CHECK(arguments.settings.max_plan_size == 16u << 20);
  CHECK_FALSE(arguments.limits.time);
  CHECK_FALSE(arguments.limits.memory);
  CHECK(arguments.limits.jobs == 1);
}

TEST_CASE("measure and compare") {
  const Arguments measure =
      *parse({"measure", "a.yaml#s", "--angles", "90 deg, 270 deg", "--except", "45 deg: 1"}).arguments;
  CHECK(measure.command == Command::measure);
  CHECK(*measure.angles == "90 deg, 270 deg");
  CHECK(*measure.except == "45 deg: 1");
  const Arguments compare = *parse({"compare", "a#x", "b#y", "--with", "c#z", "d#w", "--report", "json=r"}).arguments;
  CHECK(compare.inputs == std::vector<std::string>{"a#x", "b#y"});
  CHECK(compare.with == std::vector<std::string>{"c#z", "d#w"});
}

TEST_CASE("texts that are asked for are no usage errors") {
  CHECK(parse({"--version"}).text.rfind("cutproof ", 0) == 0);
  CHECK(parse({"--help"}).text.find("Examples\n") != std::string::npos);
  CHECK(parse({"check", "--help"}).text.find("--report") != std::string::npos);
}

TEST_CASE("wrong usage") {
  const std::vector<std::vector<const char*>> wrong = {
      {},
      {"check"},
      {"frobnicate", "p"},
      {"p.yaml"},
      {"check", "p", "--frobnicate"},
      {"check", "p", "--report"},
      {"check", "p", "--report", "json"},
      {"check", "p", "--report", "json="},
      {"check", "p", "--report", "=x"},
      {"check", "p", "--report", "nonsense=x"},
      {"check", "p", "--engine", "steam"},
      {"check", "p", "--time-limit", "0"},
      {"check", "p", "--time-limit", "-1"},
      {"check", "p", "--time-limit", "soon"},
      {"check", "p", "--time-limit", "nan"},
      {"check", "p", "--memory-limit", "0"},
      {"check", "p", "--memory-limit", "lots"},
      {"check", "p", "--max-degree", "0"},
      {"check", "p", "--max-degree", "x"},
      {"check", "p", "--jobs", "0"},
      {"check", "p", "--shard", "0/2"},
      {"check", "p", "--shard", "3/2"},
      {"check", "p", "--shard", "1"},
      {"check", "p", "--shard", "1/2/3"},
      {"check", "p", "--shard", "-1/2"},
      {"check", "p", "--shard", "1/99999999999999999999999"},
      {"measure"},
      {"measure", "p", "--except", "45 deg: 1"},
      {"measure", "p", "--shard", "1/2"},
      {"compare"},
      {"compare", "p", "--demand", "equal"},
      {"check", "p", "--demand", "same"},
  };
  for (const auto& words : wrong) {
    std::string joined;
    for (const char* word : words) joined += std::string(word) + " ";
    INFO(joined);
    CHECK_THROWS_AS(parse(words), WrongUsage);
  }
}
