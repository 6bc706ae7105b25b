#include "service/growing_diagnosis.hpp"

#include "calls/strict_json.hpp"
#include "diagnosis/pool.hpp"
#include "service/about.hpp"
#include "service/diagnosis_json.hpp"

namespace coldwright::service {
namespace {

// FNV-1a, as a check against mistakes, not against malice.
std::uint64_t hash(std::uint64_t so_far, std::string_view text) {
  for (const char c : text) so_far = (so_far ^ static_cast<unsigned char>(c)) * 1099511628211u;
  return (so_far ^ 0xff) * 1099511628211u;
}

std::uint64_t fingerprint_of(std::string_view request, const Context& context) {
  std::uint64_t print = hash(14695981039346656037u, program_version);
  print = hash(print, data_version());
  print =
      hash(print, std::to_string(sizeof(diagnosis::Simulated)) + " " + std::to_string(diagnosis::kLatents));
  print = hash(print, std::to_string(context.now_seconds));
  return hash(print, request);
}

}  // namespace

struct GrowingDiagnosis::Held {
  CallCase call;
  std::uint64_t fingerprint;
  std::shared_ptr<const circuit::WorkingFluid> fluid;
  std::unique_ptr<diagnosis::Investigation> investigation;  // refers to `call`, which stays where it is
  diagnosis::Share pool;
};

GrowingDiagnosis::GrowingDiagnosis(std::unique_ptr<Held> held) : held_(std::move(held)) {}
GrowingDiagnosis::~GrowingDiagnosis() = default;

Result<std::unique_ptr<GrowingDiagnosis>> GrowingDiagnosis::start(std::string_view request_json,
                                                                  const Context& context,
                                                                  const GrowingDiagnosis* before) {
  auto call = read_call_case(request_json, context);
  if (!call) return call.problem();
  std::unique_ptr<Held> held(
      new Held{std::move(*call), fingerprint_of(request_json, context), nullptr, nullptr, {}});
  const CallCase& c = held->call;
  if (before != nullptr && before->held_->fluid->designation() == c.fluid.designation()) {
    held->fluid = before->held_->fluid;
  } else {
    auto working = circuit::WorkingFluid::make(c.fluid);
    if (!working) return working.problem();
    held->fluid = std::make_shared<const circuit::WorkingFluid>(std::move(*working));
  }
  auto investigation =
      diagnosis::Investigation::open(c.folded.the_case, held->fluid, c.knowledge, c.options.prior);
  if (!investigation) return investigation.problem();
  held->investigation = std::move(*investigation);
  return std::unique_ptr<GrowingDiagnosis>(new GrowingDiagnosis(std::move(held)));
}

int GrowingDiagnosis::wanted() const { return held_->call.options.population; }
int GrowingDiagnosis::machines() const { return held_->pool.population; }

Result<std::string> GrowingDiagnosis::round(std::uint64_t which, int population, bool with_pairs) const {
  const auto& options = held_->call.options;
  // The first share is what a diagnosis of that population would draw; far labels keep the others apart from
  // it.
  const RandomStream seeded(options.seed);
  const RandomStream random = which == 0 ? seeded : seeded.fork((std::uint64_t{1} << 40) + which);
  const auto share = held_->investigation->draw({population, with_pairs, random}, options.progress);
  if (!share) return share.problem();
  return diagnosis::to_bytes(*share, *held_->investigation, held_->fingerprint);
}

bool GrowingDiagnosis::take(std::string_view share) {
  auto more = diagnosis::from_bytes(share, *held_->investigation, held_->fingerprint);
  if (!more) return false;
  diagnosis::take_in(held_->pool, std::move(*more));
  return true;
}

Result<std::string> GrowingDiagnosis::answer() const {
  if (machines() == 0)
    return Problem{"diagnosis", "no share", "at least one share taken", "there is nothing to answer from"};
  return calls::dump(diagnosis_json(held_->call, held_->investigation->answer(held_->pool)));
}

}  // namespace coldwright::service
