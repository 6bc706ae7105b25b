// What a column of numbers is: words of the trade in its header first, its unit then, its values last.
#include <algorithm>

#include "traces/guess_parts.hpp"

namespace coldwright::traces {
namespace {

/// The same place, told by its pressure or by its temperature.
What with_dimension(What what, base::Dimension dimension) {
  using base::Dimension;
  if (dimension == Dimension::temperature) {
    if (what == What::suction_pressure) return What::suction_line_temp;
    if (what == What::discharge_pressure) return What::discharge_line_temp;
    if (what == What::power) return What::shell_temp;
  }
  if (dimension == Dimension::pressure) {
    if (what == What::suction_line_temp) return What::suction_pressure;
    if (what == What::coil_temp) return What::suction_pressure;
    if (what == What::discharge_line_temp || what == What::condenser_middle_temp ||
        what == What::liquid_line_temp)
      return What::discharge_pressure;
  }
  if (dimension == Dimension::power || dimension == Dimension::current || dimension == Dimension::voltage)
    return dimension == Dimension::power     ? What::power
           : dimension == Dimension::current ? What::current
                                             : What::voltage;
  return what;
}

const std::vector<std::string> kAnyTemperature = {"box_temp",
                                                  "coil_temp",
                                                  "ambient_temp",
                                                  "suction_line_temp",
                                                  "discharge_line_temp",
                                                  "condenser_middle_temp",
                                                  "liquid_line_temp",
                                                  "other"};

using base::Dimension;

/// One column on its way to what it is.
class Column {
 public:
  Column(std::string_view header, std::string_view unit, const std::vector<double>& values, int column,
         std::vector<Question>& questions)
      : header_(header),
        unit_(unit),
        words_(with_blanks(header)),
        shape_(shape_of(values)),
        empty_(values.empty()),
        column_(column),
        questions_(questions) {
    out_.header = header;
    out_.unit = unit.empty() ? unit_in(header) : unit_in(unit);
    // A letter alone may be a name: a mains voltage stays near itself, and nothing draws thousands of
    // amperes.
    const bool letter = unit.empty() && header.size() == 1;
    const bool mains = shape_.low > 80 && shape_.high < 500 && shape_.high - shape_.low < 0.5 * shape_.mid;
    if (letter && ((out_.unit == "V" && !mains) || (out_.unit == "A" && shape_.high > 100)))
      out_.unit.clear();
    measure_ = dimension_of(out_.unit);
    if (out_.unit == "VA") measure_ = Dimension::power;
  }

  ColumnLayout run() {
    if (energy()) return out_;
    if (no_reading()) return out_;
    by_name();
    if (out_.what == What::unknown && measure_) by_unit();
    const bool temperature = says_temperature();
    if (out_.what == What::unknown && names_machine(words_) && !temperature) by_machine();
    if (out_.what == What::unknown && (temperature || names_machine(words_)) && !shape_.switching)
      take(What::box_temp, 0.6, "header");
    if (out_.what == What::box_temp && temperature && !what_in(words_) && !measure_ && !names_machine(words_))
      ask("which_temperature", kAnyTemperature);
    if (out_.what == What::unknown) by_range();
    const auto dimension = info(out_.what).dimension;
    if (!dimension)
      out_.unit.clear();
    else
      unit(*dimension);
    return out_;
  }

 private:
  void take(What what, double confidence, const char* why) {
    out_.what = what;
    out_.confidence = confidence;
    out_.why = why;
  }
  void ask(const char* key, std::vector<std::string> options) {
    questions_.push_back({key, column_, std::move(options)});
  }
  bool says_temperature() const {
    return words_.find(" temp") != std::string::npos || words_.find(" t ") != std::string::npos;
  }

  /// An energy is one used in each interval, or a meter's counter that only rises.
  bool energy() {
    const bool unit = static_cast<bool>(scale_of(out_.unit, What::energy, base::sea_level));
    if (!unit && (!names_energy(words_) || measure_)) return false;
    take(shape_.rising ? What::energy_counter : What::energy, unit ? 0.95 : 0.6, unit ? "unit" : "header");
    if (unit) return true;
    // A cabinet uses 10 to 100 Wh an hour, some kWh a day (common practice).
    out_.unit = shape_.precise ? "kWh" : "Wh";
    ask("which_unit",
        shape_.precise ? std::vector<std::string>{"kWh", "Wh"} : std::vector<std::string>{"Wh", "kWh"});
    return true;
  }

  /// Humidity, a count of rows, a state of the logger: of no use here.
  bool no_reading() {
    const auto named = name();
    const bool of_use = named && named != What::other;
    if (named == What::door || named == What::other)
      take(*named, 0.9, "header");
    else if (measure_ == Dimension::frequency || measure_ == Dimension::quality)
      take(What::other, 0.9, "unit");
    else if (!of_use && !measure_ && !empty_ && !names_machine(words_) &&
             (shape_.constant || shape_.counting))
      take(What::other, 0.8, shape_.constant ? "constant" : "counts");
    else if (!of_use && !measure_ && shape_.rising && shape_.low > 3e8)
      take(What::other, 0.8, "counts");  // the time again
    else
      return false;
    out_.unit.clear();
    return true;
  }

  /// What the heading says is measured; "kitchen fridge" says where the machine stands.
  std::optional<What> name() const {
    const auto named = what_in(words_);
    return named == What::ambient_temp && names_machine(words_) ? std::nullopt : named;
  }

  void by_name() {
    const auto named = name();
    if (!named) return;
    What what = *named;
    if (measure_ || says_temperature())
      what = with_dimension(what, measure_.value_or(Dimension::temperature));
    const auto dimension = info(what).dimension;
    if (!measure_ || !dimension || *dimension == *measure_ ||
        (*dimension == Dimension::temperature_difference && *measure_ == Dimension::temperature))
      take(what, measure_ ? 0.97 : 0.8, measure_ ? "header_and_unit" : "header");
  }

