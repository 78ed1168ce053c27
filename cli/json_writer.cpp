#include "json_writer.hpp"

#include <cmath>

#include "runnel/units/number.hpp"

namespace runnel::cli {

void JsonWriter::next() {
  if (named_) {  // the value of a name just written
    named_ = false;
    return;
  }
  if (!open_.empty()) out_ += first_ ? "\n" : ",\n";
  first_ = false;
  out_.append(2 * open_.size(), ' ');
}

void JsonWriter::name(std::string_view key) {
  next();
  string(key);
  out_ += ": ";
  named_ = true;
}

void JsonWriter::open(char bracket) {
  next();
  out_ += bracket;
  open_.push_back(bracket);
  first_ = true;
}

void JsonWriter::close() {
  const char bracket = open_.back();
  open_.pop_back();
  if (!first_) out_ += "\n" + std::string(2 * open_.size(), ' ');
  out_ += bracket == '{' ? '}' : ']';
  first_ = false;
}

void JsonWriter::string(std::string_view text) {
  named_ = false;
  static constexpr std::string_view digits = "0123456789abcdef";
  out_ += '"';
  for (const char c : text) {
    const auto byte = static_cast<unsigned char>(c);
    if (c == '"' || c == '\\') {
      out_ += '\\';
      out_ += c;
    } else if (byte < 0x20) {
      out_ += "\\u00";
      out_ += digits[byte >> 4U];
      out_ += digits[byte & 0xFU];
    } else {
      out_ += c;
    }
  }
  out_ += '"';
}

void JsonWriter::value(std::string_view key, double number) {
  name(key);
  named_ = false;
  raw(std::isfinite(number) ? shortest(number) : "null");
}

void JsonWriter::element(double number) {
  next();
  raw(std::isfinite(number) ? shortest(number) : "null");
}

}  // namespace runnel::cli
