#include "cli/man_page.hpp"

#include <algorithm>
#include <sstream>
#include <string>

#include <fmt/format.h>
#include <fmt/ostream.h>

#include "cli/command_parts.hpp"
#include "cli/commands.hpp"

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

void write_option(std::ostream& out, const CLI::Option& option, bool positional) {
  const CLI::Formatter as_in_help;
  std::string names;
  if (positional) {
    names = bold(option.get_name(true));
  } else {
    for (const auto& name : dashed_names(option)) names += (names.empty() ? "" : ", ") + bold(name);
  }
  fmt::print(out, ".TP\n{}{}\n{}\n", names, roff(as_in_help.make_option_opts(&option)),
             prose(as_in_help.make_option_desc(&option)));
}

void write_arguments(std::ostream& out, const CLI::App& command) {
  for (const auto* option : shown_positionals(command)) write_option(out, *option, true);
  for (const auto* option : shown_options(command)) write_option(out, *option, false);
}

void write_command(std::ostream& out, const CLI::App& command, const std::string& program) {
  const CLI::Formatter as_in_help;
  const std::string name = program + " " + command.get_name();
  std::string words;
  for (const auto* option : shown_positionals(command)) {
    words += " " + as_in_help.make_option_usage(option);
  }
  fmt::print(out, ".SS {}\n{} [OPTIONS]{}\n.PP\n{}\n", roff(name), bold(name), roff(words),
             prose(command.get_description()));
  write_arguments(out, command);
  write_footer(out, command.get_footer());
}

}  // namespace

void write_man_page(std::ostream& out, const CLI::App& app) {
  const std::string& name = app.get_name();
  // Without a date, the page is the same whenever it is made.
  fmt::print(out, ".TH DULLSPELL 1 \"\" \"{}\" \"User Commands\"\n", roff(kProgram));
  fmt::print(out, ".SH NAME\n{} \\- {}\n", name, roff(app.get_description()));
  fmt::print(out, ".SH SYNOPSIS\n{} \\fICOMMAND\\fR [OPTIONS]\n", bold(name));
  fmt::print(out, ".SH DESCRIPTION\n");
  write_footer(out, app.get_footer());
  fmt::print(out, ".SH OPTIONS\n");
  write_arguments(out, app);
  fmt::print(out, ".SH COMMANDS\n");
  for (const auto* command : shown_commands(app)) write_command(out, *command, name);
}

}  // namespace dullspell
