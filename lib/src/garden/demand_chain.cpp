#include "runnel/garden/demand_chain.hpp"

#include <utility>

namespace runnel {
namespace {

constexpr std::array<std::string_view, demand_factor_count> texts{
    "sun and sky",     "shelter from wind", "plants",        "density",
    "stage of growth", "how pots stand",    "soil and mulch"};

std::size_t index(DemandFactor factor) { return static_cast<std::size_t>(factor); }

Column product(const DemandChain& chain, std::size_t first, std::size_t last) {
  Column all = Column::Ones(chain.eto_mm.size());
  for (std::size_t i = first; i < last; ++i) all *= chain.factors[i];
  return all;
}

constexpr std::size_t exposure_ends = static_cast<std::size_t>(DemandFactor::plants);

}  // namespace

std::string_view to_text(DemandFactor factor) { return texts[index(factor)]; }

DemandChain::DemandChain(Column eto) : eto_mm(std::move(eto)) {
  factors.fill(Column::Ones(eto_mm.size()));
}

Column& DemandChain::operator[](DemandFactor factor) { return factors[index(factor)]; }
const Column& DemandChain::operator[](DemandFactor factor) const { return factors[index(factor)]; }

Column DemandChain::demand_mm() const { return eto_mm * product(*this, 0, demand_factor_count); }
Column DemandChain::exposure() const { return product(*this, 0, exposure_ends); }
Column DemandChain::coefficient() const {
  return product(*this, exposure_ends, demand_factor_count);
}

std::array<double, demand_factor_count> DemandChain::mean_factors(Eigen::Index days) const {
  std::array<double, demand_factor_count> means{};
  Column so_far_mm = eto_mm.head(days);
  for (std::size_t i = 0; i < demand_factor_count; ++i) {
    const double before_mm = so_far_mm.sum();
    so_far_mm *= factors[i].head(days);
    means[i] = before_mm > 0.0 ? so_far_mm.sum() / before_mm : 1.0;
  }
  return means;
}

}  // namespace runnel
