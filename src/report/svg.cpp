// SPDX-License-Identifier: GPL-3.0-or-later
#include "report/svg.hpp"

#include "report/escape.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <cstdlib>
#include <iterator>
#include <map>
#include <set>
#include <vector>

namespace cutproof {
namespace {

// Paul Tol's bright scheme (SRON technical note SRON/EPS/TN/09-002), in an order in which neighbours differ most.
constexpr unsigned colours[] = {0x4477aa, 0xee6677, 0xccbb44, 0x66ccee, 0x228833, 0xaa3377, 0xbbbbbb};
constexpr unsigned pale = 0xece7db;
constexpr const char *ink = "#1f1b16", *paper = "#fbf8f1", *alarm = "#a3121c";
constexpr int percent[] = {100, 94, 88};

// Hundredths as the shortest decimal.
std::string number(long hundredths) {
  std::string text = hundredths < 0 ? "-" : "";
  const long size = std::labs(hundredths), fraction = size % 100;
  if (size >= 100 || fraction == 0) text += std::to_string(size / 100);
  if (fraction != 0)
    text += fmt::format(fraction % 10 == 0 ? ".{}" : ".{:02}", fraction % 10 == 0 ? fraction / 10 : fraction);
  return text;
}

// Numbers of a path, with a blank only where one is needed.
class Path {
 public:
  // Points are rounded to multiples of `step` hundredths.
  explicit Path(long step) : step_(step) {}
  void move(long x, long y) {
    text_ += 'M';
    x_ = rounded(x);
    y_ = rounded(y);
    number_after_letter(x_, y_);
    in_lines_ = false;
  }
  void line(long x, long y) {
    if (!in_lines_) text_ += 'l';
    number_after_letter(rounded(x) - x_, rounded(y) - y_);
    x_ = rounded(x);
    y_ = rounded(y);
    in_lines_ = true;
  }
  void close() { text_ += 'z'; }
  bool empty() const { return text_.empty(); }
  const std::string& text() const { return text_; }

 private:
  void put(long value) {
    const std::string shown = number(value);
    const char last = text_.empty() ? 'M' : text_.back();
    const bool after_number = (last >= '0' && last <= '9') || last == '.';
    if (after_number && shown.front() != '-') text_ += ' ';
    text_ += shown;
  }
  void number_after_letter(long x, long y) {
    put(x);
    put(y);
  }
  long rounded(long value) const { return step_ * std::lround(static_cast<double>(value) / static_cast<double>(step_)); }

