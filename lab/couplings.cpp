// Which states touch which, told for the solver by the lay of the pipes.
#include <algorithm>

#include "lab/plant.hpp"

namespace coldwright::lab {

std::vector<std::vector<int>> Plant::touched() const {
  const Layout& l = layout_;
  std::vector<std::vector<int>> rows(static_cast<std::size_t>(l.size));
  const auto own = [&](int cell) {
    std::vector<int> states{2 * cell, 2 * cell + 1};
    if (l.gas) states.push_back(l.gas_at + cell);
    if (cell < l.cells - 1) states.push_back(l.metal_at + cell);
    return states;
  };
  const auto touch = [&](int from, int to) {
    auto& of = rows[static_cast<std::size_t>(from)];
    if (std::find(of.begin(), of.end(), to) == of.end()) of.push_back(to);
  };
  const auto couple = [&](const std::vector<int>& a, const std::vector<int>& b) {
    for (int i : a)
      for (int j : b) touch(i, j), touch(j, i);
  };
  for (int i = 0; i < l.cells; ++i)
    for (int j = i; j <= std::min(i + 1, l.cells - 1); ++j) couple(own(i), own(j));
  couple(own(0), own(l.shell_gas));
  for (int i : {l.drier, l.first_evaporator, l.suction, l.suction + 1}) couple(own(i), {l.tube_flow});
  couple(own(l.drier), own(l.suction)), couple(own(l.drier), own(l.suction + 1));
  couple(own(l.shell_gas), {l.body, l.dissolved});
  couple(own(0), {l.body});
  for (int i = 0; i < l.evaporator; ++i)
    couple({l.metal_at + l.first_evaporator + i}, {l.frost_at + i, l.air, l.moisture});
  // What is added up: from every metal that meets the room, from what loads the motor, from the box.
  for (int i = 0; i < l.cells - 1; ++i)
    if (i <= l.drier || i >= l.suction) touch(l.metal_at + i, l.from_room);
  for (int i : {l.body, l.air, l.wall, l.moisture}) touch(i, l.from_room);
  for (int cell : {0, l.shell_gas})
    for (int i : own(cell))
      for (int row : {l.electricity, l.body, l.overload}) touch(i, row);
  for (int i : {l.body, l.dissolved})
    for (int row : {l.electricity, l.overload}) touch(i, row);
  touch(l.dissolved, l.body), touch(l.body, l.dissolved), touch(l.metal_at, l.body),
      touch(l.dissolved, l.from_room);
  for (int i = 0; i < l.evaporator; ++i) {
    for (int j = 0; j < l.evaporator; ++j) {
      touch(l.frost_at + i, l.frost_at + j);
      touch(l.frost_at + i, l.metal_at + l.first_evaporator + j);
    }
    touch(l.frost_at + i, l.air), touch(l.frost_at + i, l.moisture);
  }
  couple({l.air}, {l.wall, l.product, l.moisture, l.sensor});
  for (int i : {l.air, l.wall, l.product, l.moisture}) touch(i, l.held);
  for (int i = 0; i < l.evaporator; ++i) touch(l.metal_at + l.first_evaporator + i, l.held);
  for (int i : own(l.suction)) touch(i, l.gone_mass), touch(i, l.gone_energy);
  for (int i : own(l.drier)) touch(i, l.fed_energy);
  couple({l.plug}, {l.tube_flow});
  for (int i : own(l.first_evaporator)) touch(i, l.plug);
  for (int i = 0; i < l.size; ++i) touch(i, i);
  return rows;
}

}  // namespace coldwright::lab
