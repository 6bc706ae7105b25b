#include "print/record.hpp"

#include <utility>

#include "print/record_blocks.hpp"

namespace coldwright::print {
namespace {

/// A last page with less than this on it is not worth a sheet, if slightly smaller letters save it.
constexpr double kSpill = 0.4;
constexpr double kSmallest = 0.9;  // 8.4 points in running text: still read with ease (our-estimate)

struct Fit {
  double scale = 1;
  int pages = 1;
};

Fit fit_of(Pen& pen, const Record& record, double width, double height) {
  const auto laid = [&](double scale) {
    Flow flow(pen, record, width / scale, height / scale, false, 1);
    flow.lay();
    return std::pair(flow.pages(), flow.filled());
  };
  const auto [pages, share] = laid(1);
  if (pages == 1 || share > kSpill) return {1, pages};
  for (double scale = 0.98; scale > kSmallest - 0.001; scale -= 0.02)
    if (laid(scale).first < pages) return {scale, pages - 1};
  return {1, pages};
}

}  // namespace

Result<std::string> record_pdf(const Record& record, Paper paper) {
  const double width = paper == Paper::a4 ? 595.28 : 612, height = paper == Paper::a4 ? 841.89 : 792;
  Pen pen(width, height, record.title, record.created, Face::noto);
  pen.about(record.title, record.author);
  const Fit fit = fit_of(pen, record, width, height);
  pen.scale(fit.scale);
  Flow drawn(pen, record, width / fit.scale, height / fit.scale, true, fit.pages);
  drawn.lay();
  std::string bytes = pen.finish();
  if (bytes.empty())
    return Problem{"record", "a page that could not be written", "another try", "Cairo gave up"};
  return bytes;
}

}  // namespace coldwright::print
