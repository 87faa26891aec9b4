// SPDX-License-Identifier: GPL-3.0-or-later
#include "plan/lemmas.hpp"

#include "number/nearest.hpp"
#include "plan/complaints.hpp"
#include "plan/no_names.hpp"
#include "plan/step_reader.hpp"

#include <algorithm>
#include <cmath>
#include <exception>
#include <set>

namespace cutproof {

namespace {

constexpr int most_nested = 20;

/// The places of a tree that is a part of another.
class PartPlaces final : public Places {
 public:
  explicit PartPlaces(const Places& whole) : whole_(whole) {}
  TextPlace place(std::size_t position) const override { return whole_.place(position); }
  std::string in_words(std::size_t position) const override { return whole_.in_words(position); }
  Diagnostic diagnostic(std::size_t begin, std::size_t end, std::string message, std::string hint) const override {
    return whole_.diagnostic(begin, end, std::move(message), std::move(hint));
  }
  std::size_t origin(const Node& scalar, std::size_t offset) const override { return whole_.origin(scalar, offset); }

 private:
  const Places& whole_;
};

Document part_of(const LemmaText& text) {
  return Document(std::make_unique<const PartPlaces>(text.document->places()), *text.root);
}

std::string key_of(GivenValues values) {
  std::sort(values.begin(), values.end());
  std::string key;
  for (const auto& [name, value] : values) key += name + "=" + value + "\n";
  return key;
}

/// The `use` keys in the steps of a plan, as they stand.
void collect_uses(const Node& node, std::vector<const Node*>& uses) {
  for (const Node::Entry& entry : node.entries) {
    if (entry.key == "use" && entry.value.is_scalar()) uses.push_back(&entry.value);
    collect_uses(entry.value, uses);
  }
}

std::vector<const Node*> uses_in(const LemmaText& text) {
  std::vector<const Node*> uses;
  if (const Node* steps = text.root->find("steps")) collect_uses(*steps, uses);
  return uses;
}

/// Whether the text of a value holds rational numbers alone.
bool is_plain(const std::string& value) {
  return value.find_first_not_of("0123456789/-[], ") == std::string::npos;
}

/// A double near to a sum made of values: only values with sums near to each other are compared.
double size_of(const GivenValues& values, int dimension, const NumberLimits& limits) {
  NoNames nothing(dimension);
  double sum = 0, factor = 1;
  for (const auto& each : values) {
    FieldTower tower(limits);
    const ExactValue value = evaluate(*parse_expression(each.second), nothing, tower);
    const auto add = [&](const Number& number) { sum += (factor *= 1.25) * nearest_double(number); };
    if (const auto* number = std::get_if<Number>(&value)) add(*number);
    if (const auto* vector = std::get_if<Vector3>(&value)) {
      add(vector->x);
      add(vector->y);
      add(vector->z);
    }
  }
  return sum;
}

bool same_value(const std::string& a, const std::string& b, int dimension, const NumberLimits& limits) {
  if (a == b) return true;
  NoNames nothing(dimension);
  try {
    FieldTower tower(limits);
    const ExactValue first = evaluate(*parse_expression(a), nothing, tower);
    const ExactValue second = evaluate(*parse_expression(b), nothing, tower);
    if (first.index() != second.index()) return false;
    const auto same = [&](const Number& x, const Number& y) { return tower.lifted(x) == tower.lifted(y); };
    if (const auto* number = std::get_if<Number>(&first)) return same(*number, std::get<Number>(second));
    const auto* u = std::get_if<Vector3>(&first);
    if (u == nullptr) return false;  // angles are written in one way
    const auto& v = std::get<Vector3>(second);
    return same(u->x, v.x) && same(u->y, v.y) && same(u->z, v.z);
  } catch (const InvalidInput&) {
    return false;
  } catch (const LimitReached&) {
    return false;  // the lemma is checked once more than is needed
  }
}

}  // namespace

// --- texts ----------------------------------------------------------------------------------------------------------------

std::optional<int> LemmaText::version_around() const {
  if (around == nullptr) return std::nullopt;
  const std::optional<int> outer = around->version_around();
  if (outer) return outer;
  const Node* version = around->root->find("cutproof");
  return version != nullptr && version->is_scalar() && version->text == "1" ? 1 : newest_version;
}

int LemmaText::dimension_around() const {
  if (around == nullptr) return 3;
  const Node* dimension = around->root->find("dimension");
  if (dimension == nullptr || !dimension->is_scalar()) return around->dimension_around();
  return dimension->text == "2" ? 2 : 3;
}

bool LemmaText::allows_mirror() const {
  if (around == nullptr) return false;
  const Node* mirror = around->root->find("mirror");
  return mirror == nullptr ? around->allows_mirror() : mirror->is_scalar() && mirror->text == "allow";
}

std::vector<std::string> LemmaText::known_names() const {
  std::vector<std::string> names;
  for (const LemmaText* plan = this; plan != nullptr; plan = plan->around)
    if (const Node* section = plan->root->find("lemmas"))
      for (const Node::Entry& entry : section->entries) names.push_back(entry.key);
  return names;
}

std::vector<std::string> LemmaText::parameters() const {
  std::vector<std::string> names;
  if (const Node* section = root->find("parameters"))
    for (const Node::Entry& entry : section->entries) names.push_back(entry.key);
  return names;
}

/// What reading a lemma came to.
struct LemmaLibrary::Outcome {
  std::shared_ptr<const Lemma> lemma;
  std::exception_ptr error;
};

LemmaLibrary::LemmaLibrary(const ReadLimits& limits) : limits_(limits) {}
LemmaLibrary::~LemmaLibrary() = default;

LemmaText& LemmaLibrary::add(LemmaText text) {
  texts_.push_back(std::move(text));
  return texts_.back();
}

LemmaText& LemmaLibrary::top(const Document& document) {
  LemmaText text;
  text.document = &document;
  text.root = &document.root();
  text.meshes = limits_.meshes;
  return add(std::move(text));
}

LemmaText* LemmaLibrary::find(const LemmaText& from, const std::string& name) {
  const LemmaText* plan = &from;
  const Node* value = nullptr;
  for (; plan != nullptr; plan = plan->around) {
    const Node* section = plan->root->find("lemmas");
    if (section != nullptr) value = section->find(name);
    if (value != nullptr) break;
  }
  if (value == nullptr || value->is_broken() || value->is_sequence()) return nullptr;
  if (value->is_scalar()) {
    if (plan->meshes == nullptr)
      throw InvalidInput("the lemma `" + name + "` is a file, and no files are read here", "write the plan there instead");
    const SideFiles::File& file = plan->meshes->files().read(value->text);
    LemmaText*& known = by_file_[file.path];
    if (known == nullptr) {
      try {
        documents_.push_back(read_document(file.bytes, limits_.document));
      } catch (const InvalidPlan& error) {
        const Diagnostic& first = error.diagnostics().front();
        throw InvalidInput("the lemma `" + name + "` is invalid: " + value->text + ":" + std::to_string(first.line) + ":" +
                               std::to_string(first.column) + ": " + first.message,
                           first.hint);
      }
      LemmaText text;
      text.name = name;
      text.file = file.path;
      text.written = value->text;
      text.sha256 = file.sha256;
      text.meshes = std::make_shared<Meshes>(plan->meshes->files().beside(value->text), limits_.numbers.max_bits);
      text.document = &documents_.back();
      text.root = &documents_.back().root();
      known = &add(std::move(text));
    }
    return known;
  }
  LemmaText*& known = by_root_[value];
  if (known == nullptr) {
    LemmaText text = *plan;
    text.name = name;
    text.root = value;
    text.around = plan;
    known = &add(std::move(text));
  }
  return known;
}

// --- what there is to read ------------------------------------------------------------------------------------------------

/// Goes through what lemmas use, without reading them.
class LemmaLibrary::Walk {
 public:
  explicit Walk(LemmaLibrary& library) : library_(library) {}

