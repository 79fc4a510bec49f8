#pragma once

#include <fcntl.h>
#include <pty.h>
#include <spawn.h>
#include <sys/wait.h>
#include <termios.h>
#include <unistd.h>

#include <algorithm>
#include <cstdlib>
#include <filesystem>
#include <fstream>
#include <sstream>
#include <stdexcept>
#include <string>
#include <vector>

extern char** environ;

namespace dullspell::test {

/// A folder of a test's own, gone at its end.
class TemporaryFolder {
 public:
  TemporaryFolder() {
    std::string name = (std::filesystem::temp_directory_path() / "dullspell-test-XXXXXX").string();
    if (!mkdtemp(name.data())) throw std::runtime_error("no temporary folder");
    path_ = name;
  }
  ~TemporaryFolder() {
    std::error_code ignored;
    std::filesystem::remove_all(path_, ignored);
  }
  TemporaryFolder(const TemporaryFolder&) = delete;
  TemporaryFolder& operator=(const TemporaryFolder&) = delete;

  std::string path(const std::string& name) const { return (path_ / name).string(); }

  std::string write(const std::string& name, const std::string& text) const {
    std::ofstream(path(name), std::ios::binary) << text;
    return path(name);
  }

  /// Files in it, for checks that nothing was left behind.
  std::size_t entries() const {
    const std::filesystem::directory_iterator all(path_);
    return static_cast<std::size_t>(std::distance(begin(all), end(all)));
  }

 private:
  std::filesystem::path path_;
};

inline std::string text_of(const std::string& path) {
  std::ifstream in(path, std::ios::binary);
  std::ostringstream text;
  text << in.rdbuf();
  return text.str();
}

struct ProgramRun {
  int exit_code = -1;
  std::string out;
  std::string err;
};

/// A command's words or an environment's settings as system calls take them; of the texts' memory.
inline std::vector<char*> pointers(std::vector<std::string>& texts) {
  std::vector<char*> out;
  for (auto& text : texts) out.push_back(text.data());
  out.push_back(nullptr);
  return out;
}

/// This process's environment with changes to it, NAME=VALUE, or NAME alone to take it out.
inline std::vector<std::string> environment_with(const std::vector<std::string>& changes) {
  const auto name_of = [](const std::string& setting) {
    return setting.substr(0, setting.find('='));
  };
  std::vector<std::string> out;
  for (char** setting = environ; *setting; ++setting) {
    const bool changed = std::any_of(changes.begin(), changes.end(), [&](const auto& change) {
      return name_of(change) == name_of(*setting);
    });
    if (!changed) out.emplace_back(*setting);
  }
  for (const auto& change : changes) {
    if (change.find('=') != std::string::npos) out.push_back(change);
  }
  return out;
}

/// Starts a command, found as a shell finds it.
inline pid_t start(std::vector<std::string> words, std::vector<std::string> environment,
                   const posix_spawn_file_actions_t& actions) {
  pid_t child = 0;
  const int failed = posix_spawnp(&child, words.front().c_str(), &actions, nullptr,
                                  pointers(words).data(), pointers(environment).data());
  if (failed) throw std::runtime_error("the program does not start");
  return child;
}

inline int exit_code_of(pid_t child) {
  int status = 0;
  waitpid(child, &status, 0);
  return WIFEXITED(status) ? WEXITSTATUS(status) : 128 + WTERMSIG(status);
}

/// Runs a command, found as a shell finds it, with a text on its standard input, in a folder if one
/// is named, with changes to the environment as for environment_with().
inline ProgramRun run_words(std::vector<std::string> words, const std::string& input = "",
                            const std::string& working_folder = "",
                            const std::vector<std::string>& changes = {}) {
  const TemporaryFolder folder;
  const std::string in = folder.write("in", input);
  const std::string out = folder.path("out"), err = folder.path("err");

  posix_spawn_file_actions_t actions;
  posix_spawn_file_actions_init(&actions);
  posix_spawn_file_actions_addopen(&actions, STDIN_FILENO, in.c_str(), O_RDONLY, 0);
  constexpr int kNewFile = O_WRONLY | O_CREAT | O_TRUNC;
  posix_spawn_file_actions_addopen(&actions, STDOUT_FILENO, out.c_str(), kNewFile, 0600);
  posix_spawn_file_actions_addopen(&actions, STDERR_FILENO, err.c_str(), kNewFile, 0600);
  if (!working_folder.empty()) {
    posix_spawn_file_actions_addchdir_np(&actions, working_folder.c_str());
  }
  const pid_t child = start(std::move(words), environment_with(changes), actions);
  posix_spawn_file_actions_destroy(&actions);
  const int exit_code = exit_code_of(child);
  return {exit_code, text_of(out), text_of(err)};
}

/// The built program's words with arguments after them. The environment may name another build of
/// it, so that one under sanitizers needs no tests of its own.
inline std::vector<std::string> program_words(const std::vector<std::string>& arguments) {
  std::vector<std::string> words{DULLSPELL_PROGRAM};
  if (const char* other = std::getenv("DULLSPELL_PROGRAM")) words = {other};
  words.insert(words.end(), arguments.begin(), arguments.end());
  return words;
}

/// Runs the built program with arguments and a text on its standard input.
inline ProgramRun run_program(const std::vector<std::string>& arguments,
                              const std::string& input = "") {
  return run_words(program_words(arguments), input);
}

/// What a program wrote to a terminal, both outputs, with its escape sequences.
struct TerminalRun {
  int exit_code = -1;
  std::string screen;

