#include "procedures/believed.hpp"

#include <algorithm>
#include <utility>

#include "diagnosis/investigation.hpp"

namespace coldwright::procedures {
namespace {

diagnosis::Effects effects_of(const diagnosis::Knowledge& knowledge, const diagnosis::Hypothesis& h,
                              const diagnosis::Latents& z) {
  using diagnosis::Extra;
  diagnosis::Effects e;
  for (std::size_t i = 0; i < h.causes.size(); ++i) {
    const diagnosis::CauseInfo& cause = knowledge.causes[static_cast<std::size_t>(h.causes[i])];
    const double severity = z[diagnosis::index(i == 0 ? Extra::severity : Extra::severity_2)];
    const double variant = z[diagnosis::index(i == 0 ? Extra::variant : Extra::variant_2)];
    diagnosis::apply_cause(cause.id, diagnosis::severity_of(cause, severity), normal_cdf(variant), e);
  }
  return e;
}

}  // namespace

Result<Belief> believe(const diagnosis::Case& the_case, const fluids::Fluid& fluid,
                       const diagnosis::Knowledge& knowledge, const diagnosis::Options& options, int count) {
  auto working = circuit::WorkingFluid::make(fluid);
  if (!working) return working.problem();
  Belief out;
  out.fluid = std::make_shared<const circuit::WorkingFluid>(std::move(*working));
  const auto setting = diagnosis::set_scene(the_case, *out.fluid, knowledge);
  if (!setting) return setting.problem();
  out.kind = setting->kind;
  const auto investigation = diagnosis::Investigation::open(the_case, out.fluid, knowledge);
  if (!investigation) return investigation.problem();
  const auto share =
      (*investigation)->draw({options.population, true, RandomStream(options.seed)}, options.progress);
  if (!share) return share.problem();
  out.answer = (*investigation)->answer(*share);

  // Systematic resampling: every machine counts as often as its weight says, within one.
  double total = 0;
  for (const auto& h : share->posterior.items)
    for (const auto& p : h.particles)
      if (p.sim.ok) total += h.probability * p.weight;
  const double step = total / count;
  double sum = 0, next = 0.5 * step;
  for (const auto& h : share->posterior.items) {
    for (const auto& p : h.particles) {
      if (!p.sim.ok) continue;
      sum += h.probability * p.weight;
      for (; next < sum && step > 0; next += step) {
        circuit::MachineLatents z{};
        std::copy(p.z.begin(), p.z.begin() + circuit::kMachineLatents, z.begin());
        auto machine = circuit::machine_from(z, the_case.nameplate, out.kind, *out.fluid,
                                             diagnosis::doubted(setting->scene, p.z));
        if (machine)
          out.machines.push_back(
              {std::move(*machine), effects_of(knowledge, h.hypothesis, p.z), h.hypothesis.id});
      }
    }
  }
  if (out.machines.empty())
    return Problem{"call", "no machine fits it", "readings that some machine could show",
                   "there is nothing to work on"};
  return out;
}

}  // namespace coldwright::procedures
