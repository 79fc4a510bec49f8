#include "cli/shell_completion.hpp"

#include <string>
#include <string_view>

#include <fmt/format.h>
#include <fmt/ostream.h>

#include "cli/command_parts.hpp"

namespace dullspell {
namespace {

std::string joined(const std::vector<std::string>& words, const std::string& between) {
  std::string out;
  for (const auto& word : words) out += (out.empty() ? "" : between) + word;
  return out;
}

// A description's first sentence; `e.g.` ends none.
std::string brief(const std::string& description) {
  auto end = description.find(". ");
  while (end != std::string::npos && end >= 2 && description[end - 2] == '.') {
    end = description.find(". ", end + 1);
  }
  std::string text = description.substr(0, end);
  if (text.ends_with('.')) text.pop_back();
  return text;
}

std::string with_backslash_before(std::string_view special, const std::string& text) {
  std::string out;
  for (const char c : text) {
    if (special.find(c) != std::string_view::npos) out += '\\';
    out += c;
  }
  return out;
}

// In single quotes for bash and zsh.
std::string shell_quoted(const std::string& text) {
  std::string out = "'";
  for (const char c : text) out += c == '\'' ? std::string("'\\''") : std::string(1, c);
  return out + "'";
}

std::vector<std::string> all_option_names(const CLI::App& command) {
  std::vector<std::string> names;
  for (const auto* option : shown_options(command)) {
    for (auto& name : dashed_names(*option)) names.push_back(std::move(name));
  }
  return names;
}

// Shell words for what may stand where `kind` does: choices, else files, else nothing.
std::string bash_answer(const ValueKind& kind) {
  if (!kind.choices.empty())
    return fmt::format("words={}", shell_quoted(joined(kind.choices, " ")));
  return kind.file ? "files=yes" : "return";
}

void write_bash_command(std::ostream& out, const CLI::App& command) {
  fmt::print(out, "    {})\n      case $before in\n", command.get_name());
  for (const auto* option : shown_options(command)) {
    const ValueKind kind = value_kind(*option);
    if (!kind.taken) continue;
    fmt::print(out, "        {}) {} ;;\n", joined(dashed_names(*option), "|"), bash_answer(kind));
  }
  fmt::print(out, "        *)\n          options={}\n",
             shell_quoted(joined(all_option_names(command), " ")));
  for (const auto* positional : shown_positionals(command)) {
    const std::string answer = bash_answer(value_kind(*positional));
    if (answer != "return") fmt::print(out, "          {}\n", answer);
  }
  fmt::print(out, "          ;;\n      esac\n      ;;\n");
}

std::string zsh_action(const ValueKind& kind) {
  if (!kind.choices.empty()) return "(" + joined(kind.choices, " ") + ")";
  return kind.file ? "_files" : " ";
}

std::string zsh_text(const std::string& text) {
  return with_backslash_before("\\[]:", text);
}

void write_zsh_options(std::ostream& out, const CLI::App& command) {
  for (const auto* option : shown_options(command)) {
    const ValueKind kind = value_kind(*option);
    for (const auto& name : dashed_names(*option)) {
      std::string spec = (kind.repeats ? "*" : "") + name;
      if (kind.taken) spec += name.starts_with("--") ? "=" : "+";
      spec += fmt::format("[{}]", zsh_text(brief(option->get_description())));
      if (kind.taken) {
        spec += ":" + zsh_text(option->get_type_name()) + ":" + zsh_action(kind);
      }
      fmt::print(out, " \\\n        {}", shell_quoted(spec));
    }
  }
}

void write_zsh_command(std::ostream& out, const CLI::App& command) {
  fmt::print(out, "    {})\n      _arguments", command.get_name());
  write_zsh_options(out, command);
  for (const auto* positional : shown_positionals(command)) {
    const ValueKind kind = value_kind(*positional);
    fmt::print(out, " \\\n        {}",
               shell_quoted(fmt::format("{}:{}:{}", kind.repeats ? "*" : "",
                                        zsh_text(positional->get_name(true)), zsh_action(kind))));
  }
  fmt::print(out, "\n      ;;\n");
}

std::string fish_quoted(const std::string& text) {
  return "'" + with_backslash_before("\\'", text) + "'";
}

std::string fish_answer(const ValueKind& kind) {
  if (!kind.choices.empty()) return " -x -a " + fish_quoted(joined(kind.choices, " "));
  return kind.file ? " -r -F" : " -x";
}

void write_fish_options(std::ostream& out, const CLI::App& command, const std::string& where) {
  for (const auto* option : shown_options(command)) {
    std::string names;
    for (const auto& name : option->get_snames()) names += " -s " + name;
    for (const auto& name : option->get_lnames()) names += " -l " + name;
    const ValueKind kind = value_kind(*option);
    fmt::print(out, "{}{}{} -d {}\n", where, names, kind.taken ? fish_answer(kind) : "",
               fish_quoted(brief(option->get_description())));
  }
}

}  // namespace

void write_bash_completion(std::ostream& out, const CLI::App& app) {
  std::vector<std::string> commands;
  for (const auto* command : shown_commands(app)) commands.push_back(command->get_name());
  // Bash takes `=` for a word of its own: --cpu=v3 arrives in three.
  fmt::print(out, R"(# bash completion for {0}
_{0}() {{
  local current=${{COMP_WORDS[COMP_CWORD]}} before=${{COMP_WORDS[COMP_CWORD-1]}}
  local command='' words='' options='' files='' i
  if [[ $current == = ]]; then
    current=''
  elif [[ $before == = ]]; then
    before=${{COMP_WORDS[COMP_CWORD-2]}}
  fi
  for ((i = 1; i < COMP_CWORD; i++)); do
    if [[ ${{COMP_WORDS[i]}} != -* ]]; then
      command=${{COMP_WORDS[i]}}
      break
    fi
  done
  COMPREPLY=()
  case $command in
    '')
      words={1}
      options={2}
      ;;
)",
             app.get_name(), shell_quoted(joined(commands, " ")),
             shell_quoted(joined(all_option_names(app), " ")));
  for (const auto* command : shown_commands(app)) write_bash_command(out, *command);
  fmt::print(out, R"(  esac
  if [[ $current == -* && $options ]]; then
    words=$options
    files=''
  fi
  mapfile -t COMPREPLY < <(compgen -W "$words" -- "$current")
  if [[ $files ]]; then
    compopt -o filenames 2>/dev/null
    mapfile -t COMPREPLY < <(compgen -f -- "$current")
  fi
}}
complete -F _{0} {0}
)",
             app.get_name());
}

