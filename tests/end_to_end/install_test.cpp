#include <catch2/catch.hpp>

#include <unistd.h>

#include <algorithm>
#include <filesystem>
#include <fstream>
#include <regex>
#include <set>

#include "tests/support/run_program.hpp"

namespace dullspell::install_test {

using namespace dullspell::test;
using Catch::Matchers::Contains;
using Catch::Matchers::StartsWith;

namespace {

std::string output_of(std::vector<std::string> arguments) {
  const ProgramRun run = run_program(std::move(arguments));
  INFO(run.err);
  CHECK(run.exit_code == 0);
  return run.out;
}

std::set<std::string> matches(const std::string& text, const std::string& pattern) {
  const std::regex expression(pattern);
  std::set<std::string> found;
  for (std::sregex_iterator m(text.begin(), text.end(), expression), end; m != end; ++m) {
    found.insert(m->str(1));
  }
  return found;
}

// Names as `--help` lists them: two blanks at the start of a line, then the name.
std::set<std::string> listed_commands() {
  const std::string help = output_of({"--help"});
  return matches(help.substr(help.find("\nSubcommands:")), "\n  ([a-z]+) ");
}

std::set<std::string> listed_options(const std::string& command) {
  return matches(output_of({command, "--help"}), "\n  (?:-[a-z],)?(--[a-z-]+)");
}

bool on_this_machine(const std::string& tool) {
  return run_words({"sh", "-c", "command -v " + tool}).exit_code == 0;
}

// What bash offers for the last of the words.
std::string bash_offers(const std::string& words, const std::string& folder) {
  const std::string script = output_of({"completion", "bash"}) + "\ncd '" + folder +
                             "'\nCOMP_WORDS=(" + words +
                             ")\nCOMP_CWORD=$((${#COMP_WORDS[@]} - 1))\n_dullspell\n"
                             "printf '%s\\n' \"${COMPREPLY[@]}\"\n";
  const ProgramRun run = run_words({"bash", "--norc", "-s"}, script);
  INFO(run.err);
  CHECK(run.exit_code == 0);
  return "\n" + run.out;
}

}  // namespace

TEST_CASE("completion in bash offers every command and every option that the help lists") {
  const std::string here = project_file("datasets/plans");
  const auto commands = listed_commands();
  REQUIRE(commands.size() >= 13);
  const std::string offered = bash_offers("dullspell ''", here);
  for (const auto& command : commands) {
    CHECK_THAT(offered, Contains("\n" + command + "\n"));
    const auto options = listed_options(command);
    REQUIRE(options.count("--help") == 1);
    const std::string offered_options = bash_offers("dullspell " + command + " --", here);
    for (const auto& option : options) CHECK_THAT(offered_options, Contains("\n" + option + "\n"));
  }
  CHECK_THAT(offered, !Contains("\nman\n"));
}

TEST_CASE("completion in bash offers choices and files where they are wanted") {
  const std::string here = project_file("datasets/plans");
  CHECK(bash_offers("dullspell run --cpu ''", here) == "\nbaseline\nv3\nv4\n");
  CHECK(bash_offers("dullspell run --cpu = b", here) == "\nbaseline\n");
  CHECK(bash_offers("dullspell size --vary p", here) == "\npanels\n");
  CHECK(bash_offers("dullspell places --kind typ", here) == "\ntypical-year\n");
  CHECK(bash_offers("dullspell run win", here) == "\nwinter-desert.toml\n");
  CHECK(bash_offers("dullspell run --doubt win", here) == "\nwinter-desert.toml\n");
  CHECK(bash_offers("dullspell run --json win", here) == "\nwinter-desert.toml\n");
  CHECK(bash_offers("dullspell run --seed win", here) == "\n\n");
  CHECK(bash_offers("dullspell completion ''", here) == "\nbash\nzsh\nfish\n");
}

TEST_CASE("the scripts for zsh and fish hold every command with its options") {
  const std::string zsh = output_of({"completion", "zsh"}) + "\n    )";
  const std::string fish = output_of({"completion", "fish"});
  for (const auto& command : listed_commands()) {
    CHECK_THAT(zsh, Contains("'" + command + ":"));
    CHECK_THAT(fish, Contains("-n __fish_use_subcommand -a " + command + " "));
    const auto start = zsh.find("\n    " + command + ")\n");
    REQUIRE(start != std::string::npos);
    const std::string part = zsh.substr(start, zsh.find(";;", start) - start);
    for (const auto& option : listed_options(command)) {
      const bool in_zsh = std::regex_search(part, std::regex("'\\*?" + option + "=?\\["));
      INFO(command << ' ' << option);
      CHECK(in_zsh);
      const bool in_fish =
          std::regex_search(fish, std::regex("__fish_seen_subcommand_from " + command +
                                             "'( -s .)? -l " + option.substr(2) + " "));
      CHECK(in_fish);
    }
  }
  CHECK_THAT(zsh, Contains("'--doubt[") && Contains("'--cpu=["));
  CHECK_THAT(fish, Contains("-l doubt -d ") && Contains("-l cpu -x -a 'baseline v3 v4' -d "));
  const TemporaryFolder folder;
  for (const auto& [shell, script] :
       {std::pair{"zsh", zsh.substr(0, zsh.rfind('\n'))}, std::pair{"fish", fish}}) {
    if (!on_this_machine(shell)) {
      WARN(shell << " is not on this machine: its script is not parsed");
      continue;
    }
    const ProgramRun parsed = run_words({shell, "-n", folder.write(shell, script)});
    INFO(parsed.err);
    CHECK(parsed.exit_code == 0);
    CHECK(parsed.err.empty());
  }
}

TEST_CASE("an unknown shell is refused with those that are known") {
  const ProgramRun run = run_program({"completion", "csh"});
  CHECK(run.exit_code == 2);
  CHECK_THAT(run.err, Contains("SHELL") && Contains("bash, zsh or fish"));
}

TEST_CASE("the manual page holds every command and option and renders without a warning") {
  const std::string page = output_of({"man"});
  CHECK_THAT(page, StartsWith(".TH DULLSPELL 1 "));
  for (const auto& command : listed_commands()) {
    const auto start = page.find("\n.SS dullspell " + command + "\n");
    REQUIRE(start != std::string::npos);
    const std::string part = page.substr(start, page.find("\n.SS ", start + 1) - start);
    for (const auto& option : listed_options(command)) {
      const std::string name = std::regex_replace(option, std::regex("-"), "\\-");
      CHECK_THAT(part, Contains("\\fB" + name + "\\fR"));
    }
  }
  const bool ascii = std::all_of(page.begin(), page.end(),
                                 [](char c) { return static_cast<unsigned char>(c) < 0x80; });
  CHECK(ascii);
  if (!on_this_machine("groff")) {
    WARN("groff is not on this machine: the page is not rendered");
    return;
  }
  const ProgramRun rendered = run_words({"groff", "-man", "-Tutf8", "-ww"}, page);
  CHECK(rendered.exit_code == 0);
  CHECK(rendered.err.empty());
  CHECK_THAT(rendered.out, Contains("±"));
}

TEST_CASE("the installed program runs its example from another folder") {
  const TemporaryFolder prefix, elsewhere;
  const ProgramRun install =
      run_words({DULLSPELL_CMAKE, "--install", DULLSPELL_BUILD_DIR, "--prefix", prefix.path("")});
  INFO(install.err);
  REQUIRE(install.exit_code == 0);
  for (const auto* file :
       {"share/man/man1/dullspell.1", "share/bash-completion/completions/dullspell",
        "share/zsh/site-functions/_dullspell", "share/fish/vendor_completions.d/dullspell.fish",
        "share/doc/dullspell/LICENSE", "share/doc/dullspell/datasets/README.md",
        "share/doc/dullspell/datasets/places/cities_NOTICE.md",
        "share/doc/dullspell/datasets/zones/NOTICE.md",
        "share/doc/dullspell/datasets/towns/NOTICE.md",
        "share/doc/dullspell/datasets/world/NOTICE.md"}) {
    INFO(file);
    CHECK(!text_of(prefix.path(file)).empty());
  }
  CHECK(text_of(prefix.path("share/man/man1/dullspell.1")) == output_of({"man"}));

  std::vector<std::string> words{DULLSPELL_PROGRAM};
  words.back() = prefix.path("bin/dullspell");
  CHECK(text_of(words.back()).find(DULLSPELL_SOURCE_DIR "/datasets") == std::string::npos);
  const std::string plan = prefix.path("share/doc/dullspell/examples/two-forest-camps.toml");
  for (const auto* word : {"run", plan.c_str(), "--stays", "500", "--cpu", "baseline"}) {
    words.emplace_back(word);
  }
  const ProgramRun run = run_words(words, "", elsewhere.path(""));
  INFO(run.err);
  CHECK(run.exit_code == 0);
  CHECK_THAT(run.out, StartsWith("Two forest camps (invented)\n"));
  CHECK(run.out == output_of({"run", project_file("datasets/plans/two-forest-camps.toml"),
                              "--stays", "500", "--cpu", "baseline"}));
}

TEST_CASE("the Debian package installs, runs and leaves nothing behind") {
  // dpkg gives files to root; a package database of our own keeps the machine's as it is.
  const bool emulated = std::vector<std::string>{DULLSPELL_PROGRAM}.size() > 1;
  if (geteuid() != 0 || emulated || !on_this_machine("dpkg-shlibdeps")) {
    WARN("left out: needs root, no emulator, and dpkg-shlibdeps of dpkg-dev");
    return;
  }
  const TemporaryFolder folder;
  const std::string root = folder.path("root"), log = "--log=" + folder.path("log");
  for (const auto* part : {"info", "updates"}) {
    std::filesystem::create_directories(root + "/var/lib/dpkg/" + part);
  }
  for (const auto* file : {"status", "available"}) {
    std::ofstream(root + "/var/lib/dpkg/" + file);
  }
  const ProgramRun made =
      run_words({"cpack", "-G", "DEB", "-B", folder.path("made")}, "", DULLSPELL_BUILD_DIR);
  INFO(made.err);
  REQUIRE(made.exit_code == 0);
  std::string package;
  for (const auto& entry : std::filesystem::directory_iterator(folder.path("made"))) {
    if (entry.path().extension() == ".deb") package = entry.path().string();
  }
  REQUIRE(!package.empty());
  CHECK_THAT(run_words({"dpkg-deb", "--field", package, "Depends"}).out,
             Contains("libtbb") && Contains("libfmt") && Contains("libc6"));
  CHECK_THAT(run_words({"dpkg-deb", "--field", package, "Section"}).out, StartsWith("utils"));

  const std::vector<std::string> dpkg{"dpkg", "--root=" + root, log, "--force-depends"};
  const auto with = [&](std::vector<std::string> words) {
    words.insert(words.begin(), dpkg.begin(), dpkg.end());
    const ProgramRun run = run_words(words);
    INFO(run.err);
    CHECK(run.exit_code == 0);
  };
  with({"--install", package});
  CHECK_THAT(run_words({root + "/usr/bin/dullspell", "--version"}).out, StartsWith("dullspell "));
  CHECK_THAT(text_of(root + "/usr/share/doc/dullspell/copyright"), Contains("Chart.js"));
  with({"--purge", "dullspell"});
  std::filesystem::remove_all(root + "/var");
  CHECK(std::filesystem::is_empty(root));
}

}  // namespace dullspell::install_test
