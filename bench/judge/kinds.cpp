#include "judge/kinds.hpp"

#include "service/refrigerant_loader.hpp"

namespace coldwright::judge {

lab::Kind kind_of(const circuit::Archetype& a) {
  return {a.id,
          a.refrigerant,
          a.set_point_K,
          a.design_ambient_low_K,
          a.design_ambient_high_K,
          a.evaporator_td_low,
          a.evaporator_td_high,
          a.condenser_split_low,
          a.condenser_split_high,
          a.rated_current.median,
          a.rated_current.ratio,
          a.rated_voltage,
          a.running_share_low,
          a.running_share_high,
          a.condenser == circuit::CondenserKind::wire_tube_natural};
}

Result<std::shared_ptr<const lab::Refrigerant>> lab_refrigerant(const std::string& name) {
  const auto fluid = service::load_fluid(name);
  if (!fluid) return fluid.problem();
  auto made = lab::Refrigerant::make(*fluid);
  if (!made) return made.problem();
  return std::make_shared<const lab::Refrigerant>(std::move(*made));
}

}  // namespace coldwright::judge
