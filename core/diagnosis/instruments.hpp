// How far a reading may lie from the model's: the instrument, the moment, and the model itself.
#pragma once

#include "diagnosis/case.hpp"

namespace coldwright::diagnosis {

/// One standard deviation each, in the reading's unit (ohms as ln ratio).
struct Uncertainty {
  double instrument;  // class and placement; the case's own figure when given
  double unsteady;    // machine not yet settled after a start
  double model;       // the circuit model being wrong about a real machine (discrepancy)
  double total;       // root sum of squares
  double blunder;     // width of the mistakes: wrong unit, wrong place, misread
};

/// How far the machine runs from where it was designed to, as its own readings tell: there the model is known
/// less well.
struct Strain {
  double hot = 0;         // K, of the condenser's middle over the room beyond what is usual
  double starved = 0;     // K, of the evaporator's outlet over its inlet beyond what is usual
  double partly_dry = 0;  // K, by how much farther the outlet of a coil that is dry in part may be off
};
Strain strain(const Case& the_case);

/// `share` scales the discrepancy: 1 in use, 0 only in the evaluation on a matched model.
Uncertainty uncertainty(const Reading& reading, double site_pressure, double share = 1,
                        const Strain& strain = {});

/// Share of readings that are plain mistakes, our estimate.
inline constexpr double kBlunderShare = 0.01;

/// A current of next to nothing where a running motor's is predicted: it stood just then.
bool read_at_rest(const Reading& reading, double predicted);

/// ln likelihood of reading `given` when the model says `predicted`.
double log_likelihood(const Reading& reading, const Uncertainty& u, double predicted);

/// The scale on which a reading is compared: ln for resistances, plain otherwise.
double scale(circuit::ReadingKind kind, double value);

}  // namespace coldwright::diagnosis
