// JSON answers laid out for a person. Words and numbers are the answer's own; only their place is chosen
// here.
#pragma once

#include <nlohmann/json.hpp>
#include <string>

#include "layout.hpp"

namespace coldwright::cli {

std::string plain_saturation(const nlohmann::json& answer);
std::string plain_state(const nlohmann::json& answer);
std::string plain_diagnosis(const nlohmann::json& answer);
std::string plain_expectation(const nlohmann::json& answer);
std::string plain_refrigerant(const nlohmann::json& answer);
std::string plain_refrigerants(const nlohmann::json& answer);
std::string plain_quantity(const nlohmann::json& answer);
std::string plain_leak(const nlohmann::json& answer);
/// A tool at hand: its sentences, limits and cautions.
std::string plain_tool(const nlohmann::json& answer);
/// Any procedure of the repair; `how` opens each figure to formula, inputs and sources.
std::string plain_procedure(const nlohmann::json& answer, bool how);
/// The plan of a repair.
std::string plain_plan(const nlohmann::json& answer);
/// A practice call: the door, the steps taken, the debrief.
std::string plain_practice_call(const nlohmann::json& answer);
std::string plain_practice_step(const nlohmann::json& answer);
std::string plain_practice_debrief(const nlohmann::json& answer);
/// How a logged file is to be read, and what was found in it.
std::string plain_trace_layout(const nlohmann::json& answer);
std::string plain_trace(const nlohmann::json& answer);
std::string plain_words(const nlohmann::json& answer);

// Parts that answers share.
void call_heading(Page& page, const nlohmann::json& answer);
void remarks(Page& page, const nlohmann::json& answer);
void cautions(Page& page, const nlohmann::json& answer);
void how_sure(Page& page, const nlohmann::json& answer);
void references(Page& page, const nlohmann::json& answer);

}  // namespace coldwright::cli
