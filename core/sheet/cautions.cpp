// What every reader is told whatever the job holds, and the lines to sign on.
#include <algorithm>

#include "core/sheet/parts.h"
#include "core/sheet/phrases.h"
#include "core/words/cautions.h"

namespace tapwright::sheet {
namespace {

using outline::Bullets;
using outline::Heading;
using outline::Layout;
using outline::Paragraph;
using outline::SignatureLine;
using outline::Tone;

// The highest line voltage of the job.
Volts highest_voltage(const View& view) {
    Volts highest = line_voltage(view.job);
    for (const ZoneState& zone : view.derived.zones) highest = std::max(highest, zone.line_v);
    return highest;
}

}  // namespace

void not_a_certificate(Blocks& blocks) {
    blocks.push_back(
        Paragraph{Message("Not a fire or emergency system, and not a certificate of compliance. Do not rely on these "
                          "loudspeakers for fire or emergency warnings."),
                  Tone::stop});
}

void emergency_parts(const View& view, Blocks& blocks) {
    std::vector<std::string> names;
    const auto zones = view.job.all<Zone>();
    for (std::size_t i = 0; i < zones.size(); ++i)
        if (view.derived.zones[i].emergency) names.push_back(name_of(view.job, zones[i].id));
    for (const Point& point : view.job.all<Point>())
        if (point.emergency == Answer::yes) names.push_back(name_of(view.job, point.id));
    if (names.empty()) return;
    blocks.push_back(Paragraph{
        Message("Part of a fire or emergency system: {places}. Not calculated here: leave it to qualified people. Ask "
                "whoever is responsible for that system before anything on it is touched.",
                {{"places", names_in_words(names)}}),
        Tone::stop});
}

namespace {

bool has_fire_link(const Job& job) {
    const auto links = job.all<Interface>();
    return std::any_of(links.begin(), links.end(),
                       [](const Interface& link) { return link.kind == InterfaceKind::fire_mute; });
}

std::vector<Id> all_zones(const Job& job) {
    std::vector<Id> ids;
    for (const Zone& zone : job.all<Zone>()) ids.push_back(zone.id);
    return ids;
}

// "Class 1, as the amplifier is marked: Great hall." for each class there is.
void add_classes(const View& view, Bullets& bullets) {
    for (const WiringClass each : {WiringClass::class_1, WiringClass::class_2, WiringClass::class_3}) {
        std::vector<std::string> names;
        for (const Zone& zone : view.job.all<Zone>())
            if (zone.wiring_class == each) names.push_back(name_of(view.job, zone.id));
        if (names.empty()) continue;
        bullets.items.push_back(Message("{class}, as the amplifier is marked: {zones}.",
                                        {{"class", each}, {"zones", names_in_words(names)}}));
    }
}

}  // namespace

void owner_cautions(const View& view, Blocks& blocks) {
    blocks.push_back(Heading{2, Message("What not to do")});
    Bullets bullets;
    const std::vector<Id> zones = all_zones(view.job);
    for (Caution& caution : cautions_for(CautionMoment::owner, view.job, view.derived, zones)) {
        if (caution.code == "do_not_rely") continue;  // at the head of the page
        // What to do then, and afterwards, stands under "When there is no sound".
        if (caution.code == "fire_procedure" && has_fire_link(view.job)) continue;
        bullets.items.push_back(std::move(caution.text));
    }
    const Message own[] = {
        Message("Do not add, swap or adjust loudspeakers, or join lines: ask your installer first. Too much load can "
                "stop or damage the amplifier."),
        Message("Do not climb without somebody to hold a firm ladder."),
        Message("Do not leave controls far above normal. Loud sound harms hearing and loudspeakers."),
    };
    // Behind the shock, before the wiring.
    bullets.items.insert(bullets.items.begin() + 1, std::begin(own), std::end(own));
    blocks.push_back(std::move(bullets));
}

void technician_cautions(const View& view, Blocks& blocks) {
    blocks.push_back(Heading{2, Message("Cautions")});
    Bullets bullets{{
        Message("The lines carry up to {volts} while a signal plays and can give a dangerous shock. Before you measure "
                "impedance or open a line: amplifier off, and nobody can switch it on. Test the line for voltage, then "
                "disconnect both conductors (lift both legs).",
                {{"volts", highest_voltage(view)}}),
        Message("Measure impedance with an impedance meter at the frequency recorded. A DC ohmmeter reads only the "
                "copper of the transformers."),
        Message("Ladders, asbestos, plenum spaces, permits: read the access notes of each room first."),
        Message("Protect your hearing, and that of others, whenever tones or pink noise play."),
        Message("Qualified or licensed people only: the local code says who may do this work and which cable goes "
                "where. This sheet records; it approves nothing."),
    }};
    add_classes(view, bullets);
    blocks.push_back(std::move(bullets));
}

namespace {

// Two lines to sign on side by side.
void signature_row(SignatureLine left, std::optional<SignatureLine> right, Blocks& blocks) {
    blocks.push_back(Layout::beside);
    blocks.push_back(std::move(left));
    blocks.push_back(Layout::next_column);
    if (right) blocks.push_back(std::move(*right));
    blocks.push_back(Layout::end_beside);
}

SignatureLine signed_line(const View& view, const Signoff& signoff) {
    SignatureLine line;
    line.role = typed(signoff.role);
    line.name = entered(name_of(view.job, signoff.id));
    // As the clock stood on the wall where it was signed.
    if (signoff.time) line.date = Moment{signoff.time->text};
    if (signoff.strokes) line.strokes = *signoff.strokes;
    return line;
}

bool is_for_this_state(const View& view, const Signoff& signoff) {
    return signoff.sheet && !view.options.state.empty() && signoff.sheet->hex == view.options.state;
}

// "M. Ostrand (for the house), 15 Apr 2025".
Message named(const View& view, const Signoff& signoff) {
    const Message name = entered(name_of(view.job, signoff.id));
    const Message who = signoff.role ? in_context("who signed, and in what capacity", "{name} ({role})",
                                                  {{"name", name}, {"role", entered(*signoff.role)}})
                                     : name;
    return with_commas({who, signoff.time ? Message(day_of(signoff.time->text)) : Message("day not recorded")});
}

}  // namespace

void sign_off(const View& view, Blocks& blocks) {
    std::vector<const Signoff*> now;
    Message earlier;
    for (const Signoff& signoff : view.job.all<Signoff>()) {
        if (is_for_this_state(view, signoff))
            now.push_back(&signoff);
        else
            earlier = with_semicolons({earlier, named(view, signoff)});
    }
    blocks.push_back(Heading{2, now.empty() ? Message("To sign, for the system as this sheet describes it")
                                            : Message("Signed for the record as this sheet shows it")});
    if (now.empty())
        signature_row({Message("For the contractor"), {}, {}, {}}, SignatureLine{Message("For the owner"), {}, {}, {}},
                      blocks);
    for (std::size_t i = 0; i < now.size(); i += 2)
        signature_row(signed_line(view, *now[i]),
                      i + 1 < now.size() ? std::optional(signed_line(view, *now[i + 1])) : std::nullopt, blocks);
    if (earlier.empty()) return;
    blocks.push_back(
        Paragraph{Message("Signed for an earlier state, not this sheet: {names}.", {{"names", earlier}}), Tone::plain});
}

}  // namespace tapwright::sheet
