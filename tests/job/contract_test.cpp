// The field table against a second copy of the contract, written by hand and not from the table. Files of every version
// rest on these names, so a change here is a change of the file format.
#include <doctest/doctest.h>

#include <sstream>
#include <string>
#include <vector>

#include "core/job/field_table.h"

using namespace tapwright;

namespace {

// Kind, its key in files, then each field as key:form, with * behind those that are required.
struct KindContract {
    const char* singular;
    const char* plural;
    const char* fields;
};

const KindContract contract[] = {
    {"job", "job",
     "name:text* site:text client:text contractor:text contact:text after_hours:text responsible:text instructed:text "
     "how_to_page:text how_to_source:text documents:text warranty_until:date check_months:whole "
     "walk_tested:date polarity_tested:date taps_checked:date labels_checked:date "
     "line_v:number units:choice reserve_pct:number "
     "ohms_tol_pct:number baseline_tol_pct:number loss_limit_db:number test_hz:number cable_c:number "
     "fault_weights:text "
     "code_note:text notes:text"},
    {"room", "rooms",
     "name:text* floor:text use:text order:whole length_m:number width_m:number height_m:number ear_height_m:number "
     "ceiling:choice plenum:flag access:text noise_dba:number wanted_dba:number notes:text"},
    {"amplifier", "amplifiers", "name:text* room:id model:text serial:text breaker:text rated_w:number notes:text"},
    {"channel", "channels",
     "name:text* amplifier:id mode:choice rated_w:number line_v:number min_ohm:number highpass_hz:number notes:text"},
    {"zone", "zones",
     "name:text* channel:id terminal:text output:choice limit_w:number line_v:number knob_db:number "
     "emergency:choice disconnected:flag wiring_class:choice notes:text"},
    {"speaker_type", "speaker_types",
     "name:text* taps_w:number_list* taps_v:number tap_marks:text_map max_w:number low_z_ohm:number sens_db:number "
     "cone_deg:number mount:choice tap_means:choice xfmr_loss_db:number mag_h:number leak_h:number primary_ohm:number "
     "secondary_ohm:number notes:text"},
    {"attenuator_type", "attenuator_types",
     "name:text* rated_w:number rated_v:number steps_db:number_list has_off:flag insertion_db:number build:choice "
     "pad_ohm:number override:choice coil_ma:number notes:text"},
    {"cable_type", "cable_types",
     "name:text* awg:whole strand:choice area_mm2:number iec_class:whole ohm_per_km:number metal:choice jacket:text "
     "notes:text"},
    {"point", "points",
     "kind:choice* label:text* room:id x_m:number y_m:number fed_from:id feed_side:choice ring_to:id cable:id "
     "length_m:number type:id planned_tap_w:number tap_w:number wired:choice knob_db:knob state:choice origin:choice "
     "found_w:number found_by:id emergency:choice polarity:choice heard:choice override_tested:date serial:text "
     "notes:text"},
    {"control", "controls", "name:text* room:id governs:id_list kind:choice normal:text notes:text"},
    {"interface", "interfaces", "kind:choice* amplifier:id supply_ma:number tested:date notes:text"},
    {"setting", "settings", "amplifier:id* name:text* value:text*"},
    {"visit", "visits", "purpose:choice* date:date person:text notes:text"},
    {"reading", "readings",
     "at:id* quantity:choice* value:number over_range:flag expected_ohm:number hz:number time:time visit:id "
     "instrument:text knobs:knob_map isolated:flag meter_pct:number range_ohm:number override:flag signal:choice "
     "baseline:flag notes:text"},
    {"snag", "snags", "about:id text:text* state:choice who:text opened:date closed:date share:choice"},
    {"photo", "photos", "about:id sha256:sha256* file:text caption:text taken:time pin:pin share:choice"},
    {"trial", "trials", "name:text* changes:changes*"},
    {"signoff", "signoffs", "name:text* role:text time:time strokes:strokes sheet:sha256"},
    {"sheet", "sheets", "time:time* reader:choice* state:sha256* position:whole sha256:sha256 version:text"},
};

// The words of every choice, in their order.
struct ChoiceContract {
    Kind kind;
    const char* field;
    const char* words;
};

const ChoiceContract choices[] = {
    {Kind::job, "units", "metric imperial"},
    {Kind::room, "ceiling", "tile plaster open wall outdoor"},
    {Kind::channel, "mode", "line low_z bridged"},
    {Kind::zone, "output", "switched stepped direct low_z"},
    {Kind::zone, "emergency", "yes no"},
    {Kind::zone, "wiring_class", "1 2 3 unknown"},
    {Kind::speaker_type, "mount", "ceiling wall pendant horn outdoor"},
    {Kind::speaker_type, "tap_means", "drawn delivered"},
    {Kind::attenuator_type, "build", "autotransformer l_pad"},
    {Kind::attenuator_type, "override", "none energise release third_wire"},
    {Kind::cable_type, "strand", "solid stranded"},
    {Kind::cable_type, "metal", "copper cca"},
    {Kind::point, "kind", "speaker attenuator splice other"},
    {Kind::point, "feed_side", "out in"},
    {Kind::point, "wired", "line low_z off"},
    {Kind::point, "state", "planned cabled fitted tested"},
    {Kind::point, "origin", "existing new"},
    {Kind::point, "emergency", "yes no"},
    {Kind::point, "polarity", "ok reversed"},
    {Kind::point, "heard", "ok silent buzz low"},
    {Kind::control, "kind", "speaker_side remote"},
    {Kind::interface, "kind", "fire_mute paging bells override_24v background"},
    {Kind::visit, "purpose", "survey first_fix second_fix commissioning handover service"},
    {Kind::reading, "quantity", "ohms dc_ohms earth_ohms cross_ohms stray_v volts level_dba noise_dba tap_w"},
    {Kind::reading, "signal", "none tone pink programme"},
    {Kind::snag, "state", "open closed"},
    {Kind::snag, "share", "owner technician private"},
    {Kind::photo, "share", "owner technician private"},
    {Kind::sheet, "reader", "owner technician"},
};

struct DefaultContract {
    Kind kind;
    const char* field;
    const char* text;
};

std::vector<std::string> words_in(const std::string& text) {
    std::istringstream stream(text);
    std::vector<std::string> words;
    for (std::string word; stream >> word;) words.push_back(word);
    return words;
}

std::string contract_name(FieldForm form) {
    static const char* const names[] = {"text",    "number",   "whole",    "flag",    "choice", "id",
                                        "date",    "time",     "sha256",   "knob",    "pin",    "number_list",
                                        "id_list", "text_map", "knob_map", "strokes", "changes"};
    return names[static_cast<std::size_t>(form)];
}

}  // namespace

