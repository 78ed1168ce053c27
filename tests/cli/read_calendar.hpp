#pragma once

#include <doctest/doctest.h>
#include <libical/ical.h>

#include <ctime>
#include <memory>
#include <string>
#include <vector>

namespace runnel {

/// An event as libical reads it.
struct CalendarEvent {
  std::string uid, summary, description, location, categories;
  std::string date;      ///< "2026-07-13", of an event that takes all day; else empty
  std::time_t begins{};  ///< by the file's own VTIMEZONE
  int length_min = 0;    ///< of time that passes, not by the wall's clock
  int sequence = 0;
  bool cancelled = false;
  std::vector<int> alarms_min;  ///< before the event begins
};

/// A calendar file as libical, an independent reader, understands it; the test fails where that
/// finds fault with it.
class CalendarFile {
 public:
  explicit CalendarFile(const std::string& text) : root_(icalparser_parse_string(text.c_str())) {
    REQUIRE(root_ != nullptr);
    CHECK(icalcomponent_isa(root_.get()) == ICAL_VCALENDAR_COMPONENT);
    CHECK(icalcomponent_count_errors(root_.get()) == 0);
    CHECK(icalrestriction_check(root_.get()) == 1);
    CHECK(icalcomponent_count_errors(root_.get()) == 0);  // the check writes its findings there
    for (icalcomponent* event = first(ICAL_VEVENT_COMPONENT); event != nullptr;
         event = icalcomponent_get_next_component(root_.get(), ICAL_VEVENT_COMPONENT))
      events_.push_back(read(event));
  }

  [[nodiscard]] const std::vector<CalendarEvent>& events() const { return events_; }
  [[nodiscard]] std::vector<CalendarEvent> of(const std::string& category) const {
    std::vector<CalendarEvent> some;
    for (const CalendarEvent& event : events_)
      if (event.categories == category) some.push_back(event);
    return some;
  }
  /// The only event whose UID begins so.
  [[nodiscard]] CalendarEvent about(const std::string& uid) const {
    std::vector<CalendarEvent> some;
    for (const CalendarEvent& event : events_)
      if (event.uid.starts_with(uid)) some.push_back(event);
    CAPTURE(uid);
    REQUIRE(some.size() == 1);
    return some.front();
  }
  [[nodiscard]] int time_zones() const {
    return icalcomponent_count_components(root_.get(), ICAL_VTIMEZONE_COMPONENT);
  }
  [[nodiscard]] std::string name() const {
    return text_of(icalcomponent_get_first_property(root_.get(), ICAL_NAME_PROPERTY));
  }

 private:
  struct Free {
    void operator()(icalcomponent* component) const { icalcomponent_free(component); }
  };

  [[nodiscard]] icalcomponent* first(icalcomponent_kind kind) const {
    return icalcomponent_get_first_component(root_.get(), kind);
  }
  static std::string text_of(icalproperty* property) {
    if (property == nullptr) return {};
    const char* text = icalvalue_get_text(icalproperty_get_value(property));
    return text == nullptr ? "" : text;
  }
  static std::string text_of(icalcomponent* of, icalproperty_kind kind) {
    return text_of(icalcomponent_get_first_property(of, kind));
  }

  [[nodiscard]] CalendarEvent read(icalcomponent* event) const {
    CalendarEvent read{.uid = text_of(event, ICAL_UID_PROPERTY),
                       .summary = text_of(event, ICAL_SUMMARY_PROPERTY),
                       .description = text_of(event, ICAL_DESCRIPTION_PROPERTY),
                       .location = text_of(event, ICAL_LOCATION_PROPERTY),
                       .categories = text_of(event, ICAL_CATEGORIES_PROPERTY),
                       .date = {},
                       .sequence = icalcomponent_get_sequence(event),
                       .cancelled = icalcomponent_get_status(event) == ICAL_STATUS_CANCELLED,
                       .alarms_min = {}};
    icalproperty* const start = icalcomponent_get_first_property(event, ICAL_DTSTART_PROPERTY);
    REQUIRE(start != nullptr);
    const icaltimetype at = icalproperty_get_dtstart(start);
    if (at.is_date != 0) {
      const std::string digits = icaltime_as_ical_string(at);
      read.date = digits.substr(0, 4) + "-" + digits.substr(4, 2) + "-" + digits.substr(6);
    } else {
      icalparameter* const id = icalproperty_get_first_parameter(start, ICAL_TZID_PARAMETER);
      REQUIRE(id != nullptr);
      icaltimezone* const zone =
          icalcomponent_get_timezone(root_.get(), icalparameter_get_tzid(id));
      REQUIRE(zone != nullptr);
      read.begins = icaltime_as_timet_with_zone(at, zone);
      read.length_min = icaldurationtype_as_int(icalcomponent_get_duration(event)) / 60;
    }
    for (icalcomponent* alarm = icalcomponent_get_first_component(event, ICAL_VALARM_COMPONENT);
         alarm != nullptr; alarm = icalcomponent_get_next_component(event, ICAL_VALARM_COMPONENT)) {
      const icaltriggertype trigger =
          icalproperty_get_trigger(icalcomponent_get_first_property(alarm, ICAL_TRIGGER_PROPERTY));
      read.alarms_min.push_back(-icaldurationtype_as_int(trigger.duration) / 60);
    }
    return read;
  }

  std::unique_ptr<icalcomponent, Free> root_;
  std::vector<CalendarEvent> events_;
};

}  // namespace runnel