  long step_;
  std::string text_;
  long x_ = 0, y_ = 0;
  bool in_lines_ = false;
};

std::string path_of(const std::vector<std::vector<long>>& cycles, long step) {
  Path path(step);
  for (const std::vector<long>& cycle : cycles) {
    if (cycle.size() < 4) continue;
    path.move(cycle[0], cycle[1]);
    for (std::size_t i = 2; i + 1 < cycle.size(); i += 2) path.line(cycle[i], cycle[i + 1]);
    path.close();
  }
  return path.text();
}

std::string path_of(const std::vector<PictureLine>& lines, long step) {
  Path path(step);
  for (const PictureLine& line : lines) {
    path.move(line[0], line[1]);
    path.line(line[2], line[3]);
  }
  return path.text();
}

// The same lines in some order and direction, one after another where they meet: shorter, but not for dashes, which would
// begin elsewhere on the same line of a neighbour.
std::string chained(const std::vector<PictureLine>& lines, long step) {
  Path path(step);
  long x = 0, y = 0;
  for (std::size_t i = 0; i < lines.size(); ++i) {
    PictureLine line = lines[i];
    const PictureLine turned = {line[2], line[3], line[0], line[1]};
    const auto begins = [](const PictureLine& each, long at_x, long at_y) { return each[0] == at_x && each[1] == at_y; };
    const bool goes_on = i > 0 && (begins(line, x, y) || begins(turned, x, y));
    if (goes_on) {
      if (!begins(line, x, y)) line = turned;
    } else {
      const auto meets_next = [&](long at_x, long at_y) {
        return i + 1 < lines.size() &&
               (begins(lines[i + 1], at_x, at_y) || (lines[i + 1][2] == at_x && lines[i + 1][3] == at_y));
      };
      if (!meets_next(line[2], line[3]) && meets_next(line[0], line[1])) line = turned;
      path.move(line[0], line[1]);
    }
    path.line(line[2], line[3]);
    x = line[2];
    y = line[3];
  }
  return path.text();
}

// Text for people, in an element or an attribute.
std::string xml(const std::string& text) {
  return in_markup(escaped(text));
}

std::string code(unsigned colour, int tone) {
  const auto channel = [&](int shift) { return (((colour >> shift) & 0xff) * percent[tone] + 50) / 100; };
  return fmt::format("#{:02x}{:02x}{:02x}", channel(16), channel(8), channel(0));
}

// The lines of a kind of hatching on a tile of 8 by 8.
const char* hatching_lines(int hatching) {
  switch (hatching) {
    case 1:
      return "M-1 1L1-1M-1 9L9-1M7 9L9 7";
    case 2:
      return "M-1 7L1 9M-1-1L9 9M7-1L9 1";
    case 3:
      return "M0 4H8";
    case 4:
      return "M4 0V8";
    case 5:
      return "M-1 1L1-1M-1 9L9-1M7 9L9 7M-1 7L1 9M-1-1L9 9M7-1L9 1";
    default:
      return "M0 4H8M4 0V8";
  }
}

class Writer {
 public:
  Writer(const Picture& picture, const std::array<double, 6>& projection, const SvgText& text, const std::string& prefix)
      : picture_(picture), projection_(projection), text_(text), prefix_(prefix) {}

  std::string write() {
    const std::string patches = all_patches();
    const auto& frame = picture_.frame;
    std::string svg = fmt::format(
        "<svg xmlns=\"http://www.w3.org/2000/svg\" viewBox=\"{0} {1} {2} {3}\" width=\"{2}\" height=\"{3}\" role=\"img\" "
        "aria-labelledby=\"{4}title {4}desc\" data-projection=\"{5}\">\n",
        number(frame[0]), number(frame[1]), number(frame[2]), number(frame[3]), prefix_,
        fmt::format("{} {} {} {} {} {}", projection_[0], projection_[1], projection_[2], projection_[3], projection_[4],
                    projection_[5]));
    svg += "<title id=\"" + prefix_ + "title\">" + xml(text_.title) + "</title>\n<desc id=\"" + prefix_ + "desc\">" +
           xml(text_.description) + "</desc>\n";
    svg += "<style>" + styles() + "</style>\n";
    if (!patterns_.empty()) svg += "<defs>" + patterns_ + "</defs>\n";
    svg += fmt::format("<rect class=\"{}paper\" x=\"{}\" y=\"{}\" width=\"{}\" height=\"{}\"/>\n", prefix_, number(frame[0]),
                       number(frame[1]), number(frame[2]), number(frame[3]));
    svg += "<g class=\"" + prefix_ + "f\">\n" + patches + "</g>\n";
    if (!picture_.traces.empty())
      svg += "<path class=\"" + prefix_ + "trace\" d=\"" + path_of(picture_.traces, step_) + "\"/>\n";
    return svg + names() + "</svg>\n";
  }

 private:
  std::string all_patches() {
    remember_last_lines();
    std::string text, open;
    for (std::size_t i = 0, end = 0; i < picture_.patches.size(); i = end) {
      const std::size_t number = picture_.patches[i].body;
      const PictureBody& body = picture_.bodies[number];
      end = i + 1;
      while (body.convex && end < picture_.patches.size() && picture_.patches[end].body == number) ++end;
      const std::string key = std::to_string(static_cast<int>(body.role)) + body.piece;
      if (key != open) text += (open.empty() ? "" : "</g>\n") + group(body);
      open = key;
      text += areas_and_lines(body, i, end);
    }
    return open.empty() ? text : text + "</g>\n";
  }