void write_zsh_completion(std::ostream& out, const CLI::App& app) {
  fmt::print(out, "#compdef {0}\n\n_{0}() {{\n  local -a commands=(\n", app.get_name());
  for (const auto* command : shown_commands(app)) {
    fmt::print(out, "    {}\n",
               shell_quoted(command->get_name() + ":" + zsh_text(command->get_description())));
  }
  fmt::print(out, R"(  )
  if ((CURRENT == 2)) && [[ $words[2] != -* ]]; then
    _describe command commands
    return
  fi
  local command=$words[2]
  if ((CURRENT > 2)); then
    shift words
    ((CURRENT--))
  else
    command=''
  fi
  case $command in
    '')
      _arguments)");
  write_zsh_options(out, app);
  fmt::print(out, "\n      ;;\n");
  for (const auto* command : shown_commands(app)) write_zsh_command(out, *command);
  // Loaded by name the file is the function's body; sourced it only has to register it.
  fmt::print(out, R"(  esac
}}

if [[ ${{funcstack[1]}} == _{0} ]]; then
  _{0} "$@"
else
  compdef _{0} {0}
fi
)",
             app.get_name());
}

void write_fish_completion(std::ostream& out, const CLI::App& app) {
  const std::string program = "complete -c " + app.get_name();
  fmt::print(out, "# fish completion for {}\n{} -f\n", app.get_name(), program);
  const std::string first = program + " -n __fish_use_subcommand";
  write_fish_options(out, app, first);
  for (const auto* command : shown_commands(app)) {
    fmt::print(out, "{} -a {} -d {}\n", first, command->get_name(),
               fish_quoted(command->get_description()));
  }
  for (const auto* command : shown_commands(app)) {
    const std::string after =
        fmt::format("{} -n '__fish_seen_subcommand_from {}'", program, command->get_name());
    write_fish_options(out, *command, after);
    for (const auto* positional : shown_positionals(*command)) {
      const ValueKind kind = value_kind(*positional);
      if (!kind.choices.empty()) {
        fmt::print(out, "{} -a {}\n", after, fish_quoted(joined(kind.choices, " ")));
      } else if (kind.file) {
        fmt::print(out, "{} -F\n", after);
      }
    }
  }
}

}  // namespace dullspell
