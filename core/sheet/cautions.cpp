// What every reader is told whatever the job holds, and the lines to sign on.
#include <algorithm>
#include <span>

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
    blocks.push_back(Heading{3, Message("What not to do")});
    Bullets bullets;
    const std::vector<Id> zones = all_zones(view.job);
    for (Caution& caution : cautions_for(CautionMoment::owner, view.job, view.derived, zones)) {
        if (caution.code == "do_not_rely") continue;  // at the head of the page
        // What to do then, and afterwards, stands under "When there is no sound".
        if (caution.code == "fire_procedure" && has_fire_link(view.job)) continue;
        bullets.items.push_back(std::move(caution.text));
    }
    const Message own[] = {
        Message("Do not add, swap or adjust loudspeakers, or join lines. Too much load can stop or damage the "
                "amplifier."),
        Message("Do not climb without a firm ladder and somebody to hold it."),
        Message("Do not turn volume controls far above normal for hours. Loud sound harms hearing and loudspeakers."),
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

constexpr std::size_t most_on_first_page = 4;

// Two lines to sign on side by side.
void signature_row(SignatureLine left, std::optional<SignatureLine> right, Blocks& blocks) {
    blocks.push_back(Layout::beside);
    blocks.push_back(std::move(left));
    blocks.push_back(Layout::next_column);
    if (right) blocks.push_back(std::move(*right));
    blocks.push_back(Layout::end_beside);
}

void blank_lines(Blocks& blocks) {
    signature_row({Message("For the contractor"), {}, {}, {}}, SignatureLine{Message("For the owner"), {}, {}, {}},
                  blocks);
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

// Those who signed for the state that the sheet shows, and those who signed for another one.
struct Signed {
    std::vector<const Signoff*> this_state, earlier;
};

Signed signed_for(const View& view) {
    Signed all;
    for (const Signoff& signoff : view.job.all<Signoff>()) {
        const bool is_this = signoff.sheet && !view.options.state.empty() && signoff.sheet->hex == view.options.state;
        (is_this ? all.this_state : all.earlier).push_back(&signoff);
    }
    return all;
}

using Signoffs = std::span<const Signoff* const>;

// All of them signed on one day: that day.
std::optional<Day> day_of_all(Signoffs signoffs) {
    std::optional<Day> day;
    for (const Signoff* signoff : signoffs) {
        if (!signoff->time) return std::nullopt;
        const Day own = day_of(signoff->time->text);
        if (day && day->date != own.date) return std::nullopt;
        day = own;
    }
    return day;
}

Message title_of_earlier(Signoffs signoffs) {
    if (const std::optional<Day> day = day_of_all(signoffs))
        return Message("Taken over on {day} (earlier state; not this sheet)", {{"day", *day}});
    return Message("Taken over on the dates below (earlier states; not this sheet)");
}

// The last of them are the first to look at.
Signoffs on_first_page(Signoffs all) {
    return all.subspan(all.size() > most_on_first_page ? all.size() - most_on_first_page : 0);
}

Signoffs not_on_first_page(Signoffs all) {
    return all.first(all.size() - on_first_page(all).size());
}

void signed_lines(const View& view, Signoffs signoffs, Blocks& blocks) {
    for (std::size_t i = 0; i < signoffs.size(); i += 2)
        signature_row(signed_line(view, *signoffs[i]),
                      i + 1 < signoffs.size() ? std::optional(signed_line(view, *signoffs[i + 1])) : std::nullopt,
                      blocks);
}

void signed_section(const View& view, const Message& title, Signoffs signoffs, Blocks& blocks) {
    if (signoffs.empty()) return;
    blocks.push_back(Heading{2, title});
    signed_lines(view, signoffs, blocks);
}

}  // namespace

void sign_off(const View& view, Blocks& blocks) {
    const Signed all = signed_for(view);
    const int level = view.options.reader == SheetReader::owner ? 3 : 2;
    if (!all.this_state.empty()) {
        blocks.push_back(Heading{level, Message("Signed for the record as this sheet shows it")});
        return signed_lines(view, on_first_page(all.this_state), blocks);
    }
    const Signoffs earlier = on_first_page(all.earlier);
    blocks.push_back(Heading{level, earlier.empty() ? Message("Sign-off") : title_of_earlier(earlier)});
    if (earlier.empty()) return blank_lines(blocks);
    signed_lines(view, earlier, blocks);
}

void sign_again(const View& view, Blocks& blocks) {
    const Signed all = signed_for(view);
    if (!all.this_state.empty()) {
        signed_section(view, Message("Signed for this record as well"), not_on_first_page(all.this_state), blocks);
        return signed_section(view, Message("Signed before; the record has changed since"), all.earlier, blocks);
    }
    if (all.earlier.empty()) return;
    signed_section(view, Message("Signed before"), not_on_first_page(all.earlier), blocks);
    blocks.push_back(Heading{2, Message("To sign for the system as this sheet describes it")});
    blank_lines(blocks);
}

}  // namespace tapwright::sheet
