// The owner's sheet: one page's worth to keep at the amplifier first, then room by room.
#include <algorithm>
#include <map>
#include <tuple>
#include <vector>

#include "core/sheet/parts.h"
#include "core/sheet/phrases.h"

namespace tapwright::sheet {
namespace {

using outline::Align;
using outline::Bullets;
using outline::Facts;
using outline::Heading;
using outline::Layout;
using outline::Paragraph;
using outline::Table;
using outline::Tone;

bool is_fitted_speaker(const Point& point) {
    return point.kind == PointKind::speaker && is_fitted(point);
}

void title(const View& view, Blocks& blocks) {
    blocks.push_back(Heading{1, entered(name_of(view.job, job_id()))});
    blocks.push_back(
        Paragraph{Message("Owner's sheet for the loudspeaker system. Keep this page at the amplifier."), Tone::plain});
    not_a_certificate(blocks);
    emergency_parts(view, blocks);
}

Message revision(const SheetOptions& options) {
    const Code short_code = code(options.code);
    if (options.position == 0) return Message("code {code}", {{"code", short_code}});
    return plural("code {code}, after {count} change", "code {code}, after {count} changes",
                  static_cast<std::int64_t>(options.position), {{"code", short_code}});
}

void whose(const View& view, Blocks& blocks) {
    const JobInfo& info = view.job.info();
    Facts facts;
    if (info.site) facts.facts.push_back({Message("Site"), entered(*info.site)});
    if (info.client) facts.facts.push_back({Message("Client"), entered(*info.client)});
    facts.facts.push_back({Message("Installed by"), typed_or(info.contractor, not_recorded())});
    facts.facts.push_back({Message("Who to call"), typed_or(info.contact, line_to_write_on())});
    if (!view.day.empty()) facts.facts.push_back({Message("As recorded on"), Day{view.day}});
    facts.facts.push_back({Message("Next check"), line_to_write_on()});
    if (!view.options.code.empty()) facts.facts.push_back({Message("Revision"), revision(view.options)});
    blocks.push_back(std::move(facts));
}

void what_it_is(const View& view, Blocks& blocks) {
    const auto points = view.job.all<Point>();
    const auto speakers = std::count_if(points.begin(), points.end(), is_fitted_speaker);
    if (speakers == 0) {
        blocks.push_back(Paragraph{Message("No loudspeaker is recorded as fitted yet."), Tone::plain});
        return;
    }
    const auto lines = std::count_if(view.zone_points.begin(), view.zone_points.end(), [&](const auto& on_it) {
        return std::any_of(on_it.begin(), on_it.end(),
                           [&](std::uint32_t at) { return is_fitted_speaker(view.point(at)); });
    });
    const Message fitted = plural("{count} loudspeaker", "{count} loudspeakers", speakers);
    blocks.push_back(
        Paragraph{lines == 0 ? Message("Fitted: {loudspeakers}.", {{"loudspeakers", fitted}})
                             : Message("Fitted: {loudspeakers} on {lines}.",
                                       {{"loudspeakers", fitted},
                                        {"lines", plural("{count} line (zone)", "{count} lines (zones)", lines)}}),
                  Tone::plain});
}

void amplifiers(const View& view, Blocks& blocks) {
    const auto all = view.job.all<Amplifier>();
    if (all.empty()) {
        blocks.push_back(Paragraph{Message("No amplifier is recorded."), Tone::plain});
        return;
    }
    Table table;
    table.caption = Message("Amplifiers, their place and their breaker");
    table.columns = {{Message("Amplifier"), Align::start, 2},
                     {Message("Place"), Align::start, 2},
                     {Message("Breaker"), Align::start, 2}};
    for (const Amplifier& amplifier : all)
        table.rows.push_back({{entered(name_of(view.job, amplifier.id))},
                              {room_name(view.job, amplifier.room)},
                              {typed_or(amplifier.breaker, not_recorded())}});
    blocks.push_back(std::move(table));
}

// In the order in which somebody goes about it; what concerns a fire comes first.
void no_sound(const View& view, Blocks& blocks) {
    blocks.push_back(Heading{3, Message("When there is no sound")});
    Bullets steps;
    const auto interfaces = view.job.all<Interface>();
    const auto has = [&](InterfaceKind kind) {
        return std::any_of(interfaces.begin(), interfaces.end(),
                           [&](const Interface& interface) { return interface.kind == kind; });
    };
    if (has(InterfaceKind::fire_mute))
        steps.items.push_back(
            Message("If the fire alarm is sounding, follow your fire procedure first. Afterwards the music stays muted "
                    "until the person responsible for the alarm resets it. Never bypass this."));
    steps.items.push_back(
        Message("Is the amplifier's light on? If not, look at its breaker. If it has tripped, leave it off and call."));
    if (has(InterfaceKind::paging))
        steps.items.push_back(
            Message("Make an announcement. If you hear it, the wiring works; the source is not "
                    "playing. Try another source."));
    else
        steps.items.push_back(Message("Try another source. A silent source sounds just like a broken line."));
    steps.items.push_back(
        Message("One room only? Set its volume control to the normal position. \"Off\" silences every loudspeaker it "
                "controls."));
    steps.items.push_back(
        Message("One loudspeaker only? Find its label in the list of rooms, and call. The others keep working."));
    blocks.push_back(std::move(steps));
}

Message remark_on(const ZoneState& state) {
    if (state.emergency) return why_unknown(state);
    Message unaccounted;
    if (state.margin.unrecorded.value() > 0)
        unaccounted = Message("ask before adding: {watts} on this line is not accounted for",
                              {{"watts", state.margin.unrecorded}});
    else if (state.margin.headroom && state.margin.headroom->value() < 0)
        return Message("full: nothing more may be added");
    return with_semicolons({why_unknown(state), std::move(unaccounted)});
}

void spare_watts(const View& view, Blocks& blocks) {
    const auto zones = view.job.all<Zone>();
    if (zones.empty()) return;
    Table table;
    table.caption = view.day.empty() ? Message("Spare watts, for your installer")
                                     : Message("Spare watts, for your installer ({day})", {{"day", Day{view.day}}});
    table.columns = {{Message("Line (zone)"), Align::start, 3},
                     {Message("Fed by"), Align::start, 2},
                     {Message("Spare"), Align::end, 2},
                     {Message("Remark"), Align::start, 6}};
    for (std::size_t i = 0; i < zones.size(); ++i) {
        const ZoneState& state = view.derived.zones[i];
        Message source = state.amplifier
                             ? Message(entered(name_of(view.job, view.job.all<Amplifier>()[*state.amplifier].id)))
                             : not_recorded();
        table.rows.push_back(
            {{entered(name_of(view.job, zones[i].id))}, {std::move(source)}, {room_for(state)}, {remark_on(state)}});
    }
    blocks.push_back(std::move(table));
    blocks.push_back(Paragraph{Message("Lines on one amplifier share its spare watts, so never add these figures up. "
                                       "Ask your installer before anything is added."),
                               Tone::note});
}

// What acts on the music from outside: what was tested, on which amplifiers and when.
Message test_of(const std::optional<InterfaceKind>& kind, const std::string& day, const Message& amplifiers) {
    const Message what = kind ? Message(*kind) : Message("something not recorded");
    if (!day.empty())
        return Message("Tested on {day}: {what} ({amplifiers}).",
                       {{"day", Day{day}}, {"what", what}, {"amplifiers", amplifiers}});
    if (kind == InterfaceKind::fire_mute)
        return Message(
            "No test recorded: {what} ({amplifiers}). Arrange one with whoever is responsible for the fire "
            "alarm.",
            {{"what", what}, {"amplifiers", amplifiers}});
    return Message("No test recorded: {what} ({amplifiers}).", {{"what", what}, {"amplifiers", amplifiers}});
}

void tests(const View& view, Blocks& blocks) {
    // By whether it is open, what it is and when it was tested.
    std::map<std::tuple<bool, std::optional<InterfaceKind>, std::string>, std::vector<std::string>> alike;
    for (const Interface& interface : view.job.all<Interface>()) {
        auto& amplifiers =
            alike[{!interface.tested, interface.kind, interface.tested ? interface.tested->text : std::string()}];
        if (interface.amplifier) amplifiers.push_back(name_of(view.job, interface.amplifier));
    }
    Bullets items;
    for (const auto& [of, amplifiers] : alike)
        items.items.push_back(
            test_of(std::get<1>(of), std::get<2>(of),
                    amplifiers.empty() ? Message("amplifier not recorded") : names_in_words(amplifiers)));
    if (items.items.empty()) return;
    blocks.push_back(Heading{3, Message("Announcements and muting")});
    blocks.push_back(std::move(items));
}

void open_snags(const View& view, Blocks& blocks) {
    Bullets items;
    for (const Snag& snag : view.job.all<Snag>()) {
        if (snag.share != Share::owner || snag.state == SnagState::closed || !snag.text) continue;
        items.items.push_back(snag.opened ? in_context("snag", "{day}: {snag}",
                                                       {{"day", Day{snag.opened->text}}, {"snag", entered(*snag.text)}})
                                          : Message(entered(*snag.text)));
    }
    if (items.items.empty()) return;
    blocks.push_back(Heading{3, Message("Still to be fixed")});
    blocks.push_back(std::move(items));
}

// What is kept at the amplifier: one page, whatever the reader needs there.
void page_to_keep(const View& view, Blocks& blocks) {
    blocks.push_back(Layout::one_page);
    title(view, blocks);
    blocks.push_back(Layout::beside);
    whose(view, blocks);
    what_it_is(view, blocks);
    amplifiers(view, blocks);
    spare_watts(view, blocks);
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
