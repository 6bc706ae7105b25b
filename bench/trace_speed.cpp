// A million logged samples read and taken apart, beside a plain pass that only parts lines and reads numbers:
// as a ratio, in one run on one core.
//   trace_speed [ROWS]
#include <chrono>
#include <cstdio>
#include <cstdlib>
#include <sstream>
#include <string>

#include "traces/guess.hpp"
#include "traces/reader.hpp"
#include "traces/study.hpp"
#include "traces/times.hpp"

namespace {

using namespace coldwright;
using Clock = std::chrono::steady_clock;

double since(Clock::time_point begin) { return std::chrono::duration<double>(Clock::now() - begin).count(); }

/// A cabinet that runs 16 minutes of 44, logged every second; a little noise, inrush, a heater thrice a day.
std::string file_of(int rows) {
  std::string text = "time,power (W)\n";
  unsigned noise = 12345;
  for (int i = 0; i < rows; ++i) {
    noise = noise * 1664525u + 1013904223u;
    const int cycle = i % 2640, day = i % 28800;
    double x = 1.5 + (noise >> 24) / 128.0;
    if (day < 900)
      x += 420;
    else if (cycle < 960)
      x += cycle == 0 ? 500 : 95 + 30.0 * (cycle < 400 ? 400 - cycle : 0) / 400;
    char row[64];
    const int size =
        std::snprintf(row, sizeof row, "%s,%.1f\n", traces::date_text(1772582400.0 + i).c_str(), x);
    text.append(row, static_cast<std::size_t>(size));
  }
  return text;
}

}  // namespace

int main(int count, char** words) {
  const int rows = count > 1 ? std::atoi(words[1]) : 1000000;
  const std::string text = file_of(rows);
  auto begin = Clock::now();
  std::istringstream lines(text);
  double sum = 0;
  for (std::string line; std::getline(lines, line);) {
    const std::size_t comma = line.find(',');
    if (comma != std::string::npos) sum += std::strtod(line.c_str() + comma + 1, nullptr);
  }
  const double plain = since(begin);
  begin = Clock::now();
  const auto found = traces::guess(std::string_view(text).substr(0, traces::head_bytes));
  if (!found) return 1;
  traces::Reader reader("bench", found->layout, base::sea_level);
  reader.feed(text);
  auto trace = reader.finish();
  if (!trace) return 1;
  const double read = since(begin);
  begin = Clock::now();
  std::vector<traces::Trace> traces;
  traces.push_back(std::move(*trace));
  const traces::Study study = traces::study(std::move(traces));
  const double studied = since(begin);
  std::printf("%d rows, %.1f MB (sum %.0f)\n", rows, static_cast<double>(text.size()) / 1e6, sum);
  std::printf(
      "plain pass %.3f s; read and cleaned %.3f s (x %.2f); phases, figures, events %.3f s (x %.2f)\n", plain,
      read, read / plain, studied, studied / plain);
  std::printf("together %.3f s (x %.2f), %zu phases\n", read + studied, (read + studied) / plain,
              study.phases ? study.phases->phases.size() : 0);
  return 0;
}
