#pragma once

#include <string_view>

namespace dullspell {

/// What is built into the program for its pages: the frame, the chart library with the script that
/// all pages share, and the script of each kind of page.
std::string_view page_frame();
std::string_view chart_library();
std::string_view charts_script();
std::string_view run_script();
std::string_view calendar_script();
std::string_view where_script();
std::string_view hindcast_script();
std::string_view size_script();
std::string_view compare_script();
std::string_view levers_script();
std::string_view generator_script();
std::string_view audit_script();
std::string_view shade_script();

}  // namespace dullspell
