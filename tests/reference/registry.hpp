#pragma once

#include <functional>
#include <map>
#include <string>
#include <string_view>
#include <vector>

namespace runnel::reference {

/// One row of a table of published figures (fao56_examples.csv, fao56_annex2.csv).
struct PublishedRow {
  std::string example, quantity, symbol;
  std::string inputs_text;                    ///< as the table writes them
  std::map<std::string, std::string> inputs;  ///< "Tmax=24.5; bare" gives {Tmax: 24.5, bare: ""}
  double expected;
  double test_tolerance;  ///< what a full-precision computation must meet
  std::string
      status;  ///< ok, chain_rounding: must be met; figure_reading, book_slip: listed with the note
  std::string note;
  std::string where;  ///< "file:line"

  [[nodiscard]] bool has(std::string_view key) const { return inputs.count(std::string{key}) > 0; }
  /// The number a value begins with: 0.8 of "RsRso=0.8 (assumed)". @throws std::invalid_argument
  /// when there is none.
  [[nodiscard]] double number(std::string_view key) const;
  [[nodiscard]] double number_or(std::string_view key, double otherwise) const {
    return has(key) ? number(key) : otherwise;
  }
  [[nodiscard]] bool must_be_met() const { return status == "ok" || status == "chain_rounding"; }
};

/// Computes a row's quantity by calling Runnel's public functions on the row's inputs; never looks
/// at `expected`.
using Adaptor = std::function<double(const PublishedRow&)>;

/// Which rows an adaptor serves. An empty example or quantity means any; `quantity_has` is a part
/// of the row's quantity.
struct RowKind {
  std::string symbol;
  std::string example = {};
  std::string quantity_has = {};
};

class Registry {
 public:
  void add(RowKind kind, Adaptor adaptor) {
    entries_.push_back({std::move(kind), std::move(adaptor)});
  }
  /// The adaptor whose kind says most about the row: the longest part of the quantity, then the
  /// example, then the one added last; or null.
  [[nodiscard]] const Adaptor* find(const PublishedRow& row) const;

 private:
  struct Entry {
    RowKind kind;
    Adaptor adaptor;
  };
  std::vector<Entry> entries_;
};

/// The rows of a table, read from the text of the CSV file. `name` goes into `where`.
[[nodiscard]] std::vector<PublishedRow> published_rows(std::string_view csv, std::string_view name);

void add_et_formulas(Registry& registry);    // et_formulas.cpp: sky, reference_et
void add_crop_formulas(Registry& registry);  // crop_formulas.cpp: demand, soil

}  // namespace runnel::reference
