#pragma once

#include <string>

#include <toml++/toml.h>

namespace dullspell {

/// How messages name a change made on the command line: it stands where a file's name would.
std::string setting_name(const std::string& setting);

/// Makes one change to a parsed document, written `key=value`: keys of tables follow a dot, tables
/// of a list are counted from 1, `battery.start_charge=0.55` or `camp[1].canopy=0.3`; the number
/// after the last appends a table. The value is TOML; a bare word that is none is taken as text.
/// Nodes that are put in carry setting_name() as their source's path.
/// Throws InputError for a text that is no such change.
void apply_setting(toml::table& root, const std::string& setting);

}  // namespace dullspell