  // A line on the border of two areas is drawn when the later one is: over both.
  void remember_last_lines() {
    for (std::size_t i = 0; i < picture_.patches.size(); ++i) {
      for (const PictureLine& line : picture_.patches[i].edges) last_edge_[line] = i;
      for (const PictureLine& line : picture_.patches[i].cuts) last_cut_[line] = i;
    }
  }
  static void add_drawn_with(std::size_t patch, const std::vector<PictureLine>& lines,
                             const std::map<PictureLine, std::size_t>& last, std::vector<PictureLine>* drawn) {
    std::copy_if(lines.begin(), lines.end(), std::back_inserter(*drawn),
                 [&](const PictureLine& line) { return last.at(line) == patch; });
  }

  // How far a piece is shifted is told once.
  std::string group(const PictureBody& body) {
    switch (body.role) {
      case BodyRole::overlap:
        return "<g class=\"" + prefix_ + "region\" data-region=\"overlap\">";
      case BodyRole::missing:
        return "<g class=\"" + prefix_ + "region\" data-region=\"missing\">";
      case BodyRole::excess:
        return "<g class=\"" + prefix_ + "region\" data-region=\"excess\">";
      case BodyRole::piece:
        break;
    }
    std::string text = "<g data-piece=\"" + xml(body.piece) + "\"";
    if (picture_.apart && shift_told_.insert(body.piece).second)
      text += fmt::format(" data-shift=\"{} {} {}\"", body.shift[0], body.shift[1], body.shift[2]);
    return text + ">";
  }

  // The areas of some patches that do not hide each other, and over them their lines.
  std::string areas_and_lines(const PictureBody& body, std::size_t begin, std::size_t end) {
    std::string text;
    std::vector<PictureLine> cuts, edges;
    for (std::size_t i = begin; i < end; ++i) {
      const PicturePatch& patch = picture_.patches[i];
      const std::string d = path_of(patch.cycles, step_);
      if (d.empty()) continue;
      text +=
          "<path class=\"" + fill(body, patch.tone) + (patch.outlined ? " " + prefix_ + "o" : "") + "\" d=\"" + d + "\"/>";
      add_drawn_with(i, patch.cuts, last_cut_, &cuts);
      add_drawn_with(i, patch.edges, last_edge_, &edges);
    }
    if (!cuts.empty()) text += "<path class=\"" + prefix_ + "d\" d=\"" + path_of(cuts, step_) + "\"/>";
    if (!edges.empty()) text += "<path class=\"" + prefix_ + "l\" d=\"" + chained(edges, step_) + "\"/>";
    return text;
  }

  // The class for the body's fill in the tone; its rule is written when it is first used.
  std::string fill(const PictureBody& body, int tone) {
    std::string name = prefix_, base;
    int hatching = 0;
    switch (body.role) {
      case BodyRole::missing:
        name += "missing";
        break;
      case BodyRole::overlap:
      case BodyRole::excess:
        name += fmt::format("red{}", tone);
        break;
      case BodyRole::piece:
        hatching = body.pale ? 0 : body.hatching;
        name += body.pale ? fmt::format("p{}", tone) : fmt::format("c{}{}", body.colour, tone);
        if (hatching != 0) name += fmt::format("h{}", hatching);
    }
    if (!known_.insert(name).second) return name;
    if (body.role == BodyRole::missing) {
      pattern(name, "", "#ffffff", "M-1 1L1-1M-1 9L9-1M7 9L9 7", 3);
      rules_ += fmt::format(".{0}{{fill:url(#{0});stroke:none}}", name);
    } else if (body.role != BodyRole::piece) {
      base = code(0xd43d47, tone);
      pattern(name, base, "#ffffff", "M-1 7L1 9M-1-1L9 9M7-1L9 1", 1.3);
      rules_ += fmt::format(".{0}{{fill:url(#{0});stroke:{1}}}", name, base);
    } else {
      base = paint_code(body.pale ? -1 : body.colour, tone);
      if (hatching != 0) pattern(name, base, ink, hatching_lines(hatching), 0.7);
      rules_ += hatching != 0 ? fmt::format(".{0}{{fill:url(#{0});stroke:{1}}}", name, base)
                              : fmt::format(".{0}{{fill:{1};stroke:{1}}}", name, base);
    }
    return name;
  }

