// libFuzzer on what people type: a field's value, and a table of points out of a spreadsheet. Each ends in a sentence
// or in a value that keeps to its field, reads back from what an editor would show, and survives the file.
#include "core/job/field_text.h"
#include "core/job/json.h"
#include "core/session/decide.h"
#include "core/words/words.h"
#include "platform/cli/points_table.h"
#include "tests/fuzz/draws.h"

namespace {

using namespace tapwright;
using namespace tapwright::fuzz;

void try_field(const FieldInfo& field, const std::string& text, LengthUnits lengths) {
    const Result<Value> value = value_from_text(field, text, lengths);
    if (!value) {
        TAPWRIGHT_ENSURE(!in_english(value.refusal()).empty());
        return;
    }
    (void)in_english(message_of(field, *value));
    if (value->is_null()) return;
    TAPWRIGHT_ENSURE(check_form(field, *value).ok());
    const Result<Value> read = parse_json(compact_json(*value), "value");
    TAPWRIGHT_ENSURE(read.ok() && *read == *value);
    const std::string shown = editable_text(field, *value, lengths);
    const Result<Value> again = value_from_text(field, shown, lengths);
    if (field.form != FieldForm::text) TAPWRIGHT_ENSURE(again.ok() && *again == *value);
}

void try_table(const std::string& text) {
    static const Job job = [] {
        Draws none(nullptr, 0);
        return decide(Job(), Command{.changes = any_job(none), .fill_in = false, .place = {}}, {"Ana", ""},
                      {"2026-03-02T08:00:00Z", 1, 7}, [](const Id&) { return false; })
            ->after;
    }();
    IdMaker ids(7);
    const auto table = cli::read_points(job, text, Words(), ids);
    if (!table) {
        TAPWRIGHT_ENSURE(!in_english(table.refusal()).empty());
        return;
    }
    for (const cli::TableProblem& problem : table->problems) TAPWRIGHT_ENSURE(!in_english(problem.text).empty());
    if (!table->problems.empty()) return;
    const auto place = [&](std::size_t change, std::string_view field) {
        return in_english(table->place_of(change, field));
    };
    (void)decide(job, Command{.changes = table->changes, .fill_in = true, .place = place}, {"Ana", ""},
                 {"2026-03-02T08:00:00Z", 1, 9}, [](const Id&) { return false; });
}

}  // namespace

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
    Draws draws(data, size);
    // As many numbers as there are kinds, and some for the table.
    const std::size_t what = draws.below(kind_count + 8);
    if (what >= kind_count) {
        try_table(draws.rest());
        return 0;
    }
    const std::span<const FieldInfo> known = fields(kind_at(what));
    const FieldInfo& field = known[draws.below(known.size())];
    const LengthUnits lengths = draws.below(2) == 0 ? LengthUnits::metric : LengthUnits::feet;
    try_field(field, draws.rest(), lengths);
    return 0;
}
