#include "print/record.hpp"

#include "print/record_blocks.hpp"

namespace coldwright::print {

Result<std::string> record_pdf(const Record& record, Paper paper) {
  const double width = paper == Paper::a4 ? 595.28 : 612, height = paper == Paper::a4 ? 841.89 : 792;
  Pen pen(width, height, record.title, record.created, Face::noto);
  pen.about(record.title, record.author);
  Flow measured(pen, record, width, height, false, 1);
  measured.lay();
  Flow drawn(pen, record, width, height, true, measured.pages());
  drawn.lay();
  std::string bytes = pen.finish();
  if (bytes.empty())
    return Problem{"record", "a page that could not be written", "another try", "Cairo gave up"};
  return bytes;
}

}  // namespace coldwright::print