  /// How deeply lemmas are nested in it; throws InvalidInput where one reaches itself.
  int depth(LemmaText& text) {
    const auto known = depths_.find(&text);
    if (known != depths_.end()) return known->second;
    int deepest = 0;
    open_.emplace_back(&text);
    for (const Node* use : uses_in(text)) {
      LemmaText* lemma = found(text, use->text);
      if (lemma == nullptr) continue;
      if (std::find(open_.begin(), open_.end(), lemma) != open_.end()) fail(*lemma, use->text);
      deepest = std::max(deepest, 1 + depth(*lemma));
    }
    open_.pop_back();
    return depths_[&text] = deepest;
  }
  /// Forgets what was open when an error was thrown.
  void reset(LemmaText& top) { open_ = {&top}; }

  LemmaText* found(const LemmaText& from, const std::string& name) const {
    try {
      return library_.find(from, name);
    } catch (const InvalidInput&) {
    } catch (const LimitReached&) {
    }
    return nullptr;  // it is told where it is read
  }

  /// Counts sets of values, those that are used by fewest others first.
  void count_sets(LemmaText& top, const ParameterChoice& choice) {
    const std::size_t most = library_.limits_.repetition.max_passes;
    std::set<std::pair<const LemmaText*, std::string>> known;
    std::deque<std::pair<LemmaText*, ParameterChoice>> open{{&top, choice}};
    for (; !open.empty(); open.pop_front()) {
      auto& [text, values] = open.front();
      for_each_use(*text, values, [&](LemmaText& lemma, const GivenValues& given) {
        if (!known.emplace(&lemma, key_of(given)).second) return;
        if (known.size() > most)
          throw LimitReached("max-passes",
                             "lemmas are used with more than " + std::to_string(most) + " sets of values in all",
                             "does a loop run longer than it is meant to? --max-passes raises the limit");
        ParameterChoice next;
        next.set = given;
        open.emplace_back(&lemma, std::move(next));
      });
    }
  }

