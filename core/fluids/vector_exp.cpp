#include "fluids/vector_exp.hpp"

#include <Eigen/Core>

namespace coldwright::fluids {

void exp_in_place(double* x, std::size_t n) {
  Eigen::Map<Eigen::ArrayXd> values(x, static_cast<Eigen::Index>(n));
  values = values.exp();
}

}  // namespace coldwright::fluids
