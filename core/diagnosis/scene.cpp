// From a case to the scene every drawn machine shares: which cabinet, which surroundings, how well known.
#include <algorithm>
#include <cmath>
#include <string>

#include "diagnosis/findings.hpp"

namespace coldwright::diagnosis {
namespace {

std::string kinds(const Knowledge& k) {
  std::string all;
  for (const auto& a : k.archetypes) all += (all.empty() ? "" : ", ") + a.id;
  return all;
}

Problem out_of_range(const char* field, double kelvin, const char* allowed) {
  return {field, std::to_string(static_cast<int>(std::lround(kelvin - 273.15))) + " C", allowed,
          "no cabinet of this kind works there"};
}

}  // namespace

Result<Setting> set_scene(const Case& c, const circuit::WorkingFluid& fluid, const Knowledge& knowledge) {
  const auto kind = std::find_if(knowledge.archetypes.begin(), knowledge.archetypes.end(),
                                 [&](const auto& a) { return a.id == c.nameplate.archetype; });
  if (kind == knowledge.archetypes.end())
    return Problem{"cabinet", c.nameplate.archetype.empty() ? "nothing" : c.nameplate.archetype,
                   kinds(knowledge), "the kind of cabinet says what is plausible where the plate is silent"};
  if (c.nameplate.rated_current && !(*c.nameplate.rated_current > 0.05 && *c.nameplate.rated_current < 30))
    return Problem{"rated current", std::to_string(*c.nameplate.rated_current) + " A", "0.05 to 30 A",
                   "a plug-in cabinet draws that much"};
  if (c.nameplate.charge && !(*c.nameplate.charge > 0.01 && *c.nameplate.charge < 2))
    return Problem{"charge", std::to_string(*c.nameplate.charge * 1000) + " g", "10 to 2000 g",
                   "a sealed capillary cabinet holds that much"};
  Setting s;
  s.kind = *kind;
  const double set_point = c.nameplate.set_point.value_or(kind->set_point_K);
  Scene& scene = s.scene;
  scene.plate = &c.nameplate;
  scene.fluid = &fluid;
  scene.knowledge = &knowledge;
  scene.doubt = 1;
  scene.ambient = c.ambient.value_or(273.15 + 24);
  scene.ambient_sigma = c.ambient ? 0.5 : 4;
  scene.box = c.box.value_or(set_point + 5);
  scene.box_sigma = c.box ? 0.8 : 4;  // it moves while the readings are taken
  scene.site_pressure = c.site_pressure;
  if (!c.ambient) s.remarks.push_back({"ambient_assumed", {{"value", Unit::temperature, scene.ambient}}, {}});
  if (!c.box) s.remarks.push_back({"box_assumed", {{"value", Unit::temperature, scene.box}}, {}});
  if (scene.ambient < 263 || scene.ambient > 328)
    return out_of_range("ambient", scene.ambient, "-10 to 55 C (14 to 131 F)");
  if (scene.box < 230 || scene.box > 323)
    return out_of_range("box temperature", scene.box, "-43 to 50 C (-45 to 122 F)");
  const auto said = [&](const char* value) {
    return std::any_of(c.observations.begin(), c.observations.end(),
                       [&](const Observation& o) { return o.subject == "complaint" && o.value == value; });
  };
  scene.not_cooling = said("not_cooling");
  scene.no_complaint = !scene.not_cooling && said("none");
  return s;
}

}  // namespace coldwright::diagnosis
