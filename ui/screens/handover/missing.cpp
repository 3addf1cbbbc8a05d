#include "ui/screens/handover/missing.h"

#include <algorithm>
#include <set>

#include "core/base/sort.h"
#include "core/findings/findings.h"
#include "core/job/to_do.h"
#include "core/words/findings_text.h"
#include "core/words/readings_text.h"
#include "ui/screens/common/find_fault_key.h"
#include "ui/screens/common/parts.h"
#include "ui/screens/common/places.h"
#include "ui/screens/common/words.h"
#include "ui/screens/handover/pages.h"

namespace tapwright::ui {
namespace {

using Go = std::function<void(Context&)>;

// Fills the list; keeps what the findings need not say once more.
class Search {
public:
    Search(const Session& session, Shared& shared) : session_(session), job_(session.job()), shared_(shared) {}

    std::vector<Missing> all() {
        nothing_recorded();
        findings();
        rooms_without_taps();
        not_fitted();
        not_walked();
        snags();
        settings();
        about_the_job();
        sort_by(list_,
                [](const Missing& first, const Missing& second) { return rank(first.tone) < rank(second.tone); });
        return std::move(list_);
    }

private:
    static int rank(Tone tone) { return tone == Tone::stop ? 0 : tone == Tone::warning ? 1 : 2; }

    void add(std::string name, Message title, Message detail, Tone tone, Go go) {
        list_.push_back({std::move(name), std::move(title), std::move(detail), {}, tone, std::move(go)});
    }
    template <class Make>
    Go page(Make make) const {
        return [make](Context& context) { context.requests.open(make()); };
    }
    Go record(Kind kind, const Id& id) const {
        return page([&shared = shared_, kind, id] { return record_screen(shared, kind, id); });
    }
    static Go place(PlaceId place) {
        return [place](Context& context) { context.requests.show(place); };
    }

    void nothing_recorded() {
        const auto points = job_.all<Point>();
        const bool has_speaker =
            std::any_of(points.begin(), points.end(), [](const Point& p) { return is_speaker(p); });
        if (job_.all<Zone>().empty())
            add("no_zones", Message("No zone recorded"), Message("Record the amplifier, its outputs and its zones."),
                Tone::warning, place(PlaceId::survey));
        if (!has_speaker)
            add("no_speakers", Message("No loudspeaker recorded"), Message("Record the rooms and what is in them."),
                Tone::warning, place(PlaceId::rooms));
    }

    bool is_on_emergency_line(const Point& point) const {
        return session_.derived().points[*job_.place<Point>(point.id)].emergency;
    }

    // Loudspeakers whose tap nobody has seen, room by room, as one walks.
    void rooms_without_taps() {
        for (const Room* room : walking_order(job_)) {
            std::int64_t without = 0;
            for (const Point* point : points_in(job_, room->id))
                without += has_tap_to_be_seen(*point, is_on_emergency_line(*point));
            if (without > 0)
                add("room." + room->id.text(), entered(name_of(job_, room->id)),
                    plural("{count} loudspeaker without a recorded tap", "{count} loudspeakers without a recorded tap",
                           without),
                    Tone::warning, page([&shared = shared_, id = room->id] { return room_screen(shared, id); }));
        }
    }

    // The owner is told of them as still to be done.
    void not_fitted() {
        std::int64_t planned = 0;
        for (const Point& point : job_.all<Point>()) planned += is_to_be_fitted(point, is_on_emergency_line(point));
        if (planned > 0)
            add("not_fitted", Message("Planned"),
                plural("{count} loudspeaker is not fitted", "{count} loudspeakers are not fitted", planned), Tone::note,
                place(PlaceId::rooms));
    }

    void not_walked() {
        std::int64_t unheard = 0;
        for (const Point& point : job_.all<Point>()) unheard += is_to_be_heard(point, is_on_emergency_line(point));
        if (unheard > 0)
            add("walk", Message("Walk test"),
                plural("{count} loudspeaker was not listened to", "{count} loudspeakers were not listened to", unheard),
                Tone::note, page([&shared = shared_] { return walk_test_screen(shared); }));
    }

    void snags() {
        std::int64_t open = 0;
        for (const Snag& snag : job_.all<Snag>()) open += snag.state.value_or(SnagState::open) == SnagState::open;
        if (open > 0)
            add("snags", plural("{count} open snag", "{count} open snags", open),
                Message("Fix them, or hand over with them open."), Tone::warning, place(PlaceId::snags));
    }

    void settings() {
        for (const Amplifier& amplifier : job_.all<Amplifier>()) {
            const auto all = job_.all<Setting>();
            const bool any = std::any_of(all.begin(), all.end(),
                                         [&](const Setting& setting) { return setting.amplifier == amplifier.id; });
            if (!any)
                add("settings." + amplifier.id.text(), entered(name_of(job_, amplifier.id)),
                    Message("Settings as left are not recorded."), Tone::note,
                    page([&shared = shared_] { return settings_left_screen(shared); }));
        }
    }

