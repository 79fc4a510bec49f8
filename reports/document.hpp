#pragma once

#include <string>
#include <string_view>
#include <utility>
#include <variant>
#include <vector>

#include "reports/data.hpp"
#include "reports/table.hpp"

namespace dullspell {

/// Running text in which names of the reader's own stand apart: they may be of any length and
/// script. What stands between backquotes is a command.
class Prose {
 public:
  enum class Kind { text, name };
  struct Run {
    Kind kind;
    std::string text;
  };

  // NOLINTBEGIN(google-explicit-constructor): most prose is text and nothing else
  Prose(const char* text) : Prose(std::string(text)) {}
  Prose(std::string text) { runs_.push_back({Kind::text, std::move(text)}); }
  // NOLINTEND(google-explicit-constructor)
  static Prose name(std::string text);

  const std::vector<Run>& runs() const { return runs_; }
  /// All of it as it is.
  std::string plain() const;

  Prose& operator+=(const Prose& more);
  friend Prose operator+(Prose first, const Prose& second) { return first += second; }

 private:
  std::vector<Run> runs_;
};

/// Something to do, with what there is to choose from or to weigh below it.
struct Step {
  Prose text;
  std::vector<Prose> items = {};
};

/// Whether a piece is for terminals and files alone, for pages alone, or for both.
enum class Shown { everywhere, in_text, on_page };

/// The compared plans with their summaries: a place in a page to show them.
struct PlanSummaries {};

/// A piece of a part: a paragraph, a table, the plans' summaries.
struct Block {
  std::variant<std::string, Table, PlanSummaries> what;
  Shown shown = Shown::everywhere;
};

/// How much of a page a chart takes: half its width, that and the height of two, all of its width;
/// or there is none, and the tables stand open over all of the width.
enum class ChartSize { none, usual, tall, wide };
/// Whether the table that says the same as a chart is shown at once.
enum class ChartTable { on_demand, shown };

/// Where a page shows a part: with a heading, among the reasons; without one, nowhere, below the
/// verdict, or below what to do.
enum class PartPlace { by_heading, under_verdict, under_steps };

/// Figures that answer one question. A page draws a chart of its first table, if the part has a
/// heading and a size; the chart's script finds it by the id of that table.
struct Part {
  std::string heading = {};      ///< on a page
  std::string how_to_read = {};  ///< of the chart; also its label for those who cannot see it
  ChartSize size = ChartSize::usual;
  ChartTable table = ChartTable::on_demand;
  /// Of a text; its tables then have no title of their own.
  std::string text_heading = {};
  PartPlace place = PartPlace::by_heading;
  std::vector<Block> blocks = {};
};

/// A figure that answers the question, large on a page, for each case that there is.
struct KeyFigure {
  struct Case {
    std::string value;
    std::string name = {};  ///< "with it", "by the list"; empty for the only one
  };
  std::string says;  ///< "hours flat, one stay in 10"
  std::vector<Case> cases;
};

/// One of several plans in a report.
struct PlanSummary {
  std::string letter;
  std::string file;
  std::string title;  ///< may be empty
  std::vector<std::string> lines;

  const std::string& name() const { return title.empty() ? file : title; }
};

/// Which scripts draw the charts of a page; `none` has no page.
enum class Charts {
  none,
  run,
  size,
  compare,
  levers,
  generator,
  calendar,
  where,
  hindcast,
  audit,
  shade
};

/// A report: everything that it says, said once, and nothing of how it looks. Texts are plain
/// UTF-8 in the reader's units.
struct Document {
  std::string program;  ///< its name and version
  std::string title;    ///< may be empty
  std::vector<std::string> summary;
  std::vector<PlanSummary> plans;  ///< where there are several; title and summary are of all

  std::string verdict;
  Tone tone = Tone::plain;
  std::string page_headline;          ///< said before the verdict where its first sentence is long
  std::vector<std::string> said_too;  ///< more paragraphs of the verdict
  std::vector<KeyFigure> figures;     ///< a page then keeps all but the headline for those who ask
  std::vector<Step> steps;            ///< what to do
  std::vector<Part> parts;
  bool of_stays = true;  ///< its shares are of simulated stays: a page says how to read them
  std::vector<std::string> notes;  ///< what the figures rest on
  std::vector<std::string> cautions;
  std::string footer;                   ///< how the figures were made
  std::vector<std::string> fine_print;  ///< below it, in a text

  Charts charts = Charts::none;
  Data head;     ///< for programs: members before the verdict,
  Data results;  ///< and after it
  /// For the charts alone: members that stand in the place of those of `results`, or are added.
  Data chart_data;
  std::vector<std::string> not_charted;  ///< members of `results` that charts do not need
};

}  // namespace dullspell
