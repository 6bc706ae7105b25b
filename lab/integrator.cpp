#include "lab/integrator.hpp"

#include <cvode/cvode.h>
#include <nvector/nvector_serial.h>
#include <sundials/sundials_context.h>
#include <sundials/sundials_linearsolver.h>
#include <sunmatrix/sunmatrix_dense.h>

#include <Eigen/LU>
#include <algorithm>
#include <cmath>
#include <string>

namespace coldwright::lab {

namespace {

// Eigen's LU as SUNDIALS' linear solver: several times faster than the plain one on matrices of this size.
using Factors = Eigen::PartialPivLU<Eigen::MatrixXd>;

Factors* factors(SUNLinearSolver s) { return static_cast<Factors*>(s->content); }
SUNLinearSolver_Type solver_type(SUNLinearSolver) { return SUNLINEARSOLVER_DIRECT; }
int solver_setup(SUNLinearSolver s, SUNMatrix matrix) {
  const auto n = static_cast<Eigen::Index>(SUNDenseMatrix_Rows(matrix));
  factors(s)->compute(Eigen::Map<const Eigen::MatrixXd>(SUNDenseMatrix_Data(matrix), n, n));
  return 0;
}
int solver_solve(SUNLinearSolver s, SUNMatrix, N_Vector x, N_Vector b, realtype) {
  const auto n = static_cast<Eigen::Index>(N_VGetLength(b));
  Eigen::Map<Eigen::VectorXd> out(N_VGetArrayPointer(x), n);
  out = factors(s)->solve(Eigen::Map<const Eigen::VectorXd>(N_VGetArrayPointer(b), n));
  return out.allFinite() ? 0 : 1;
}
int solver_free(SUNLinearSolver s) {
  delete factors(s);
  s->content = nullptr;
  SUNLinSolFreeEmpty(s);
  return 0;
}
SUNLinearSolver make_solver(SUNContext context) {
  SUNLinearSolver s = SUNLinSolNewEmpty(context);
  s->content = new Factors();
  s->ops->gettype = solver_type;
  s->ops->setup = solver_setup;
  s->ops->solve = solver_solve;
  s->ops->free = solver_free;
  return s;
}

}  // namespace

struct Integrator::Inside {
  const Plant& plant;
  Switches switches{};
  Condition condition{};
  Surroundings outside{};
  std::vector<double> y;
  double time = 0, tolerance;
  bool fresh = true;
  Work before{};  // of stretches past
  SUNContext context = nullptr;
  N_Vector vector = nullptr, tolerances = nullptr;
  SUNMatrix matrix = nullptr;
  SUNLinearSolver solver = nullptr;
  void* memory = nullptr;

  explicit Inside(const Plant& p) : plant(p) {}
  ~Inside() {
    if (memory) CVodeFree(&memory);
    if (solver) SUNLinSolFree(solver);
    if (matrix) SUNMatDestroy(matrix);
    if (vector) N_VDestroy(vector);
    if (tolerances) N_VDestroy(tolerances);
    if (context) SUNContext_Free(&context);
  }

  static int derivatives(double t, N_Vector y, N_Vector dy, void* self) {
    const auto* in = static_cast<const Inside*>(self);
    const bool ok = in->plant.derivatives(t, N_VGetArrayPointer(y), in->switches, in->condition, in->outside,
                                          N_VGetArrayPointer(dy), nullptr, true);
    return ok ? 0 : 1;  // 1: try a shorter step
  }
  // Which states a derivative hangs on is learnt: every now and then the whole matrix is taken column by
  // column, and what was found nonzero so far decides which columns may be shaken together (Curtis, Powell
  // and Reid).
  std::vector<std::vector<int>> rows;    // of each column
  std::vector<std::vector<int>> groups;  // of columns that share no row
  long matrices = 0;

  void group_columns() {
    const std::size_t n = y.size();
    groups.clear();
    std::vector<std::vector<char>> taken;
    for (std::size_t j = 0; j < n; ++j) {
      std::size_t g = 0;
      for (; g < groups.size(); ++g)
        if (std::none_of(rows[j].begin(), rows[j].end(),
                         [&](int i) { return taken[g][static_cast<std::size_t>(i)] != 0; }))
          break;
      if (g == groups.size()) {
        groups.emplace_back();
        taken.emplace_back(n, 0);
      }
      groups[g].push_back(static_cast<int>(j));
      for (int i : rows[j]) taken[g][static_cast<std::size_t>(i)] = 1;
    }
  }

  static int jacobian(double t, N_Vector at, N_Vector derivative, SUNMatrix J, void* self, N_Vector weight,
                      N_Vector shaken, N_Vector) {
    auto* in = static_cast<Inside*>(self);
    const int n = static_cast<int>(in->y.size());
    CVodeGetErrWeights(in->memory, weight);
    double* y = N_VGetArrayPointer(at);
    const double* f = N_VGetArrayPointer(derivative);
    const double* w = N_VGetArrayPointer(weight);
    double* g = N_VGetArrayPointer(shaken);
    const auto shake = [&](int j) { return std::max(1.5e-8 * std::abs(y[j]), 1e-5 / w[j]); };
    const bool whole = in->matrices < 8 || in->matrices % 64 == 0;
    ++in->matrices;
    if (in->rows.empty()) in->rows = in->plant.touched();
    // The same look once more without learning: what isn't shaken must come out bit for bit the same.
    std::vector<double> here(in->y.size());
    if (!in->plant.derivatives(t, y, in->switches, in->condition, in->outside, here.data(), nullptr))
      return 1;
    f = here.data();
    const auto derive = [&] {
      return in->plant.derivatives(t, y, in->switches, in->condition, in->outside, g, nullptr);
    };
    std::vector<double> kept(in->y.size());
    bool grown = false;
    const int rounds = whole ? n : static_cast<int>(in->groups.size());
    for (int r = 0; r < rounds; ++r) {
      const std::vector<int> one{r};
      const std::vector<int>& columns = whole ? one : in->groups[static_cast<std::size_t>(r)];
      for (int j : columns) {
        kept[static_cast<std::size_t>(j)] = y[j];
        y[j] += shake(j);
      }
      const bool ok = derive();
      for (int j : columns) {
        const double by = y[j] - kept[static_cast<std::size_t>(j)];
        y[j] = kept[static_cast<std::size_t>(j)];
        auto& of = in->rows[static_cast<std::size_t>(j)];
        double* column = SUNDenseMatrix_Column(J, j);
        if (!ok) return 1;
        if (whole) {
          for (int i = 0; i < n; ++i) {
            column[i] = (g[i] - f[i]) / by;
            if (column[i] != 0 && std::find(of.begin(), of.end(), i) == of.end()) {
              of.push_back(i);
              grown = true;
            }
          }
        } else {
          for (int i : of) column[i] = (g[i] - f[i]) / by;
        }
      }
    }
    if (whole && (grown || in->groups.empty())) in->group_columns();
    return 0;
  }

