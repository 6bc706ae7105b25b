#include "traces/levels.hpp"

#include <algorithm>
#include <cmath>

namespace coldwright::traces {
namespace {

constexpr int kBins = 400;

double lasts(const Run& run) { return run.end - run.begin; }

/// Which level each run is at: the nearest by its own spread.
int level_at(const Levels& levels, double y) {
  int best = 0;
  double least = 1e300;
  for (std::size_t k = 0; k < levels.all.size(); ++k) {
    const double off = std::abs(y - levels.all[k].y) / levels.all[k].sd + std::log(levels.all[k].sd);
    if (off < least) {
      least = off;
      best = static_cast<int>(k);
    }
  }
  return best;
}

/// Time spent at each place of the root axis, smoothed by a Gaussian.
std::vector<double> density(const std::vector<Run>& runs, double low, double high, double width,
                            double longest) {
  std::vector<double> raw(kBins, 0.0), out(kBins, 0.0);
  const double bin = (high - low) / kBins;
  for (const Run& run : runs) {
    const int at = std::clamp(static_cast<int>((root(run.mean) - low) / bin), 0, kBins - 1);
    raw[static_cast<std::size_t>(at)] += std::min(lasts(run), longest);
  }
  const int reach = std::max(1, static_cast<int>(std::ceil(3 * width / bin)));
  for (int i = 0; i < kBins; ++i) {
    if (raw[static_cast<std::size_t>(i)] <= 0) continue;
    for (int j = std::max(0, i - reach); j <= std::min(kBins - 1, i + reach); ++j) {
      const double off = (i - j) * bin / width;
      out[static_cast<std::size_t>(j)] += raw[static_cast<std::size_t>(i)] * std::exp(-0.5 * off * off);
    }
  }
  return out;
}

/// Peaks parted by valleys of less than 60 % of the lower one.
std::vector<std::pair<int, int>> hills(const std::vector<double>& d) {
  double total = 0;
  for (const double v : d) total += v;
  std::vector<std::pair<int, int>> parts;  // first and last bin
  int begin = 0, peak = 0, valley = -1;
  for (int i = 1; i < kBins; ++i) {
    const double v = d[static_cast<std::size_t>(i)];
    if (valley < 0) {
      if (v > d[static_cast<std::size_t>(peak)]) peak = i;
      if (v < 0.6 * d[static_cast<std::size_t>(peak)]) valley = i;
      continue;
    }
    if (v < d[static_cast<std::size_t>(valley)]) valley = i;
    if (v > d[static_cast<std::size_t>(valley)] / 0.6 && v > 1e-9 * total) {
      parts.emplace_back(begin, valley);
      begin = valley + 1;
      peak = i;
      valley = -1;
    }
  }
  parts.emplace_back(begin, kBins - 1);
  return parts;
}

void measure(const std::vector<Run>& runs, const Noise& noise, Levels& out,
             const std::vector<std::pair<int, int>>& parts, double bin) {
  for (const auto& [first, last] : parts) {
    const double low = out.y_low + first * bin, high = out.y_low + (last + 1) * bin;
    const auto inside = [&, from = first, to = last](const Run& run) {
      const double y = root(run.mean);
      return (y >= low || from == 0) && (y < high || to == kBins - 1);
    };
    // Spikes of a sample or two pass through a level; what stays there tells where it is.
    double staying = 0;
    for (const Run& run : runs) staying += inside(run) && run.count > 2 ? lasts(run) : 0;
    double weight = 0, sum = 0, square = 0, value = 0;
    for (const Run& run : runs) {
      if (!inside(run) || (staying > 0 && run.count < 3)) continue;
      const double y = root(run.mean);
      const double w = lasts(run);
      weight += w;
      sum += w * y;
      square += w * y * y;
      value += w * run.mean;
    }
    if (weight <= 0) continue;
    Level level;
    level.y = sum / weight;
    level.value = value / weight;
    level.seconds = weight;
    // Never narrower than the noise, nor than what voltage and temperature move a level by: 3 % (our
    // estimate).
    const double noisy = noise.at(level.value) / std::max(2 * level.y, 1e-6);
    const double own = std::sqrt(std::max(0.0, square / weight - level.y * level.y));
    level.sd = std::max({own, std::min(noisy, 0.1 * (out.y_high - out.y_low)), 0.015 * level.y,
                         0.004 * (out.y_high - out.y_low)});
    out.all.push_back(level);
  }
}

/// Two classes parted where the variance between them is largest [otsu1979], on the root axis.
std::size_t rest_levels(const Levels& levels) {
  double best = -1;
  std::size_t at = levels.all.size();
  for (std::size_t k = 1; k < levels.all.size(); ++k) {
    double w0 = 0, w1 = 0, m0 = 0, m1 = 0;
    for (std::size_t i = 0; i < levels.all.size(); ++i) {
      (i < k ? w0 : w1) += levels.all[i].seconds;
      (i < k ? m0 : m1) += levels.all[i].seconds * levels.all[i].y;
    }
    if (w0 <= 0 || w1 <= 0) continue;
    const double apart = m1 / w1 - m0 / w0;
    const double score = w0 * w1 * apart * apart;
    if (score > best) {
      best = score;
      at = k;
    }
  }
  return at;
}

void visit(const std::vector<Run>& runs, Levels& levels, double least) {
  struct Visit {
    int level;
    double seconds, scatter;
    bool short_one;
  };
  std::vector<Visit> visits;
  for (const Run& run : runs) {
    const int at = level_at(levels, root(run.mean));
    const double s = lasts(run), scatter = run.mean > 0 ? run.sd / run.mean : 0;
    if (!visits.empty() && visits.back().level == at) {
      visits.back().seconds += s;
      visits.back().scatter = std::max(visits.back().scatter, scatter);
    } else {
      visits.push_back({at, s, scatter, false});
    }
  }
  const auto resting = [&](std::size_t i) {
    return levels.all[static_cast<std::size_t>(visits[i].level)].role == Level::Role::rest;
  };
  for (std::size_t k = 0; k < levels.all.size(); ++k) {
    Level& level = levels.all[k];
    std::vector<double> seconds, scatter;
    int beside = 0, rest = 0;
    for (std::size_t i = 0; i < visits.size(); ++i) {
      if (visits[i].level != static_cast<int>(k) || visits[i].seconds < least) continue;
      seconds.push_back(visits[i].seconds);
      scatter.push_back(visits[i].scatter);
      // What lasts a sample or two between is the edge of a step, not a neighbour.
      std::size_t before = i, after = i;
      while (before > 0 && (before == i || visits[before].seconds < 30)) --before;
      while (after + 1 < visits.size() && (after == i || visits[after].seconds < 30)) ++after;
      beside += visits[before].level > static_cast<int>(k) || visits[after].level > static_cast<int>(k);
      rest += before != i && after != i && resting(before) && resting(after);
    }
    level.visits = static_cast<int>(seconds.size());
    if (level.visits == 0) continue;
    level.beside_higher = static_cast<double>(beside) / level.visits;
    level.from_rest = static_cast<double>(rest) / level.visits;
    level.usual_visit = quantile(seconds, 0.5);
    level.flatness = quantile(scatter, 0.5);
  }
}

/// Roles from what physics and the trade say: a compressor is what most energy goes through, again and again;
/// a defrost heater stands flat, seldom, for minutes, at a level of its own (common practice: two to four
/// times a day).
void roles(Levels& out) {
  const std::size_t rest = rest_levels(out);
  for (std::size_t k = 0; k < out.all.size(); ++k)
    out.all[k].role = k < rest ? Level::Role::rest : Level::Role::run;
  if (out.all.size() < 2) {
    out.one_level = true;
    out.split_y = out.all.empty() ? 0 : out.all.front().y;
    return;
  }
  out.split_y = 0.5 * (out.all[rest - 1].y + out.all[rest].y);
  double weight = 0;
  for (std::size_t k = 0; k < rest; ++k) {
    out.rest_value += out.all[k].value * out.all[k].seconds;
    weight += out.all[k].seconds;
  }
  out.rest_value /= std::max(weight, 1e-9);
  for (Level& level : out.all) level.energy = (level.value - out.rest_value) * level.seconds;
}

/// By what share of their mean a signal's values scatter.
double scatter_of(const std::vector<Run>& runs) {
  double weight = 1e-9, sum = 0, square = 0;
  for (const Run& run : runs) {
    const double w = lasts(run);
    weight += w;
    sum += w * run.mean;
    square += w * (static_cast<double>(run.mean) * run.mean + static_cast<double>(run.sd) * run.sd);
  }
  const double mean = sum / weight;
  return std::sqrt(std::max(0.0, square / weight - mean * mean)) / std::max(std::abs(mean), 1e-9);
}

/// A compressor that changes its speed and doesn't stop: many levels one beside the other without a gap
/// between rest and running, none near zero, and it goes from each to the next rather than across.
bool changes_speed(const std::vector<Run>& runs, const Levels& levels, double least) {
  const auto& all = levels.all;
  if (all.size() < 5 || all.front().value < 0.15 * all.back().value) return false;
  double split = 0, widest = 0;
  for (std::size_t k = 1; k < all.size(); ++k) {
    const double gap = all[k].y - all[k - 1].y;
    const bool between = all[k].y > levels.split_y && all[k - 1].y <= levels.split_y;
    (between ? split : widest) = std::max(between ? split : widest, gap);
  }
  if (split > 1.5 * widest) return false;
  int last = -1, changes = 0, across = 0;
  for (const Run& run : runs) {
    if (lasts(run) < least) continue;
    const int at = level_at(levels, root(run.mean));
    if (last >= 0 && at != last) {
      ++changes;
      across += std::abs(at - last);
    }
    last = at;
  }
  return changes >= 4 && across < 1.6 * changes;
}

void heaters(Levels& out, const Noise& noise) {
  std::size_t main = 0;
  double most = -1;
  for (std::size_t k = 0; k < out.all.size(); ++k) {
    const Level& level = out.all[k];
    // Seldom and flat at the top may be the heater even where it takes more energy in a short trace.
    const double weighed = level.energy * (level.visits >= 3 ? 1.0 : 0.5);
    if (level.role == Level::Role::run && weighed > most) {
      most = weighed;
      main = k;
    }
  }
  out.run_value = out.all[main].value;
  for (std::size_t k = 0; k < out.all.size(); ++k) {
    Level& level = out.all[k];
    const double apart_by = (level.value - out.rest_value) / std::max(out.run_value - out.rest_value, 1e-9);
    if (k > main && level.visits > 0 && apart_by > 10 && level.seconds < 0.1 * out.all[main].seconds) {
      level.role = Level::Role::other;  // nothing in a cabinet draws ten times its compressor (our estimate)
      continue;
    }
    if (k == main || level.role != Level::Role::run || level.visits == 0) continue;
    const bool seldom =
        level.seconds < 0.3 * out.all[main].seconds && level.visits * 2 <= out.all[main].visits + 1;
    const bool minutes = level.usual_visit > 120 && level.usual_visit < 5400;
    const bool flat = level.flatness < 0.05 + noise.at(level.value) / std::max(level.value, 1e-9);
    const bool apart = apart_by > 1.5 || (level.from_rest > 0.7 && (apart_by > 1.15 || apart_by < 0.85));
    if (seldom && minutes && flat && apart && level.beside_higher < 0.5) level.role = Level::Role::heater;
  }
}

}  // namespace

double root(double x) { return x > 0 ? std::sqrt(x) : -std::sqrt(-x); }

Levels levels_of(const std::vector<Run>& runs, const Noise& noise, double interval) {
  Levels out;
  if (runs.empty()) return out;
  double low = 1e300, high = -1e300, seconds = 0;
  for (const Run& run : runs) seconds += lasts(run);
  // Spikes of a sample or two don't stretch the axis.
  const double lasting = std::min(std::max(20.0, 2.5 * interval), 0.02 * seconds + 1.5 * interval);
  for (const Run& run : runs) {
    if (lasts(run) < lasting && runs.size() > 3) continue;
    low = std::min(low, root(run.mean));
    high = std::max(high, root(run.mean));
  }
  if (low > high) {
    for (const Run& run : runs) {
      low = std::min(low, root(run.mean));
      high = std::max(high, root(run.mean));
    }
  }
  const double pad = std::max(0.02 * (high - low), 1e-3);
  out.y_low = low - pad;
  out.y_high = high + pad;
  const double bin = (out.y_high - out.y_low) / kBins;
  const double width = std::max(0.02 * (out.y_high - out.y_low), 1.5 * bin);
  const auto d = density(runs, out.y_low, out.y_high, width, 6 * 3600.0);
  measure(runs, noise, out, hills(d), bin);
  // What fills the whole range with its noise is one level.
  const double noisy = noise.at(runs.front().mean);
  if (high * std::abs(high) - low * std::abs(low) < 8 * noisy + 1e-9 && out.all.size() > 1) {
    Level all = out.all.front();
    for (std::size_t k = 1; k < out.all.size(); ++k) {
      const double w = out.all[k].seconds;
      all.y = (all.y * all.seconds + out.all[k].y * w) / (all.seconds + w);
      all.value = (all.value * all.seconds + out.all[k].value * w) / (all.seconds + w);
      all.sd = std::max(all.sd, out.all[k].sd) + std::abs(out.all[k].y - all.y);
      all.seconds += w;
    }
    out.all = {all};
  }
  // A level's own scatter is small beside it; else it is none, least of all where a sample holds whole
  // cycles.
  out.unparted = out.all.size() == 1 && scatter_of(runs) > (interval < 900 ? 0.25 : 0.05);
  roles(out);
  if (out.all.empty()) return out;
  if (out.one_level) {
    out.run_value = out.rest_value = out.all.front().value;
    return out;
  }
  const double least = std::max(40.0, 2.5 * interval);
  visit(runs, out, least);
  heaters(out, noise);
  out.speeds = changes_speed(runs, out, least);
  return out;
}

}  // namespace coldwright::traces
