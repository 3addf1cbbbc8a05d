#include "core/words/cautions.h"

#include <algorithm>
#include <array>
#include <set>

#include "core/base/ensure.h"
#include "core/calc/emergency.h"
#include "core/units/unit.h"
#include "core/words/access_words.h"
#include "core/words/place_name.h"

namespace tapwright {
namespace {

// ---- what of the job decides ----

struct PlaceFacts {
    Volts line_v{0};  // the highest
    bool may_be_emergency = true;
    bool has_plenum = false;
    AccessNames access;            // what the rooms' access notes name
    bool has_lower_marks = false;  // a type whose taps are marked for less than the line's voltage
    std::set<WiringClass> classes;
    std::set<std::uint32_t> rooms;
};

class PlaceFactsOf {
public:
    PlaceFactsOf(const Job& job, const Derived& derived, std::span<const Id> places) : job_(job), derived_(derived) {
        facts_.may_be_emergency = places.empty();
        for (const Id& place : places) add(place);
        if (facts_.line_v == Volts(0)) facts_.line_v = line_voltage(job);
        for (const std::uint32_t room : facts_.rooms) {
            const Room& record = job.all<Room>()[room];
            facts_.has_plenum |= record.plenum.value_or(false);
            const AccessNames named = named_in(record.access.value_or(""));
            facts_.access.asbestos |= named.asbestos;
            facts_.access.ladder |= named.ladder;
        }
        for (const SpeakerType& type : job.all<SpeakerType>())
            facts_.has_lower_marks |= type.taps_v && type.taps_v->value() < 0.99 * facts_.line_v.value();
    }
    PlaceFacts take() { return std::move(facts_); }

private:
    void add(const Id& place) {
        if (const auto room = job_.place<Room>(place)) {
            facts_.rooms.insert(*room);
            return;
        }
        facts_.may_be_emergency |= emergency_of(job_, derived_, place) != Answer::no;
        if (const auto zone = job_.place<Zone>(place)) add_zone(*zone);
        for (std::uint32_t zone = 0; zone < job_.all<Zone>().size(); ++zone)
            if (job_.all<Zone>()[zone].channel == place) add_zone(zone);
        if (const auto point = job_.place<Point>(place)) {
            add_room(*point);
            if (const std::uint32_t zone = derived_.points[*point].zone; zone != nowhere) add_line(zone);
        }
    }

    void add_zone(std::uint32_t zone) {
        add_line(zone);
        for (std::uint32_t point = 0; point < derived_.points.size(); ++point)
            if (derived_.points[point].zone == zone) add_room(point);
    }

    void add_line(std::uint32_t zone) {
        facts_.line_v = std::max(facts_.line_v, derived_.zones[zone].line_v);
        facts_.classes.insert(job_.all<Zone>()[zone].wiring_class.value_or(WiringClass::unknown));
    }

    void add_room(std::uint32_t point) {
        const std::optional<Id>& room = job_.all<Point>()[point].room;
        if (const auto place = room ? job_.place<Room>(*room) : std::nullopt) facts_.rooms.insert(*place);
    }

