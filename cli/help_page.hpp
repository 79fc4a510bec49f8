#pragma once

#include <string>

#include <CLI/CLI.hpp>

namespace dullspell {

/// What `--help` prints: the parser's own page, broken to fit where it is read, which is 80 columns
/// where that is no terminal.
class HelpPage : public CLI::Formatter {
 public:
  HelpPage();

  std::string make_help(const CLI::App* app, std::string name,
                        CLI::AppFormatMode mode) const override;
  std::string make_description(const CLI::App* app) const override;
  std::string make_option(const CLI::Option* option, bool is_positional) const override;
  std::string make_subcommand(const CLI::App* command) const override;
  std::string make_footer(const CLI::App* app) const override;

 private:
  std::string row(const std::string& name, const std::string& text, std::size_t column) const;

  std::size_t width_;
};

}  // namespace dullspell
