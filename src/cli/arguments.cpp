// SPDX-License-Identifier: GPL-3.0-or-later
// CLI11 takes the words apart; what the options mean is checked here, because its own exit codes and texts are not ours.
#include "cli/arguments.hpp"

#include "cli/help.hpp"
#include "cutproof/version.hpp"

#include <sys/stat.h>
#include <CLI/CLI.hpp>

#include <algorithm>
#include <cmath>
#include <map>
#include <sstream>

namespace cutproof {
namespace {

struct RawOptions {
  std::vector<std::string> reports, set;
  std::string engine = engine_word(EngineChoice::parts);
  double seconds = 0;
  std::size_t memory = 0;
  std::string shard;
  std::optional<std::string> demand;
};

constexpr EngineChoice engine_choices[] = {EngineChoice::parts, EngineChoice::nef, EngineChoice::both};

std::vector<std::string> engine_words() {
  std::vector<std::string> words;
  for (const EngineChoice choice : engine_choices) words.push_back(engine_word(choice));
  return words;
}

std::string format_lines(const std::string& command) {
  std::string names;
  for (const ReportFormat& format : report_formats()) {
    if (is_for(format, command)) names += "\n" + std::string(format.name) + ": " + std::string(format.purpose);
  }
  return names;
}

void add_report_options(CLI::App* app, Arguments* arguments, RawOptions* raw) {
  app->add_option("--report", raw->reports,
                  "write a report; may be given again. FILE - is standard output; the text for people then goes to standard "
                  "error. Formats:" +
                      format_lines(app->get_name()))
      ->type_name("FORMAT=FILE")
      ->allow_extra_args(false);
  app->add_flag("!--no-certificates", arguments->certificates,
                "leave certificates out of reports: they are often a third to half of their length");
  app->add_flag("--quiet,-q", arguments->quiet, "a line for each result, or finding, instead of the whole text");
  app->add_option("--jobs,-j", arguments->limits.jobs, "plans or files at once, each in a process of its own")
      ->type_name("N")
      ->check(CLI::Range(1, 1024))
      ->capture_default_str();
}

void add_size_option(CLI::App* app, Arguments* arguments) {
  app->add_option("--max-plan-size", arguments->settings.max_plan_size, "largest file that is read (16MB when absent)")
      ->type_name("SIZE")
      ->transform(CLI::AsSizeValue(false));
}

void add_run_options(CLI::App* app, Arguments* arguments, RawOptions* raw) {
  app->add_option("--engine", raw->engine,
                  "what cuts and compares: parts, nef, or both, which compares every piece after every step")
      ->type_name("ENGINE")
      ->check(CLI::IsMember(engine_words()))
      ->capture_default_str();
  app->add_flag("--verbose,-v", arguments->verbose, "tell on standard error what happens");
  app->add_option("--time-limit", raw->seconds, "for each plan, file or comparison: 90, 90s, 10min, 2h (none when absent)")
      ->type_name("SECONDS")
      ->transform(CLI::AsNumberWithUnit(std::map<std::string, double>{{"s", 1}, {"min", 60}, {"h", 3600}}));
  app->add_option("--memory-limit", raw->memory, "for each of them: 500MB, 2GB (none when absent)")
      ->type_name("SIZE")
      ->transform(CLI::AsSizeValue(false));
  app->add_option("--max-degree", arguments->settings.max_degree, "highest degree of a plan's number field, 1 to 1000")
      ->type_name("N")
      ->check(CLI::Range(1, 1000))
      ->capture_default_str();
  app->add_option("--max-bits", arguments->settings.max_bits,
                  "longest numerator or denominator of numbers in the plan and of coordinates, in bits, from 64")
      ->type_name("N")
      ->check(CLI::Range(std::size_t{64}, std::size_t{1} << 40))
      ->capture_default_str();
  app->add_option("--max-passes", arguments->settings.max_passes,
                  "most passes of all loops of a plan; of definitions with arguments ten times as many evaluations")
      ->type_name("N")
      ->check(CLI::Range(std::size_t{1}, std::size_t{1} << 40))
      ->capture_default_str();
  app->add_option("--set", raw->set,
                  "a parameter of the plans and an expression for its value; may be given again. Their `cases` are left out")
      ->type_name("NAME=EXPRESSION")
      ->allow_extra_args(false);
  app->add_flag("--outside", arguments->settings.outside,
                "plans may name files outside their own folders, and by absolute paths");
  add_size_option(app, arguments);
}

Shard parse_shard(const std::string& text) {
  std::istringstream stream(text);
  Shard shard;
  char slash = 0;
  const bool digits = text.find_first_not_of("0123456789/") == std::string::npos;
  if (!digits || !(stream >> shard.index >> slash >> shard.count) || slash != '/' || stream.peek() != EOF ||
      shard.index < 1 || shard.index > shard.count) {
    throw WrongUsage("--shard takes K/N with 1 <= K <= N, such as 2/8, not `" + text + "`");
  }
  shard.given = true;
  return shard;
}

RequestedReport parse_report(const std::string& text, const std::string& command) {
  const std::size_t equals = text.find('=');
  if (equals == std::string::npos || equals + 1 == text.size()) {
    throw WrongUsage("--report takes FORMAT=FILE, such as json=report.json, not `" + text + "`");
  }
  RequestedReport report;
  report.format = find_report_format(text.substr(0, equals));
  report.path = text.substr(equals + 1);
  if (report.format == nullptr || !is_for(*report.format, command)) {
    const std::string known = "; known: " + report_format_names(command);
    throw WrongUsage(report.format == nullptr
                         ? "there is no report format `" + text.substr(0, equals) + "`" + known
                         : command + " writes no report in the format `" + std::string(report.format->name) + "`" + known);
  }
  return report;
}

// The library reads `-5` as a size of nearly 2^64 bytes.
void hold_size(const std::string& option, std::size_t size) {
  if (size > std::size_t{1} << 60) throw WrongUsage(option + " takes a size such as 500MB or 2GB");
}

bool leads_somewhere(const std::string& path) {
  struct stat status = {};
  return stat(path.c_str(), &status) == 0;
}

std::optional<PlanPlace> parse_place(const std::string& text) {
  using Kind = PlanPlace::Kind;
  for (const Kind kind : {Kind::start, Kind::goal, Kind::end})
    if (text == plan_place_text({kind})) return PlanPlace{kind};
  constexpr std::size_t most_digits = 9;
  if (text.empty() || text.size() > most_digits || text.find_first_not_of("0123456789") != std::string::npos) return {};
  return PlanPlace{Kind::after_step, std::stoul(text)};
}

void interpret(const CLI::App& chosen, const RawOptions& raw, Arguments* arguments) {
  for (const std::string& each : raw.reports) arguments->reports.push_back(parse_report(each, chosen.get_name()));
  for (const std::string& each : raw.set) {
    const std::size_t equals = each.find('=');
    if (equals == std::string::npos || equals == 0 || equals + 1 == each.size())
      throw WrongUsage("--set takes NAME=EXPRESSION, such as n=7, not `" + each + "`");
    arguments->settings.set.emplace_back(each.substr(0, equals), each.substr(equals + 1));
  }
  for (const EngineChoice choice : engine_choices)
    if (raw.engine == engine_word(choice)) arguments->settings.engine = choice;
  const auto has = [&](const std::string& option) {
    return chosen.get_option_no_throw(option) != nullptr && chosen.count(option) > 0;
  };
  if (has("--time-limit")) {
    if (!(raw.seconds > 0 && raw.seconds < 1e9)) throw WrongUsage("--time-limit takes a positive number of seconds");
    arguments->limits.time = std::chrono::milliseconds(static_cast<long long>(std::ceil(raw.seconds * 1000)));
  }
  if (has("--memory-limit")) {
    hold_size("--memory-limit", raw.memory);
    constexpr std::size_t least = 64u << 20;
    if (raw.memory < least)
      throw WrongUsage("--memory-limit takes at least 64MB: the program and its libraries alone take half of that");
    arguments->limits.memory = raw.memory;
  }
  hold_size("--max-plan-size", arguments->settings.max_plan_size);
  if (!raw.shard.empty()) arguments->shard = parse_shard(raw.shard);
  if (raw.demand) {
    if (*raw.demand != "same" && *raw.demand != "congruent")
      throw WrongUsage("--demand takes `same` or `congruent`, not `" + *raw.demand + "`");
    arguments->demand = *raw.demand == "same" ? Congruence::same : Congruence::congruent;
  }
}

/// What the parser objects to, where its own text would not do.
std::string in_our_words(const CLI::ParseError& error, const CLI::App& app) {
  if (dynamic_cast<const CLI::RequiredError*>(&error) != nullptr && !app.get_subcommands().empty()) {
    const std::string command = app.get_subcommands().front()->get_name();
    return command + " needs " +
           (command == "measure"   ? "a solid: `cutproof measure plan.yaml#block`"
            : command == "compare" ? "solids: `cutproof compare a.yaml#cube --with b.yaml#box`"
                                   : "a plan: `cutproof " + command + " plan.yaml`");
  }
  const std::vector<std::string> unknown = app.remaining(true);
  if (dynamic_cast<const CLI::ExtrasError*>(&error) != nullptr && !unknown.empty())
    return "there is no option `" + unknown.front() + "` here";
  return error.what();
}

}  // namespace

SolidReference solid_reference(const std::string& input) {
  SolidReference reference{input};
  if (leads_somewhere(input)) return reference;
  const std::size_t number_sign = input.rfind('#');
  if (number_sign != std::string::npos) {
    reference.file = input.substr(0, number_sign);
    reference.name = input.substr(number_sign + 1);
    if (leads_somewhere(reference.file)) return reference;
  }
  const std::size_t at = reference.file.rfind('@');
  if (at == std::string::npos || at == 0) return reference;
  reference.place = parse_place(reference.file.substr(at + 1));
  if (reference.place) reference.file.resize(at);
  return reference;
}

ParsedCommandLine parse_command_line(int count, const char* const* words) {
  CLI::App app("", "cutproof");
  app.set_version_flag("--version", "cutproof " CUTPROOF_VERSION);
  app.require_subcommand(1);
  Arguments arguments;
  RawOptions raw;

  CLI::App* check = app.add_subcommand("check", "Carry out plans and judge them");
  check->add_option("PLAN", arguments.inputs, "Plan files; folders, for every *.yaml below them; - for standard input")
      ->required();
  check->add_flag("--no-mends", arguments.no_mends, "do not look for changes that would mend a plan that does not hold");
  check->add_option("--against", arguments.against, "an older JSON report: tell what changed since")->type_name("FILE");
  check->add_option("--shard", raw.shard, "check only the plans K, K+N, K+2N, ... of the list")->type_name("K/N");

  check->add_flag("--full", arguments.full, "the text with every step, piece and corner");

  CLI::App* measure = app.add_subcommand("measure", "Volume, area, edges and angles of solids");
  measure
      ->add_option(
          "SOLID", arguments.inputs,
          "FILE#SOLID, FILE for every entry of its `solids`, PLAN@7#PIECE or PLAN@end#PIECE for a piece on the bench, "
          "PLAN@7 for a list of them")
      ->required();
  measure
      ->add_option("--angles", arguments.angles, "audit: the dihedral angles that edges may have, with commas between them")
      ->type_name("ANGLES");
  measure
      ->add_option("--except", arguments.except, "audit: other angles, each with its exact number of edges: \"45 deg: 1\"")
      ->type_name("ANGLES");

  CLI::App* compare = app.add_subcommand("compare", "Could the solids be dissected into the others?");
  compare
      ->add_option("LEFT", arguments.inputs,
                   "FILE#SOLID, FILE where it has one solid, PLAN@start or PLAN@goal; a plan alone: start with goal")
      ->required();
  compare->add_option("--with", arguments.with, "the other side")->type_name("RIGHT...");
  compare
      ->add_option("--demand", raw.demand,
                   "what the two sides, each one set of points, are to be: the exit code is 0 or 1 accordingly")
      ->type_name("same|congruent");

  CLI::App* expand = app.add_subcommand("expand", "Write a plan out in version 1 of the language");
  expand->add_option("PLAN", arguments.inputs, "a plan's file; - for standard input")->required()->expected(1);

  CLI::App* format = app.add_subcommand("format", "Put plans into the canonical layout");
  format->add_option("PLAN", arguments.inputs, "plans' files; folders; - for standard input")->required();
  format->add_flag("--check", arguments.only_check, "change nothing; name the files whose layout would change");
  add_size_option(format, &arguments);
  CLI::App* start_new = app.add_subcommand("new", "Write a plan to begin with");
  start_new->add_option("FILE", arguments.inputs, "a file that is not there yet")->expected(0, 1);
  CLI::App* explain = app.add_subcommand("explain", "Tell what a finding means");
  explain->add_option("CODE", arguments.inputs, "the code of a finding")->expected(0, 1);

  for (CLI::App* each : {check, measure, compare}) add_report_options(each, &arguments, &raw);
  for (CLI::App* each : {check, measure, compare, expand}) add_run_options(each, &arguments, &raw);

  write_help(&app);

  const std::string first = count > 1 ? words[1] : "";
  const std::vector<CLI::App*> all = app.get_subcommands({});
  const bool known = std::any_of(all.begin(), all.end(), [&](const CLI::App* each) { return each->get_name() == first; });
  if (!known && first.substr(0, 1) != "-") {
    std::string names;
    for (const CLI::App* each : all) names += (names.empty() ? "" : each == all.back() ? " and " : ", ") + each->get_name();
    throw WrongUsage((first.empty() ? "a command is missing" : "there is no command `" + first + "`") +
                     "; the commands are " + names);
  }
  try {
    app.parse(count, words);
  } catch (const CLI::ParseError& error) {
    std::ostringstream text, complaint;
    if (app.exit(error, text, complaint) == 0) return {std::nullopt, text.str()};
    throw WrongUsage(in_our_words(error, app));
  }
  const CLI::App* chosen = app.get_subcommands().front();
  const std::pair<const CLI::App*, Command> commands[] = {
      {check, Command::check},   {measure, Command::measure},     {compare, Command::compare}, {expand, Command::expand},
      {format, Command::format}, {start_new, Command::start_new}, {explain, Command::explain}};
  for (const auto& [command, kind] : commands)
    if (command == chosen) arguments.command = kind;
  interpret(*chosen, raw, &arguments);
  if (is_for_writers(arguments.command)) return {std::move(arguments), ""};
  std::size_t from_standard_input = 0;
  for (const auto* side : {&arguments.inputs, &arguments.with})
    for (const std::string& each : *side) from_standard_input += solid_reference(each).file == "-" ? 1 : 0;
  if (from_standard_input > 1) throw WrongUsage("- is standard input, which can be read only once");
  if (arguments.against == "-") throw WrongUsage("--against takes a report that is a file; - is standard input");
  if (arguments.command == Command::measure && arguments.angles) {
    for (const std::string& each : arguments.inputs) {
      const SolidReference reference = solid_reference(each);
      if (reference.place && !reference.name)
        throw WrongUsage("--angles audits one solid: say which piece, as in `" + each + "#PIECE`");
    }
  }
  if (arguments.except && !arguments.angles) throw WrongUsage("--except makes exceptions to --angles, which is missing");
  if (arguments.command == Command::compare && arguments.with.empty() &&
      (arguments.inputs.size() != 1 || solid_reference(arguments.inputs.front()).file != arguments.inputs.front())) {
    throw WrongUsage("compare needs --with and the other side; only a plan can be compared alone, its start with its goal");
  }
  return {std::move(arguments), ""};
}

}  // namespace cutproof
