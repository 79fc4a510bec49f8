// Where results go: files replaced whole, devices and pipes written through, links followed,
// permissions kept; standard output that cannot take them; and a kill at any moment.

#include <catch2/catch.hpp>

#include <csignal>
#include <filesystem>
#include <set>
#include <string>
#include <thread>
#include <vector>

#include <sys/stat.h>
#include <sys/sysmacros.h>

#include <nlohmann/json.hpp>

#include "tests/support/run_program.hpp"

namespace dullspell::outputs_test {

using namespace dullspell::test;
using Catch::Matchers::Contains;
using Catch::Matchers::EndsWith;
using Json = nlohmann::json;
namespace fs = std::filesystem;

namespace {

const std::string kDemo = project_file("datasets/plans/two-forest-camps.toml");
const std::string kRecord = project_file("datasets/records/us_ca_davis.csv");

ProgramRun run_with_json(const std::string& target) {
  return run_program({"run", kDemo, "--stays", "200", "--json", target});
}

struct stat status_of(const std::string& path) {
  struct stat status {};
  if (lstat(path.c_str(), &status) != 0) throw std::runtime_error(path + " is not there");
  return status;
}

unsigned permissions_of(const std::string& path) {
  return status_of(path).st_mode & 07777u;
}

// A device of the test's own, so that no run can harm the machine's; false where none may be made.
bool make_device(const std::string& path, unsigned minor) {
  if (mknod(path.c_str(), S_IFCHR | 0666, makedev(1, minor)) != 0) return false;
  const int opened = open(path.c_str(), O_WRONLY | O_CLOEXEC);
  if (opened >= 0) close(opened);
  return opened >= 0;
}

// The program in a shell that does something to its standard output, as in `"$@" > /dev/full`.
ProgramRun run_in_shell(const std::string& script, const std::vector<std::string>& arguments,
                        const std::string& input = "") {
  std::vector<std::string> words{"bash", "-c", script, "bash"};
  for (const auto& word : program_words(arguments)) words.push_back(word);
  return run_words(words, input);
}

// Every command and every kind of page, each with the least work.
std::vector<std::vector<std::string>> all_commands() {
  const std::vector<std::string> stays{"--stays", "100"};
  std::vector<std::vector<std::string>> all;
  for (const char* command : {"run", "size", "levers", "calendar"}) {
    all.push_back({command, kDemo, "--stays", "100"});
  }
  all.push_back({"compare", kDemo, kDemo, "--stays", "100"});
  all.push_back({"where", kDemo, "--stays", "100", "--near", "41.8,-124.1", "--within", "20"});
  all.push_back({"hindcast", kDemo, "--stays", "100", "--record", kRecord, "--record-at",
                 "41.8,-124.1", "--set", "camp[2].place=crescent-city-ca"});
  all.push_back({"run", kDemo, "--stays", "100", "--json", "-"});
  all.push_back({"budget", kDemo});
  all.push_back({"shade", kDemo});
  all.push_back({"places"});
  all.push_back({"weather", "daggett-ca"});
  all.push_back({"weather", "daggett-ca", "--days", "20"});
  all.push_back({"weather", "daggett-ca", "--days", "3000"});
  all.push_back({"fit", kRecord, "--latitude", "38.54", "--longitude", "-121.78", "--utc-offset",
                 "-8", "--id", "davis", "--out", "-"});
  all.push_back({"new"});
  all.push_back({"completion", "bash"});
  all.push_back({"man"});
  all.push_back({"--help"});
  all.push_back({"run", "--help"});
  all.push_back({"--version"});
  all.push_back({});
  return all;
}

}  // namespace

TEST_CASE("a device is written to and stays a device") {
  const TemporaryFolder folder;
  const std::string null = folder.path("null"), full = folder.path("full");
  if (!make_device(null, 3) || !make_device(full, 7)) {
    WARN("left out: no device may be made here");
    return;
  }
  CHECK(run_with_json(null).exit_code == 0);
  CHECK(S_ISCHR(status_of(null).st_mode));
  const ProgramRun both =
      run_program({"size", kDemo, "--stays", "200", "--json", null, "--csv", null});
  CHECK(both.exit_code == 0);

  const ProgramRun run = run_with_json(full);
  CHECK(run.exit_code == 1);
  CHECK(run.err == "dullspell: " + full + " could not be written: No space left on device\n");
  CHECK(S_ISCHR(status_of(full).st_mode));
  CHECK(folder.entries() == 2);
}

TEST_CASE("the reader of a pipe gets the result") {
  const TemporaryFolder folder;
  const std::string pipe = folder.path("pipe");
  REQUIRE(mkfifo(pipe.c_str(), 0600) == 0);
  // Held open for reading and writing, so that neither side waits for the other.
  const int held = open(pipe.c_str(), O_RDWR | O_CLOEXEC | O_NONBLOCK);
  std::string read_text;
  std::thread reader([&] { read_text = text_of(pipe); });
  const ProgramRun run = run_with_json(pipe);
  close(held);
  reader.join();
  CHECK(run.exit_code == 0);
  CHECK(Json::accept(read_text));
  CHECK(S_ISFIFO(status_of(pipe).st_mode));
  CHECK(folder.entries() == 1);

  const ProgramRun substituted = run_in_shell("\"$@\" --json >(wc -c >&2) >/dev/null; wait $!",
                                              {"run", kDemo, "--stays", "200"});
  CHECK(substituted.exit_code == 0);
  CHECK(std::stoul("0" + substituted.err) == read_text.size());
}

TEST_CASE("a link is followed, and stays") {
  const TemporaryFolder folder;
  fs::create_directory(folder.path("far"));
  folder.write("far/result.json", "old");
  const std::string link = folder.path("link.json");
  fs::create_symlink("far/result.json", link);
  CHECK(run_with_json(link).exit_code == 0);
  CHECK(fs::is_symlink(link));
  CHECK(Json::accept(text_of(folder.path("far/result.json"))));

  // By way of a folder that is a link itself, and of a second link back up.
  fs::create_directory(folder.path("deep"));
  fs::create_directory(folder.path("deep/er"));
  fs::create_symlink("deep/er", folder.path("short"));
  fs::create_symlink("../up.json", folder.path("deep/er/up.json"));
  CHECK(run_with_json(folder.path("short/up.json")).exit_code == 0);
  CHECK(fs::is_symlink(folder.path("short/up.json")));
  CHECK(Json::accept(text_of(folder.path("deep/up.json"))));

  fs::create_symlink("missing.json", folder.path("dangling.json"));
  CHECK(run_with_json(folder.path("dangling.json")).exit_code == 0);
  CHECK(fs::is_symlink(folder.path("dangling.json")));
  CHECK(Json::accept(text_of(folder.path("missing.json"))));
  CHECK(folder.entries() == 6);
}

TEST_CASE("a link that leads nowhere is refused before the work") {
  const TemporaryFolder folder;
  fs::create_symlink("loop.json", folder.path("loop.json"));
  fs::create_symlink("no/such/folder.json", folder.path("lost.json"));
  for (const char* name : {"loop.json", "lost.json"}) {
    INFO(name);
    const ProgramRun run = run_with_json(folder.path(name));
    CHECK(run.exit_code == 2);
    CHECK(run.out.empty());
    CHECK_THAT(run.err, Contains("--json"));
    CHECK(fs::is_symlink(folder.path(name)));
  }
  CHECK(folder.entries() == 2);
}

TEST_CASE("a replaced file keeps its permissions and owner, a new one has the usual") {
  const TemporaryFolder folder;
  const std::string secret = folder.write("secret.json", "old"), fresh = folder.path("new.json");
  fs::permissions(secret, fs::perms::owner_read | fs::perms::owner_write);
  const bool given_away = chown(secret.c_str(), 12345, 23456) == 0;
  const mode_t mask = umask(027);
  const int exit_code = run_with_json(secret).exit_code + run_with_json(fresh).exit_code;
  umask(mask);
  REQUIRE(exit_code == 0);
  CHECK(Json::accept(text_of(secret)));
  CHECK(permissions_of(secret) == 0600);
  CHECK(permissions_of(fresh) == 0640);
  if (!given_away) {
    WARN("left out: no file may be given away here");
    return;
  }
  CHECK(status_of(secret).st_uid == 12345);
  CHECK(status_of(secret).st_gid == 23456);
}

TEST_CASE("no output falls on a file that standard input or output is, or on another link to it") {
  const TemporaryFolder folder;
  const std::string plan = folder.write("plan.toml", text_of(kDemo));
  fs::create_hard_link(plan, folder.path("again.toml"));
  fs::create_symlink("plan.toml", folder.path("link.toml"));
  for (const char* name : {"plan.toml", "again.toml", "link.toml"}) {
    const ProgramRun run =
        run_program({"run", plan, "--stays", "200", "--json", folder.path(name)});
    CHECK(run.exit_code == 2);
    CHECK_THAT(run.err, Contains("reads or writes already"));
  }
  const std::vector<std::string> words{"run", "-", "--stays", "200", "--json", plan};
  const ProgramRun read = run_in_shell("\"$@\" < '" + plan + "'", words);
  CHECK(read.exit_code == 2);
  CHECK(text_of(plan) == text_of(kDemo));
  const std::string out = folder.path("out");
  const ProgramRun written =
      run_in_shell("\"$@\" > '" + out + "'", {"run", kDemo, "--stays", "200", "--json", out});
  CHECK(written.exit_code == 2);
  CHECK(text_of(out).empty());
}

TEST_CASE("standard output on a full disk ends every command in one message", "[long]") {
  for (const auto& command : all_commands()) {
    INFO((command.empty() ? "" : command.front()));
    const ProgramRun run = run_in_shell("\"$@\" > /dev/full", command);
    CHECK(run.exit_code == 1);
    CHECK_THAT(run.err, EndsWith("dullspell: standard output could not be written: "
                                 "No space left on device\n"));
    if (command.empty() || command.front() != "fit") {
      CHECK(std::count(run.err.begin(), run.err.end(), '\n') == 1);
    }
  }
}

TEST_CASE("closed standard output is told, and no other file is taken for it", "[long]") {
  const TemporaryFolder folder;
  const std::string target = folder.path("result.json");
  for (const auto& command : all_commands()) {
    INFO((command.empty() ? "" : command.front()));
    const ProgramRun run = run_in_shell("\"$@\" >&-", command);
    CHECK(run.exit_code == 1);
    CHECK_THAT(run.err, Contains("standard output could not be written"));
  }
  const ProgramRun beside =
      run_in_shell("\"$@\" >&-", {"run", kDemo, "--stays", "200", "--json", target});
  CHECK(beside.exit_code == 1);
  CHECK(Json::accept(text_of(target)));
}

TEST_CASE("a reader that has seen enough ends a command quietly") {
  const std::vector<std::string> endless{"weather", "daggett-ca", "--days",
                                         "3000",    "--stays",    "1000"};
  const ProgramRun head = run_in_shell("\"$@\" | head -n 1; exit ${PIPESTATUS[0]}", endless);
  CHECK(head.exit_code == 128 + SIGPIPE);
  CHECK(head.err.empty());
  CHECK(head.out == "stay,date,k,ghi_kwh_m2,temp_mean_c,temp_max_c,temp_min_c\n");
  // Where the signal is ignored, the failed write is told like any other.
  const ProgramRun ignored =
      run_in_shell("trap '' PIPE; \"$@\" | true; exit ${PIPESTATUS[0]}", endless);
  CHECK(ignored.exit_code == 1);
  CHECK(ignored.err == "dullspell: standard output could not be written: Broken pipe\n");
}

TEST_CASE("a kill at any moment leaves targets whole and nothing else", "[long]") {
  // Many files of one run, so that most of its time goes into writing them; half are replaced.
  const TemporaryFolder folder;
  const std::vector<std::string> options{"--json", "--csv", "--geojson", "--html"};
  std::vector<std::string> words{"where",       kDemo,      "--stays", "100",   "--near",
                                 "41.8,-124.1", "--within", "1500",    "--top", "1"};
  std::vector<std::string> targets;
  for (const auto& option : options) {
    targets.push_back(folder.path("out" + option));
    words.insert(words.end(), {option, targets.back()});
  }
  REQUIRE(run_program(words).exit_code == 0);
  std::vector<std::string> whole;
  std::set<std::string> names;
  for (const auto& target : targets) {
    whole.push_back(text_of(target));
    names.insert(fs::path(target).filename());
  }
  const auto started = std::chrono::steady_clock::now();
  REQUIRE(run_program(words).exit_code == 0);
  const auto usual = std::chrono::steady_clock::now() - started;

  int killed = 0, left_behind = 0;
  constexpr int kKills = 100;
  for (int i = 0; i < kKills; ++i) {
    for (std::size_t t = 0; t < targets.size(); ++t) {
      if (t % 2) fs::remove(targets[t]);
    }
    posix_spawn_file_actions_t actions;
    posix_spawn_file_actions_init(&actions);
    posix_spawn_file_actions_addopen(&actions, STDOUT_FILENO, "/dev/null", O_WRONLY, 0);
    const pid_t child = start(program_words(words), environment_with({}), actions);
    posix_spawn_file_actions_destroy(&actions);
    // From a third of the usual time to its end: the writing comes last.
    std::this_thread::sleep_for(usual * (kKills + 2 * i) / (3 * kKills));
    kill(child, SIGKILL);
    killed += exit_code_of(child) == 128 + SIGKILL;
    for (std::size_t t = 0; t < targets.size(); ++t) {
      if (t % 2 && !fs::exists(targets[t])) continue;
      CHECK(text_of(targets[t]) == whole[t]);
    }
    for (const auto& entry : fs::directory_iterator(folder.path(""))) {
      if (names.contains(entry.path().filename())) continue;
      ++left_behind;
      fs::remove(entry.path());
    }
  }
  CHECK(killed > kKills / 2);
  // Replacing takes a name for some microseconds. A kill hits them once in thousands of times.
  CHECK(left_behind <= 1);
}

}  // namespace dullspell::outputs_test
