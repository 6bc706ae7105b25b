// The functions behind the table of use cases, one per file. Kept to service/.
#pragma once

#include "service/use_cases.hpp"

namespace coldwright::service {

Result<std::string> run_saturation(std::string_view request, const Context& context);
Result<std::string> run_quantity(std::string_view request, const Context& context);
Result<std::string> run_leak(std::string_view request, const Context& context);
Result<std::string> run_state(std::string_view request, const Context& context);
Result<std::string> run_refrigerant(std::string_view request, const Context& context);
Result<std::string> run_refrigerants(std::string_view request, const Context& context);
Result<std::string> run_chart(std::string_view request, const Context& context);
Result<std::string> run_card(std::string_view request, const Context& context);
Result<std::string> run_record(std::string_view request, const Context& context);
Result<std::string> run_expect(std::string_view request, const Context& context);
Result<std::string> run_diagnose(std::string_view request, const Context& context);
Result<std::string> run_superheat(std::string_view request, const Context& context);
Result<std::string> run_vacuum(std::string_view request, const Context& context);
Result<std::string> run_room(std::string_view request, const Context& context);
Result<std::string> run_hose(std::string_view request, const Context& context);
Result<std::string> run_standing(std::string_view request, const Context& context);
Result<std::string> run_evacuation(std::string_view request, const Context& context);
Result<std::string> run_rise(std::string_view request, const Context& context);
Result<std::string> run_charging(std::string_view request, const Context& context);
Result<std::string> run_capillary(std::string_view request, const Context& context);
Result<std::string> run_tube(std::string_view request, const Context& context);
Result<std::string> run_tightness(std::string_view request, const Context& context);
Result<std::string> run_proof(std::string_view request, const Context& context);
Result<std::string> run_memory(std::string_view request, const Context& context);
Result<std::string> run_flammable(std::string_view request, const Context& context);
Result<std::string> run_opening(std::string_view request, const Context& context);
Result<std::string> run_tracer(std::string_view request, const Context& context);
Result<std::string> run_bring(std::string_view request, const Context& context);
Result<std::string> run_worth(std::string_view request, const Context& context);
Result<std::string> run_trace_layout(std::string_view request, const Context& context);
Result<std::string> run_trace(std::string_view request, const Context& context);
Result<std::string> run_plan(std::string_view request, const Context& context);
Result<std::string> run_practice_call(std::string_view request, const Context& context);
Result<std::string> run_practice_step(std::string_view request, const Context& context);
Result<std::string> run_practice_debrief(std::string_view request, const Context& context);
Result<std::string> run_example(std::string_view request, const Context& context);
Result<std::string> run_vocabulary(std::string_view request, const Context& context);
Result<std::string> run_schema(std::string_view request, const Context& context);

}  // namespace coldwright::service
