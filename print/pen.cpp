#include "print/pen.hpp"

#include <cairo-pdf.h>
#include <librsvg/rsvg.h>
#include <pango/pangocairo.h>

#include <ctime>

namespace coldwright::print {
namespace {

template <auto Free>
struct Freed {
  template <class T>
  void operator()(T* held) const {
    Free(held);
  }
};
using Surface = std::unique_ptr<cairo_surface_t, Freed<cairo_surface_destroy>>;
using Drawing = std::unique_ptr<cairo_t, Freed<cairo_destroy>>;
using Layout = std::unique_ptr<PangoLayout, Freed<g_object_unref>>;
using Picture = std::unique_ptr<RsvgHandle, Freed<g_object_unref>>;
using Font = std::unique_ptr<PangoFontDescription, Freed<pango_font_description_free>>;

cairo_status_t take(void* into, const unsigned char* bytes, unsigned length) {
  static_cast<std::string*>(into)->append(reinterpret_cast<const char*>(bytes), length);
  return CAIRO_STATUS_SUCCESS;
}

std::string instant(std::int64_t seconds) {
  const auto when = static_cast<std::time_t>(seconds);
  std::tm parts{};
  gmtime_r(&when, &parts);
  char text[32];
  return {text, std::strftime(text, sizeof text, "%Y-%m-%dT%H:%M:%SZ", &parts)};
}

}  // namespace

struct Pen::Inner {
  std::string bytes;
  Surface surface;
  Drawing cr;
  Layout layout;
  Face face = Face::dejavu;

