#include "runnel/units/quantity.hpp"

#include <doctest/doctest.h>

#include <type_traits>

using runnel::Area;
using runnel::Depth;
using runnel::Duration;
using runnel::Flow;
using runnel::Rate;
using runnel::Volume;

namespace {

template <class A, class B>
concept Multipliable = requires(A a, B b) {
  a* b;
};
template <class A, class B>
concept Addable = requires(A a, B b) {
  a + b;
};
template <class A, class B>
concept Comparable = requires(A a, B b) {
  a < b;
};

static_assert(!Multipliable<Area, Area>);
static_assert(!Multipliable<Depth, Duration>);
static_assert(!Multipliable<Flow, Area>);
static_assert(!Addable<Depth, Volume>);
static_assert(!Addable<Depth, double>);
static_assert(!Comparable<Depth, Rate>);
static_assert(!std::is_convertible_v<double, Depth>);
static_assert(!std::is_constructible_v<Depth, double>);
static_assert(sizeof(Depth) == sizeof(double));

}  // namespace

TEST_SUITE("units") {
  TEST_CASE("quantity - one millimetre over one square metre is one litre") {
    CHECK((Depth::mm(1.0) * Area::m2(1.0)).litres() == 1.0);
    CHECK((Depth::mm(29.5) * Area::m2(18.0)).litres() == doctest::Approx(531.0).epsilon(1e-12));
    CHECK((Volume::litres(36.0) / Area::m2(18.0)).mm() == 2.0);
  }

  TEST_CASE("quantity - flow, rate and time") {
    // Dripline of 2.1 L/h at 0.3 m x 0.4 m.
    const Rate rate = Flow::litres_per_hour(2.1) / Area::m2(0.3 * 0.4);
    CHECK(rate.mm_per_hour() == doctest::Approx(17.5).epsilon(1e-12));
    CHECK((Depth::mm(35.0) / rate).minutes() == doctest::Approx(120.0).epsilon(1e-12));
    CHECK((rate * Duration::minutes(30.0)).mm() == doctest::Approx(8.75).epsilon(1e-12));
    CHECK((rate * Area::m2(18.0)).litres_per_hour() == doctest::Approx(315.0).epsilon(1e-12));
    CHECK((Flow::litres_per_hour(16.0 * 60.0) * Duration::minutes(10.0)).litres() == 160.0);
    CHECK((Volume::litres(160.0) / Flow::litres_per_hour(960.0)).minutes() == 10.0);
  }

  TEST_CASE("quantity - sums, multiples, ratios and order") {
    const Depth a = Depth::mm(3.0);
    const Depth b = Depth::mm(1.5);
    CHECK((a + b).mm() == 4.5);
    CHECK((a - b).mm() == 1.5);
    CHECK((a * 2.0).mm() == 6.0);
    CHECK((2.0 * a).mm() == 6.0);
    CHECK((a / 2.0).mm() == 1.5);
    CHECK(a / b == 2.0);
    CHECK(b < a);
    CHECK(a == Depth::mm(3.0));
  }
}