  void pattern(const std::string& name, const std::string& ground, const char* colour, const char* lines, double width) {
    patterns_ += "<pattern id=\"" + name + "\" width=\"8\" height=\"8\" patternUnits=\"userSpaceOnUse\">";
    patterns_ += ground.empty() ? "<rect width=\"8\" height=\"8\" fill=\"#ffffff\" fill-opacity=\".4\"/>"
                                : "<rect width=\"8\" height=\"8\" fill=\"" + ground + "\"/>";
    patterns_ +=
        fmt::format("<path class=\"{}hatch\" d=\"{}\" fill=\"none\" stroke=\"{}\" stroke-width=\"{}\"{}/></pattern>",
                    prefix_, lines, colour, width, colour == std::string(ink) ? " stroke-opacity=\".55\"" : "");
  }

  std::string styles() const {
    const char* width = picture_.bodies.size() > 60 ? ".6" : "1.1";  // many pieces are small
    return fmt::format(
               ".{0}paper{{fill:{1}}}.{0}f path{{stroke-width:.6;stroke-linejoin:round}}.{0}f "
               ".{0}o{{stroke:{2};stroke-width:{3}}}"
               ".{0}f .{0}l{{fill:none;stroke:{2};stroke-width:{3};stroke-linecap:round}}"
               ".{0}f .{0}d{{fill:none;stroke:{2};stroke-width:.8;stroke-dasharray:4 3}}",
               prefix_, paper, ink, width) +
           (picture_.traces.empty()
                ? ""
                : fmt::format(".{0}f .{0}region .{0}o,.{0}f .{0}region .{0}l{{stroke:{1};stroke-width:1.6}}"
                              ".{0}trace{{fill:none;stroke:{1};stroke-width:.9;stroke-dasharray:3 2}}",
                              prefix_, alarm)) +
           rules_;
  }

  std::string names() const {
    if (picture_.names.empty()) return "";
    std::string text = fmt::format(
        "<g class=\"{}names\" font-family=\"Helvetica, Arial, 'Liberation Sans', 'DejaVu Sans', sans-serif\" "
        "font-weight=\"600\" text-anchor=\"middle\" fill=\"{}\" stroke=\"#ffffff\" stroke-width=\"3\" "
        "stroke-linejoin=\"round\" paint-order=\"stroke\">\n",
        prefix_, ink);
    for (const PictureName& name : picture_.names)
      text += fmt::format("<text x=\"{}\" y=\"{}\" font-size=\"{}\">{}</text>\n", number(name.x),
                          number(name.y + 35L * name.size), name.size, xml(picture_.bodies[name.body].piece));
    return text + "</g>\n";
  }

  const Picture& picture_;
  const std::array<double, 6>& projection_;
  const SvgText& text_;
  const std::string& prefix_;
  // Of many small pieces tenths of pixels are enough.
  const long step_ = picture_.bodies.size() > 500 ? 10 : 1;
  std::set<std::string> known_, shift_told_;
  std::map<PictureLine, std::size_t> last_edge_, last_cut_;
  std::string rules_, patterns_;
};

}  // namespace

std::string paint_code(int colour, int tone) {
  return code(colour < 0 ? pale : colours[colour], tone);
}

std::string svg_picture(const Picture& picture, const std::array<double, 6>& projection, const SvgText& text,
                        const std::string& prefix) {
  return Writer(picture, projection, text, prefix).write();
}

}  // namespace cutproof