  static void silent(int, const char*, const char*, char*, void*) {}

  void add_work() {
    long steps = 0, evaluations = 0, matrix_evaluations = 0, failed = 0, unsolved = 0;
    CVodeGetNumSteps(memory, &steps);
    CVodeGetNumRhsEvals(memory, &evaluations);
    CVodeGetNumLinRhsEvals(memory, &matrix_evaluations);
    CVodeGetNumErrTestFails(memory, &failed);
    CVodeGetNumNonlinSolvConvFails(memory, &unsolved);
    before.steps += steps;
    before.evaluations += evaluations + matrix_evaluations;
    before.failures += failed + unsolved;
  }
};

Integrator::Integrator(const Plant& plant, std::vector<double> start, double tolerance)
    : in_(std::make_unique<Inside>(plant)) {
  Inside& in = *in_;
  in.y = std::move(start);
  in.tolerance = tolerance;
  const auto n = static_cast<sunindextype>(in.y.size());
  SUNContext_Create(nullptr, &in.context);
  in.vector = N_VNew_Serial(n, in.context);
  in.tolerances = N_VNew_Serial(n, in.context);
  const std::vector<double> t = plant.tolerances();
  std::copy(t.begin(), t.end(), N_VGetArrayPointer(in.tolerances));
  std::copy(in.y.begin(), in.y.end(), N_VGetArrayPointer(in.vector));
  in.memory = CVodeCreate(CV_BDF, in.context);
  CVodeInit(in.memory, &Inside::derivatives, 0, in.vector);
  CVodeSetErrHandlerFn(in.memory, &Inside::silent, nullptr);
  CVodeSVtolerances(in.memory, tolerance, in.tolerances);
  CVodeSetUserData(in.memory, in_.get());
  in.matrix = SUNDenseMatrix(n, n, in.context);
  in.solver = make_solver(in.context);
  CVodeSetLinearSolver(in.memory, in.solver, in.matrix);
  CVodeSetJacFn(in.memory, &Inside::jacobian);
  // Fluid of little give and flows without inertia leave nothing for high orders, and theirs aren't stable
  // here.
  CVodeSetMaxOrd(in.memory, 2);
  CVodeSetMaxNumSteps(in.memory, 20000);
  CVodeSetMaxStep(in.memory, 120);
  CVodeSetMaxConvFails(in.memory, 30);
}

Integrator::~Integrator() = default;

double Integrator::time() const { return in_->time; }
const std::vector<double>& Integrator::state() const { return in_->y; }

void Integrator::set(const Switches& switches, const Condition& condition, const Surroundings& outside) {
  in_->switches = switches;
  in_->condition = condition;
  in_->outside = outside;
  in_->fresh = true;
}

void Integrator::put(std::vector<double> state) {
  in_->y = std::move(state);
  in_->fresh = true;
}

Result<bool> Integrator::advance(double to) {
  Inside& in = *in_;
  if (to <= in.time) return true;
  if (in.fresh) {
    in.add_work();
    std::copy(in.y.begin(), in.y.end(), N_VGetArrayPointer(in.vector));
    CVodeReInit(in.memory, in.time, in.vector);
    in.fresh = false;
  }
  double reached = in.time;
  int answer = CVode(in.memory, to, in.vector, &reached, CV_NORMAL);
  if (answer < 0) {  // once more from the last good state with short first steps
    in.add_work();
    std::copy(in.y.begin(), in.y.end(), N_VGetArrayPointer(in.vector));
    CVodeReInit(in.memory, in.time, in.vector);
    CVodeSetInitStep(in.memory, 1e-6);
    answer = CVode(in.memory, to, in.vector, &reached, CV_NORMAL);
    CVodeSetInitStep(in.memory, 0);
  }
  if (answer < 0) {
    in.fresh = true;
    return Problem{"integration", "at " + std::to_string(in.time) + " s, answer " + std::to_string(answer),
                   "a state that can be carried on", "the solver can't take a step from here"};
  }
  const double* y = N_VGetArrayPointer(in.vector);
  std::copy(y, y + in.y.size(), in.y.begin());
  in.time = to;
  return true;
}

Seen Integrator::look() const {
  Seen seen;
  std::vector<double> dy(in_->y.size());
  in_->plant.derivatives(in_->time, in_->y.data(), in_->switches, in_->condition, in_->outside, dy.data(),
                         &seen);
  return seen;
}

Work Integrator::work() const {
  in_->add_work();
  return in_->before;
}

}  // namespace coldwright::lab
