// Kinds of cabinet as the virtual cabinet takes them, from data/cabinets.json.
#pragma once

#include "circuit/nameplate.hpp"
#include "lab/design.hpp"

namespace coldwright::judge {

/// What `lab::design` is asked for, of a kind of cabinet.
lab::Kind kind_of(const circuit::Archetype& archetype);

/// A Problem names the refrigerant that isn't known.
Result<std::shared_ptr<const lab::Refrigerant>> lab_refrigerant(const std::string& name);

}  // namespace coldwright::judge
