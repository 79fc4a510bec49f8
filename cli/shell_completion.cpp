#include "cli/shell_completion.hpp"

#include <string>
#include <string_view>

#include <fmt/format.h>
#include <fmt/ostream.h>

#include "cli/command_parts.hpp"

namespace dullspell {
namespace {

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

std::vector<std::string> all_names(const std::vector<Option>& options) {
  std::vector<std::string> names;
  for (const Option& option : options) {
    for (auto& name : dashed_names(option)) names.push_back(std::move(name));
  }
  return names;
}

// Shell words for what may stand where `kind` does: choices, else files, else nothing.
std::string bash_answer(const ValueKind& kind) {
  if (!kind.choices.empty())
    return fmt::format("words={}", shell_quoted(joined(kind.choices, " ")));
  return kind.file ? "files=yes" : "return";
}

void write_bash_command(std::ostream& out, const Command& command) {
  fmt::print(out, "    {})\n      case $before in\n", command.name);
  for (const Option& option : shown_options(command)) {
    const ValueKind kind = value_kind(option);
    if (!kind.taken) continue;
    fmt::print(out, "        {}) {} ;;\n", joined(dashed_names(option), "|"), bash_answer(kind));
  }
  fmt::print(out, "        *)\n          options={}\n",
             shell_quoted(joined(all_names(shown_options(command)), " ")));
  for (const Option& positional : shown_positionals(command)) {
    const std::string answer = bash_answer(value_kind(positional));
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

void write_zsh_options(std::ostream& out, const std::vector<Option>& options) {
  for (const Option& option : options) {
    const ValueKind kind = value_kind(option);
    for (const auto& name : dashed_names(option)) {
      std::string spec = (kind.repeats ? "*" : "") + name;
      if (kind.taken) spec += name.starts_with("--") ? "=" : "+";
      spec += fmt::format("[{}]", zsh_text(brief(option.help)));
      if (kind.taken) {
        spec += ":" + zsh_text(option.takes) + ":" + zsh_action(kind);
      }
      fmt::print(out, " \\\n        {}", shell_quoted(spec));
    }
  }
}

void write_zsh_command(std::ostream& out, const Command& command) {
  fmt::print(out, "    {})\n      _arguments", command.name);
  write_zsh_options(out, shown_options(command));
  for (const Option& positional : shown_positionals(command)) {
    const ValueKind kind = value_kind(positional);
    fmt::print(out, " \\\n        {}",
               shell_quoted(fmt::format("{}:{}:{}", kind.repeats ? "*" : "",
                                        zsh_text(positional.name), zsh_action(kind))));
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

void write_fish_options(std::ostream& out, const std::vector<Option>& options,
                        const std::string& where) {
  for (const Option& option : options) {
    std::string names;
    for (const auto& name : dashed_names(option)) {
      const bool is_long = name.starts_with("--");
      names += (is_long ? " -l " : " -s ") + name.substr(is_long ? 2 : 1);
    }
    const ValueKind kind = value_kind(option);
    fmt::print(out, "{}{}{} -d {}\n", where, names, kind.taken ? fish_answer(kind) : "",
               fish_quoted(brief(option.help)));
  }
}

}  // namespace

void write_bash_completion(std::ostream& out, const Program& program) {
  std::vector<std::string> commands;
  for (const auto* command : shown_commands(program)) commands.push_back(command->name);
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
             program.name, shell_quoted(joined(commands, " ")),
             shell_quoted(joined(all_names(shown_options(program)), " ")));
  for (const auto* command : shown_commands(program)) write_bash_command(out, *command);
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
             program.name);
}

void write_zsh_completion(std::ostream& out, const Program& program) {
  fmt::print(out, "#compdef {0}\n\n_{0}() {{\n  local -a commands=(\n", program.name);
  for (const auto* command : shown_commands(program)) {
    fmt::print(out, "    {}\n", shell_quoted(command->name + ":" + zsh_text(command->question)));
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
  write_zsh_options(out, shown_options(program));
  fmt::print(out, "\n      ;;\n");
  for (const auto* command : shown_commands(program)) write_zsh_command(out, *command);
  // Loaded by name the file is the function's body; sourced it only has to register it.
  fmt::print(out, R"(  esac
}}

if [[ ${{funcstack[1]}} == _{0} ]]; then
  _{0} "$@"
else
  compdef _{0} {0}
fi
)",
             program.name);
}

void write_fish_completion(std::ostream& out, const Program& program) {
  const std::string complete = "complete -c " + program.name;
  fmt::print(out, "# fish completion for {}\n{} -f\n", program.name, complete);
  const std::string first = complete + " -n __fish_use_subcommand";
  write_fish_options(out, shown_options(program), first);
  for (const auto* command : shown_commands(program)) {
    fmt::print(out, "{} -a {} -d {}\n", first, command->name, fish_quoted(command->question));
  }
  for (const auto* command : shown_commands(program)) {
    const std::string after =
        fmt::format("{} -n '__fish_seen_subcommand_from {}'", complete, command->name);
    write_fish_options(out, shown_options(*command), after);
    for (const Option& positional : shown_positionals(*command)) {
      const ValueKind kind = value_kind(positional);
      if (!kind.choices.empty()) {
        fmt::print(out, "{} -a {}\n", after, fish_quoted(joined(kind.choices, " ")));
      } else if (kind.file) {
        fmt::print(out, "{} -F\n", after);
      }
    }
  }
}

}  // namespace dullspell
