#include <algorithm>
#include <set>

#include "diagnosis/findings.hpp"
#include "service/memory.hpp"
#include "service/proof_request.hpp"

namespace coldwright::service {
namespace {

using calls::PartEntry;

// After one of these the unit is another machine than the one its earlier calls taught.
bool renews(const std::string& part) {
  static const std::vector<std::string> main_parts{"compressor", "capillary", "condenser", "evaporator"};
  const std::string key = key_of(part);
  return std::any_of(main_parts.begin(), main_parts.end(), [&](const std::string& p) {
    return key == p || key.starts_with(p + " tube") || key == p + " coil";
  });
}

void parts_of(const calls::Repair& repair, RememberedCall& call) {
  std::set<std::string> parts;
  for (const auto& entry : repair.parts) {
    const bool new_one =
        entry.body.action == PartEntry::Action::replaced || entry.body.action == PartEntry::Action::fitted;
    if (!new_one) continue;
    parts.insert(key_of(entry.body.part));
    call.renewed |= renews(entry.body.part);
  }
  call.parts.assign(parts.begin(), parts.end());
}

// The scene of the machine as it was left, with the doubts of a diagnosis and nobody complaining.
struct Bench {
  diagnosis::Scene scene{};
  circuit::Archetype kind;
};
Result<Bench> bench_of(const ProofRequest& r) {
  auto setting = diagnosis::set_scene(r.question.final_state, *r.fluid, r.call.knowledge);
  if (!setting) return setting.problem();
  Bench bench{setting->scene, setting->kind};
  bench.scene.not_cooling = bench.scene.no_complaint = false;
  return bench;
}

}  // namespace

Result<Taught> taught_by(std::string_view request, const Context& context) {
  auto read = read_proof_request(request, context);
  if (!read) return read.problem();
  ProofRequest& r = *read;
  Taught out;
  RememberedCall& call = out.call;
  call.id = r.identity.id;
  call.print = r.identity.print;
  call.unit = r.identity.unit;
  call.model = r.identity.model;
  call.at = r.identity.last;
  call.plate = r.call.folded.the_case.nameplate;
  call.refrigerant = r.call.folded.refrigerant;
  call.cause = r.question.repaired_cause;
  parts_of(r.repair, call);
  out.finished = !call.cause.empty();
  if (r.question.final_state.readings.empty()) {
    out.why = "no_readings_left";
    return out;
  }
  const auto proof = procedures::prove(r.question, r.fluid, r.call.knowledge, r.call.options);
  if (!proof) return proof.problem();
  out.sound = call.sound = proof->sound;
  if (proof->sound < procedures::kProved) {
    out.why = "not_sound_enough";
    return out;
  }
  const auto bench = bench_of(r);
  if (!bench) return bench.problem();
  diagnosis::Scene scene = bench->scene;
  scene.kind = &bench->kind;
  const auto evidence = diagnosis::prepare(r.question.final_state, r.call.knowledge);
  if (!evidence) return evidence.problem();
  diagnosis::Hypothesis sound{{}, "sound", 0};
  for (std::size_t i = 0; i < r.call.knowledge.causes.size(); ++i)
    if (r.call.knowledge.causes[i].id == "sound") sound.causes = {static_cast<int>(i)};
  auto learned = diagnosis::learn(scene, sound, *evidence);
  if (!learned) {
    out.why = "no_readings_left";
    return out;
  }
  out.finished = true;
  out.set_aside = learned->set_aside;
  call.lesson = std::move(learned->lesson);
  call.readings = static_cast<int>(call.lesson.value.size());
  return out;
}

}  // namespace coldwright::service
