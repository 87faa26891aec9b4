// SPDX-License-Identifier: GPL-3.0-or-later
// PLY: a header that says which elements there are, how many, and what each consists of; then the elements, as text or
// binary, either end first. Points are the elements `vertex` with x, y and z, faces those called `face` with a list
// `vertex_indices` or `vertex_index`; all else is read over.
#include "solid/mesh/formats.hpp"

#include <algorithm>
#include <cstring>
#include <optional>

namespace cutproof {

namespace {

enum class Form { text, little_endian, big_endian };

struct NumberType {
  std::string_view name, other_name;
  std::size_t size;
  enum { is_signed, is_unsigned, is_float } kind;
};

constexpr NumberType number_types[] = {
    {"char", "int8", 1, NumberType::is_signed},    {"uchar", "uint8", 1, NumberType::is_unsigned},
    {"short", "int16", 2, NumberType::is_signed},  {"ushort", "uint16", 2, NumberType::is_unsigned},
    {"int", "int32", 4, NumberType::is_signed},    {"uint", "uint32", 4, NumberType::is_unsigned},
    {"float", "float32", 4, NumberType::is_float}, {"double", "float64", 8, NumberType::is_float},
};

struct Property {
  std::string name;
  const NumberType* type = nullptr;
  const NumberType* count = nullptr;  ///< of a list: the type of its length
};

struct Element {
  std::string name;
  long count = 0;
  std::vector<Property> properties;
};

class PlyReader {
 public:
  PlyReader(std::string_view bytes, BitBudget bits) : bytes_(bytes), bits_(bits) { mesh_.kind = "PLY"; }

  Mesh read() {
    header();
    const Element* const points = find("vertex");
    const Element* const faces = find("face");
    if (points == nullptr) throw InvalidInput("this PLY has no elements `vertex`");
    if (faces == nullptr) throw InvalidInput("this PLY has no elements `face`", "a surface is to be given by its faces");
    point_count_ = points->count;
    for (const char* axis : {"x", "y", "z"})
      if (const Property* own = property(*points, axis); own == nullptr || own->count != nullptr)
        throw InvalidInput(std::string("the elements `vertex` of this PLY have no coordinate `") + axis + "`");
    const Property* corners = property(*faces, "vertex_indices");
    if (corners == nullptr) corners = property(*faces, "vertex_index");
    if (corners == nullptr || corners->count == nullptr || corners->type->kind == NumberType::is_float)
      throw InvalidInput("the elements `face` of this PLY have no list `vertex_indices` of whole numbers");
    if (form_ == Form::text) text_.emplace(bytes_.substr(at_), /*comments=*/false, header_lines_ + 1);
    for (const Element& element : elements_) {
      if (element.properties.empty()) continue;  // however many there are, nothing stands there
      for (long i = 0; i < element.count; ++i) {
        if (&element == points) {
          point(element, i);
        } else {
          other(element, i, &element == faces ? corners : nullptr);
        }
      }
    }
    if (form_ == Form::text ? !text_->at_end() : at_ != bytes_.size())
      throw InvalidInput("something stands behind the last element of this PLY",
                         "do the counts in its header fit what follows?");
    return std::move(mesh_);
  }

 private:
  // --- the header ---

  [[noreturn]] void fail_header(const std::string& message, const std::string& hint = "") const {
    throw InvalidInput("line " + std::to_string(header_lines_) + ": " + message, hint);
  }

  /// The words of the next line; moves behind it.
  std::vector<std::string_view> header_line() {
    const std::size_t end = bytes_.find('\n', at_);
    ++header_lines_;
    if (end == std::string_view::npos)
      fail_header("the header does not end: `end_header` is missing", "was the file cut off?");
    MeshText line(bytes_.substr(at_, end - at_), /*comments=*/false);
    at_ = end + 1;
    return line.at_end() ? std::vector<std::string_view>() : line.rest_of_line();
  }

  const NumberType* type(std::string_view name) const {
    for (const NumberType& each : number_types)
      if (each.name == name || each.other_name == name) return &each;
    fail_header(shown_bytes(name) + " is no type of numbers",
                "the types are char, uchar, short, ushort, int, uint, float and double");
  }

  void header() {
    header_line();
    const std::vector<std::string_view> format = header_line();
    if (format.size() != 3 || format[0] != "format" || format[2] != "1.0")
      fail_header("`format` is wanted here", "as in `format ascii 1.0`");
    if (format[1] == "ascii") {
      form_ = Form::text;
    } else if (format[1] == "binary_little_endian") {
      form_ = Form::little_endian;
    } else if (format[1] == "binary_big_endian") {
      form_ = Form::big_endian;
    } else {
      fail_header(shown_bytes(format[1]) + " is no form of a PLY",
                  "the forms are ascii, binary_little_endian and binary_big_endian");
    }
    if (form_ != Form::text) mesh_.kind = "binary PLY";
    for (;;) {
      const std::vector<std::string_view> words = header_line();
      if (words.empty() || words[0] == "comment" || words[0] == "obj_info") continue;
      if (words[0] == "end_header" && words.size() == 1) return;
      if (words[0] == "element" && words.size() == 3) {
        Element element;
        element.name = words[1];
        MeshText here(words[2], /*comments=*/false, header_lines_);
        here.word("");
        element.count = here.whole(words[2], "the number of elements " + shown_bytes(words[1]), 0);
        if (find(element.name) != nullptr) fail_header("the elements " + shown_bytes(words[1]) + " stand here twice");
        elements_.push_back(std::move(element));
      } else if (words[0] == "property" && (words.size() == 3 || (words.size() == 5 && words[1] == "list"))) {
        if (elements_.empty()) fail_header("a property stands before all elements");
        Property own;
        own.name = words.back();
        own.type = type(words[words.size() - 2]);
        if (words.size() == 5) {
          own.count = type(words[2]);
          if (own.count->kind == NumberType::is_float) fail_header("the length of a list is a whole number");
        }
        if (property(elements_.back(), own.name) != nullptr)
          fail_header("the property " + shown_bytes(own.name) + " stands here twice");
        elements_.back().properties.push_back(std::move(own));
      } else {
        fail_header(shown_bytes(words[0]) + " begins no line of a header",
                    "these begin with `comment`, `element`, `property` or `end_header`");
      }
    }
  }

