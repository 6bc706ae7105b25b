#include "judge/row.hpp"

#include <algorithm>
#include <cmath>
#include <cstdlib>
#include <fstream>
#include <map>
#include <sstream>

#include <fmt/format.h>

#include "judge/site.hpp"

namespace coldwright::judge {
namespace {

constexpr double kWritten = 1e-5;

std::string joined(std::vector<std::string> parts) {
  std::sort(parts.begin(), parts.end());
  parts.erase(std::unique(parts.begin(), parts.end()), parts.end());
  std::string all;
  for (const std::string& p : parts) all += (all.empty() ? "" : "+") + p;
  return all.empty() ? "sound" : all;
}

std::string listed(const std::vector<std::pair<std::string, double>>& pairs, const char* format) {
  std::string all;
  for (const auto& [name, number] : pairs)
    all += (all.empty() ? "" : ",") + name + ":" + fmt::format(fmt::runtime(format), number);
  return all;
}

bool read_list(const std::string& text, std::vector<std::pair<std::string, double>>& out) {
  std::istringstream in(text);
  std::string item;
  while (std::getline(in, item, ',')) {
    const auto colon = item.find(':');
    if (colon == std::string::npos || colon == 0) return false;
    char* end = nullptr;
    const double number = std::strtod(item.c_str() + colon + 1, &end);
    if (end == item.c_str() + colon + 1 || *end != '\0') return false;
    out.emplace_back(item.substr(0, colon), number);
  }
  return !out.empty();
}

}  // namespace

std::vector<std::string> parts_of(const std::string& causes) {
  std::vector<std::string> parts;
  std::istringstream in(causes);
  for (std::string part; std::getline(in, part, '+');) parts.push_back(part);
  return parts;
}

std::optional<Row> without_pairs(const Row& row) {
  const auto left_out = [](const std::string& name) {
    return name == "moisture_freeze" || name == "pumping_lost_at_times" ||
           name.find('+') != std::string::npos;
  };
  if (row.truth.size() != 1 || left_out(row.truth.front().first)) return std::nullopt;
  Row one = row;
  std::erase_if(one.answer, [&](const auto& a) { return left_out(a.first); });
  double sum = 0;
  for (const auto& [name, p] : one.answer) sum += p;
  for (auto& [name, p] : one.answer) p /= sum;
  return sum > 0 ? std::optional(one) : std::nullopt;
}

std::string merged(const std::string& causes, Merge merge) {
  std::vector<std::string> kept;
  for (const std::string& part : parts_of(causes)) {
    if (merge != Merge::none && (part == "high_load" || part == "sound")) continue;
    kept.push_back(merge == Merge::classes && part == "not_pumping" ? "worn_valves" : part);
  }
  return joined(std::move(kept));
}

std::string truth_of(const Row& row, Merge merge) {
  std::vector<std::string> names;
  for (const auto& [name, place] : row.truth) names.push_back(name);
  return merged(joined(std::move(names)), merge);
}

std::vector<std::pair<std::string, double>> answer_of(const Row& row, Merge merge) {
  std::map<std::string, double> sums;
  for (const auto& [name, p] : row.answer) sums[merged(name, merge)] += p;
  std::vector<std::pair<std::string, double>> order(sums.begin(), sums.end());
  std::stable_sort(order.begin(), order.end(),
                   [](const auto& a, const auto& b) { return a.second > b.second; });
  return order;
}

std::vector<Row> reweighed(std::vector<Row> rows, const diagnosis::Knowledge& from,
                           const diagnosis::Knowledge& to) {
  std::map<std::string, double> ratio;  // by a cause or pair in the order of the alphabet
  for (const auto& [knowledge, sign] : {std::pair{&from, -1.0}, std::pair{&to, 1.0}})
    for (const auto& h : diagnosis::hypotheses(*knowledge, circuit::CondenserKind::finned_fan))
      ratio[merged(h.id, Merge::none)] += sign * h.log_prior;
  const auto of = [&](const std::string& causes) {
    const auto found = ratio.find(merged(causes, Merge::none));
    return found == ratio.end() ? 0 : std::exp(found->second);
  };
  for (Row& r : rows) {
    r.weight *= of(truth_of(r, Merge::none));
    double sum = 0;
    for (auto& [causes, p] : r.answer) sum += p *= of(causes);
    for (auto& [causes, p] : r.answer) p /= sum > 0 ? sum : 1;
    std::stable_sort(r.answer.begin(), r.answer.end(),
                     [](const auto& a, const auto& b) { return a.second > b.second; });
  }
  return rows;
}

Row row_of(const lab::Visit& visit, const diagnosis::Knowledge& knowledge, const Said& said) {
  Row row;
  row.cabinet = visit.archetype;
  row.steady = steady(visit);
  for (const lab::TrueCause& t : visit.truth) {
    double place = -1;
    for (const auto& c : knowledge.causes)
      if (c.id == t.id && c.measure != "none")
        place = std::clamp((t.severity - c.severity_low) / (c.severity_high - c.severity_low), 0.0, 1.0);
    row.truth.emplace_back(t.id, place);
  }
  row.effective = said.effective;
  row.solves = said.solves;
  const std::string truth = truth_of(row, Merge::none);
  for (const auto& [name, p] : said.causes)
    if (p > kWritten || merged(name, Merge::none) == truth) row.answer.emplace_back(name, p);
  return row;
}

std::string to_line(const Row& r) {
  return fmt::format("{} {} {} {} {} {} {:.1f} {:.0f} {:.1f} {}", r.source, r.visit, r.set, r.cabinet,
                     listed(r.truth, "{:.3f}"), r.steady ? 1 : 0, r.effective, r.solves, r.minutes,
                     listed(r.answer, "{:.6f}"));
}

Result<Row> row_from_line(const std::string& line) {
  std::istringstream in(line);
  Row r;
  std::string truth, answer;
  if (!(in >> r.source >> r.visit >> r.set >> r.cabinet >> truth >> r.steady >> r.effective >> r.solves >>
        r.minutes >> answer) ||
      !read_list(truth, r.truth) || !read_list(answer, r.answer))
    return Problem{"row", line.substr(0, 60), "see bench/judge/row.hpp", "it is no line of rows"};
  return r;
}

Result<std::vector<Row>> read_rows(const std::vector<std::string>& files) {
  std::vector<Row> rows;
  for (const std::string& file : files) {
    std::ifstream in(file);
    if (!in) return Problem{"rows", file, "a file that can be read", "there is none"};
    for (std::string line; std::getline(in, line);) {
      auto row = row_from_line(line);
      if (!row) return row.problem();
      rows.push_back(std::move(*row));
    }
  }
  return rows;
}

}  // namespace coldwright::judge
