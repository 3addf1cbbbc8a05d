// libFuzzer on a job as JSON, all the way: text, job, derived, both sheets as HTML. Refused is refused in words; what
// is accepted is written, read again and the same.
//
// Random bytes are hardly ever JSON. So half of the inputs are changed as trees: a value is replaced, dropped, doubled
// or moved, a key becomes another field's.
#include <random>

#include "core/derive/derived.h"
#include "core/exchange/job_csv.h"
#include "core/exchange/job_json.h"
#include "core/html/html.h"
#include "core/job/json.h"
#include "core/session/decide.h"
#include "core/sheet/sheet.h"
#include "core/words/words.h"
#include "tests/fuzz/draws.h"

extern "C" std::size_t LLVMFuzzerMutate(std::uint8_t* data, std::size_t size, std::size_t most);

namespace {

using namespace tapwright;
using namespace tapwright::fuzz;

Result<Job> job_from(const std::string& text) {
    TAPWRIGHT_TAKE(read, read_job(text, "job.json"));
    const auto place = [&](std::size_t change, std::string_view field) { return read.place(change, field); };
    TAPWRIGHT_TAKE(made, decide(Job(), Command{.changes = read.changes, .fill_in = false, .place = place}, {"Ana", ""},
                                {"2026-03-02T08:00:00Z", 1, 7}, [](const Id&) { return false; }));
    return made.after;
}

void make_sheets(const Job& job, const Derived& derived) {
    for (const SheetReader reader : {SheetReader::owner, SheetReader::technician}) {
        SheetOptions options;
        options.reader = reader;
        options.time = "2026-03-02T08:00:00Z";
        const std::string page = html_page(handover_sheet(job, derived, options, Words()));
        TAPWRIGHT_ENSURE(page.find("<script") == std::string::npos);
        for (const char* none : {">nan", ">inf", ">-inf"}) TAPWRIGHT_ENSURE(page.find(none) == std::string::npos);
    }
}

// ---- changing a tree ----

using Chance = std::minstd_rand;

// The n-th value of a tree, or null with what is left of n.
Value* nth(Value& value, std::size_t& n) {
    if (n-- == 0) return &value;
    if (Map* map = value.map())
        for (auto& [key, held] : *map)
            if (Value* found = nth(held, n)) return found;
    if (List* list = value.list())
        for (Value& held : *list)
            if (Value* found = nth(held, n)) return found;
    return nullptr;
}

std::size_t count_of(const Value& value) {
    std::size_t count = 1;
    if (const Map* map = value.map())
        for (const auto& [key, held] : *map) count += count_of(held);
    if (const List* list = value.list())
        for (const Value& held : *list) count += count_of(held);
    return count;
}

Value& any_of(Value& tree, Chance& chance) {
    std::size_t n = chance() % count_of(tree);
    return *nth(tree, n);
}

const FieldInfo& any_field(Chance& chance) {
    const std::span<const FieldInfo> known = fields(kind_at(chance() % kind_count));
    return known[chance() % known.size()];
}

Value fresh(Chance& chance) {
    std::uint8_t bytes[16];
    for (std::uint8_t& byte : bytes) byte = static_cast<std::uint8_t>(chance());
    Draws draws(bytes, sizeof bytes);
    return any_value(any_field(chance), draws);
}

void change_list(List& list, Chance& chance) {
    if (list.empty()) return;
    const std::size_t at = chance() % list.size();
    if (chance() % 2 == 0)
        list.erase(list.begin() + static_cast<std::ptrdiff_t>(at));
    else
        list.push_back(Value(list[at]));
}

void change_map(Map& map, Chance& chance) {
    const std::size_t at = map.empty() ? 0 : chance() % map.size();
    switch (map.empty() ? 0 : chance() % 4) {
        case 0: {
            std::uint8_t bytes[8] = {static_cast<std::uint8_t>(chance()), static_cast<std::uint8_t>(chance())};
            Draws draws(bytes, sizeof bytes);
            const FieldInfo& field = any_field(chance);
            map.emplace_back(field.name, any_value(field, draws));
            return;
        }
        case 1:
            map.erase(map.begin() + static_cast<std::ptrdiff_t>(at));
            return;
        case 2:
            map[at].first = any_field(chance).name;
            return;
        default:
            map[at].second = fresh(chance);
    }
}

void change(Value& tree, Chance& chance) {
    Value& value = any_of(tree, chance);
    if (Map* map = value.map(); map && chance() % 4 != 0) return change_map(*map, chance);
    if (List* list = value.list(); list && chance() % 4 != 0) return change_list(*list, chance);
    const Value other = any_of(tree, chance);
    value = chance() % 2 == 0 ? fresh(chance) : other;
}

}  // namespace

extern "C" std::size_t LLVMFuzzerCustomMutator(std::uint8_t* data, std::size_t size, std::size_t most, unsigned seed) {
    Chance chance(seed);
    Result<Value> tree = parse_json({reinterpret_cast<const char*>(data), size}, "input");
    if (!tree || chance() % 4 == 0) return LLVMFuzzerMutate(data, size, most);
    for (std::size_t times = 1 + chance() % 3; times > 0; --times) change(*tree, chance);
    const std::string text = compact_json(*tree);
    if (text.size() > most) return LLVMFuzzerMutate(data, size, most);
    std::copy(text.begin(), text.end(), data);
    return text.size();
}

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
    const Result<Job> job = job_from({reinterpret_cast<const char*>(data), size});
    if (!job) {
        TAPWRIGHT_ENSURE(!in_english(job.refusal()).empty());
        return 0;
    }
    make_sheets(*job, derive(*job));
    (void)write_csv(*job);
    const std::string written = write_job(*job);
    const Result<Job> again = job_from(written);
    TAPWRIGHT_ENSURE(again.ok() && write_job(*again) == written);
    return 0;
}