  void set(const std::string& words, const Style& style) {
    const Font font(pango_font_description_new());
    pango_font_description_set_family_static(font.get(),
                                             face == Face::noto ? "Noto Sans,DejaVu Sans" : "DejaVu Sans");
    // An absolute size is in the surface's own units, points, whatever resolution Pango takes for granted.
    pango_font_description_set_absolute_size(font.get(), style.size * PANGO_SCALE);
    pango_font_description_set_weight(font.get(), style.bold ? PANGO_WEIGHT_BOLD : PANGO_WEIGHT_NORMAL);
    pango_layout_set_font_description(layout.get(), font.get());
    pango_layout_set_line_spacing(layout.get(), style.lead == 1 ? 0 : static_cast<float>(style.lead));
    pango_layout_set_text(layout.get(), words.data(), static_cast<int>(words.size()));
    cairo_set_source_rgb(cr.get(), style.colour.red, style.colour.green, style.colour.blue);
  }
};

Pen::Pen(double width, double height, const std::string& title, std::int64_t created, Face face)
    : inner_(std::make_unique<Inner>()) {
  inner_->face = face;
  inner_->surface.reset(cairo_pdf_surface_create_for_stream(take, &inner_->bytes, width, height));
  cairo_surface_t* surface = inner_->surface.get();
  cairo_pdf_surface_set_metadata(surface, CAIRO_PDF_METADATA_TITLE, title.c_str());
  cairo_pdf_surface_set_metadata(surface, CAIRO_PDF_METADATA_CREATOR, "coldwright");
  cairo_pdf_surface_set_metadata(surface, CAIRO_PDF_METADATA_CREATE_DATE, instant(created).c_str());
  inner_->cr.reset(cairo_create(surface));
  inner_->layout.reset(pango_cairo_create_layout(inner_->cr.get()));
}

Pen::~Pen() = default;

void Pen::text(double x, double y, const std::string& words, const Style& style, Align align) {
  inner_->set(words, style);
  PangoLayout* layout = inner_->layout.get();
  pango_layout_set_width(layout, -1);
  int width = 0, height = 0;
  pango_layout_get_size(layout, &width, &height);
  const double wide = width / static_cast<double>(PANGO_SCALE);
  const double left = align == Align::left ? x : align == Align::right ? x - wide : x - wide / 2;
  cairo_t* cr = inner_->cr.get();
  cairo_save(cr);
  cairo_translate(cr, left, y - pango_layout_get_baseline(layout) / static_cast<double>(PANGO_SCALE));
  if (style.slanted) {
    // The face has no italic on every machine; leaning it about its baseline does as well.
    const double baseline = pango_layout_get_baseline(layout) / static_cast<double>(PANGO_SCALE);
    const cairo_matrix_t lean{1, 0, -0.2, 1, 0.2 * baseline, 0};
    cairo_transform(cr, &lean);
  }
  cairo_move_to(cr, 0, 0);
  pango_cairo_show_layout(cr, layout);
  cairo_restore(cr);
}

double Pen::width(const std::string& words, const Style& style) {
  inner_->set(words, style);
  pango_layout_set_width(inner_->layout.get(), -1);
  int width = 0, height = 0;
  pango_layout_get_size(inner_->layout.get(), &width, &height);
  return width / static_cast<double>(PANGO_SCALE);
}

double Pen::block(double x, double y, double width, const std::string& words, const Style& style, bool draw,
                  Align align) {
  inner_->set(words, style);
  PangoLayout* layout = inner_->layout.get();
  pango_layout_set_width(layout, static_cast<int>(width * PANGO_SCALE));
  pango_layout_set_wrap(layout, PANGO_WRAP_WORD_CHAR);
  pango_layout_set_alignment(layout, align == Align::left    ? PANGO_ALIGN_LEFT
                                     : align == Align::right ? PANGO_ALIGN_RIGHT
                                                             : PANGO_ALIGN_CENTER);
  int wide = 0, height = 0;
  pango_layout_get_size(layout, &wide, &height);
  if (draw) {
    cairo_move_to(inner_->cr.get(), x, y);
    pango_cairo_show_layout(inner_->cr.get(), layout);
  }
  return height / static_cast<double>(PANGO_SCALE);
}

std::size_t Pen::fitting(double width, const std::string& words, const Style& style, double height) {
  inner_->set(words, style);
  PangoLayout* layout = inner_->layout.get();
  pango_layout_set_width(layout, static_cast<int>(width * PANGO_SCALE));
  pango_layout_set_wrap(layout, PANGO_WRAP_WORD_CHAR);
  const int lines = pango_layout_get_line_count(layout);
  int fit = 0;
  for (int i = 0; i < lines; ++i) {
    PangoRectangle shown;
    pango_layout_line_get_extents(pango_layout_get_line_readonly(layout, i), nullptr, &shown);
    height -= shown.height / static_cast<double>(PANGO_SCALE) * (style.lead == 1 ? 1 : style.lead);
    if (height < -0.01) break;
    fit = i + 1;
  }
  if (fit >= lines) return words.size();
  if (fit == lines - 1) --fit;  // no widow
  if (fit < 2) return 0;        // no orphan
  return static_cast<std::size_t>(pango_layout_get_line_readonly(layout, fit)->start_index);
}

void Pen::fill(double x, double y, double width, double height, Colour colour) {
  cairo_t* cr = inner_->cr.get();
  cairo_set_source_rgb(cr, colour.red, colour.green, colour.blue);
  cairo_rectangle(cr, x, y, width, height);
  cairo_fill(cr);
}

void Pen::rule(double x0, double y0, double x1, double y1, double thickness, Colour colour) {
  cairo_t* cr = inner_->cr.get();
  cairo_set_source_rgb(cr, colour.red, colour.green, colour.blue);
  cairo_set_line_width(cr, thickness);
  cairo_move_to(cr, x0, y0);
  cairo_line_to(cr, x1, y1);
  cairo_stroke(cr);
}

void Pen::frame(double x, double y, double width, double height, double thickness, Colour colour) {
  cairo_t* cr = inner_->cr.get();
  cairo_set_source_rgb(cr, colour.red, colour.green, colour.blue);
  cairo_set_line_width(cr, thickness);
  cairo_rectangle(cr, x, y, width, height);
  cairo_stroke(cr);
}

bool Pen::svg(double x, double y, double width, double height, const std::string& document) {
  const Picture picture(
      rsvg_handle_new_from_data(reinterpret_cast<const guint8*>(document.data()), document.size(), nullptr));
  if (!picture) return false;
  const RsvgRectangle place{x, y, width, height};
  return rsvg_handle_render_document(picture.get(), inner_->cr.get(), &place, nullptr) != 0;
}

void Pen::about(const std::string& subject, const std::string& author) {
  cairo_pdf_surface_set_metadata(inner_->surface.get(), CAIRO_PDF_METADATA_SUBJECT, subject.c_str());
  cairo_pdf_surface_set_metadata(inner_->surface.get(), CAIRO_PDF_METADATA_AUTHOR, author.c_str());
}

void Pen::triangle(double x, double y, double size, Colour colour) {
  cairo_t* cr = inner_->cr.get();
  cairo_set_source_rgb(cr, colour.red, colour.green, colour.blue);
  cairo_move_to(cr, x + size / 2, y);
  cairo_line_to(cr, x + size, y + 0.88 * size);
  cairo_line_to(cr, x, y + 0.88 * size);
  cairo_close_path(cr);
  cairo_fill(cr);
  text(x + size / 2, y + 0.78 * size, "!", {0.72 * size, true, false, {1, 1, 1}}, Align::centre);
}

void Pen::scale(double factor) { cairo_scale(inner_->cr.get(), factor, factor); }

void Pen::end_page() { cairo_show_page(inner_->cr.get()); }

std::string Pen::finish() {
  const bool well = cairo_status(inner_->cr.get()) == CAIRO_STATUS_SUCCESS;
  cairo_surface_finish(inner_->surface.get());
  if (!well || cairo_surface_status(inner_->surface.get()) != CAIRO_STATUS_SUCCESS) return "";
  return std::move(inner_->bytes);
}

}  // namespace coldwright::print
