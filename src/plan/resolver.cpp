// SPDX-License-Identifier: GPL-3.0-or-later
// Values, and what is called by a name. Planes and motions are in resolver_motions.cpp, solids in resolver_solids.cpp.
#include "plan/resolver.hpp"

#include "number/flint.hpp"
#include "plan/definition_cycles.hpp"
#include "plan/rational_polynomial.hpp"

#include <algorithm>
#include <cstdint>

namespace cutproof {

namespace {

// So many names are evaluated inside one another before the bottom of the stack takes over: a count, so that what is told of
// a limit is the same for every compiler. Names within deep calls may use up the stack sooner.
constexpr std::size_t most_open = 32, most_stack = 1u << 20;

std::uintptr_t stack_position() {
  return reinterpret_cast<std::uintptr_t>(__builtin_frame_address(0));
}

std::string text_of(const Number& number) {
  RationalPolynomial polynomial;
  number.get_polynomial(polynomial);
  char* digits = fmpq_poly_get_str(polynomial);
  std::string text = digits;
  flint_free(digits);
  return text;
}

/// `[4, 4]`: a point as it is written in the plane.
bool is_flat_point(const Node& node) {
  return node.entries.size() == 2 && std::all_of(node.entries.begin(), node.entries.end(), [](const Node::Entry& entry) {
           return entry.value.is_scalar() && entry.value.text.find_first_of("()[]") == std::string::npos;
         });
}

}  // namespace

struct Resolver::AsideField {
  std::unique_ptr<FieldTower> tower;
  const Field* base;
  Resolver resolver;
  AsideField(Resolver& outer, FieldTower& below)
      : tower(below.fork()), base(&below.top()), resolver(outer.index_, *tower, outer.limits_) {
    resolver.outer_ = &outer;
  }
};

Resolver::Resolver(PlanIndex& index, FieldTower& tower, ReachedLimits& limits)
    : index_(index), tower_(tower), limits_(limits) {}
Resolver::~Resolver() = default;

void Resolver::aside(FieldTower&, const Aside& work) {
  if (outer_ != nullptr) return work(*this, tower_);
  // A field to which nothing was adjoined serves again.
  if (aside_ != nullptr && (aside_->base != &tower_.top() || aside_->base != &aside_->tower->top())) aside_.reset();
  if (aside_ == nullptr) aside_ = std::make_unique<AsideField>(*this, tower_);
  Resolver& other = aside_->resolver;
  other.frame_ = frame_;
  other.position_ = position_;
  work(other, *aside_->tower);
}

std::string Resolver::identity(const ExactValue& value) const {
  const auto number = [this](const Number& number) {
    if (number.is_rational()) return text_of(to_rational_field(number));
    return text_of(tower_.lifted(number)) + "@" + std::to_string(tower_.top().degree());
  };
  if (const auto* single = std::get_if<Number>(&value)) return number(*single);
  if (const auto* vector = std::get_if<Vector3>(&value))
    return "[" + number(vector->x) + "," + number(vector->y) + "," + number(vector->z) + "]";
  const auto& angle = std::get<Angle>(value);
  std::string text = "<" + number(angle.pi_multiple);
  for (const auto& [multiple, ray] : angle.rays) text += "," + number(multiple) + ":" + number(ray.x) + ":" + number(ray.y2);
  return text + ">";
}

Resolver::Key Resolver::key_of(NameSpace space, const std::string& name, Arguments arguments) const {
  Key key{space, name, std::move(arguments), name};
  if (key.arguments == nullptr) return key;
  for (std::size_t i = 0; i < key.arguments->size(); ++i) key.text += (i == 0 ? "(" : ";") + identity((*key.arguments)[i]);
  return key;
}

const Definition* Resolver::definition(NameSpace space, const std::string& name) const {
  const auto found = index_.names(space).find(name);
  return found == index_.names(space).end() ? nullptr : &found->second;
}

void Resolver::check_count(const std::string& name, const Definition& definition, std::size_t count) {
  const std::size_t wanted = definition.arguments.size();
  if (count == wanted) return;
  std::string usage = name;
  for (std::size_t i = 0; i < wanted; ++i) usage += (i == 0 ? "(" : ", ") + definition.arguments[i];
  if (wanted != 0) usage += ")";
  const std::string hint = "it is defined as `" + usage + "`";
  if (wanted == 0) throw InvalidInput("`" + name + "` takes no arguments", hint);
  throw InvalidInput("`" + name + "` takes " + std::to_string(wanted) + (wanted == 1 ? " argument, " : " arguments, ") +
                         (count == 0 ? "and here it has none" : "not " + std::to_string(count)),
                     hint);
}

Node Resolver::body_of(const Key& key) {
  const Definition& definition = index_.names(key.space).at(key.name);
  FramePointer frame;
  if (key.arguments != nullptr) {
    index_.count_evaluation();
    for (std::size_t i = 0; i < definition.arguments.size(); ++i) {
      auto argument = std::make_shared<Frame>();
      argument->around = frame;
      argument->name = definition.arguments[i];
      argument->is_index = false;
      argument->value = (*key.arguments)[i];
      argument->dimension = index_.dimension();
      argument->is_use = i == 0;
      if (i == 0) argument->used_from = frame_;
      if (i == 0) argument->used_at = position_;
      frame = std::move(argument);
    }
  }
  // The value of a parameter may stand in a loop of `cases`.
  return written_out(*definition.value, frame == nullptr ? definition.value->frame : frame);
}

template <class Value>
Value Resolver::named(const Key& key, Memory<Value> Resolver::*memory_of, Value (Resolver::*compute)(const Node&)) {
  used_.insert({key.space, key.name});
  Memory<Value>& memory = this->*memory_of;
  for (bool again = open_.empty() && bottom_ == 0;; again = false) {
    const auto known = memory.values.find(key.text);
    if (known != memory.values.end()) return known->second;
    if (memory.failed.count(key.text) != 0 || memory.failed.count(key.name) != 0) throw Recorded{};
    if (outer_ != nullptr) {
      const auto below = (outer_->*memory_of).values.find(key.text);
      if (below != (outer_->*memory_of).values.end()) return below->second;
    }
    if (!again) break;
    from_the_bottom(key);
  }
  const auto is_open = [&](const std::vector<Key>& open) {
    return std::find_if(open.begin(), open.end(), [&](const Key& each) { return each.is_of(key); });
  };
  if (const auto open = is_open(open_); open != open_.end()) fail_cycle({open, open_.cend()});
  if (outer_ != nullptr)
    if (const auto open = is_open(outer_->open_); open != outer_->open_.end()) {
      std::vector<Key> chain(open, outer_->open_.cend());
      chain.insert(chain.end(), open_.begin(), open_.end());
      fail_cycle(chain);
    }
  const std::uintptr_t here = stack_position();
  const std::uintptr_t used = here < bottom_ ? bottom_ - here : here - bottom_;
  if (open_.size() >= most_open || (!open_.empty() && used > most_stack)) throw Postponed{key, open_};
  open_.push_back(key);
  try {
    Value value = [&] {
      if (index_.version() < 2) return (this->*compute)(*index_.names(key.space).at(key.name).value);
      return (this->*compute)(body_of(key));
    }();
    open_.pop_back();
    memory.values.emplace(key.text, value);
    return value;
  } catch (const Postponed&) {
    open_.pop_back();
    throw;
  } catch (...) {
    open_.pop_back();
    memory.failed.insert(key.text);
    throw;
  }
}

void Resolver::from_the_bottom(const Key& key) {
  struct Running {
    explicit Running(std::uintptr_t& bottom) : bottom_(bottom) { bottom_ = stack_position(); }
    ~Running() { bottom_ = 0; }
    std::uintptr_t& bottom_;
  } const running(bottom_);
  std::vector<Key> pending = {key};
  std::vector<std::vector<Key>> between;  // the names open between a pending one and the next
  while (!pending.empty()) {
    try {
      evaluate_key(pending.back());
    } catch (Postponed& postponed) {
      const Key& next = postponed.key;
      const auto is_next = [&](const Key& each) { return each.is_of(next); };
      between.push_back(std::move(postponed.open));
      const bool turns_back = std::any_of(pending.begin(), pending.end(), is_next);
      pending.push_back(next);
      if (!turns_back) continue;
      std::vector<Key> chain;
      for (const std::vector<Key>& open : between) chain.insert(chain.end(), open.begin(), open.end());
      chain.erase(chain.begin(), std::find_if(chain.begin(), chain.end(), is_next));
      fail_cycle(chain);
    } catch (const Recorded&) {
    }
    pending.pop_back();
    if (!between.empty()) between.pop_back();
  }
}

void Resolver::mark_failed(const Key& key) {
  switch (key.space) {
    case NameSpace::value:
      values_.failed.insert(key.name);
      break;
    case NameSpace::plane:
      planes_.failed.insert(key.name);
      break;
    case NameSpace::motion:
      motions_.failed.insert(key.name);
      break;
    case NameSpace::solid:
      solids_.failed.insert(key.name);
      break;
  }
}

void Resolver::fail_cycle(const std::vector<Key>& chain) {
  std::vector<std::pair<std::string, const Definition*>> circle;
  for (const Key& key : chain) {
    mark_failed(key);
    circle.emplace_back(key.name, definition(key.space, key.name));
  }
  report_cycle(index_, std::move(circle));
  throw Recorded{};
}

bool Resolver::is_known(NameSpace space, const std::string& name) const {
  if (index_.names(space).count(name) != 0) return true;
  if (index_.is_lost(space, name) && index_.nearest(space, name).empty()) throw Recorded{};
  return false;
}

std::optional<ExactValue> Resolver::value_of(const std::string& name) {
  if (const Frame* frame = bound(frame_, name)) return frame->value ? *frame->value : any_value(*frame->entry);
  if (!is_known(NameSpace::value, name)) return std::nullopt;
  check_count(name, *definition(NameSpace::value, name), 0);
  return value_of_key(key_of(NameSpace::value, name, nullptr));
}

bool Resolver::has_arguments(const std::string& name) const {
  const Definition* known = definition(NameSpace::value, name);
  return known != nullptr && !known->arguments.empty();
}

std::optional<ExactValue> Resolver::value_of_call(const std::string& name, const std::vector<ExactValue>& arguments) {
  const Definition* known = definition(NameSpace::value, name);
  if (known == nullptr || known->arguments.empty()) return std::nullopt;
  check_count(name, *known, arguments.size());
  return value_of_key(key_of(NameSpace::value, name, std::make_shared<const std::vector<ExactValue>>(arguments)));
}

ExactValue Resolver::value_of_key(const Key& key) {
  return named(key, &Resolver::values_, index_.is_point(key.name) ? &Resolver::named_point : &Resolver::named_value);
}

std::optional<Plane> Resolver::plane_of(const std::string& name) {
  if (const Frame* frame = bound(frame_, name)) {
    if (frame->entry != nullptr) return plane(*frame->entry);
    throw InvalidInput("a plane is wanted here, and `" + name + "` stands for " + shown(*frame));
  }
  if (!is_known(NameSpace::plane, name)) return std::nullopt;
  check_count(name, *definition(NameSpace::plane, name), 0);
  return named(key_of(NameSpace::plane, name, nullptr), &Resolver::planes_, &Resolver::plane_from);
}

std::optional<Plane> Resolver::plane_of_call(const std::string& name, const std::vector<ExactValue>& arguments) {
  const Definition* known = definition(NameSpace::plane, name);
  if (known == nullptr) return std::nullopt;
  check_count(name, *known, arguments.size());
  return named(key_of(NameSpace::plane, name, std::make_shared<const std::vector<ExactValue>>(arguments)),
               &Resolver::planes_, &Resolver::plane_from);
}

void Resolver::evaluate_name(NameSpace space, const std::string& name) {
  if (definition(space, name)->arguments.empty()) evaluate_key(key_of(space, name, nullptr));
}

void Resolver::evaluate_key(const Key& key) {
  switch (key.space) {
    case NameSpace::value:
      value_of_key(key);
      break;
    case NameSpace::plane:
      named(key, &Resolver::planes_, &Resolver::plane_from);
      break;
    case NameSpace::motion:
      named(key, &Resolver::motions_, &Resolver::motion_from);
      break;
    case NameSpace::solid:
      named(key, &Resolver::solids_, &Resolver::solid_from);
      break;
  }
}

// --- expressions ----------------------------------------------------------------------------------------------------------

template <class Value>
Value Resolver::expression(const Node& node, Value (*evaluate_it)(const Expression&, Scope&, FieldTower&),
                           std::map<std::string, Value>& known) {
  if (node.frame != nullptr)
    return in_text(node, node.frame, [&] { return evaluate_it(index_.parsed(node.text), *this, tower_); });
  const auto found = known.find(node.text);
  if (found != known.end()) return found->second;
  return in_text(node, node.frame, [&] {
    return known.emplace(node.text, evaluate_it(index_.parsed(node.text), *this, tower_)).first->second;
  });
}

Number Resolver::number(const Node& node) {
  if (!node.is_scalar())
    index_.fail(node, "a number is wanted here",
                node.is_sequence() ? "a list of three numbers is a point; write one expression" : "");
  if (node.frame != nullptr) {
    const std::optional<Number> whole = in_text(node, node.frame, [&]() -> std::optional<Number> {
      const std::optional<long> value = small_integer(index_.parsed(node.text));
      if (!value) return std::nullopt;
      return Number(*value, tower_.top());
    });
    if (whole) return *whole;
  }
  return expression(node, &evaluate_number, numbers_by_text_);
}

Angle Resolver::angle(const Node& node) {
  if (!node.is_scalar()) index_.fail(node, "an angle is wanted here", "as in `90 deg`, `pi/2` or `acos(1/3)`");
  return expression(node, &evaluate_angle, angles_by_text_);
}

Vector3 Resolver::vector(const Node& node) {
  if (node.is_scalar()) return expression(node, &evaluate_vector, vectors_by_text_);
  if (!node.is_sequence()) index_.fail(node, "a point or vector is wanted here", "write `[x, y, z]`");
  const std::size_t dimension = index_.is_flat() ? 2 : 3;
  if (index_.is_flat() && node.entries.size() != 2)
    index_.fail(node,
                "a point or vector of a plan of dimension 2 has two coordinates; this list has " +
                    std::to_string(node.entries.size()),
                "write `[x, y]`; put quotes round a coordinate that holds a comma, such as \"max(a, b)\"");
  if (!index_.is_flat() && node.entries.size() != 3)
    index_.fail(node, "a point or vector has three coordinates; this list has " + std::to_string(node.entries.size()),
                is_flat_point(node)
                    ? "z is missing: write `[" + node.entries[0].value.text + ", " + node.entries[1].value.text + ", 0]`"
                    : "put quotes round a coordinate that holds a comma, such as \"max(a, b)\"");
  Number coordinates[3];
  bool good = true;
  for (std::size_t i = 0; i < dimension; ++i) {
    try {
      coordinates[i] = number(node.entries[i].value);
    } catch (const Recorded&) {
      good = false;  // the others are looked at all the same
    }
  }
  if (!good) throw Recorded{};
  return {tower_.lifted(coordinates[0]), tower_.lifted(coordinates[1]), tower_.lifted(coordinates[2])};
}

ExactValue Resolver::any_value(const Node& node) {
  if (!node.is_scalar()) return vector(node);
  return expression(node, &evaluate, values_by_text_);
}

void Resolver::unknown_name(const Node& node, const std::string& name, NameSpace space, const std::string& what,
                            const std::string& section) {
  is_known(space, name);
  const std::string near = index_.nearest(space, name);
  if (space == NameSpace::plane && name.find('=') != std::string::npos)
    index_.fail(node, "there is no plane " + quoted_text(name), "write `{ equation: \"" + name + "\" }`");
  index_.fail(node, "there is no " + what + " " + quoted_text(name),
              near.empty() ? "define it in `" + section + "`" : "did you mean `" + near + "`?");
}

// --- planes, motions and solids by name: what they are made from is in resolver_motions.cpp and resolver_solids.cpp

template <class Value>
Value Resolver::by_name(const Node& node, NameSpace space, const std::string& what, const std::string& section,
                        Memory<Value> Resolver::*memory, Value (Resolver::*read)(const Node&),
                        Value (Resolver::*compute)(const Node&)) {
  if (const Frame* index = bound(node.frame, node.text)) {
    if (index->entry != nullptr) return (this->*read)(*index->entry);
    index_.fail(node, "a " + what + " is wanted here, and `" + node.text + "` stands for " + shown(*index));
  }
  const bool has_values = index_.version() >= 2 && node.text.find('(') != std::string::npos;
  return in_text(node, node.frame, [&]() -> Value {
    std::string name = node.text;
    Arguments arguments;
    const Definition* known = nullptr;
    if (has_values) {
      const Reference& reference = index_.parsed_reference(node.text);
      name = reference.name;
      known = definition(space, name);
      if (known != nullptr) {
        check_count(name, *known, reference.arguments.size());
        auto values = std::make_shared<std::vector<ExactValue>>();
        for (const ExpressionPointer& argument : reference.arguments) values->push_back(evaluate(*argument, *this, tower_));
        arguments = std::move(values);
      }
    } else {
      known = definition(space, name);
      if (known != nullptr) check_count(name, *known, 0);
    }
    if (known == nullptr) unknown_name(node, name, space, what, section);
    return named(key_of(space, name, std::move(arguments)), memory, compute);
  });
}

Plane Resolver::plane(const Node& node) {
  Plane result = node.is_scalar() ? by_name(node, NameSpace::plane, "plane", "planes", &Resolver::planes_, &Resolver::plane,
                                            &Resolver::plane_from)
                                  : plane_from(node);
  // Numbers of one field are what every later computation is fastest with.
  for (Number* number : {&result.normal.x, &result.normal.y, &result.normal.z, &result.offset})
    *number = tower_.lifted(*number);
  return result;
}

Motion Resolver::motion(const Node& node) {
  if (!node.is_scalar()) return motion_from(node);
  return by_name(node, NameSpace::motion, "motion", "motions", &Resolver::motions_, &Resolver::motion,
                 &Resolver::motion_from);
}

SolidPointer Resolver::solid(const Node& node) {
  if (!node.is_scalar()) return solid_from(node);
  return by_name(node, NameSpace::solid, "solid", "solids", &Resolver::solids_, &Resolver::solid, &Resolver::solid_from);
}

}  // namespace cutproof
