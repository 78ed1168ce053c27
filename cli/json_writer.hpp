#pragma once

#include <string>
#include <string_view>
#include <vector>

namespace runnel::cli {

/// Writes JSON (RFC 8259), two blanks a level. Values that are not finite become null.
class JsonWriter {
 public:
  void begin_object() { open('{'); }
  void begin_object(std::string_view key) {
    name(key);
    open('{');
  }
  void begin_array(std::string_view key) {
    name(key);
    open('[');
  }
  void end() { close(); }

  void value(std::string_view key, std::string_view text) {
    name(key);
    string(text);
  }
  void value(std::string_view key, const char* text) { value(key, std::string_view(text)); }
  void value(std::string_view key, double number);
  void value(std::string_view key, int number) {
    name(key);
    named_ = false;
    raw(std::to_string(number));
  }
  void value(std::string_view key, bool truth) {
    name(key);
    named_ = false;
    raw(truth ? "true" : "false");
  }
  void element(std::string_view text) {
    next();
    string(text);
  }
  void element(double number);

  /// The finished text, with a line end.
  [[nodiscard]] std::string text() const { return out_ + "\n"; }

 private:
  void next();
  void name(std::string_view key);
  void open(char bracket);
  void close();
  void string(std::string_view text);
  void raw(std::string_view text) { out_ += text; }
  std::string out_;
  std::vector<char> open_;
  bool first_ = true;
  bool named_ = false;
};

}  // namespace runnel::cli
