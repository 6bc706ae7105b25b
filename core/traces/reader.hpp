// Follows a layout through a file of any size, in pieces, and gives the trace. Memory: 8 bytes a row and 4 a
// value; nothing of the text is kept.
#pragma once

#include <map>
#include <set>
#include <string>
#include <string_view>
#include <vector>

#include "traces/decode.hpp"
#include "traces/layout.hpp"
#include "traces/times.hpp"
#include "traces/trace.hpp"

namespace coldwright::traces {

class Reader {
 public:
  /// The layout has passed check(). `site` is the air that gauges were read against.
  Reader(std::string name, const Layout& layout, base::SitePressure site);

  void feed(std::string_view bytes);
  /// Room for what comes, when all is `times` what was fed so far: no copies while it grows.
  void expect(double times);
  /// The trace, in order and cleaned (clean.hpp); Problem when no row could be used.
  Result<Trace> finish();
  /// The layout as it was followed: an open question of day and month may have been settled by later rows.
  const Layout& layout() const { return layout_; }

 private:
  /// One column that is kept.
  struct Kept {
    int column;
    std::size_t series;
    What what;
    Scale scale;
  };

  void line(std::string_view text);
  void row();
  bool heading_again() const;
  std::optional<double> moment();
  void turn_dates();
  void settle_dates();
  void values(double at);
  void one_value(double at);
  void put(const Kept& kept, std::string_view cell);
  float read(const Kept& kept, std::string_view cell);
  float in_own_unit(const Kept& kept, double number, std::string_view unit);
  void aside(Reason reason, int column, std::string_view text = {});
  bool begin_row(double at);

  Layout layout_;
  base::SitePressure site_;
  Decoder decoder_;
  TimeReader times_;
  int time_ = -1, date_ = -1, name_ = -1, value_ = -1;
  std::vector<Kept> kept_;
  std::map<std::string, Kept, std::less<>> sensors_;
  std::set<std::string, std::less<>> of_no_use_;  // sensors that the layout has for something else
  std::vector<double> first_;                     // of each series' counter, J
  std::uint64_t lines_ = 0, values_ = 0;
  double last_day_ = -1;
  std::vector<std::string_view> cells_;
  std::string store_;
  Trace trace_;
  std::map<std::pair<Reason, int>, SetAside> aside_;
};

}  // namespace coldwright::traces
