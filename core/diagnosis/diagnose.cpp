#include "diagnosis/diagnose.hpp"

#include "diagnosis/investigation.hpp"

namespace coldwright::diagnosis {

Result<Answer> diagnose(const Case& c, const fluids::Fluid& fluid, const Knowledge& knowledge,
                        const Options& options) {
  auto working = circuit::WorkingFluid::make(fluid);
  if (!working) return working.problem();
  const auto investigation = Investigation::open(
      c, std::make_shared<const circuit::WorkingFluid>(std::move(*working)), knowledge, options.prior);
  if (!investigation) return investigation.problem();
  const auto share =
      (*investigation)->draw({options.population, true, RandomStream(options.seed)}, options.progress);
  if (!share) return share.problem();
  return (*investigation)->answer(*share);
}

}  // namespace coldwright::diagnosis
