// A practice call: the door, what each step showed, and the debrief with both ways step by step.
#include "plain.hpp"

namespace coldwright::cli {
namespace {

using nlohmann::json;

void sentences(Page& page, const json& list, const std::string& indent) {
  for (const json& said : list) page.paragraph(text_at(said, {"text"}), indent);
}

void state(Page& page, const json& answer) {
  page.line(text_at(answer, {"state", "minutes", "text"}) + " used, " +
            text_at(answer, {"state", "lost", "text"}) + " lost, box " +
            text_at(answer, {"state", "box", "text"}));
}

void steps(Page& page, const json& list) {
  for (const json& step : list) {
    page.line("  " + padded(text_at(step, {"minutes_used", "text"}), 8) + text_at(step, {"label"}) + ": " +
              text_at(step, {"shown"}));
    sentences(page, list_at(step, "remarks"), "          ");
    for (const char* key : {"told", "better"})
      if (const std::string said = text_at(step, {key, "text"}); !said.empty())
        page.paragraph(said, "          ");
    sentences(page, list_at(step, "reasons"), "          - ");
  }
}

void offers(Page& page, const json& answer) {
  page.blank();
  page.line("What can be done (ACTION, minutes):");
  for (const json& offer : list_at(answer, "offers"))
    page.line("  " + padded(text_at(offer, {"action"}), 24) + padded(text_at(offer, {"minutes", "text"}), 8) +
              text_at(offer, {"label"}));
}

}  // namespace

std::string plain_practice_call(const json& answer) {
  Page page;
  page.line(text_at(answer, {"customer", "place"}) + ": \"" + text_at(answer, {"customer", "said"}) + "\"");
  page.blank();
  page.line(text_at(answer, {"plate", "cabinet", "label"}) + ", " +
            text_at(answer, {"plate", "refrigerant"}));
  for (const char* key : {"charge", "rated_current", "rated_voltage", "set_point"})
    page.line("  " + padded(key, 16) + text_at(answer, {"plate", key, "text"}));
  sentences(page, list_at(answer, "walking_in"), "");
  offers(page, answer);
  page.blank();
  page.line("What it can be (--decide CAUSE):");
  for (const json& cause : list_at(answer, "causes"))
    page.line("  " + padded(text_at(cause, {"word"}), 24) + text_at(cause, {"label"}));
  cautions(page, answer);
  return page.text();
}

std::string plain_practice_step(const json& answer) {
  Page page;
  steps(page, list_at(answer, "steps"));
  page.blank();
  state(page, answer);
  cautions(page, answer);
  return page.text();
}

std::string plain_practice_debrief(const json& answer) {
  Page page;
  for (const char* key : {"text", "knowable"}) page.paragraph(text_at(answer, {"verdict", key, "text"}), "");
  page.paragraph(text_at(answer, {"truth", "text", "text"}), "");
  for (const auto& [key, heading] : {std::pair{"yours", "Your way"}, {"best", "The best way"}}) {
    page.blank();
    page.line(heading);
    if (!answer.contains(key)) continue;
    page.paragraph(text_at(answer, {key, "text", "text"}), "  ");
    if (const std::string enough = text_at(answer, {key, "enough", "text", "text"}); !enough.empty())
      page.paragraph(enough, "  ");
    if (const std::string missed = text_at(answer, {key, "missed", "text"}); !missed.empty())
      page.paragraph(missed, "  ");
    steps(page, list_at(answer[key], "steps"));
  }
  page.blank();
  for (const char* key : {"parting", "cost", "sign"})
    if (const std::string said = text_at(answer, {key, "text", "text"}); !said.empty())
      page.paragraph(said, "");
  page.blank();
  page.line("To remember");
  sentences(page, list_at(answer, "remember"), "  ");
  cautions(page, answer);
  references(page, answer);
  return page.text();
}

}  // namespace coldwright::cli
