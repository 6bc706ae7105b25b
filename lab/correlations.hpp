// The published correlations that the virtual cabinet is built on, none of them circuit/'s, and how to put
// others in their place: the judge is run again with a lab whose correlations are changed.
#pragma once

#include <optional>
#include <string_view>

#include "lab/refrigerant.hpp"

namespace coldwright::lab {

enum class Slip { smith, premoli, zivi, none };
enum class TwoPhaseViscosity { cicchitti, dukler };

/// Which correlation, and factors on what each says.
struct Correlations {
  Slip slip = Slip::smith;
  TwoPhaseViscosity viscosity = TwoPhaseViscosity::cicchitti;
  bool delayed_flashing = true;  // of liquid in the capillary
  double condensing = 1;         // factor on the film
  double boiling = 1;            // factor on the film
  double air_side = 1;           // factor on both coils' air-side conductance
  double friction = 1;           // of the capillary
  double exchange = 1;           // capillary to suction line
  double hold_up = 1;            // factor on the slip ratio
  double oil = 1;                // factor on what oil dissolves
};

/// Reads "slip=zivi,condensing=0.8,..."; a Problem names the word that isn't known.
Result<Correlations> correlations_from(std::string_view text);

/// Velocity ratio of vapour to liquid at a flow quality 0..1 and a mass flux, kg/(m2 s), in a bore, m.
/// Smith (1969), Premoli and others (1971), or Zivi (1964).
double slip_ratio(const Correlations& with, const Saturated& at, const Carrying& of, double quality,
                  double flux, double bore);

/// The flow quality of what leaves a cell where `quality` stands.
double flowing_quality(const Correlations& with, const Saturated& at, const Carrying& of, double quality,
                       double flux, double bore);

/// Film coefficients, W/(m2 K). Condensing: Shah (1979). Boiling: Liu and Winterton (1991) at a wall warmer
/// by `excess`, with Cooper's (1984) pool boiling. One phase: Dittus-Boelter, no less than laminar flow's.
double one_phase(double flux, double bore, double mu, double k, double cp);
double condensing(const Refrigerant& r, const Saturated& at, const Carrying& of, double quality, double flux,
                  double bore);
double boiling(const Refrigerant& r, const Saturated& at, const Carrying& of, double quality, double flux,
               double bore, double excess);

/// Darcy friction factor: laminar, or Haaland (1983).
double friction_factor(double reynolds, double relative_roughness);

/// How far below saturation flashing begins in a capillary, Pa: Chen and others (1990).
double underpressure(const Refrigerant& r, double T, double flux, double bore, double subcooling);

}  // namespace coldwright::lab