TEST_CASE("every kind and every key of the contract is there, in order and with its form, and no other") {
    REQUIRE(std::size(contract) == kind_count);
    for (std::size_t i = 0; i < kind_count; ++i) {
        const Kind kind = kind_at(i);
        CAPTURE(contract[i].singular);
        CHECK(singular(kind) == contract[i].singular);
        CHECK(plural(kind) == contract[i].plural);
        CHECK(kind_from_singular(contract[i].singular) == kind);
        CHECK(kind_from_plural(contract[i].plural) == kind);
        std::string found;
        for (const FieldInfo& field : fields(kind))
            found += (found.empty() ? "" : " ") + std::string(field.name) + ":" + contract_name(field.form) +
                     (field.rule.is_required ? "*" : "");
        CHECK(found == contract[i].fields);
    }
}

TEST_CASE("every choice has the words of the contract") {
    std::size_t found = 0;
    for (std::size_t i = 0; i < kind_count; ++i)
        for (const FieldInfo& field : fields(kind_at(i))) found += field.form == FieldForm::choice;
    CHECK(found == std::size(choices));
    for (const ChoiceContract& choice : choices) {
        const FieldInfo* field = find_field(choice.kind, choice.field);
        REQUIRE(field);
        const std::vector<std::string> words = words_in(choice.words);
        CHECK_MESSAGE(std::equal(words.begin(), words.end(), field->choices.begin(), field->choices.end()),
                      choice.field);
    }
}

TEST_CASE("what holds for an absent field is what the contract says") {
    const std::vector<DefaultContract> defaults = {
        {Kind::job, "line_v", "70.7"},
        {Kind::job, "units", "metric"},
        {Kind::job, "reserve_pct", "20"},
        {Kind::job, "ohms_tol_pct", "20"},
        {Kind::job, "baseline_tol_pct", "5"},
        {Kind::job, "loss_limit_db", "1"},
        {Kind::job, "test_hz", "1000"},
        {Kind::job, "cable_c", "20"},
        {Kind::channel, "mode", "line"},
        {Kind::zone, "output", "direct"},
        {Kind::speaker_type, "tap_means", "drawn"},
        {Kind::point, "feed_side", "out"},
        {Kind::point, "wired", "line"},
        {Kind::snag, "share", "technician"},
        {Kind::photo, "share", "technician"},
    };
    for (const DefaultContract& given : defaults) {
        const FieldInfo* field = find_field(given.kind, given.field);
        REQUIRE(field);
        CHECK_MESSAGE(field->rule.absent_means == given.text, given.field);
    }
}

TEST_CASE("a key that ends in a unit is a number of that unit") {
    const std::vector<std::pair<std::string, std::string>> endings = {
        {"_w", "W"}, {"_v", "V"},       {"_m", "m"},          {"_hz", "Hz"}, {"_ohm", "ohm"},
        {"_h", "H"}, {"_ma", "mA"},     {"_mm2", "mm2"},      {"_pct", "%"}, {"_deg", "deg"},
        {"_c", "C"}, {"_dba", "dB(A)"}, {"_per_km", "ohm/km"}};
    std::size_t found = 0;
    for (std::size_t i = 0; i < kind_count; ++i)
        for (const FieldInfo& field : fields(kind_at(i)))
            for (const auto& ending : endings)
                if (field.name.ends_with(ending.first)) {
                    ++found;
                    CHECK_MESSAGE(field.unit == ending.second, field.name);
                }
    CHECK(found == 44);
}

TEST_CASE("every reference says what it may point at, and every field says what it is") {
    for (std::size_t i = 0; i < kind_count; ++i)
        for (const FieldInfo& field : fields(kind_at(i))) {
            const bool refers =
                field.form == FieldForm::id || field.form == FieldForm::id_list || field.form == FieldForm::knob_map;
            CHECK_MESSAGE(field.rule.may_refer_to.empty() == !refers, field.name);
            CHECK_FALSE(field.help.empty());
            CHECK_FALSE(field.title.empty());
        }
}

TEST_CASE("no kind, no field") {
    CHECK_FALSE(kind_from_singular("rooms").has_value());
    CHECK_FALSE(kind_from_plural("room").has_value());
    CHECK_FALSE(kind_from_plural("").has_value());
    CHECK(find_field(Kind::room, "label") == nullptr);
    CHECK(find_field(Kind::room, "") == nullptr);
}
