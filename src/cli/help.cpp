// SPDX-License-Identifier: GPL-3.0-or-later
// The options come from the parser that reads them, so that none can be missing here; everything else is written by hand.
#include "cli/help.hpp"

#include <CLI/CLI.hpp>

#include <algorithm>
#include <memory>
#include <string>
#include <string_view>
#include <vector>

namespace cutproof {
namespace {

constexpr std::size_t width = 92, label_width = 24;

constexpr std::string_view program_text =
    R"(cutproof checks dissections of polyhedra. It carries out a plan of cuts and motions in exact
arithmetic, and proves that it works, or shows which piece is wrong, where, and by how much.

  cutproof check PLAN...                       are these plans right?
  cutproof measure FILE[#SOLID]...             what is this solid, or this piece of a plan, like?
  cutproof compare LEFT... --with RIGHT...     could the one be dissected into the other?

For people who write plans:

  cutproof expand PLAN                         what does this plan say, written out step by step?
  cutproof format PLAN...                      the canonical layout
  cutproof new [FILE]                          a plan to begin with
  cutproof explain [CODE]                      what does this finding mean?

Examples
  cutproof check plan.yaml
  cutproof measure plan.yaml@end#wedge
  cutproof compare plan.yaml

Exit codes
  0  verified; measured; a dissection exists
  1  refuted; an audit of angles failed; no dissection exists; not expanded;
     the layout would change
  2  invalid input, or wrong usage
  3  stopped at a limit, or interrupted
  4  failed: a fault of the program, or a report could not be written

`cutproof COMMAND --help` has the options of each command; `cutproof --version` tells the version.
)";

struct CommandText {
  std::string_view name, opening, examples;
};

constexpr CommandText commands[] = {{"check", R"(cutproof check PLAN...

Carries out each plan and judges it. A verified plan is proved; of a refuted one the text says
where to look, what is wrong there, and what to write instead.

  PLAN  a plan's file; a folder, for all files *.yaml below it; - for standard input
)",
                                     R"(Examples
  cutproof check plan.yaml
  cutproof check plans/ -q                                       one line for each finding
  cutproof check plans/ --jobs 2 --report json=report.json
  cutproof check plan.yaml --report html=plan.html               a page with pictures
  cutproof check plan.yaml --time-limit 10min --memory-limit 2GB
)"},
                                    {"measure", R"(cutproof measure SOLID...

Tells volume, area, edges with their angles, Dehn invariant, box and centroid.

  SOLID  plan.yaml#block      the entry `block` of the section `solids`
         plan.yaml            all entries of that section
         plan.yaml@7#wedge    the piece `wedge` after step 7
         plan.yaml@end#wedge  the same at the end
         plan.yaml@7          a list of all pieces after step 7, also @start, @end and @goal
)",
                                     R"(Examples
  cutproof measure plan.yaml#block
  cutproof measure plan.yaml@end
  cutproof measure plan.yaml#block --angles "90 deg, 270 deg" --except "45 deg: 1"
)"},
                                    {"compare", R"(cutproof compare LEFT... --with RIGHT...
cutproof compare PLAN

Tells whether the solids on the left, taken together, can be dissected into those on the right,
and how the two sides are related as sets of points. Of a plan alone start and goal are compared.

  LEFT, RIGHT  a.yaml#cube  the entry `cube` of the section `solids`
               a.yaml       its only entry
               plan.yaml@start, plan.yaml@goal   all that a plan starts from, or is to make
)",
                                     R"(Examples
  cutproof compare plan.yaml
  cutproof compare a.yaml#cube --with b.yaml#box
  cutproof compare plan.yaml@goal --with reference.yaml@goal --demand congruent
)"},
                                    {"expand", R"(cutproof expand PLAN

Prints the plan in version 1 of the language: loops pass by pass, definitions and parameters as
the numbers that they are, selections by place as names, motions that were found as maps, and
lemmas as their own steps. What is printed has the outcome, the start, the goal and the final
pieces of the plan; what is `added` stands in its start and its goal. What only version 2 can
expect becomes a comment; a plan that fails by it is not expanded.

  PLAN  a plan's file; - for standard input
)",
                                     R"(Examples
  cutproof expand plan.yaml
  cutproof expand plan.yaml --time-limit 10min
  cutproof expand plan.yaml --set n=3
)"},
                                    {"format", R"(cutproof format PLAN...

Puts plans into the canonical layout: the same plan, with the same comments. A file is replaced
as a whole, or left alone when it is not the YAML of a plan. Formatting it again changes nothing.

  PLAN  a plan's file; a folder, for all files *.yaml below it; - from standard input to
        standard output
)",
                                     R"(Examples
  cutproof format plan.yaml
  cutproof format plans/ --check
  cutproof format -
)"},
                                    {"new", R"(cutproof new [FILE]

Writes a plan to begin with, which is verified, with comments that say what is what. Nothing is
ever written over a file that is there.

  FILE  where it is written, plan.yaml when absent; - for standard output
)",
                                     R"(Examples
  cutproof new
  cutproof new my-plan.yaml
  cutproof new -
)"},
                                    {"explain", R"(cutproof explain [CODE]

Tells what a finding means, with a small plan that has it and its mend. Without a code all are
listed.

  CODE  as it stands in reports: overlap, plane-misses, ...
)",
                                     R"(Examples
  cutproof explain
  cutproof explain overlap
  cutproof explain no-fit
)"}};

