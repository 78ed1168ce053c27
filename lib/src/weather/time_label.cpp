#include <array>
#include <chrono>
#include <cstddef>
#include <string>

#include "runnel/units/number.hpp"
#include "time_axis.hpp"

namespace runnel {
namespace {

using Kind = LabelFault::Kind;

// Years in which weather has been measured or may be forecast; outside them a date is a slip of the
// pen.
constexpr int first_year = 1800;
constexpr int last_year = 2299;

LabelOrFault fault(Kind kind, std::string says, std::string mend) {
  return {{}, {kind, std::move(says), std::move(mend)}};
}

std::optional<int> digits(std::string_view text, std::size_t least, std::size_t most) {
  if (text.size() < least || text.size() > most) return std::nullopt;
  int value = 0;
  for (const char c : text) {
    if (c < '0' || c > '9') return std::nullopt;
    value = 10 * value + (c - '0');
  }
  return value;
}

struct Ymd {
  int year = 0;
  int month = 0;
  int day = 0;
};

/// Reads the text by a form such as "YYYY-MM-DD" or "D.M.YYYY": letters stand for digits (a leading
/// zero of day and month may be left out except in the ISO form), anything else for itself.
std::optional<Ymd> by_form(std::string_view text, std::string_view form) {
  const bool strict = form == "YYYY-MM-DD";
  Ymd ymd;
  std::size_t at = 0;
  for (std::size_t i = 0; i < form.size();) {
    const char letter = form[i];
    std::size_t end = i;
    while (end < form.size() && form[end] == letter) ++end;
    const bool is_year = letter == 'Y';
    if (!is_year && letter != 'M' && letter != 'D') {
      if (text.substr(at, end - i) != form.substr(i, end - i)) return std::nullopt;
      at += end - i;
      i = end;
      continue;
    }
    std::size_t stop = at;
    const std::size_t most = is_year ? 4 : 2;
    while (stop < text.size() && stop - at < most && text[stop] >= '0' && text[stop] <= '9') ++stop;
    const auto value = digits(text.substr(at, stop - at), is_year ? 4 : (strict ? 2 : 1), most);
    if (!value) return std::nullopt;
    (is_year ? ymd.year : (letter == 'M' ? ymd.month : ymd.day)) = *value;
    at = stop;
    i = end;
  }
  if (at != text.size()) return std::nullopt;
  return ymd;
}

std::string form_mend(std::string_view form) {
  if (form != "YYYY-MM-DD") return "write it as the header says: " + std::string(form);
  return "write it as 2027-06-15, or say in the header how dates are written: \"date "
         "[DD.MM.YYYY]\"";
}

LabelOrFault label_of(const Ymd& ymd, std::string_view written) {
  const std::chrono::year_month_day date{std::chrono::year(ymd.year),
                                         std::chrono::month(static_cast<unsigned>(ymd.month)),
                                         std::chrono::day(static_cast<unsigned>(ymd.day))};
  if (!date.ok())
    return fault(Kind::no_such_day, quoted(written) + ": there is no such day", "correct the date");
  if (ymd.year < first_year || ymd.year > last_year) {
    return fault(Kind::year, quoted(written) + " lies outside the years 1800 to 2299",
                 "correct the year");
  }
  const Date day(date);
  return {{static_cast<std::int64_t>(day.time_since_epoch().count()) * 24 * 60, false}, {}};
}

/// Takes "Z" or "+01:00" from the end of a time of day. @return minutes east of UTC, or nothing
/// when none is stated.
std::optional<int> take_offset(std::string_view& text) {
  if (text.ends_with('Z') || text.ends_with('z')) {
    text.remove_suffix(1);
    return 0;
  }
  const std::size_t sign = text.find_last_of("+-");
  if (sign == std::string_view::npos) return std::nullopt;
  const std::string_view stated = text.substr(sign + 1);
  if (stated.size() < 2) return std::nullopt;
  const auto hours = digits(stated.substr(0, 2), 2, 2);
  const bool colon = stated.size() == 5 && stated[2] == ':';
  const auto minutes =
      stated.size() == 2 ? std::optional<int>(0) : digits(stated.substr(colon ? 3 : 2), 2, 2);
  if (!hours || !minutes) return std::nullopt;
  const int offset = 60 * *hours + *minutes;
  const int signed_offset = text[sign] == '-' ? -offset : offset;
  text = text.substr(0, sign);
  return signed_offset;
}

std::string offset_text(int minutes) {
  const int size = minutes < 0 ? -minutes : minutes;
  return (minutes < 0 ? "UTC-" : "UTC+") + clock(WallTime(size));
}

/// "04:00" or "04:00:00", whole minutes.
std::optional<int> clock_minutes(std::string_view text) {
  const std::size_t first = text.find(':');
  if (first == std::string_view::npos) return std::nullopt;
  const std::size_t second = text.find(':', first + 1);
  if (second != std::string_view::npos) {
    std::string_view seconds = text.substr(second + 1);
    if (!seconds.starts_with("00")) return std::nullopt;
    seconds.remove_prefix(2);
    const bool fraction_of_zeros = seconds.size() > 1 && seconds[0] == '.' &&
                                   seconds.find_first_not_of('0', 1) == std::string_view::npos;
    if (!seconds.empty() && !fraction_of_zeros) return std::nullopt;
    text = text.substr(0, second);
  }
  const auto time = parse_clock(text);
  if (!time) return std::nullopt;
  return static_cast<int>(time->count());
}

}  // namespace

std::optional<int> read_clock_cell(std::string_view text) {
  if (text.find(':') != std::string_view::npos) return clock_minutes(text);
  const auto hour = digits(text, 1, 2);
  if (!hour || *hour > 24) return std::nullopt;
  return 60 * *hour;
}

LabelOrFault read_day(std::string_view year, std::string_view month, std::string_view day) {
  const auto y = digits(year, 4, 4);
  const auto m = digits(month, 1, 2);
  const auto d = digits(day, 1, 2);
  const std::string written = std::string(year) + "-" + std::string(month) + "-" + std::string(day);
  if (!y || !m || !d) {
    return fault(Kind::not_a_date, quoted(written) + " is no year, month and day",
                 "write whole numbers, such as 2027, 6, 15");
  }
  return label_of({*y, *m, *d}, written);
}

LabelOrFault read_label(std::string_view text, std::string_view form,
                        std::chrono::minutes utc_offset) {
  // The form may hold blanks itself; a time of day begins at the last blank or 'T' before the first
  // colon.
  const std::size_t colon = text.find(':');
  const std::size_t split =
      colon == std::string_view::npos ? colon : text.find_last_of("Tt ", colon);
  const bool has_clock = split != std::string_view::npos;
  const std::string_view date = trimmed(text.substr(0, has_clock ? split : text.size()));
  const auto ymd = by_form(date, form);
  if (!ymd) return fault(Kind::not_a_date, quoted(text) + " is not a date", form_mend(form));
  LabelOrFault read = label_of(*ymd, date);
  if (read.fault.kind != Kind::none || !has_clock) return read;

  std::string_view time = trimmed(text.substr(split + 1));
  const auto offset = take_offset(time);
  const auto minutes = clock_minutes(trimmed(time));
  if (!minutes) {
    return fault(Kind::clock, quoted(text) + " holds no time of day that can be read",
                 "write it as 2027-06-15T04:00");
  }
  if (offset && *offset != utc_offset.count()) {
    return fault(
        Kind::offset,
        quoted(text) + " is on a clock of " + offset_text(*offset) +
            ", but this file's clock is taken to be " +
            offset_text(static_cast<int>(utc_offset.count())),
        "state the file's UTC offset where the weather files are named; all rows must share it");
  }
  read.label.minute += *minutes;
  read.label.has_clock = true;
  return read;
}

}  // namespace runnel