 private:
  [[noreturn]] void fail(const LemmaText& lemma, const std::string& name) const {
    std::string way;
    const auto first = std::find(open_.begin(), open_.end(), &lemma);
    for (auto each = first; each != open_.end(); ++each) {
      const std::string next = each + 1 == open_.end() ? name : (*(each + 1))->name;
      way += (way.empty() ? "" : ", ") + ("`" + (*each)->name + "`") + " uses `" + next + "`";
    }
    if (name != lemma.name) way += ", which is `" + lemma.name + "`";
    throw InvalidInput("the lemma `" + lemma.name + "` reaches itself: " + way,
                       "a lemma is proved by others, never by itself");
  }

  void for_each_use(LemmaText& text, const ParameterChoice& choice, const StepReader::UseOfLemma& tell) {
    if (uses_in(text).empty()) return;
    Document document = part_of(text);
    ReachedLimits reached;
    try {
      PlanIndex index(document, library_.limits_.repetition, text.meshes.get(), text.version_around(),
                      text.dimension_around());
      ParameterValues values;
      choose_parameters(index, choice, library_.limits_.numbers, reached, &values);
      FieldTower tower(library_.limits_.numbers);
      Resolver resolver(index, tower, reached);
      StepReader(index, resolver, library_, text).for_each_use(tell);
    } catch (const Recorded&) {
    } catch (const InvalidInput&) {
    }
  }

