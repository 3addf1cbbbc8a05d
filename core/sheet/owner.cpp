// The owner's sheet: a page to keep at the amplifier, a page of what was installed, tested and left open, then plans
// and photos where there are any.
#include <algorithm>

#include "core/sheet/next_check.h"
#include "core/sheet/owner_parts.h"
#include "core/sheet/parts.h"
#include "core/sheet/phrases.h"

namespace tapwright::sheet {
namespace {

using outline::Bullets;
using outline::Facts;
using outline::Heading;
using outline::Layout;
using outline::Paragraph;
using outline::Tone;

bool has_link(const View& view, InterfaceKind kind) {
    const auto links = view.job.all<Interface>();
    return std::any_of(links.begin(), links.end(), [&](const Interface& link) { return link.kind == kind; });
}

void owner_title(const View& view, Blocks& blocks) {
    blocks.push_back(Heading{1, entered(name_of(view.job, job_id()))});
    blocks.push_back(Paragraph{
        Message("Loudspeaker system: what to do, and whom to call. Keep this page at the amplifier."), Tone::plain});
    blocks.push_back(outline::Contents{Message("Contents"), false});
    not_a_certificate(blocks);
    emergency_parts(view, blocks);
}

// ---- the page to keep ----

void whom_to_call(const View& view, Blocks& blocks) {
    const JobInfo& info = view.job.info();
    blocks.push_back(Heading{2, Message("Whom to call")});
    Facts facts;
    facts.facts.push_back({Message("Call"), typed_or(info.contact, line_to_write_on()), true});
    facts.facts.push_back({Message("Out of hours"), typed_or(info.after_hours, line_to_write_on()), true});
    if (info.responsible) facts.facts.push_back({Message("In the building"), entered(*info.responsible)});
    blocks.push_back(std::move(facts));
}

// In the order in which somebody goes about it; what concerns a fire comes first.
void no_sound(const View& view, Blocks& blocks) {
    blocks.push_back(Heading{2, Message("When there is no sound")});
    Bullets steps{.items = {}, .numbered = true};
    if (has_link(view, InterfaceKind::fire_mute))
        steps.items.push_back(
            Message("If the fire alarm is sounding, follow your fire procedure first. Afterwards the music stays muted "
                    "until the person responsible for the alarm resets it. Never bypass this."));
    steps.items.push_back(
        Message("Is the amplifier's light on? If not, look at its breaker. If it has tripped, leave it off and call."));
    if (has_link(view, InterfaceKind::paging))
        steps.items.push_back(
            Message("Make an announcement. If you hear it, the wiring works; the source is not "
                    "playing. Try another source."));
    else
        steps.items.push_back(Message("Try another source. A silent source sounds just like a broken line."));
    steps.items.push_back(Message("One room only? Set its control to normal."));
    steps.items.push_back(Message("One loudspeaker only? Note its label, and call."));
    steps.items.push_back(view.job.info().after_hours
                              ? Message("Still no sound? Call the number above; out of hours the other one.")
                              : Message("Still no sound? Call the number above."));
    blocks.push_back(std::move(steps));
}

void how_to(const View& view, Blocks& blocks) {
    const JobInfo& info = view.job.info();
    if (!info.how_to_page && !info.how_to_source) return;
    blocks.push_back(Heading{2, Message("How to use it")});
    Facts facts;
    if (info.how_to_page) facts.facts.push_back({Message("Announcement"), entered(*info.how_to_page)});
    if (info.how_to_source) facts.facts.push_back({Message("Music"), entered(*info.how_to_source)});
    blocks.push_back(std::move(facts));
}

Message breaker_of(const Amplifier& amplifier) {
    return amplifier.breaker ? Message("Breaker: {breaker}", {{"breaker", entered(*amplifier.breaker)}})
                             : Message("breaker not recorded");
}

// Where the amplifiers are, for this page is at one of them; and their breakers where these are not in the rows above.
// Two side by side.
void amplifiers(const View& view, Blocks& blocks) {
    const auto all = view.job.all<Amplifier>();
    if (all.empty()) blocks.push_back(Paragraph{Message("No amplifier is recorded."), Tone::plain});
    if (all.empty()) return;
    const bool in_rows = are_breakers_short(view);
    Facts halves[2];
    if (in_rows && std::all_of(all.begin(), all.end(), [&](const Amplifier& each) { return each.room == all[0].room; }))
        return;
    for (std::size_t i = 0; i < all.size(); ++i)
        halves[i % 2].facts.push_back(
            {entered(name_of(view.job, all[i].id)),
             with_semicolons({in_rows ? Message() : breaker_of(all[i]),
                              Message("Room: {room}", {{"room", room_name(view.job, all[i].room)}})})});
    blocks.push_back(Layout::beside);
    blocks.push_back(std::move(halves[0]));
    blocks.push_back(Layout::next_column);
    blocks.push_back(std::move(halves[1]));
    blocks.push_back(Layout::end_beside);
}

void page_to_keep(const View& view, Blocks& blocks) {
    blocks.push_back(Layout::one_page);
    owner_title(view, blocks);
    whom_to_call(view, blocks);
    blocks.push_back(Layout::beside);
    no_sound(view, blocks);
    how_to(view, blocks);
    blocks.push_back(Layout::next_column);
    owner_cautions(view, blocks);
    owner_untested(view, blocks);
    blocks.push_back(Layout::end_beside);
    owner_controls(view, blocks);
    amplifiers(view, blocks);
    blocks.push_back(Layout::end_one_page);
}

// ---- the page of the record ----

void papers(const View& view, Blocks& blocks) {
    const JobInfo& info = view.job.info();
    blocks.push_back(Heading{2, Message("Handed over")});
    Facts facts;
    if (info.site) facts.facts.push_back({Message("Site"), entered(*info.site)});
    if (info.client) facts.facts.push_back({Message("Client"), entered(*info.client)});
    facts.facts.push_back({Message("Installed by"), typed_or(info.contractor, not_recorded())});
    facts.facts.push_back({Message("Instructed"), typed_or(info.instructed, line_to_write_on())});
    facts.facts.push_back({Message("Documents"), typed_or(info.documents, not_recorded())});
    facts.facts.push_back({Message("Warranty until"), day_or(info.warranty_until, not_recorded())});
    facts.facts.push_back({Message("Next check"), day_or(next_check(view.job), line_to_write_on())});
    blocks.push_back(std::move(facts));
}

void page_of_the_record(const View& view, Blocks& blocks) {
    blocks.push_back(Layout::one_page);
    blocks.push_back(Layout::beside);
    owner_installed(view, blocks);
    papers(view, blocks);
    blocks.push_back(Layout::next_column);
    owner_spare_watts(view, blocks);
    owner_as_left(view, blocks);
    blocks.push_back(Layout::end_beside);
    owner_tests(view, blocks);
    owner_open(view, blocks);
    sign_off(view, blocks);
    blocks.push_back(Layout::end_one_page);
}

}  // namespace

void owner_sheet(const View& view, Blocks& blocks) {
    page_to_keep(view, blocks);
    page_of_the_record(view, blocks);
    plan_section(view, blocks);
    photo_section(view, blocks);
}

}  // namespace tapwright::sheet