/// `-j, --jobs N`.
std::string label_of(const CLI::Option& option) {
  std::string label;
  for (const std::string& name : option.get_snames()) label += (label.empty() ? "-" : ", -") + name;
  for (const std::string& name : option.get_lnames()) label += (label.empty() ? "--" : ", --") + name;
  const std::string type = option.get_type_name();  // what it must be follows behind a colon
  return option.get_expected_max() == 0 || type.empty() ? label : label + " " + type.substr(0, type.find(':'));
}

/// Words on lines that begin at `indent`, the first one in a line that is there already.
std::string wrapped(const std::string& text, std::size_t indent) {
  std::string result;
  std::size_t column = indent, at = 0;
  while (at < text.size()) {
    const std::size_t end = std::min(text.find_first_of(" \n", at), text.size());
    const bool breaks = at > 0 && text[at - 1] == '\n';
    if (breaks || (column > indent && column + 1 + end - at > width)) {
      result += "\n" + std::string(indent, ' ');
      column = indent;
    } else if (column > indent) {
      result += ' ';
      ++column;
    }
    result += text.substr(at, end - at);
    column += end - at;
    at = end + 1;
  }
  return result + "\n";
}

std::string option_lines(const CLI::Option& option) {
  std::string text = "  " + label_of(option);
  const std::size_t indent = label_width + 2;
  text += text.size() + 2 > indent ? "\n" + std::string(indent, ' ') : std::string(indent - text.size(), ' ');
  std::string description = option.get_description();
  if (!option.get_default_str().empty()) description += " (" + option.get_default_str() + " when absent)";
  return text + wrapped(description, indent);
}

class Help final : public CLI::FormatterBase {
 public:
  std::string make_help(const CLI::App* app, std::string, CLI::AppFormatMode) const override {
    const auto* const own = std::find_if(std::begin(commands), std::end(commands),
                                         [&](const CommandText& each) { return each.name == app->get_name(); });
    if (own == std::end(commands)) return std::string(program_text);
    std::string text = std::string(own->opening) + "\nOptions\n";
    for (const CLI::Option* option : app->get_options())
      if (option->nonpositional() && option != app->get_help_ptr()) text += option_lines(*option);
    text += option_lines(*app->get_help_ptr());
    return text + "\n" + std::string(own->examples);
  }
};

}  // namespace

void write_help(CLI::App* program) {
  const auto help = std::make_shared<Help>();
  program->formatter(help);
  for (CLI::App* command : program->get_subcommands({})) {
    command->formatter(help);
    command->set_help_flag("-h,--help", "this text");
  }
}

}  // namespace cutproof