    // What the sheets begin with.
    void about_the_job() {
        const auto ask = [&](const char* name, bool is_there, const Message& what) {
            if (!is_there) add(name, what, Message("The sheets name it."), Tone::note, record(Kind::job, job_id()));
        };
        const JobInfo& info = job_.info();
        ask("client", info.client.has_value(), Message("Client not recorded"));
        ask("contact", info.contact.has_value(), Message("Contact not recorded"));
        ask("after_hours", info.after_hours.has_value(), Message("Out-of-hours contact not recorded"));
    }

    // A tap that is missing in a room is said of the room.
    bool is_said_of_room(const Finding& finding) const {
        const FindingCode code = code_of(finding);
        if (code != FindingCode::speaker_without_tap && code != FindingCode::tap_not_confirmed) return false;
        const Point* point = job_.find<Point>(finding.at);
        return point && point->room && job_.find<Room>(*point->room) &&
               has_tap_to_be_seen(*point, is_on_emergency_line(*point));
    }

    void findings() {
        const FindingWords words(job_, session_.derived());
        std::size_t number = 0;
        for (const Finding& finding : session_.derived().findings) {
            const std::string name = "finding." + std::to_string(number++);
            if (is_said_of_room(finding)) continue;
            Statement said = words.statement_of(finding);
            // It begins with what it is about, so it needs no title.
            list_.push_back(
                {name, {}, std::move(said.text), std::move(said.why), tone_of(finding.severity), way_to(finding)});
        }
    }

    // The page on which what a finding is about is put right.
    Go way_to(const Finding& finding) const {
        const Id at = finding.at;
        Shared& shared = shared_;
        switch (code_of(finding)) {
            case FindingCode::reading_short:
            case FindingCode::reading_open:
            case FindingCode::reading_more_load:
            case FindingCode::reading_less_load:
            case FindingCode::reading_drifted:
                return to_the_fault(measured_at(at));
            case FindingCode::reading_far_over_limit:
            case FindingCode::reading_below_min_ohm:
            case FindingCode::reading_not_valid:
            case FindingCode::reading_over_limit:
            case FindingCode::reading_unproven:
            case FindingCode::stray_voltage:
            case FindingCode::insulation_low:
            case FindingCode::zone_without_reading:
            case FindingCode::changed_since_reading:
            case FindingCode::line_disconnected:
                return page([&shared, at = measured_at(at)] { return readings_at_screen(shared, at); });
            case FindingCode::cable_unknown:
            case FindingCode::position_unknown:
                return first_unknown(finding);
            default:
                break;
        }
        const std::optional<Kind> kind = job_.kind_of(at);
        if (kind == Kind::point) return page([&shared, at] { return point_screen(shared, at); });
        if (kind == Kind::room) return page([&shared, at] { return room_screen(shared, at); });
        if (kind == Kind::reading)
            return page([&shared, at = measured_at(at)] { return readings_at_screen(shared, at); });
        if (!kind) return place(PlaceId::survey);
        return record(*kind, at);
    }

    // A reading that does not fit leads to the search for its fault, where there is one.
    Go to_the_fault(const Id& at) const {
        Shared& shared = shared_;
        const std::optional<std::uint32_t> newest = newest_ohms_at(session_, at);
        const Id line = line_to_search(session_, at);
        if (newest && line != Id() && can_be_sought(job_, session_.derived(), *newest))
            return page([&shared, line] { return find_fault_screen(shared, line); });
        return page([&shared, at] { return readings_at_screen(shared, at); });
    }

    // Any other finding about a reading leads to all readings where it was taken.
    Id measured_at(const Id& at) const {
        const Reading* reading = job_.find<Reading>(at);
        return reading && reading->at ? *reading->at : at;
    }

    // Said of a whole zone: the first point of it that lacks the figure.
    Go first_unknown(const Finding& finding) const {
        const std::optional<std::uint32_t> zone = job_.place<Zone>(finding.at);
        const bool of_cable = code_of(finding) == FindingCode::cable_unknown;
        for (std::size_t i = 0; zone && i < session_.derived().points.size(); ++i) {
            const Point& point = job_.all<Point>()[i];
            if (session_.derived().points[i].zone != *zone) continue;
            const bool lacks =
                of_cable ? !point.cable || !point.length_m : point.kind == PointKind::attenuator && !point.knob_db;
            if (lacks) return page([&shared = shared_, id = point.id] { return point_screen(shared, id); });
        }
        return record(Kind::zone, finding.at);
    }

    const Session& session_;
    const Job& job_;
    Shared& shared_;
    std::vector<Missing> list_;
};

}  // namespace

std::vector<Missing> missing_in(const Session& session, Shared& shared) {
    return Search(session, shared).all();
}

}  // namespace tapwright::ui
