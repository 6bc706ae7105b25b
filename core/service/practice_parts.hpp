// What the three use cases of practice share: from a request to the hidden cabinet, the steps taken so far
// and the words. Stateless: the same request gives the same cabinet and the same readings. Kept to service/.
#pragma once

#include <memory>
#include <nlohmann/json.hpp>
#include <string>
#include <vector>

#include "base/field_units.hpp"
#include "diagnosis/diagnose.hpp"
#include "practice/walk.hpp"
#include "service/request.hpp"
#include "service/use_cases.hpp"
#include "service/wording.hpp"

namespace coldwright::service {

struct Practice {
  std::unique_ptr<const diagnosis::Knowledge> knowledge;  // the visit refers to it
  Wording wording;
  base::Display display;
  practice::Visit visit;
  std::vector<practice::Action> actions;  // of "actions"; empty without
  std::string recorded;                   // its id; empty for a drawn one
};

/// "seed", "level", "cabinet" or "recorded", "actions", "units": the keys read here.
const std::vector<std::string>& practice_keys();
Result<Practice> practice_of(Request& request, const Context& context);

/// All the steps of the request, one after the other.
Result<practice::Walk> walked(const Practice& p);

/// What an action is called: "condenser fan".
std::string action_label(const practice::Action& action, const Wording& wording);
/// What a step showed: "31.5 psig", "stopped", "ten minutes later".
std::string shown_by(const practice::Step& step, const Wording& wording, const base::Display& display);
/// One step as JSON: what was done, what it showed, what it took.
nlohmann::json step_json(const practice::Step& step, const Practice& p);
/// All that can be done now, each with what it costs and what to beware of.
nlohmann::json offers_json(const practice::Walk& walk, const Practice& p);
/// Minutes used, what was lost, whether the circuit was opened, the box now.
nlohmann::json state_json(const practice::Walk& walk, const Practice& p);
/// {"about", "level", "seed", "recorded", "cautions"}
nlohmann::json practice_heading(const Practice& p);

/// A sentence of the section "practice".
nlohmann::json told(const Practice& p, const diagnosis::Statement& said);

/// "1.5 h" or "45 min", as the language writes it.
std::string hours_text(double hours, const base::Display& display);
std::string minutes_text(double minutes, const base::Display& display);

}  // namespace coldwright::service