    const Job& job_;
    const Derived& derived_;
    PlaceFacts facts_;
};

// ---- the sentences ----

constexpr Pattern fire_source = Pattern(
    "NFPA 72 section 10.5: only qualified people. EN 54-16 and BS 5839-8, from memory: a meter or a new load "
    "disturbs supervision.");
constexpr Pattern isolation_source = Pattern("Safe isolation: common practice; in the UK HSE GS38, from memory.");
constexpr Pattern meter_source = Pattern("Common practice, no single source.");
constexpr Pattern noise_source = Pattern(
    "NIOSH: 85 dB(A) for 8 h recommended. OSHA, 29 CFR 1910.95: 90 dB(A) for 8 h. UK Control of Noise at Work "
    "Regulations 2005, from memory: action at 80 and 85 dB(A), limit 87.");
constexpr Pattern class_source = Pattern(
    "NEC 640.9(C), through trade articles: the amplifier's marking decides. Since 2023 Class 1 is article 724, "
    "Class 2 and 3 are 725, their cables 722.");
constexpr Pattern height_source =
    Pattern("From memory: UK Work at Height Regulations 2005; US 29 CFR 1910 subpart D and 1926 subpart X.");

struct CautionRow {
    std::string_view code;
    Pattern text;
    Pattern source;
    CautionStep step = CautionStep::none;
    bool (*applies)(const PlaceFacts&) = nullptr;  // null: always
    bool has_volts = false;                        // the text names the line's voltage
};

bool is_of_class(const PlaceFacts& facts, WiringClass each) {
    return facts.classes.contains(each);
}

// ---- each once; the moments below say which and when ----

namespace row {

constexpr CautionRow not_emergency = {"not_emergency", Pattern("Not a fire, voice-alarm or emergency line?"),
                                      fire_source, CautionStep::done};
constexpr CautionRow maybe_emergency = {"not_emergency", Pattern("Not a fire, voice-alarm or emergency line?"),
                                        fire_source, CautionStep::done,
                                        [](const PlaceFacts& facts) { return facts.may_be_emergency; }};
constexpr CautionRow amplifier_off = {"amplifier_off", Pattern("Amplifier off, and nobody can switch it on."),
                                      isolation_source, CautionStep::done};
constexpr CautionRow test_voltage = {"test_voltage",
                                     Pattern("Test the line for voltage with a tester you have just proved."),
                                     isolation_source, CautionStep::done};
constexpr CautionRow disconnect = {"disconnect", Pattern("Disconnect both conductors. Test again."), isolation_source,
                                   CautionStep::disconnect};
constexpr CautionRow speaker_off = {
    "speaker_off", Pattern("Disconnect both conductors of the loudspeaker alone; the rest stays connected."),
    meter_source, CautionStep::done};
constexpr CautionRow still_off = {"still_off",
                                  Pattern("The line is still disconnected from the amplifier. Test it again."),
                                  isolation_source, CautionStep::disconnect};
constexpr CautionRow same_positions = {
    "same_positions", Pattern("Every attenuator is as it was for the first reading."), meter_source, CautionStep::done};
constexpr CautionRow positions = {"positions", Pattern("Attenuators full, or note each position."), meter_source,
                                  CautionStep::positions};
constexpr CautionRow line_is_live = {"line_is_live",
                                     Pattern("The line is live: up to {volts}, which can give a dangerous shock."),
                                     Pattern("HSE INDG247 (UK), through a secondary page."),
                                     CautionStep::none,
                                     nullptr,
                                     true};
constexpr CautionRow rated_probes = {"rated_probes", Pattern("Use probes rated for that voltage, with finger guards."),
                                     isolation_source, CautionStep::done};
constexpr CautionRow prove_meter = {"prove_meter", Pattern("Prove the meter on a known voltage before and after."),
                                    isolation_source, CautionStep::done};
constexpr CautionRow hearing = {
    "hearing", Pattern("Protect your hearing, and that of others: keep tone and pink noise low and short."),
    noise_source};
constexpr CautionRow warn_people = {"warn_people", Pattern("Warn everybody in the rooms before the tone plays."),
                                    meter_source, CautionStep::done};
constexpr CautionRow nobody_alone = {
    "nobody_alone", Pattern("Do not work alone on a live line or at height. Somebody must know where you are."),
    meter_source};
constexpr CautionRow disconnect_all = {
    "disconnect_all", Pattern("Disconnect the amplifier and everything electronic from the line. Test again."),
    meter_source, CautionStep::disconnect};
constexpr CautionRow test_is_hazard = {
    "test_is_hazard", Pattern("The test puts 500 V on the line: nobody touches it anywhere."), meter_source};
constexpr CautionRow discharge = {"discharge", Pattern("Discharge the line afterwards, and test that it is dead."),
                                  meter_source};
constexpr CautionRow reconnect = {"reconnect", Pattern("Reconnect both conductors, each to its own terminal."),
                                  meter_source, CautionStep::done};
constexpr CautionRow positions_back = {"positions_back", Pattern("Set every position back as it was left."),
                                       meter_source, CautionStep::done};
constexpr CautionRow play = {"play", Pattern("Play something, and listen that the line sounds."), meter_source,
                             CautionStep::done};
constexpr CautionRow lower_marks = {
    "lower_marks",
    Pattern("Taps marked for a lower voltage draw more here: 70.7 V taps on 100 V draw twice "
            "their watts. The transformer may saturate."),
    Pattern("Power goes with the square of the voltage; saturation: common practice.")};
constexpr CautionRow lower_marks_here = {"lower_marks", lower_marks.text, lower_marks.source, CautionStep::none,
                                         [](const PlaceFacts& facts) { return facts.has_lower_marks; }};
constexpr CautionRow class_1 = {
    "class_1", Pattern("Class 1, as the amplifier is marked: wired like power, by people licensed for it."),
    class_source, CautionStep::none, [](const PlaceFacts& facts) { return is_of_class(facts, WiringClass::class_1); }};
constexpr CautionRow class_2 = {
    "class_2", Pattern("Class 2, as the amplifier is marked: keep it apart from power and Class 1."), class_source,
    CautionStep::none, [](const PlaceFacts& facts) { return is_of_class(facts, WiringClass::class_2); }};
constexpr CautionRow class_3 = {
    "class_3", Pattern("Class 3, as the amplifier is marked: keep it apart from power and Class 1."), class_source,
    CautionStep::none, [](const PlaceFacts& facts) { return is_of_class(facts, WiringClass::class_3); }};
constexpr CautionRow class_unknown = {
    "class_unknown", Pattern("Wiring class not recorded: read the marking on the amplifier first."), class_source,
    CautionStep::none, [](const PlaceFacts& facts) { return is_of_class(facts, WiringClass::unknown); }};
constexpr CautionRow plenum = {"plenum",
                               Pattern("The space above this ceiling moves air: use cable rated for plenums."),
                               Pattern("NEC 725 (CL2P, CL3P) and its substitutions, through a trade article."),
                               CautionStep::none, [](const PlaceFacts& facts) { return facts.has_plenum; }};
constexpr CautionRow before_drilling = {
    "before_drilling", Pattern("Before the first hole ask for the asbestos register and the permits."), height_source};
constexpr CautionRow asbestos = {
    "asbestos",
    Pattern("The access note names asbestos: see the register first. Do not drill, cut or lift tiles before it is "
            "cleared."),
    Pattern("From memory: UK Control of Asbestos Regulations 2012; US 29 CFR 1926.1101 and 1910.1001.")};
constexpr CautionRow ladder = {"ladder", Pattern("Stand on a firm ladder, with somebody to hold it."), height_source};
constexpr CautionRow look_for = {
    "look_for", Pattern("Look for an end-of-line device, red or fire-rated cable, a supervised amplifier."),
    fire_source};
constexpr CautionRow leave_it = {"leave_it", Pattern("If it could be one: stop, and leave it to qualified people."),
                                 fire_source};
constexpr CautionRow tell_building = {"tell_building", Pattern("Tell the building first: paging will be off."),
                                      meter_source};
constexpr CautionRow arrange_test = {
    "arrange_test", Pattern("Arrange a test with whoever is responsible for the fire alarm."), fire_source};
constexpr CautionRow never_operate = {"never_operate", Pattern("Never operate or disconnect the fire alarm yourself."),
                                      fire_source};
constexpr CautionRow do_not_open = {
    "do_not_open",
    Pattern("Do not open loudspeakers, volume controls or terminal boxes: the lines carry up to {volts} and can give a "
            "dangerous shock. Do not open the amplifier: it has mains inside."),
    Pattern("HSE INDG247 (UK), through a secondary page."),
    CautionStep::none,
    nullptr,
    true};
constexpr CautionRow do_not_rely = {
    "do_not_rely", Pattern("Do not rely on these loudspeakers for fire or emergency warnings."), fire_source};
constexpr CautionRow fire_procedure = {"fire_procedure",
                                       Pattern("If the fire alarm sounds, follow your fire procedure."), fire_source};
constexpr CautionRow leave_wiring = {"leave_wiring", Pattern("Leave all wiring to a qualified installer."),
                                     class_source};

}  // namespace row

// ---- the table: moment by caution, in the order of the work ----

std::vector<CautionRow> rows_of(CautionMoment moment) {
    using namespace row;
    switch (moment) {
        case CautionMoment::dead_reading:
            return {not_emergency, amplifier_off, test_voltage, disconnect, positions};
        case CautionMoment::live_reading:
            return {not_emergency, line_is_live, class_1, rated_probes, prove_meter, nobody_alone};
        case CautionMoment::tone:
            return {warn_people, hearing};
        case CautionMoment::insulation:
            return {not_emergency, amplifier_off, test_voltage, disconnect_all, test_is_hazard, discharge};
        case CautionMoment::taking_off:
            return {amplifier_off, still_off, class_1, ladder, speaker_off, same_positions};
        case CautionMoment::after_measuring:
            return {reconnect, positions_back, play};
        case CautionMoment::opening:
            return {maybe_emergency, amplifier_off, test_voltage, class_1, ladder};
        case CautionMoment::adding:
            return {maybe_emergency, amplifier_off,    test_voltage, class_1,         class_2, class_3,
                    class_unknown,   lower_marks_here, plenum,       before_drilling, ladder,  nobody_alone};
        case CautionMoment::existing_system:
            return {look_for, leave_it};
        case CautionMoment::walk_test:
            return {tell_building, hearing};
        case CautionMoment::fire_link:
            return {arrange_test, never_operate};
        case CautionMoment::lower_marks:
            return {lower_marks};
        case CautionMoment::work_alone:
            return {nobody_alone};
        case CautionMoment::owner:
            return {do_not_open, do_not_rely, fire_procedure, leave_wiring};
    }
    TAPWRIGHT_ENSURE(!"a moment that is not in the list");
}

Caution caution_of(const CautionRow& said, const PlaceFacts& facts) {
    return {said.code, said.has_volts ? Message(said.text, {{"volts", facts.line_v}}) : Message(said.text),
            Message(said.source), said.step};
}

// What somebody wrote down about getting at a room: ladder, hours, permit, asbestos. Those that name asbestos first.
void add_access(const Job& job, const PlaceFacts& facts, std::vector<Caution>& cautions) {
    constexpr std::size_t most_rooms = 3;
    std::vector<const Room*> rooms;
    for (const std::uint32_t place : facts.rooms)
        if (const Room& room = job.all<Room>()[place]; room.access && !room.access->empty()) rooms.push_back(&room);
    std::stable_partition(rooms.begin(), rooms.end(),
                          [](const Room* room) { return named_in(*room->access).asbestos; });
    for (std::size_t i = 0; i < std::min(rooms.size(), most_rooms); ++i)
        cautions.push_back({"access",
                            Message("{room}: {access}.",
                                    {{"room", place_name(job, rooms[i]->id)}, {"access", entered(*rooms[i]->access)}}),
                            Message("As recorded for the room.")});
}

// Whether somebody climbs up or opens a ceiling then, so that what the access notes name comes first.
bool goes_up(CautionMoment moment) {
    switch (moment) {
        case CautionMoment::taking_off:
        case CautionMoment::opening:
        case CautionMoment::adding:
        case CautionMoment::lower_marks:
        case CautionMoment::work_alone:
            return true;
        default:
            return false;
    }
}

// Asbestos and the ladder, where a note names them, with the notes.
std::vector<Caution> brought_forward(const Job& job, const PlaceFacts& facts) {
    std::vector<Caution> first;
    if (facts.access.asbestos) first.push_back(caution_of(row::asbestos, facts));
    if (facts.access.ladder) first.push_back(caution_of(row::ladder, facts));
    if (!first.empty()) add_access(job, facts, first);
    return first;
}

// What drilling needs is said already where asbestos is named.
bool is_said(const CautionRow& each, const PlaceFacts& facts) {
    return (each.code == row::ladder.code && facts.access.ladder) ||
           (each.code == row::before_drilling.code && facts.access.asbestos);
}

}  // namespace

std::vector<Caution> cautions_for(CautionMoment moment, const Job& job, const Derived& derived,
                                  std::span<const Id> places) {
    const PlaceFacts facts = PlaceFactsOf(job, derived, places).take();
    std::vector<Caution> cautions;
    if (goes_up(moment)) cautions = brought_forward(job, facts);
    const bool is_access_told = !cautions.empty();
    for (const CautionRow& each : rows_of(moment)) {
        if ((each.applies && !each.applies(facts)) || is_said(each, facts)) continue;
        cautions.push_back(caution_of(each, facts));
        if (each.code == row::ladder.code && !is_access_told) add_access(job, facts, cautions);
    }
    return cautions;
}

std::vector<Caution> cautions_for(CautionMoment moment, const Job& job, const Derived& derived, const Id& place) {
    return cautions_for(moment, job, derived, std::span(&place, place == Id() ? 0U : 1U));
}

std::optional<CautionMoment> moment_before(Measured quantity) {
    switch (quantity) {
        case Measured::ohms:
        case Measured::dc_ohms:
            return CautionMoment::dead_reading;
        case Measured::earth_ohms:
        case Measured::cross_ohms:
            return CautionMoment::insulation;
        case Measured::stray_v:
        case Measured::volts:
            return CautionMoment::live_reading;
        case Measured::level_dba:
            return CautionMoment::tone;
        case Measured::tap_w:
            return CautionMoment::opening;
        case Measured::noise_dba:
            return std::nullopt;
    }
    TAPWRIGHT_ENSURE(!"a quantity that is not in the list");
}

Statement in_one(std::span<const Caution> cautions) {
    std::vector<Message> texts, sources;
    std::vector<std::string_view> told;
    for (const Caution& caution : cautions) {
        texts.push_back(caution.text);
        const std::string_view source = caution.source.pattern().text;
        if (std::find(told.begin(), told.end(), source) != told.end()) continue;
        told.push_back(source);
        sources.push_back(caution.source);
    }
    return {sentences(std::move(texts)), sentences(std::move(sources))};
}

Message emergency_question() {
    return Message(
        "Could this be a fire, voice-alarm or emergency line? Look for an end-of-line device, red or "
        "fire-rated cable, a supervised amplifier.");
}

Statement leave_to_qualified(const Job& job, const Id& place) {
    return {Message("{place}: fire or emergency line. Stop, and leave it to qualified people: no reading is taken and "
                    "nothing is added or calculated.",
                    {{"place", place_name(job, place)}}),
            Message(fire_source)};
}

}  // namespace tapwright
