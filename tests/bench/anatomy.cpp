// SPDX-License-Identifier: GPL-3.0-or-later
// Where the time of a check goes, measured from outside the tool: the linker puts the functions below in front of the tool's
// own (`--wrap`, see CMakeLists.txt), so the measured code is the released code. In one process, on the parts engine.
// Usage: anatomy PLAN: prints JSON: CPU seconds of reading and checking, of each step, and of everything that the Dehn
// invariant needs; resident memory after each step; and every kind of arithmetic, counted and priced with operands of this
// very run.
#include "bench_plan.hpp"
#include "dehn/dehn_sum.hpp"
#include "dehn/invariant.hpp"
#include "verify/check.hpp"
#include "verify/measure.hpp"

#include <sys/resource.h>

#include <unistd.h>
#include <ctime>
#include <fstream>
#include <iostream>

namespace cutproof {
namespace {

double now() {
  timespec time;
  clock_gettime(CLOCK_PROCESS_CPUTIME_ID, &time);
  return static_cast<double>(time.tv_sec) + 1e-9 * static_cast<double>(time.tv_nsec);
}

/// Kilobytes in memory at this moment.
long resident() {
  long size = 0, pages = 0;
  std::ifstream("/proc/self/statm") >> size >> pages;
  return pages * (sysconf(_SC_PAGESIZE) / 1024);
}

/// How often one kind of operation was done, and some of the operands that it was done with.
struct Operation {
  explicit Operation(const char* called) : name(called) {}
  const char* name;
  long count = 0;
  std::vector<std::pair<Number, Number>> samples;

  void note(const Number& a, const Number& b) {
    if (!noting) return;
    // Every tenth while few are kept, then ever fewer: all parts of a run are seen.
    if (++count % stride != 0) return;
    if (samples.size() == 2000) {
      for (std::size_t i = 0; i < 1000; ++i) samples[i] = std::move(samples[2 * i]);
      samples.resize(1000);
      stride *= 2;
    }
    samples.emplace_back(a, b);
  }
  static bool noting;

 private:
  long stride = 10;
};
bool Operation::noting = false;

Operation addition{"addition"}, subtraction{"subtraction"}, multiplication{"multiplication"},
    product_in_sum{"product in a sum"}, division{"division"}, negation{"negation"}, comparison{"comparison"},
    equality{"equality"}, undecided_sign{"sign left open by the enclosure"};

double dehn_seconds = 0;
long dehn_calls = 0, dehn_depth = 0;

class DehnClock {
 public:
  DehnClock() : begin_(dehn_depth++ == 0 ? now() : 0) { ++dehn_calls; }
  ~DehnClock() {
    if (--dehn_depth == 0) dehn_seconds += now() - begin_;
  }

 private:
  double begin_;
};

}  // namespace
}  // namespace cutproof

using namespace cutproof;

// --- in front of the tool's own functions ---------------------------------------------------------------------------------

#define IN_FRONT_OF(result, symbol, parameters) \
  extern "C" result __real_##symbol parameters; \
  extern "C" result __wrap_##symbol parameters

IN_FRONT_OF(void, _ZN8cutproof9add_pieceERNS_7DehnSumERNS_6EngineERKSt10shared_ptrIKNS_11EngineSolidEEi,
            (DehnSum & sum, Engine& engine, const Solid& piece, int times)) {
  const DehnClock clock;
  __real__ZN8cutproof9add_pieceERNS_7DehnSumERNS_6EngineERKSt10shared_ptrIKNS_11EngineSolidEEi(sum, engine, piece, times);
}
using Terms = std::map<int, Number>;
IN_FRONT_OF(const Terms&, _ZNK8cutproof7DehnSum5termsEv, (const DehnSum* sum)) {
  const DehnClock clock;
  return __real__ZNK8cutproof7DehnSum5termsEv(sum);
}
IN_FRONT_OF(bool, _ZN8cutproof7is_zeroERKNS_7DehnSumE, (const DehnSum& sum)) {
  const DehnClock clock;
  return __real__ZN8cutproof7is_zeroERKNS_7DehnSumE(sum);
}
IN_FRONT_OF(std::vector<CountedEdge>, _ZN8cutproof13counted_edgesERKNS_8BoundaryEi, (const Boundary& boundary, int times)) {
  const DehnClock clock;
  return __real__ZN8cutproof13counted_edgesERKNS_8BoundaryEi(boundary, times);
}
IN_FRONT_OF(DehnInvariant, _ZN8cutproof12invariant_ofESt6vectorINS_11CountedEdgeESaIS1_EERKNS_5FieldE,
            (std::vector<CountedEdge> edges, const Field& field)) {
  const DehnClock clock;
  return __real__ZN8cutproof12invariant_ofESt6vectorINS_11CountedEdgeESaIS1_EERKNS_5FieldE(std::move(edges), field);
}
IN_FRONT_OF(DehnValue, _ZN8cutproof8to_valueERKNS_13DehnInvariantE, (const DehnInvariant& invariant)) {
  const DehnClock clock;
  return __real__ZN8cutproof8to_valueERKNS_13DehnInvariantE(invariant);
}

