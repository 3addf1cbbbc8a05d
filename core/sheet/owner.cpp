// The owner's sheet: one page's worth to keep at the amplifier first, then room by room.
#include <algorithm>
#include <map>
#include <vector>

#include "core/base/text.h"
#include "core/sheet/parts.h"
#include "core/sheet/words.h"

namespace tapwright::sheet {
namespace {

using document::Align;
using document::Bullets;
using document::Facts;
using document::Heading;
using document::Layout;
using document::Paragraph;
using document::Table;
using document::Tone;

std::size_t fitted_speakers(const View& view) {
    return static_cast<std::size_t>(
        std::count_if(view.job.all<Point>().begin(), view.job.all<Point>().end(),
                      [](const Point& point) { return point.kind == PointKind::speaker && is_fitted(point); }));
}

void title(const View& view, Blocks& blocks) {
    blocks.push_back(Heading{1, name_of(view.job, job_id())});
    blocks.push_back(
        Paragraph{"Owner's sheet of the loudspeaker system. Keep this page at the amplifier.", Tone::plain});
    not_a_certificate(blocks);
}

void whose(const View& view, Blocks& blocks) {
    const JobInfo& info = view.job.info();
    Facts facts;
    if (info.site) facts.facts.push_back({"Where", *info.site});
    if (info.client) facts.facts.push_back({"For", *info.client});
    facts.facts.push_back({"Installed by", text_or(info.contractor, not_recorded)});
    facts.facts.push_back({"Whom to call", text_or(info.contact, "____________________")});
    if (!view.day.empty()) facts.facts.push_back({"As recorded on", view.day});
    facts.facts.push_back({"Next check", "____________________"});
    if (!view.options.code.empty()) {
        std::string revision = "code " + view.options.code;
        if (view.options.position > 0)
            revision += ", after " + counted(static_cast<std::size_t>(view.options.position), "change");
        facts.facts.push_back({"Revision", revision});
    }
    blocks.push_back(std::move(facts));
}

void what_it_is(const View& view, Blocks& blocks) {
    const std::size_t speakers = fitted_speakers(view);
    if (speakers == 0) {
        blocks.push_back(Paragraph{"No loudspeaker is recorded as fitted yet.", Tone::plain});
        return;
    }
    std::size_t zones = 0;
    for (const auto& points : view.zone_points)
        zones += std::any_of(points.begin(), points.end(), [&](std::uint32_t at) {
            return view.point(at).kind == PointKind::speaker && is_fitted(view.point(at));
        });
    std::string text = count_is(speakers, "loudspeaker") + " fitted";
    if (zones > 0) text += ", fed by " + counted(zones, "line") + (zones == 1 ? " (a zone)" : " (zones)");
    blocks.push_back(Paragraph{text + ".", Tone::plain});
}

void amplifiers(const View& view, Blocks& blocks) {
    const auto all = view.job.all<Amplifier>();
    if (all.empty()) {
        blocks.push_back(Paragraph{"No amplifier is recorded.", Tone::plain});
        return;
    }
    Table table;
    table.caption = "Amplifiers, their place and their breaker";
    table.columns = {{"Amplifier", Align::start, 2}, {"Place", Align::start, 2}, {"Breaker", Align::start, 2}};
    for (std::size_t i = 0; i < all.size(); ++i)
        table.rows.push_back({{name_of(view.job, all[i].id)},
                              {room_name(view.job, all[i].room)},
                              {text_or(all[i].breaker, not_recorded)}});
    blocks.push_back(std::move(table));
}

void no_sound(const View& view, Blocks& blocks) {
    blocks.push_back(Heading{3, "When there is no sound"});
    Bullets steps;
    const auto amplifiers = view.job.all<Amplifier>();
    steps.items.push_back(
        amplifiers.empty() || amplifiers.size() > 4
            ? "Does the amplifier's lamp burn? If not, look at its breaker."
            : "Does the amplifier's lamp burn? If not, look at its breaker, in the table of amplifiers. A breaker that "
              "trips again stays off: call.");
    const auto interfaces = view.job.all<Interface>();
    const auto has = [&](InterfaceKind kind) {
        return std::any_of(interfaces.begin(), interfaces.end(),
                           [&](const Interface& interface) { return interface.kind == kind; });
    };
    if (has(InterfaceKind::fire_mute))
        steps.items.push_back("Is the fire alarm on, or was it tested? Music stays muted until it is reset.");
    if (has(InterfaceKind::paging))
        steps.items.push_back(
            "Make an announcement. If it comes through, the line is well and the music's source is silent: try another "
            "source.");
    else
        steps.items.push_back("Try another source: a silent source sounds just like a dead line.");
    steps.items.push_back(
        "One room only? Set its wall control to its normal mark; \"off\" silences all that hangs behind it.");
    steps.items.push_back(
        "One loudspeaker only? Write down its label from the list of rooms and call; the others go on working.");
    blocks.push_back(std::move(steps));
}

void can_be_added(const View& view, Blocks& blocks) {
    const auto zones = view.job.all<Zone>();
    if (zones.empty()) return;
    Table table;
    table.caption = "Watts that can still be added" + (view.day.empty() ? "" : ", as of " + view.day);
    table.columns = {{"Line (zone)", Align::start, 3},
                     {"Fed by", Align::start, 3},
                     {"Can be added", Align::end, 2},
                     {"Remark", Align::start, 4}};
    for (std::size_t i = 0; i < zones.size(); ++i) {
        const ZoneState& state = view.derived.zones[i];
        std::string source = "source not recorded";
        if (state.amplifier) source = name_of(view.job, view.job.all<Amplifier>()[*state.amplifier].id);
        std::string remark = state.can_add ? "" : why_unknown(state);
        if (state.unrecorded.value() > 0) {
            remark += remark.empty() ? "" : "; ";
            remark += show(state.unrecorded) + " more measured than recorded, counted";
        } else if (state.margin.headroom && state.margin.headroom->value() < 0) {
            remark = "uses what is kept free";
        }
        table.rows.push_back({{name_of(view.job, zones[i].id)}, {source}, {can_add_text(state)}, {remark}});
    }
    blocks.push_back(std::move(table));
    blocks.push_back(Paragraph{
        "The lines of one amplifier share what is left, so never add these figures up. Ask before anything is added.",
        Tone::note});
}

// What acts on the music from outside: which of it was seen to work, on which amplifiers and when.
void tests(const View& view, Blocks& blocks) {
    std::map<std::string, std::vector<std::string>> seen;
    std::map<std::string, std::vector<std::string>> untested;
    for (const Interface& interface : view.job.all<Interface>()) {
        const std::string what = interface.kind ? what_it_does(*interface.kind) : "Something not recorded";
        const std::string where =
            interface.amplifier ? name_of(view.job, interface.amplifier) : "amplifier not recorded";
        if (interface.tested)
            seen[what + ", " + interface.tested->text].push_back(where);
        else
            untested[what].push_back(where);
    }
    Bullets items;
    for (const auto& [what, amplifiers] : seen)
        items.items.push_back("Seen to work: " + what + " (" + names_in_words(amplifiers) + ").");
    for (const auto& [what, amplifiers] : untested)
        items.items.push_back("Not tested: " + what + " (" + names_in_words(amplifiers) + ").");
    if (items.items.empty()) return;
    blocks.push_back(Heading{3, "Announcements and muting"});
    blocks.push_back(std::move(items));
}

void open_snags(const View& view, Blocks& blocks) {
    Bullets items;
    for (const Snag& snag : view.job.all<Snag>()) {
        if (snag.share != Share::owner || snag.state == SnagState::closed || !snag.text) continue;
        items.items.push_back((snag.opened ? snag.opened->text + ": " : "") + *snag.text);
    }
    if (items.items.empty()) return;
    blocks.push_back(Heading{3, "Still to be put right"});
    blocks.push_back(std::move(items));
}

// What hangs at the amplifier: one page, whatever the reader needs there.
void page_to_keep(const View& view, Blocks& blocks) {
    blocks.push_back(Layout::one_page);
    title(view, blocks);
    blocks.push_back(Layout::beside);
    whose(view, blocks);
    what_it_is(view, blocks);
    amplifiers(view, blocks);
    can_be_added(view, blocks);
    open_snags(view, blocks);
    owner_cautions(view, blocks);
    blocks.push_back(Layout::next_column);
    no_sound(view, blocks);
    owner_controls(view, blocks);
    tests(view, blocks);
    owner_gaps(view, blocks);
    blocks.push_back(Layout::end_beside);
    sign_off(view, blocks);
    blocks.push_back(Layout::end_one_page);
}

}  // namespace

// Beyond the first page: room by room.
void owner_sheet(const View& view, Blocks& blocks) {
    page_to_keep(view, blocks);
    owner_rooms(view, blocks);
    photo_section(view, blocks);
    sign_again(view, blocks);
}

}  // namespace tapwright::sheet