  LemmaLibrary& library_;
  std::map<const LemmaText*, int> depths_;
  std::vector<const LemmaText*> open_;
};

void LemmaLibrary::check(LemmaText& top, PlanIndex& index, const ParameterChoice& choice) {
  std::vector<std::pair<std::string, const Node*>> ways;
  for (const Node* use : uses_in(top)) ways.emplace_back(use->text, use);
  if (const Node* section = top.root->find("lemmas"))  // also what nothing uses
    for (const Node::Entry& entry : section->entries) ways.emplace_back(entry.key, &entry.value);
  Walk walk(*this);
  for (const auto& [name, place] : ways) {
    walk.reset(top);
    LemmaText* lemma = walk.found(top, name);
    if (lemma == nullptr) continue;
    int depth = 0;
    try {
      depth = 1 + walk.depth(*lemma);
    } catch (const InvalidInput& error) {
      index.fail(*place, told(error).sentence, told(error).hint);
    }
    if (depth > most_nested)
      throw LimitReached("lemma-nesting",
                         "lemmas are nested " + std::to_string(depth) + " deep; the limit is " + std::to_string(most_nested),
                         "let a plan use fewer lemmas of lemmas");
  }
  walk.count_sets(top, choice);
}

bool LemmaLibrary::is_used(const LemmaText& text, const std::string& name) {
  std::vector<const Node*> uses = uses_in(text);
  if (const Node* section = text.root->find("lemmas")) collect_uses(*section, uses);
  return std::any_of(uses.begin(), uses.end(), [&](const Node* use) { return use->text == name; });
}

// --- reading --------------------------------------------------------------------------------------------------------------

std::shared_ptr<const Lemma> LemmaLibrary::known_with(const LemmaText& text, const GivenValues& values, int dimension) {
  const auto known = by_values_.find({&text, key_of(values)});
  if (known != by_values_.end()) return known->second;
  // Other texts may write the same values; rational ones are written in one way.
  if (std::all_of(values.begin(), values.end(), [](const auto& value) { return is_plain(value.second); })) return nullptr;
  const double size = size_of(values, dimension, limits_.numbers), margin = 1e-6 * (1 + std::fabs(size));
  const auto& sizes = by_size_[&text];
  for (auto other = sizes.lower_bound(size - margin); other != sizes.end() && other->first <= size + margin; ++other) {
    const GivenValues& others = other->second->values;
    if (std::equal(others.begin(), others.end(), values.begin(), values.end(), [&](const auto& a, const auto& b) {
          return a.first == b.first && same_value(a.second, b.second, dimension, limits_.numbers);
        }))
      return other->second;
  }
  return nullptr;
}

std::shared_ptr<const Lemma> LemmaLibrary::read(LemmaText& text, const GivenValues& given) {
  std::unique_ptr<Outcome>& outcome = read_[{&text, key_of(given)}];
  if (outcome == nullptr) {
    outcome = std::make_unique<Outcome>();
    try {
      Document document = part_of(text);
      if (text.around == nullptr)
        for (const Diagnostic& each : text.document->diagnostics()) document.error(each);
      ReadLimits limits = limits_;
      limits.parameters = {};
      limits.parameters.set = given;
      limits.parameters.of_lemma = true;
      limits.meshes = text.meshes;
      ParameterValues values;
      ExactPlan plan = read_tree(document, text, *this, limits, &values);
      outcome->lemma = known_with(text, values.values, values.dimension);
      if (outcome->lemma == nullptr) {
        auto lemma = std::make_shared<Lemma>();
        lemma->name = text.name;
        lemma->file = text.file;
        lemma->sha256 = text.sha256;
        lemma->values = values.values;
        lemma->plan = std::move(plan);
        outcome->lemma = std::move(lemma);
        by_values_[{&text, key_of(values.values)}] = outcome->lemma;
        by_size_[&text].emplace(size_of(values.values, values.dimension, limits_.numbers), outcome->lemma);
      }
    } catch (const InvalidInput&) {
      outcome->error = std::current_exception();
    } catch (const LimitReached&) {
      outcome->error = std::current_exception();
    }
  }
  if (limits_.meshes != nullptr && text.meshes != limits_.meshes)  // the report lists those of lemmas, too
    for (const MeshUse& use : text.meshes->uses()) limits_.meshes->note(use);
  if (outcome->error != nullptr) std::rethrow_exception(outcome->error);
  return outcome->lemma;
}

}  // namespace cutproof
