#pragma once

#include <fcntl.h>
#include <spawn.h>
#include <sys/wait.h>
#include <unistd.h>

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

/// Runs a command, found as a shell finds it, with a text on its standard input, in a folder if one
/// is named.
inline ProgramRun run_words(std::vector<std::string> words, const std::string& input = "",
                            const std::string& working_folder = "") {
  const TemporaryFolder folder;
  const std::string in = folder.write("in", input);
  const std::string out = folder.path("out"), err = folder.path("err");

  std::vector<char*> argv;
  for (auto& word : words) argv.push_back(word.data());
  argv.push_back(nullptr);

  posix_spawn_file_actions_t actions;
  posix_spawn_file_actions_init(&actions);
  posix_spawn_file_actions_addopen(&actions, STDIN_FILENO, in.c_str(), O_RDONLY, 0);
  constexpr int kNewFile = O_WRONLY | O_CREAT | O_TRUNC;
  posix_spawn_file_actions_addopen(&actions, STDOUT_FILENO, out.c_str(), kNewFile, 0600);
  posix_spawn_file_actions_addopen(&actions, STDERR_FILENO, err.c_str(), kNewFile, 0600);
  if (!working_folder.empty()) {
    posix_spawn_file_actions_addchdir_np(&actions, working_folder.c_str());
  }
  pid_t child = 0;
  const int failed = posix_spawnp(&child, argv.front(), &actions, nullptr, argv.data(), environ);
  posix_spawn_file_actions_destroy(&actions);
  if (failed) throw std::runtime_error("the program does not start");

  int status = 0;
  waitpid(child, &status, 0);
  return {WIFEXITED(status) ? WEXITSTATUS(status) : 128 + WTERMSIG(status), text_of(out),
          text_of(err)};
}

/// Runs the built program with arguments and a text on its standard input.
inline ProgramRun run_program(std::vector<std::string> arguments, const std::string& input = "") {
  const std::vector<std::string> program{DULLSPELL_PROGRAM};
  arguments.insert(arguments.begin(), program.begin(), program.end());
  return run_words(std::move(arguments), input);
}

inline std::string project_file(const std::string& name) {
  return std::string(DULLSPELL_SOURCE_DIR) + "/" + name;
}

}  // namespace dullspell::test