  /// What stays on it: a slow machine shows a line of progress first, which is wiped out.
  std::string report() const {
    const std::string wipe = "\r\033[K";
    const auto wiped = screen.rfind(wipe);
    return wiped == std::string::npos ? screen : screen.substr(wiped + wipe.size());
  }
};

/// Runs the built program on a pseudo-terminal so many columns wide, in an environment that knows
/// the terminal by TERM and nothing else of it, unless changed.
inline TerminalRun run_on_terminal(const std::vector<std::string>& arguments,
                                   unsigned short columns,
                                   const std::vector<std::string>& changes = {}) {
  std::vector<std::string> settings{"TERM=xterm-256color", "COLUMNS", "NO_COLOR"};
  for (const auto& change : changes) {
    std::erase_if(settings, [&](const std::string& setting) {
      return setting.substr(0, setting.find('=')) == change.substr(0, change.find('='));
    });
    settings.push_back(change);
  }
  int master = -1, slave = -1;
  termios raw{};
  cfmakeraw(&raw);  // line ends as they are written
  winsize window{};
  window.ws_row = 24;
  window.ws_col = columns;
  if (openpty(&master, &slave, nullptr, &raw, &window) != 0) {
    throw std::runtime_error("no pseudo-terminal");
  }
  posix_spawn_file_actions_t actions;
  posix_spawn_file_actions_init(&actions);
  for (const int standard : {STDIN_FILENO, STDOUT_FILENO, STDERR_FILENO}) {
    posix_spawn_file_actions_adddup2(&actions, slave, standard);
  }
  posix_spawn_file_actions_addclose(&actions, master);
  posix_spawn_file_actions_addclose(&actions, slave);
  const pid_t child = start(program_words(arguments), environment_with(settings), actions);
  posix_spawn_file_actions_destroy(&actions);
  close(slave);

  TerminalRun run;
  char some[4096];
  for (ssize_t bytes; (bytes = read(master, some, sizeof some)) > 0;) {
    run.screen.append(some, static_cast<std::size_t>(bytes));
  }
  close(master);
  run.exit_code = exit_code_of(child);
  return run;
}

inline std::string project_file(const std::string& name) {
  return std::string(DULLSPELL_SOURCE_DIR) + "/" + name;
}

}  // namespace dullspell::test
