// A share as bytes. Only ever read by the program that wrote them, so the layout is the compiler's own; the
// fingerprint holds what tells two programs and two cases apart.
#include <cstring>
#include <type_traits>

#include "diagnosis/pool.hpp"

namespace coldwright::diagnosis {
namespace {

constexpr std::uint64_t kMark = 0x6572616873776343;  // "Ccwshare"
constexpr double kWeighsNothing =
    1e-12;  // beyond what any observation's chance can lift it by (evidence.cpp)

class Writer {
 public:
  template <class T>
  void put(const T& value) {
    static_assert(std::is_trivially_copyable_v<T>);
    bytes_.append(reinterpret_cast<const char*>(&value), sizeof value);
  }
  template <class T>
  void put_all(const std::vector<T>& values) {
    static_assert(std::is_trivially_copyable_v<T>);
    put(static_cast<std::uint32_t>(values.size()));
    bytes_.append(reinterpret_cast<const char*>(values.data()), values.size() * sizeof(T));
  }
  std::string take() { return std::move(bytes_); }

 private:
  std::string bytes_;
};

/// Reads what Writer wrote; once anything is missing, everything reads as zero and ok() is false.
class Reader {
 public:
  explicit Reader(std::string_view bytes) : left_(bytes) {}
  template <class T>
  T get() {
    T value{};
    copy(&value, sizeof value);
    return value;
  }
  template <class T>
  std::vector<T> get_all() {
    const std::size_t count = get<std::uint32_t>();
    if (!ok_ || count > left_.size() / sizeof(T)) {
      ok_ = false;
      return {};
    }
    std::vector<T> values(count);
    copy(values.data(), count * sizeof(T));
    return values;
  }
  bool ok() const { return ok_; }
  bool at_end() const { return left_.empty(); }

 private:
  void copy(void* to, std::size_t size) {
    if (!ok_ || size > left_.size()) {
      ok_ = false;
      return;
    }
    if (size > 0) std::memcpy(to, left_.data(), size);
    left_.remove_prefix(size);
  }
  std::string_view left_;
  bool ok_ = true;
};

struct Kept {
  Simulated sim;
  double weight;
};

void put_particles(Writer& out, const std::vector<Particle>& particles, bool all) {
  std::vector<Kept> kept;
  for (const Particle& p : particles) {
    if (!all && !(p.weight > kWeighsNothing)) continue;
    kept.push_back({p.sim, p.weight});
    kept.back().sim.point.summary.why = {};  // the one member that points elsewhere
  }
  out.put_all(kept);
}

std::vector<Particle> get_particles(Reader& in) {
  std::vector<Particle> particles;
  for (const Kept& kept : in.get_all<Kept>()) {
    particles.emplace_back();
    particles.back().sim = kept.sim;
    particles.back().weight = kept.weight;
  }
  return particles;
}

void put_linear(Writer& out, const Linear& l) {
  out.put(l.ok);
  if (!l.ok) return;
  out.put(l.at);
  out.put_all(l.slope);
  out.put_all(l.residual);
  out.put(l.log_likelihood);
  out.put(l.solution);
  out.put(l.mode);
  out.put(l.complaint);
}

Linear get_linear(Reader& in) {
  Linear l;
  l.ok = in.get<bool>();
  if (!l.ok) return l;
  l.at = in.get<Latents>();
  l.slope = in.get_all<double>();
  l.residual = in.get_all<double>();
  l.log_likelihood = in.get<double>();
  l.solution = in.get<circuit::Solution>();
  l.mode = in.get<Mode>();
  l.complaint = in.get<double>();
  return l;
}

}  // namespace

std::string to_bytes(const Share& share, const Investigation& investigation, std::uint64_t fingerprint) {
  Writer out;
  out.put(kMark);
  out.put(fingerprint);
  out.put(share.population);
  out.put(share.population_paired);
  put_particles(out, share.sound, true);
  out.put(share.posterior.solves);
  out.put(share.posterior.unsolved);
  out.put(share.posterior.remedies);
  out.put(static_cast<std::uint32_t>(share.posterior.items.size()));
  for (const HypothesisPosterior& p : share.posterior.items) {
    out.put(static_cast<std::uint32_t>(investigation.place_of(p.hypothesis)));
    out.put(p.log_evidence);
    out.put(p.log_complaint);
    out.put(p.effective_size);
    out.put(p.rounds);
    out.put(p.counts_for);
    put_linear(out, p.linear);
    put_particles(out, p.particles, false);
  }
  return out.take();
}

std::optional<Share> from_bytes(std::string_view bytes, const Investigation& investigation,
                                std::uint64_t fingerprint) {
  Reader in(bytes);
  if (in.get<std::uint64_t>() != kMark || in.get<std::uint64_t>() != fingerprint) return std::nullopt;
  Share share;
  share.population = in.get<int>();
  share.population_paired = in.get<int>();
  share.sound = get_particles(in);
  share.posterior.solves = in.get<int>();
  share.posterior.unsolved = in.get<int>();
  share.posterior.remedies = in.get<int>();
  const std::uint32_t items = in.get<std::uint32_t>();
  const auto& hypotheses = investigation.hypotheses();
  for (std::uint32_t i = 0; in.ok() && i < items; ++i) {
    HypothesisPosterior p;
    const std::uint32_t place = in.get<std::uint32_t>();
    if (place >= hypotheses.size()) return std::nullopt;
    p.hypothesis = hypotheses[place];
    p.log_evidence = in.get<double>();
    p.log_complaint = in.get<double>();
    p.effective_size = in.get<double>();
    p.rounds = in.get<int>();
    p.counts_for = in.get<int>();
    p.linear = get_linear(in);
    p.particles = get_particles(in);
    share.posterior.items.push_back(std::move(p));
  }
  if (!in.ok() || !in.at_end() || share.posterior.items.empty()) return std::nullopt;
  normalise(share.posterior);
  return share;
}

}  // namespace coldwright::diagnosis
