#pragma once

#include <string>

namespace dullspell {

/// Notes a file that this run reads or writes, so that no output falls on it; - is standard input.
void note_file_in_use(const std::string& path);

/// Whether a path names one of those, or the file that standard output goes to, whatever links lead
/// there. Devices can take several outputs, and never are.
bool is_in_use(const std::string& path);

}  // namespace dullspell