IN_FRONT_OF(Number, _ZN8cutproofplERKNS_6NumberES2_, (const Number& a, const Number& b)) {
  addition.note(a, b);
  return __real__ZN8cutproofplERKNS_6NumberES2_(a, b);
}
IN_FRONT_OF(Number, _ZN8cutproofmiERKNS_6NumberES2_, (const Number& a, const Number& b)) {
  subtraction.note(a, b);
  return __real__ZN8cutproofmiERKNS_6NumberES2_(a, b);
}
IN_FRONT_OF(Number, _ZN8cutproofmlERKNS_6NumberES2_, (const Number& a, const Number& b)) {
  multiplication.note(a, b);
  return __real__ZN8cutproofmlERKNS_6NumberES2_(a, b);
}
IN_FRONT_OF(Number, _ZN8cutproof15sum_of_productsESt16initializer_listINS_7ProductEE,
            (std::initializer_list<Product> terms)) {
  if (terms.size() > 1)  // a sum of one was counted as a multiplication
    for (const Product& each : terms) product_in_sum.note(*each.left, *each.right);
  return __real__ZN8cutproof15sum_of_productsESt16initializer_listINS_7ProductEE(terms);
}
IN_FRONT_OF(Number, _ZN8cutproofngERKNS_6NumberE, (const Number& a)) {
  negation.note(a, a);
  return __real__ZN8cutproofngERKNS_6NumberE(a);
}
IN_FRONT_OF(Number, _ZN8cutproof6divideERKNS_6NumberES2_, (const Number& a, const Number& b)) {
  division.note(a, b);
  return __real__ZN8cutproof6divideERKNS_6NumberES2_(a, b);
}
IN_FRONT_OF(int, _ZN8cutproof7compareERKNS_6NumberES2_, (const Number& a, const Number& b)) {
  comparison.note(a, b);
  return __real__ZN8cutproof7compareERKNS_6NumberES2_(a, b);
}
IN_FRONT_OF(bool, _ZN8cutproofeqERKNS_6NumberES2_, (const Number& a, const Number& b)) {
  equality.note(a, b);
  return __real__ZN8cutproofeqERKNS_6NumberES2_(a, b);
}
IN_FRONT_OF(int, _ZNK8cutproof6Number10exact_signEv, (const Number* a)) {
  undecided_sign.note(*a, *a);
  return __real__ZNK8cutproof6Number10exact_signEv(a);
}

// --- the run --------------------------------------------------------------------------------------------------------------

namespace {

/// CPU seconds of one operation, the mean over the kept operands; of several rounds the fastest, since others disturb only
/// upwards.
template <class Apply>
double price(const Operation& operation, Apply apply) {
  if (operation.samples.empty()) return 0;
  double best = 1e9;
  for (int round = 0; round < 7; ++round) {
    const double begin = now();
    for (const auto& [a, b] : operation.samples) apply(a, b);
    best = std::min(best, (now() - begin) / static_cast<double>(operation.samples.size()));
  }
  return best;
}

template <class Apply>
void print(const Operation& operation, Apply apply, const char* end = ",\n", int operations_at_once = 1) {
  const double each = price(operation, apply) / operations_at_once;
  std::cout << "    \"" << operation.name << "\": {\"count\": " << operation.count << ", \"nanoseconds\": " << 1e9 * each
            << "}" << end;
}

}  // namespace

int main(int count, char** arguments) {
  if (count != 2) return 2;
  const double begin = now();
  const ExactPlan plan = read_bench_plan(arguments[1]);
  const double read = now();
  const std::unique_ptr<Engine> engine = make_parts_engine();
  std::vector<std::pair<double, long>> steps;
  std::size_t most_pieces = 0;
  CheckOptions options;
  options.progress = [&](const CheckResult& so_far) {
    steps.emplace_back(now() - read, resident());
    if (!so_far.steps.empty()) most_pieces = std::max(most_pieces, so_far.steps.back().pieces_after);
  };
  Operation::noting = true;
  const CheckResult result = check_plan(plan, *engine, options);
  Operation::noting = false;
  const double checked = now();
  if (dehn_calls == 0 || multiplication.count == 0) {
    std::cerr << "anatomy: the tool's functions have other names now: see CMakeLists.txt\n";
    return 4;
  }
  std::cout << "{ \"outcome\": \"" << outcome_word(result.outcome) << "\", \"pieces\": " << most_pieces
            << ", \"degree\": " << plan.field->degree() << ",\n  \"reading\": " << read - begin
            << ", \"checking\": " << checked - read << ", \"dehn\": " << dehn_seconds << ",\n  \"steps\": [";
  for (std::size_t i = 0; i < steps.size(); ++i)
    std::cout << (i ? ", " : "") << "[" << steps[i].first << ", " << steps[i].second << "]";
  std::cout << "],\n  \"operations\": {\n";
  print(addition, [](const Number& a, const Number& b) { return a + b; });
  print(subtraction, [](const Number& a, const Number& b) { return a - b; });
  print(multiplication, [](const Number& a, const Number& b) { return a * b; });
  // With their additions, the reduction and the greatest common divisor: a third of a sum of three.
  print(
      product_in_sum,
      [](const Number& a, const Number& b) {
        return sum_of_products({{&a, &b}, {&a, &b}, {&a, &b}});
      },
      ",\n", 3);
  print(division, [](const Number& a, const Number& b) { return divide(a, b); });
  print(negation, [](const Number& a, const Number&) { return -a; });
  print(comparison, [](const Number& a, const Number& b) { return compare(a, b); });
  print(equality, [](const Number& a, const Number& b) { return a == b; });
  // The kept operands were copied before the sign was found.
  print(
      undecided_sign, [](const Number& a, const Number&) { return Number(a).sign(); }, "\n");
  std::cout << "  } }\n";
  return result.outcome == Outcome::verified ? 0 : 1;
}
