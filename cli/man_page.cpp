#include "cli/man_page.hpp"

#include <algorithm>
#include <sstream>
#include <string>
#include <vector>

#include <fmt/format.h>
#include <fmt/ostream.h>

#include "cli/command_parts.hpp"
#include "cli/plan_reference.hpp"

namespace dullspell {
namespace {

// Code point of the UTF-8 sequence at `at`, which moves to its last byte.
unsigned code_point(const std::string& text, std::size_t& at) {
  const auto lead = static_cast<unsigned char>(text[at]);
  const int more = lead >= 0xF0 ? 3 : lead >= 0xE0 ? 2 : 1;
  unsigned point = lead & (0x3Fu >> more);
  for (int i = 0; i < more && at + 1 < text.size(); ++i) {
    point = point << 6 | (static_cast<unsigned char>(text[++at]) & 0x3Fu);
  }
  return point;
}

// Text that roff prints as it is: hyphens can be copied into a shell, and none of it is a request.
std::string roff(const std::string& text) {
  std::string out;
  for (std::size_t i = 0; i < text.size(); ++i) {
    const char c = text[i];
    switch (c) {
      case '\\':
        out += "\\e";
        break;
      case '-':
        out += "\\-";
        break;
      case '\'':
        out += "\\(aq";
        break;
      case '"':
        out += "\\(dq";
        break;
      case '`':
        out += "\\(ga";
        break;
      case '^':
        out += "\\(ha";
        break;
      case '~':
        out += "\\(ti";
        break;
      default:
        if (static_cast<unsigned char>(c) >= 0x80) {
          out += fmt::format("\\[u{:04X}]", code_point(text, i));
        } else {
          out += c;
        }
    }
  }
  const bool request = text.starts_with('.');
  return request ? "\\&" + out : out;
}

std::string bold(const std::string& text) {
  return "\\fB" + roff(text) + "\\fR";
}

// Prose, with what stands between backquotes in bold.
std::string prose(const std::string& text) {
  if (std::count(text.begin(), text.end(), '`') % 2 != 0) return roff(text);
  std::string out;
  bool code = false;
  std::istringstream parts(text);
  for (std::string part; std::getline(parts, part, '`'); code = !code) {
    out += code ? bold(part) : roff(part);
  }
  return out;
}

void write_footer(std::ostream& out, const std::string& footer) {
  for (const FooterPart& part : footer_parts(footer)) {
    if (!part.examples) {
      fmt::print(out, ".PP\n{}\n", prose(part.text));
      continue;
    }
    fmt::print(out, ".PP\n.nf\n.RS 2\n");
    std::istringstream lines(part.text);
    for (std::string line; std::getline(lines, line);)
      fmt::print(out, "{}\n", roff(line.substr(2)));
    fmt::print(out, ".RE\n.fi\n");
  }
}

void write_options(std::ostream& out, const std::vector<Option>& options) {
  for (const Option& option : options) {
    std::vector<std::string> names;
    for (const auto& name : dashed_names(option)) names.push_back(bold(name));
    fmt::print(out, ".TP\n{}{}\n{}\n", joined(names, ", "), roff(value_text(option)),
               prose(option.help));
  }
}

void write_command(std::ostream& out, const Command& command, const std::string& program) {
  const std::string name = program + " " + command.name;
  const std::vector<Option> positionals = shown_positionals(command);
  std::string words;
  for (const Option& positional : positionals) words += " " + usage_text(positional);
  fmt::print(out, ".SS {}\n{} [OPTIONS]{}\n.PP\n{}\n", roff(name), bold(name), roff(words),
             prose(command.question));
  write_options(out, positionals);
  write_options(out, shown_options(command));
  write_footer(out, command.footer);
}

void write_plan_reference(std::ostream& out) {
  fmt::print(out, ".SH PLAN FILE\n.PP\n{}\n",
             prose(fmt::format("A plan is a TOML file; `dullspell new` writes one with the usual "
                               "keys. {}",
                               plan_value_forms())));
  for (const PlanTable& table : plan_reference()) {
    fmt::print(out, ".SS {}\n.PP\n{}\n", roff(std::string(table.title)),
               prose(std::string(table.says)));
    for (const PlanKey& key : table.keys) {
      fmt::print(out, ".TP\n{}\n{}\n", bold(std::string(key.name)), prose(std::string(key.says)));
    }
  }
}

}  // namespace

void write_man_page(std::ostream& out, const Program& program) {
  const std::string& name = program.name;
  // Without a date, the page is the same whenever it is made.
  fmt::print(out, ".TH DULLSPELL 1 \"\" \"{}\" \"User Commands\"\n", roff(program.version));
  fmt::print(out, ".SH NAME\n{} \\- {}\n", name, roff(program.question));
  fmt::print(out, ".SH SYNOPSIS\n{} \\fICOMMAND\\fR [OPTIONS]\n", bold(name));
  fmt::print(out, ".SH DESCRIPTION\n");
  write_footer(out, program.footer);
  fmt::print(out, ".SH OPTIONS\n");
  write_options(out, shown_options(program));
  fmt::print(out, ".SH COMMANDS\n");
  for (const auto* command : shown_commands(program)) write_command(out, *command, name);
  write_plan_reference(out);
}

}  // namespace dullspell
