// What the words in a column's heading say, in English, Spanish, French and German.
#include <algorithm>
#include <array>

#include "base/text.hpp"
#include "traces/guess_parts.hpp"

namespace coldwright::traces {
namespace {

/// Words for a thing in English, Spanish, French and German headers (common practice). Longer and more
/// particular ones stand first; each is looked for inside the header with signs made blanks.
struct Word {
  std::string_view text;
  What what;
};
constexpr std::array kHeaderWords = {
    Word{"evaporator inlet", What::evaporator_inlet_temp},
    Word{"evap inlet", What::evaporator_inlet_temp},
    Word{"evap in ", What::evaporator_inlet_temp},
    Word{"coil inlet", What::evaporator_inlet_temp},
    Word{"evaporator outlet", What::evaporator_outlet_temp},
    Word{"evap outlet", What::evaporator_outlet_temp},
    Word{"evap out ", What::evaporator_outlet_temp},
    Word{"coil outlet", What::evaporator_outlet_temp},
    Word{"evaporator air out", What::evaporator_air_out_temp},
    Word{"supply air", What::evaporator_air_out_temp},
    Word{"discharge air", What::evaporator_air_out_temp},
    Word{"air off", What::evaporator_air_out_temp},
    Word{"condenser air", What::condenser_air_out_temp},
    Word{"air off condenser", What::condenser_air_out_temp},
    Word{"condenser middle", What::condenser_middle_temp},
    Word{"condens", What::condenser_middle_temp},
    Word{"cond temp", What::condenser_middle_temp},
    Word{"cond ", What::condenser_middle_temp},
    Word{"liquid line", What::liquid_line_temp},
    Word{"liquid", What::liquid_line_temp},
    Word{"ligne liquide", What::liquid_line_temp},
    Word{"suction line", What::suction_line_temp},
    Word{"suction temp", What::suction_line_temp},
    Word{"discharge line", What::discharge_line_temp},
    Word{"discharge temp", What::discharge_line_temp},
    Word{"hot gas", What::discharge_line_temp},
    Word{"suction pressure", What::suction_pressure},
    Word{"discharge pressure", What::discharge_pressure},
    Word{"low pressure", What::suction_pressure},
    Word{"high pressure", What::discharge_pressure},
    Word{"low side", What::suction_pressure},
    Word{"high side", What::discharge_pressure},
    Word{"basse pression", What::suction_pressure},
    Word{"haute pression", What::discharge_pressure},
    Word{"baja", What::suction_pressure},
    Word{"alta", What::discharge_pressure},
    Word{"head", What::discharge_pressure},
    Word{"superheat", What::superheat},
    Word{"sobrecalentamiento", What::superheat},
    Word{"surchauffe", What::superheat},
    Word{"shell", What::shell_temp},
    Word{"dome", What::shell_temp},
    Word{"compressor temp", What::shell_temp},
    Word{"coil", What::coil_temp},
    Word{"evaporat", What::coil_temp},
    Word{"evaporad", What::coil_temp},
    Word{"vaporat", What::coil_temp},
    Word{"verdampf", What::coil_temp},
    Word{"evap", What::coil_temp},
    Word{"defrost probe", What::coil_temp},
    Word{"fin ", What::coil_temp},
    Word{"ambient", What::ambient_temp},
    Word{"ambiente", What::ambient_temp},
    Word{"ambiance", What::ambient_temp},
    Word{"room", What::ambient_temp},
    Word{"kitchen", What::ambient_temp},
    Word{"outside", What::ambient_temp},
    Word{"outdoor", What::ambient_temp},
    Word{"umgebung", What::ambient_temp},
    Word{"door", What::door},
    Word{"puerta", What::door},
    Word{"porte", What::door},
    Word{"humidity", What::other},
    Word{"humedad", What::other},
    Word{"humidit\xC3\xA9", What::other},
    Word{"feuchte", What::other},
    Word{"battery", What::other},
    Word{"rssi", What::other},
    Word{"factor", What::other},
    Word{"frequency", What::other},
    Word{"cost", What::other},
    Word{"power", What::power},
    Word{"watt", What::power},
    Word{"potencia", What::power},
    Word{"puissance", What::power},
    Word{"leistung", What::power},
    Word{"demand", What::power},
    Word{"current", What::current},
    Word{"amp", What::current},
    Word{"corriente", What::current},
    Word{"intensidad", What::current},
    Word{"courant", What::current},
    Word{"strom", What::current},
    Word{"volt", What::voltage},
    Word{"tension", What::voltage},
    Word{"spannung", What::voltage},
    Word{"suction", What::suction_pressure},
    Word{"succi", What::suction_pressure},
    Word{"aspira", What::suction_pressure},
    Word{"discharge", What::discharge_pressure},
    Word{"descarga", What::discharge_pressure},
    Word{"refoulement", What::discharge_pressure},
    Word{"box", What::box_temp},
    Word{"cabinet", What::box_temp},
    Word{"return air", What::box_temp},
    Word{"air on", What::box_temp},
    Word{"inside", What::box_temp},
    Word{"innen", What::box_temp},
    Word{"interior", What::box_temp},
    Word{"mueble", What::box_temp},
    Word{"meuble", What::box_temp},
    Word{"product", What::box_temp},
    Word{"compartment", What::box_temp},
    Word{"comp", What::power},
    Word{" lp ", What::suction_pressure},
    Word{" hp ", What::discharge_pressure},
    Word{" bp ", What::suction_pressure},
};

bool any_of(std::string_view header, std::initializer_list<std::string_view> words) {
  return std::any_of(words.begin(), words.end(),
                     [&](std::string_view word) { return header.find(word) != std::string_view::npos; });
}

}  // namespace

std::string with_blanks(std::string_view header) {
  std::string out = " ";
  char before = ' ';
  for (const char c : header) {
    const bool sign = c == '_' || c == '-' || c == '.' || c == '/' || c == '(' || c == '[' || c == ')' ||
                      c == ']' || c == ':' || c == ',';
    const bool capital = c >= 'A' && c <= 'Z' && before >= 'a' && before <= 'z';
    if (capital) out += ' ';
    out += sign ? ' ' : c;
    before = c;
  }
  return base::lower(out + " ");
}

std::optional<What> what_in(const std::string& header) {
  for (const Word& word : kHeaderWords)
    if (header.find(word.text) != std::string::npos) return word.what;
  return std::nullopt;
}

bool names_machine(std::string_view header) {
  return any_of(header, {"fridge", "freezer", "refriger", "cooler", "nevera", "heladera", "congelador",
                         "frigo", "cong\xC3\xA9lateur", "k\xC3\xBChl", "kuehl", "gefrier", "compres",
                         "kompressor", "icebox", "ice box", "vitrin", "appliance"});
}

bool names_whole(std::string_view header) {
  return any_of(header, {"total", " main", "house", "whole", " solar ", "building", "general"});
}

bool names_sensor(std::string_view header) {
  return any_of(header, {"sensor", "topic", "channel", "probe", "signal", "variable", "measurement", " tag ",
                         " point ", " name "});
}

bool names_energy(std::string_view header) {
  return any_of(header, {"energy", "energ\xC3\xAD", "nergie", "kwh", " wh ", "consum", "verbrauch",
                         "z\xC3\xA4hler", "zaehler", "meter reading", "contador", "compteur"});
}

}  // namespace coldwright::traces
