// A diagnosis that grows: the use case "diagnose" in shares, drawn one after the other or in several
// instances of the program at once, and pooled into one answer that sharpens. For doors that show an answer
// before all of it is reckoned.
#pragma once

#include <cstdint>
#include <memory>
#include <string>
#include <string_view>

#include "base/result.hpp"
#include "service/use_cases.hpp"

namespace coldwright::service {

class GrowingDiagnosis {
 public:
  /// The request of "diagnose". `before`, when given, is the one that this one follows: what both need alike
  /// is taken over from it.
  static Result<std::unique_ptr<GrowingDiagnosis>> start(std::string_view request_json,
                                                         const Context& context,
                                                         const GrowingDiagnosis* before = nullptr);
  ~GrowingDiagnosis();

  /// Machines per cause that the request wants in all.
  int wanted() const;
  /// Of the shares taken so far.
  int machines() const;

  /// Draws share number `which` (each number draws other machines) and gives it as bytes for take(), here or
  /// in another instance started with the same request and moment. A Problem when progress said stop.
  Result<std::string> round(std::uint64_t which, int population, bool with_pairs) const;

  /// Adds a share. False, and nothing is changed, for bytes that are no share of this diagnosis.
  bool take(std::string_view share);

  /// The answer of "diagnose" as far as the shares taken tell.
  Result<std::string> answer() const;

 private:
  struct Held;
  explicit GrowingDiagnosis(std::unique_ptr<Held> held);
  std::unique_ptr<Held> held_;
};

}  // namespace coldwright::service
