// Makes the six demo calls of data/demo: make_demo_calls data/demo
//
// Each is a visit to an invented cabinet in the invented town of Skarrvik. The machine is drawn from our own
// population with a chosen cause (the first machine of its seed that would have been called for), operated by
// our own circuit model, and read with instruments that err as core/diagnosis/instruments.cpp says. What was
// chosen stands in answers.json, which nothing but the tests reads. Run it again whenever the circuit, the
// population or the causes change; tests/property/demo_calls_test.cpp holds the files to it.
#include <algorithm>
#include <cmath>
#include <cstdio>
#include <fstream>
#include <nlohmann/json.hpp>
#include <string>
#include <vector>

#include "base/field_units.hpp"
#include "diagnosis/evidence.hpp"
#include "service/knowledge_loader.hpp"
#include "service/refrigerant_loader.hpp"

namespace {

using namespace coldwright;
using circuit::QuantityKind;
using circuit::ReadingKind;
using diagnosis::Extra;

/// What the person at the machine writes down, but for the numbers still to be read.
struct Visit {
  std::string file, name, story;
  std::string cabinet, maker, refrigerant, charge, current, voltage, set_point;
  std::string ambient, box, altitude;
  std::string complaint;
  base::UnitSystem units = base::UnitSystem::us;
  std::vector<std::string> looked_at;
  std::vector<std::pair<std::string, std::string>> told;  // by the owner, and true
  std::vector<ReadingKind> read;
  std::string running_for;  // empty: the compressor doesn't stay on
};

/// What is hidden: the cause, the seed, and the latents held instead of drawn (standard normal).
struct Hidden {
  std::string cause;
  std::uint64_t seed = 1;
  std::vector<std::pair<std::size_t, double>> held;
  std::string held_text;
  int rank = 1;  // where the diagnosis puts it, as found, not as wished
  std::string remark;
};

struct Demo {
  Visit visit;
  Hidden hidden;
};

std::size_t latent(circuit::Latent l) { return static_cast<std::size_t>(l); }

Demo bakery() {
  using enum ReadingKind;
  return {{"1-bakery-dough-cooler",
           "Skarrvik bakery, dough cooler by the oven",
           "Warm since this morning. It runs all the time and is quieter than usual.",
           "reach_in_cooler",
           "Nordhylla",
           "R290",
           "4.1 oz",
           "2.6 A",
           "115 V",
           "37 F",
           "82 F",
           "66 F",
           "30 ft",
           "not_cooling",
           base::UnitSystem::us,
           {"compressor", "condenser_fan", "evaporator_fan", "condenser_face", "evaporator_coil"},
           {},
           {suction_pressure, compressor_current, condenser_middle_temp, liquid_line_temp, suction_line_temp},
           "35 min"},
          {"not_pumping", 1, {}, "", 1, ""}};
}

Demo clinic() {
  using enum ReadingKind;
  return {{"2-clinic-old-reach-in",
           "Skarrvik clinic, older reach-in in the staff kitchen",
           "Clicks off after some minutes and tries again a while later.",
           "older_reach_in_cooler",
           "Brisk & Daughter",
           "R134a",
           "10 oz",
           "4.3 A",
           "115 V",
           "38 F",
           "90 F",
           "57 F",
           "120 ft",
           "not_cooling",
           base::UnitSystem::us,
           {"compressor", "condenser_fan", "condenser_face", "evaporator_fan"},
           {},
           {compressor_current, supply_voltage, condenser_middle_temp, shell_temp},
           ""},
          {"condenser_fan", 1, {}, "", 1, ""}};
}

Demo fish_hall() {
  using enum ReadingKind;
  return {{"3-fish-hall-freezer",
           "Skarrvik fish hall, bait freezer",
           "Doesn't hold its temperature any more. No gauge was put on: clamps and amps only.",
           "reach_in_freezer",
           "Tamarind Cold",
           "R290",
           "4.6 oz",
           "4.6 A",
           "115 V",
           "-4 F",
           "72 F",
           "16 F",
           "10 ft",
           "not_cooling",
           base::UnitSystem::us,
           {"compressor", "condenser_fan", "evaporator_fan", "condenser_face", "evaporator_coil"},
           {},
           {compressor_current, condenser_middle_temp, liquid_line_temp, discharge_line_temp,
            suction_line_temp, evaporator_inlet_temp, evaporator_outlet_temp},
           "2 h"},
          {"low_charge", 1, {}, "", 1, ""}};
}

Demo school() {
  using enum ReadingKind;
  return {{"4-school-kitchen-cooler",
           "Skarrvik school kitchen, undercounter cooler",
           "Milk too warm at noon. Runs all day.",
           "undercounter_cooler",
           "Nordhylla",
           "R600a",
           "58 g",
           "1.3 A",
           "115 V",
           "3 C",
           "27 C",
           "13 C",
           "40 m",
           "not_cooling",
           base::UnitSystem::metric,
           {"compressor", "condenser_fan", "evaporator_fan", "condenser_face", "evaporator_coil",
            "circuit_opened"},
           {},
           {compressor_current, suction_pressure, condenser_middle_temp, liquid_line_temp,
            discharge_line_temp, suction_line_temp, evaporator_outlet_temp},
           "1.5 h"},
          {"restriction", 1, {}, "", 1, ""}};
}

Demo kiosk() {
  using enum ReadingKind;
  return {{"5-kiosk-ice-cream-display",
           "Skarrvik ice-cream kiosk, display by the window",
           "Repaired last week, soft ice cream since. The service stub from the repair is still there.",
           "ice_cream_display",
           "Tamarind Cold",
           "R290",
           "5.0 oz",
           "4.2 A",
           "115 V",
           "5 F",
           "79 F",
           "21 F",
           "15 ft",
           "not_cooling",
           base::UnitSystem::us,
           {"compressor", "condenser_fan", "condenser_face"},
           {{"circuit_opened", "recently"}},
           {suction_pressure, discharge_pressure, compressor_current, condenser_middle_temp, liquid_line_temp,
            discharge_line_temp},
           "1 h"},
          {"noncondensable", 1, {}, "", 1, ""}};
}

Demo bakery_shop() {
  using enum ReadingKind;
  return {{"6-bakery-shop-merchandiser",
           "Skarrvik bakery, glass-door merchandiser in the shop",
           "Yearly check, no complaint. The condenser split is not the one everybody quotes.",
           "glass_door_merchandiser",
           "Brisk & Daughter",
           "R290",
           "3.7 oz",
           "2.8 A",
           "115 V",
           "37 F",
           "75 F",
           "39 F",
           "30 ft",
           "none",
           base::UnitSystem::us,
           {"compressor", "condenser_fan", "evaporator_fan", "condenser_face", "evaporator_coil",
            "door_gasket", "box_load", "oil_trace"},
           {},
           {compressor_current, supply_voltage, condenser_middle_temp, liquid_line_temp, discharge_line_temp,
            suction_line_temp, evaporator_inlet_temp, evaporator_outlet_temp, evaporator_air_out_temp,
            condenser_air_out_temp},
           "50 min"},
          {"sound",
           1,
           {{latent(circuit::Latent::condenser_split), 1.9}},
           "a small condenser: its design split near the high end of its kind",
           1,
           ""}};
}

double si(const std::string& text, base::Dimension dimension) {
  return base::parse_spoken(text, "demo", dimension).value().si;
}

struct World {
  diagnosis::Knowledge knowledge;
  fluids::Fluid fluid;
  circuit::WorkingFluid working;
  circuit::Archetype kind;
  circuit::Nameplate plate;
  diagnosis::Scene scene{};
};

void set_scene(const Visit& v, World& w) {
  for (const auto& kind : w.knowledge.archetypes)
    if (kind.id == v.cabinet) w.kind = kind;
  w.plate.archetype = v.cabinet;
  w.plate.charge = si(v.charge, base::Dimension::mass);
  w.plate.rated_current = si(v.current, base::Dimension::current);
  w.plate.rated_voltage = si(v.voltage, base::Dimension::voltage);
  w.plate.set_point = si(v.set_point, base::Dimension::temperature);
  const base::Length altitude{si(v.altitude, base::Dimension::length)};
  w.scene.plate = &w.plate;
  w.scene.kind = &w.kind;
  w.scene.fluid = &w.working;
  w.scene.knowledge = &w.knowledge;
  w.scene.ambient = si(v.ambient, base::Dimension::temperature);
  w.scene.box = si(v.box, base::Dimension::temperature);
  w.scene.ambient_sigma = w.scene.box_sigma = 0.5;
  w.scene.site_pressure = base::site_pressure_at(altitude).value().si;
  w.scene.not_cooling = v.complaint == "not_cooling";
}

/// The first machine of this seed that computes and would have been called for.
diagnosis::Simulated draw(const World& w, const diagnosis::Hypothesis& h, const Hidden& hidden) {
  for (std::uint64_t tried = 0;; ++tried) {
    const RandomStream random = RandomStream(hidden.seed).fork(tried);
    diagnosis::Latents z{};
    for (std::size_t i = 0; i < z.size(); ++i) z[i] = random.fork(i).normal();
    for (const auto& [place, value] : hidden.held) z[place] = value;
    diagnosis::Simulated s = diagnosis::simulate(w.scene, h, z);
    if (s.ok && random.fork(1000).uniform() < s.complaint) return s;
  }
}

/// What a careful person sees: the state most often reported of such a machine.
std::string state_seen(const World& w, const diagnosis::Hypothesis& h, const diagnosis::Simulated& s,
                       const std::string& subject) {
  for (const auto& model : w.knowledge.observations) {
    if (model.subject != subject) continue;
    std::size_t best = 0;
    const auto chance = [&](std::size_t v) {
      return diagnosis::observation_probability(model, v, h, w.knowledge, s);
    };
    for (std::size_t v = 1; v < model.values.size(); ++v)
      if (chance(v) > chance(best)) best = v;
    return model.values[best];
  }
  return "";
}

/// What the instrument shows, rounded as its display rounds.
std::string read_off(const World& w, const Visit& v, const diagnosis::Simulated& s, ReadingKind kind,
                     RandomStream& random) {
  diagnosis::Reading r{kind, s.readings[static_cast<std::size_t>(kind)], std::nullopt, std::nullopt, ""};
  const double noise =
      diagnosis::uncertainty(r, w.scene.site_pressure, 0).instrument * std::clamp(random.normal(), -2.5, 2.5);
  const bool us = v.units == base::UnitSystem::us;
  switch (circuit::info(kind).quantity) {
    case QuantityKind::pressure: {
      const double gauge = r.value + noise - w.scene.site_pressure;
      if (us && gauge < 0) return base::number_text(gauge / 3386.389, 1) + " inHg";
      return us ? base::number_text(gauge / 6894.757, 1) + " psig"
                : base::number_text(gauge / 1e5, 2) + " barg";
    }
    case QuantityKind::temperature: {
      const double celsius = r.value + noise - 273.15;
      return us ? base::number_text(celsius * 1.8 + 32, 0) + " F" : base::number_text(celsius, 1) + " C";
    }
    case QuantityKind::current:
      return base::number_text(std::max(r.value + noise, 0.0), 2) + " A";
    case QuantityKind::voltage:
      return base::number_text(r.value + noise, 0) + " V";
    case QuantityKind::resistance:
      return base::number_text(r.value * std::exp(noise), 1) + " ohm";
  }
  return "";
}

std::string quoted(const std::string& text) { return nlohmann::json(text).dump(); }

std::string entry(const std::string& kind, const std::vector<std::pair<std::string, std::string>>& members) {
  std::string line = R"(    {"kind": )" + quoted(kind);
  for (const auto& [key, value] : members)
    if (!value.empty()) line += ", " + quoted(key) + ": " + quoted(value);
  return line + "}";
}

std::string call_file(const World& w, const Visit& v, const diagnosis::Hypothesis& h,
                      const diagnosis::Simulated& s, RandomStream random) {
  std::vector<std::string> lines;
  lines.push_back(
      entry("note", {{"text",
                      "Invented: Skarrvik, its people and the maker don't exist. The readings were "
                      "computed by Coldwright's own models, with instrument noise added; no real "
                      "unit was measured."}}));
  lines.push_back(entry("note", {{"text", v.story}}));
  lines.push_back(entry("nameplate", {{"cabinet", v.cabinet},
                                      {"maker", v.maker},
                                      {"refrigerant", v.refrigerant},
                                      {"charge", v.charge},
                                      {"rated_current", v.current},
                                      {"rated_voltage", v.voltage},
                                      {"set_point", v.set_point}}));
  lines.push_back(entry("site", {{"ambient", v.ambient}, {"box", v.box}, {"altitude", v.altitude}}));
  lines.push_back(entry("observation", {{"subject", "complaint"}, {"value", v.complaint}}));
  for (const std::string& subject : v.looked_at)
    lines.push_back(entry("observation", {{"subject", subject}, {"value", state_seen(w, h, s, subject)}}));
  for (const auto& [subject, value] : v.told)
    lines.push_back(entry("observation", {{"subject", subject}, {"value", value}}));
  for (ReadingKind kind : v.read)
    lines.push_back(entry("reading", {{"what", std::string(circuit::info(kind).id)},
                                      {"value", read_off(w, v, s, kind, random)},
                                      {"running_for", v.running_for}}));
  std::string text = "{\n  \"call\": " + quoted(v.name) +
                     ",\n  \"units\": " + quoted(v.units == base::UnitSystem::us ? "us" : "metric") +
                     ",\n  \"entries\": [\n";
  for (std::size_t i = 0; i < lines.size(); ++i) text += lines[i] + (i + 1 < lines.size() ? ",\n" : "\n");
  return text + "  ]\n}\n";
}

bool make(const Demo& demo, const std::string& folder, nlohmann::ordered_json& answers) {
  auto knowledge = service::load_knowledge();
  auto fluid = service::load_fluid(demo.visit.refrigerant);
  if (!knowledge || !fluid) return false;
  auto working = circuit::WorkingFluid::make(*fluid);
  if (!working) return false;
  World w{std::move(*knowledge), *fluid, std::move(*working), {}, {}};
  set_scene(demo.visit, w);
  for (const diagnosis::Hypothesis& h : diagnosis::hypotheses(w.knowledge, w.kind.condenser)) {
    if (h.id != demo.hidden.cause) continue;
    const diagnosis::Simulated s = draw(w, h, demo.hidden);
    std::ofstream(folder + "/" + demo.visit.file + ".json", std::ios::binary)
        << call_file(w, demo.visit, h, s, RandomStream(demo.hidden.seed).fork(2000));
    const bool of_degree = w.knowledge.causes[static_cast<std::size_t>(h.causes.front())].measure != "none";
    answers.push_back({{"call", demo.visit.file + ".json"},
                       {"hidden", demo.hidden.cause},
                       {"severity", of_degree ? nlohmann::ordered_json(std::round(s.severity * 100) / 100)
                                              : nlohmann::ordered_json(nullptr)},
                       {"seed", demo.hidden.seed},
                       {"held", demo.hidden.held_text},
                       {"rank", demo.hidden.rank},
                       {"remark", demo.hidden.remark},
                       {"discharge_pressure_Pa", std::round(s.point.p_discharge / 100) * 100}});
    return true;
  }
  return false;
}

}  // namespace

int main(int argc, char** argv) {
  if (argc != 2) {
    std::fputs("usage: make_demo_calls FOLDER\n", stderr);
    return 2;
  }
  const std::string folder = argv[1];
  nlohmann::ordered_json answers = nlohmann::ordered_json::array();
  for (const Demo& demo : {bakery(), clinic(), fish_hall(), school(), kiosk(), bakery_shop()}) {
    if (make(demo, folder, answers)) continue;
    std::fprintf(stderr, "make_demo_calls: %s can't be made\n", demo.visit.file.c_str());
    return 1;
  }
  const nlohmann::ordered_json all = {
      {"what",
       "What is hidden in the demo calls; read by tests alone. \"rank\" is where the diagnosis puts it."},
      {"source", "our-estimate"},
      {"answers", answers}};
  std::ofstream(folder + "/answers.json", std::ios::binary) << all.dump(2) << "\n";
  return 0;
}
