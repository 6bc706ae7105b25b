// A cabinet of the virtual lab for tests: one kind, one seed, designed once.
#pragma once

#include <gtest/gtest.h>

#include <map>
#include <memory>
#include <string>

#include "lab/design.hpp"
#include "service/refrigerant_loader.hpp"

namespace coldwright::lab {

inline std::shared_ptr<const Refrigerant> lab_refrigerant(const std::string& name) {
  static std::map<std::string, std::shared_ptr<const Refrigerant>> kept;
  auto& one = kept[name];
  if (!one) {
    const auto fluid = service::load_fluid(name);
    EXPECT_TRUE(fluid);
    auto made = Refrigerant::make(*fluid);
    EXPECT_TRUE(made);
    one = std::make_shared<const Refrigerant>(std::move(*made));
  }
  return one;
}

/// A reach-in cooler's usual numbers (our estimate, as in data/cabinets.json), on any refrigerant.
inline Designed lab_cooler(const std::string& refrigerant = "R290", std::uint64_t seed = 7) {
  static std::map<std::pair<std::string, std::uint64_t>, Designed> kept;
  const auto found = kept.find({refrigerant, seed});
  if (found != kept.end()) return found->second;
  Kind kind;
  kind.id = "reach_in_cooler";
  kind.refrigerant = refrigerant;
  const auto made = design(kind, lab_refrigerant(refrigerant), {}, 6, RandomStream(seed));
  EXPECT_TRUE(made) << to_text(made.problem());
  return kept.emplace(std::pair{refrigerant, seed}, *made).first->second;
}

/// On a test bench: the box held, the room at `room`, the compressor always asked for.
inline Life on_bench(const Designed& unit, double room, std::vector<Fault> faults = {}) {
  Life life;
  life.start = life.outside.ambient = room;
  life.start_box = unit.set_point;
  life.hold_box = true;
  life.doors = false;
  life.outside.voltage = unit.plate_voltage;
  life.faults = std::move(faults);
  return life;
}

/// The bench after `minutes`.
inline Readable settled(const Designed& unit, const std::string& refrigerant, double room,
                        std::vector<Fault> faults = {}, double minutes = 45) {
  Simulation bench(unit.cabinet, lab_refrigerant(refrigerant), on_bench(unit, room, std::move(faults)),
                   RandomStream(1));
  const auto done = bench.advance(minutes * 60);
  EXPECT_TRUE(done) << to_text(done.problem());
  return bench.read();
}

}  // namespace coldwright::lab