  const Element* find(std::string_view name) const {
    const auto found =
        std::find_if(elements_.begin(), elements_.end(), [&](const Element& each) { return each.name == name; });
    return found == elements_.end() ? nullptr : &*found;
  }

  static const Property* property(const Element& element, std::string_view name) {
    const auto found = std::find_if(element.properties.begin(), element.properties.end(),
                                    [&](const Property& each) { return each.name == name; });
    return found == element.properties.end() ? nullptr : &*found;
  }

  // --- the elements ---

  static std::string name(const Element& element, long index) {
    return "the element " + std::to_string(index) + " of " + shown_bytes(element.name);
  }

  /// The bytes of a binary number, the lowest first.
  unsigned long pattern(const NumberType& type, const Element& element, long index) {
    if (bytes_.size() - at_ < type.size)
      throw InvalidInput("the file ends in " + name(element, index) + " of " + std::to_string(element.count),
                         "was it cut off?");
    std::string own(bytes_.substr(at_, type.size));
    at_ += type.size;
    if (form_ == Form::big_endian) std::reverse(own.begin(), own.end());
    return little_endian(own);
  }

  static long signed_value(unsigned long pattern, const NumberType& type) {
    const auto bits = 8 * type.size;
    if (type.kind == NumberType::is_unsigned || (pattern >> (bits - 1)) == 0) return static_cast<long>(pattern);
    return static_cast<long>(pattern) - (1L << bits);
  }

  static double float_value(unsigned long pattern, const NumberType& type) {
    if (type.size == 4) {
      const auto narrow = static_cast<std::uint32_t>(pattern);
      float value = 0;
      std::memcpy(&value, &narrow, sizeof value);
      return static_cast<double>(value);
    }
    double value = 0;
    std::memcpy(&value, &pattern, sizeof value);
    return value;
  }

  Rational coordinate(const Property& own, const Element& element, long index) {
    const std::string what = own.name + " of " + name(element, index);
    if (form_ == Form::text) {
      const std::string_view word = text_->word(what);
      return text_->number(word, what, bits_);
    }
    const unsigned long bytes = pattern(*own.type, element, index);
    Rational value;
    if (own.type->kind != NumberType::is_float) {
      fmpz_set_si(value.numerator(), signed_value(bytes, *own.type));
    } else if (!exact_fraction(float_value(bytes, *own.type), &value)) {
      throw InvalidInput(what + " is no number");
    }
    bits_.take(value);
    return value;
  }

  long whole(const NumberType& type, const std::string& what, const Element& element, long index) {
    if (form_ != Form::text) return signed_value(pattern(type, element, index), type);
    const std::string_view word = text_->word(what);
    return text_->whole(word, what);
  }

  void skip(const Property& own, const Element& element, long index) {
    if (form_ == Form::text) {
      const std::string_view word = text_->word(shown_bytes(own.name) + " of " + name(element, index));
      text_->number(word, shown_bytes(own.name), bits_);
    } else {
      pattern(*own.type, element, index);
    }
  }

  void point(const Element& element, long index) {
    std::array<Rational, 3> point;
    for (const Property& own : element.properties) {
      if (own.count == nullptr && own.name.size() == 1 && own.name >= "x" && own.name <= "z") {
        point[static_cast<std::size_t>(own.name[0] - 'x')] = coordinate(own, element, index);
      } else {
        skip_property(own, element, index);
      }
    }
    mesh_.points.push_back(point);
  }

  long length(const Property& own, const Element& element, long index) {
    const std::string what = "the length of " + shown_bytes(own.name) + " of " + name(element, index);
    const long count = whole(*own.count, what, element, index);
    if (count < 0) throw InvalidInput(what + " is " + std::to_string(count) + ", which is negative");
    return count;
  }

  void skip_property(const Property& own, const Element& element, long index) {
    const long count = own.count == nullptr ? 1 : length(own, element, index);
    for (long k = 0; k < count; ++k) skip(own, element, index);
  }

  /// A face, or an element without corners.
  void other(const Element& element, long index, const Property* corners) {
    for (const Property& own : element.properties) {
      if (&own != corners) {
        skip_property(own, element, index);
        continue;
      }
      std::vector<int> face;
      const long count = length(own, element, index);
      if (form_ == Form::text) mesh_.face_lines.push_back(text_->line());
      for (long k = 0; k < count; ++k) {
        const std::string what = "a corner of " + name(element, index);
        const long corner = whole(*own.type, what, element, index);
        if (corner < 0 || corner >= point_count_)
          throw InvalidInput(what + " is " + std::to_string(corner) + ", and the points are numbered from 0 to " +
                             std::to_string(point_count_ - 1));
        face.push_back(static_cast<int>(corner));
      }
      mesh_.faces.push_back(std::move(face));
    }
  }

  std::string_view bytes_;
  BitBudget bits_;
  std::size_t at_ = 0;
  int header_lines_ = 0;
  Form form_ = Form::text;
  std::vector<Element> elements_;
  long point_count_ = 0;
  std::optional<MeshText> text_;
  Mesh mesh_;
};

}  // namespace

Mesh read_ply(std::string_view bytes, BitBudget bits) {
  return PlyReader(bytes, bits).read();
}

}  // namespace cutproof
