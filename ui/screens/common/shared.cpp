#include "ui/screens/common/shared.h"

#include <utility>

#include "core/base/text.h"

namespace tapwright::ui {

void Shared::ask(Context& context, ChangeList changes, Message what, std::function<void(const std::vector<Id>&)> then) {
    context.requests.change(
        {std::move(what),
         [this, changes = std::move(changes), then = std::move(then)](Session& session) -> Result<void> {
             const Command command{.changes = changes, .fill_in = true, .place = {}};
             const Result<Outcome> outcome = session.request(command, author(), stamp());
             if (!outcome) return outcome.refusal();
             if (then) then(outcome->ids);
             return done();
         }});
}

const Zone* Shared::zone_in_hand(const Job& job) const {
    const Id& settled = page.is_settled ? page.zone : zone;
    for (const Id* each : {&settled, &zone, &page.zone, &last_zone})
        if (const Zone* found = job.find<Zone>(*each)) return found;
    return job.all<Zone>().empty() ? nullptr : &job.all<Zone>().front();
}

namespace {

Id zone_of_point(const Session& session, const Id& point) {
    const auto place = session.job().place<Point>(point);
    const std::uint32_t zone = place ? session.derived().points[*place].zone : nowhere;
    return zone == nowhere ? Id() : session.job().all<Zone>()[zone].id;
}

Id zone_of_room(const Session& session, const Id& room) {
    const auto points = session.job().all<Point>();
    for (std::size_t i = points.size(); i-- > 0;) {
        const std::uint32_t zone = session.derived().points[i].zone;
        if (zone != nowhere && points[i].room == room) return session.job().all<Zone>()[zone].id;
    }
    return {};
}

Id zone_of_output(const Job& job, const Id& output) {
    for (const Zone& zone : job.all<Zone>())
        if (zone.channel == output) return zone.id;
    return {};
}

}  // namespace

PageZone zone_of_record(const Session& session, const Id& id) {
    const Job& job = session.job();
    const std::optional<Kind> kind = job.kind_of(id);
    if (kind == Kind::zone) return {id, true};
    if (kind == Kind::point) {
        const Id zone = zone_of_point(session, id);
        return {zone, zone != Id()};
    }
    if (kind == Kind::room) return {zone_of_room(session, id)};
    if (kind == Kind::channel) return {zone_of_output(job, id)};
    const Reading* reading = job.find<Reading>(id);
    const Snag* snag = job.find<Snag>(id);
    const std::optional<Id> about = reading ? reading->at : snag ? snag->about : std::nullopt;
    return about && job.kind_of(*about) != kind ? zone_of_record(session, *about) : PageZone();
}

const Draft* Shared::typed_draft(std::string_view prefix) const {
    for (auto draft = drafts.lower_bound(prefix); draft != drafts.end() && draft->first.starts_with(prefix); ++draft)
        if (!draft->second.text.empty()) return &draft->second;
    return nullptr;
}

// Emptied, not erased: a field may be drawing itself from it.
void Shared::drop_drafts(std::string_view prefix) {
    for (auto draft = drafts.lower_bound(prefix); draft != drafts.end() && draft->first.starts_with(prefix); ++draft)
        draft->second = {};
}

Message draft_words(const Draft& draft) {
    return Message("Not added: “{text}” waits in its form.", {{"text", entered(cited(draft.text, 40))}});
}

tapwright::Change adding(Kind kind, Map fields) {
    return {ChangeOp::add, kind, Id(), std::move(fields)};
}

tapwright::Change setting(Kind kind, const Id& id, Map fields) {
    return {ChangeOp::set, kind, id, std::move(fields)};
}

}  // namespace tapwright::ui