  void by_unit() {
    if (measure_ == Dimension::power || measure_ == Dimension::current || measure_ == Dimension::voltage) {
      take(with_dimension(What::power, *measure_), 0.9, "unit");
    } else if (measure_ == Dimension::pressure && barometer()) {
      take(What::other, 0.8, "range");
    } else if (measure_ == Dimension::pressure) {
      take(What::suction_pressure, 0.6, "unit");
      ask("which_pressure", {"suction_pressure", "discharge_pressure", "other"});
    } else {
      take(What::box_temp, names_machine(words_) ? 0.8 : 0.6, "unit");
      if (!names_machine(words_)) ask("which_temperature", kAnyTemperature);
    }
  }

  /// The air's own pressure hardly moves.
  bool barometer() const {
    const auto scale = scale_of(out_.unit, What::suction_pressure, base::sea_level);
    if (!scale || scale->offset != 0) return false;
    const double low = shape_.low * scale->scale, high = shape_.high * scale->scale;
    return low > 6e4 && high < 1.1e5 && high - low < 6e3;
  }

  /// "Fridge" names the machine, not what is measured: a power switches, a temperature doesn't.
  void by_machine() {
    if (shape_.switching || shape_.high > 60) take(What::power, 0.7, "range");
  }

  /// Without a word and a unit, only the range speaks: mains voltage, a plug's watts, an air temperature.
  void by_range() {
    const Shape& s = shape_;
    take(What::unknown, 0.4, "range");
    if (s.low > 80 && s.high < 270 && s.high - s.low < 0.2 * s.mid)
      out_.what = What::voltage;
    else if (s.low > -3 && s.high > 25 && s.high < 20000)
      out_.what = What::power;
    else if (s.switching && s.precise && s.high <= 0.2)
      out_.what = What::power;  // kW: no compressor draws so few amperes
    else if (s.low >= 0 && s.high > 0.2 && s.high < 25 && s.low < 0.5 * s.high)
      out_.what = What::current;
    else if (s.low > -60 && s.high < 130 && s.high != s.low)
      out_.what = What::box_temp;
    ask("what_is_it",
        {std::string(info(out_.what).word), "power", "current", "voltage", "box_temp", "coil_temp",
         "ambient_temp", "suction_pressure", "discharge_pressure", "energy", "energy_counter", "other"});
  }

  void unit(Dimension dimension) {
    if (out_.what == What::superheat && out_.unit == "°C") out_.unit = "K";
    if (!out_.unit.empty() && scale_of(out_.unit, out_.what, base::sea_level))
      against();
    else
      usual_unit(dimension);
  }

  /// "bar" and "psi" alone don't say against what.
  void against() {
    const std::string low = with_blanks(unit_.empty() ? header_ : unit_);
    const bool bare = out_.unit == "psig"     ? low.find("psi ") != std::string::npos
                      : out_.unit == "bar(g)" ? low.find("bar ") != std::string::npos
                                              : out_.unit == "kPa(a)" || out_.unit == "MPa(a)";
    if (bare && out_.unit == "psig") ask("gauge_or_absolute", {"psig", "psia"});
    if (bare && out_.unit == "bar(g)") ask("gauge_or_absolute", {"bar(g)", "bar(a)"});
    if (bare && out_.unit == "kPa(a)") ask("gauge_or_absolute", {"kPa(a)", "kPa(g)"});
  }

  void usual_unit(Dimension dimension) {
    const Shape& s = shape_;
    out_.confidence = std::min(out_.confidence, 0.7);
    switch (dimension) {
      case Dimension::power:
        out_.unit = s.precise && s.high < 6 && s.high > 0 ? "kW" : "W";
        if (out_.unit == "kW") ask("which_unit", {"kW", "W"});
        break;
      case Dimension::current:
        out_.unit = s.high > 60 ? "mA" : "A";
        if (out_.unit == "mA") ask("which_unit", {"mA", "A"});
        break;
      case Dimension::voltage:
        out_.unit = "V";
        break;
      case Dimension::temperature_difference:
        out_.unit = "K";
        ask("which_unit", {"K", "°F"});
        break;
      case Dimension::temperature: {
        // 20 to 30 may be either; a cabinet's air at 38 is in °F, at -18 in °C, kelvin stand above 200.
        const bool cold = out_.what == What::box_temp || out_.what == What::coil_temp;
        const bool kelvin = s.low > 200 && s.high < 360;
        const bool fahrenheit = cold ? s.mid > 26 : s.mid > 55;
        out_.unit = kelvin ? "K" : fahrenheit ? "°F" : "°C";
        if (!kelvin)
          ask("which_unit",
              fahrenheit ? std::vector<std::string>{"°F", "°C"} : std::vector<std::string>{"°C", "°F"});
        break;
      }
      default:
        out_.unit = s.high > 35 ? "psig" : "bar(g)";
        ask("which_unit", out_.unit == "psig" ? std::vector<std::string>{"psig", "psia", "kPa(a)", "bar(g)"}
                                              : std::vector<std::string>{"bar(g)", "bar(a)", "psig"});
    }
  }

  std::string_view header_, unit_;
  std::string words_;
  Shape shape_;
  bool empty_;
  int column_;
  std::vector<Question>& questions_;
  std::optional<Dimension> measure_;
  ColumnLayout out_;
};

}  // namespace

ColumnLayout guess_number(std::string_view header, std::string_view unit, const std::vector<double>& values,
                          int column, std::vector<Question>& questions) {
  return Column(header, unit, values, column, questions).run();
}

}  // namespace coldwright::traces
