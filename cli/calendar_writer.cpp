#include "calendar_writer.hpp"

#include <cstddef>

#include "runnel/units/plain_text.hpp"

namespace runnel::cli {
namespace {

constexpr std::size_t most_octets = 75;

std::string two_digits(long long number) {
  return {static_cast<char>('0' + number / 10 % 10), static_cast<char>('0' + number % 10)};
}

/// Hours, minutes and seconds without anything between.
std::string digits_of(std::chrono::hh_mm_ss<std::chrono::seconds> time) {
  return two_digits(time.hours().count()) + two_digits(time.minutes().count()) +
         two_digits(time.seconds().count());
}

/// A line goes on in the next after a blank, which counts to that one.
std::string folded(std::string_view line) {
  std::string text;
  std::size_t room = most_octets;
  while (line.size() > room) {
    std::size_t cut = room;
    while (is_continuation(line[cut])) --cut;
    text.append(line.substr(0, cut)) += "\r\n ";
    line.remove_prefix(cut);
    room = most_octets - 1;
  }
  return text.append(line) + "\r\n";
}

}  // namespace

void CalendarWriter::begin(const std::string& component) {
  property("BEGIN", component);
  open_.push_back(component);
}

void CalendarWriter::end() {
  property("END", open_.back());
  open_.pop_back();
}

void CalendarWriter::property(std::string_view name, std::string_view value) {
  out_ += folded(std::string(name) + ":" + std::string(value));
}

void CalendarWriter::text(std::string_view name, std::string_view value) {
  property(name, calendar_text(value));
}

std::string calendar_text(std::string_view text) {
  std::string escaped;
  for (std::size_t i = 0; i < text.size(); ++i) {
    const char c = text[i];
    if (c == '\\' || c == ';' || c == ',') {
      escaped += '\\';
      escaped += c;
    } else if (c == '\n' || c == '\r') {
      if (c == '\r' && i + 1 < text.size() && text[i + 1] == '\n') ++i;
      escaped += "\\n";
    } else {
      const auto byte = static_cast<unsigned char>(c);
      escaped += (byte < 0x20 && c != '\t') || byte == 0x7F ? '?' : c;
    }
  }
  return escaped;
}

std::string calendar_date(Date date) {
  std::string text = iso_date(date);
  std::erase(text, '-');
  return text;
}

std::string calendar_time(std::chrono::local_seconds time) {
  const Date date = std::chrono::floor<std::chrono::days>(time);
  return calendar_date(date) + "T" + digits_of(std::chrono::hh_mm_ss{time - date});
}

std::string calendar_duration(std::chrono::minutes length) {
  return "PT" + std::to_string(length.count()) + "M";
}

std::string calendar_offset(std::chrono::seconds east) {
  std::string text = digits_of(std::chrono::hh_mm_ss{std::chrono::abs(east)});
  if (text.ends_with("00")) text.resize(4);
  return (east.count() < 0 ? "-" : "+") + text;
}

}  // namespace runnel::cli
